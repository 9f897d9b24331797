"""The loop by which a garment hangs: caught at center back in the neck seam, or in its binding."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.bindings.strip import Strip
from clothwise.components.collars.collar_lines import parts_at_back
from clothwise.components.component import Component, Drafting
from clothwise.components.details.caught import catch_ends
from clothwise.components.family import Family
from clothwise.components.parameter import length
from clothwise.errors import ComponentError
from clothwise.pattern.graph import run
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import single

LOOP_SLACK_MM = 8.0
"""A loop is at least this much longer than its ends lie apart, or nothing goes through it; ours."""


@dataclass(frozen=True)
class HangingLoop(Component):
    """Loop inside the back neck, to hang the garment by."""

    kind: ClassVar[str] = "hanging-loop"
    family: ClassVar[Family] = Family.TRIMMING

    length_mm: float = length(65, 40, 120, "Length of the loop from seam to seam.")
    spread_mm: float = length(40, 20, 100, "How far apart its ends lie, middle to middle.")
    width_mm: float = length(7, 5, 12, "Finished width.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Catch both ends in whatever is sewn along the run named `neck`."""
        name, pattern = drafting.name, drafting.pattern
        neck = pattern.named_run("neck", name)
        if self.length_mm < self.spread_mm + LOOP_SLACK_MM:
            raise ComponentError(
                "the hanging loop would lie flat along the neck",
                where=name,
                how_much=f"{self.length_mm:.0f} mm long, its ends {self.spread_mm:.0f} mm apart",
                what_to_do=f"Make it {self.spread_mm + LOOP_SLACK_MM:.0f} mm or longer, or lower "
                "spread.",
            )
        if parts_at_back(pattern, neck):
            raise ComponentError(
                "the hanging loop lies over center back, where the neckline opens",
                where=name,
                how_much=f"{neck.edges[-1].piece} has no fold at center back",
                what_to_do="Leave it out, or let the garment open in front.",
            )
        center = pattern.run_length(neck)
        middle = center - self.spread_mm / 2
        half = self.width_mm / 2
        strip = Strip(name, "Hanging loop", self.width_mm, self.length_mm / 2, 0.9 * self.width_mm)
        piece = strip.piece(drafting, single(drafting.role), on_fold=True)
        ends = tuple(run(f"{name}.end-{side}") for side in ("lower", "upper"))
        caught = catch_ends(
            drafting, neck, (middle - half, middle + half), ends, "end of the hanging loop"
        )
        seam = strip.long_seam(drafting, "long seam of the hanging loop")
        return Contribution(
            pieces=(piece,),
            seams=(seam,),
            finishes=caught.finishes,
            catches=caught.catches,
            operations=(
                Operation(
                    name=f"{name}-make",
                    title="Make the hanging loop",
                    text="Press both long edges of the strip, {allowance} each, to the wrong side "
                    "so that they meet in the middle, fold it lengthwise, and stitch close to the "
                    "edge.",
                    does=(seam.name,),
                    minutes=5,
                    cautions=(Caution.IRON,),
                    component=name,
                ),
                Operation(
                    name=f"{name}-baste",
                    title="Baste on the hanging loop",
                    text="Bend the strip to a loop and lay its ends to both sides of center back, "
                    "{spread} apart from middle to middle, level with the neck edge, so that the "
                    "loop will hang down inside: on the right side of the facing that is sewn on "
                    "there, or, where the neck is bound, on the wrong side of the back. Baste "
                    "within the allowance.",
                    does=caught.done_here,
                    prepares=caught.edges,
                    after=(seam.name,),
                    shows=(name,),
                    minutes=4,
                    values=(("spread", self.spread_mm),),
                    component=name,
                ),
            ),
        )
