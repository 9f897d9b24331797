"""Tables from spreadsheets (XLSX, ISO/IEC 29500), as the text of the same table in CSV.

The first visible sheet that has anything in it is read. Row 7 of the sheet is line 7 of the text,
so that whatever is said of a line can be found in the spreadsheet. Of a formula the value is taken
that the spreadsheet last worked out. What cannot be read for certain is refused, cell by cell:
merged cells, hidden rows and columns, dates, errors.
"""

from __future__ import annotations

import csv
import io
import re
import zipfile
from collections.abc import Iterator
from datetime import date, time, timedelta
from pathlib import Path
from typing import Any

from clothwise.errors import DocumentError, Fault
from clothwise.pattern.csv_table import MAX_FILE_BYTES, read_text

__all__ = ["MAX_ROWS", "SHEET_SUFFIX", "table_text"]

SHEET_SUFFIX = ".xlsx"

MAX_ROWS = 5_100
"""More rows than the longest table that is read (5,000 people) and some remarks above it."""

MAX_COLUMNS = 200
_MOST_UNPACKED_BYTES = 40_000_000
"""Of all parts of the file. Our own choice; a sheet of 5,000 people has about 5,000,000."""
_MOST_FAULTS = 20
_ZIP_START, _OLD_SHEET_START = b"PK", b"\xd0\xcf\x11\xe0"
_FORBIDDEN = re.compile(rb"<!(DOCTYPE|ENTITY)", re.IGNORECASE)


def table_text(path: Path) -> str:
    """Return the text of a CSV file, or of the first sheet of an XLSX file as CSV.

    Raises:
        DocumentError: the file cannot be read, is too large, or has cells that cannot be read for
            certain; each is named as the spreadsheet names it, such as C5.
    """
    if path.suffix.casefold() != SHEET_SUFFIX or not path.is_file():
        return read_text(path)
    _refuse_unsafe(path)
    import openpyxl
    from openpyxl.utils.exceptions import InvalidFileException

    try:
        _refuse_too_long(path, openpyxl)
        book = openpyxl.load_workbook(path, data_only=True)
        written = openpyxl.load_workbook(path)  # what stands in a cell: a formula, or its value
    except DocumentError:
        raise
    except (InvalidFileException, KeyError, ValueError, OSError, SyntaxError, TypeError) as error:
        raise _one(path, f"the spreadsheet is damaged: {error}", "Save it once more.") from error
    sheet = next((each for each in book.worksheets if _is_used(each)), None)
    if sheet is None:
        raise _one(path, "the spreadsheet is empty", "Write a heading and one row per size.")
    faults = list(_faults(sheet, written[sheet.title], str(path)))
    if faults:
        raise DocumentError(faults[:_MOST_FAULTS])
    return _as_csv(sheet)


def _refuse_unsafe(path: Path) -> None:
    """Refuse what is no spreadsheet, too large, or could keep a reader busy for ever."""
    size = path.stat().st_size
    if size > MAX_FILE_BYTES:
        what = f"the file is too large ({size:,} bytes, at most {MAX_FILE_BYTES:,})"
        raise _one(path, what, "Is this the right file?")
    try:
        start = path.read_bytes()[:4]
    except OSError as error:
        what = f"the file cannot be read: {error.strerror}"
        raise _one(path, what, "Check its permissions.") from error
    if start == _OLD_SHEET_START:
        what = "the spreadsheet is locked with a password, or of an older kind"
        raise _one(path, what, "Open it and save it as XLSX without a password, or as CSV.")
    if not start.startswith(_ZIP_START):
        what = "this is no XLSX spreadsheet"
        raise _one(path, what, "If it is text, let its name end in .csv.")
    try:
        with zipfile.ZipFile(path) as parts:
            unpacked = sum(part.file_size for part in parts.infolist())
            if unpacked > _MOST_UNPACKED_BYTES:
                what = f"the spreadsheet is too large ({unpacked:,} bytes unpacked)"
                raise _one(path, what, "Copy the table into a spreadsheet of its own.")
            for part in parts.infolist():
                if part.filename.endswith((".xml", ".rels")) and _FORBIDDEN.search(
                    parts.read(part)
                ):
                    what = f"{part.filename} in the spreadsheet declares entities"
                    raise _one(path, what, "Save it once more with a spreadsheet program.")
    except (zipfile.BadZipFile, RuntimeError, NotImplementedError, EOFError) as error:
        raise _one(path, f"the spreadsheet is damaged: {error}", "Save it once more.") from error


def _refuse_too_long(path: Path, openpyxl: Any) -> None:
    """Refuse long sheets after reading no more rows than are allowed."""
    book = openpyxl.load_workbook(path, read_only=True)
    try:
        for sheet in book.worksheets:
            for number, _ in enumerate(sheet.iter_rows(values_only=True), start=1):
                if number > MAX_ROWS:
                    what = f"sheet {sheet.title!r} has more than {MAX_ROWS:,} rows"
                    raise _one(path, what, "Is this the right file? Delete empty rows below.")
    finally:
        book.close()


def _is_used(sheet: Any) -> bool:
    return sheet.sheet_state == "visible" and any(
        value is not None for row in sheet.iter_rows(values_only=True) for value in row
    )


def _faults(sheet: Any, written: Any, file: str) -> Iterator[Fault]:
    if sheet.max_column > MAX_COLUMNS:
        what = f"sheet {sheet.title!r} has {sheet.max_column} columns, at most {MAX_COLUMNS}"
        yield Fault(file, None, "", what, "Copy the table into a spreadsheet of its own.")
        return
    for merged in sheet.merged_cells.ranges:
        if _is_remark(sheet.cell(merged.min_row, merged.min_col).value):
            continue  # a title across the columns
        what = f"cells {merged.coord} are merged: they look like several and hold one value"
        yield Fault(file, merged.min_row, f"cell {merged.coord}", what, "Unmerge them.")
    for number, row in sheet.row_dimensions.items():
        if row.hidden and any(cell.value is not None for cell in sheet[number]):
            remedy = "Show it, or delete it if it does not belong to the table."
            yield Fault(file, number, f"row {number}", f"row {number} is hidden", remedy)
    for letter, column in sheet.column_dimensions.items():
        if column.hidden:
            remedy = "Show it, or delete it if it does not belong to the table."
            yield Fault(file, None, f"column {letter}", f"column {letter} is hidden", remedy)
    for row in sheet.iter_rows():
        for cell in row:
            problem = _problem(cell, written[cell.coordinate])
            if problem:
                yield Fault(file, cell.row, f"cell {cell.coordinate}", *problem)


def _problem(cell: Any, written: Any) -> tuple[str, str] | None:
    """What is wrong with a cell, and what to do."""
    if isinstance(cell.value, date | time | timedelta):
        return (
            f"cell {cell.coordinate} holds a date; the spreadsheet may have made it of a fraction "
            "such as 3/8",
            "Format the cell as text, and type the value again.",
        )
    if cell.data_type == "e":
        return (
            f"cell {cell.coordinate} holds an error ({cell.value})",
            "Mend the formula, or type the value.",
        )
    if isinstance(cell.value, bool):
        return f"cell {cell.coordinate} holds {cell.value}", "Type the value."
    if cell.value is None and written.data_type == "f":
        return (
            f"the formula in cell {cell.coordinate} has no value yet",
            "Open the file in the spreadsheet program and save it, or type the value.",
        )
    return None


def _is_remark(value: object) -> bool:
    return isinstance(value, str) and value.lstrip().startswith("#")


def _as_csv(sheet: Any) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    for row in sheet.iter_rows(values_only=True):
        if row and _is_remark(row[0]):
            out.write(_one_line(str(row[0]).strip()) + "\n")
        else:
            writer.writerow([_text(value) for value in row])
    return out.getvalue()


def _text(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.12g}"
    return _one_line(str(value))


def _one_line(text: str) -> str:
    return " ".join(text.split())


def _one(path: Path, what: str, remedy: str) -> DocumentError:
    return DocumentError([Fault(str(path), None, "", what, remedy)])
