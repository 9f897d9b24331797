"""Pieces across the center that are drawn with both their halves: the left one and the right."""

from __future__ import annotations

from clothwise.geometry import Point
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.piece import Piece, Ply, Side

INSIDE_MM = 1.0
"""A center line lies inside a piece if this much of it is on both sides."""


def is_two_sided(piece: Piece) -> bool:
    """True for a piece that is cut once, not on the fold, its center line marked inside it."""
    return middle_x(piece) is not None


def middle_x(piece: Piece) -> float | None:
    """Where the center line of a two-sided piece lies, as x; None for any other piece."""
    outer = [copy for copy in piece.copies if copy.ply is Ply.SHELL]
    if piece.fold_edge is not None or not outer:
        return None
    if any(copy.side is not Side.CENTER for copy in outer):
        return None
    left, _, right, _ = piece.outline.polygon.bounds
    for mark in piece.marks:
        if mark.kind is MarkKind.CENTER_LINE and mark.path is not None:
            x = mark.path.start.x
            return x if left + INSIDE_MM < x < right - INSIDE_MM else None
    return None


def is_on_far_half(piece: Piece, point: Point) -> bool:
    """True on the half of a two-sided piece that is not the one it is drawn for.

    Pieces are drawn with the center at lesser and the side at greater x.
    """
    middle = middle_x(piece)
    return middle is not None and point.x < middle
