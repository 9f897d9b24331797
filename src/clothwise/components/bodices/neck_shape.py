"""Shapes of the neckline: round, scoop, V, square and boat, drawn from the one that fits the neck.

Each has a width and depth of its own beyond the round one; a design widens or lowers it further.
The shoulder seam stays where it is, and the neckline starts further out on it. Front and back meet
there without a corner: what the front lacks of a right angle to the seam, the back has more.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise

from clothwise.components.bodices.neckline import Neckline
from clothwise.geometry import (
    Path,
    Point,
    Vector,
    angle_between,
    cubic_between,
    inflections,
    polar,
    polyline,
)
from clothwise.geometry import straight as straight_line

SQUARE_LEAN_RAD = math.radians(4)
"""The sides of a square neck draw in by this toward its corners, so that it does not gape; own."""

LEAST_BACK_DEPTH_SHARE = 0.25
"""The back neck is at least this share of its half width deep below its start; our own choice."""

LEAST_FRONT_DEPTH_SHARE = 0.35
"""The front neck is at least this share of its half width deep below its start; our own choice."""

MOST_BACK_LEAN_RAD = math.radians(25)
"""The back leaves the shoulder seam at most this far from its square; our own choice."""

LEAST_SEEN_BEND_RAD = math.radians(0.5)
"""A round neck that bends the other way by no more looks hollow all the way; our own choice."""

MOST_FLATTER = 0.4
"""A wide back neck is drawn so much flatter at most, or it would dip beside the center; own."""

LEAST_SHOULDER_MM = 60.0
"""However wide the neck, so much of the shoulder is left; our own choice."""


class NeckShape(Enum):
    """What the front neckline looks like."""

    ROUND = "round"
    SCOOP = "scoop"
    V = "v"
    SQUARE = "square"
    BOAT = "boat"


@dataclass(frozen=True)
class NeckStyle:
    """How far a shape is wider and lower than the round neck, mm; our own choice."""

    wider_mm: float
    front_lower_mm: float
    back_lower_mm: float


STYLES: Mapping[NeckShape, NeckStyle] = {
    NeckShape.ROUND: NeckStyle(0.0, 0.0, 0.0),
    NeckShape.SCOOP: NeckStyle(25.0, 60.0, 10.0),
    NeckShape.V: NeckStyle(8.0, 95.0, 0.0),
    NeckShape.SQUARE: NeckStyle(25.0, 40.0, 10.0),
    NeckShape.BOAT: NeckStyle(45.0, -15.0, 0.0),
}


@dataclass(frozen=True)
class NeckLines:
    """Half a neckline as it is sewn; the neck-shoulder point of the body has height 0.

    `front` and `back` run from the shoulder seam to the center. `corners_mm` are places along the
    front where it has a corner, with the angle of the cloth there; `point_rad` is the angle of the
    cloth at center front, both halves together, if it has a point. `beyond` is the direction in
    which the front goes on past center front.
    """

    front: Path
    back: Path
    corners_mm: tuple[tuple[float, float], ...] = ()
    point_rad: float | None = None

    @property
    def beyond(self) -> Vector:
        """The direction in which the front goes on past center front, 1 mm long."""
        return self.front.end_tangent


@dataclass(frozen=True)
class NeckWish:
    """What a design asks of a neckline beyond its shape, mm."""

    shape: NeckShape = NeckShape.ROUND
    widen_mm: float = 0.0
    front_drop_mm: float = 0.0
    back_drop_mm: float = 0.0


def neck_lines(
    base: Neckline,
    wish: NeckWish,
    *,
    front_slope_rad: float,
    back_slope_rad: float,
    shoulder_mm: float,
) -> NeckLines:
    """The neckline of a shape, widened along the shoulder seam and lowered at the centers.

    `base` is the round neckline that fits the neck; its front must not be lowered yet.
    """
    style = STYLES[wish.shape]
    wider = min(style.wider_mm + wish.widen_mm, max(shoulder_mm - LEAST_SHOULDER_MM, 0.0))
    start = Point(base.half_width_mm, 0.0)
    front_start = start + polar(wider, -front_slope_rad)
    back_start = start + polar(wider, -back_slope_rad)
    depth = max(
        base.front_depth_mm + style.front_lower_mm + wish.front_drop_mm,
        LEAST_FRONT_DEPTH_SHARE * front_start.x - front_start.y,
    )
    front = _front(wish.shape, front_start, depth, front_slope_rad)
    at_seam = angle_between(front.start_tangent, polar(1.0, -front_slope_rad))
    back_depth = max(
        base.back_rise_mm + style.back_lower_mm + wish.back_drop_mm,
        LEAST_BACK_DEPTH_SHARE * back_start.x - back_start.y,
    )
    leaving, center = polar(1.0, -back_slope_rad - (math.pi - at_seam)), Point(0.0, -back_depth)
    back = _hollow(
        lambda less: cubic_between(
            back_start, leaving, center, Vector(-1.0, 0.0), fullness=1.0 - less
        ),
        MOST_FLATTER,
    )
    corners: tuple[tuple[float, float], ...] = ()
    if wish.shape is NeckShape.SQUARE:
        first, second = front.segments
        turn = angle_between(first.derivative(1.0), second.derivative(0.0))
        corners = ((first.length, math.pi - turn),)
    down = angle_between(Vector(0.0, -1.0), front.end_tangent)
    point = 2 * (math.pi - abs(down)) if wish.shape is NeckShape.V else None
    return NeckLines(front, back, corners, point)


def _front(shape: NeckShape, start: Point, depth: float, slope: float) -> Path:
    center = Point(0.0, -depth)
    if shape is NeckShape.V:
        return _v(start, center, slope)
    if shape is NeckShape.SQUARE:
        corner = Point(start.x - math.tan(SQUARE_LEAN_RAD) * (start.y + depth), -depth)
        return polyline([start, corner, center])
    square = Vector(-math.sin(slope), -math.cos(slope))
    # Steeper than square where a deep neck would bend outward first; the back takes it up.
    return _hollow(
        lambda lean: cubic_between(start, square.turned(lean), center, Vector(-1.0, 0.0)),
        MOST_BACK_LEAN_RAD,
    )


def _hollow(drawn: Callable[[float], Path], most: float) -> Path:
    """The curve changed as little as can be, and by `most` at most, to bend to one side only."""
    if _bends_back(drawn(0.0)) <= LEAST_SEEN_BEND_RAD:
        return drawn(0.0)
    low, high = 0.0, most
    for _ in range(30):
        middle = (low + high) / 2
        if _bends_back(drawn(middle)) > LEAST_SEEN_BEND_RAD:
            low = middle
        else:
            high = middle
    return drawn(high)


def _bends_back(curve: Path) -> float:
    """How far a curve of one segment turns against the way it turns as a whole, radians."""
    (segment,) = curve.segments
    headings = [segment.derivative(t) for t in (0.0, *inflections(segment), 1.0)]
    turns = [angle_between(one, other) for one, other in pairwise(headings)]
    whole = sum(turns)
    return sum(abs(turn) for turn in turns if turn * whole < 0)


def _v(start: Point, center: Point, slope: float) -> Path:
    """Straight to the point, unless the back could not take up its angle at the shoulder."""
    line = center - start
    square = Vector(-math.sin(slope), -math.cos(slope))
    off = angle_between(square, line)
    if abs(off) <= MOST_BACK_LEAN_RAD:
        return straight_line(start, center)
    leaving = square.turned(math.copysign(MOST_BACK_LEAN_RAD, off))
    return cubic_between(
        start, leaving, center, line.turned(off - math.copysign(MOST_BACK_LEAN_RAD, off))
    )
