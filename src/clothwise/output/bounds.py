"""Upright rectangles, and how large drawings and their parts are."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from clothwise.geometry import Cubic, Path, Point, Segment, Vector, polyline
from clothwise.output.drawing import (
    Anchor,
    Baseline,
    Drawing,
    Leaf,
    Shape,
    Text,
    leaves,
    settled_shape,
    settled_text,
)
from clothwise.output.fonts import ASCENT, CAP_HEIGHT, DESCENT, width_of


@dataclass(frozen=True, slots=True)
class Bounds:
    """An upright rectangle, mm."""

    left: float
    bottom: float
    right: float
    top: float

    @staticmethod
    def of_points(points: Iterable[Point]) -> Bounds:
        """The smallest rectangle around points.

        Raises:
            ValueError: there is no point.
        """
        found = list(points)
        xs, ys = [p.x for p in found], [p.y for p in found]
        return Bounds(min(xs), min(ys), max(xs), max(ys))

    @staticmethod
    def around(parts: Iterable[Bounds]) -> Bounds:
        """The smallest rectangle around rectangles.

        Raises:
            ValueError: there is none.
        """
        found = list(parts)
        return Bounds(
            min(part.left for part in found),
            min(part.bottom for part in found),
            max(part.right for part in found),
            max(part.top for part in found),
        )

    @property
    def width(self) -> float:
        """Extent in x, mm."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Extent in y, mm."""
        return self.top - self.bottom

    @property
    def center(self) -> Point:
        """The middle."""
        return Point((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """The corners, anticlockwise from the lower left."""
        return (
            Point(self.left, self.bottom),
            Point(self.right, self.bottom),
            Point(self.right, self.top),
            Point(self.left, self.top),
        )

    @property
    def path(self) -> Path:
        """The outline, to be drawn closed."""
        return polyline(self.corners)

    def grown(self, by_mm: float) -> Bounds:
        """Larger by a distance on each side; smaller if it is negative."""
        return Bounds(self.left - by_mm, self.bottom - by_mm, self.right + by_mm, self.top + by_mm)

    def shifted(self, dx_mm: float, dy_mm: float) -> Bounds:
        """Moved."""
        return Bounds(self.left + dx_mm, self.bottom + dy_mm, self.right + dx_mm, self.top + dy_mm)

    def meets(self, other: Bounds) -> bool:
        """True if the two have a point in common."""
        return (
            self.left <= other.right
            and other.left <= self.right
            and self.bottom <= other.top
            and other.bottom <= self.top
        )

    def holds(self, point: Point, slack_mm: float = 0.0) -> bool:
        """True if a point lies inside or on the border, or no further away than the slack."""
        return (
            self.left - slack_mm <= point.x <= self.right + slack_mm
            and self.bottom - slack_mm <= point.y <= self.top + slack_mm
        )


def path_bounds(path: Path) -> Bounds:
    """The smallest rectangle around a path; exact for curves."""
    return Bounds.of_points(point for segment in path.segments for point in _extremes(segment))


def _extremes(segment: Segment) -> list[Point]:
    ends = [segment.start, segment.end]
    if not isinstance(segment, Cubic):
        return ends
    box = Bounds.of_points(ends)
    if box.holds(segment.control1) and box.holds(segment.control2):
        return ends
    first, second, third = (
        segment.control1 - segment.start,
        segment.control2 - segment.control1,
        segment.end - segment.control2,
    )
    spots = _roots(first.x, second.x, third.x) + _roots(first.y, second.y, third.y)
    return ends + [segment.point(t) for t in spots]


def _roots(first: float, second: float, third: float) -> list[float]:
    """Parameters inside the curve at which its derivative's Bernstein quadratic is zero."""
    a, b, c = first - 2 * second + third, second - first, first
    if abs(a) < 1e-12:
        found = [] if abs(b) < 1e-12 else [-c / (2 * b)]
    else:
        square = b * b - a * c
        if square < 0:
            return []
        found = [(-b + sign * math.sqrt(square)) / a for sign in (1, -1)]
    return [t for t in found if 0 < t < 1]


def text_corners(text: Text) -> tuple[Point, ...]:
    """Corners of the box a text stands in, from its lower left, anticlockwise as it reads.

    From the deepest letter to the tallest, whichever letters it has.
    """
    width, size = width_of(text), text.size_mm
    start = {Anchor.LEFT: 0.0, Anchor.CENTER: -width / 2, Anchor.RIGHT: -width}[text.anchor]
    drop = CAP_HEIGHT * size / 2 if text.baseline is Baseline.MIDDLE else 0.0
    low, high = -DESCENT * size - drop, ASCENT * size - drop
    box = ((start, low), (start + width, low), (start + width, high), (start, high))
    return tuple(text.at + Vector(x, y).turned(text.rotation_rad) for x, y in box)


def leaf_bounds(leaf: Leaf) -> Bounds:
    """The smallest rectangle around a shape or text as it stands, strokes included.

    Clips cut it down to their own rectangles.
    """
    if isinstance(leaf.item, Text):
        box = Bounds.of_points(text_corners(settled_text(leaf.item, leaf.transform)))
    else:
        box = _shape_bounds(settled_shape(leaf.item, leaf.transform))
    for clip in leaf.clips:
        edge = path_bounds(clip)
        box = Bounds(
            max(box.left, edge.left),
            max(box.bottom, edge.bottom),
            min(box.right, edge.right),
            min(box.top, edge.top),
        )
    return box


def _shape_bounds(shape: Shape) -> Bounds:
    box = Bounds.around(path_bounds(path) for path in shape.paths)
    return box.grown(shape.stroke.width_mm / 2) if shape.stroke else box


def drawing_bounds(drawing: Drawing) -> Bounds:
    """The smallest rectangle around everything that is drawn.

    Raises:
        ValueError: nothing is drawn.
    """
    boxes = (leaf_bounds(leaf) for leaf in leaves(drawing))
    return Bounds.around(box for box in boxes if box.width >= 0 and box.height >= 0)
