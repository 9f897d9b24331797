"""Findings about a pattern: each with a stable code, the place, the figures and a remedy.

`check` asks every check of `registry`; each code has a page in `docs/reference/findings/`.
"""

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.make_cloths import check_cloths, check_pieces
from clothwise.checks.refusal import refusal
from clothwise.checks.registry import CHECKS, check, codes

__all__ = [
    "CHECKS",
    "Check",
    "Derived",
    "check",
    "check_cloths",
    "check_pieces",
    "codes",
    "refusal",
]
