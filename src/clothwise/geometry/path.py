"""Paths: open chains of segments."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate, pairwise

from clothwise.geometry.errors import LengthOutOfRange, OpenOutline
from clothwise.geometry.point import Point, Vector
from clothwise.geometry.segment import FLATTEN_TOLERANCE_MM, Line, Segment
from clothwise.geometry.transform import Transform

JOIN_TOLERANCE_MM = 1e-4
"""Segments count as joined within this distance."""


@dataclass(frozen=True)
class Path:
    """An open chain of at least one segment, travelled from start to end.

    Raises:
        OpenOutline: there is no segment, or one does not begin where the last ended.
    """

    segments: tuple[Segment, ...]

    def __post_init__(self) -> None:
        if not self.segments:
            raise OpenOutline(
                what="a path has no segments", what_to_do="Give it at least two points."
            )
        for before, after in pairwise(self.segments):
            gap = before.end.distance(after.start)
            if gap > JOIN_TOLERANCE_MM:
                raise OpenOutline(
                    what="two segments of a path do not join",
                    where=f"at ({before.end.x:.2f}, {before.end.y:.2f})",
                    how_much=f"they are {gap:.3f} mm apart",
                    what_to_do="Start each segment where the one before it ends.",
                )

    @property
    def start(self) -> Point:
        """First point."""
        return self.segments[0].start

    @property
    def end(self) -> Point:
        """Last point."""
        return self.segments[-1].end

    @cached_property
    def _ends_mm(self) -> list[float]:
        return list(accumulate(segment.length for segment in self.segments))

    @property
    def length(self) -> float:
        """Arc length in mm."""
        return self._ends_mm[-1]

    def _locate(self, at_mm: float) -> tuple[int, float]:
        """Segment number and parameter at a length along; up to 0.001 mm beyond is forgiven."""
        length = self.length
        if not -1e-3 <= at_mm <= length + 1e-3:
            raise LengthOutOfRange(
                what="a place beyond the end of a path was asked for",
                how_much=f"{at_mm:.2f} mm along a path of {length:.2f} mm",
                what_to_do=f"Use a length from 0 to {length:.2f} mm.",
            )
        at_mm = min(max(at_mm, 0.0), length)
        number = min(bisect_right(self._ends_mm, at_mm), len(self.segments) - 1)
        before = self._ends_mm[number - 1] if number else 0.0
        segment = self.segments[number]
        rest = at_mm - before
        if rest <= 0:
            return number, 0.0
        if rest >= self._ends_mm[number] - before:
            return number, 1.0
        return number, segment.t_at(rest)

    def point_at(self, at_mm: float) -> Point:
        """The point at a length along, mm.

        Raises:
            LengthOutOfRange: the path is shorter than that.
        """
        number, t = self._locate(at_mm)
        return self.segments[number].point(t)

    def tangent_at(self, at_mm: float) -> Vector:
        """Unit direction of travel at a length along, mm.

        Raises:
            LengthOutOfRange: the path is shorter than that.
        """
        number, t = self._locate(at_mm)
        return self.segments[number].derivative(t).unit

    @property
    def start_tangent(self) -> Vector:
        """Unit direction of travel at the start."""
        return self.segments[0].derivative(0.0).unit

    @property
    def end_tangent(self) -> Vector:
        """Unit direction of travel at the end."""
        return self.segments[-1].derivative(1.0).unit

    def reversed(self) -> Path:
        """The same path travelled backwards."""
        return Path(tuple(segment.reversed() for segment in reversed(self.segments)))

    def transformed(self, transform: Transform) -> Path:
        """The path after a move of the plane; direction of travel is kept."""
        return Path(tuple(segment.transformed(transform) for segment in self.segments))

    def part(self, from_mm: float, to_mm: float) -> Path:
        """The stretch between two lengths along, in the direction of travel.

        Raises:
            LengthOutOfRange: one of them lies beyond the path, or nothing lies between them.
        """
        if to_mm - from_mm <= 0:
            raise LengthOutOfRange(
                what="a stretch of a path has no length",
                how_much=f"from {from_mm:.3f} to {to_mm:.3f} mm",
                what_to_do="Let the second place lie after the first.",
            )
        first, t0 = self._locate(from_mm)
        last, t1 = self._locate(to_mm)
        if first == last:
            return Path((self.segments[first].part(t0, t1),))
        pieces: list[Segment] = []
        if t0 < 1.0:
            pieces.append(self.segments[first].part(t0, 1.0))
        pieces.extend(self.segments[first + 1 : last])
        if t1 > 0.0:
            pieces.append(self.segments[last].part(0.0, t1))
        return Path(tuple(pieces))

    def split(self, at_mm: float) -> tuple[Path, Path]:
        """The two paths before and after a length along.

        Raises:
            LengthOutOfRange: the place is not strictly inside the path.
        """
        return self.part(0.0, at_mm), self.part(at_mm, self.length)

    def extended(self, *, start_mm: float = 0.0, end_mm: float = 0.0) -> Path:
        """The path lengthened straight along its end tangents."""
        segments = list(self.segments)
        if start_mm > 0:
            segments.insert(0, Line(self.start + self.start_tangent * -start_mm, self.start))
        if end_mm > 0:
            segments.append(Line(self.end, self.end + self.end_tangent * end_mm))
        return Path(tuple(segments))

    def nearest(self, point: Point) -> float:
        """The length along, mm, of the point of the path that is nearest to `point`."""
        best_distance, best_at, before = float("inf"), 0.0, 0.0
        for segment, end in zip(self.segments, self._ends_mm, strict=True):
            t = segment.nearest_t(point)
            distance = segment.point(t).distance(point)
            if distance < best_distance - 1e-12:
                if t <= 0.0:
                    along = 0.0
                elif t >= 1.0:
                    along = end - before
                else:
                    along = segment.part(0.0, t).length
                best_distance, best_at = distance, before + along
            before = end
        return best_at

    def flattened(self, tolerance_mm: float = FLATTEN_TOLERANCE_MM) -> list[Point]:
        """Points of a polyline nowhere further from the path than `tolerance_mm`."""
        points = [self.start]
        for segment in self.segments:
            points.extend(segment.point(t) for t in segment.flattened_ts(tolerance_mm))
        return points


def join(*paths: Path) -> Path:
    """One path from several that follow each other.

    Raises:
        OpenOutline: one does not begin where the last ended.
    """
    return Path(tuple(segment for path in paths for segment in path.segments))


def polyline(points: Sequence[Point] | Iterable[Point]) -> Path:
    """The path of straight segments through `points`; repeated points are passed over.

    Raises:
        OpenOutline: fewer than two different points are given.
    """
    kept: list[Point] = []
    for point in points:
        if not kept or not kept[-1].is_close(point, 1e-9):
            kept.append(point)
    return Path(tuple(Line(a, b) for a, b in pairwise(kept)))
