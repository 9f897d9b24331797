"""What lies on a garment drawn flat: pockets and buttons."""

from __future__ import annotations

from shapely.geometry import Polygon

from clothwise.geometry import (
    Point,
    polyline,
)
from clothwise.pattern.graph import Placement, Sides
from clothwise.pattern.mark import MarkKind
from clothwise.work.flat_garment import Garment
from clothwise.work.flat_lines import MIRROR, inset, inside_of
from clothwise.work.picture import Button, Item, LineRole, Trace, moved_item
from clothwise.work.shape import shape_of, tidied
from clothwise.work.torso import Worn
from clothwise.work.wearing import hems

TOPSTITCHED_MM = 4.0
"""How far inside a placed edge its stitching is drawn."""


def placed(of: Garment) -> list[Item]:
    """Every piece that is laid onto another one seen in this view."""
    found: list[Item] = []
    for placement in of.pattern.placements.values():
        for worn in of.torso:
            if worn.name == placement.host:
                found += _placed_on(of, worn, placement)
    return found


def _placed_on(of: Garment, worn: Worn, placement: Placement) -> list[Item]:
    piece = of.pattern.laid_piece(placement)

    def through(point: Point) -> Point:
        return worn.through(placement.onto.point(point))

    shape = shape_of(piece)
    ring = [through(point) for points in shape.edges.values() for point in points]
    area = tidied(Polygon([(p.x, p.y) for p in ring]))
    inner = [(shape.run(of.pattern.laid_run(placement)), TOPSTITCHED_MM)]
    inner += [
        (list(points), _hem_depth(of, piece.name, edge)) for edge, points in shape.edges.items()
    ]
    lines: list[Item] = []
    for points, depth in inner:
        if depth and len(points) > 1:
            lines += [
                Trace(polyline(map(through, path.flattened())), LineRole.TOPSTITCHING)
                for path in inside_of(polyline(inset(points, depth)), shape.polygon)
            ]
    found: list[Item] = []
    for mirrored in (False, True):
        side = of.side(mirrored)
        if placement.sides in (Sides.BOTH, Sides.CENTER) or placement.sides.value == side.value:
            one: list[Item] = [of.area(area, piece, side), *lines]
            found += [moved_item(item, MIRROR) for item in one] if mirrored else one
    return found


def _hem_depth(of: Garment, piece: str, edge: str) -> float:
    return next(
        (f.depth_mm for f, name, its in hems(of.pattern) if (name, its) == (piece, edge)),
        0.0,
    )


def buttons(of: Garment) -> list[Item]:
    """The buttons on the torso."""
    return [
        Button(Point(0.0, at.y) if abs(at.x) < 1.0 else at, mark.size_mm)
        for worn in of.torso
        for mark in worn.shape.piece.marks
        if mark.kind is MarkKind.BUTTON and mark.at
        for at in _on_both_sides(worn.through(mark.at), mark.only_side)
    ]


def _on_both_sides(at: Point, only_side: str) -> tuple[Point, ...]:
    """A button that is not for one side alone, and is off the center, is on both."""
    return (at,) if only_side or abs(at.x) < 1.0 else (at, Point(-at.x, at.y))
