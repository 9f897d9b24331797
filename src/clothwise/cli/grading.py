"""Grade tables and measurement sheets: all sizes of what is asked for, into a file."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from clothwise.components import DesignFile
from clothwise.errors import Misuse
from clothwise.packet.measuring import finished_sheet
from clothwise.packet.sheets import FILE_KINDS, grade_file, sheet_file
from clothwise.pattern.saving import write_atomically
from clothwise.units import LengthUnit


def write_tables(
    design: DesignFile,
    choices: Mapping[str, str],
    view: str,
    unit: LengthUnit,
    *,
    grades: Path | None = None,
    sheet: Path | None = None,
) -> None:
    """Write the grade table, the measurement sheet or both, over all sizes of the chart.

    Raises:
        Misuse: a file is neither CSV nor XLSX nor PDF, or there are no two sizes to compare.
        DocumentError: a size that cannot be drafted; with its line.
        ComponentError: a size that cannot be drafted.
        MeasurementError: likewise.
        OutputError: a file cannot be written.
    """
    for path in (grades, sheet):
        if path is not None and path.suffix.lower() not in FILE_KINDS:
            raise Misuse(
                "a table is written as CSV, XLSX or PDF",
                where=str(path),
                what_to_do="End the name of the file in .csv, .xlsx or .pdf.",
            )
    if grades is None and sheet is None:
        return
    if grades is not None and len(design.sizes) < 2:
        raise Misuse(
            "there is nothing to compare: the size chart has one size",
            where=design.design.title,
            what_to_do="Add a size to the chart, or ask for --sheet, which needs only one.",
        )
    sizes = design.chart.range.sizes
    patterns = [design.draft(dict(choices), body=body) for body in sizes]
    title, words = design.design.title, _view_words(design, view)
    if grades is not None:
        kind = grades.suffix.lower()
        write_atomically(grades, grade_file(kind, title, words, patterns, unit=unit))
    if sheet is not None:
        finished = finished_sheet(patterns, sizes)
        kind = sheet.suffix.lower()
        write_atomically(sheet, sheet_file(kind, title, words, finished, unit=unit))


def _view_words(design: DesignFile, view: str) -> str:
    if not view:
        return ""
    found = design.design.view(view)
    return f"View {found.name}: {found.title}" if found.title else f"View {found.name}"
