"""The command line: measure, draft, check, cut, sew, print, pack, new.

Exit codes: 0 fine, 1 findings of severity error, 2 misuse, 130 stopped by Ctrl-C.
"""

import os

# Our matrices are small: threads that share one wait for each other, four times slower (measured).
# It counts only before numpy is loaded.
for _name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(_name, "1")

from clothwise.cli.main import main  # noqa: E402

__all__ = ["main"]
