"""What a drawing covers: its lines and areas as shapely geometries, by named group."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TypeAlias

import shapely

from clothwise.geometry import Path, Transform
from clothwise.output.bounds import text_corners
from clothwise.output.drawing import (
    UNMOVED,
    Drawing,
    Group,
    Item,
    Layer,
    Shape,
    Text,
    factor_of,
    leaves_of,
    settled_text,
)

INK_TOLERANCE_MM = 0.1
"""How far the polyline of a curve may stray when it is asked where a drawing reaches."""

Geometry: TypeAlias = shapely.Geometry


@dataclass(frozen=True)
class Ink:
    """A line, filled area or text box of a drawing.

    `reach_mm` is half the width of its stroke; `group` the name of the outermost named group;
    `is_solid` tells whether it is a shape that paper is kept for.
    """

    geometry: Geometry
    reach_mm: float
    group: str = ""
    is_solid: bool = False


def ink_of(drawing: Drawing, tolerance_mm: float = INK_TOLERANCE_MM) -> list[Ink]:
    """Everything the drawing covers, strokes as center lines, texts as boxes.

    The inside of a shape counts if it is filled or `solid`. Clips are applied.
    """
    found: list[Ink] = []
    for layer in drawing.layers:
        for name, item, transform in _outermost(layer.items, UNMOVED, ""):
            found.extend(_ink(item, layer, transform, name, tolerance_mm))
    return found


def _outermost(
    items: Iterable[Item], transform: Transform, name: str
) -> Iterator[tuple[str, Item, Transform]]:
    """Items with the name of the outermost named group they stand in."""
    for item in items:
        if isinstance(item, Group) and not item.name and item.clip is None:
            yield from _outermost(item.items, item.transform.then(transform), name)
        else:
            yield (item.name if isinstance(item, Group) else name), item, transform


def _ink(
    item: Item, layer: Layer, transform: Transform, group: str, tolerance_mm: float
) -> Iterator[Ink]:
    for leaf in leaves_of((item,), layer=layer, transform=transform):
        if isinstance(leaf.item, Text):
            corners = text_corners(settled_text(leaf.item, leaf.transform))
            geometry, reach = shapely.polygons([(p.x, p.y) for p in corners]), 0.0
        else:
            geometry = _shape_geometry(leaf.item, leaf.transform, tolerance_mm)
            stroke = leaf.item.stroke
            reach = stroke.width_mm * factor_of(leaf.transform) / 2 if stroke else 0.0
        for clip in leaf.clips:
            geometry = geometry.intersection(shapely.Polygon(_points(clip, UNMOVED, tolerance_mm)))
        if not geometry.is_empty:
            solid = isinstance(leaf.item, Shape) and leaf.item.solid
            yield Ink(geometry, reach, group, solid)


def _shape_geometry(shape: Shape, transform: Transform, tolerance_mm: float) -> Geometry:
    rings = [_points(path, transform, tolerance_mm) for path in shape.paths]
    if shape.fill or shape.solid:
        return shapely.union_all([shapely.make_valid(shapely.polygons(ring)) for ring in rings])
    if shape.closed:
        rings = [[*ring, ring[0]] for ring in rings]
    return shapely.MultiLineString(rings) if len(rings) > 1 else shapely.linestrings(rings[0])


def _points(path: Path, transform: Transform, tolerance_mm: float) -> list[tuple[float, float]]:
    moved = [transform.point(point) for point in path.flattened(tolerance_mm)]
    return [(point.x, point.y) for point in moved]


def solid_outlines(ink: Iterable[Ink], tolerance_mm: float) -> list[list[tuple[float, float]]]:
    """One coarse outline for each place that paper is kept for, sizes of a nest united."""
    solids: dict[str, list[Geometry]] = {}
    for part in ink:
        if part.is_solid:
            solids.setdefault(part.group, []).append(part.geometry.simplify(tolerance_mm))
    rings = []
    for parts in solids.values():
        for polygon in getattr(united := shapely.union_all(parts), "geoms", [united]):
            if polygon.geom_type == "Polygon":
                ring = polygon.simplify(tolerance_mm).exterior.coords[:-1]
                rings.append([(float(x), float(y)) for x, y in ring])
    return rings
