"""Seams that close darts."""

from __future__ import annotations

from clothwise.pattern.graph import EdgeCare, Layer, Pressing, Seam, SeamKind, run
from clothwise.pattern.piece import Dart, Piece


def dart_seam(name: str, title: str, piece: Piece, dart: Dart, component: str) -> Seam:
    """The seam of a dart: leg to leg, from the mouth to the apex."""
    return Seam(
        name=name,
        title=title,
        layers=(
            Layer(run(f"{piece.name}.{dart.leg_in}")),
            Layer(run(f"-{piece.name}.{dart.leg_out}")),
        ),
        allowance_mm=0.0,
        kind=SeamKind.DART,
        pressing=Pressing.TOWARD_FIRST,
        care=EdgeCare.NONE,
        component=component,
    )
