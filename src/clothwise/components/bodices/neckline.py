"""The neckline of a block: width and depth such that the seam has the length the neck asks for."""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.geometry import Path, Point, Vector, cubic_between

BACK_RISE_SHARE = 1 / 3
"""Rise of the back neck over its half width; our own choice, about 2.3 cm on a 7 cm width."""

FRONT_DEPTH_EXTRA_MM = 10.0
"""Front neck depth beyond the half width (from memory, D13: front depth = width + 1 cm)."""


@dataclass(frozen=True)
class Neckline:
    """Half a neckline with the center at x = 0 and the neck-shoulder point as the origin's height.

    `back` runs from the neck-shoulder point to center back, `front` to center front; heights are
    relative to the neck-shoulder point.
    """

    half_width_mm: float
    back_rise_mm: float
    front_depth_mm: float
    back: Path
    front: Path


def jewel_neckline(
    girth_mm: float, *, back_slope_rad: float, front_slope_rad: float, front_drop_mm: float = 0.0
) -> Neckline:
    """The neckline whose whole seam is `girth_mm` long before the front is dropped.

    It meets both centers and both shoulder seams at right angles. `front_drop_mm` lowers the front.

    Source: seam length against neck base girth is common practice (D14); the shape is our own
    choice (decision 0014).
    """

    def seam(half_width: float) -> float:
        shape = _shape(half_width, back_slope_rad, front_slope_rad, 0.0)
        return 2 * (shape.back.length + shape.front.length)

    low, high = girth_mm / 10, girth_mm / 3
    for _ in range(40):
        middle = (low + high) / 2
        if seam(middle) < girth_mm:
            low = middle
        else:
            high = middle
    return _shape((low + high) / 2, back_slope_rad, front_slope_rad, front_drop_mm)


def _shape(half_width: float, back_slope: float, front_slope: float, drop: float) -> Neckline:
    rise = half_width * BACK_RISE_SHARE
    depth = half_width + FRONT_DEPTH_EXTRA_MM + drop
    shoulder_point = Point(half_width, 0.0)
    back = cubic_between(
        shoulder_point, _down_from_shoulder(back_slope), Point(0.0, -rise), Vector(-1.0, 0.0)
    )
    front = cubic_between(
        shoulder_point, _down_from_shoulder(front_slope), Point(0.0, -depth), Vector(-1.0, 0.0)
    )
    return Neckline(half_width, rise, depth, back, front)


def _down_from_shoulder(slope: float) -> Vector:
    """Down from the neck-shoulder point, square to a shoulder seam of this slope."""
    return Vector(-math.sin(slope), -math.cos(slope))
