"""Tables from spreadsheets (XLSX, ISO/IEC 29500), as the text of the same table in CSV.

The visible sheet that holds a table is read, that is one whose headings name sizes, people or
measurements. Row 7 of the sheet is line 7 of the text, so that whatever is said of a line can be
found in the spreadsheet. Of a formula the value is taken that the spreadsheet last worked out. What
cannot be read for certain is refused, cell by cell: merged cells, hidden rows and columns, dates,
errors. A unit or leading zeros that a cell only shows, by its number format, count as if typed.
"""

from __future__ import annotations

import csv
import io
import re
import warnings
import zipfile
import zlib
from collections.abc import Iterator
from datetime import date, time, timedelta
from pathlib import Path
from typing import Any

from clothwise.errors import DocumentError, Fault
from clothwise.pattern.csv_table import MAX_COLUMNS, MAX_FILE_BYTES, read_text

__all__ = ["MAX_ROWS", "SHEET_SUFFIX", "table_text"]

SHEET_SUFFIX = ".xlsx"

MAX_ROWS = 5_100
"""More rows than the longest table that is read (5,000 people) and some remarks above it."""

_MOST_UNPACKED_BYTES = 40_000_000
"""Of all parts of the file. Our own choice; a sheet of 5,000 people has about 5,000,000."""
_MOST_CELLS = 300_000
"""Of all sheets. Our own choice: 5,000 people with 60 measurements each."""
_MOST_ELEMENTS = 10_000
"""Of other kinds, in each part: styles, rules, shapes. Our own choice: the engine needs 1 s."""
_MOST_MERGED = 100_000
"""Cells in merged ranges. Our own choice: the engine makes each of them."""
_MOST_FAULTS = 20
_ZIP_START, _OLD_SHEET_START = b"PK", b"\xd0\xcf\x11\xe0"
_FORBIDDEN = re.compile(rb"<!(DOCTYPE|ENTITY)", re.IGNORECASE)
_ROW = re.compile(rb"<(?:\w+:)?row[ />]")
_CELL = re.compile(rb"<(?:\w+:)?c[ />]")
_PLAIN = re.compile(rb"<(?:\w+:)?(?:row|c|v|f|is|t|si)[ />]")
_FAR_CELL = re.compile(rb"""\br=["'][A-Z]{3,}\d""")
_MERGED = re.compile(
    rb"""<(?:\w+:)?mergeCell\s[^>]*?ref=["']([A-Z]{1,9})(\d{1,9}):([A-Z]{1,9})(\d{1,9})"""
)
_FORMULA = re.compile(rb"<(\w+:)?f[ />]")
_TABLE_HEADINGS = re.compile(r"(size|name|person|no|number|tester|measurement)\b")
_SHOWN_UNIT = re.compile(r'"\s*(mm|cm|in|inch|inches|deg|°|\'|″)\s*"')  # in a number format
_SHOWN_ZEROS = re.compile(r"0{2,10}")
_RULER = (2, 4, 8, 16, 32)  # denominators of fractions of an inch


def table_text(path: Path) -> str:
    """Return the text of a CSV file, or of the first sheet of an XLSX file as CSV.

    Raises:
        DocumentError: the file cannot be read, is too large, or has cells that cannot be read for
            certain; each is named as the spreadsheet names it, such as C5.
    """
    if path.suffix.casefold() != SHEET_SUFFIX or not path.is_file():
        return read_text(path)
    has_formulas = _refuse_unsafe(path)
    try:
        book, written = _books(path, has_formulas)
        sheet = _sheet_with_table(path, book)
        faults = list(_faults(sheet, written[sheet.title], str(path)))
    except DocumentError:
        raise
    except Exception as error:  # the engine answers damage with whatever it stumbles over
        raise _one(path, f"the spreadsheet is damaged: {error}", "Save it once more.") from error
    if faults:
        raise DocumentError(faults[:_MOST_FAULTS])
    return _as_csv(sheet)


def _books(path: Path, has_formulas: bool) -> tuple[Any, Any]:
    """Open the file twice if need be: with the values of formulas, and with what stands there."""
    import openpyxl

    content = path.read_bytes()  # damage would leave a file of the engine's open
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # about decorations that are of no use here
        _refuse_too_long(path, content, openpyxl)
        book = openpyxl.load_workbook(io.BytesIO(content), data_only=True, keep_links=False)
        if not has_formulas:
            return book, book
        return book, openpyxl.load_workbook(io.BytesIO(content), keep_links=False)


def _sheet_with_table(path: Path, book: Any) -> Any:
    """Return the sheet to read.

    Raises:
        DocumentError: there is none, or several hold tables.
    """
    used = [sheet for sheet in book.worksheets if _is_used(sheet)]
    tables = [sheet for sheet in used if _looks_like_table(sheet)]
    if len(tables) > 1:
        names = ", ".join(repr(sheet.title) for sheet in tables)
        what = f"several sheets hold a table, and nothing says which is meant: {names}"
        raise _one(path, what, "Hide the others, or save each in a file of its own.")
    if not used:
        raise _one(path, "the spreadsheet is empty", "Write a heading and one row per size.")
    return (tables or used)[0]


def _looks_like_table(sheet: Any) -> bool:
    """Tell whether the first row that is no remark has the heading of a table's first column."""
    for row in sheet.iter_rows(values_only=True, max_col=min(sheet.max_column, MAX_COLUMNS)):
        texts = [str(value).strip().casefold() for value in row if value is not None]
        if texts and not texts[0].startswith("#"):
            return len(texts) > 1 and any(_TABLE_HEADINGS.match(text) for text in texts)
    return False


def _refuse_unsafe(path: Path) -> bool:
    """Refuse what is no spreadsheet, too large, or could keep a reader busy for ever.

    Tells whether there are formulas.
    """
    formulas, cells = False, 0
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
                if not part.filename.endswith((".xml", ".rels")):
                    continue
                content = parts.read(part).replace(b"\0", b"")  # UTF-16 hides nothing
                if content.count(b"<") > 5 * _MOST_CELLS:  # each has a start and an end, twice
                    raise _too_many_cells(path)
                formulas = formulas or bool(_FORMULA.search(content))
                if _FORBIDDEN.search(content):
                    what = f"{part.filename} in the spreadsheet declares entities"
                    raise _one(path, what, "Save it once more with a spreadsheet program.")
                _refuse_endless(path, content)  # before any engine takes its time
                cells += len(_CELL.findall(content))
                if cells > _MOST_CELLS:
                    raise _too_many_cells(path)
    except (zipfile.BadZipFile, zlib.error, RuntimeError, EOFError) as error:
        raise _one(path, f"the spreadsheet is damaged: {error}", "Save it once more.") from error
    return formulas


def _refuse_endless(path: Path, content: bytes) -> None:
    """Refuse a part of a spreadsheet that is small as a file and enormous as a table."""
    if len(_ROW.findall(content)) > MAX_ROWS:
        raise _too_long(path, "a sheet")
    if _FAR_CELL.search(content):
        what = f"a sheet has more than {MAX_COLUMNS} columns"
        raise _one(path, what, "Copy the table into a spreadsheet of its own.")
    merged = sum(map(_area, _MERGED.findall(content)))
    others = content.count(b"<") - content.count(b"</") - len(_PLAIN.findall(content))
    if merged > _MOST_MERGED or others > _MOST_ELEMENTS:
        what = "a sheet has more merged cells, rules or styles than a table needs"
        raise _one(path, what, "Copy the table alone into a spreadsheet of its own.")


def _too_many_cells(path: Path) -> DocumentError:
    what = f"the spreadsheet has more than {_MOST_CELLS:,} cells"
    return _one(path, what, "Copy the table into a spreadsheet of its own.")


def _area(range_: tuple[bytes, bytes, bytes, bytes]) -> int:
    """How many cells a range has, such as A1:C5."""
    left, top, right, bottom = range_
    width, height = _column(right) - _column(left) + 1, int(bottom) - int(top) + 1
    return max(width, 1) * max(height, 1)


def _column(letters: bytes) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + letter - 64
    return number


def _refuse_too_long(path: Path, content: bytes, openpyxl: Any) -> None:
    """Refuse sheets with few rows but high row numbers, reading no more rows than are allowed."""
    book = openpyxl.load_workbook(io.BytesIO(content), read_only=True)
    try:
        for sheet in book.worksheets:
            for number, _ in enumerate(sheet.iter_rows(values_only=True), start=1):
                if number > MAX_ROWS:
                    raise _too_long(path, f"sheet {sheet.title!r}")
    finally:
        book.close()


def _too_long(path: Path, sheet: str) -> DocumentError:
    what = f"{sheet} has more than {MAX_ROWS:,} rows"
    return _one(path, what, "Is this the right file? Delete empty rows below.")


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
        remedy = "Unmerge them."
        if merged.min_row == merged.max_row and _is_first(merged, sheet):
            remedy = (
                "Unmerge them. If it is a title, let it start with #, as in # title: Our sizes."
            )
        yield Fault(file, merged.min_row, f"cell {merged.coord}", what, remedy)
    for number, row in sheet.row_dimensions.items():
        if row.hidden and any(cell.value is not None for cell in sheet[number]):
            remedy = "Show it, or delete it if it does not belong to the table."
            yield Fault(file, number, f"row {number}", f"row {number} is hidden", remedy)
    for letter, column in sheet.column_dimensions.items():
        if column.hidden and _has_values(sheet, column):
            remedy = "Show it, or delete it if it does not belong to the table."
            yield Fault(file, None, f"column {letter}", f"column {letter} is hidden", remedy)
    for row in sheet.iter_rows():
        for cell in row:
            problem = _problem(cell, written[cell.coordinate])
            if problem:
                yield Fault(file, cell.row, f"cell {cell.coordinate}", *problem)


def _has_values(sheet: Any, column: Any) -> bool:
    last = min(column.max, sheet.max_column)
    cells = sheet.iter_rows(min_col=column.min, max_col=last, values_only=True)
    return column.min <= last and any(value is not None for row in cells for value in row)


def _is_first(merged: Any, sheet: Any) -> bool:
    """Tell whether nothing but remarks stands above the merged cells."""
    above = [row for row in sheet.iter_rows(max_row=merged.min_row) if row[0].row < merged.min_row]
    return all(cell.value is None or _is_remark(cell.value) for row in above for cell in row)


def _problem(cell: Any, written: Any) -> tuple[str, str] | None:
    """What is wrong with a cell, and what to do."""
    if isinstance(cell.value, date | time | timedelta):
        return (
            f"this is a date ({cell.value:%Y-%m-%d}) that the spreadsheet may have made of "
            f"{_before_it_was_a_date(cell.value)}"
            if isinstance(cell.value, date)
            else "this is a time that the spreadsheet may have made of feet and inches",
            "Format the cell as text, and type the value again.",
        )
    if cell.data_type == "e":
        return f"the formula gives an error ({cell.value})", "Mend the formula, or type the value."
    if isinstance(cell.value, bool):
        return f"this is {cell.value}, not a measurement", "Type the value."
    if cell.value is None and written.data_type == "f":
        return (
            "the formula has no value yet",
            "Open the file in the spreadsheet program and save it, or type the value.",
        )
    return None


def _before_it_was_a_date(day: date) -> str:
    """Return what was probably typed: 8 March may have been 3/8, and 10 August size 8-10."""
    pairs = ((day.month, day.day), (day.day, day.month))
    fractions = [f"{over}/{under}" for over, under in pairs if over < under and under in _RULER]
    if fractions:
        return f"the fraction {' or '.join(fractions)}"
    low, high = sorted(pairs[0])
    return f"{low}/{high} or {low}-{high}"


def _is_remark(value: object) -> bool:
    return isinstance(value, str) and value.lstrip().startswith("#")


def _as_csv(sheet: Any) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    for row in sheet.iter_rows():
        if row and _is_remark(row[0].value):
            out.write(" ".join(filter(None, map(_text, row))) + "\n")
        else:
            writer.writerow([_text(cell) for cell in row])
    return out.getvalue()


def _text(cell: Any) -> str:
    """Return what the cell shows: its value, with a unit or zeros that the format adds."""
    value = cell.value
    if value is None:
        return ""
    if not isinstance(value, int | float):
        return _one_line(str(value))
    text = f"{value:.12g}" if isinstance(value, float) else str(value)
    if cell.number_format == "General":
        return text
    if _SHOWN_ZEROS.fullmatch(cell.number_format) and text.isdigit():
        return text.zfill(len(cell.number_format))
    unit = _SHOWN_UNIT.search(cell.number_format)
    return f"{text} {unit[1]}" if unit else text


def _one_line(text: str) -> str:
    return " ".join(text.split())


def _one(path: Path, what: str, remedy: str) -> DocumentError:
    return DocumentError([Fault(str(path), None, "", what, remedy)])
