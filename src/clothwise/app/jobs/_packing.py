"""In a worker: what a packet will hold, and the packet."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from clothwise.app.jobs._printing import paper_choices
from clothwise.app.jobs._refused_size import named_size, worked_out
from clothwise.app.jobs.cut_efforts import EFFORTS
from clothwise.app.jobs.pack import PacketShown
from clothwise.app.packets import ABOUT, BUILDING, design_state
from clothwise.cutting import Effort, Progress
from clothwise.errors import ClothwiseError, OutputError
from clothwise.packet import pack
from clothwise.packet.contents import packet_files
from clothwise.packet.nested_print import (
    PrintChoice,
    for_packet,
    has_chart_size,
    sizes_called,
)
from clothwise.packet.packing import make_folder
from clothwise.packet.printing import LARGE_PAPERS
from clothwise.packet.rectangles import told_rectangles
from clothwise.pattern import Severity
from clothwise.pattern.document.make import DEFAULT_PAPER
from clothwise.pattern.saving import write_atomically

if TYPE_CHECKING:
    from clothwise.app.jobs.pack import ContentsOf, PackJob, PackOf
    from clothwise.app.work.job import Tell
    from clothwise.packet import Written
    from clothwise.packet.making import Making

__all__ = ["packed", "packet_shown"]

OTHER_SIZE = "Or give the make another size."
_LAYING_SHARE = 0.55  # of the time goes to the layouts, about; the rest is shared by these
_STAGES = {
    "laying out the fabrics": 0.1,
    "putting the pattern on paper": 0.68,
    "setting the booklet": 0.78,
    "measuring all sizes": 0.88,
}


def packet_shown(job: ContentsOf) -> PacketShown:
    """Return what the packet will hold.

    Raises:
        JobRefused: the size of the make cannot be drafted.
    """
    making = worked_out(job, OTHER_SIZE)
    by_severity = {
        severity: tuple(each.message for each in making.findings if each.severity is severity)
        for severity in (Severity.ERROR, Severity.WARNING)
    }
    return PacketShown(
        making.title,
        making.fit,
        tuple(
            (each.name, each.what, each.holds)
            for each in packet_files(making, _prints(job, making))
        ),
        by_severity[Severity.ERROR],
        by_severity[Severity.WARNING],
        making.file.of.sizes,
        making.size if has_chart_size(making) else "",
        _these(job, making),
        _home_paper(job, making),
        paper_choices(making.unit, is_home_only=True),
        _rectangles(making),
    )


def _prints(job: PackJob, making: Making) -> PrintChoice:
    """How the pattern is printed; what was remembered and is there no more is passed over."""
    sizes = {"all": making.file.of.sizes, "these": _these(job, making)}.get(job.which, ())
    return for_packet(
        making,
        _home_paper(job, making),
        sizes if has_chart_size(making) else (),
        leaves_out_rectangles=job.no_rectangles,
    )


def _rectangles(making: Making) -> tuple[str, ...]:
    """What the plain rectangles of a make are called."""
    return tuple(each.title for each in told_rectangles({making.size: making}))


def _these(job: PackJob, making: Making) -> tuple[str, ...]:
    wanted = {*job.sizes, making.size}
    return tuple(size for size in making.file.of.sizes if size in wanted)


def _home_paper(job: PackJob, making: Making) -> str:
    """The paper that was chosen, unless that is a large sheet, which a packet holds anyway."""
    papers = (job.paper, making.file.make.paper, DEFAULT_PAPER)
    return next(each for each in papers if each and each not in LARGE_PAPERS)


def packed(job: PackOf, told: Tell, cancelled: Callable[[], bool]) -> int:
    """Build a packet beside those that were built before; return its number.

    Raises:
        CuttingError: a piece does not fit on its fabric.
        JobRefused: the size of the make cannot be drafted.
        JobsCancelled: nobody wants it any more; nothing is left behind.
        OutputError: it cannot be written; nothing is left behind.
    """
    into = Path(job.into)
    make_folder(into)
    for left_behind in into.glob(f"{BUILDING}*"):  # by a build that was killed
        shutil.rmtree(left_behind, ignore_errors=True)
    making, building = worked_out(job, OTHER_SIZE), into / f"{BUILDING}{job.id}"
    prints = _prints(job, making)
    hears = _Hears(told, len({line.fabric for line in making.cutting_list}))
    try:
        written = pack(
            making,
            building,
            prints=prints,
            edition=f"Packet {_next_number(into)}, {design_state(job.head)}",
            effort=Effort(*EFFORTS.get(job.effort, EFFORTS["good"])),
            tell=hears.stage,
            progress=hears.layout,
            cancelled=cancelled,
        )
        write_atomically(building / ABOUT, _about(job, making, prints, written))
        return _placed(building, into)
    except ClothwiseError as error:
        instead = "Or take it out of the sizes in the pattern."
        raise named_size(error, making, prints.sizes, job.unit, instead) from error
    finally:
        shutil.rmtree(building, ignore_errors=True)


class _Hears:
    """Puts what packing tells on one scale from 0 to 1."""

    def __init__(self, told: Tell, fabrics: int) -> None:
        self._told, self._fabrics = told, max(fabrics, 1)
        self._laid, self._last, self._done = 0, 0.0, 0.0

    def stage(self, words: str) -> None:
        self._done = _STAGES.get(words, self._done)
        self._told(self._done, words)

    def layout(self, progress: Progress) -> None:
        if progress.share < self._last:  # the next fabric begins
            self._laid = min(self._laid + 1, self._fabrics - 1)
        self._last = progress.share
        share = self._done + _LAYING_SHARE * (self._laid + progress.share) / self._fabrics
        which = f"laying out fabric {self._laid + 1} of {self._fabrics}"
        self._told(share, f"{which}\n{progress.message}")


def _about(job: PackOf, making: Making, prints: PrintChoice, written: tuple[Written, ...]) -> str:
    known = making.file.of.sizes
    data = {
        "title": making.title,
        "fit": making.fit,
        "pattern": sizes_called(prints.sizes, known) if prints.sizes else "",
        "has_no_rectangles": prints.leaves_out_rectangles and bool(_rectangles(making)),
        "at": datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ"),
        "head": job.head,
        "files": [
            {
                "name": each.path.name,
                "what": each.what,
                "pages": each.pages,
                "size_bytes": each.size_bytes,
            }
            for each in written
        ],
    }
    return json.dumps(data, indent=1) + "\n"


def _next_number(into: Path) -> int:
    """Of the packet that is built; of one make only one is built at a time."""
    taken = [int(each.name) for each in into.iterdir() if each.name.isdigit()]
    return max(taken, default=0) + 1


def _placed(building: Path, into: Path) -> int:
    """Give a finished packet the next number."""
    number = _next_number(into)
    try:
        building.rename(into / str(number))
    except OSError as error:
        raise OutputError(
            "the packet cannot be put in its place",
            where=str(into / str(number)),
            how_much=error.strerror or type(error).__name__,
            what_to_do="Build it once more.",
        ) from error
    with suppress(OSError):
        (into / str(number)).chmod(0o755)
    return number
