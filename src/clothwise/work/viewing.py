"""The side from which each torso piece is seen, as far as the seam graph tells.

Torso pieces are drafted upright, center at one side. Where two of them are sewn edge to edge with
their insides on opposite sides of the seam, they are seen from the same side (a waist); where both
lie on the same side of it, one is seen from the front and the other from the back (a side seam).
A piece may reach from center front to center back; it is seen from both sides.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from enum import Enum

from clothwise.pattern.graph import Sides
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece, Side
from clothwise.work.meeting import opposed


class View(Enum):
    """The side from which a garment is seen."""

    FRONT = "front"
    BACK = "back"

    @property
    def other(self) -> View:
        """The opposite side."""
        return View.BACK if self is View.FRONT else View.FRONT


def views(pattern: Pattern, torso: Sequence[str]) -> dict[str, View]:
    """The side from which each torso piece is seen; of those seen from both, where they begin."""
    around = wraps_around(pattern, torso)
    neighbors = _neighbors(pattern, torso)
    found: dict[str, View] = {}
    for name in sorted(torso, key=lambda name: _order(pattern.piece(name), name in around)):
        if name in found:
            continue
        found[name] = _own_view(pattern.piece(name))
        queue = [name]
        while queue:
            here = queue.pop(0)
            for other, same in neighbors.get(here, ()):
                if other not in found and not around & {here, other}:
                    found[other] = found[here] if same else found[here].other
                    queue.append(other)
    return found


def wraps_around(pattern: Pattern, torso: Collection[str]) -> set[str]:
    """Torso pieces that reach from center front to center back: seen from both sides.

    One on the fold with a seam at its other center does; so does a band along pieces that are
    front and back to each other, and whatever is sewn to nothing but what reaches around.
    """
    neighbors = _neighbors(pattern, torso)
    beside = {name: {other for other, same in neighbors.get(name, ()) if same} for name in torso}
    across = {(one, other) for one in torso for other, same in neighbors.get(one, ()) if not same}
    one_sided = {one for one, _ in across}
    found = {name for name in torso if _has_both_centers(pattern, name)}
    found |= {
        name
        for name, others in beside.items()
        if any((one, other) in across for one in others for other in others)
    }
    found -= one_sided
    while more := {
        name for name in set(torso) - found - one_sided if beside[name] and beside[name] <= found
    }:
        found |= more
    return found


def _has_both_centers(pattern: Pattern, name: str) -> bool:
    """True for a piece on the fold with a seam to its own other side at another edge."""
    if pattern.piece(name).fold_edge is None:
        return False
    return any(
        seam.sides is Sides.CENTER and all(layer.run.pieces == (name,) for layer in seam.layers)
        for seam in pattern.seams.values()
    )


def _neighbors(pattern: Pattern, torso: Collection[str]) -> dict[str, list[tuple[str, bool]]]:
    """For each piece those that it meets, and whether both are seen from the same side."""
    found: dict[str, list[tuple[str, bool]]] = {}
    for seam in pattern.seams.values():
        for (one, other), same in opposed(pattern, seam).items():
            if one in torso and other in torso and one != other:
                found.setdefault(one, []).append((other, same))
                found.setdefault(other, []).append((one, same))
    return found


def _order(piece: Piece, is_around: bool) -> int:
    return 0 if _named_view(piece) is not None else 2 if is_around else 1


def _own_view(piece: Piece) -> View:
    """What is said on the piece; else fronts are drawn for the left and backs for the right."""
    named = _named_view(piece)
    if named is not None:
        return named
    return View.BACK if piece.drawn_side is Side.RIGHT else View.FRONT


def _named_view(piece: Piece) -> View | None:
    """What a center line on the piece says: a point, a mark or the fold named for it."""
    names = [*piece.points, *(mark.name for mark in piece.marks), piece.fold_edge or ""]
    for name in names:
        words = name.replace("-", " ")
        if words.startswith("center front"):
            return View.FRONT
        if words.startswith("center back"):
            return View.BACK
    return None
