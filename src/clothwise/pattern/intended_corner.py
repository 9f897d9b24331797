"""Corners that are meant: declared by the component that draws them, or by the design."""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.pattern.graph import EdgeRef

INTENDED_CORNER_TOLERANCE_RAD = math.radians(3)
"""A declared angle is met within this, as straight lines are (G07, common practice)."""


@dataclass(frozen=True)
class IntendedCorner:
    """A line that is meant to have a corner where it crosses a seam, a center, or inside an edge.

    Attributes:
        line: the edge the line comes along, travelled toward the corner: `front.neck` for the
            point of a V neck at center front, where the neckline of the front ends there.
        why: what it is, for people: "point of the V neck".
        angle_rad: the angle of the cloth in the joined line; a straight line has 180 degrees, the
            point of a V neck more, the point of a bodice at center front less. Both halves
            together where the line crosses a fold or a center line. None if any corner will do.
        tolerance_rad: how near the angle must be met.
        at_mm: length from the start of `line` for a corner inside the edge; None at its end.
        component: who declares it.
    """

    line: EdgeRef
    why: str
    angle_rad: float | None = None
    tolerance_rad: float = INTENDED_CORNER_TOLERANCE_RAD
    at_mm: float | None = None
    component: str = ""

    def is_met(self, angle_rad: float) -> bool:
        """True if a corner of this angle is as declared."""
        return self.angle_rad is None or abs(angle_rad - self.angle_rad) <= self.tolerance_rad
