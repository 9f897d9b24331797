"""Pieces cut on another grain: on the bias, or crosswise."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import ClassVar

from clothwise.components.edits.edit import Edit, Editing, names
from clothwise.components.edits.places import piece_named
from clothwise.components.parameter import angle, text
from clothwise.geometry import Transform
from clothwise.pattern.graph import EdgeRef, Seam
from clothwise.pattern.operation import Caution, Operation, Station
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Grainline, Piece
from clothwise.pattern.splitting import grain_within

TRUE_BIAS_RAD = math.pi / 4
"""At 45 degrees to both thread systems (I13: The New Dressmaker, 3rd ed., 1921, p. 19)."""

HANGS_WITHIN_RAD = math.radians(20)
"""Cloth so near the true bias stretches as it hangs; our own choice."""


@dataclass(frozen=True)
class TurnGrain(Edit):
    """Cuts pieces on another grain: on the bias, or crosswise.

    The shapes stay; a half piece whose grain no longer runs with its fold is opened out and cut
    whole. Pieces of a pair mirror each other, so that their grains do too. Where a lower edge comes
    to lie near the bias, it hangs for a day or two before it is hemmed.
    """

    kind: ClassVar[str] = "grain"
    comes_last: ClassVar[bool] = True

    pieces: str = text("", "The pieces, with commas between them.")
    by_rad: float = angle(
        TRUE_BIAS_RAD,
        -math.pi / 2,
        math.pi / 2,
        "How far the grain is turned, anticlockwise on the piece as it is printed.",
    )

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Turn the grainlines; let what hangs on the bias hang."""
        turned = [piece_named(pattern, name) for name in names(self.pieces)]
        if not self.by_rad:
            return pattern
        pieces = {**pattern.pieces, **{piece.name: self._turned(piece) for piece in turned}}
        changed = replace(pattern, pieces=pieces)
        return self._hung(changed, [piece.name for piece in turned], editing)

    def _turned(self, piece: Piece) -> Piece:
        grain = piece.grain
        turn = Transform.turn(self.by_rad, grain.start.toward(grain.end, 0.5))
        new = Grainline(turn.point(grain.start), turn.point(grain.end))
        return replace(piece, grain=grain_within(new, piece.outline))

    def _hung(self, pattern: Pattern, turned: list[str], editing: Editing) -> Pattern:
        run = pattern.runs.get("hem")
        edges = [edge for edge in run.edges if edge.piece in turned] if run else []
        edges = [edge for edge in edges if _is_near_bias(pattern.piece(edge.piece))]
        prepared = {each for operation in pattern.operations for each in operation.prepares}
        edges = [edge for edge in edges if f"{edge.piece}.{edge.edge}" not in prepared]
        if not edges:
            return pattern
        hang = Operation(
            name=f"{editing.name}-hang",
            title="Let the cloth on the bias hang",
            text="Hang the garment for a day or two, until the cloth on the bias has stretched. "
            "Level the lower edge from the floor and trim it.",
            after=_beside(pattern, edges),
            prepares=tuple(f"{edge.piece}.{edge.edge}" for edge in edges),
            shows=tuple(dict.fromkeys(edge.piece for edge in edges)),
            station=Station.HAND,
            minutes=15,
            wait="hang it for a day or two",
            cautions=(Caution.BLADE,),
            component=pattern.piece(edges[0].piece).component,
        )
        return replace(pattern, operations=(*pattern.operations, hang))


def _is_near_bias(piece: Piece) -> bool:
    """Whether the lower edge hangs near the bias: pieces are drawn upright."""
    along = (piece.grain.end - piece.grain.start).angle
    off = abs(math.remainder(along - TRUE_BIAS_RAD, math.pi / 2))
    return off <= HANGS_WITHIN_RAD


def _beside(pattern: Pattern, edges: list[EdgeRef]) -> tuple[str, ...]:
    """The seams that end at these edges; what they join hangs together."""
    found: dict[str, None] = {}
    for edge in edges:
        piece = pattern.piece(edge.piece)
        for name in (piece.edge_before(edge.edge), piece.edge_after(edge.edge)):
            for use in pattern.uses_of(piece.name, name):
                if isinstance(use, Seam):
                    found[use.name] = None
    return tuple(found)
