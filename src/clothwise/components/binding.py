"""Armholes bound with bias tape."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.parameter import length
from clothwise.pattern.graph import Finish, FinishKind
from clothwise.pattern.operation import Caution, Notion, NotionUnit, Operation
from clothwise.pattern.pattern import Contribution

DOUBLE_FOLD_WIDTHS = 4
"""Double-fold tape is cut four times its finished width (I08)."""


@dataclass(frozen=True)
class BoundArmhole(Component):
    """Sleeveless armhole, its edge bound with double-fold bias tape."""

    kind: ClassVar[str] = "bound-armhole"

    width_mm: float = length(10, 6, 25, "Finished width of the binding.")
    join_mm: float = length(50, 20, 120, "Tape beyond each armhole for the join.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Bind the run named `armhole`; the edge keeps no allowance (I12)."""
        name = drafting.name
        armhole = drafting.pattern.named_run("armhole", name)
        around = drafting.pattern.run_length(armhole)
        tape = 2 * (around + self.join_mm)
        return Contribution(
            finishes=(Finish(name, "armhole binding", armhole, FinishKind.BOUND, component=name),),
            notions=(
                Notion(
                    "bias tape, double fold",
                    tape,
                    NotionUnit.LENGTH_MM,
                    f"{self.width_mm:.0f} mm finished ({DOUBLE_FOLD_WIDTHS * self.width_mm:.0f} mm "
                    "unfolded), to bind both armholes",
                    name,
                ),
            ),
            operations=(
                Operation(
                    name=f"{name}-bind",
                    title="Bind the armholes",
                    text="Cut two pieces of bias tape, each {tape} long. Starting at the side "
                    "seam, sew the opened tape to the armhole edge, right sides together, along "
                    "its first fold, without stretching the edge; join the ends in a slanted "
                    "seam. Turn the tape over the edge and stitch from the right side beside "
                    "the seam, catching the fold behind.",
                    does=(name,),
                    minutes=30,
                    cautions=(Caution.IRON,),
                    values=(("tape", around + self.join_mm),),
                    component=name,
                ),
            ),
        )
