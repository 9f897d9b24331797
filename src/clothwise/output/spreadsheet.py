"""A table as a spreadsheet: CSV for programs and diffs, XLSX for people.

Numbers stay numbers; their unit stands in the heading. No text is ever taken for a formula. The
same table gives the same bytes.

>>> columns = (SheetColumn("edge"), SheetColumn("38 (mm)"))
>>> csv_bytes(Sheet("lengths", "Lengths", columns, [("=hem", 3.5)])).decode().splitlines()
['edge,38 (mm)', "'=hem,3.5"]
"""

from __future__ import annotations

import csv
import io
import re
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeAlias

from clothwise.errors import Misuse

if TYPE_CHECKING:
    from openpyxl.cell import Cell
    from openpyxl.worksheet.worksheet import Worksheet

__all__ = [
    "EIGHTHS",
    "Sheet",
    "SheetCell",
    "SheetColumn",
    "csv_bytes",
    "inert",
    "xlsx_bytes",
]

SheetCell: TypeAlias = str | float | int | None
"""Text, a number, or nothing."""

EIGHTHS = "# ?/8"
"""Number format that shows 36.125 as 36 1/8, as it stands on an inch ruler."""

_NARROWEST, _WIDEST = 6, 60  # letters
_TITLE_POINTS = 14
_MOMENT = "1980-01-01T00:00:00Z"
"""Written as the time of making: the earliest that a ZIP archive can hold."""
_STARTS_FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What a spreadsheet program may take for a formula when it opens a CSV file."""
_NOT_IN_XML = re.compile("[\x00-\x08\x0b-\x1f\x7f\ud800-\udfff\ufffe\uffff]")
_NOT_IN_A_TAB = re.compile(r"[\[\]:*?/\\']")
_LONGEST_TAB = 31  # letters, by ECMA-376


@dataclass(frozen=True)
class SheetColumn:
    """A column: its heading with the unit, and how its numbers are shown.

    `width` is in letters; 0 takes as much as the longest cell needs. `number_format` is one of
    the spreadsheet's own, such as `0.0` or `EIGHTHS`.
    """

    title: str
    width: int = 0
    number_format: str = "General"


@dataclass(frozen=True)
class Sheet:
    """A table with its title; `name` is written on its tab, `notes` stand below.

    The first `frozen_columns` stay in sight when the rest is scrolled, as the heading does.
    """

    name: str
    title: str
    columns: Sequence[SheetColumn]
    rows: Sequence[Sequence[SheetCell]]
    subtitle: str = ""
    notes: Sequence[str] = field(default=())
    frozen_columns: int = 1


def csv_bytes(sheet: Sheet) -> bytes:
    """The heading and the rows as CSV (RFC 4180, UTF-8); title and notes are left out.

    A text that a spreadsheet program would run as a formula gets an apostrophe before it.
    """
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow([inert(column.title) for column in sheet.columns])
    writer.writerows([[inert(cell) for cell in row] for row in sheet.rows])
    return out.getvalue().encode("utf-8", "replace")


def xlsx_bytes(*sheets: Sheet) -> bytes:
    """Tables as one XLSX workbook, each on a tab of its own.

    Headings are frozen and repeated on each printed page; a page is landscape and as wide as the
    table.

    Raises:
        Misuse: there is no table, or two have the same name.
    """
    from openpyxl import Workbook

    names = [_tab(sheet.name) for sheet in sheets]
    if not sheets or len({name.casefold() for name in names}) < len(names):
        raise Misuse(
            "a workbook needs tables with names of their own",
            how_much=", ".join(names) or "none",
            what_to_do="Give each table another name.",
        )
    book = Workbook()
    book.remove(book.active)
    book.properties.creator = "Clothwise"
    book.properties.title = _clean(sheets[0].title)
    for sheet, name in zip(sheets, names, strict=True):
        _fill(book.create_sheet(name), sheet)
    out = io.BytesIO()
    book.save(out)
    return _at_a_fixed_moment(out.getvalue())


def inert(cell: SheetCell) -> SheetCell:
    """Return a cell that no program takes for a formula, also where all cells are mere text."""
    if isinstance(cell, str) and cell.startswith(_STARTS_FORMULA):
        return f"'{cell}"
    return cell


def _clean(text: str) -> str:
    return _NOT_IN_XML.sub(" ", text)


def _tab(name: str) -> str:
    return _NOT_IN_A_TAB.sub(" ", _clean(name)).strip()[:_LONGEST_TAB] or "table"


def _fill(page: Worksheet, sheet: Sheet) -> None:
    from openpyxl.styles import Alignment, Border, Font, Side

    thread = Border(bottom=Side(style="medium", color="B3402A"))
    chalk = Border(bottom=Side(style="hair", color="8F8A82"))
    _put(page.cell(1, 1), sheet.title).font = Font(bold=True, size=_TITLE_POINTS)
    if sheet.subtitle:
        _put(page.cell(2, 1), sheet.subtitle)
    head = 4
    for at, column in enumerate(sheet.columns, start=1):
        cell = _put(page.cell(head, at), column.title)
        cell.font, cell.border = Font(bold=True), thread
        cell.alignment = Alignment(
            wrap_text=True, vertical="bottom", horizontal="right" if _numeric(sheet, at) else None
        )
    for down, row in enumerate(sheet.rows, start=head + 1):
        for at, value in enumerate(row, start=1):
            cell = _put(page.cell(down, at), value)
            cell.border = chalk
            cell.alignment = Alignment(wrap_text=isinstance(value, str), vertical="top")
            if isinstance(value, int | float):
                cell.number_format = sheet.columns[at - 1].number_format
    for down, note in enumerate(sheet.notes, start=head + len(sheet.rows) + 2):
        _put(page.cell(down, 1), note).font = Font(italic=True)
    _set_up(page, sheet, head)


def _numeric(sheet: Sheet, at: int) -> bool:
    return any(len(row) >= at and isinstance(row[at - 1], int | float) for row in sheet.rows)


def _put(cell: Cell, value: SheetCell) -> Cell:
    cell.value = _clean(value) if isinstance(value, str) else value
    if isinstance(value, str):
        cell.data_type = "s"  # never a formula, whatever it begins with
        cell.quotePrefix = value.startswith(_STARTS_FORMULA)
    return cell


def _set_up(page: Worksheet, sheet: Sheet, head: int) -> None:
    """Widths, what stays in sight, and the printed page."""
    from openpyxl.utils import get_column_letter

    for at, column in enumerate(sheet.columns):
        texts = [column.title, *(str(row[at]) for row in sheet.rows if at < len(row))]
        natural = max(map(len, texts)) + 1 if not column.width else column.width
        width = max(_NARROWEST, min(natural, _WIDEST))
        page.column_dimensions[get_column_letter(at + 1)].width = width
    page.freeze_panes = page.cell(head + 1, sheet.frozen_columns + 1)
    page.print_title_rows = f"{head}:{head}"
    page.page_setup.orientation = "landscape"
    page.page_setup.fitToWidth, page.page_setup.fitToHeight = 1, 0
    page.sheet_properties.pageSetUpPr.fitToPage = True
    page.oddFooter.right.text = "&P / &N"


def _at_a_fixed_moment(book: bytes) -> bytes:
    """The workbook without the time at which it was written."""
    out = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(book)) as found,
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as kept,
    ):
        for name in found.namelist():
            content = found.read(name)
            if name == "docProps/core.xml":
                content = re.sub(rb"\d{4}-\d\d-\d\dT[0-9:.]+Z", _MOMENT.encode(), content)
            info = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            info.compress_type, info.external_attr = zipfile.ZIP_DEFLATED, 0o644 << 16
            kept.writestr(info, content)
    return out.getvalue()
