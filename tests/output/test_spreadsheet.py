"""Spreadsheets open in another reader with the same values, and run nothing."""

from __future__ import annotations

import csv
import io
import re
import zipfile
from typing import Any

import pytest
from openpyxl import load_workbook

from clothwise.errors import Misuse
from clothwise.output.spreadsheet import EIGHTHS, Sheet, SheetColumn, csv_bytes, xlsx_bytes

COLUMNS = (
    SheetColumn("edge"),
    SheetColumn("34 (mm)", 12, "0.0"),
    SheetColumn("36 (in)", 9, EIGHTHS),
)
ROWS = (("hem", 12.5, 36.125), ("side", None, 7), ("“round” ä½, x\ny", -3, 0.0))
TABLE = Sheet("lengths", "Lengths of edges", COLUMNS, ROWS, "Sizes 34 to 36", ("One note.",), 1)
FORMULAS = ("=1+1", "+1", "-1+2", "@SUM(A1)", "\t=1", "\r=1", '=HYPERLINK("x")')


def opened(content: bytes) -> Any:
    return load_workbook(io.BytesIO(content))


def test_csv_holds_heading_and_rows() -> None:
    rows = list(csv.reader(io.StringIO(csv_bytes(TABLE).decode("utf-8"), newline="")))
    assert rows[0] == ["edge", "34 (mm)", "36 (in)"]
    assert rows[1:] == [[str("" if cell is None else cell) for cell in row] for row in ROWS]


def test_xlsx_gives_back_what_was_written() -> None:
    page = opened(xlsx_bytes(TABLE))["lengths"]
    assert page["A1"].value == TABLE.title
    assert page["A2"].value == TABLE.subtitle
    assert [cell.value for cell in page[4]] == [column.title for column in COLUMNS]
    for down, row in enumerate(ROWS, start=5):
        assert tuple(cell.value for cell in page[down]) == row
    assert page.cell(4 + len(ROWS) + 2, 1).value == "One note."


def test_numbers_are_numbers_and_show_as_on_a_ruler() -> None:
    page = opened(xlsx_bytes(TABLE))["lengths"]
    assert page["B5"].data_type == page["C5"].data_type == "n"
    assert page["C5"].number_format == "# ?/8"
    assert page["B5"].number_format == "0.0"


def test_the_heading_stays_in_sight_and_is_printed_on_each_page() -> None:
    page = opened(xlsx_bytes(TABLE))["lengths"]
    assert page.freeze_panes == "B5"
    assert page.print_title_rows == "$4:$4"
    assert page.page_setup.orientation == "landscape"
    assert (page.page_setup.fitToWidth, page.page_setup.fitToHeight) == (1, 0)
    assert page.sheet_properties.pageSetUpPr.fitToPage


def test_columns_are_as_wide_as_asked_or_as_their_texts() -> None:
    page = opened(xlsx_bytes(TABLE))["lengths"]
    assert page.column_dimensions["B"].width == 12
    assert page.column_dimensions["A"].width >= len("edge")


@pytest.mark.parametrize("text", FORMULAS)
def test_no_text_becomes_a_formula(text: str) -> None:
    table = Sheet("t", text, (SheetColumn(text),), ((text,),), text, (text,))
    (head, row) = csv.reader(io.StringIO(csv_bytes(table).decode(), newline=""))
    assert head[0][0] == row[0][0] == "'"
    content = xlsx_bytes(table)
    page = opened(content)["t"]
    cells = [cell for line in page.iter_rows() for cell in line if cell.value is not None]
    assert len(cells) == 5
    assert all(cell.data_type == "s" for cell in cells)
    with zipfile.ZipFile(io.BytesIO(content)) as book:
        assert b"<f>" not in book.read("xl/worksheets/sheet1.xml")


def test_letters_that_xml_cannot_hold_do_no_harm() -> None:
    table = Sheet(
        "a/b:c*[x]" + "long" * 20, "\x00\x07", (SheetColumn("\x1b"),), (("a\x0bb\ud800",),)
    )
    book = opened(xlsx_bytes(table))
    assert len(book.sheetnames[0]) <= 31
    assert book.worksheets[0]["A5"].value == "a b "
    assert csv_bytes(table)


def test_same_table_gives_same_bytes_and_no_time_of_day(monkeypatch: pytest.MonkeyPatch) -> None:
    first = xlsx_bytes(TABLE)
    monkeypatch.setenv("TZ", "Asia/Tokyo")
    assert xlsx_bytes(TABLE) == first
    with zipfile.ZipFile(io.BytesIO(first)) as book:
        assert {info.date_time for info in book.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        core = book.read("docProps/core.xml").decode()
        assert set(re.findall(r"\d{4}-\d\d-\d\dT[^<]*", core)) == {"1980-01-01T00:00:00Z"}


def test_several_tables_are_tabs_with_names_of_their_own() -> None:
    other = Sheet("other", "Other", COLUMNS, ())
    assert opened(xlsx_bytes(TABLE, other)).sheetnames == ["lengths", "other"]
    with pytest.raises(Misuse, match="names of their own"):
        xlsx_bytes(TABLE, TABLE)
    with pytest.raises(Misuse):
        xlsx_bytes()
