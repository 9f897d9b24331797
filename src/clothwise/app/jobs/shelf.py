"""The job behind importing a design: what was uploaded is looked at in a worker with limits."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import ClassVar

from clothwise.app.work import Job, Tell
from clothwise.app.work.job import Worker

__all__ = ["ImportOf", "Imported"]


@dataclass(frozen=True)
class Imported:
    """A design that was uploaded.

    Attributes:
        title: as written in it.
        documents: texts by file name.
        photos: of its cloths, by file name.
        left_out: files that are no documents of a design, with the reason.
    """

    title: str
    documents: Mapping[str, str]
    photos: Mapping[str, bytes] = field(default_factory=dict, repr=False)
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True)
class ImportOf(Job):
    """Read what was uploaded: a packed folder, or the documents of one.

    Attributes:
        files: names and contents.
    """

    worker: ClassVar[Worker] = "back"
    limit_s: ClassVar[float | None] = 20.0

    files: tuple[tuple[str, bytes], ...] = field(repr=False)

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> Imported:
        """Unpack it, and open the design once, so that its faults are told now."""
        from clothwise.app.jobs._importing import imported

        return imported(self.files)
