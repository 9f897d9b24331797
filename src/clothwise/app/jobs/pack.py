"""The jobs of the pack room: what a packet will hold, and the packet."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from clothwise.app.jobs.cut_making import MakeJob
from clothwise.app.work.job import Tell, Worker

__all__ = ["ContentsOf", "PackJob", "PackOf", "PacketShown"]


@dataclass(frozen=True)
class PacketShown:
    """What a packet will hold.

    Attributes:
        title, fit: what is made, for whom.
        files: name, what it is, and what stands in it.
        errors, warnings: what the checks say of this size, in sentences.
        sizes: of the chart; the sheet of measurements holds all of them.
        own_size: that the make is for; empty for own measurements, which have no choice of sizes.
        chosen: sizes of which the pattern can hold some, as chosen last, with the own one.
        paper: of the pages for a home printer, by its name.
        papers: all that there are, with words for them.
        rectangles: plain rectangles of the own size, which the pattern need not hold.
    """

    title: str
    fit: str
    files: tuple[tuple[str, str, tuple[str, ...]], ...]
    errors: tuple[str, ...]
    warnings: tuple[str, ...]
    sizes: tuple[str, ...]
    own_size: str
    chosen: tuple[str, ...]
    paper: str
    papers: tuple[tuple[str, str], ...]
    rectangles: tuple[str, ...] = ()


@dataclass(frozen=True)
class PackJob(MakeJob):
    """A job on a packet.

    Attributes:
        paper: of its pages for a home printer, by its name; empty for that of the make.
        which: sizes in its pattern: `own` of the make, `all` of the chart, or `these`.
        sizes: these; those that the chart does not have are passed over, the own one is added.
        no_rectangles: whether plain rectangles are told, not printed.
    """

    paper: str = ""
    which: str = "own"
    sizes: tuple[str, ...] = ()
    no_rectangles: bool = False


@dataclass(frozen=True)
class ContentsOf(PackJob):
    """What the packet of a make will hold, and whether anything speaks against it."""

    worker: ClassVar[Worker] = "back"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> PacketShown:
        """Work it out; nothing is laid out for it."""
        from clothwise.app.jobs._packing import packet_shown

        return packet_shown(self)


@dataclass(frozen=True)
class PackOf(PackJob):
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
