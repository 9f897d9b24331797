"""People in a chart: no order is asked of them; one figure that fits none of its row is told."""

from __future__ import annotations

from clothwise.pattern import Finding
from clothwise.pattern.size_chart import parse_size_chart
from clothwise.sizing.chart_checks import chart_faults
from clothwise.sizing.chart_slips import slip_of
from sizing.published_charts import PUBLISHED, published

CLASS = (
    "# unit: in\nsize,height,bust_girth,waist_girth,hip_girth\n"
    "Ada,65,36 1/2,29,39\nElke,67,44,38,46\nBea,64,35,28,38\nCeci,62,40,33,43\nDi,70,38,31,41\n"
)
"""Invented; listed as they came into the room, the tall one with the smaller girths."""


def found(text: str) -> list[Finding]:
    return chart_faults(parse_size_chart(text))


def test_no_order_is_asked_of_people() -> None:
    assert found(CLASS) == []
    stated = CLASS.replace("size,", "size,kind,").replace(",6", ",size,6").replace(",7", ",size,7")
    assert "CHART-ORDER" in {each.code for each in found(stated)}, "unless they are called sizes"


def test_the_one_wrong_figure_is_all_that_is_told() -> None:
    (slip,) = found(CLASS.replace("44,38,46", "44,28,46"))
    assert slip.size == "Elke"
    assert "waist girth of 28 in fits none of the other figures" in slip.message
    assert "bust girth 44 in and hip girth 46 in" in slip.message
    low, high = "33 5/8 in", "50 1/8 in"
    assert f"let expect {low} to {high}" in slip.message


def test_a_wrong_figure_comes_before_what_else_is_told() -> None:
    sizes = "36,65,33,25,36\n38,65,34,26,37\n40,65,36,28,39\n42,65,35,27,38\n"
    text = CLASS.replace("44,38,46", "44,28,46") + sizes
    codes = [(each.code, each.size) for each in found(text)]
    assert codes[0] == ("CHART-PROPORTION", "Elke")
    assert {code for code, _ in codes[1:]} == {"CHART-ORDER"}


def test_no_sound_row_has_such_a_figure() -> None:
    rows = [body for name in PUBLISHED for body in published(name)]
    assert len(rows) > 20
    assert not [body.name for body in rows if slip_of(body)]
