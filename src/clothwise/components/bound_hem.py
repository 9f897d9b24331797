"""Hems bound with bias tape: nothing is turned up, so they suit any flare."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.bias_strip import bias_tape
from clothwise.components.component import Component, Drafting
from clothwise.components.hem_depth import shell_part
from clothwise.components.parameter import length
from clothwise.pattern.graph import Finish, FinishKind, Run
from clothwise.pattern.junctions import end_corner, start_corner
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution, Pattern


@dataclass(frozen=True)
class BoundHem(Component):
    """Lower edge bound with double-fold bias tape, facings of an opened front with it."""

    kind: ClassVar[str] = "bound-hem"

    width_mm: float = length(10, 6, 25, "Finished width of the binding.")
    join_mm: float = length(50, 20, 120, "Tape beyond the edge, for the join or the ends.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Bind the run named `hem`; the edge keeps no allowance (I12)."""
        name, pattern = drafting.name, drafting.pattern
        edge = pattern.named_run("hem", name)
        shell = shell_part(pattern, edge)
        tape = 2 * pattern.run_length(shell) + self.join_mm
        opens = _opens(pattern, edge)
        faced = len(shell.edges) < len(edge.edges)
        lay = "Lay the facings in place, lower edges together; they are bound as one layer. "
        return Contribution(
            finishes=(Finish(name, "lower edge", edge, FinishKind.BOUND, component=name),),
            notions=(bias_tape(name, tape, self.width_mm, "to bind the lower edge"),),
            operations=(
                Operation(
                    name=f"sew-{name}",
                    title="Bind the lower edge",
                    text=f"{lay if faced else ''}Cut {{tape}} of bias tape. {_START[opens]} Turn "
                    "the tape over the edge and stitch from the right side beside the seam, "
                    "catching the fold behind. Press.",
                    does=(name,),
                    minutes=30,
                    cautions=(Caution.IRON, Caution.NEEDLE),
                    values=(("tape", tape),),
                    component=name,
                ),
            ),
        )


def _opens(pattern: Pattern, edge: Run) -> bool:
    """Tell whether the garment opens as far as the edge, so that the tape has two ends."""
    if "front-edge" in pattern.runs or "back-edge" in pattern.runs:
        return True
    opening = pattern.runs.get("opening")
    if opening is None:
        return False
    corner = start_corner(pattern, opening.edges[0])
    return corner == end_corner(pattern, edge.edges[-1])


_START = {
    True: "Sew the opened tape to the edge, right sides together, along its first fold, without "
    "stretching the edge; turn each end in, level with the edge of the opening.",
    False: "Starting at a side seam, sew the opened tape to the edge, right sides together, along "
    "its first fold, without stretching the edge; join the ends in a slanted seam.",
}
