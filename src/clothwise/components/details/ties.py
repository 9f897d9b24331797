"""Ties caught in the side seams of a bodice, to be knotted in the back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.bindings.strip import Strip
from clothwise.components.component import Component, Drafting
from clothwise.components.details.caught import catch_ends, side_line
from clothwise.components.family import Family
from clothwise.components.parameter import length
from clothwise.errors import ComponentError
from clothwise.geometry import straight
from clothwise.pattern.graph import run
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import pair

TIE_CLEAR_MM = 5.0
"""A tie ends this far before the allowance at the end of its seam, at least; our own choice."""


@dataclass(frozen=True)
class SideTies(Component):
    """Pair of ties from the side seams, to draw the waist in at the back."""

    kind: ClassVar[str] = "side-ties"
    family: ClassVar[Family] = Family.BELT

    length_mm: float = length(650, 200, 1200, "Finished length of each tie.")
    width_mm: float = length(25, 10, 60, "Finished width.")
    above_waist_mm: float = length(
        0, 0, 150, "From the allowance of the lower end of the side seam up to the tie."
    )
    allowance_mm: float = length(8, 5, 15, "Allowance of its long seam and its end.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Catch a tie in the side seam, which ends in the armhole."""
        name, pattern = drafting.name, drafting.pattern
        side = side_line(drafting)
        low = drafting.seam_allowance_mm + TIE_CLEAR_MM + self.above_waist_mm
        high = low + self.width_mm
        room = pattern.run_length(side) - drafting.seam_allowance_mm - TIE_CLEAR_MM
        if high > room:
            raise ComponentError(
                "the side seam is too short for the ties",
                where=name,
                how_much=f"{high:.0f} mm up, {room:.0f} mm of room",
                what_to_do="Lower above_waist or width.",
            )
        strip = Strip(name, "Side tie", self.width_mm, self.length_mm, self.allowance_mm)
        piece = strip.piece(drafting, pair(drafting.role))
        ends = tuple(run(f"-{name}.start-{half}") for half in ("lower", "upper"))
        whole = pattern.run_length(side)
        is_upward = pattern.spot(side, 0.0).point.y < pattern.spot(side, whole).point.y
        span = (low, high) if is_upward else (whole - high, whole - low)
        caught = catch_ends(drafting, side, span, ends, "held end of the tie")
        at = [pattern.spot(side, level) for level in span]
        line = Mark(MarkKind.PLACEMENT_LINE, "tie", path=straight(at[0].point, at[1].point))
        seam = strip.long_seam(drafting, "long seam and end of the ties", with_end=True)
        return Contribution(
            pieces=(piece,),
            seams=(seam,),
            finishes=caught.finishes,
            catches=caught.catches,
            marks={at[0].edge.piece: (line,)} if at[0].edge == at[1].edge else {},
            operations=(
                Operation(
                    name=f"{name}-make",
                    title="Make the side ties",
                    text="Fold each tie lengthwise, right sides together, and sew the long edge "
                    "and one end with {allowance} allowance. Cut the corners off, turn, and press.",
                    does=(seam.name,),
                    minutes=20,
                    cautions=(Caution.IRON, Caution.BLADE, Caution.CORD),
                    component=name,
                ),
                Operation(
                    name=f"{name}-baste",
                    title="Baste the ties to the side edges",
                    text="Lay the open end of each tie level with the side edge of the front, "
                    "right sides together, on its placement line: its lower edge {up} above the "
                    "seam line at the lower end of the side. Baste it within the allowance; the "
                    "side seam takes it in.",
                    does=caught.done_here,
                    prepares=caught.edges,
                    after=(seam.name,),
                    shows=(name,),
                    minutes=6,
                    values=(("up", low),),
                    component=name,
                ),
            ),
        )
