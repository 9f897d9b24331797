"""Shorter lengths on the same print: lines above the hem along which its pieces may be cut.

Each line lies where the cutting line would lie if the garment were drafted that much shorter with
the same hem. The pattern itself stays that of the longest length.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import count, length
from clothwise.errors import ComponentError, GeometryError
from clothwise.geometry import Path, crossings, offset_path
from clothwise.pattern.graph import EdgeRef, Finish
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Caution, Operation, Station
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Piece

LEAST_LEFT_MM = 100.0
"""So much of every edge above the hem is left at the shortest length; our own choice."""

_REACH_MM = 600.0
"""How far lines are drawn on to find where they leave a piece; more than any hem flares."""


@dataclass(frozen=True)
class ShorterLengths(Component):
    """Lines to cut along for shorter lengths, on every piece at the hem drafted before it."""

    kind: ClassVar[str] = "shorter-lengths"
    family: ClassVar[Family] = Family.SEWING

    number: int = count(2, 1, 6, "How many shorter lengths are marked.")
    step_mm: float = length(50, 10, 200, "From each length to the next.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Mark the pieces of the run named `hem`."""
        pattern, name = drafting.pattern, drafting.name
        edges = pattern.named_run("hem", name).edges
        marks: dict[str, tuple[Mark, ...]] = {}
        for edge in edges:
            _refuse_others(pattern, edge, name)
            self._refuse_short(pattern.piece(edge.piece), edge, name)
            lines = tuple(
                Mark(
                    MarkKind.CUTTING_LINE,
                    f"length {place + 1}",
                    path=self._line(pattern, edge, place),
                )
                for place in range(1, self.number + 1)
            )
            marks[edge.piece] = (*marks.get(edge.piece, ()), *lines)
        return Contribution(marks=marks, operations=(self._operation(name, tuple(marks)),))

    def _refuse_short(self, piece: Piece, edge: EdgeRef, name: str) -> None:
        beside = [piece.edge(each).length for each in _beside(piece, edge.edge)]
        most = min(beside) - LEAST_LEFT_MM
        if self.number * self.step_mm > most:
            raise ComponentError(
                f"{piece.title} is too short for so many lengths",
                where=name,
                how_much=f"{self.number * self.step_mm:.0f} mm shorter at the last one, at most "
                f"{most:.0f} mm",
                what_to_do="Lower number or step.",
            )

    def _line(self, pattern: Pattern, edge: EdgeRef, place: int) -> Path:
        """Parallel to the hem, from side to side of the piece with its allowances."""
        piece = pattern.piece(edge.piece)
        hem = piece.edge(edge.edge)
        up = place * self.step_mm - pattern.allowance(edge.piece, edge.edge)
        try:
            line = offset_path(hem, up).extended(start_mm=_REACH_MM, end_mm=_REACH_MM)
        except GeometryError as error:
            raise ComponentError(
                f"the hem of {piece.title} is bent too much for a line parallel to it",
                where=edge.piece,
                how_much=str(error),
                what_to_do="Lower step or number.",
            ) from error
        before, after = _beside(piece, edge.edge)
        start = _left_at(line, piece.edge(before).extended(end_mm=_REACH_MM), at_start=True)
        end = _left_at(line, piece.edge(after).extended(start_mm=_REACH_MM), at_start=False)
        over = [
            0.0 if each == piece.fold_edge else pattern.allowance(piece.name, each)
            for each in (before, after)
        ]
        return line.part(start, end).extended(start_mm=over[0], end_mm=over[1])

    def _operation(self, name: str, pieces: tuple[str, ...]) -> Operation:
        lines = (
            "the line named “length 2”, which is {step} higher"
            if self.number == 1
            else f"one of the lines named “length 2” {'or' if self.number == 2 else 'to'} “length "
            f"{self.number + 1}”, each {{step}} higher than the one before"
        )
        return Operation(
            name=f"{name}-choose",
            title="Choose the length",
            text="The pieces of the lower edge are printed in the longest length. For a shorter "
            f"one cut all of them, with what is fused to them, along {lines}. The hem is turned up "
            "as far from the cut edge as at the full length; what begins at the lower edge, such "
            "as a vent, becomes shorter by as much.",
            prepares=pieces,
            shows=pieces,
            station=Station.CUTTING_TABLE,
            minutes=5,
            cautions=(Caution.BLADE,),
            values=(("step", self.step_mm),),
            component=name,
        )


def _refuse_others(pattern: Pattern, edge: EdgeRef, name: str) -> None:
    """Refuse a lower edge that is not hemmed yet, or is sewn to something of its own shape.

    Raises:
        ComponentError: as above.
    """
    uses = pattern.uses_of(edge.piece, edge.edge)
    if uses and all(isinstance(use, Finish) for use in uses):
        return
    found = ", ".join(use.title for use in uses) or "no hem yet"
    raise ComponentError(
        "shorter lengths need a hem that is turned or bound",
        where=name,
        how_much=f"{edge.piece}.{edge.edge}: {found}",
        what_to_do="List it after a double-hem, single-hem, rolled-hem or bound-hem.",
    )


def _beside(piece: Piece, edge: str) -> tuple[str, str]:
    """The edges that meet the start and the end of an edge."""
    return piece.edge_before(edge), piece.edge_after(edge)


def _left_at(line: Path, side: Path, *, at_start: bool) -> float:
    """Where a line that was drawn on meets the side of its piece, mm along it."""
    found = [crossing.first_mm for crossing in crossings(line, side)]
    middle = line.length / 2
    near = [at for at in found if (at < middle) is at_start]
    if not near:
        return _REACH_MM if at_start else line.length - _REACH_MM
    return max(near) if at_start else min(near)
