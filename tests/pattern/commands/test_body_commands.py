"""Measurements of a person changed in their file, and a spreadsheet made a chart to edit."""

from pathlib import Path

import pytest

from clothwise.components import open_design
from clothwise.errors import ClothwiseError
from clothwise.pattern import Body
from clothwise.pattern.body_file import parse_body_csv, parse_body_yaml
from clothwise.pattern.commands import (
    Documents,
    MakeChartEditable,
    SetBody,
    command_from_data,
    read_documents,
)
from clothwise.pattern.size_chart import parse_size_chart

EXAMPLES = Path(__file__).parents[3] / "examples"
ADA = """\
# Measured in May.
name: Ada
unit: cm
measurements:
  height: 168   # without shoes
  bust_girth: 92
  waist_girth: 74
  hip_girth: 99
"""
ADA_CSV = "# name: Ada\n# unit: cm\nmeasurement,value\nheight,168\nbust_girth,92\n"
ADA_CSV += "waist_girth,74\nhip_girth,99\n"
FLOW = "measurements: {height: 168cm, bust_girth: 92cm, waist_girth: 74cm, hip_girth: 99cm}\n"


def _after(text: str, name: str = "bodies/ada.yaml", **values: str) -> tuple[str, Body]:
    command = SetBody(name, values)
    assert command_from_data(command.to_data()) == command
    after = command.apply({name: text})[name]
    return after, parse_body_csv(after) if name.endswith(".csv") else parse_body_yaml(after)


def test_values_are_exchanged_added_and_taken_out_and_remarks_stay() -> None:
    text, body = _after(ADA, height="170 cm", neck_girth="14 in", bust_girth="93 cm")
    assert text.startswith("# Measured in May.\nname: Ada\n")
    assert "  height: 170 cm   # without shoes\n" in text
    assert body.given["neck_girth"] == pytest.approx(355.6)
    assert body.given["bust_girth"] == 930.0
    again, body = _after(text, neck_girth="")
    assert "neck" not in again
    assert body.is_estimated("neck_girth")
    assert SetBody("bodies/ada.yaml", {"height": "170 cm"}).told({"bodies/ada.yaml": ADA}) == (
        "Ada: height 170 cm"
    )


def test_a_table_is_written_into_in_the_same_way() -> None:
    text, body = _after(ADA_CSV, "bodies/ada.csv", height="170 cm", neck_girth="36 cm")
    assert "height,170 cm\n" in text
    assert text.endswith("hip_girth,99\nneck_girth,36 cm\n")
    assert body.given["neck_girth"] == 360.0
    assert "neck" not in _after(text, "bodies/ada.csv", neck_girth="")[0]


def test_a_file_in_another_form_is_written_anew() -> None:
    _, body = _after(FLOW, height="170 cm", neck_girth="36 cm")
    assert body.given == {
        "height": 1700.0, "bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 990.0,
        "neck_girth": 360.0,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("values", "message"),
    [
        ({"hieght": "170 cm"}, "Did you mean height"),
        ({"height": "17 cm"}, "height"),
        ({"height": ""}, "height"),
        ({"height": "tall"}, "tall"),
    ],
)
def test_what_no_body_has_is_refused(values: dict[str, str], message: str) -> None:
    with pytest.raises(ClothwiseError, match=message):
        SetBody("bodies/ada.yaml", values).apply({"bodies/ada.yaml": ADA})


def test_a_spreadsheet_becomes_a_chart_that_can_be_edited() -> None:
    documents: Documents = read_documents(EXAMPLES / "kiln-dress")
    sheet = {
        **{name: text for name, text in documents.items() if name != "sizes.csv"},
        "sizes.xlsx": documents["sizes.csv"],
        "design.yaml": documents["design.yaml"].replace("sizes.csv", "sizes.xlsx"),
    }
    after = MakeChartEditable("sizes.xlsx").apply(sheet)
    assert after["design.yaml"] == documents["design.yaml"]
    assert parse_size_chart(after["sizes.csv"]) == parse_size_chart(documents["sizes.csv"])
    assert after["sizes.xlsx"] == sheet["sizes.xlsx"]
    assert open_design(after).chart.names
    with pytest.raises(ClothwiseError, match="no spreadsheet"):
        MakeChartEditable("sizes.xlsx").apply(after)
    taken = MakeChartEditable("sizes.xlsx").apply({**sheet, "sizes.csv": "mine"})
    assert (taken["sizes.csv"], "sizes-2.csv" in taken) == ("mine", True)
