"""The command line: measure, draft, check, cut, sew, print, pack, new.

Exit codes: 0 fine, 1 findings of severity error, 2 misuse, 130 stopped by Ctrl-C.
"""

from clothwise.cli.main import main

__all__ = ["main"]
