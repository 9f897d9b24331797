"""Eyelets through which a drawstring comes out of its casing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from clothwise.pattern.graph import Run
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece

EYELETS_APART_MM = 30.0
"""From one eyelet of a pair to the other; our own choice."""


def with_eyelets(pattern: Pattern, run: Run, inside_mm: float) -> Pattern:
    """The pattern with a pair of eyelets at the start of a run, or in its middle all round."""
    pieces = dict(pattern.pieces)
    starts = [EYELETS_APART_MM / 2]
    if run.closed:
        middle = pattern.run_length(run) / 2
        starts = [middle - EYELETS_APART_MM / 2, middle + EYELETS_APART_MM / 2]
    for at_mm in starts:
        spot = pattern.spot(run, at_mm)
        mark = Mark(MarkKind.DRILL_HOLE, "eyelet", at=spot.point + spot.inward * inside_mm)
        piece = pieces[spot.edge.piece]
        pieces[piece.name] = replace(piece, marks=(*piece.marks, mark))
    return replace(pattern, pieces=pieces)


def eyelets_of(strip: Piece, height_mm: float) -> tuple[Mark, ...]:
    """An eyelet near the fold, which makes two of it; a pair in the middle of another strip."""
    low = strip.edge("lower")
    up = low.start_tangent.left * (height_mm / 2)
    half = EYELETS_APART_MM / 2
    if strip.fold_edge is not None:
        places: Iterable[float] = (half if strip.fold_edge == "left" else low.length - half,)
    else:
        places = (low.length / 2 - half, low.length / 2 + half)
    return tuple(
        Mark(MarkKind.DRILL_HOLE, "eyelet", at=low.point_at(at_mm) + up) for at_mm in places
    )
