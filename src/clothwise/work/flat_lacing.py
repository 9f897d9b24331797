"""Laced edges in a flat drawing: eyelets, the cord between them, and the panel behind."""

from __future__ import annotations

from itertools import pairwise

from shapely.geometry import Polygon

from clothwise.geometry import Point, polyline
from clothwise.pattern.graph import Finish, FinishKind
from clothwise.pattern.mark import MarkKind
from clothwise.work.flat_garment import Garment, Half
from clothwise.work.flat_lines import MIRROR
from clothwise.work.picture import Button, Item, LineRole, Trace
from clothwise.work.shape import tidied
from clothwise.work.wearing import Part


def behind_laces(of: Garment) -> list[Item]:
    """The panel that is seen between edges that are laced apart."""
    items: list[Item] = []
    for finish in _laced(of):
        panel = next((name for name in of.named(Part.LOOSE) if _made_by(of, name, finish)), None)
        edge = finish.run.edges[0]
        half = of.halves[0]
        worn = half.worn(edge.piece)
        if panel is None or worn is None or not finish.gap_mm:
            continue
        line = worn.edge(edge.edge)
        ring = [*line, *(MIRROR.point(point) for point in reversed(line))]
        area = tidied(Polygon([(p.x, p.y) for p in ring]))
        items.append(of.area(area, of.pattern.piece(panel), half.side))
    return items


def laces(of: Garment) -> list[Item]:
    """Eyelets on both edges, and the cord from pair to pair, from below."""
    items: list[Item] = []
    for finish in _laced(of):
        edge = finish.run.edges[0]
        one, other = (_eyelets(half, edge.piece) for half in of.halves)
        if not one or len(one) != len(other):
            continue
        rows = [(at, MIRROR.point(beside)) for (at, _), (beside, _) in zip(one, other, strict=True)]
        cords = [rows[0]]
        for (low, beside_low), (high, beside_high) in pairwise(rows):
            cords += [(low, beside_high), (beside_low, high)]
        items += [Trace(polyline(ends), LineRole.EDGE, edge.piece) for ends in cords]
        for (_, size), (at, beside) in zip(one, rows, strict=True):
            items += [Button(at, size), Button(beside, size)]
    return items


def _laced(of: Garment) -> list[Finish]:
    """Closures with eyelets, seen in this view."""
    found = []
    for finish in of.pattern.finishes.values():
        worn = of.halves[0].worn(finish.run.edges[0].piece)
        if finish.kind is FinishKind.CLOSURE and worn is not None:
            marks = worn.shape.piece.marks
            if any(mark.kind is MarkKind.EYELET for mark in marks):
                found.append(finish)
    return found


def _made_by(of: Garment, name: str, finish: Finish) -> bool:
    return of.pattern.piece(name).component == finish.component


def _eyelets(half: Half, piece: str) -> list[tuple[Point, float]]:
    """Places and sizes from below, as if the half were at the right of the drawing."""
    worn = half.worn(piece)
    if worn is None:
        return []
    found = [
        (worn.through(mark.at), mark.size_mm)
        for mark in worn.shape.piece.marks
        if mark.kind is MarkKind.EYELET and mark.at
    ]
    return sorted(found, key=lambda each: each[0].y)
