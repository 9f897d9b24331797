"""The flutter sleeve: short, with a plain cap, flared as if slashed from the hem and spread."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import angle, length, ratio
from clothwise.components.sleeves.sleeve_cap import CapAsked, armhole_of, fitted_cap
from clothwise.components.sleeves.sleeve_shape import (
    arc_edge,
    constant_lean,
    flared_seam_height,
    hemmed_sleeve,
    sleeve_piece,
)
from clothwise.pattern.pattern import Contribution


@dataclass(frozen=True)
class FlutterSleeve(Component):
    """Short flared sleeve with a plain cap, its hem cut as an arc."""

    kind: ClassVar[str] = "flutter-sleeve"
    family: ClassVar[Family] = Family.ARMHOLE

    length_mm: float = length(230, 170, 400, "From the top of the cap to the finished hem.")
    flare_rad: float = angle(
        math.radians(22), math.radians(5), math.radians(38), "How far each seam edge spreads."
    )
    cap_ease_mm: float = length(12, 0, 38, "How much longer the cap is than the armhole.")
    cap_height: float = ratio(0.26, 0.18, 0.34, "Height of the cap as a share of the armhole.")
    upper_arm_ease_mm: float = length(44, -60, 200, "Room beyond the upper arm, at least.")
    hem_depth_mm: float = length(8, 4, 20, "Height of the finished hem; less, the more it flares.")
    hem_turn_mm: float = length(6, 4, 20, "What is turned in first.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the sleeve onto the run named `armhole`."""
        asked = CapAsked(
            self.cap_ease_mm,
            self.cap_height,
            drafting.body["upper_arm_girth"] + self.upper_arm_ease_mm,
        )
        cap = fitted_cap(drafting, armhole_of(drafting), asked, constant_lean(-self.flare_rad))
        seam_height = flared_seam_height(drafting, cap, self.length_mm)
        piece = sleeve_piece(drafting, cap, {"hem": arc_edge(cap, seam_height)})
        return hemmed_sleeve(drafting, cap, piece, self.hem_depth_mm, self.hem_turn_mm)
