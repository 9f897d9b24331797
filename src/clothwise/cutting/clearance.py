"""Outlines for the packer: widened by half the spacing, with fewer points, never smaller.

An outline may only grow: what the packer keeps apart is then apart in truth.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence

import numpy as np
from shapely import Polygon, set_precision, unary_union, union
from shapely.geometry.base import BaseGeometry

from clothwise.cutting.item import XY, Polyline

__all__ = [
    "GRID_MM",
    "SIMPLIFY_TOLERANCE_MM",
    "on_grid",
    "rounded",
    "simplified_outward",
    "widened",
]

SIMPLIFY_TOLERANCE_MM = 0.5
"""How far a simplified outline may lie outside the true one.

Our own choice: more points gave neither shorter layouts nor other running times (decision on the
layout engine), fewer save memory and keep the stored job readable.
"""
_MITRE_LIMIT = 2.0  # beyond, acute corners are rounded, so that darts and points do not grow spikes
_ARC_SEGMENTS = 8  # per quarter circle of a rounded corner: 1.5 mm is kept within 0.01 mm
GRID_MM = 0.001
"""Far above the steps of a single-precision float at 2 m (0.0001 mm), far below what matters."""
_COVER_SLACK_MM = 1e-6


def widened(outline: Polyline, distance_mm: float) -> Polyline:
    """Return the outline grown by a distance all round; straight edges move exactly by it.

    Holes that arise where the outline nearly closes on itself are filled.
    """
    if distance_mm <= 0:
        return outline
    shape = Polygon(outline)
    with np.errstate(invalid="ignore"):  # mitres of edges that are nearly one line; none is made
        mitred = shape.buffer(distance_mm, join_style="mitre", mitre_limit=_MITRE_LIMIT)
    rounded = shape.buffer(distance_mm, quad_segs=_ARC_SEGMENTS)
    return on_grid(union(mitred, rounded))


def rounded(outline: Polyline, distance_mm: float) -> Polyline:
    """Return the outline grown by a distance all round, and no further at its corners.

    Two outlines that are grown so and touch are exactly twice the distance apart.
    """
    if distance_mm <= 0:
        return outline
    return on_grid(Polygon(outline).buffer(distance_mm, quad_segs=_ARC_SEGMENTS))


def on_grid(shape: BaseGeometry) -> Polyline:
    """Return the outline of a connected shape, holes filled, corners on a grid of `GRID_MM`.

    The packer reckons in single precision and refuses outlines whose corners then coincide. Parts
    that meet only on the grid are joined there.
    """
    whole = unary_union(set_precision(shape, GRID_MM), grid_size=GRID_MM)
    assert isinstance(whole, Polygon)
    return tuple(_ring(whole))


def simplified_outward(outline: Polyline, tolerance_mm: float = SIMPLIFY_TOLERANCE_MM) -> Polyline:
    """Return an outline with fewer points that contains the given one and strays little from it.

    Hollow corners are cut off, bulging edges are replaced by the corner in which their neighbors
    meet; straight edges stay where they are. The result never crosses itself: where it would, the
    given outline is returned.

    Args:
        outline: anticlockwise, simple.
        tolerance_mm: how far outside the given outline the result may lie.
    """
    points = _Ring(outline, tolerance_mm).reduced()
    given, simpler = Polygon(outline), Polygon(points)
    if simpler.is_valid and simpler.buffer(_COVER_SLACK_MM).covers(given):
        return tuple(points)
    return outline


class _Ring:
    """A closed line that loses points, cheapest first, while it only grows."""

    def __init__(self, outline: Sequence[XY], tolerance_mm: float) -> None:
        count = len(outline)
        self.points = list(outline)
        self.strayed = [0.0] * count  # mm, how far this corner already lies outside
        self.before = [(i - 1) % count for i in range(count)]
        self.after = [(i + 1) % count for i in range(count)]
        self.alive = [True] * count
        self.version = [0] * count
        self.left = count
        self.tolerance_mm = tolerance_mm

    def reduced(self) -> list[XY]:
        queue: list[tuple[float, int, int]] = []
        for i in range(len(self.points)):
            self._offer(queue, i)
        while queue and self.left > 3:
            cost, i, version = heapq.heappop(queue)
            if self.alive[i] and version == self.version[i]:
                self._apply(i, cost)
                for k in self._around(i):
                    self.version[k] += 1
                    self._offer(queue, k)
        return [p for p, alive in zip(self.points, self.alive, strict=True) if alive]

    def _around(self, i: int) -> list[int]:
        near = [i] if self.alive[i] else [self.after[i]]
        for _ in range(2):
            near = [self.before[near[0]], *near, self.after[near[-1]]]
        return near

    def _offer(self, queue: list[tuple[float, int, int]], i: int) -> None:
        cost = self._cost(i)
        if cost <= self.tolerance_mm:
            heapq.heappush(queue, (cost, i, self.version[i]))

    def _cost(self, i: int) -> float:
        """How far the outline would stray if the corner, or the edge that it starts, went."""
        j = self.after[i]
        a, b, c = self.points[self.before[i]], self.points[i], self.points[j]
        if _turn(a, b, c) <= 0:
            return _distance(b, a, c) + max(self.strayed[k] for k in (self.before[i], i, j))
        meeting = self._meeting(i)
        if meeting is None:
            return math.inf
        return _distance(meeting, b, c) + max(self.strayed[i], self.strayed[j])

    def _meeting(self, i: int) -> XY | None:
        """Return where the edges before and after the edge from corner i meet outside it."""
        j = self.after[i]
        a, b = self.points[self.before[i]], self.points[i]
        c, d = self.points[j], self.points[self.after[j]]
        if _turn(a, b, c) <= 0 or _turn(b, c, d) <= 0:
            return None
        ux, uy = b[0] - a[0], b[1] - a[1]
        vx, vy = d[0] - c[0], d[1] - c[1]
        cross = ux * vy - uy * vx
        if cross <= 1e-9 * math.hypot(ux, uy) * math.hypot(vx, vy):
            return None  # the neighbors turn by a half or more: they never meet
        along = ((c[0] - b[0]) * vy - (c[1] - b[1]) * vx) / cross
        return b[0] + along * ux, b[1] + along * uy

    def _apply(self, i: int, cost: float) -> None:
        before, after = self.before[i], self.after[i]
        if _turn(self.points[before], self.points[i], self.points[after]) > 0:
            meeting = self._meeting(i)
            assert meeting is not None
            self.points[after] = meeting
            self.strayed[after] = cost
        else:
            self.strayed[before] = max(self.strayed[before], cost)
            self.strayed[after] = max(self.strayed[after], cost)
        self.alive[i] = False
        self.after[before], self.before[after] = after, before
        self.left -= 1


def _turn(a: XY, b: XY, c: XY) -> float:
    """Twice the area of a triangle; positive if it turns left."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _distance(p: XY, a: XY, b: XY) -> float:
    length = math.dist(a, b)
    return abs(_turn(a, b, p)) / length if length > 0 else math.dist(p, a)


def _ring(polygon: Polygon) -> list[XY]:
    oriented = polygon.exterior.coords if polygon.exterior.is_ccw else polygon.exterior.coords[::-1]
    return [(float(x), float(y)) for x, y in oriented][:-1]
