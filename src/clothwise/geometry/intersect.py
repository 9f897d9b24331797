"""Where paths cross."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from clothwise.geometry.errors import NoIntersection
from clothwise.geometry.path import Path
from clothwise.geometry.point import Point, Vector
from clothwise.geometry.segment import Segment

CROSSING_TOLERANCE_MM = 1e-6
"""The two points of a refined crossing agree within this distance."""

_SEARCH_TOLERANCE_MM = 0.02


@dataclass(frozen=True)
class Crossing:
    """A place where two paths meet: lengths along each, mm, and the point."""

    first_mm: float
    second_mm: float
    point: Point


def line_crossing(start: Point, along: Vector, other: Point, other_along: Vector) -> Point:
    """The point where two endless straight lines cross.

    Raises:
        NoIntersection: they are parallel.
    """
    across = along.unit.cross(other_along.unit)
    if abs(across) < 1e-9:
        raise NoIntersection(
            what="two parallel lines do not cross",
            where=f"at ({start.x:.1f}, {start.y:.1f}) and ({other.x:.1f}, {other.y:.1f})",
            what_to_do="Give one of them another direction.",
        )
    along = along.unit
    return start + along * ((other - start).cross(other_along.unit) / across)


def crossings(first: Path, second: Path) -> list[Crossing]:
    """All crossings of two paths, in order along the first.

    Found on fine polylines, then refined by Newton steps on the curves; paths that touch without
    crossing may be missed.
    """
    found: list[Crossing] = []
    a_points, a_spots = _sampled(first)
    b_points, b_spots = _sampled(second)
    for i, j in _crossing_chords(a_points, b_points):
        crossing = _refined(first, a_spots[i], a_spots[i + 1], second, b_spots[j], b_spots[j + 1])
        if crossing and not any(known.point.is_close(crossing.point, 1e-4) for known in found):
            found.append(crossing)
    return sorted(found, key=lambda crossing: crossing.first_mm)


def first_crossing(first: Path, second: Path) -> Crossing:
    """The crossing that comes first along the first path.

    Raises:
        NoIntersection: the paths do not meet.
    """
    found = crossings(first, second)
    if not found:
        raise NoIntersection(
            what="two lines that must meet do not",
            where=f"from ({first.start.x:.1f}, {first.start.y:.1f}) and from "
            f"({second.start.x:.1f}, {second.start.y:.1f})",
            what_to_do="Lengthen one of them or move its end.",
        )
    return found[0]


_Spot = tuple[int, float]


def _sampled(path: Path) -> tuple[np.ndarray[tuple[int, int], np.dtype[np.float64]], list[_Spot]]:
    spots: list[_Spot] = [(0, 0.0)]
    for number, segment in enumerate(path.segments):
        spots.extend((number, t) for t in segment.flattened_ts(_SEARCH_TOLERANCE_MM))
    points = [path.segments[number].point(t) for number, t in spots]
    return np.array([(point.x, point.y) for point in points]), spots


def _crossing_chords(
    a: np.ndarray[tuple[int, int], np.dtype[np.float64]],
    b: np.ndarray[tuple[int, int], np.dtype[np.float64]],
) -> list[tuple[int, int]]:
    p, r = a[:-1, None, :], (a[1:] - a[:-1])[:, None, :]
    q, s = b[None, :-1, :], (b[1:] - b[:-1])[None, :, :]
    cross = r[..., 0] * s[..., 1] - r[..., 1] * s[..., 0]
    gap = q - p
    with np.errstate(divide="ignore", invalid="ignore"):
        t = (gap[..., 0] * s[..., 1] - gap[..., 1] * s[..., 0]) / cross
        u = (gap[..., 0] * r[..., 1] - gap[..., 1] * r[..., 0]) / cross
    slack = 1e-2
    hit = (t >= -slack) & (t <= 1 + slack) & (u >= -slack) & (u <= 1 + slack)
    return [(int(i), int(j)) for i, j in zip(*np.nonzero(hit), strict=True)]


def _refined(
    first: Path, a0: _Spot, a1: _Spot, second: Path, b0: _Spot, b1: _Spot
) -> Crossing | None:
    a_segment, b_segment = first.segments[a1[0]], second.segments[b1[0]]
    t = ((a0[1] if a0[0] == a1[0] else 0.0) + a1[1]) / 2
    u = ((b0[1] if b0[0] == b1[0] else 0.0) + b1[1]) / 2
    for _ in range(30):
        gap = a_segment.point(t) - b_segment.point(u)
        da, db = a_segment.derivative(t), b_segment.derivative(u)
        cross = da.cross(db)
        if abs(cross) < 1e-12:
            return None
        before = t, u
        t = min(1.0, max(0.0, t - gap.cross(db) / cross))
        u = min(1.0, max(0.0, u - gap.cross(da) / cross))
        if gap.length < CROSSING_TOLERANCE_MM / 10 or (t, u) == before:
            break
    point = a_segment.point(t)
    if not point.is_close(b_segment.point(u), CROSSING_TOLERANCE_MM):
        return None
    return Crossing(_along(first, a1[0], t), _along(second, b1[0], u), point)


def _along(path: Path, number: int, t: float) -> float:
    segment: Segment = path.segments[number]
    part = segment.part(0.0, t).length if t > 0 else 0.0
    return sum(before.length for before in path.segments[:number]) + part
