"""What washing does to cloth: the sums for shrinkage, along and across the grain separately.

Source: the definition of shrinkage as a share of the length before washing (check values K07 to
K10); shares for usual cloths are the maker's to state.
"""

from __future__ import annotations

from clothwise.errors import CuttingError

__all__ = ["LARGEST_SHRINKAGE", "after_washing_mm", "before_washing_mm", "check_shrinkage"]

LARGEST_SHRINKAGE = 0.25
"""More than a quarter is a slip of the pen (25 for 2.5), not a cloth. Our own choice."""


def after_washing_mm(before_mm: float, shrinkage: float) -> float:
    """Return what a length becomes in the wash: `before (1 - s)`.

    Raises:
        CuttingError: the shrinkage is not within 0 and `LARGEST_SHRINKAGE`.

    >>> after_washing_mm(1000, 0.05)
    950.0
    """
    return before_mm * (1 - check_shrinkage(shrinkage))


def before_washing_mm(after_mm: float, shrinkage: float) -> float:
    """Return the length that becomes `after_mm` in the wash: `after / (1 - s)`.

    Not `after (1 + s)`, which is short: 62 cm at 4 % need 64.58 cm, not 64.48.

    Raises:
        CuttingError: the shrinkage is not within 0 and `LARGEST_SHRINKAGE`.

    >>> round(before_washing_mm(1000, 0.03), 1)
    1030.9
    """
    return after_mm / (1 - check_shrinkage(shrinkage))


def check_shrinkage(shrinkage: float, *, where: str = "fabric") -> float:
    """Return `shrinkage` itself if a cloth can have it.

    Raises:
        CuttingError: it is negative, not a number, or above `LARGEST_SHRINKAGE`.
    """
    if not 0 <= shrinkage <= LARGEST_SHRINKAGE:
        raise CuttingError(
            "this shrinkage is impossible",
            where=where,
            how_much=f"{shrinkage * 100:g} %, allowed 0 to {LARGEST_SHRINKAGE * 100:g} %",
            what_to_do="State the share of the length that is lost in the wash: 0.05 for 5 %.",
        )
    return shrinkage
