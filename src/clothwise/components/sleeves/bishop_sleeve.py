"""The bishop sleeve: full below, gathered into a buttoned cuff, with a faced opening."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import count, length, ratio
from clothwise.components.sleeves.cuff import Cuff, FacedOpening
from clothwise.components.sleeves.sleeve_cap import CapAsked, armhole_of
from clothwise.components.sleeves.sleeve_shape import (
    below_cap_mm,
    cap_for_lower_edge,
    lower_edge,
    seam_step,
    set_in_step,
    sleeve_piece,
    underarm_seam,
)
from clothwise.errors import ComponentError
from clothwise.pattern.pattern import Contribution

OPENING_SHARE = 0.75
"""The opening lies this far along the lower edge, from the front seam edge to the back one: in the
middle of the back half, toward the little finger (common practice; the share is ours)."""

CUFF_HAND_EASE_MM = 10.0
"""The opened cuff passes the hand with this much room (L08)."""


@dataclass(frozen=True)
class BishopSleeve(Component):
    """Full sleeve, gathered into a buttoned cuff above which it opens."""

    kind: ClassVar[str] = "bishop-sleeve"
    family: ClassVar[Family] = Family.ARMHOLE

    length_mm: float = length(590, 300, 750, "From the top of the cap to the edge of the cuff.")
    blousing_mm: float = length(25, 0, 80, "Length beyond that, to fall over the cuff.")
    fullness: float = ratio(2.0, 1.4, 2.6, "The lower edge, flat, by the cuff it is gathered into.")
    cap_ease_mm: float = length(26, 0, 38, "How much longer the cap is than the armhole.")
    cap_height: float = ratio(0.31, 0.2, 0.38, "Height of the cap as a share of the armhole.")
    upper_arm_ease_mm: float = length(44, -60, 200, "Room beyond the upper arm, at least.")
    cuff_depth_mm: float = length(60, 40, 120, "Height of the finished cuff.")
    cuff_ease_mm: float = length(30, 15, 90, "Room of the closed cuff beyond the wrist.")
    lap_mm: float = length(28, 20, 50, "How far the ends of the cuff lie over each other.")
    opening_mm: float = length(80, 50, 140, "Height of the opening above the cuff.")
    buttons: int = count(1, 1, 2, "Buttons of each cuff.")
    button_mm: float = length(11, 8, 15, "Diameter of a button.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft sleeve, cuff and facing onto the run named `armhole`."""
        name = drafting.name
        cuff = self._cuff(drafting)
        asked = CapAsked(
            self.cap_ease_mm,
            self.cap_height,
            drafting.body["upper_arm_girth"] + self.upper_arm_ease_mm,
        )
        down = self.length_mm + self.blousing_mm - self.cuff_depth_mm
        wide = self.fullness * cuff.around_mm
        cap = cap_for_lower_edge(drafting, armhole_of(drafting), asked, down, wide)
        lower = lower_edge(cap, below_cap_mm(drafting, cap, down))
        opening = FacedOpening(lower, OPENING_SHARE * lower.length, self.opening_mm)
        piece = sleeve_piece(drafting, cap, opening.edges(), marks=opening.marks())
        cuff_piece, facing = cuff.piece(drafting), opening.facing(drafting)
        neatened, placed = opening.uses(drafting, facing)
        return Contribution(
            pieces=(piece, cuff_piece, facing),
            seams=(
                underarm_seam(drafting, piece),
                *cuff.seams(drafting, cuff_piece, piece),
                cap.seam(drafting, piece),
            ),
            finishes=(neatened, cuff.inner_finish(drafting, cuff_piece)),
            placements=(placed,),
            notions=(cuff.notion(name),),
            operations=(
                *opening.steps(drafting, facing),
                seam_step(name),
                *cuff.steps(name, cuff_piece),
                set_in_step(name),
            ),
        )

    def _cuff(self, drafting: Drafting) -> Cuff:
        """The cuff, which closed goes round the wrist and opened over the hand."""
        around = drafting.body["wrist_girth"] + self.cuff_ease_mm
        opened = around + 2 * self.opening_mm
        needed = drafting.body["hand_girth"] + CUFF_HAND_EASE_MM
        if opened < needed:
            raise ComponentError(
                "the hand does not go through the opened cuff",
                where=drafting.name,
                how_much=f"{opened:.0f} mm with its opening, {needed:.0f} mm needed",
                what_to_do=f"Make opening {(needed - around) / 2:.0f} mm or more.",
            )
        return Cuff(around, self.cuff_depth_mm, self.lap_mm, self.buttons, self.button_mm)
