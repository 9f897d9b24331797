"""Folds on a garment drawn flat: those that spring from gathers, and the edges of pleats."""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.geometry import Vector, polyline
from clothwise.pattern.mark import MarkKind
from clothwise.work.flat_garment import Garment
from clothwise.work.picture import Item, LineRole, Trace
from clothwise.work.torso import Worn
from clothwise.work.torso_standing import is_pleat

APART_MM = 15.0
"""Folds of gathers are drawn this far apart; our own choice."""

SHARES = (0.42, 0.16, 0.3, 0.1, 0.52, 0.2, 0.13, 0.36)
"""Lengths of neighboring folds over the height of the piece; our own choice."""

BEGIN_MM = 3.0
"""Folds begin this far from the seam."""

TALLEST_MM, BAND_MM = 280.0, 60.0
"""A piece counts as no taller for the length of folds; a lower one is a band. Our own choice."""


def folds(of: Garment, worn: Worn) -> list[Item]:
    """The folds of one piece."""
    if worn.fullness.is_pleated:
        return _pleats(of, worn)
    full = worn.fullness
    return [
        *_gathers(worn, full.edges_above, full.top, Vector(0.0, -1.0)),
        *_gathers(worn, full.edges_below, full.bottom, Vector(0.0, 1.0)),
    ]


def _gathers(worn: Worn, edges: Sequence[str], drawn: float, away: Vector) -> list[Item]:
    """Lines that fall from the upper edges of a piece, or rise from the lower ones.

    They go all the way across a narrow band.
    """
    _, low, _, high = worn.area.bounds
    height = high - low
    lines: list[Item] = []
    number = 0
    for edge in edges:
        line = polyline(worn.shape.edges.get(edge, ()))
        step = APART_MM / max(drawn, 0.2)
        for place in range(int(line.length / step)):
            start = line.point_at((place + 0.5) * step)
            long = SHARES[number % len(SHARES)] * min(height, TALLEST_MM)
            if height < BAND_MM:
                long = (0.55 + SHARES[number % len(SHARES)] / 2) * height
            number += 1
            begin, end = start + away * BEGIN_MM, start + away * max(long, 2 * BEGIN_MM)
            lines += [
                Trace(polyline(each), LineRole.DRAPE, worn.name) for each in worn.line((begin, end))
            ]
    return lines


def _pleats(of: Garment, worn: Worn) -> list[Item]:
    """The folded edges, from the seam that holds them to the hem."""
    return [
        Trace(polyline(points), LineRole.EDGE, worn.name)
        for mark in worn.shape.piece.marks
        if mark.kind is MarkKind.FOLD_LINE
        and mark.path is not None
        and is_pleat(of.pattern, worn.shape.piece, mark.path)
        for points in worn.line(worn.shape.moved_path(mark.path).flattened())
    ]
