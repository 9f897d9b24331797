"""A row of a chart is a size or a person: the file says which, or else its name."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwise.components.design_file import read_design
from clothwise.errors import DocumentError
from clothwise.packet.measuring import measurement_file
from clothwise.packet.opening import making_at
from clothwise.pattern.row_kind import RowKind, people_among
from clothwise.pattern.size_chart import parse_size_chart
from clothwise.sizing.chart_checks import check_chart
from clothwise.sizing.coverage import coverage
from clothwise.sizing.nearest import nearest_size
from clothwise.sizing.suggestion import suggestions

DRESS = Path(__file__).parents[2] / "examples" / "kiln-dress"
NUMBERS = ("36", "38", "40", "42")


def with_person(name: str, kind: str) -> str:
    """The chart of the kiln dress with a row more, and a column that says what that is."""
    lines = (DRESS / "sizes.csv").read_text(encoding="utf-8").splitlines()
    start = next(at for at, line in enumerate(lines) if line.startswith("size,"))
    headings = lines[start].split(",")
    mine = {"height_cm": "171", "bust_girth_cm": "98", "waist_girth_cm": "84.5",
            "hip_girth_cm": "107.5"}  # fmt: skip
    row = [name, *(mine.get(each, "") for each in headings[1:])]
    rows = [f"{line}," for line in lines[start + 1 :]] + [",".join([*row, kind])]
    return "\n".join([f"{lines[start]},kind", *rows]) + "\n"


def design_with(folder: Path, name: str, kind: str) -> Path:
    (folder / "makes").mkdir(exist_ok=True)
    for each in ("design.yaml", "makes/view-a.yaml"):
        (folder / each).write_bytes((DRESS / each).read_bytes())
    (folder / "sizes.csv").write_text(with_person(name, kind), encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    ("names", "stated", "people"),
    [
        ((*NUMBERS, "Ada"), {}, ("Ada",)),
        ((*NUMBERS, "Ada 2", "M"), {}, ()),
        ((*NUMBERS, "Ada 2", "M"), dict.fromkeys(("Ada 2", "M"), RowKind.PERSON), ("Ada 2", "M")),
        ((*NUMBERS, "Petite"), {"Petite": RowKind.SIZE}, ()),
        (("Ada", "Eve"), {}, ()),
        (("Ada", "36"), {"Ada": RowKind.PERSON}, ("Ada",)),
    ],
)
def test_the_file_says_what_a_row_is_and_else_its_name(
    names: tuple[str, ...], stated: dict[str, RowKind], people: tuple[str, ...]
) -> None:
    assert people_among(names, stated) == people


@pytest.mark.parametrize("name", ["Ada 2", "M"])
def test_a_person_counts_nowhere_as_a_size(tmp_path: Path, name: str) -> None:
    alone = parse_size_chart((DRESS / "sizes.csv").read_text(encoding="utf-8"))
    design = read_design(design_with(tmp_path, name, "person"))
    assert design.sizes == alone.names
    assert design.body(name).name == name
    chart = design.chart
    assert [each.code for each in check_chart(chart)] == [each.code for each in check_chart(alone)]
    assert coverage(chart) == coverage(alone)
    assert suggestions(chart) == suggestions(alone)
    assert nearest_size(chart, chart.size(name)).size.name != name


def test_the_measurement_sheet_has_a_person_only_for_whom_it_is(tmp_path: Path) -> None:
    folder = design_with(tmp_path, "Ada 2", "person")
    sheet = measurement_file(making_at(folder, "", ""), ".csv").decode()
    assert "52" in sheet
    assert "Ada 2" not in sheet
    assert "Ada 2" in measurement_file(making_at(folder, "", "Ada 2"), ".csv").decode()


def test_a_base_size_is_a_size_whatever_its_name(tmp_path: Path) -> None:
    folder = design_with(tmp_path, "Ada", "")
    text = (folder / "design.yaml").read_text(encoding="utf-8")
    base = next(line for line in text.splitlines() if line.startswith("base_size"))
    (folder / "design.yaml").write_text(text.replace(base, "base_size: Ada"), encoding="utf-8")
    assert "Ada" in read_design(folder).sizes
    (folder / "sizes.csv").write_text(with_person("Ada", "person"), encoding="utf-8")
    with pytest.raises(DocumentError, match="is a person by the size chart"):
        read_design(folder)


def test_another_word_in_the_column_is_a_fault_with_its_place() -> None:
    with pytest.raises(DocumentError, match="neither a size nor a person") as refused:
        parse_size_chart(with_person("Ada", "lady"))
    (fault,) = refused.value.faults
    assert "size Ada, column kind" in fault.path
    assert fault.line == 12


def test_a_chart_of_people_only_is_refused() -> None:
    text = (
        "size,kind,height_cm,bust_girth_cm,waist_girth_cm,hip_girth_cm\nAda,Person,168,88,70,94\n"
    )
    with pytest.raises(DocumentError, match="every row is a person"):
        parse_size_chart(text)
