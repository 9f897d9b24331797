"""Lines of stitching that hold a finished seam or edge flat and are seen from outside."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.finishes.seam_choice import SeamGroup, chosen_seams
from clothwise.components.parameter import choice, count, length
from clothwise.errors import ComponentError
from clothwise.pattern.graph import EdgeCare, Pressing, Seam, Sides
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution, Pattern

CAUGHT_MM = 2.0
"""A line of stitching catches at least this much of the allowance underneath; own choice."""

MINUTES_PER_METER = 4.0
"""Time for a line of stitching that is seen; own choice."""


class StitchedPlace(Enum):
    """What is topstitched: turned edges, or a group of seams."""

    EDGES = "edges"
    ALL = "all"
    SIDE = "side"
    SHOULDER = "shoulder"
    SLEEVE = "sleeve"
    ARMHOLE = "armhole"
    WAIST = "waist"
    CENTER = "center"
    OTHER = "other"


@dataclass(frozen=True)
class Topstitching(Component):
    """Stitching seen from outside beside seams or turned edges that are drafted before it."""

    kind: ClassVar[str] = "topstitching"
    family: ClassVar[Family] = Family.SEWING

    place: StitchedPlace = choice(
        StitchedPlace.EDGES, "Turned edges (front, collar, belt), or which seams."
    )
    distance_mm: float = length(6, 1.5, 20, "From the seam or the edge; 2 mm is edge stitching.")
    rows: int = count(1, 1, 3, "Rows of stitching.")
    apart_mm: float = length(6, 3, 12, "Between the rows.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Add the stitching to the steps that sew the seams."""
        pattern, name = drafting.pattern, drafting.name
        seams = self._seams(pattern, name)
        if not seams:
            raise ComponentError(
                f"there is nothing to topstitch at: {self.place.value}",
                where=name,
                how_much=f"seams whose allowances hold a line {self._reach_mm:.0f} mm away: none",
                what_to_do="List it after what it stitches, or lower distance, rows or apart.",
            )
        found = {seam.name: seam for seam in seams}
        return Contribution(
            reworded=tuple(
                self._reworded(pattern, operation, [found[e] for e in operation.does if e in found])
                for operation in pattern.operations
                if any(each in found for each in operation.does)
            )
        )

    @property
    def _reach_mm(self) -> float:
        """The row that lies furthest from the seam."""
        return self.distance_mm + (self.rows - 1) * self.apart_mm

    def _seams(self, pattern: Pattern, name: str) -> list[Seam]:
        if self.place is StitchedPlace.EDGES:
            return [each for each in pattern.seams.values() if each.pressing is Pressing.TURNED]
        seams = chosen_seams(pattern, SeamGroup(self.place.value), name)
        return [
            seam
            for seam in seams
            if self._reach_mm + CAUGHT_MM <= seam.allowance_mm
            and seam.care not in (EdgeCare.FRENCH, EdgeCare.FELLED)
        ]

    def _reworded(self, pattern: Pattern, operation: Operation, seams: list[Seam]) -> Operation:
        along = sum(
            pattern.run_length(seam.layers[0].run) * (2 if seam.sides is Sides.BOTH else 1)
            for seam in seams
        )
        is_open = seams[0].pressing is Pressing.OPEN
        stitched = along * self.rows * (2 if is_open else 1)
        values = [("topstitched", self.distance_mm)]
        text = f"{operation.text} From the right side, topstitch {{topstitched}} from "
        if self.place is StitchedPlace.EDGES:
            text += "the edge"
        elif is_open:
            text += "the seam, on both sides of it, catching the allowances underneath"
        else:
            text += (
                "the seam, on the side to which it is pressed, catching the allowances underneath"
            )
        if self.rows > 1:
            values.append(("apart", self.apart_mm))
            text += f", and {_MORE[self.rows]} {{apart}} further in"
        return replace(
            operation,
            text=f"{text}.",
            values=(*operation.values, *values),
            stitched_mm=operation.stitched_mm + stitched,
            minutes=operation.minutes + round(MINUTES_PER_METER * stitched / 1000.0 + 1.0),
            cautions=tuple(dict.fromkeys((*operation.cautions, Caution.NEEDLE, Caution.IRON))),
        )


_MORE = {2: "once more", 3: "twice more, each"}
