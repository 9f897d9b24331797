"""Charts from spreadsheets: read like CSV, and what cannot be read is named by its cell."""

from __future__ import annotations

import datetime
import shutil
import time
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from clothwise.components import read_design
from clothwise.errors import DocumentError, Fault
from clothwise.pattern.size_chart import parse_size_chart, read_size_chart

HEADINGS = ["size", "height_cm", "bust girth (cm)", "waist_girth_cm", "hip_girth_cm"]
ROWS: list[list[Any]] = [
    ["38", 168, 88, 70.5, 94],
    ["40", 168, 92, "74,5", 98],
    ["42", 168, "37 3/4 in", 78.5, 102],
]
AS_CSV = (
    "size;height_cm;bust girth (cm);waist_girth_cm;hip_girth_cm\n"
    "38;168;88;70.5;94\n40;168;92;74,5;98\n42;168;37 3/4 in;78.5;102\n"
)
EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def chart(folder: Path, change: Callable[[Any], None] = lambda _: None) -> Path:
    """The chart as a spreadsheet, with something done to its sheet."""
    book = openpyxl.Workbook()
    sheet = book.active
    for row in (HEADINGS, *ROWS):
        sheet.append(row)
    change(sheet)
    path = folder / "sizes.xlsx"
    book.save(path)
    return path


def faults_of(path: Path) -> tuple[Fault, ...]:
    with pytest.raises(DocumentError) as caught:
        read_size_chart(path)
    assert all(fault.what and fault.remedy for fault in caught.value.faults)
    return caught.value.faults


def test_a_spreadsheet_is_the_same_chart_as_its_csv(tmp_path: Path) -> None:
    assert read_size_chart(chart(tmp_path)) == parse_size_chart(AS_CSV)


def test_blank_rows_remarks_and_blank_columns_do_not_matter(tmp_path: Path) -> None:
    def spaced(sheet: Any) -> None:
        sheet.insert_rows(3, 2)
        sheet.insert_cols(1)
        sheet.insert_rows(1, 2)
        sheet["A1"] = "# title: Studio chart"

    found = read_size_chart(chart(tmp_path, spaced))
    assert found.title == "Studio chart"
    assert found.sizes == parse_size_chart(AS_CSV).sizes


def test_a_design_may_have_its_chart_in_a_spreadsheet(tmp_path: Path) -> None:
    folder = tmp_path / "dress"
    shutil.copytree(EXAMPLES / "kiln-dress", folder)
    lines = (folder / "sizes.csv").read_text(encoding="utf-8").splitlines()
    book = openpyxl.Workbook()
    for line in lines:
        book.active.append([line] if line.startswith("#") else line.split(","))
    book.save(folder / "sizes.xlsx")
    before = read_design(folder).chart
    text = (folder / "design.yaml").read_text(encoding="utf-8")
    (folder / "design.yaml").write_text(text.replace("sizes.csv", "sizes.xlsx"), encoding="utf-8")
    assert read_design(folder).chart == before


def merged(sheet: Any) -> None:
    sheet.merge_cells("C2:C3")


def dated(sheet: Any) -> None:
    sheet["D3"] = datetime.date(2026, 3, 8)


def broken_formula(sheet: Any) -> None:
    sheet["D3"] = "=D2+4"  # written by a program that works nothing out


def hidden(sheet: Any) -> None:
    sheet.row_dimensions[3].hidden = True


def wrong(sheet: Any) -> None:
    sheet["C3"] = "#REF!"


def yes(sheet: Any) -> None:
    sheet["C3"] = True


@pytest.mark.parametrize(
    ("change", "place", "what"),
    [
        (merged, "cell C2:C3", "merged"),
        (dated, "cell D3", "fraction"),
        (broken_formula, "cell D3", "no value yet"),
        (hidden, "row 3", "hidden"),
        (wrong, "cell C3", "error"),
        (yes, "cell C3", "True"),
    ],
)
def test_what_cannot_be_read_for_certain_is_named(
    tmp_path: Path, change: Callable[[Any], None], place: str, what: str
) -> None:
    (fault,) = faults_of(chart(tmp_path, change))
    assert fault.path == place
    assert what in fault.what


def test_a_wrong_value_is_told_with_the_row_of_the_sheet(tmp_path: Path) -> None:
    def nonsense(sheet: Any) -> None:
        sheet["C4"] = "wide"

    (fault,) = faults_of(chart(tmp_path, nonsense))
    assert (fault.line, fault.path) == (4, "size 42, column bust girth (cm), cell C4")


def test_every_kind_of_fault_names_its_cell(tmp_path: Path) -> None:
    def wrong_all_over(sheet: Any) -> None:
        sheet.insert_cols(1, 26)  # the table begins in column AA
        sheet["AD1"] = "wasit_cm"
        sheet["AA3"] = "38"
        sheet["AE4"] = "9.8"
        sheet["AG4"] = "a note"

    cells = [
        fault.path.rpartition("cell ")[2] for fault in faults_of(chart(tmp_path, wrong_all_over))
    ]
    assert cells == ["AD1", "", "AA3", "AG4", "AE4"]  # none where waist_girth has no column


def test_the_value_of_a_formula_is_what_was_last_worked_out(tmp_path: Path) -> None:
    path = chart(tmp_path)
    before = read_size_chart(path)

    def as_formula(part: bytes) -> bytes:
        assert b"<v>92</v>" in part
        return part.replace(b"<v>92</v>", b"<f>C2+4</f><v>92</v>")

    assert read_size_chart(rewritten(path, "xl/worksheets/sheet1.xml", as_formula)) == before


def test_only_hidden_columns_that_hold_something_matter(tmp_path: Path) -> None:
    def hide(sheet: Any, letter: str) -> None:
        sheet.column_dimensions[letter].hidden = True

    assert len(read_size_chart(chart(tmp_path, lambda sheet: hide(sheet, "H")))) == 3
    (fault,) = faults_of(chart(tmp_path, lambda sheet: hide(sheet, "C")))
    assert fault.path == "column C"


def test_a_fact_may_be_spread_over_two_cells(tmp_path: Path) -> None:
    def spread(sheet: Any) -> None:
        for cell in sheet[1]:
            cell.value = cell.value.replace(" (cm)", "").replace("_cm", "").replace(" ", "_")
        sheet.insert_rows(1)
        sheet["A1"], sheet["B1"] = "# unit:", "cm"

    assert read_size_chart(chart(tmp_path, spread)).sizes == parse_size_chart(AS_CSV).sizes


def test_the_first_visible_sheet_with_something_in_it_is_read(tmp_path: Path) -> None:
    def more(sheet: Any) -> None:
        book = sheet.parent
        book.create_sheet("empty", 0)
        secret = book.create_sheet("secret", 0)
        secret.append(["not", "a", "chart"])
        secret.sheet_state = "hidden"
        book.create_sheet("notes").append(["a note"])

    assert read_size_chart(chart(tmp_path, more)).names == ("38", "40", "42")


def test_the_sheet_with_a_table_is_found_wherever_it_stands(tmp_path: Path) -> None:
    def notes_first(sheet: Any) -> None:
        sheet.parent.create_sheet("notes", 0).append(["remarks about", "the sizes"])

    assert read_size_chart(chart(tmp_path, notes_first)).names == ("38", "40", "42")


def test_of_two_tables_none_is_chosen_silently(tmp_path: Path) -> None:
    def two(sheet: Any) -> None:
        sheet.title = "EU"
        sheet.parent.create_sheet("US").append(HEADINGS)

    (fault,) = faults_of(chart(tmp_path, two))
    assert "'EU', 'US'" in fault.what
    assert "Hide the others" in fault.remedy


def test_what_a_cell_shows_counts(tmp_path: Path) -> None:
    """A number may show a unit, or zeros before it, that are no part of its value."""

    def shown(sheet: Any) -> None:
        sheet["A2"], sheet["A3"] = 0, 0
        sheet["A2"].number_format = "00"
        sheet["C3"] = 36.5
        sheet["C3"].number_format = '0.0" in"'

    found = read_size_chart(chart(tmp_path, shown))
    assert found.names == ("00", "0", "42")
    assert found.size("0")["bust_girth"] == pytest.approx(36.5 * 25.4, abs=1e-9)


@pytest.mark.parametrize(
    ("cell", "day", "typed"),
    [
        ("D3", datetime.date(2026, 3, 8), "the fraction 3/8"),
        ("D3", datetime.datetime(2026, 8, 5), "the fraction 5/8"),
        ("D3", datetime.date(2026, 2, 1), "the fraction 1/2"),
        ("A3", datetime.date(2026, 10, 12), "10/12 or 10-12"),
        ("D3", datetime.time(5, 6), "feet and inches"),
    ],
)
def test_a_date_names_what_was_probably_typed(
    tmp_path: Path, cell: str, day: object, typed: str
) -> None:
    def dated(sheet: Any) -> None:
        sheet[cell] = day

    (fault,) = faults_of(chart(tmp_path, dated))
    assert fault.path == f"cell {cell}"
    assert typed in fault.what
    assert "as text" in fault.remedy


def test_a_merged_title_may_be_a_remark(tmp_path: Path) -> None:
    def titled(sheet: Any, text: str) -> None:
        sheet.insert_rows(1)
        sheet["A1"] = text
        sheet.merge_cells("A1:E1")

    found = read_size_chart(chart(tmp_path, lambda sheet: titled(sheet, "# title: Ours")))
    assert found.title == "Ours"
    (fault,) = faults_of(chart(tmp_path, lambda sheet: titled(sheet, "Ours")))
    assert fault.path == "cell A1:E1"
    assert "# title: Our sizes" in fault.remedy


def test_a_far_away_cell_costs_no_time(tmp_path: Path) -> None:
    started = time.perf_counter()
    for cell, what in (("XFD4", "more than 200 columns"), ("A1048576", "more than 5,100 rows")):

        def far(sheet: Any, cell: str = cell) -> None:
            sheet[cell] = 1

        (fault,) = faults_of(chart(tmp_path, far))
        assert what in fault.what
    assert time.perf_counter() - started < 5


@pytest.mark.parametrize(
    ("width", "what"), [(5, "too large"), (2, "more than 5,100 rows")], ids=["large", "packed well"]
)
def test_a_hundred_thousand_rows_are_refused_soon(tmp_path: Path, width: int, what: str) -> None:
    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet()
    for _ in range(100_000):
        sheet.append([1] * width)
    path = tmp_path / "long.xlsx"
    book.save(path)
    started = time.process_time()  # whatever else the machine does
    (fault,) = faults_of(path)
    assert what in fault.what
    assert time.process_time() - started < 2


@pytest.mark.parametrize(
    ("content", "what"),
    [
        (b"size,bust_girth_cm\n38,88\n", "no XLSX"),
        (b"PK\x03\x04 torn off", "damaged"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(500), "password"),
        (b"", "no XLSX"),
    ],
)
def test_files_that_are_no_spreadsheets(tmp_path: Path, content: bytes, what: str) -> None:
    path = tmp_path / "sizes.xlsx"
    path.write_bytes(content)
    (fault,) = faults_of(path)
    assert what in fault.what


def rewritten(path: Path, part: str, change: Callable[[bytes], bytes]) -> Path:
    """The spreadsheet with one of its parts changed."""
    with zipfile.ZipFile(path) as old:
        parts = {each.filename: old.read(each) for each in old.infolist()}
    assert part in parts
    parts[part] = change(parts[part])
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for name, content in parts.items():
            new.writestr(name, content)
    return path


ENDLESS = {
    "cells": (b"<row>" + b"<c><v>1</v></c>" * 900_000 + b"</row>", b"", "more than 300,000 cells"),
    "cells without values": (b"<row>" + b"<c/>" * 400_000 + b"</row>", b"", "300,000 cells"),
    "one merged range": (
        b"",
        b'<mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>',
        "merged",
    ),
    "rules": (b"", b"<dataValidations>" + b'<dataValidation sqref="A1"/>' * 20_000, "rules"),
    "columns": (b"", b'<cols><col min="1" max="16384"/>' + b"<col/>" * 30_000, "styles"),
}


@pytest.mark.parametrize("name", ENDLESS)
def test_spreadsheets_that_unpack_without_end_are_refused_soon(name: str, tmp_path: Path) -> None:
    """Some kB of file that would keep a reader busy for minutes, or for ever."""
    rows, behind, what = ENDLESS[name]

    def endless(content: bytes) -> bytes:
        begins = content.index(b"<sheetData>")
        return content[:begins] + b"<sheetData>" + rows + b"</sheetData>" + behind

    path = rewritten(chart(tmp_path), "xl/worksheets/sheet1.xml", endless)
    assert path.stat().st_size < 100_000
    started = time.process_time()
    (fault,) = faults_of(path)
    assert what in fault.what
    assert time.process_time() - started < 2


def test_entities_are_refused_unread(tmp_path: Path) -> None:
    bomb = b'<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>'

    def armed(part: bytes) -> bytes:
        head, _, rest = part.partition(b"?>")
        return head + b"?>" + bomb + rest if rest else bomb + part

    path = rewritten(chart(tmp_path), "xl/worksheets/sheet1.xml", armed)
    (fault,) = faults_of(path)
    assert "entities" in fault.what


def test_entities_do_not_hide_in_another_encoding(tmp_path: Path) -> None:
    def armed(part: bytes) -> bytes:
        text = part.decode().partition("?>")[2] or part.decode()
        head = '<?xml version="1.0" encoding="UTF-16"?><!DOCTYPE x [<!ENTITY a "a">]>'
        return (head + text).encode("utf-16")

    (fault,) = faults_of(rewritten(chart(tmp_path), "xl/workbook.xml", armed))
    assert "entities" in fault.what


@pytest.mark.parametrize(
    ("before", "after"),
    [(b'r="C2"', b'r="C2" s="999"'), (b'r="C2"', b'r="!!"'), (b"<v>88</v>", b"<v>abc</v>")],
)
def test_damage_inside_a_sheet_is_told_as_damage(
    tmp_path: Path, before: bytes, after: bytes
) -> None:
    def damaged(part: bytes) -> bytes:
        assert before in part
        return part.replace(before, after)

    (fault,) = faults_of(rewritten(chart(tmp_path), "xl/worksheets/sheet1.xml", damaged))
    assert "damaged" in fault.what


def test_a_spreadsheet_by_another_name_is_told_as_one(tmp_path: Path) -> None:
    path = chart(tmp_path).rename(tmp_path / "sizes.csv")
    (fault,) = faults_of(path)
    assert "a spreadsheet" in fault.what
    assert ".xlsx" in fault.remedy


def test_a_small_file_that_unpacks_to_a_huge_one_is_refused(tmp_path: Path) -> None:
    path = rewritten(chart(tmp_path), "docProps/app.xml", lambda part: part + bytes(60_000_000))
    (fault,) = faults_of(path)
    assert "too large" in fault.what


def test_a_part_that_is_missing_is_no_traceback(tmp_path: Path) -> None:
    path = rewritten(chart(tmp_path), "xl/workbook.xml", lambda _: b"<workbook/>")
    assert faults_of(path)
