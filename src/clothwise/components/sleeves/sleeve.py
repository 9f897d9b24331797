"""The set-in sleeve: straight or drawing in toward the hem, of any length."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import length, ratio
from clothwise.components.sleeves.sleeve_cap import Armhole, Cap, CapAsked, armhole_of, fitted_cap
from clothwise.components.sleeves.sleeve_shape import (
    below_cap_mm,
    hemmed_sleeve,
    lean_of_taper,
    lower_edge,
    sleeve_piece,
)
from clothwise.pattern.pattern import Contribution

HAND_EASE_MM = 15.0
"""The hem passes the hand with this much room (L08, common practice: 1 to 2 cm)."""

TAPER_ROUNDS = 4
"""Rounds in which taper and width of the sleeve settle."""


@dataclass(frozen=True)
class SetInSleeve(Component):
    """Straight sleeve set into the armhole, with cap ease."""

    kind: ClassVar[str] = "set-in-sleeve"
    family: ClassVar[Family] = Family.ARMHOLE

    length_mm: float = length(330, 120, 700, "From the top of the cap to the finished hem.")
    cap_ease_mm: float = length(26, 0, 40, "How much longer the cap is than the armhole.")
    cap_height: float = ratio(0.31, 0.2, 0.38, "Height of the cap as a share of the armhole.")
    upper_arm_ease_mm: float = length(44, -60, 200, "Room beyond the upper arm, at least.")
    taper_mm: float = length(14, 0, 80, "How much each seam edge draws in toward the hem.")
    hem_depth_mm: float = length(25, 5, 80, "Height of the finished hem.")
    hem_turn_mm: float = length(8, 4, 30, "What is turned in first.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the sleeve onto the run named `armhole`."""
        cap = self._cap(drafting, armhole_of(drafting))
        below = below_cap_mm(drafting, cap, self.length_mm)
        piece = sleeve_piece(drafting, cap, {"hem": lower_edge(cap, below)})
        return hemmed_sleeve(drafting, cap, piece, self.hem_depth_mm, self.hem_turn_mm)

    def _cap(self, drafting: Drafting, armhole: Armhole) -> Cap:
        """The cap, and less taper where the hem would be too narrow for the hand (L08)."""
        asked = CapAsked(
            self.cap_ease_mm,
            self.cap_height,
            drafting.body["upper_arm_girth"] + self.upper_arm_ease_mm,
        )
        needed = drafting.body["hand_girth"] + HAND_EASE_MM
        taper = self.taper_mm
        cap = fitted_cap(drafting, armhole, asked, lean_of_taper(self.length_mm, taper))
        for _ in range(TAPER_ROUNDS):
            most = (cap.width_mm - needed) / 2
            if taper <= most + 1e-6:
                break
            taper = max(most, 0.0)
            cap = fitted_cap(drafting, armhole, asked, lean_of_taper(self.length_mm, taper))
        return cap
