"""The cap sleeve: it covers the shoulder and runs out to almost nothing at the underarm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import length, ratio
from clothwise.components.sleeves.sleeve_cap import Cap, CapAsked, armhole_of, fitted_cap
from clothwise.components.sleeves.sleeve_shape import (
    arc_edge,
    constant_lean,
    hemmed_sleeve,
    sleeve_piece,
)
from clothwise.pattern.pattern import Contribution

ARCH_ROUNDS = 8
"""Rounds in which the lean of the seam edges and the width of the cap settle."""


@dataclass(frozen=True)
class CapSleeve(Component):
    """Very short sleeve, longest at the shoulder, its hem rising from a short underarm seam."""

    kind: ClassVar[str] = "cap-sleeve"
    family: ClassVar[Family] = Family.ARMHOLE

    rise_mm: float = length(30, 5, 45, "How far the hem rises from the underarm to its middle.")
    underarm_mm: float = length(24, 20, 45, "Length of the sleeve seam under the arm.")
    cap_ease_mm: float = length(12, 0, 38, "How much longer the cap is than the armhole.")
    cap_height: float = ratio(0.26, 0.18, 0.32, "Height of the cap as a share of the armhole.")
    upper_arm_ease_mm: float = length(44, -60, 200, "Room beyond the upper arm, at least.")
    hem_depth_mm: float = length(6, 4, 8, "Height of the finished hem; little: it is curved.")
    hem_turn_mm: float = length(6, 4, 10, "What is turned in first.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the sleeve onto the run named `armhole`."""
        asked = CapAsked(
            self.cap_ease_mm,
            self.cap_height,
            drafting.body["upper_arm_girth"] + self.upper_arm_ease_mm,
        )
        cap = self._cap(drafting, asked)
        piece = sleeve_piece(drafting, cap, {"hem": arc_edge(cap, self.underarm_mm)})
        return hemmed_sleeve(
            drafting, cap, piece, self.hem_depth_mm, self.hem_turn_mm, notched=False
        )

    def _cap(self, drafting: Drafting, asked: CapAsked) -> Cap:
        """The cap, and seam edges that lean so that the hem arches up by `rise_mm`.

        The middle of the hem lies higher than its ends by half its width times the tangent of half
        the lean.
        """
        armhole, lean = armhole_of(drafting), 0.0
        for _ in range(ARCH_ROUNDS):
            cap = fitted_cap(drafting, armhole, asked, constant_lean(lean))
            half = cap.width_mm / 2 - self.underarm_mm * math.tan(lean)
            lean = 2 * math.atan2(self.rise_mm, half)
        return cap
