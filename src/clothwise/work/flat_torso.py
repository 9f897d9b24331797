"""The torso in a flat drawing: the side that lies below, the side above, and what goes across."""

from __future__ import annotations

from clothwise.geometry import Point, polyline
from clothwise.pattern.piece import Side
from clothwise.work.flat_folds import folds
from clothwise.work.flat_garment import Garment, Half
from clothwise.work.flat_lapel import lapels, without_lapel
from clothwise.work.flat_lines import CENTER_MM, joined_halves
from clothwise.work.flat_stitching import stitching
from clothwise.work.picture import Item, LineRole, Trace
from clothwise.work.torso import Worn
from clothwise.work.two_sided import is_two_sided


def torso_items(of: Garment) -> list[Item]:
    """Pieces of the side that lies below, then those of the side above, then whole ones."""
    items: list[Item] = []
    for half in of.from_below:
        for worn in half.torso:
            if not is_whole(worn):
                items += half.put([_cloth(of, half, worn), *_details(of, half, worn)])
        for worn in half.torso:
            items += half.put(lapels(of, half, worn))
    one, other = of.halves
    for worn, opposite in zip(one.torso, other.torso, strict=False):
        if is_whole(worn):
            whole = joined_halves(worn.polygon, opposite.polygon)
            items.append(of.area(whole, worn.shape.piece, Side.CENTER))
            for half, its in ((one, worn), (other, opposite)):
                items += half.put(_details(of, half, its))
    return items


def is_whole(worn: Worn) -> bool:
    """True if the piece goes across the center of this view without a seam."""
    if is_two_sided(worn.shape.piece):
        return True
    fold = worn.shape.piece.fold_edge
    if fold is None:
        return False
    line = [point for points in worn.line(worn.shape.edges[fold]) for point in points]
    return bool(line) and all(abs(point.x) < CENTER_MM for point in line)


def _cloth(of: Garment, half: Half, worn: Worn) -> Item:
    return of.area(without_lapel(worn), worn.shape.piece, half.side)


def _details(of: Garment, half: Half, worn: Worn) -> list[Item]:
    """Darts, folds and stitching on a piece."""
    darts: list[Item] = [
        _trace(points, LineRole.SEWN, worn)
        for dart in worn.shape.darts
        for points in worn.line(dart)
    ]
    return [*darts, *folds(of, worn), *stitching(of, half, worn)]


def _trace(points: list[Point], role: LineRole, worn: Worn) -> Trace:
    return Trace(polyline(points), role, worn.name)
