"""The jobs of the pack room: what a packet will hold, and the packet."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from clothwise.app.jobs.cut_making import MakeJob
from clothwise.app.work.job import Tell, Worker

__all__ = ["ContentsOf", "PackOf", "PacketShown"]


@dataclass(frozen=True)
class PacketShown:
    """What a packet will hold.

    Attributes:
        title, fit: what is made, for whom.
        files: name, what it is, and what stands in it.
        errors, warnings: what the checks say of this size, in sentences.
        sizes: how many the chart has; the sheet of measurements holds all of them.
    """

    title: str
    fit: str
    files: tuple[tuple[str, str, tuple[str, ...]], ...]
    errors: tuple[str, ...]
    warnings: tuple[str, ...]
    sizes: int


@dataclass(frozen=True)
class ContentsOf(MakeJob):
    """What the packet of a make will hold, and whether anything speaks against it."""

    worker: ClassVar[Worker] = "back"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> PacketShown:
        """Work it out; nothing is laid out for it."""
        from clothwise.app.jobs._packing import packet_shown

        return packet_shown(self)


@dataclass(frozen=True)
class PackOf(MakeJob):
    """Build the packet of a make in a new folder; it appears whole or not at all.

    Attributes:
        into: the folder in which each packet has its own, named by a number.
        head: of the history that it is made from.
        effort: one of `cut_efforts.EFFORTS`; what was found before with as much is taken as it is.
    """

    worker: ClassVar[Worker] = "soon"

    into: str = ""
    head: str = ""
    effort: str = "good"

    @property
    def lane(self) -> Worker:
        """With a long search it is as long as one, and must not stop the others."""
        return "long" if self.effort == "long" else "soon"

    @property
    def key(self) -> str:
        """One packet of a make is built at a time."""
        return f"pack {self.design} {self.make}"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> int:
        """Build it; return its number.

        Raises:
            CuttingError: a piece does not fit on its fabric.
            OutputError: it cannot be written.
        """
        from clothwise.app.jobs._packing import packed

        return packed(self, told, cancelled)
