"""The job behind pictures of whole garments: front and back, kept on disk once they are drawn."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from clothwise.app.work import Job, Shown, Tell
from clothwise.app.work.job import Worker

__all__ = ["FlatOf"]


@dataclass(frozen=True)
class FlatOf(Job):
    """The garment drawn flat, front and back beside each other: one whole SVG with its own colors.

    Attributes:
        shown: a view in a size, or a make, which brings the colors of its fabrics.
        documents: as for `BoardOf`.
        keep_in: a folder in which the picture is kept; looked up there first.
    """

    worker: ClassVar[Worker] = "back"

    shown: Shown
    documents: Mapping[str, str]
    keep_in: Path | None = None

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> str:
        """Look it up, or draw it."""
        from clothwise.app.jobs._flats import flat_svg

        return flat_svg(self.shown, self.documents, self.keep_in)
