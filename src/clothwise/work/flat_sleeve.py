"""Sleeves in a flat drawing: they hang from the armholes, half of each to be seen."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely.geometry import Polygon

from clothwise.geometry import (
    Path,
    Point,
    Transform,
    Vector,
    angle_between,
    cubic_between,
    join,
    polar,
)
from clothwise.pattern.graph import Layer, Run, Seam, run
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece
from clothwise.work.flat_garment import Garment
from clothwise.work.flat_lines import inside_of
from clothwise.work.picture import Item, LineRole, Trace
from clothwise.work.shape import tidied
from clothwise.work.wearing import Part, hems

SLEEVE_FALL_RAD = math.radians(50)
"""Angle of a hanging sleeve below the level."""
SLEEVE_HEAD = 0.35
"""How far the sleeve has turned from the line of the shoulder when it leaves the seam."""


def sleeve_items(of: Garment, piece: Piece) -> list[Item]:
    """The visible half of the sleeve at the right of the view."""
    seam, layer = _cap_seam(of.pattern, piece.name, set(of.named(Part.CUFF)))
    armhole = _armhole(of, seam.layers[0].run)
    if armhole is None:
        return []
    tip, underarm = armhole[-1], armhole[0]
    size = _sleeve_size(of.pattern, piece, layer)
    along = polar(1.0, -SLEEVE_FALL_RAD)
    inward = polar(1.0, -SLEEVE_FALL_RAD - math.pi / 2)
    hem_outer = tip + along * size.length_mm + inward * -6.0
    hem_inner = hem_outer + inward * size.hem_half_mm
    slope = _slope_at(of, tip)
    head = slope.turned(SLEEVE_HEAD * angle_between(slope, along))
    top = cubic_between(tip, head, hem_outer, along)
    hem = cubic_between(hem_outer, inward.turned(-0.06), hem_inner, inward.turned(0.06))
    under = cubic_between(
        hem_inner,
        (underarm - hem_inner).unit.turned(-0.10),
        underarm,
        (underarm - hem_inner).unit.turned(0.10),
    )
    ring = [*armhole, *join(top, hem, under).flattened(0.3)]
    area = tidied(Polygon([(p.x, p.y) for p in ring]))
    items: list[Item] = [of.area(area, piece, of.right_side)]
    if size.hem_depth_mm:
        inner = hem.transformed(Transform.shift(*_xy(-along * size.hem_depth_mm)))
        longer = inner.extended(start_mm=30.0, end_mm=30.0)
        items += [
            Trace(part, LineRole.TOPSTITCHING, piece.name) for part in inside_of(longer, area)
        ]
    return [*items, *_cuff(of, piece, hem, along)]


def _cuff(of: Garment, sleeve: Piece, hem: Path, along: Vector) -> list[Item]:
    """The half of a cuff that is seen below a sleeve, in the middle of its edge."""
    items: list[Item] = []
    for name in of.named(Part.CUFF):
        piece = of.pattern.piece(name)
        if piece.component != sleeve.component:
            continue
        left, bottom, right, top = piece.outline.polygon.bounds
        folded = any(mark.kind is MarkKind.FOLD_LINE for mark in piece.marks)
        depth = (top - bottom) / (2 if folded else 1)
        share = min((right - left) / 2 / hem.length, 1.0) / 2
        ends = (
            hem.point_at((0.5 - share) * hem.length),
            hem.point_at((0.5 + share) * hem.length),
        )
        ring = [ends[0], ends[1], ends[1] + along * depth, ends[0] + along * depth]
        area = tidied(Polygon([(p.x, p.y) for p in ring]))
        items.append(of.area(area, piece, of.right_side))
    return items


def _armhole(of: Garment, run: Run) -> list[Point] | None:
    """The armhole of this view, from the underarm up to the shoulder."""
    for worn in of.torso:
        points = [
            point
            for ref in run.edges
            if ref.piece == worn.name
            for point in (reversed(worn.edge(ref.edge)) if ref.reverse else worn.edge(ref.edge))
        ]
        if len(points) > 1:
            return points if points[0].y < points[-1].y else points[::-1]
    return None


def _slope_at(of: Garment, tip: Point) -> Vector:
    """Direction of the shoulder at its outer end."""
    for worn in of.torso:
        for edge in worn.shape.edges:
            points = worn.edge(edge)
            if len(points) < 2:
                continue
            for end, before in ((points[0], points[1]), (points[-1], points[-2])):
                if end.is_close(tip, 1.0) and end.x > before.x + 1e-6 and end.y < before.y:
                    return (end - before).unit
    return polar(1.0, math.radians(-20))


@dataclass(frozen=True)
class _SleeveSize:
    """From the top of the cap to the hem, half of the hem, and the hem's depth."""

    length_mm: float
    hem_half_mm: float
    hem_depth_mm: float


def _cap_seam(pattern: Pattern, piece: str, cuffs: set[str]) -> tuple[Seam, Layer]:
    """The seam that sets a sleeve in; that to its cuff may be a ring too."""
    return next(
        (seam, layer)
        for seam in pattern.seams.values()
        for layer in seam.layers[1:]
        if layer.run.closed
        and piece in layer.run.pieces
        and not cuffs.intersection(seam.layers[0].run.pieces)
    )


def _sleeve_size(pattern: Pattern, piece: Piece, layer: Layer) -> _SleeveSize:
    cap = {ref.edge for ref in layer.run.edges if ref.piece == piece.name}
    top = max(point.y for edge in cap for point in piece.edge(edge).flattened())
    depth, lower = 0.0, [layer.run for layer in _cuff_layers(pattern, piece.name, cap)]
    for finish, name, edge in hems(pattern):
        if name == piece.name:
            depth, lower = finish.depth_mm, [run(f"{name}.{edge}")]
    if not lower:
        edge = min(piece.edge_names, key=lambda edge: piece.edge(edge).point_at(0.0).y)
        lower = [run(f"{piece.name}.{edge}")]
    around = pattern.run_length(lower[0])
    low = pattern.spot(lower[0], around / 2).point.y
    return _SleeveSize(top - low, around / 2, depth)


def _cuff_layers(pattern: Pattern, piece: str, cap: set[str]) -> list[Layer]:
    """The lower edge of a sleeve where it is sewn to a cuff: a later layer that is not the cap."""
    return [
        layer
        for seam in pattern.seams.values()
        for layer in seam.layers[1:]
        if layer.run.pieces == (piece,)
        and piece not in seam.layers[0].run.pieces
        and not cap.intersection(ref.edge for ref in layer.run.edges)
    ]


def _xy(vector: Vector) -> tuple[float, float]:
    return vector.x, vector.y
