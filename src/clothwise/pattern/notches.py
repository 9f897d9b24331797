"""Notches, derived: each match of a seam appears on every layer that reaches it."""

from __future__ import annotations

from clothwise.pattern.graph import Seam
from clothwise.pattern.mark import Notch, NotchKind
from clothwise.pattern.pattern import Pattern


def notches(pattern: Pattern, piece: str) -> tuple[Notch, ...]:
    """All notches that fall on one piece, in order of the seams."""
    found = (pair for seam in pattern.seams.values() for pair in _seam_notches(pattern, seam))
    return tuple(notch for name, notch in found if name == piece)


def _seam_notches(pattern: Pattern, seam: Seam) -> list[tuple[str, Notch]]:
    found = []
    for match in seam.matches:
        if match.notch is NotchKind.NONE:
            continue
        for layer, at_mm in zip(seam.layers, match.at_mm, strict=True):
            if at_mm is None:
                continue
            spot = pattern.spot(layer.run, at_mm)
            travel = -spot.along if spot.edge.reverse else spot.along
            notch = Notch(
                match.notch, match.name, seam.name, spot.edge.edge, spot.point, -travel.left
            )
            found.append((spot.edge.piece, notch))
    return found
