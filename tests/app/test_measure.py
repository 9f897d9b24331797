"""The measuring room: the chart as a grid, its changes, what follows from them."""

from __future__ import annotations

import html
import io
import json
import re
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from app.conftest import Window
from app.measured_chart import with_size
from app.shared_window import as_at_first
from clothwise.components import read_make
from clothwise.pattern.measurements import MEASUREMENTS
from clothwise.pattern.size_chart import read_size_chart

ROOM = "/d/kiln-dress/measure"


@pytest.fixture
def window(of_module: Window) -> Window:
    return as_at_first(of_module)


@pytest.fixture
def workspace(of_module: Window) -> Path:
    folder: Path = of_module.app.state.shop.workspace.folder  # type: ignore[attr-defined]
    return folder


def chart_data(window: Window) -> dict[str, Any]:
    answer = window.get(ROOM, headers={"accept": "application/json"})
    assert answer.status_code == 200
    found: dict[str, Any] = answer.json()
    return found


def change_cells(window: Window, *cells: tuple[str, str, str]):  # type: ignore[no-untyped-def]
    sent = json.dumps([list(cell) for cell in cells])
    return window.change(f"{ROOM}/cells", base=window.head(), cells=sent)


def value(chart: dict[str, Any], name: str, size: str) -> tuple[str, bool]:
    row, number = chart["measurements"][name], chart["sizes"].index(size)
    return row["values"][number], row["estimated"][number]


def test_the_page_shows_every_measurement_of_every_size_and_where_it_is_taken(
    window: Window,
) -> None:
    text = window.page(ROOM)
    chart = chart_data(window)
    for name, measurement in MEASUREMENTS.items():
        assert f'id="measurement-{name}"' in text
        assert f'href="#measurement-{name}"' in text  # on the figure
        assert measurement.definition in text.replace("&#39;", "'")
    assert text.count('<input type="text" inputmode') == len(MEASUREMENTS) * len(chart["sizes"])
    assert value(chart, "waist_girth", "38") == ("70", False)
    assert value(chart, "thigh_girth", "38")[1]  # not in the file


def test_a_cell_is_written_and_what_follows_is_estimated_anew(
    window: Window, workspace: Path
) -> None:
    before = chart_data(window)
    answer = change_cells(window, ("38", "bust_girth", "90"))
    assert answer.status_code == 200
    told = json.loads(answer.headers["HX-Trigger"])["cw:changed"]
    assert told["head"] == answer.json()["head"] == window.head()
    after = answer.json()
    assert value(after, "bust_girth", "38") == ("90", False)
    assert value(after, "hand_girth", "38") == value(before, "hand_girth", "38")
    assert value(after, "under_bust_girth", "38") != value(before, "under_bust_girth", "38")
    file = read_size_chart(workspace / "kiln-dress" / "sizes.csv")
    assert file.size("38")["bust_girth"] == 900
    text = (workspace / "kiln-dress" / "sizes.csv").read_text()
    assert "38,168,90," in text  # as it was written, without a unit


def test_an_emptied_cell_is_estimated(window: Window) -> None:
    answer = change_cells(window, ("38", "arm_length", ""))
    assert value(answer.json(), "arm_length", "38")[1]


def test_a_cell_may_bring_its_unit_and_a_new_measurement_its_column(
    window: Window, workspace: Path
) -> None:
    answer = change_cells(window, ("38", "waist_girth", "27 5/8 in"), ("40", "calf_girth", "36,5"))
    assert answer.status_code == 200
    file = read_size_chart(workspace / "kiln-dress" / "sizes.csv")
    assert file.size("38")["waist_girth"] == pytest.approx(27.625 * 25.4)
    assert file.size("40")["calf_girth"] == 365
    assert file.size("42").is_estimated("calf_girth")


def test_in_inches_a_bare_figure_means_inches(window: Window, workspace: Path) -> None:
    window.post("/settings", data={"unit": "in", "csrf": window.csrf})
    assert value(chart_data(window), "waist_girth", "38") == ("27 9/16", False)
    assert change_cells(window, ("38", "waist_girth", "28 3/8")).status_code == 200
    file = read_size_chart(workspace / "kiln-dress" / "sizes.csv")
    assert file.size("38")["waist_girth"] == pytest.approx(28.375 * 25.4)
    assert file.size("40")["waist_girth"] == 740  # what was not touched is as it was


def test_a_slip_is_refused_in_four_parts_and_nothing_is_changed(
    window: Window, workspace: Path
) -> None:
    before = (workspace / "kiln-dress" / "sizes.csv").read_text()
    head = window.head()
    answer = change_cells(window, ("38", "bust_girth", "9"))
    assert answer.status_code == 422
    assert answer.headers["HX-Retarget"] == "#refusal"
    for part in (
        "Bust girth is 9 cm",
        "Bust girth, size 38",
        "60 cm to 180 cm",
        "was 90 cm meant?",
        "Nothing was changed",
    ):
        assert part in answer.text
    assert window.head() == head
    assert (workspace / "kiln-dress" / "sizes.csv").read_text() == before


def test_what_cannot_be_read_is_told_by_measurement_and_size_not_by_line(window: Window) -> None:
    answer = change_cells(window, ("40", "bust_girth", "abc"))
    assert answer.status_code == 422
    words = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", "", answer.text)).replace("&#39;", "'")
    assert "'abc' is not a length" in words
    assert "Where: Bust girth, size 40" in words
    assert "Write a number, such as 92 cm or 36 1/4 in" in words
    assert "sizes.csv" not in words
    assert "line" not in words
    several = change_cells(window, ("40", "waist_girth", "abc"), ("42", "shoulder_slope", "?"))
    words = several.text.replace("&#39;", "'")
    assert "2 things have to be mended first" in words
    assert "Waist girth, size 40: 'abc' is not a length" in words
    assert "such as 74 cm or 29 1/8 in" in words
    assert "Shoulder slope, size 42: '?' is not an angle" in words
    assert "such as 21°" in words


def test_a_new_size_that_cannot_be_read_says_which_measurement(window: Window) -> None:
    answer = with_size(window, "Ida", waist_girth="slim")
    assert answer.status_code == 422
    words = re.sub(r"<[^>]+>", "", answer.text)
    assert "Waist girth, size Ida" in words
    assert "such as 70 cm or 27 1/2 in" in words


def test_a_pasted_block_is_one_step_that_undo_takes_back(window: Window) -> None:
    before = chart_data(window)
    block = [
        (size, name, text)
        for size, texts in (("36", ("85", "67")), ("38", ("89", "71")))
        for name, text in zip(("bust_girth", "waist_girth"), texts, strict=True)
    ]
    after = change_cells(window, *block).json()
    assert value(after, "waist_girth", "36") == ("67", False)
    assert window.change("/d/kiln-dress/undo", base=window.head()).status_code < 400
    again = chart_data(window)
    assert again["measurements"] == before["measurements"]


def test_what_is_no_change_of_cells_is_refused(window: Window) -> None:
    for sent in ("", "{", "[]", '[["38","bust_girth"]]', '[["38","bust_girth",9]]', '{"a":1}'):
        answer = window.change(f"{ROOM}/cells", base=window.head(), cells=sent)
        assert answer.status_code == 422, sent
        assert "Nothing was changed" in answer.text
    long = json.dumps([["38", "bust_girth", "9" * 500]])
    assert window.change(f"{ROOM}/cells", base=window.head(), cells=long).status_code == 422
    answer = change_cells(window, ("38", "<script>", "9"))
    assert answer.status_code == 422
    assert "<script>" not in answer.text


def test_a_person_is_added_as_a_size_and_taken_out_again(window: Window) -> None:
    answer = with_size(window, "Ida", after="42", waist_girth="31 1/2 in")
    assert answer.status_code == 204
    assert answer.headers["HX-Redirect"] == f"{ROOM}?size=Ida"
    chart = chart_data(window)
    assert chart["sizes"].index("Ida") == chart["sizes"].index("42") + 1
    assert value(chart, "waist_girth", "Ida") == ("80.01", False)
    assert "data-figure-size>Ida<" in window.page(f"{ROOM}?size=Ida")
    answer = window.change(f"{ROOM}/remove-size", base=window.head(), size="Ida")
    assert answer.status_code == 204
    assert "Ida" not in chart_data(window)["sizes"]


def test_the_base_size_cannot_be_taken_out(window: Window) -> None:
    base = chart_data(window)["base_size"]
    answer = window.change(f"{ROOM}/remove-size", base=window.head(), size=base)
    assert answer.status_code == 422
    assert base in chart_data(window)["sizes"]


PASTED = (
    "size\tbust_girth_cm\twaist_girth_cm\thip_girth_cm\theight_cm\n"
    "38\t88,5\t70\t94\t168\n"
    "40\t92\t74\t98\t168\n"
)


def test_a_chart_is_brought_by_pasting_it_whole(window: Window) -> None:
    answer = window.change(f"{ROOM}/bring", base=window.head(), text=PASTED)
    assert answer.status_code == 204, answer.text
    chart = chart_data(window)
    assert chart["sizes"] == ["38", "40"]
    assert value(chart, "bust_girth", "38") == ("88.5", False)


def test_a_chart_is_brought_as_a_spreadsheet(window: Window) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for line in PASTED.replace(",", ".").splitlines():
        sheet.append(
            [float(x) if x[0].isdigit() and n else x for n, x in enumerate(line.split("\t"))]
        )
    content = io.BytesIO()
    book.save(content)
    headers = {"hx-request": "true", "x-clothwise-token": window.csrf, "accept": "text/html"}
    files = {"file": ("range.xlsx", content.getvalue())}
    answer = window.post(
        f"{ROOM}/bring", data={"base": window.head()}, files=files, headers=headers
    )
    assert answer.status_code == 204, answer.text
    assert chart_data(window)["sizes"] == ["38", "40"]


def test_a_chart_that_cannot_be_read_says_where_and_changes_nothing(window: Window) -> None:
    before = chart_data(window)
    answer = window.change(f"{ROOM}/bring", base=window.head(), text=PASTED.replace("70", "7x"))
    assert answer.status_code == 422
    assert "Waist girth, size 38" in answer.text
    assert "line 2" not in answer.text
    assert "Nothing was changed" in answer.text
    assert "/tmp" not in answer.text
    assert chart_data(window) == before
    assert window.change(f"{ROOM}/bring", base=window.head(), text="").status_code == 422


CLASS = (
    "Name\tHeight\tBust\tWaist\tHips\n"
    "Ada\t65\t36 1/2\t29\t39\n"
    "Bea\t64\t35\t28\t38\n"
    "Elke\t67\t44\t38\t46\n"
)
"""As it comes from a spreadsheet: plain headings, inches without a unit, no size 38."""


def in_inches(window: Window) -> None:
    window.post("/settings", data={"unit": "in", "csrf": window.csrf})


def test_a_class_is_brought_as_it_comes_and_one_of_it_is_the_base(
    window: Window, workspace: Path
) -> None:
    in_inches(window)
    head = window.head()
    asked = window.change(f"{ROOM}/bring", base=head, text=CLASS)
    assert asked.status_code == 422
    assert asked.headers["HX-Retarget"] == "#brought"
    assert "Which row is the base of the design?" in asked.text
    assert "have to be mended" not in asked.text
    assert re.findall(r'<option value="(\w+)">', asked.text) == ["Ada", "Bea", "Elke"]
    assert window.head() == head
    kept = window.change(f"{ROOM}/bring", base=head, base_row="Ada", **cells_in(asked.text))
    assert kept.status_code == 204, kept.text
    chart = chart_data(window)
    assert (chart["sizes"], chart["base_size"]) == (["Ada", "Bea", "Elke"], "Ada")
    assert value(chart, "bust_girth", "Ada") == ("36 1/2", False)
    assert value(chart, "arm_length", "Ada")[1]
    make = (workspace / "kiln-dress" / "makes" / "view-a.yaml").read_text()
    assert "size: Ada" in make
    window.change("/d/kiln-dress/undo", base=window.head())
    assert window.head() == head
    assert chart_data(window)["base_size"] == "38"
    assert "size: 38" in (workspace / "kiln-dress" / "makes" / "view-a.yaml").read_text()


def cells_in(text: str, place: str = "brought") -> dict[str, str | list[str]]:
    """What the form with a table to be mended sends."""
    cells = re.findall(rf'name="cell" id="{place}-[^"]+" value="([^"]*)"', text)
    hidden = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', text))
    return {**hidden, "cell": cells}


def test_a_class_gets_a_make_each_in_one_step(window: Window, workspace: Path) -> None:
    makes = workspace / "kiln-dress" / "makes"
    before, chart = sorted(makes.iterdir()), chart_data(window)
    answer = window.change(
        f"{ROOM}/class", base=window.head(), text=CLASS, unit="in", like="view-a"
    )
    assert answer.status_code == 204, answer.text
    assert answer.headers["HX-Redirect"] == "/d/kiln-dress/makes"
    ada = read_make(makes / "ada.yaml")
    assert ada.make.title == "Ada"
    assert ada.make.measurements["bust_girth"] == "36 1/2 in"
    assert set(ada.make.measurements) == {"height", "bust_girth", "waist_girth", "hip_girth"}
    assert ada.body["hip_girth"] == pytest.approx(39 * 25.4)
    like = read_make(makes / "view-a.yaml").make
    assert (ada.make.view, ada.make.roles) == (like.view, like.roles)
    assert "Elke: own measurements" in window.page("/d/kiln-dress/m/elke/for-whom")
    assert chart_data(window)["measurements"] == chart["measurements"]
    again = window.change(f"{ROOM}/class", base=window.head(), text=CLASS, unit="in", like="")
    assert again.status_code == 204
    assert (makes / "ada-2.yaml").is_file()
    for _ in range(2):
        window.change("/d/kiln-dress/undo", base=window.head())
    assert sorted(makes.iterdir()) == before


def test_what_is_wrong_in_a_class_is_mended_before_any_make_is_begun(window: Window) -> None:
    head = window.head()
    wrong = CLASS.replace("36 1/2", "3.6")
    answer = window.change(f"{ROOM}/class", base=head, text=wrong, unit="in", like="")
    assert answer.status_code == 422
    assert answer.headers["HX-Retarget"] == "#class"
    assert 'href="#class-1-2"' in answer.text
    assert "Base of the design" not in answer.text
    assert window.head() == head
    sent = cells_in(answer.text, "class")
    cells = sent["cell"]
    assert isinstance(cells, list)
    cells[7] = "36"
    kept = window.change(f"{ROOM}/class", base=head, unit="in", like="", **sent)
    assert kept.status_code == 204, kept.text
    assert window.change(f"{ROOM}/class", base=window.head(), text=" ").status_code == 422


def test_people_may_stand_in_columns(window: Window) -> None:
    rows = [line.split("\t") for line in CLASS.replace("Name", "").splitlines()]
    turned = "\n".join("\t".join(line) for line in zip(*rows, strict=True))
    assert turned.startswith("\tAda\tBea")
    answer = window.change(
        f"{ROOM}/bring", base=window.head(), text=turned, unit="in", base_row="Bea"
    )
    assert answer.status_code == 204, answer.text
    chart = chart_data(window)
    assert (chart["sizes"], chart["base_size"]) == (["Ada", "Bea", "Elke"], "Bea")
    assert value(chart, "hip_girth", "Bea") == ("38", False)


def test_all_that_is_wrong_in_a_class_is_told_at_once_with_its_cells(window: Window) -> None:
    in_inches(window)
    before = chart_data(window)
    wrong = CLASS.replace("36 1/2", "3.6").replace("\t28\t", "\tslim\t").replace("Hips", "Shoes")
    answer = window.change(f"{ROOM}/bring", base=window.head(), text=wrong)
    words = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", "", answer.text)).replace("&#39;", "'")
    assert "4 things have to be mended first" in words
    assert "Bust girth, size Ada: bust girth is 3 5/8 in" in words
    assert "was 36 in meant?" in words
    assert "Waist girth, size Bea: 'slim' is not a length" in words
    assert "“Shoes” is no measurement that Clothwise knows" in words
    assert "There are no figures for the hip girth" in words
    assert "Base of the design" in words, "in the same round"
    marked = set(re.findall(r'id="brought-(\d-\d)"[^>]*aria-invalid="true"', answer.text))
    assert marked == {"0-4", "1-2", "1-5", "2-3"}
    assert marked == set(re.findall(r'href="#brought-(\d-\d)"', answer.text))
    assert chart_data(window) == before
    sent = cells_in(answer.text)
    cells = sent["cell"]
    assert isinstance(cells, list)
    for at, text in {4: "", 8: "36", 15: "28", 11: "39", 17: "38", 23: "46"}.items():
        cells[at] = text
    kept = window.change(f"{ROOM}/bring", base=window.head(), base_row="Ada", unit="in", **sent)
    assert kept.status_code == 204, kept.text
    assert value(chart_data(window), "waist_girth", "Bea") == ("28", False)


def test_a_wrong_figure_of_a_person_is_told_first_and_leads_to_its_cell(window: Window) -> None:
    in_inches(window)
    slip = CLASS.replace("44\t38\t46", "44\t28\t46")
    window.change(f"{ROOM}/bring", base=window.head(), text=slip, base_row="Bea", unit="in")
    (found,) = chart_data(window)["findings"]
    assert (found["size"], found["measurement"]) == ("Elke", "waist_girth")
    text = window.page(ROOM)
    cell = re.search(r'id="cell-waist_girth-2"[^>]*', text)
    assert cell
    assert "is-doubted" in cell[0]
    assert "cell-doubted" in cell[0]
    assert text.count("is-doubted") == 1
    assert '<a href="#cell-waist_girth-2">In size Elke the waist girth' in text
    change_cells(window, ("Elke", "waist_girth", "38"))
    assert chart_data(window)["findings"] == []


def test_in_inches_nothing_of_the_chart_is_told_in_centimeters(window: Window) -> None:
    in_inches(window)
    sentences = window.part(f"{ROOM}/coverage").partition("<figure")[0]
    assert "a second hip (plus 1 5/8 in)" in sentences
    assert " cm" not in sentences
    refused = change_cells(window, ("38", "waist_girth", "3.8"))
    assert "was 38 in meant?" in refused.text
    assert " cm" not in refused.text


def test_a_size_moves_one_place(window: Window) -> None:
    sizes = chart_data(window)["sizes"]
    moved = window.change(f"{ROOM}/move-size", base=window.head(), size="38", way="earlier")
    assert moved.status_code == 204
    assert moved.headers["HX-Redirect"] == f"{ROOM}?size=38"
    assert chart_data(window)["sizes"] == [sizes[0], "38", "36", *sizes[3:]]
    window.change(f"{ROOM}/move-size", base=window.head(), size="38", way="later")
    assert chart_data(window)["sizes"] == sizes
    for size, way, told in (("34", "earlier", "first already"), ("52", "later", "last already")):
        refused = window.change(f"{ROOM}/move-size", base=window.head(), size=size, way=way)
        assert refused.status_code == 422
        assert told in refused.text
    assert window.change(f"{ROOM}/move-size", base=window.head(), size="x").status_code == 422


def test_findings_and_coverage_follow_the_chart(window: Window) -> None:
    assert "Nothing: the sizes rise evenly" in window.part(f"{ROOM}/findings")
    change_cells(window, ("42", "bust_girth", "105"))
    found = window.part(f"{ROOM}/findings")
    assert "Size 4" in found
    assert "bust" in found
    picture = window.part(f"{ROOM}/coverage")
    assert "<svg" in picture
    assert "%" in picture


def test_the_chart_can_be_saved_as_a_file(window: Window, workspace: Path) -> None:
    answer = window.get(f"{ROOM}/chart.csv")
    assert answer.text == (workspace / "kiln-dress" / "sizes.csv").read_text()
    assert answer.headers["content-disposition"] == 'attachment; filename="sizes.csv"'


def test_a_chart_in_a_spreadsheet_file_is_shown_and_left_alone(
    window: Window, workspace: Path
) -> None:
    folder = workspace / "kiln-dress"
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in read_rows(folder / "sizes.csv"):
        sheet.append(row)
    book.save(folder / "range.xlsx")
    design = folder / "design.yaml"
    design.write_text(design.read_text().replace("sizes.csv", "range.xlsx"))
    text = window.page(ROOM)
    assert "spreadsheet file range.xlsx" in text
    assert "readonly>" in text
    assert "Add a size" not in text
    answer = change_cells(window, ("38", "bust_girth", "90"))
    assert answer.status_code == 422
    assert "Save it as CSV" in answer.text
    # It can be gone on with here: one step, which undo takes back.
    answer = window.change(f"{ROOM}/make-editable", base=window.head())
    assert answer.status_code == 204, answer.text
    assert "range.csv" in design.read_text()
    assert "Add a size" in window.page(ROOM)
    assert (folder / "range.xlsx").is_file()
    assert change_cells(window, ("38", "bust_girth", "90")).status_code == 200
    for _ in range(2):
        window.change("/d/kiln-dress/undo", base=window.head())
    assert "spreadsheet file range.xlsx" in window.page(ROOM)
    answer = window.change("/d/kiln-dress/measure/make-editable", base="nonsense")
    assert answer.status_code in (409, 422)


def test_the_measurements_of_a_person_in_a_file_are_changed(
    window: Window, workspace: Path
) -> None:
    folder = workspace / "kiln-dress"
    assert "Own measurements" not in window.part(f"{ROOM}/bodies")
    (folder / "bodies").mkdir()
    ada = folder / "bodies" / "ada.yaml"
    ada.write_text(
        "# Measured in May.\nname: Ada\nunit: cm\nmeasurements:\n  height: 168\n"
        "  bust_girth: 92\n  waist_girth: 74.125\n  hip_girth: 99\n"
    )
    (folder / "makes" / "ada.yaml").write_text(
        "schema: 1\ntitle: For Ada\nview: A\nbody: ../bodies/ada.yaml\n"
    )
    part = window.part(f"{ROOM}/bodies")
    assert "Own measurements, for For Ada" in part
    shown = dict(re.findall(r'name="(\w+)" value="([^"]*)"', part))
    sent = {name: text for name, text in shown.items() if name not in ("csrf", "base")}
    answer = window.change(
        f"{ROOM}/body",
        base=window.head(),
        **{**sent, "body": "bodies/ada.yaml", "bust_girth": "94", "neck_girth": "14 in"},
    )
    assert answer.status_code == 204, answer.text
    text = ada.read_text()
    assert text.startswith("# Measured in May.\n")
    assert "bust_girth: 94 cm\n" in text
    assert "waist_girth: 74.125\n" in text  # as it was written, though rounded on the page
    assert "neck_girth: 14 in\n" in text
    assert 'value="35.56"' in window.part(f"{ROOM}/bodies")
    answer = window.change(
        f"{ROOM}/body", base=window.head(), body="bodies/ada.yaml", bust_girth="9"
    )
    assert answer.status_code == 422
    assert "Bust girth, Ada" in answer.text
    assert "ada.yaml" not in answer.text
    answer = window.change(f"{ROOM}/body", base=window.head(), body="design.yaml", height="1 m")
    assert answer.status_code == 422
    window.change("/d/kiln-dress/undo", base=window.head())
    assert "bust_girth: 92\n" in ada.read_text()


def read_rows(file: Path) -> list[list[str | float]]:
    lines = [line for line in file.read_text().splitlines() if not line.startswith("#")]
    return [
        [float(cell) if number and line[0].isdigit() else cell for number, cell in enumerate(cells)]
        for line, cells in ((line, line.split(",")) for line in lines)
    ]


def test_somebodys_own_measurements_lead_into_a_make(window: Window) -> None:
    text = window.page(ROOM)
    assert text.index("<summary>Somebody’s own") < text.index('<table class="grid"')
    assert "/m/view-a/for-whom" in text
    assert "a person" not in text.partition("Add a size")[2].partition("</details>")[0]
    made = window.change("/d/kiln-dress/makes", base=window.head(), size="own:", title="For Ada")
    assert made.url.path == "/d/kiln-dress/m/for-ada/for-whom"
    assert "For Ada: own measurements" in made.text


def test_a_size_called_like_a_person_is_marked_and_no_fault(window: Window) -> None:
    added = with_size(window, "Ada")
    assert added.status_code in (200, 204, 303)
    text = window.page(ROOM)
    assert re.search(r'data-size="Ada".*?<span class="small soft"> person</span>', text)
    assert "compared with no size of the chart" in text
    assert not chart_data(window)["findings"]


def test_a_person_is_called_a_size_nowhere_in_the_room(window: Window) -> None:
    with_size(window, "Ada")
    text = window.page(f"{ROOM}?size=Ada")
    assert 'title="Show Ada on the figure"' in text
    assert 'aria-label="waist girth, Ada, cm"' in text
    assert "<span data-figure-word hidden>Size </span><span data-figure-size>Ada</span>" in text
    assert "<span data-figure-word>Size </span>" in window.page(f"{ROOM}?size=38")
    assert "size Ada" not in text
    answer = change_cells(window, ("Ada", "waist_girth", "abc"), ("40", "waist_girth", "abc"))
    assert answer.status_code == 422
    said = re.sub(r"<[^>]+>", " ", html.unescape(answer.text))
    assert "Waist girth, Ada: 'abc' is not a length" in said
    assert "Waist girth, size 40: 'abc' is not a length" in said
    assert chart_data(window)["people"] == ["Ada"]


@pytest.mark.parametrize("name", ["Ada 2", "M"])
def test_of_a_name_that_stands_alone_it_is_asked_whether_it_is_a_person(
    window: Window, name: str
) -> None:
    """It counts as a size, by its name; one press says what it is, and the question is gone."""
    question = f"{name} counts as a size, though its name has no order among the others."
    asked = ("person", "size")
    for row_kind in asked:
        with_size(window, name)
        assert question in window.part(f"{ROOM}/findings")
        assert "Your 11 sizes" in window.part(f"{ROOM}/coverage")
        window.change(f"{ROOM}/row-kind", base=window.head(), size=name, row_kind=row_kind)
        assert question not in window.part(f"{ROOM}/findings")
        assert chart_data(window)["people"] == ([name] if row_kind == "person" else [])
        counted = "Your ten sizes" if row_kind == "person" else "Your 11 sizes"
        assert counted in window.part(f"{ROOM}/coverage")
        window.change(f"{ROOM}/remove-size", base=window.head(), size=name)


def test_the_room_says_of_a_row_whether_it_is_a_size_or_a_person(window: Window) -> None:
    """M among numbers counts as a size by its name; the base size always is one."""
    with_size(window, "M")
    assert chart_data(window)["people"] == []
    told = window.change(f"{ROOM}/row-kind", base=window.head(), size="M", row_kind="person")
    assert told.status_code == 204
    chart = chart_data(window)
    assert (chart["people"], chart["sizes"][-1]) == (["M"], "M")
    text = window.page(ROOM)
    assert "Sizes 34 to 52" in text
    assert re.search(r'data-size="M".*?<span class="small soft"> person</span>', text)
    assert "M, now a person" in text
    assert not [each for each in chart["findings"] if each["severity"] != "note"]
    assert "People in the chart" in window.page("/d/kiln-dress/m/view-a/for-whom")
    back = window.change(f"{ROOM}/row-kind", base=window.head(), size="M", row_kind="size")
    assert back.status_code == 204
    assert chart_data(window)["people"] == []
    base = chart_data(window)["base_size"]
    refused = window.change(f"{ROOM}/row-kind", base=window.head(), size=base, row_kind="person")
    assert refused.status_code == 422
    assert "is the base size" in refused.text


def test_what_is_done_with_the_chart_stands_above_it(window: Window) -> None:
    """The table has a scroll of its own: under it nobody finds what else there is."""
    text = window.page(f"{ROOM}?size=44")
    assert text.index("<summary>Add a size") < text.index('<table class="grid"')
    assert "Sizes 34 to 52" in text
    assert "next=/d/kiln-dress/measure%3Fsize%3D44" in text
