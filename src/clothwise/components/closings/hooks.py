"""Hooks and eyes in an opening whose edges meet."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.closings.opening_edges import Above, above_opening, seen_part
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import length
from clothwise.errors import ComponentError
from clothwise.pattern.graph import Finish, FinishKind, Run, Sides
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Caution, Notion, NotionUnit, Operation, Station
from clothwise.pattern.pattern import Contribution, Pattern

FROM_END_MM = 8.0
"""The first and the last hook lie this far inside the ends of the opening; our own choice."""

FROM_EDGE_MM = 3.0
"""Hooks are sewn this far inside the edge (common practice, no source)."""

MINUTES_A_HOOK = 4.0
"""To sew on a hook and its eye by hand; our own choice."""


@dataclass(frozen=True)
class HooksAndEyes(Component):
    """Hooks and eyes along the opening, in place of a zip; its edges are turned in and meet."""

    kind: ClassVar[str] = "hooks-and-eyes"
    family: ClassVar[Family] = Family.CLOSING

    spacing_mm: float = length(20, 10, 50, "At most this far from one hook to the next.")
    allowance_mm: float = length(20, 15, 40, "What is turned in along the opening.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Close the run named `opening`."""
        name, pattern = drafting.name, drafting.pattern
        opening = pattern.named_run("opening", name)
        seen = seen_part(opening)
        places = self._places(pattern.run_length(seen), name)
        finish = Finish(
            name,
            "edges of the opening",
            opening,
            FinishKind.CLOSURE,
            depth_mm=self.allowance_mm,
            sides=Sides.BOTH,
            component=name,
        )
        return Contribution(
            finishes=(finish,),
            marks=_marks(pattern, seen, places),
            notions=(
                Notion("hook and eye", len(places), NotionUnit.PIECES, "along the opening", name),
            ),
            operations=(
                Operation(
                    name=f"{name}-turn",
                    title="Turn in the edges of the opening",
                    text="Neaten both edges of the opening, press {seam} to the wrong side, and "
                    f"stitch it down along the neatened edge.{_TURNING[above_opening(opening)]}",
                    does=(name,),
                    values=(("seam", self.allowance_mm),),
                    minutes=20,
                    cautions=(Caution.IRON,),
                    component=name,
                ),
                Operation(
                    name=f"{name}-sew",
                    title="Sew on hooks and eyes",
                    text=f"Sew {len(places)} hooks to the inside of the wearer's left edge at the "
                    "dots, their bends {inside} within it, and the eyes to the right edge, so far "
                    "out that the edges meet when they are hooked. Sew through the turned-in "
                    "cloth only, so that nothing shows outside, and hold each hook down at its "
                    "bend as well. See that none of them can scratch.",
                    after=(name,),
                    shows=tuple(dict.fromkeys(edge.piece for edge in seen.edges)),
                    station=Station.HAND,
                    values=(("inside", FROM_EDGE_MM),),
                    minutes=MINUTES_A_HOOK * len(places),
                    cautions=(Caution.NEEDLE,),
                    component=name,
                ),
            ),
        )

    def _places(self, whole: float, name: str) -> tuple[float, ...]:
        """Lengths along the opening, from below, evenly spaced."""
        between = whole - 2 * FROM_END_MM
        if between < self.spacing_mm:
            raise ComponentError(
                "the opening is too short for two hooks",
                where=name,
                how_much=f"{whole:.0f} mm, spacing {self.spacing_mm:.0f} mm",
                what_to_do="Lower spacing, or lengthen the opening.",
            )
        gaps = math.ceil(between / self.spacing_mm - 1e-9)
        return tuple(FROM_END_MM + between * number / gaps for number in range(gaps + 1))


def _marks(
    pattern: Pattern, opening: Run, places: tuple[float, ...]
) -> dict[str, tuple[Mark, ...]]:
    """A dot for each hook, inside the edge."""
    marks: dict[str, tuple[Mark, ...]] = {}
    for place in places:
        spot = pattern.spot(opening, place)
        mark = Mark(MarkKind.DOT, "hook and eye", at=spot.point + spot.inward * FROM_EDGE_MM)
        marks[spot.edge.piece] = (*marks.get(spot.edge.piece, ()), mark)
    return marks


_TURNING = {
    Above.BAND: " Fold the band lengthwise to the inside, turn its ends in level with the edges "
    "of the opening, and stitch the inner edge down along the waist seam.",
    Above.FACING: " Turn the facing to the inside, turn its ends in level with the edges of the "
    "opening, and sew them down by hand.",
    Above.NOTHING: "",
}
