"""Interfacing cut to a size of its own, and for pieces that have none so far."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.finishes.fusing import fuse
from clothwise.components.parameter import choice, length
from clothwise.errors import ComponentError
from clothwise.pattern.first_letter import lowered
from clothwise.pattern.operation import Operation
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Copy, CutTo, Piece, Ply

MINUTES_A_PIECE = 4.0
"""Time to fuse a piece; own choice."""


class InterfacedPart(Enum):
    """Pieces, by a word of their titles."""

    ALL = "all interfaced"
    FACING = "facing"
    COLLAR = "collar"
    BAND = "band"
    CUFF = "cuff"
    FRONT = "front"
    BACK = "back"
    POCKET = "pocket"
    BELT = "belt"


class InterfacingCut(Enum):
    """What the interfacing is cut to."""

    STITCHING_LINE = "stitching line"
    CUTTING_LINE = "cutting line"


@dataclass(frozen=True)
class Interfacing(Component):
    """Interfacing of pieces drafted before it: where it ends, and pieces that get it newly."""

    kind: ClassVar[str] = "interfacing"
    family: ClassVar[Family] = Family.SEWING

    part: InterfacedPart = choice(
        InterfacedPart.ALL,
        "Which pieces, by a word of their titles; those without interfacing get it, except with "
        "all interfaced.",
    )
    cut: InterfacingCut = choice(
        InterfacingCut.STITCHING_LINE, "The line it follows; the cutting line has the allowances."
    )
    beyond_mm: float = length(
        0, -6, 13, "How far beyond the stitching line it is cut; less than none: inside of it."
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Cut the interfacing of the chosen pieces anew; fuse those that had none."""
        name, pattern = drafting.name, drafting.pattern
        pieces = self._pieces(pattern)
        if not pieces:
            raise ComponentError(
                f"there is no piece to interface: {self.part.value}",
                where=name,
                how_much="pieces so far: "
                + (", ".join(piece.title for piece in pattern.pieces.values()) or "none"),
                what_to_do="List it after the components whose pieces it interfaces, or choose "
                "another part.",
            )
        new = tuple(piece for piece in pieces if not _interfacings(piece))
        operations: tuple[Operation, ...] = ()
        if new:
            titles = ", ".join(lowered(piece.title) for piece in new)
            operations = (
                fuse(
                    name,
                    "Fuse the pieces that are interfaced whole",
                    f"Iron the interfacing onto the wrong side of: {titles}. Press, do not slide "
                    "the iron; let each piece cool lying flat.",
                    tuple(piece.name for piece in new),
                    MINUTES_A_PIECE * len(new),
                ),
            )
        return Contribution(
            reshaped=tuple(self._cut_anew(drafting, piece) for piece in pieces),
            operations=operations,
        )

    def _pieces(self, pattern: Pattern) -> list[Piece]:
        if self.part is InterfacedPart.ALL:
            return [piece for piece in pattern.pieces.values() if _interfacings(piece)]
        word = self.part.value
        found = [piece for piece in pattern.pieces.values() if word in piece.title.lower()]
        if self.part in (InterfacedPart.FRONT, InterfacedPart.BACK):
            found = [piece for piece in found if "facing" not in piece.title.lower()]
        return found

    def _cut_anew(self, drafting: Drafting, piece: Piece) -> Piece:
        whole = self.cut is InterfacingCut.CUTTING_LINE
        to = CutTo.CUTTING_LINE if whole else CutTo.STITCHING_LINE
        beyond = 0.0 if whole else self.beyond_mm
        shell = tuple(copy for copy in piece.copies if copy.ply is not Ply.INTERFACING)
        layers = _interfacings(piece) or tuple(
            _layer_for(copy, drafting.interfacing_role) for copy in shell if copy.ply is Ply.SHELL
        )
        layers = tuple(replace(copy, to=to, beyond_mm=beyond) for copy in layers)
        return replace(piece, copies=(*shell, *layers))


def _interfacings(piece: Piece) -> tuple[Copy, ...]:
    return tuple(copy for copy in piece.copies if copy.ply is Ply.INTERFACING)


def _layer_for(copy: Copy, role: str) -> Copy:
    """The interfacing of a copy: of the same side, turned the same way."""
    before = Ply.INTERFACING.value
    name = before if copy.name == "whole" else f"{before} {copy.name}"
    return replace(copy, name=name, role=role, ply=Ply.INTERFACING)
