"""Lines and areas of a flat drawing: mirrored, set in, cut off, and the silhouette around all."""

from __future__ import annotations

from collections.abc import Sequence

from shapely.geometry import LineString, Polygon

from clothwise.geometry import (
    Path,
    Point,
    Transform,
    polyline,
)
from clothwise.work.picture import Area, Item, LineRole, Trace, moved_item
from clothwise.work.shape import polygon_path, tidied, union_of

MIRROR = Transform.mirror()


def both(items: Sequence[Item]) -> list[Item]:
    """Items and their mirror images."""
    return [*items, *(moved_item(item, MIRROR) for item in items)]


def silhouette(items: Sequence[Item]) -> list[Item]:
    """The outer line around everything, in one heavier stroke."""
    areas = [
        Polygon([(p.x, p.y) for p in item.path.flattened(0.2)]).buffer(0.1)
        for item in items
        if isinstance(item, Area)
    ]
    whole = union_of(areas).buffer(-0.1)
    outer = [whole] if isinstance(whole, Polygon) else list(getattr(whole, "geoms", ()))
    return [
        Trace(polygon_path(one), LineRole.SILHOUETTE)
        for one in outer
        if isinstance(one, Polygon) and not one.is_empty
    ]


def mirrored_polygon(polygon: Polygon) -> Polygon:
    """A polygon mirrored in the center."""
    return Polygon([(-x, y) for x, y in polygon.exterior.coords])


CENTER_MM = 2.0
"""What ends this near to the center line ends on it."""


def joined_halves(right: Polygon, left: Polygon) -> Polygon:
    """One area across the center of two halves, both worked out as if they were at the right."""
    return tidied(union_of((_snapped(right), mirrored_polygon(_snapped(left)))))


def _snapped(half: Polygon) -> Polygon:
    """What ends near the center line ends a little beyond it, so that both halves unite."""
    ring = [(-0.1 if abs(x) < CENTER_MM else x, y) for x, y in half.exterior.coords]
    return tidied(Polygon(ring))


def inset(points: list[Point], depth_mm: float) -> list[Point]:
    """The line at a depth to the left of an edge, which is inside an outline."""
    line = LineString([(p.x, p.y) for p in points]).offset_curve(depth_mm)
    coords = (
        line.coords
        if isinstance(line, LineString)
        else max(line.geoms, key=lambda part: float(part.length)).coords
    )
    inner = [Point(x, y) for x, y in coords]
    head = inner[0] + (inner[0] - inner[1]).unit * 40.0
    tail = inner[-1] + (inner[-1] - inner[-2]).unit * 40.0
    return [head, *inner, tail]


def inside_of(path: Path, area: Polygon) -> list[Path]:
    """Those stretches of a line that lie on an area."""
    line = LineString([(p.x, p.y) for p in path.flattened(0.3)]).intersection(area)
    strips = [line] if isinstance(line, LineString) else list(getattr(line, "geoms", ()))
    return [
        polyline(Point(x, y) for x, y in strip.coords)
        for strip in strips
        if isinstance(strip, LineString) and strip.length > 1.0
    ]
