"""Packing: everything that belongs to a make, in one folder."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from clothwise.cutting import DEFAULT_EFFORT, Effort, Progress
from clothwise.errors import OutputError
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
    packet_files,
)
from clothwise.packet.making import Making
from clothwise.packet.measuring import measurement_file
from clothwise.packet.other_plans import with_shorter_plans
from clothwise.packet.printing import sheet_pattern, tiled_pattern
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
    effort: Effort = DEFAULT_EFFORT,
    tell: Callable[[str], None] = lambda _: None,
    at_once: int = 1,
    progress: Callable[[Progress], None] | None = None,
) -> tuple[Written, ...]:
    """Write the packet of a make into a folder; each file appears whole or not at all.

    Given the layouts kept with the make, the same make gives the same bytes.

    Raises:
        CuttingError: a piece does not fit on its fabric.
        OutputError: the folder or a file cannot be written.
    """
    is_new = not os.path.exists(folder)
    make_folder(folder)
    try:
        files = _contents(making, effort, at_once, tell, progress)
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
    effort: Effort,
    at_once: int,
    tell: Callable[[str], None],
    progress: Callable[[Progress], None] | None,
) -> list[tuple[str, str, int, bytes]]:
    """Name, what it is, number of pages and content of each file."""
    tell("laying out the fabrics")
    cloths = making.cloths(effort=effort, at_once=at_once, progress=progress)
    cloths = with_shorter_plans(making, cloths, progress=progress)
    tell("drawing the pattern")
    tiled, sheet = tiled_pattern(making), sheet_pattern(making)
    tell("setting the booklet")
    booklet = booklet_pdf(booklet_of(making, cloths), _booklet_paper(making))
    tell("measuring all sizes")
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
        PATTERN_PAGES: (tiled.pages, tiled.pdf),
        PATTERN_SHEETS: (sheet.pages, sheet.pdf),
        CUTTING_LIST: (0, cutting.encode()),
        MEASUREMENT_SHEET: (page_count(pdf_sheet), pdf_sheet),
        MEASUREMENT_TABLE: (0, xlsx_sheet),
        DATA: (0, (json.dumps(data, indent=1, ensure_ascii=False) + "\n").encode()),
    }
    return [(file.name, file.what, *contents[file.name]) for file in packet_files(making)]


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


def _booklet_paper(making: Making) -> Paper:
    return paper_named("letter" if making.file.make.paper == "letter" else "a4")
