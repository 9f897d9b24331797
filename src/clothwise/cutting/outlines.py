"""Outlines as the packer has them: widened by half the spacing, and with fewer points."""

from __future__ import annotations

from clothwise.cutting.clearance import simplified_outward, widened
from clothwise.cutting.item import Polyline
from clothwise.cutting.parts import Part, Pose, oriented

__all__ = ["FITTING_ROOM_MM", "LEAST_CLEARANCE_MM", "OutlineCache"]

FITTING_ROOM_MM = 0.002
"""A strip is this much wider than the cloth, so that a piece just as wide as it fits."""

LEAST_CLEARANCE_MM = 0.01
"""Kept even where no spacing is asked, for what solvers round."""


class OutlineCache:
    """Widened and simplified outlines, worked out once for each piece and pose."""

    def __init__(self, between_mm: float) -> None:
        self.half_mm = max(between_mm, LEAST_CLEARANCE_MM) / 2
        self._known: dict[tuple[Polyline, float, Pose], Polyline] = {}

    def outline(self, part: Part, pose: Pose) -> Polyline:
        """Return the outline that is to be kept clear of others, turned but not moved."""
        key = (part.item.outline, part.item.grain_angle_rad, pose)
        if key not in self._known:
            self._known[key] = simplified_outward(widened(oriented(part, pose), self.half_mm))
        return self._known[key]
