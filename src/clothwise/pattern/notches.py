"""Notches, derived: each match of a seam appears on every layer that reaches it."""

from __future__ import annotations

from clothwise.pattern.graph import Run, Seam
from clothwise.pattern.mark import Notch, NotchKind
from clothwise.pattern.pattern import Pattern

JUNCTION_TOLERANCE_MM = 1.0
"""A match this close to the corner of a run needs no notch of its own."""


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
            if match.notch is NotchKind.AT_SEAM and _is_junction(pattern, layer.run, at_mm):
                continue
            spot = pattern.spot(layer.run, at_mm)
            notch = Notch(
                match.notch, match.name, seam.name, spot.edge.edge, spot.point, -spot.inward
            )
            found.append((spot.edge.piece, notch))
    return found


def _is_junction(pattern: Pattern, run: Run, at_mm: float) -> bool:
    """True if two edges of the run meet there, or it starts or ends there."""
    before = 0.0
    for edge in run.edges:
        if abs(at_mm - before) < JUNCTION_TOLERANCE_MM:
            return True
        before += pattern.edge_length(edge)
    return abs(at_mm - before) < JUNCTION_TOLERANCE_MM
