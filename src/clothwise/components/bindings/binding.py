"""Armholes bound with bias tape, bought or cut from the fabric."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import ClassVar

from clothwise.components.bindings.bias_strip import DOUBLE_FOLD_WIDTHS, BiasStrip, bias_tape
from clothwise.components.bindings.continuous_strip import StripsCut, strips_of
from clothwise.components.bodices.free_armhole import free_armhole
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import choice, length
from clothwise.pattern.graph import Finish, FinishKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution

__all__ = ["DOUBLE_FOLD_WIDTHS", "BoundArmhole", "Source"]


class Source(Enum):
    """Where the binding comes from."""

    BOUGHT = "bought"
    FABRIC = "fabric"


@dataclass(frozen=True)
class BoundArmhole(Component):
    """Sleeveless armhole, its edge bound with double-fold bias tape."""

    kind: ClassVar[str] = "bound-armhole"
    family: ClassVar[Family] = Family.ARMHOLE

    width_mm: float = length(10, 6, 25, "Finished width of the binding.")
    join_mm: float = length(50, 20, 120, "Tape beyond each armhole for the join.")
    source: Source = choice(Source.BOUGHT, "Tape that is bought, or strips cut from the fabric.")
    longest_mm: float = length(
        900, 250, 1500, "Longest strip cut in one; a longer one is pieced. Of use with fabric."
    )
    strips: StripsCut = choice(
        StripsCut.PARTS,
        "Strips of the fabric: in parts, or continuous, cut round and round a tube.",
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Bind the run named `armhole`; the edge keeps no allowance (I12)."""
        name = drafting.name
        armhole = free_armhole(drafting)
        tape = drafting.pattern.run_length(armhole) + self.join_mm
        bound = Finish(
            name,
            "armhole binding",
            armhole,
            FinishKind.BOUND,
            component=name,
            cover_mm=self.width_mm,
        )
        if self.source is Source.BOUGHT:
            return Contribution(
                finishes=(bound,),
                notions=(bias_tape(name, 2 * tape, self.width_mm, "to bind both armholes"),),
                operations=(_bind(name, tape),),
            )
        strip = strips_of(BiasStrip("armholes", tape, self.width_mm, self.longest_mm), self.strips)
        return Contribution(
            pieces=strip.pieces(drafting),
            seams=strip.seams(drafting),
            finishes=(bound, *strip.finishes(drafting)),
            operations=(*strip.operations(name), _bind(name, tape, strip.bound_with(drafting))),
        )


def _bind(name: str, tape: float, strip: tuple[str, ...] | None = None) -> Operation:
    begin = (
        "Take the pressed strips. "
        if strip is not None
        else "Cut two pieces of bias tape, each {tape} long. "
    )
    kind = "tape" if strip is None else "strip"
    return Operation(
        name=f"{name}-bind",
        title="Bind the armholes",
        text=f"{begin}Starting at the side seam, sew the opened {kind} to the armhole edge, right "
        "sides together, along its first fold, without stretching the edge; join the ends in a "
        f"slanted seam. Turn the {kind} over the edge and stitch from the right side beside "
        "the seam, catching the fold behind.",
        does=(name, *(strip or ())),
        after=() if strip is None else (f"{name}-strip-edge",),
        minutes=30,
        cautions=(Caution.IRON,) if strip is None else (Caution.IRON, Caution.BLADE),
        values=(("tape", tape),),
        component=name,
    )
