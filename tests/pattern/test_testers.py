"""Lists of people: one row each, CSV or XLSX, with all faults at once."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from clothwise.errors import DocumentError
from clothwise.pattern.testers import MAX_PEOPLE, parse_bodies, read_bodies

LIST = (
    "name,height_cm,bust_girth_cm,waist_girth_in,hip_girth_cm\n"
    "Ada,168,92,29 1/8,98\n\nUna,5 ft 3 in,104,88 cm,110\n"
)


def test_everybody_is_read_with_their_own_units() -> None:
    ada, una = parse_bodies(LIST)
    assert (ada.name, una.name) == ("Ada", "Una")
    assert una["height"] == pytest.approx(63 * 25.4)
    assert ada["waist_girth"] == pytest.approx(29.125 * 25.4)
    assert una["waist_girth"] == 880
    assert una.is_estimated("arm_length")


@pytest.mark.parametrize("heading", ["name", "Person", "No", "tester", "size"])
def test_people_may_be_named_or_numbered(heading: str) -> None:
    assert [body.name for body in parse_bodies(LIST.replace("name", heading, 1))] == ["Ada", "Una"]


def test_spreadsheet_and_text_are_the_same_people(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    for line in LIST.splitlines():
        book.active.append(line.split(",") if line else [])
    book.save(tmp_path / "testers.xlsx")
    (tmp_path / "testers.csv").write_text(LIST, encoding="utf-8")
    assert read_bodies(tmp_path / "testers.xlsx") == read_bodies(tmp_path / "testers.csv")


def test_a_body_file_is_a_list_of_one(tmp_path: Path) -> None:
    text = (
        "# unit: cm\nmeasurement,value\nheight,166\nbust_girth,92\nwaist_girth,76\nhip_girth,102\n"
    )
    (tmp_path / "ada.csv").write_text(text, encoding="utf-8")
    (body,) = read_bodies(tmp_path / "ada.csv")
    assert body.name == "ada"


def test_every_fault_at_once() -> None:
    text = LIST + "Una,166,92,29,98\n,166,92,29,98\nIda,166,wide,29,98\nEda,166,92,29,12\n"
    with pytest.raises(DocumentError) as caught:
        parse_bodies(text)
    told = [(fault.line, fault.path) for fault in caught.value.faults]
    assert told == [
        (5, "column name"),
        (6, "column name"),
        (7, "person Ida, column bust_girth_cm"),
        (8, "person Eda, column hip_girth_cm"),
    ]


def test_an_empty_list_and_a_too_long_one_are_refused() -> None:
    heading = LIST.splitlines()[0]
    with pytest.raises(DocumentError, match="nobody"):
        parse_bodies(heading + "\n")
    with pytest.raises(DocumentError, match="more than"):
        parse_bodies(heading + "\nA,168,92,29,98" * (MAX_PEOPLE + 1))
