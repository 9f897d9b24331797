"""Collars that roll, in a flat drawing: they stand up around the neck and fall over themselves."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from shapely.geometry import Polygon

from clothwise.geometry import Point, Vector, cubic_between, join, polar, straight
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece, Side
from clothwise.work.flat_garment import Garment
from clothwise.work.flat_lines import both, inside_of, joined_halves, mirrored_polygon
from clothwise.work.flat_neck import Neck
from clothwise.work.picture import Item, LineRole, Trace
from clothwise.work.shape import tidied, union_of
from clothwise.work.viewing import View

STAND_SHARE, LARGEST_STAND_MM = 0.4, 34.0
"""The part of a rolled collar's width that stands up at center back."""

COLLAR_FALL_RAD = math.radians(37)
"""Angle below the level of the front edge of a collar whose points do not lean forward."""


def rolled_collar(of: Garment, piece: Piece, neck: Neck) -> list[Item]:
    """A collar that stands up around the neck and rolls over."""
    size = _collar_size(of.pattern, piece)
    stand = min(STAND_SHARE * size.width_mm, LARGEST_STAND_MM)
    roll = neck.side + Vector(-4.0, 0.72 * stand)
    outer = neck.on_shoulder(size.width_mm - stand - 0.72 * stand + 5.0) + Vector(2.0, 3.0)
    if of.view is View.BACK:
        return back_of_collar(of, piece, neck, size.width_mm, stand)
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
    area = tidied(Polygon([(p.x, p.y) for p in front.flattened(0.2)]))
    for half in of.from_below:
        items += half.put([of.area(area, piece, half.side)])
    return items


def _collar_start(of: Garment, piece: Piece, neck: Neck) -> Point:
    """Where the neck edge of a collar begins, at center front."""
    for seam in of.pattern.seams.values():
        for layer in seam.layers:
            if layer.span is None or piece.name not in layer.run.pieces:
                continue
            spot = of.pattern.spot(seam.layers[0].run, layer.span[0] + 1e-3)
            worn = of.halves[0].worn(spot.edge.piece)
            if worn is not None:
                return worn.through(spot.point)
    return neck.center


def back_of_collar(of: Garment, piece: Piece, neck: Neck, width: float, stand: float) -> list[Item]:
    """The collar from behind: it stands up and falls over the neckline."""
    roll = neck.side + Vector(-4.0, 0.72 * stand)
    outer = neck.on_shoulder(width - stand - 0.72 * stand + 5.0) + Vector(2.0, 3.0)
    top = Point(0.0, neck.center.y + stand)
    low = Point(0.0, neck.center.y + stand - (width - stand))
    right = join(
        cubic_between(top, Vector(1.0, 0.0), roll, polar(1.0, math.radians(35))),
        cubic_between(roll, polar(1.0, math.radians(-10)), outer, polar(1.0, -1.0)),
        cubic_between(outer, polar(1.0, math.radians(205)), low, Vector(-1.0, 0.0)),
    )
    half = tidied(Polygon([(p.x, p.y) for p in right.flattened(0.2)]))
    if piece.fold_edge is None:  # it opens at the back
        return [item for each in of.halves for item in each.put([of.area(half, piece, each.side)])]
    return [of.area(joined_halves(half, half), piece, Side.CENTER)]


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
    before, following = piece.edge_before(neck), piece.edge_after(neck)
    end, at_end = (following, True) if before == piece.fold_edge else (before, False)
    neck_path, end_path = piece.edge(neck), piece.edge(end)
    forward = neck_path.end_tangent if at_end else -neck_path.start_tangent
    away = end_path.start_tangent if at_end else -end_path.end_tangent
    lean = math.asin(max(-1.0, min(1.0, forward.dot(away))))
    width = piece.edge(piece.fold_edge).length if piece.fold_edge else end_path.length
    return _CollarSize(width, end_path.length, lean)
