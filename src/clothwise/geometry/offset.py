"""Paths at a constant distance from a path."""

from __future__ import annotations

import math

import kurbopy

from clothwise.geometry.errors import NoIntersection, OffsetCollapsed
from clothwise.geometry.intersect import crossings, line_crossing
from clothwise.geometry.path import Path
from clothwise.geometry.point import Point, angle_between
from clothwise.geometry.segment import Cubic, Line, Segment, _native

OFFSET_TOLERANCE_MM = 0.01
"""No point of a refitted curve strays further from the true offset."""

_SMOOTH_RAD = 1e-4


def offset_path(path: Path, distance_mm: float) -> Path:
    """Return the path at a constant distance from `path`; positive is to the left of travel.

    Curves stay curves, refitted within `OFFSET_TOLERANCE_MM`. Corners of the path become sharp
    corners of the offset (mitre on the outer side, cut short on the inner).

    Raises:
        OffsetCollapsed: a curve is tighter than the distance, or nothing is left at a corner.

    >>> from clothwise.geometry.path import polyline
    >>> side = offset_path(polyline([Point(0, 0), Point(100, 0)]), 10)
    >>> side.start, side.end
    (Point(x=0.0, y=10.0), Point(x=100.0, y=10.0))
    """
    if distance_mm == 0:
        return path
    parts = [_offset_segment(segment, distance_mm) for segment in path.segments if segment.length]
    joined = parts[0]
    for before, after, part in zip(path.segments, path.segments[1:], parts[1:], strict=False):
        turn = angle_between(before.derivative(1.0), after.derivative(0.0))
        joined = _joined(joined, part, turn, distance_mm)
    return joined


def _offset_segment(segment: Segment, distance_mm: float) -> Path:
    if isinstance(segment, Line):
        step = segment.derivative(0.0).unit.left * distance_mm
        return Path((Line(segment.start + step, segment.end + step),))
    _refuse_tight(segment, distance_mm)
    bent = kurbopy.offset_cubic(_native(segment), distance_mm, OFFSET_TOLERANCE_MM)
    curves = []
    for native in bent.segments():
        curve = native if isinstance(native, kurbopy.CubicBez) else native.to_cubic()
        curves.append(Cubic(*(_point(p) for p in (curve.p0, curve.p1, curve.p2, curve.p3))))
    return Path(tuple(curves))


def _point(native: kurbopy.Point) -> Point:
    return Point(native.x, native.y)


def _refuse_tight(curve: Cubic, distance_mm: float) -> None:
    bends = [curve.curvature(step / 16) for step in range(17)]
    tightest = max(bends, key=lambda bend: bend * math.copysign(1, distance_mm))
    if tightest * distance_mm >= 1.0:
        radius = abs(1 / tightest)
        raise OffsetCollapsed(
            what="a curve is too tight for this distance",
            where=f"between ({curve.start.x:.1f}, {curve.start.y:.1f}) and "
            f"({curve.end.x:.1f}, {curve.end.y:.1f})",
            how_much=f"its radius is {radius:.1f} mm, the distance {abs(distance_mm):.1f} mm",
            what_to_do=f"Use less than {radius:.1f} mm there, or a rounder curve.",
        )


def _joined(before: Path, after: Path, turn: float, distance_mm: float) -> Path:
    if abs(turn) < _SMOOTH_RAD or before.end.is_close(after.start, 1e-3):
        return Path((*before.segments, *_started_at(after, before.end).segments))
    if turn * distance_mm < 0:
        corner = line_crossing(before.end, before.end_tangent, after.start, after.start_tangent)
        mitre = (Line(before.end, corner), Line(corner, after.start))
        return Path((*before.segments, *mitre, *after.segments))
    met = crossings(before, after)
    if not met:
        raise OffsetCollapsed(
            what="nothing is left of a line beside an inner corner",
            where=f"near ({before.end.x:.1f}, {before.end.y:.1f})",
            how_much=f"at a distance of {abs(distance_mm):.1f} mm",
            what_to_do="Use a smaller distance there.",
        )
    last = met[-1]
    if last.first_mm <= 0 or last.second_mm >= after.length:
        raise NoIntersection(what="an inner corner leaves no line on one of its sides")
    return Path(
        (
            *before.part(0.0, last.first_mm).segments,
            *_started_at(after.part(last.second_mm, after.length), last.point).segments,
        )
    )


def _started_at(path: Path, point: Point) -> Path:
    """The path with its first point moved by a rounding error onto `point`."""
    first = path.segments[0]
    if isinstance(first, Line):
        moved: Segment = Line(point, first.end)
    else:
        moved = Cubic(point, first.control1, first.control2, first.end)
    return Path((moved, *path.segments[1:]))
