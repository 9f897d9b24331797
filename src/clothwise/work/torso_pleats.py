"""Pleats folded: what of a panel lies inside them, and where the rest comes to lie."""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.pattern.mark import MarkKind
from clothwise.pattern.piece import Piece


def hidden_stretches(piece: Piece) -> tuple[tuple[float, float], ...]:
    """The stretches, as x on the piece, that lie inside its pleats.

    Each is between a line to fold along and the line that the fold is laid on. Where two folds
    are laid on one line from both sides, it is the end of both stretches.
    """
    lines = sorted(
        (mark.path.end.x, mark.kind is MarkKind.FOLD_LINE)
        for mark in piece.marks
        if mark.path is not None
        and mark.kind in (MarkKind.FOLD_LINE, MarkKind.PLACEMENT_LINE)
        and abs(mark.path.end.y - mark.path.start.y) > abs(mark.path.end.x - mark.path.start.x)
    )
    found: list[tuple[float, float]] = []
    number = 0
    while number < len(lines) - 1:
        (one, is_fold), (other, other_is_fold) = lines[number], lines[number + 1]
        if is_fold is other_is_fold:
            number += 1
            continue
        found.append((one, other))
        follows = number + 2 < len(lines) and lines[number + 2][1]
        alone = number + 3 >= len(lines) or lines[number + 3][1]
        if is_fold and follows and alone:  # the other fold of an inverted pleat
            found.append((other, lines[number + 2][0]))
            number += 1
        number += 2
    return tuple(found)


def folded_x(x: float, hidden: Sequence[tuple[float, float]]) -> float:
    """Where a place is when the stretches are folded away: those before it take it back."""
    return x - sum(min(max(x - start, 0.0), end - start) for start, end in hidden)


def unfolded_x(folded: float, hidden: Sequence[tuple[float, float]]) -> float:
    """A place that comes to lie there when the stretches are folded away; the first of them."""
    x = folded
    for start, end in sorted(hidden):
        if x > start + 1e-9:
            x += end - start
    return x


def evenly_sewn(at: float, length: float, hidden: Sequence[tuple[float, float]]) -> float:
    """The place of a pleated edge that is sewn where an even one would have the place `at`."""
    return unfolded_x(at / length * folded_x(length, hidden), hidden)
