"""`measure` of charts, people and published tables: what is shown, saved, and refused."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from clothwise.pattern.size_chart import read_size_chart
from clothwise.pattern.testers import read_bodies
from command_line import DRESS, EXAMPLES, clothwise

CHART = (
    "size,height_cm,bust_girth_cm,waist_girth_cm,hip_girth_cm\n38,168,88,70,94\n40,168,92,74,98\n"
)
ADA = """\
name: Ada
unit: in
measurements:
  height: 5'6"
  bust_girth: 36 1/2
  waist_girth: 29
  hip_girth: 39
"""
UNA = """\
# name: Una
# unit: cm
measurement,value
height,160
bust_girth,90
waist_girth,72
hip_girth,98
"""
HEADING = "name,height_cm,bust_girth_cm,waist_girth_cm,hip_girth_cm,wrist_girth_cm\n"


def people(number: int) -> str:
    rows = (f"P{each},{160 + each % 10},{85 + each % 30},70,97,{'' if each % 2 else 16}\n"
            for each in range(number))  # fmt: skip
    return HEADING + "".join(rows)


def line_of(out: str, label: str) -> list[str]:
    """The cells of the first row with this label."""
    row = next(line for line in out.splitlines() if line.strip().startswith(label))
    return row.strip().removeprefix(label).split()


def file(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def as_workbook(folder: Path, name: str, text: str) -> Path:
    import openpyxl

    book = openpyxl.Workbook()
    for row in text.splitlines():
        book.active.append([float(c) if c.isdigit() else c or None for c in row.split(",")])
    book.save(folder / name)
    return folder / name


# Charts, people, bodies


@pytest.mark.parametrize("make", [file, as_workbook])
def test_a_chart_by_itself(tmp_path: Path, make: object) -> None:
    path = make(tmp_path, f"chart.{'csv' if make is file else 'xlsx'}", CHART)  # type: ignore[operator]
    ran = clothwise("measure", path)
    assert ran.code == 0
    assert line_of(ran.out, "measurement (cm)") == ["38", "40"]
    assert line_of(ran.out, "bust girth") == ["88", "92"]
    assert all(cell.endswith("*") for cell in line_of(ran.out, "head girth"))
    assert line_of(clothwise("measure", path, "--size", "40").out, "bust girth") == ["92"]


def test_what_is_odd_about_a_chart_is_told_below_it(tmp_path: Path) -> None:
    backwards = CHART.replace("40,168", "36,168")
    ran = clothwise("measure", file(tmp_path, "c.csv", backwards))
    assert ran.code == 0
    assert "CHART-ORDER" in ran.out.partition("* estimated")[2]


def test_whom_a_chart_fits(tmp_path: Path) -> None:
    path = file(tmp_path, "c.csv", CHART)
    ran = clothwise("measure", path, "--coverage", "--out", tmp_path / "c.svg")
    assert ran.code == 0
    assert "Your two sizes fit" in ran.out
    assert (tmp_path / "c.svg").read_text("utf-8").startswith("<?xml")


@pytest.mark.parametrize("make", [file, as_workbook])
def test_a_few_people_stand_side_by_side(tmp_path: Path, make: object) -> None:
    path = make(tmp_path, f"t.{'csv' if make is file else 'xlsx'}", people(3))  # type: ignore[operator]
    ran = clothwise("measure", path)
    assert line_of(ran.out, "measurement (cm)") == ["P0", "P1", "P2"]
    assert line_of(ran.out, "wrist girth")[0::2] == ["16", "16"]
    assert line_of(ran.out, "wrist girth")[1].endswith("*")


def test_more_people_stand_in_rows_below_a_summary(tmp_path: Path) -> None:
    ran = clothwise("measure", file(tmp_path, "t.csv", people(30)))
    assert line_of(ran.out, "wrist girth") == ["15", "16", "16", "16"]
    assert line_of(ran.out, "bust girth") == ["30", "85", "99.5", "114"]  # counted by hand
    assert line_of(ran.out, "P29") == ["169", "114", "70", "97"]
    assert max(map(len, ran.out.splitlines())) <= 120


def test_very_many_people_are_summed_up_and_one_can_be_named(tmp_path: Path) -> None:
    path = file(tmp_path, "t.csv", people(300))
    ran = clothwise("measure", path)
    assert line_of(ran.out, "height")[0] == "300"
    assert "P299" not in ran.out
    assert line_of(clothwise("measure", path, "--size", "P299").out, "height") == ["169"]
    assert len(json.loads(clothwise("measure", path, "--json").out)) == 300
    ran = clothwise("measure", path, "--size", "P300")
    assert ran.code == 2
    assert "there is nobody named 'P300'" in ran.text


def test_long_charts_are_broken_into_blocks_that_fit(tmp_path: Path) -> None:
    rows = "".join(f"{size},168,{88 + size / 10},70,94\n" for size in range(40))
    ran = clothwise("measure", file(tmp_path, "c.csv", CHART.splitlines()[0] + "\n" + rows))
    table = ran.out.partition("* estimated")[0]
    headings = [line for line in table.splitlines() if "measurement (cm)" in line]
    assert len(headings) > 1
    assert [name for line in headings for name in line.split()[2:]] == [*map(str, range(40))]
    assert max(map(len, table.splitlines())) <= 120
    assert "…" not in table
    labels = {line.split("  ")[0].strip() for line in table.splitlines()}
    assert "neck shoulder point to waist front" in labels, "no label is broken"


def test_one_persons_body_file(tmp_path: Path) -> None:
    ran = clothwise("measure", file(tmp_path, "ada.yaml", ADA))
    assert ran.code == 0
    assert line_of(ran.out, "measurement (in)") == ["Ada"]
    assert line_of(ran.out, "bust girth") == ["36", "1/2"]
    assert line_of(ran.out, "height") == ["66"]
    assert line_of(clothwise("measure", file(tmp_path, "u.csv", UNA)).out, "hip girth") == ["98"]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (CHART.replace("88", "8.8"), "line 2, size 38, column bust_girth_cm"),
        (people(3).replace("P2,162", "P2,tall"), "line 4, person P2, column height_cm"),
        (ADA.replace("36 1/2", "thin"), "line 5, $.measurements.bust_girth"),
        ("a,b\n1,2\n", "there is no column named size"),
        ("", "the file is empty"),
    ],
)
def test_faults_are_named_by_row_and_column(tmp_path: Path, text: str, says: str) -> None:
    name = "x.yaml" if text.startswith("name: ") else "x.csv"
    ran = clothwise("measure", file(tmp_path, name, text))
    assert ran.code == 2
    assert says in ran.text


# Published tables


def test_the_list_names_each_table_and_what_it_lacks() -> None:
    ran = clothwise("measure", "--published")
    assert ran.code == 0
    data = {
        each["name"]: each for each in json.loads(clothwise("measure", "--published", "--json").out)
    }
    words = " ".join(ran.out.split())
    for each in data.values():
        assert all(each[key] in words for key in ("name", "title", "source"))
    assert data["astm-d5585-11"]["lacks"] == ["height", "waist_girth", "hip_girth"]
    assert data["ps42-70"]["flags"] == ["from memory"]


def test_a_table_is_shown_as_printed_with_its_source_and_marks() -> None:
    """ASTM D5585-11e1, size 12 (Z02, seen); ASTM D5585-95, size 8 (Z04, second-hand)."""
    ran = clothwise("measure", "--published", "astm-d5585-11")
    headings = [line for line in ran.out.splitlines() if "measurement (in)" in line]
    sizes = [size for line in headings for size in line.split()[2:]]
    assert sizes == ["00", "0", "2", "4", "6", "8", "10", "12", "14", "16", "18", "20"]
    assert "…" not in ran.out
    ran = clothwise("measure", "--published", "astm-d5585-11", "--size", "12")
    assert line_of(ran.out, "neck base girth") == ["15", "1/8"]
    assert line_of(ran.out, "bust girth") == ["38", "3/4"]
    words = " ".join(ran.out.split())
    assert "Source: public abstract page of ASTM D5585-11e1 (2011)" in words
    assert "copied as printed" in words
    ran = clothwise("measure", "--published", "astm-d5585-95", "--size", "8")
    assert line_of(ran.out, "bust girth") == ["35†"]
    assert line_of(ran.out, "hip girth") == ["37", "1/2†"]
    assert "figures are: from memory; †: seen (second-hand)" in " ".join(ran.out.split())
    data = json.loads(clothwise("measure", "--published", "en13402-3-women", "--json").out)
    assert data["figures"]["104"]["bust_girth_to"] == {"mm": 1070.0, "flag": "seen (second-hand)"}


def test_a_table_and_a_height_make_a_chart_that_says_where_it_is_from(tmp_path: Path) -> None:
    path = tmp_path / "sizes.csv"
    asked = ("measure", "--published", "home-sewing-misses", "--height", "165cm")
    ran = clothwise(*asked, "--save", path)
    assert ran.code == 0
    assert f"Saved 10 sizes in {path}" in ran.out
    chart = read_size_chart(path)
    assert chart.source.startswith("common practice, no source; height 165 cm")
    assert chart.size("12").given == pytest.approx(
        {"height": 1650, "bust_girth": 863.6, "waist_girth": 673.1, "hip_girth": 914.4,
         "back_neck_to_waist": 412.75}
    )  # fmt: skip
    assert clothwise("measure", path).out == ran.out.partition("\n")[2]
    assert clothwise("measure", path, "--save", tmp_path / "again.csv").code == 0
    assert (tmp_path / "again.csv").read_bytes() == path.read_bytes()
    assert "would fit" in clothwise(*asked, "--coverage").out


def test_the_chart_of_a_design_can_be_saved_too(tmp_path: Path) -> None:
    path = tmp_path / "s.csv"
    ran = clothwise("measure", EXAMPLES / DRESS, "--save", path, "--json")
    assert set(json.loads(ran.out)) == set(read_size_chart(path).names)
    assert read_size_chart(path) == read_size_chart(EXAMPLES / DRESS / "sizes.csv")


TABLE = ("--published", "ps42-70")


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ((), "nothing to measure is named"),
        ((EXAMPLES / DRESS, "--published"), "both a published table and another target"),
        ((EXAMPLES / DRESS, "--height", "165cm"), "a height is added to a published table only"),
        (("--published", "astm-d5585-11", "--height", "165cm"), "no hip_girth"),
        (("--published", "--height", "165cm"), "no published table is named"),
        (("--published", "ps42"), "Did you mean ps42-70"),
        ((*TABLE, "--save", "x.csv"), "Say for whom you design, such as --height 165cm"),
        ((*TABLE, "--coverage"), "gives no height"),
        ((*TABLE, "--height", "165"), "'165' has no unit"),
        ((*TABLE, "--height", "16.5cm"), "not the height of an adult"),
        ((*TABLE, "--size", "7"), "no size '7'"),
        ((*TABLE, "--height", "165cm", "--force"), "Add --save"),
        ((*TABLE, "--height", "165cm", "--size", "7"), "no size '7'"),
        ((*TABLE, "--height", "165cm", "--save", "x.xlsx"), "size charts are saved as CSV"),
        ((*TABLE, "--height", "165cm", "--save", "no/x.csv"), "Create the folder"),
    ],
)
def test_what_does_not_go_together_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[object, ...], says: str
) -> None:
    monkeypatch.chdir(tmp_path)
    ran = clothwise("measure", *arguments)
    assert ran.code == 2
    assert says in ran.text
    assert list(tmp_path.iterdir()) == []


def test_people_are_neither_saved_nor_counted_and_no_file_is_written_over(tmp_path: Path) -> None:
    path = file(tmp_path, "t.csv", people(2))
    before = path.read_bytes()
    for options in (("--save", tmp_path / "c.csv"), ("--coverage",)):
        ran = clothwise("measure", path, *options)
        assert ran.code == 2
        assert "these are people" in ran.text
    ran = clothwise("measure", EXAMPLES / DRESS, "--save", path)
    assert ran.code == 2
    assert "there is such a file already" in ran.text
    assert "add --force" in ran.text
    assert path.read_bytes() == before
    assert len(read_bodies(path)) == 2
    assert clothwise("measure", EXAMPLES / DRESS, "--save", path, "--force").code == 0
    assert read_size_chart(path) == read_size_chart(EXAMPLES / DRESS / "sizes.csv")
