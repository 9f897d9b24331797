"""The outline of a pocket: open at the top, rounded or square at the lower corners."""

from __future__ import annotations

from clothwise.geometry import Outline, Path, Point, fillet, join, straight

__all__ = ["Sides", "pocket_outline", "three_sides"]

Sides = tuple[Path, Path, Path]
"""Left side downward, lower edge, right side upward."""

LARGEST_CORNER_SHARE = 0.45
"""A corner is rounded over at most this share of width and height."""


def three_sides(
    width_mm: float, height_mm: float, corner_mm: float, *, finished_mm: float | None = None
) -> Sides:
    """The stitched sides of a pocket, the middle of its top at the origin.

    `finished_mm` is the width without pleats, which limits the corners.
    """
    half = width_mm / 2
    left = straight(Point(-half, 0.0), Point(-half, -height_mm))
    bottom = straight(Point(-half, -height_mm), Point(half, -height_mm))
    right = straight(Point(half, -height_mm), Point(half, 0.0))
    radius = min(corner_mm, LARGEST_CORNER_SHARE * min(finished_mm or width_mm, height_mm))
    if radius < 1.0:
        return left, bottom, right
    left, first, bottom = fillet(left, bottom, radius)
    bottom, second, right = fillet(bottom, right, radius)
    return left, join(first, bottom, second), right


def pocket_outline(sides: Sides) -> Outline:
    """The outline with its three sides and the edge `top`."""
    left, bottom, right = sides
    return Outline(
        {"left": left, "bottom": bottom, "right": right, "top": straight(right.end, left.start)}
    )
