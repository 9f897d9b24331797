"""The wrap skirt: both fronts lap over center front, the wearer's right one on top.

It has no closure of its own: a band with ties holds it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import length, ratio
from clothwise.components.skirts.skirt import SkirtDraft, SkirtForm
from clothwise.components.skirts.skirt_sewing import (
    dart_operations,
    dart_seams,
    side_operation,
    side_seam,
    waist_run,
)
from clothwise.components.skirts.skirt_waist import SkirtWaist
from clothwise.components.wearers import WOMEN, Wearers
from clothwise.errors import ComponentError
from clothwise.pattern.graph import Finish, FinishKind, run
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution

EDGE_TURN_MM = 10.0
"""What is turned in first along the front edge; our own choice."""


@dataclass(frozen=True)
class WrapSkirt(Component):
    """A-line skirt whose fronts wrap over each other, with a band that is tied."""

    kind: ClassVar[str] = "wrap-skirt"
    family: ClassVar[Family] = Family.SKIRT
    drafted_for: ClassVar[Wearers | None] = WOMEN

    length_mm: float = length(650, 450, 1000, "Waist to finished hem at center front.")
    overlap: float = ratio(
        0.75,
        0.5,
        1.0,
        "How far each front reaches beyond center front, as a share of half the front waist; 1 is "
        "to the side seam.",
    )
    hip_ease_mm: float = length(60, 50, 200, "Room beyond the hip girth.")
    flare_mm: float = length(60, 20, 200, "How far each side seam swings out from hip to hem.")
    waist_ease_mm: float = length(20, 12, 60, "Room beyond the waist girth.")
    edge_hem_mm: float = length(30, 15, 60, "Width of the hem along the front edges.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft fronts and back from the waist girth."""
        name, pattern = drafting.name, drafting.pattern
        if "waist" in pattern.runs:
            raise ComponentError(
                "a wrap skirt hangs from a band of its own, but there is a waist above it",
                where=name,
                how_much=", ".join(pattern.runs["waist"].pieces),
                what_to_do="Hang an a-line-skirt on a bodice that wraps: it laps as the bodice "
                "does.",
            )
        quarter = (drafting.body["waist_girth"] + self.waist_ease_mm) / 4
        hangs_from = SkirtWaist(quarter, quarter, quarter * self.overlap, opens_front=True)
        form = SkirtForm(self.length_mm, self.hip_ease_mm, self.flare_mm)
        draft = SkirtDraft(form, drafting, hangs_from)
        front, back = draft.front_piece(), draft.back_piece()
        edge = Finish(
            f"{name}-front-edge",
            "front edge of the skirt",
            run(f"{front.name}.front-edge"),
            FinishKind.DOUBLE_HEM,
            depth_mm=self.edge_hem_mm,
            turn_mm=EDGE_TURN_MM,
            component=name,
        )
        return Contribution(
            pieces=(front, back),
            seams=(*dart_seams(name, front, back), side_seam(drafting, front, back)),
            finishes=(edge,),
            runs={
                "waist": waist_run(front, back),
                "front-edge": edge.run,
                "hem": run(f"{front.name}.hem", f"-{back.name}.hem"),
            },
            operations=(
                *dart_operations(name, front, back),
                side_operation(name),
                Operation(
                    name=f"{name}-front-edge",
                    title="Hem the front edges",
                    text="Press {turn} of both front edges to the wrong side, then {depth}, from "
                    "waist to lower edge. Stitch close to the inner fold. Press.",
                    does=(edge.name,),
                    values=(("turn", EDGE_TURN_MM), ("depth", self.edge_hem_mm)),
                    minutes=20,
                    cautions=(Caution.IRON,),
                    component=name,
                ),
            ),
        )
