"""Sums for bias strips: how much a piece of cloth yields, and how much cloth a length needs.

A strip on the true bias lies at 45 degrees to both thread systems (I13: *The New Dressmaker*,
3rd ed., New York, 1921, p. 19). The ideal sums divide area by width; a plan that says where each
strip lies (`bias_block`) yields less, because the corners of the cloth are too short to use.
"""

from __future__ import annotations

import math
from enum import Enum

from clothwise.errors import CuttingError

__all__ = [
    "JOIN_ALLOWANCE_MM",
    "TapeFold",
    "along_grain_mm",
    "bias_cut_width_mm",
    "bias_square_mm",
    "bias_yield_mm",
    "join_length_mm",
]

JOIN_ALLOWANCE_MM = 6.0
"""Strips are joined with 1/4 in of allowance (I03, hobby pages on bias length)."""


class TapeFold(Enum):
    """How a strip is folded to tape; the value is how many finished widths it is cut wide.

    Source: I08 and I09, pages on sizes of bias tape.
    """

    SINGLE = 2
    """Both long edges to the middle."""
    DOUBLE = 4
    """The same, and folded once more."""


def bias_cut_width_mm(finished_mm: float, fold: TapeFold = TapeFold.DOUBLE) -> float:
    """Return how wide a strip is cut for tape of a finished width.

    Raises:
        CuttingError: the width is not above zero.

    >>> bias_cut_width_mm(12.7)
    50.8
    """
    return _positive(finished_mm, "the finished width of the tape") * fold.value


def along_grain_mm(width_mm: float) -> float:
    """Return how far apart the lines of strips are where they are marked along the straight grain.

    Source: geometry (I05): the width times the square root of 2.

    Raises:
        CuttingError: the width is not above zero.

    >>> round(along_grain_mm(30), 2)
    42.43
    """
    return _positive(width_mm, "the width of the strip") * math.sqrt(2)


def bias_yield_mm(
    length_mm: float, breadth_mm: float, width_mm: float, *, seams_mm: float = 0.0
) -> float:
    """Return the length of strip in a rectangle of cloth, by area.

    Args:
        length_mm, breadth_mm: of the rectangle.
        width_mm: of the strip as it is cut.
        seams_mm: what joining seams take off each side in all.

    Source: I01 (side² over width), I03 ((side - seams)² over width) and I04 (length times breadth
    over width): three pages on bias length.

    Raises:
        CuttingError: a measure is not above zero, or the seams take all of a side.

    >>> inch = 25.4
    >>> round(bias_yield_mm(20 * inch, 20 * inch, 2 * inch) / inch, 6)
    200.0
    """
    _positive(length_mm, "the length of the cloth")
    _positive(breadth_mm, "the breadth of the cloth")
    _positive(width_mm, "the width of the strip")
    if not 0 <= seams_mm < min(length_mm, breadth_mm):
        raise CuttingError(
            "the joining seams take all of the cloth for bias strips",
            where="bias strips",
            how_much=f"seams {seams_mm:g} mm, cloth {length_mm:g} by {breadth_mm:g} mm",
            what_to_do="Take a larger piece of cloth, or narrower seams.",
        )
    return (length_mm - seams_mm) * (breadth_mm - seams_mm) / width_mm


def bias_square_mm(strip_mm: float, width_mm: float, *, seams_mm: float = 0.0) -> float:
    """Return the side of a square of cloth that yields a length of strip; not rounded.

    Args:
        strip_mm: length of strip that is needed.
        width_mm: of the strip as it is cut.
        seams_mm: what joining seams take off each side in all.

    Source: I02 (the square root of length times width), with the seams of I03.

    Raises:
        CuttingError: a measure is not above zero.

    >>> inch = 25.4
    >>> round(bias_square_mm(250 * inch, 2 * inch) / inch, 2)
    22.36
    """
    _positive(strip_mm, "the length of the strip")
    _positive(width_mm, "the width of the strip")
    if not 0 <= seams_mm < math.inf:
        _positive(seams_mm, "what the joining seams take")
    return math.sqrt(strip_mm * width_mm) + seams_mm


def join_length_mm(allowance_mm: float = JOIN_ALLOWANCE_MM) -> float:
    """Return what one part of a strip gives to the seams at both its ends, measured along it.

    An allowance across a seam that slants by 45 degrees is longer along the strip, by the square
    root of 2; one at each end. Derived.

    >>> round(join_length_mm(6), 2)
    16.97
    """
    return 2 * allowance_mm * math.sqrt(2)


def _positive(value_mm: float, what: str) -> float:
    if not 0 < value_mm < math.inf:
        raise CuttingError(
            f"{what} is impossible",
            where="bias strips",
            how_much=f"{value_mm:g} mm, allowed more than 0",
            what_to_do="State a length above zero, with its unit.",
        )
    return value_mm
