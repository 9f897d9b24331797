"""Collars in a flat drawing: they roll around the neck, sized from their pieces."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from shapely.geometry import Polygon

from clothwise.geometry import (
    Point,
    Vector,
    cubic_between,
    join,
    polar,
    straight,
)
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece, Side
from clothwise.work.flat_garment import Garment
from clothwise.work.flat_lines import MIRROR, both, inside_of, mirrored_polygon
from clothwise.work.flat_neck import Neck
from clothwise.work.picture import Item, LineRole, Trace, moved_item
from clothwise.work.shape import tidied, union_of
from clothwise.work.wearing import Part, View

STAND_SHARE, LARGEST_STAND_MM = 0.4, 34.0
"""The part of a rolled collar's width that stands up at center back."""
COLLAR_FALL_RAD = math.radians(37)
"""Angle below the level of the front edge of a collar whose points do not lean forward."""


def outer_collars(of: Garment) -> list[str]:
    """Collar pieces that are seen: of those caught in one seam, the last; not their stand."""
    found: list[str] = []
    stands: set[str] = set()
    for seam in of.pattern.seams.values():
        caught = [
            layer
            for layer in seam.layers
            if layer.span is not None and of.parts.get(layer.run.pieces[0]) is not Part.TAB
        ]
        if caught:
            found.append(caught[-1].run.pieces[0])
            hosts = [layer for layer in seam.layers if layer.span is None]
            stands.update(name for layer in hosts for name in layer.run.pieces)
    collars = [name for name in found if of.parts.get(name) is Part.COLLAR]
    return [name for name in collars if name not in stands]


def collar_items(of: Garment, piece: Piece, neck: Neck) -> list[Item]:
    """A collar around the neck."""
    size = _collar_size(of.pattern, piece)
    stand = min(STAND_SHARE * size.width_mm, LARGEST_STAND_MM)
    roll = neck.side + Vector(-4.0, 0.72 * stand)
    outer = neck.on_shoulder(size.width_mm - stand - 0.72 * stand + 5.0) + Vector(2.0, 3.0)
    if of.view is View.BACK:
        return _collar_back(of, piece, neck, roll, outer, size.width_mm, stand)
    start = _collar_start(of, piece, neck)
    tip = start + polar(size.end_mm, -(COLLAR_FALL_RAD + size.lean_rad))
    over = cubic_between(start, polar(1.0, math.radians(58)), roll, polar(1.0, math.radians(80)))
    down = cubic_between(roll, polar(1.0, math.radians(-10)), outer, polar(1.0, -1.0))
    edge = cubic_between(
        outer,
        (tip - outer).unit.turned(0.16),
        tip,
        (tip - outer).unit.turned(-0.16),
    )
    front = join(over, down, edge, straight(tip, start))
    top = Point(0.0, roll.y - 0.12 * stand)
    inside = [
        *over.flattened(0.3),
        *cubic_between(roll, Vector(-1.0, 0.1), top, Vector(-1.0, 0.0)).flattened(0.3),
    ]
    half = Polygon([(p.x, p.y) for p in (*inside, Point(0.0, start.y))])
    behind = tidied(union_of((half, mirrored_polygon(half))))
    seam = cubic_between(
        roll + Vector(-2.0, -0.55 * stand),
        polar(1.0, math.radians(205)),
        Point(0.0, top.y - stand),
        Vector(-1.0, 0.0),
    )
    items: list[Item] = [replace(of.area(behind, piece, Side.CENTER), inside=True)]
    items += both([Trace(part, LineRole.SEWN) for part in inside_of(seam, behind)])
    points = front.flattened(0.2)
    area = tidied(Polygon([(p.x, p.y) for p in points]))
    for mirrored in (False, True):
        one = of.area(area, piece, Side.CENTER)
        items.append(moved_item(one, MIRROR) if mirrored else one)
    return items


def _collar_start(of: Garment, piece: Piece, neck: Neck) -> Point:
    """Where the neck edge of a collar begins, at center front."""
    for seam in of.pattern.seams.values():
        for layer in seam.layers:
            if layer.span is None or piece.name not in layer.run.pieces:
                continue
            spot = of.pattern.spot(seam.layers[0].run, layer.span[0] + 1e-3)
            for worn in of.torso:
                if worn.name == spot.edge.piece:
                    return worn.through(spot.point)
    return neck.center


def _collar_back(
    of: Garment, piece: Piece, neck: Neck, roll: Point, outer: Point, width: float, stand: float
) -> list[Item]:
    top = Point(0.0, neck.center.y + stand)
    low = Point(0.0, neck.center.y + stand - (width - stand))
    right = join(
        cubic_between(top, Vector(1.0, 0.0), roll, polar(1.0, math.radians(35))),
        cubic_between(roll, polar(1.0, math.radians(-10)), outer, polar(1.0, -1.0)),
        cubic_between(outer, polar(1.0, math.radians(205)), low, Vector(-1.0, 0.0)),
    )
    half = Polygon([(p.x, p.y) for p in right.flattened(0.2)])
    whole = tidied(union_of((half, mirrored_polygon(half))))
    return [of.area(whole, piece, Side.CENTER)]


@dataclass(frozen=True)
class _CollarSize:
    """Width at center back, length of the front edge, and how far that leans forward."""

    width_mm: float
    end_mm: float
    lean_rad: float


def _collar_size(pattern: Pattern, piece: Piece) -> _CollarSize:
    """What the flat collar piece says."""
    neck = next(
        ref.edge
        for seam in pattern.seams.values()
        for layer in seam.layers
        if layer.span is not None
        for ref in layer.run.edges
        if ref.piece == piece.name
    )
    names = piece.edge_names
    number = names.index(neck)
    following, before = names[(number + 1) % len(names)], names[number - 1]
    end, at_end = (following, True) if before == piece.fold_edge else (before, False)
    neck_path, end_path = piece.edge(neck), piece.edge(end)
    forward = neck_path.end_tangent if at_end else -neck_path.start_tangent
    away = end_path.start_tangent if at_end else -end_path.end_tangent
    lean = math.asin(max(-1.0, min(1.0, forward.dot(away))))
    width = piece.edge(piece.fold_edge).length if piece.fold_edge else end_path.length
    return _CollarSize(width, end_path.length, lean)
