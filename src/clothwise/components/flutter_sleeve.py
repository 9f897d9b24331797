"""The flutter sleeve: short, with a plain cap, flared as if slashed from the hem and spread."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.parameter import angle, length, ratio
from clothwise.components.sleeve_cap import Cap, CapAsked, armhole_of, fitted_cap
from clothwise.components.sleeve_shape import (
    LEAST_BELOW_MM,
    arc_edge,
    constant_lean,
    hemmed_sleeve,
    sleeve_piece,
)
from clothwise.errors import ComponentError
from clothwise.pattern.pattern import Contribution


@dataclass(frozen=True)
class FlutterSleeve(Component):
    """Short flared sleeve with a plain cap, its hem cut as an arc."""

    kind: ClassVar[str] = "flutter-sleeve"

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
        name = drafting.name
        asked = CapAsked(
            self.cap_ease_mm,
            self.cap_height,
            drafting.body["upper_arm_girth"] + self.upper_arm_ease_mm,
        )
        cap = fitted_cap(drafting, armhole_of(drafting), asked, constant_lean(-self.flare_rad))
        piece = sleeve_piece(drafting, cap, {"hem": arc_edge(cap, self._seam_height(name, cap))})
        return hemmed_sleeve(drafting, cap, piece, self.hem_depth_mm, self.hem_turn_mm)

    def _seam_height(self, name: str, cap: Cap) -> float:
        """How far the seam edges end below the upper arm, if the hem has its length in the middle.

        The hem is an arc whose middle lies lower than its ends by half its width times the tangent
        of half the flare; and it grows wider with the height itself.
        """
        sag_share, spread = math.tan(self.flare_rad / 2), math.tan(self.flare_rad)
        below = self.length_mm - cap.height_mm
        height = (below - cap.width_mm / 2 * sag_share) / (1.0 + spread * sag_share)
        if height < LEAST_BELOW_MM:
            lacking = (LEAST_BELOW_MM - height) * (1.0 + spread * sag_share)
            raise ComponentError(
                "the flared sleeve has no seam left under the arm",
                where=name,
                how_much=f"{height:.0f} mm, at least {LEAST_BELOW_MM:.0f} mm needed",
                what_to_do=f"Make length {self.length_mm + lacking:.0f} mm or more, or flare "
                "it less.",
            )
        return height
