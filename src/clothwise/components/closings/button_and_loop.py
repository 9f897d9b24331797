"""A button and a loop of thread at the upper end of a short opening, such as a slit at the neck."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.closings.opening_edges import Above, above_opening, seen_part
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import length
from clothwise.errors import ComponentError
from clothwise.pattern.graph import Finish, FinishKind, Sides
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Caution, Notion, NotionUnit, Operation, Station
from clothwise.pattern.pattern import Contribution

BELOW_EDGE_MM = 6.0
"""The button sits this far below the upper edge; our own choice."""

IN_FROM_EDGE_MM = 4.0
"""The middle of the button lies this far inside the edge of the opening, so that the loop reaches
it; our own choice."""

LONGEST_MM = 260.0
"""A longer opening gapes between its ends with one button only; our own choice."""


@dataclass(frozen=True)
class ButtonAndLoop(Component):
    """Button and thread loop at the upper end of a short opening, whose edges are turned in."""

    kind: ClassVar[str] = "button-and-loop"
    family: ClassVar[Family] = Family.CLOSING

    diameter_mm: float = length(11, 8, 18, "Diameter of the button.")
    allowance_mm: float = length(15, 10, 25, "What is turned in along the opening.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Close the run named `opening`, which ends at the upper edge."""
        name, pattern = drafting.name, drafting.pattern
        opening = pattern.named_run("opening", name)
        seen = seen_part(opening)
        long = pattern.run_length(seen)
        if long > LONGEST_MM:
            raise ComponentError(
                "the opening is too long for one button",
                where=name,
                how_much=f"{long:.0f} mm, at most {LONGEST_MM:.0f} mm",
                what_to_do="Shorten the opening, for a bodice by back_opening, or take a zip.",
            )
        spot = pattern.spot(seen, long - BELOW_EDGE_MM)
        place = spot.point + spot.inward * IN_FROM_EDGE_MM
        mark = Mark(MarkKind.DOT, "button for the loop", at=place, only_side="right")
        return Contribution(
            finishes=(
                Finish(
                    name,
                    "edges of the opening",
                    opening,
                    FinishKind.CLOSURE,
                    depth_mm=self.allowance_mm,
                    sides=Sides.BOTH,
                    component=name,
                ),
            ),
            marks={spot.edge.piece: (mark,)},
            notions=(
                Notion(
                    "button",
                    1,
                    NotionUnit.PIECES,
                    f"{self.diameter_mm:.0f} mm across, for the loop",
                    name,
                ),
            ),
            operations=(
                Operation(
                    name=f"{name}-turn",
                    title="Turn in the edges of the opening",
                    text="Neaten both edges of the opening and press {turned} of them to the "
                    "wrong side, tapering to nothing below its end."
                    f"{_TURNING[above_opening(opening)]} Stitch them down, across the seam at "
                    "the end of the opening with a few stitches back and forth.",
                    does=(name,),
                    values=(("turned", self.allowance_mm),),
                    minutes=15,
                    cautions=(Caution.IRON,),
                    component=name,
                ),
                Operation(
                    name=f"{name}-sew",
                    title="Sew on the button and work the loop",
                    text="Sew the button to the wearer's right side at the dot. At the same height "
                    "on the edge of the left side lay a few strands of buttonhole thread to a loop "
                    "that just passes over the button, and work over them with close buttonhole "
                    "stitches. On clothes for small children sew the button on with care, and try "
                    "that it holds.",
                    after=(name,),
                    shows=(spot.edge.piece,),
                    station=Station.HAND,
                    minutes=15,
                    cautions=(Caution.NEEDLE,),
                    component=name,
                ),
            ),
        )


_TURNING = {
    Above.BAND: " Fold the band to the inside and turn its ends in level with them.",
    Above.FACING: " Turn the ends of the facing in level with them and sew them down by hand.",
    Above.NOTHING: "",
}
