"""Hems."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.parameter import length
from clothwise.pattern.graph import Finish, FinishKind, Run
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution


@dataclass(frozen=True)
class DoubleHem(Component):
    """Lower edge turned twice and stitched."""

    kind: ClassVar[str] = "double-hem"

    depth_mm: float = length(25, 5, 100, "Height of the finished hem; less, the more it flares.")
    turn_mm: float = length(8, 4, 30, "What is turned in first.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Finish the run named `hem`."""
        lower_edge = drafting.pattern.named_run("hem", drafting.name)
        finish, operation = double_hem(
            drafting.name, "lower edge", lower_edge, self.depth_mm, self.turn_mm
        )
        return Contribution(finishes=(finish,), operations=(operation,))


def double_hem(
    name: str, of: str, edge: Run, depth_mm: float, turn_mm: float, component: str = ""
) -> tuple[Finish, Operation]:
    """A double-turned hem along a run, and the work of making it."""
    finish = Finish(
        name=name,
        title=f"hem of the {of}",
        run=edge,
        kind=FinishKind.DOUBLE_HEM,
        depth_mm=depth_mm,
        turn_mm=turn_mm,
        component=component or name,
    )
    operation = Operation(
        name=f"sew-{name}",
        title=f"Hem the {of}",
        text="Press {turn} of the edge to the wrong side, then {depth} along the hem line. Pin, "
        "easing in what the edge is longer, and stitch close to the inner fold. Press.",
        does=(name,),
        minutes=20,
        cautions=(Caution.IRON,),
        values=(("turn", turn_mm), ("depth", depth_mm)),
        component=component or name,
    )
    return finish, operation
