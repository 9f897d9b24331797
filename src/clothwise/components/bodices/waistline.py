"""The waistline of a piece: square to center and side, with darts that close into one fair line."""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.geometry import Path, Point, Vector, cubic_between, straight

SMALLEST_DART_MM = 8.0
"""A dart narrower than this is left out and its intake given to the side seam; our own choice."""


@dataclass(frozen=True)
class WaistDart:
    """Where a dart lies on a waistline and how much it takes in."""

    center_x_mm: float
    intake_mm: float
    apex_y_mm: float


@dataclass(frozen=True)
class Waistline:
    """A waistline from center (0, 0) to the side, in parts between the darts.

    `parts` has one path more than `legs` has pairs; `side` is where it ends. All run outward.
    """

    parts: tuple[Path, ...]
    legs: tuple[tuple[Path, Path], ...]

    @property
    def side(self) -> Point:
        """The point at the side seam."""
        return self.parts[-1].end

    @property
    def length(self) -> float:
        """Sewn length in mm: the parts without the darts."""
        return sum(part.length for part in self.parts)


def waistline(
    side_x_mm: float,
    side_direction: Vector,
    darts: tuple[WaistDart, ...],
    *,
    upward: bool,
    side_y_mm: float | None = None,
) -> Waistline:
    """Draw a waistline through (0, 0).

    It leaves the center level, meets each dart leg and the side seam at right angles, so that it
    closes into one line without a corner. `side_direction` points along the side seam away from
    the waist; `upward` tells whether the piece lies above the waist (a bodice) or below (a skirt).
    Without `side_y_mm` the side point lies where the line bends most evenly.

    Raises:
        ImpossibleCurve: a dart reaches over the side or another dart.
    """
    sign = 1.0 if upward else -1.0
    start, heading = Point(0.0, 0.0), Vector(1.0, 0.0)
    parts: list[Path] = []
    legs: list[tuple[Path, Path]] = []
    for dart in darts:
        mouth_in, mouth_out, apex = _mouth(start, heading, dart)
        parts.append(cubic_between(start, heading, mouth_in, _square(mouth_in, apex, sign)))
        legs.append((straight(mouth_in, apex), straight(apex, mouth_out)))
        start, heading = mouth_out, _square(mouth_out, apex, sign)
    arriving = _right_of(side_direction, sign)
    chord = (heading.angle + arriving.angle) / 2
    natural = start.y + (side_x_mm - start.x) * math.tan(chord)
    end = Point(side_x_mm, natural if side_y_mm is None else side_y_mm)
    parts.append(cubic_between(start, heading, end, arriving))
    return Waistline(tuple(parts), tuple(legs))


def _mouth(start: Point, heading: Vector, dart: WaistDart) -> tuple[Point, Point, Point]:
    """The mouth of a dart, where the line from `start` reaches it as an even bend."""
    apex = Point(dart.center_x_mm, dart.apex_y_mm)
    half = dart.intake_mm / 2
    level = start.y
    for _ in range(8):
        lean = math.atan2(half, abs(dart.apex_y_mm - level))
        arriving = -lean if dart.apex_y_mm > level else lean
        run = dart.center_x_mm - half - start.x
        level = start.y + run * math.tan((heading.angle + arriving) / 2)
    return (
        Point(dart.center_x_mm - half, level),
        Point(dart.center_x_mm + half, level),
        apex,
    )


def _square(mouth: Point, apex: Point, sign: float) -> Vector:
    """Outward along the waist, square to a dart leg."""
    return _right_of(apex - mouth, sign)


def _right_of(direction: Vector, sign: float) -> Vector:
    """Outward (toward greater x) at right angles to a direction that leads into the piece."""
    return (direction.unit.left * -sign).unit
