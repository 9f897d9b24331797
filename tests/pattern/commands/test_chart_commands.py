"""A size chart written cell by cell: all else in the file stays as somebody wrote it."""

import pytest

from clothwise.errors import CommandError, DocumentError
from clothwise.pattern.commands import (
    AddMakes,
    AddSize,
    BringChart,
    Command,
    MoveSize,
    RemoveSize,
    SetCells,
    SetRowKind,
)
from clothwise.pattern.size_chart import SizeChart, format_size_chart, parse_size_chart

COMMAS = """\
# title: Our sizes
size,bust_girth_cm,waist_girth_cm,hip_girth_cm,height_cm
# The small ones.
36,84,66,90,168
38,"88,0",70,94,168

40,92,74,98,168
"""
SEMICOLONS = "size;bust_girth_in;waist_girth_in;hip_girth_in;height_in\r\n8;34 1/2;26;36;66\r\n"


def after(command: Command, text: str = COMMAS) -> str:
    return command.apply({"sizes.csv": text})["sizes.csv"]


def chart_of(text: str) -> SizeChart:
    return parse_size_chart(text)


def test_one_cell_changes_and_nothing_else() -> None:
    text = after(SetCells("sizes.csv", (("36", "waist_girth", "67,5"),)))
    assert text == COMMAS.replace("36,84,66,90,168", '36,84,"67,5",90,168')
    assert chart_of(text).size("36")["waist_girth"] == 675.0
    assert chart_of(text).size("38") == chart_of(COMMAS).size("38")


def test_block_of_cells_in_other_units() -> None:
    cells = (("36", "bust_girth", "33 in"), ("40", "height", "1700mm"))
    chart = chart_of(after(SetCells("sizes.csv", cells)))
    assert chart.size("36")["bust_girth"] == pytest.approx(838.2)
    assert chart.size("40")["height"] == 1700.0


def test_history_calls_a_person_by_name_and_no_size() -> None:
    before = {"sizes.csv": COMMAS}
    figures = {"bust_girth": "90", "waist_girth": "72", "hip_girth": "96", "height": "168"}
    assert AddSize("sizes.csv", "42", figures).told(before) == "added size 42"
    adds = AddSize("sizes.csv", "Ada", figures)
    assert adds.told(before) == "added Ada"
    there = adds.apply(before)
    cells = (("Ada", "waist_girth", "71"), ("36", "waist_girth", ""))
    told = SetCells("sizes.csv", cells).told(there)
    assert told == "waist girth of Ada: 71, waist girth of size 36: estimated"
    assert RemoveSize("sizes.csv", "Ada").told(there) == "removed Ada"
    assert RemoveSize("sizes.csv", "36").told(there) == "removed size 36"


def test_empty_cell_is_estimated() -> None:
    new = after(SetCells("sizes.csv", (("38", "neck_base_girth", "37"),)))
    assert "neck_base_girth_cm" in new
    assert not chart_of(new).size("38").is_estimated("neck_base_girth")
    assert chart_of(new).size("36").is_estimated("neck_base_girth")
    again = after(SetCells("sizes.csv", (("38", "neck_base_girth", ""),)), new)
    assert chart_of(again).size("38").is_estimated("neck_base_girth")
    assert after(SetCells("sizes.csv", (("38", "neck_base_girth", ""),))) == COMMAS


def test_angle_gets_a_column_in_degrees() -> None:
    text = after(SetCells("sizes.csv", (("36", "shoulder_slope", "22"),)))
    assert "shoulder_slope_deg" in text


def test_semicolons_and_line_ends_stay() -> None:
    text = after(SetCells("sizes.csv", (("8", "waist_girth", "26 1/2"),)), SEMICOLONS)
    assert text == SEMICOLONS.replace(";26;", ";26 1/2;")


def test_sizes_come_and_go() -> None:
    cells = {"bust_girth": "86", "waist_girth": "68", "hip_girth": "92", "height": "168"}
    text = after(AddSize("sizes.csv", "37", cells, after="36"))
    assert chart_of(text).names == ("36", "37", "38", "40")
    assert chart_of(after(AddSize("sizes.csv", "42", cells))).names == ("36", "38", "40", "42")
    assert after(RemoveSize("sizes.csv", "37"), text) == COMMAS
    without_end = after(AddSize("sizes.csv", "42", cells), COMMAS.rstrip("\n"))
    assert chart_of(without_end).names == ("36", "38", "40", "42")


@pytest.mark.parametrize(
    ("command", "message"),
    [
        (SetCells("sizes.csv", (("37", "height", "168"),)), "no size '37'"),
        (SetCells("sizes.csv", (("38", "hight", "168"),)), "Did you mean height"),
        (SetCells("other.csv", (("38", "height", "168"),)), "no document"),
        (AddSize("sizes.csv", "38", {}), "a size '38' already"),
        (RemoveSize("sizes.csv", "39"), "no size '39'"),
    ],
)
def test_refusals(command: Command, message: str) -> None:
    with pytest.raises(CommandError, match=message):
        after(command)


@pytest.mark.parametrize("text", ["tall", "-5", "16800", "1e9"])
def test_impossible_measurement_is_refused_with_its_place(text: str) -> None:
    with pytest.raises(DocumentError, match="height"):
        after(SetCells("sizes.csv", (("38", "height", text),)))


def test_last_size_stays() -> None:
    with pytest.raises(DocumentError, match="no sizes"):
        after(RemoveSize("sizes.csv", "8"), SEMICOLONS)


def test_spreadsheet_is_not_written() -> None:
    with pytest.raises(CommandError, match="Save it as CSV"):
        SetCells("sizes.xlsx", (("38", "height", "1"),)).apply({"sizes.xlsx": COMMAS})


def test_a_row_is_said_to_be_a_person_and_a_size_again() -> None:
    """A column `kind` is written once; what the name says already is not written."""
    cells = {"bust_girth": "98", "waist_girth": "84", "hip_girth": "107", "height": "171"}
    text = after(AddSize("sizes.csv", "M", cells))
    assert chart_of(text).people == ()
    told = after(SetRowKind("sizes.csv", "M", "person"), text)
    assert told.count("kind") == 1
    assert chart_of(told).people == ("M",)
    assert chart_of(told).range.names == ("36", "38", "40")
    assert chart_of(told).size("M") == chart_of(text).size("M")
    again = after(SetRowKind("sizes.csv", "M", "size"), told)
    assert chart_of(again).people == ()
    assert after(SetRowKind("sizes.csv", "38", "size")) == COMMAS


def test_a_row_with_a_name_without_order_is_said_to_be_a_size() -> None:
    cells = {"bust_girth": "98", "waist_girth": "84", "hip_girth": "107", "height": "171"}
    text = after(AddSize("sizes.csv", "Petite", cells))
    assert chart_of(text).people == ("Petite",)
    told = after(SetRowKind("sizes.csv", "Petite", "size"), text)
    assert chart_of(told).range.names == ("36", "38", "40", "Petite")
    assert format_size_chart(chart_of(told)).splitlines()[1].startswith("size,kind,")
    assert chart_of(format_size_chart(chart_of(told))) == chart_of(told)


@pytest.mark.parametrize(
    ("command", "message"),
    [
        (SetRowKind("sizes.csv", "38", "lady"), "neither a size nor a person"),
        (SetRowKind("sizes.csv", "39", "person"), "no size '39'"),
    ],
)
def test_what_a_row_cannot_be_is_refused(command: Command, message: str) -> None:
    with pytest.raises(CommandError, match=message):
        after(command)


@pytest.mark.parametrize(
    ("size", "following", "names"),
    [
        ("40", "", ["40", "36", "38"]),
        ("36", "38", ["38", "36", "40"]),
        ("36", "40", ["38", "40", "36"]),
    ],
)
def test_a_row_moves_and_is_written_as_it_was(size: str, following: str, names: list[str]) -> None:
    text = after(MoveSize("sizes.csv", size, following))
    assert list(chart_of(text).names) == names
    assert sorted(text.splitlines()) == sorted(COMMAS.splitlines())
    assert '38,"88,0",70' in text


def test_a_last_line_without_an_end_stays_a_row_of_its_own() -> None:
    text = after(MoveSize("sizes.csv", "40", ""), COMMAS.rstrip("\n"))
    assert chart_of(text).names == ("40", "36", "38")


def test_a_row_that_is_not_there_moves_nowhere() -> None:
    for size, following in (("44", ""), ("36", "44"), ("36", "36")):
        with pytest.raises(CommandError):
            after(MoveSize("sizes.csv", size, following))


DESIGN = """\
schema: 1
title: Skirt
size_chart: sizes.csv
base_size: 38  # ours
components:
  skirt:
    component: circle-skirt
"""


def documents() -> dict[str, str]:
    makes = {f"makes/{size}.yaml": f"schema: 1\nsize: {size}\n" for size in ("36", "38")}
    return {"sizes.csv": COMMAS, "design.yaml": DESIGN, **makes}


def test_another_chart_brings_its_base_and_makes_in_the_old_one_follow() -> None:
    new = COMMAS.replace("\n38,", "\nAda,")
    done = BringChart("sizes.csv", new, "Ada").apply(documents())
    assert done["sizes.csv"] == new
    assert "base_size: Ada  # ours" in done["design.yaml"]
    assert "size: Ada" in done["makes/38.yaml"]
    assert done["makes/36.yaml"] == documents()["makes/36.yaml"]
    told = BringChart("sizes.csv", new, "Ada").told(documents())
    assert told == "another size chart, with base Ada; in size Ada from now on: 38"


def test_several_makes_are_begun_at_once_or_none() -> None:
    text = "schema: 1\ntitle: For {}\n"
    new = {f"makes/{name}.yaml": text.format(name) for name in ("ada", "bea")}
    command = AddMakes(new)
    assert command.apply(documents()) == {**documents(), **new}
    assert command.told(documents()) == "new makes: For ada, For bea"
    for name in ("makes/38.yaml", "sizes.csv"):
        with pytest.raises(CommandError, match="no name for a new make"):
            AddMakes({**new, name: text}).apply(documents())


def test_a_make_keeps_its_size_as_long_as_the_chart_has_it() -> None:
    done = BringChart("sizes.csv", COMMAS, "40").apply(documents())
    assert "base_size: 40" in done["design.yaml"].replace('"', "")
    assert done["makes/38.yaml"] == documents()["makes/38.yaml"]
    same = BringChart("sizes.csv", COMMAS.replace("84,", "85,"), "38").apply(documents())
    assert same["design.yaml"] == DESIGN


def test_another_chart_needs_a_base_and_a_place() -> None:
    with pytest.raises(CommandError, match="no size 'Ida'"):
        BringChart("sizes.csv", COMMAS, "Ida").apply(documents())
    with pytest.raises(CommandError, match="no chart of the design"):
        BringChart("other.csv", COMMAS, "38").apply(documents())
