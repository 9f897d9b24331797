"""A photo of cloth made into a swatch, in a process that may be ended."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from clothwise.app.work.job import Job, Tell, Worker

if TYPE_CHECKING:
    from clothwise.cutting.swatch import Swatch


@dataclass(frozen=True)
class SwatchOf(Job):
    """The middle of a photo as a small PNG.

    Attributes:
        content: of the file that was sent.
        called: its name, for messages.
    """

    worker: ClassVar[Worker] = "back"
    limit_s: ClassVar[float | None] = 20.0

    content: bytes
    called: str

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> Swatch:
        """Return the PNG, and how much of the photo's width it shows.

        Raises:
            ClothwiseError: it is no JPEG or PNG, too large, too small or damaged.
        """
        from clothwise.app.jobs._sent_file import sent_file
        from clothwise.cutting.swatch import swatch_of

        with sent_file(self.content, self.called) as path:
            return swatch_of(path)
