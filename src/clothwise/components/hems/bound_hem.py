"""Hems bound with bias tape, bought or of the fabric: no turn-up, so they suit any flare."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.bindings.bias_strip import BiasStrip, bias_tape
from clothwise.components.bindings.binding import Source
from clothwise.components.bindings.continuous_strip import StripsCut, strips_of
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.hems.hem_depth import shell_part
from clothwise.components.parameter import choice, length
from clothwise.pattern.graph import Finish, FinishKind, Run, Sides
from clothwise.pattern.junctions import end_corner, start_corner
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution, Pattern


@dataclass(frozen=True)
class BoundHem(Component):
    """Lower edge bound with double-fold bias tape, facings of an opened front with it."""

    kind: ClassVar[str] = "bound-hem"
    family: ClassVar[Family] = Family.HEM

    width_mm: float = length(10, 6, 25, "Finished width of the binding.")
    join_mm: float = length(50, 20, 120, "Tape beyond the edge, for the join or the ends.")
    source: Source = choice(Source.BOUGHT, "Tape that is bought, or a strip cut from the fabric.")
    longest_mm: float = length(
        900, 250, 1500, "Longest strip cut in one; a longer one is pieced. Of use with fabric."
    )
    strips: StripsCut = choice(
        StripsCut.PARTS,
        "Strips of the fabric: in parts, or continuous, cut round and round a tube.",
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Bind the run named `hem`; the edge keeps no allowance (I12)."""
        name, pattern = drafting.name, drafting.pattern
        edge = pattern.named_run("hem", name)
        shell = shell_part(pattern, edge)
        around = 2 * pattern.run_length(shell)
        tape = around + self.join_mm
        opens = _opens(pattern, edge)
        faced = len(shell.edges) < len(edge.edges)
        bound = Finish(name, "lower edge", edge, FinishKind.BOUND, component=name)
        if self.source is Source.BOUGHT:
            return Contribution(
                finishes=(bound,),
                notions=(bias_tape(name, tape, self.width_mm, "to bind the lower edge"),),
                operations=(_bind(name, tape, opens=opens, faced=faced),),
            )
        needed = self._strip(around, is_ring=not opens)
        strip = strips_of(needed, self.strips)
        with_it = strip.bound_with(drafting)
        bind = _bind(name, needed.length_mm, opens=opens, faced=faced, strip=with_it)
        return Contribution(
            pieces=strip.pieces(drafting),
            seams=strip.seams(drafting),
            finishes=(bound, *strip.finishes(drafting)),
            operations=(*strip.operations(name), bind),
        )

    def _strip(self, around_mm: float, *, is_ring: bool) -> BiasStrip:
        """The strip; slanted ends that are turned in are cut square first."""
        strip = BiasStrip(
            "lower edge",
            around_mm + self.join_mm,
            self.width_mm,
            self.longest_mm,
            sides=Sides.CENTER,
            is_ring=is_ring,
        )
        return strip if is_ring else strip.with_square_ends(around_mm)


def _bind(
    name: str, tape: float, *, opens: bool, faced: bool, strip: tuple[str, ...] | None = None
) -> Operation:
    """Binding the edge; `strip` names what of a strip of the fabric is sewn with it."""
    kind = "tape" if strip is None else "strip"
    lay = "Lay the facings in place, lower edges together; they are bound as one layer. "
    begin = "Cut {tape} of bias tape. " if strip is None else "Take the pressed strip. "
    return Operation(
        name=f"sew-{name}",
        title="Bind the lower edge",
        text=f"{lay if faced else ''}{begin}{_START[opens].format(kind=kind)} Turn the {kind} over "
        "the edge and stitch from the right side beside the seam, catching the fold behind. Press.",
        does=(name, *(strip or ())),
        after=() if strip is None else (f"{name}-strip-edge",),
        minutes=30,
        cautions=(Caution.IRON, Caution.NEEDLE),
        values=(("tape", tape),),
        component=name,
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
    True: "Sew the opened {kind} to the edge, right sides together, along its first fold, without "
    "stretching the edge; turn each end in, level with the edge of the opening.",
    False: "Starting at a side seam, sew the opened {kind} to the edge, right sides together, "
    "along its first fold, without stretching the edge; join the ends in a slanted seam.",
}
