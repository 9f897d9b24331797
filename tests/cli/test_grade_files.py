"""Grade tables and measurement sheets from the command line; grades among the findings."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from command_line import DRESS, EXAMPLES, SKIRT, clothwise, edited, example

BEGINNINGS = {".csv": b"", ".xlsx": b"PK\x03\x04", ".pdf": b"%PDF-"}


@pytest.mark.parametrize("kind", [".csv", ".xlsx", ".pdf", ".PDF"])
def test_draft_writes_both_tables(kind: str, tmp_path: Path) -> None:
    grades, sheet = tmp_path / f"grades{kind}", tmp_path / f"sheet{kind}"
    ran = clothwise("draft", EXAMPLES / SKIRT, "--grades", grades, "--sheet", sheet)
    assert ran.code == 0, ran.err
    for path in (grades, sheet):
        assert path.read_bytes().startswith(BEGINNINGS[kind.lower()])
    if kind == ".csv":
        assert grades.read_text("utf-8").startswith("piece,point or edge,what,in 34 (mm),34 to 36")
        assert "Waistband" in sheet.read_text("utf-8")


def test_view_and_own_choices_change_the_sheet(tmp_path: Path) -> None:
    texts = []
    for number, options in enumerate((["--view", "A"], ["--view", "B"], ["--choose", "pockets=0"])):
        path = tmp_path / f"{number}.csv"
        assert clothwise("draft", EXAMPLES / DRESS, *options, "--sheet", path).code == 0
        texts.append(path.read_text("utf-8"))
    assert ["Sleeve hem" in text for text in texts] == [True, False, True]
    assert ["Pocket" in text for text in texts] == [True, False, False]


@pytest.mark.parametrize("name", ["table.doc", "table", "table.xls"])
def test_another_kind_of_file_is_refused_before_anything_is_written(
    name: str, tmp_path: Path
) -> None:
    ran = clothwise(
        "draft", EXAMPLES / SKIRT, "--grades", tmp_path / "good.csv", "--sheet", tmp_path / name
    )
    assert ran.code == 2
    assert "CSV, XLSX or PDF" in ran.err
    assert list(tmp_path.iterdir()) == []


def test_one_size_has_no_grades_but_a_sheet(tmp_path: Path) -> None:
    skirt = example(SKIRT, tmp_path)
    rows = (skirt / "sizes.csv").read_text("utf-8").splitlines(keepends=True)
    kept = [row for row in rows if not row[:2].isdigit() or row.startswith("38")]
    (skirt / "sizes.csv").write_text("".join(kept), encoding="utf-8")
    ran = clothwise("draft", skirt, "--grades", tmp_path / "g.csv")
    assert ran.code == 2
    assert "one size" in ran.err
    assert clothwise("draft", skirt, "--sheet", tmp_path / "s.csv").code == 0


def test_a_file_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    ran = clothwise("draft", EXAMPLES / SKIRT, "--sheet", tmp_path / "no" / "folder" / "s.csv")
    assert ran.code != 0
    assert "s.csv" in ran.err


def test_check_tells_that_rows_of_the_chart_are_swapped(tmp_path: Path) -> None:
    dress = example(DRESS, tmp_path)
    edited(dress / "sizes.csv", "40,168.2,92,74,98", "40,168.2,96,78,102")
    edited(dress / "sizes.csv", "42,168.4,96,78,102", "42,168.4,92,74,98")
    found = grade_findings("check", dress, "--json")
    assert {each["code"] for each in found} == {"GRADE-REVERSAL"}
    assert {each["size"] for each in found} == {"42"}
    assert len(found) == 2  # one for each view


def test_check_of_one_size_says_nothing_of_grades(tmp_path: Path) -> None:
    dress = example(DRESS, tmp_path)
    edited(dress / "sizes.csv", "40,168.2,92,74,98", "40,168.2,96,78,102")
    edited(dress / "sizes.csv", "42,168.4,96,78,102", "42,168.4,92,74,98")
    assert grade_findings("check", dress, "--size", "42", "--json") == []


def grade_findings(*arguments: object) -> list[dict[str, str]]:
    found = json.loads(clothwise(*arguments).out)
    return [each for each in found if each["code"].startswith("GRADE-")]
