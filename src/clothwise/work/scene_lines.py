"""Lines and areas of step pictures: folds, bands along edges, lines at a depth."""

from __future__ import annotations

from collections.abc import Sequence

from shapely.geometry import LineString, Polygon

from clothwise.geometry import Point, Transform, Vector, polyline
from clothwise.pattern.graph import (
    Run,
)
from clothwise.pattern.pattern import Use, runs_of
from clothwise.work.picture import Arrow, LineRole, Trace
from clothwise.work.shape import tidied
from clothwise.work.sheet import Sheet

OFF_SHARE = 0.03
"""How far an upper piece is drawn off the lower one, as a share of the picture; our own choice."""


def traced(points: Sequence[Point], role: LineRole) -> Trace:
    """Points as a line of this role."""
    return Trace(polyline(points), role)


def extent(points: Sequence[Point]) -> float:
    """The larger of the width and the height of some points."""
    xs, ys = [p.x for p in points], [p.y for p in points]
    return max(max(xs) - min(xs), max(ys) - min(ys))


def ring_of(polygon: Polygon) -> tuple[Point, ...]:
    """The outer ring of a polygon."""
    return tuple(Point(x, y) for x, y in polygon.exterior.coords)


def offset_of(width: float, height: float) -> float:
    """How far an upper piece is drawn off, less on narrow ones."""
    return min(OFF_SHARE * max(width, height), 0.12 * min(width, height))


def fold_over(first: Point, second: Point, apex: Point) -> list[Arrow]:
    """An arrow from one leg of a dart to the other, just inside its mouth."""
    inside = 0.12
    return [Arrow(second.toward(apex, inside), first.toward(apex, inside))]


def folding(of: Sheet, first: Run, second: Run) -> tuple[Transform, Polygon, tuple[Point, Point]]:
    """The fold that brings the second run onto the first.

    Returns the mirroring, the half plane on the side of the first run, and the fold line.
    """
    one, two = of.run(first), of.run(second)
    start, end = one[0].toward(two[0], 0.5), one[-1].toward(two[-1], 0.5)
    if start.distance(end) < 1.0:
        # Edges that start at the fold, as the ends of a cuff, are apart at their other ends.
        across = (two[0] - one[0], two[-1] - one[-1])
        end = start + max(across, key=lambda step: step.length).left
    along = (end - start).unit
    reach = 4000.0
    farthest = max(((point - start).dot(along.left) for point in one), key=abs)
    side = along.left if farthest > 0 else -along.left
    corners = (
        start - along * reach,
        start + along * reach,
        start + along * reach + side * reach,
        start - along * reach + side * reach,
    )
    half = Polygon([(p.x, p.y) for p in corners])
    return Transform.mirror(start, along), half, (start - along * reach, start + along * reach)


def out_of(half: Polygon, crease: tuple[Point, Point]) -> Vector:
    """Square to a fold line, out of the half plane, 1 mm long."""
    along = (crease[1] - crease[0]).unit
    center = half.centroid
    inward = Point(center.x, center.y) - crease[0]
    return -along.left if inward.dot(along.left) > 0 else along.left


def crease_in(crease: tuple[Point, Point], inside: Polygon) -> Trace:
    """The stretch of a fold line inside an area."""
    line = LineString([(p.x, p.y) for p in crease]).intersection(inside.buffer(0.5))
    points = [Point(x, y) for x, y in line.coords]
    return traced(points, LineRole.FOLD)


def _drawn_on(edge: list[Point]) -> LineString:
    """An edge, drawn on at both ends beyond any allowance."""
    head = edge[0] + (edge[0] - edge[1]).unit * 60.0
    tail = edge[-1] + (edge[-1] - edge[-2]).unit * 60.0
    return LineString([(p.x, p.y) for p in (head, *edge, tail)])


def band_along(of: Sheet, edge: list[Point], depth_mm: float, *, to_left: bool) -> Polygon:
    """The cloth within a depth of an edge."""
    line = _drawn_on(edge)
    wide = line.buffer(depth_mm if to_left else -depth_mm, single_sided=True)
    return tidied(wide.intersection(of.polygon))


def parallel_to(of: Sheet, edge: list[Point], depth_mm: float, *, to_left: bool) -> list[Trace]:
    """The line at a depth inside an edge, as far as there is cloth."""
    line = _drawn_on(edge)
    inner = line.offset_curve(depth_mm if to_left else -depth_mm).intersection(of.polygon)
    parts = [inner] if isinstance(inner, LineString) else list(inner.geoms)
    return [
        traced([Point(x, y) for x, y in part.coords], LineRole.SEWN_NOW)
        for part in parts
        if part.length > 5.0
    ]


def clipped(trace: Trace, window: Polygon) -> list[Trace]:
    """Those stretches of a line that lie in a window."""
    line = LineString([(p.x, p.y) for p in trace.path.flattened()]).intersection(window)
    parts = [line] if isinstance(line, LineString) else list(line.geoms)
    return [
        traced([Point(x, y) for x, y in part.coords], trace.role)
        for part in parts
        if part.length > 5.0
    ]


def in_order(use: Use) -> list[str]:
    """The pieces of the edges of a use, in order."""
    return [edge.piece for run in runs_of(use) for edge in run.edges]
