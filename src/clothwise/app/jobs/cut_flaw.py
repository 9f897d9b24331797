"""A flaw that was drawn on a layout, where it is on the cloth as bought."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from clothwise.app.jobs.cut_making import MakeJob
from clothwise.app.work.job import Tell, Worker


@dataclass(frozen=True)
class FlawOf(MakeJob):
    """Where a flaw is that was drawn on a layout.

    Attributes:
        fabric: in the make.
        start, end: opposite corners of a box, mm from the corner of the cloth as it is drawn.
        upper: of doubled cloth, the layer above.
    """

    worker: ClassVar[Worker] = "back"

    fabric: str = ""
    start: tuple[float, float] = (0.0, 0.0)
    end: tuple[float, float] = (0.0, 0.0)
    upper: bool = False

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> tuple[float, float, float, float]:
        """Return how far along and across it begins, its length and its width, in mm.

        Raises:
            CuttingError: the fabric cannot be laid out.
            Misuse: there is no cloth.
        """
        from clothwise.app.jobs.cut_layouts import layout_kept
        from clothwise.packet.pointed_flaw import spot_on_cloth

        layout = layout_kept(self.making(), self.fabric)
        spot = spot_on_cloth(layout, self.start, self.end, upper=self.upper)
        return spot.along_mm, spot.across_mm, spot.length_mm, spot.width_mm
