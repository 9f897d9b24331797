"""The torso in a flat drawing: its pieces, which side lies above, darts, hems and bindings."""

from __future__ import annotations

from shapely.geometry import Polygon

from clothwise.geometry import (
    polyline,
)
from clothwise.pattern.graph import FinishKind
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.piece import Side
from clothwise.work.flat_garment import Garment
from clothwise.work.flat_lines import MIRROR, both, inset
from clothwise.work.picture import Item, LineRole, Trace, moved_item
from clothwise.work.shape import tidied, union_of
from clothwise.work.torso import Worn
from clothwise.work.wearing import hems


def torso_items(of: Garment) -> list[Item]:
    """Pieces of the side that lies below, then those of the side above, then whole ones."""
    upper_is_mirrored = _lap_side(of) is not of.right_side
    first, second = (False, True) if upper_is_mirrored else (True, False)
    items: list[Item] = []
    for mirrored in (first, second):
        for worn in of.torso:
            if not _is_whole(of, worn):
                items += _worn_items(of, worn, mirrored=mirrored)
    for worn in of.torso:
        if _is_whole(of, worn):
            items += _whole_items(of, worn)
    return items


def bindings(of: Garment) -> list[Item]:
    """The stitching of bound edges."""
    found: list[Item] = []
    for finish in of.pattern.finishes.values():
        if finish.kind is not FinishKind.BOUND:
            continue
        for worn in of.torso:
            for ref in finish.run.edges:
                if ref.piece == worn.name and ref.edge in worn.shape.edges:
                    inner = inset(list(worn.shape.edges[ref.edge]), 8.0)
                    found += both(
                        [
                            Trace(polyline(points), LineRole.TOPSTITCHING, worn.name)
                            for points in worn.line(inner)
                        ]
                    )
    return found


def _lap_side(of: Garment) -> Side:
    """The side that lies on top at an opening: the one with the buttonholes."""
    for worn in of.torso:
        for mark in worn.shape.piece.marks:
            if mark.kind is MarkKind.BUTTONHOLE and mark.only_side:
                return Side(mark.only_side)
    return Side.RIGHT


def _is_whole(of: Garment, worn: Worn) -> bool:
    """True if the piece goes across the center of this view without a seam."""
    fold = worn.shape.piece.fold_edge
    if fold is None:
        return False
    points = worn.edge(fold)
    return all(abs(point.x) < 1.0 for point in points)


def _worn_items(of: Garment, worn: Worn, *, mirrored: bool) -> list[Item]:
    side = of.side(mirrored)
    items: list[Item] = [of.area(worn.polygon, worn.shape.piece, side)]
    items += _details(of, worn)
    return [moved_item(item, MIRROR) for item in items] if mirrored else items


def _whole_items(of: Garment, worn: Worn) -> list[Item]:
    half = worn.polygon
    other = Polygon([(-x, y) for x, y in half.exterior.coords])
    whole = tidied(union_of((half, other)))
    return [
        of.area(whole, worn.shape.piece, Side.CENTER),
        *both(_details(of, worn)),
    ]


def _details(of: Garment, worn: Worn) -> list[Item]:
    """Darts and hems of a piece."""
    lines: list[Item] = []
    for dart in worn.shape.darts:
        lines += [Trace(polyline(points), LineRole.SEWN, worn.name) for points in worn.line(dart)]
    for finish, name, edge in hems(of.pattern):
        if name == worn.name and edge in worn.shape.edges:
            inner = inset(list(worn.shape.edges[edge]), finish.depth_mm)
            lines += [
                Trace(polyline(points), LineRole.TOPSTITCHING, name) for points in worn.line(inner)
            ]
    return lines
