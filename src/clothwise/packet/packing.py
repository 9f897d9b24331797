"""Packing: everything that belongs to a make, in one folder."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from clothwise.cutting import DEFAULT_EFFORT, Effort, LayoutCancelled, Progress
from clothwise.errors import OutputError
from clothwise.jobs import JobsCancelled
from clothwise.output import Paper, paper_named
from clothwise.output.booklet import booklet_pdf, page_count
from clothwise.packet.booklet import booklet_of
from clothwise.packet.contents import (
    BOOKLET,
    CUTTING_LIST,
    DATA,
    MEASUREMENT_SHEET,
    MEASUREMENT_TABLE,
    PATTERN_PAGES,
    PATTERN_SHEETS,
    SHEET_PAPER,
    packet_files,
)
from clothwise.packet.making import ClothPlan, Making
from clothwise.packet.measuring import measurement_file
from clothwise.packet.nested_print import AS_MADE, PrintChoice, drawn_pieces
from clothwise.packet.other_plans import with_shorter_plans
from clothwise.packet.tables import cloth_data, csv_text, finding_data, step_data
from clothwise.pattern.saving import write_atomically


@dataclass(frozen=True)
class Written:
    """A file of a packet: where it is, what it is, how many pages (0 if it has none)."""

    path: Path
    what: str
    pages: int
    size_bytes: int


def pack(
    making: Making,
    folder: Path,
    *,
    prints: PrintChoice = AS_MADE,
    edition: str = "",
    effort: Effort = DEFAULT_EFFORT,
    tell: Callable[[str], None] = lambda _: None,
    at_once: int = 1,
    progress: Callable[[Progress], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> tuple[Written, ...]:
    """Write the packet of a make into a folder; each file appears whole or not at all.

    Given the layouts kept with the make, the same make and choice give the same bytes.

    Args:
        making: what is packed.
        folder: made if it is missing.
        prints: how the pattern is printed, as `for_packet` gives it; as it is for the make, if not
            stated. Booklet and layouts are those of the make.
        edition: which printing it is, told on the first and at the foot of each page of booklet
            and pattern, so that two of them can be told apart; may be empty.
        effort, at_once, progress: as for `Making.cloths`.
        tell: is told what is done next.
        cancelled: asked several times a second while fabrics are laid out, then before each part;
            once files are being written, all of them are.

    Raises:
        Misuse: as `drawn_pieces`, before anything is laid out.
        CuttingError: a piece does not fit on its fabric.
        JobsCancelled: `cancelled` said so; no file was written, the layouts found are kept.
        OutputError: the folder or a file cannot be written.
    """
    is_new = not os.path.exists(folder)
    make_folder(folder)
    try:
        files = _contents(
            making, prints, edition, effort, at_once, _Stages(tell, cancelled), progress
        )
        written = []
        for name, what, pages, content in files:
            write_atomically(folder / name, content)
            written.append(Written(folder / name, what, pages, len(content)))
    except BaseException:
        if is_new:
            with suppress(OSError):  # it holds files that are finished
                folder.rmdir()
        raise
    return tuple(written)


def _contents(
    making: Making,
    prints: PrintChoice,
    edition: str,
    effort: Effort,
    at_once: int,
    stages: _Stages,
    progress: Callable[[Progress], None] | None,
) -> list[tuple[str, str, int, bytes]]:
    """Name, what it is, number of pages and content of each file."""
    stages.tell("drawing the pattern")
    drawn = drawn_pieces(making, prints, edition=edition, tell=stages.tell)
    stages.tell("laying out the fabrics")
    cloths = _laid_out(making, effort, at_once, stages, progress)
    stages.tell("putting the pattern on paper")
    pages = drawn.on(prints.paper or making.file.make.paper).file()
    sheets = drawn.on(SHEET_PAPER).file()
    stages.tell("setting the booklet")
    booklet = booklet_pdf(booklet_of(making, cloths, edition), _booklet_paper(making, prints))
    stages.tell("measuring all sizes")
    pdf_sheet, xlsx_sheet = (measurement_file(making, kind) for kind in (".pdf", ".xlsx"))
    cutting = csv_text(
        (
            *("fabric", "number", "piece", "cut", "copies", "mirrored", "on fold", "interfaced"),
            *("grain", "cut along", "notes"),
        ),
        (
            (
                *(cloth.title, line.number, line.title, line.amount, len(line.copies)),
                *(line.mirrored, "yes" if line.on_fold else "no", line.interfaced),
                *(line.grain, line.cut_along, "; ".join(line.notes)),
            )
            for cloth in cloths
            for line in cloth.lines
        ),
    )
    data = {
        "title": making.title,
        "size": making.size,
        "choices": making.file.choices,
        "fabrics": [cloth_data(cloth) for cloth in cloths],
        "steps": [step_data(step) for step in making.steps()],
        "findings": [finding_data(finding) for finding in making.findings],
    }
    contents = {
        BOOKLET: (page_count(booklet), booklet),
        PATTERN_PAGES: (pages.pages, pages.pdf),
        PATTERN_SHEETS: (sheets.pages, sheets.pdf),
        CUTTING_LIST: (0, cutting.encode()),
        MEASUREMENT_SHEET: (page_count(pdf_sheet), pdf_sheet),
        MEASUREMENT_TABLE: (0, xlsx_sheet),
        DATA: (0, (json.dumps(data, indent=1, ensure_ascii=False) + "\n").encode()),
    }
    return [(file.name, file.what, *contents[file.name]) for file in packet_files(making, prints)]


@dataclass(frozen=True)
class _Stages:
    """Tells what is done next, unless nobody wants it any more."""

    _tell: Callable[[str], None]
    cancelled: Callable[[], bool] | None

    def tell(self, words: str) -> None:
        if self.cancelled is not None and self.cancelled():
            raise _cancelled(f"before {words}")
        self._tell(words)


def _laid_out(
    making: Making,
    effort: Effort,
    at_once: int,
    stages: _Stages,
    progress: Callable[[Progress], None] | None,
) -> tuple[ClothPlan, ...]:
    try:
        cloths = making.cloths(
            effort=effort, at_once=at_once, progress=progress, cancelled=stages.cancelled
        )
        return with_shorter_plans(making, cloths, progress=progress, cancelled=stages.cancelled)
    except LayoutCancelled as error:
        raise _cancelled("while the fabrics were laid out") from error


def _cancelled(when: str) -> JobsCancelled:
    return JobsCancelled(
        "packing was cancelled",
        how_much=when,
        what_to_do="Start it again when you are ready; layouts that were found are kept.",
    )


def make_folder(folder: Path) -> None:
    """Make a folder and those above it.

    Raises:
        OutputError: it cannot be made.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OutputError(
            "the folder cannot be made",
            where=str(folder),
            how_much=error.strerror or type(error).__name__,
            what_to_do="Choose a folder in which you may write.",
        ) from error


def _booklet_paper(making: Making, prints: PrintChoice) -> Paper:
    paper = prints.paper or making.file.make.paper
    return paper_named("letter" if paper == "letter" else "a4")
