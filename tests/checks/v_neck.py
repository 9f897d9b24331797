"""A bodice with a V neck, for tests: the darted bodice with another front neckline."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import ClassVar

from clothwise.components import Drafting
from clothwise.components.bodices.bodice import DartedBodice
from clothwise.geometry import Outline, Vector, cubic_between
from clothwise.pattern import Contribution, EdgeRef, IntendedCorner


@dataclass(frozen=True)
class VNeckBodice(DartedBodice):
    """Bodice whose front neckline comes down to center front at an angle."""

    kind: ClassVar[str] = "v-neck-bodice"

    declared: bool = True
    lean_rad: float = math.radians(30)
    declared_rad: float = math.radians(300)

    def contribute(self, drafting: Drafting) -> Contribution:
        """The darted bodice with the other neckline, and its corner declared."""
        part = super().contribute(drafting)
        front, back = part.pieces
        neck = front.edge("neck")
        heading = Vector(-math.sin(self.lean_rad), -math.cos(self.lean_rad))
        slanted = cubic_between(neck.start, neck.start_tangent, neck.end, heading)
        front = replace(front, outline=Outline({**front.outline.edges, "neck": slanted}))
        corner = IntendedCorner(
            EdgeRef(front.name, "neck"),
            "point of the V neck",
            angle_rad=self.declared_rad,
            component=drafting.name,
        )
        return replace(
            part,
            pieces=(front, back),
            intended_corners=(corner,) if self.declared else (),
        )
