"""What a size leaves out and other sizes give goes on as these step, and is drafted so."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.components.design_file import read_design
from clothwise.pattern import Body
from clothwise.pattern.body_file import format_body, parse_body_yaml
from clothwise.pattern.size_chart import SizeChart, format_size_chart, parse_size_chart
from clothwise.pattern.vocabulary import MEASUREMENTS, REQUIRED

DRESS = Path(__file__).parents[2] / "examples" / "kiln-dress"


def kiln() -> SizeChart:
    return parse_size_chart((DRESS / "sizes.csv").read_text(encoding="utf-8"))


def blanked(names: Iterable[str]) -> str:
    """The chart of the kiln dress with only what is needed in these sizes."""
    lines = (DRESS / "sizes.csv").read_text(encoding="utf-8").splitlines()
    start = next(at for at, line in enumerate(lines) if line.startswith("size,"))
    headings, *rows = csv.reader(lines[start:])
    needed = {0, *(at for at, heading in enumerate(headings) if heading[:-3] in REQUIRED)}
    kept = [
        [cell if at in needed or row[0] not in names else "" for at, cell in enumerate(row)]
        for row in rows
    ]
    stream = io.StringIO()
    csv.writer(stream).writerows([headings, *kept])
    return stream.getvalue()


@pytest.mark.parametrize("sizes", [("52",), ("34",), ("40",), ("38", "40"), ("34", "42", "52")])
def test_what_even_sizes_leave_out_is_what_they_had(sizes: tuple[str, ...]) -> None:
    """The chart steps evenly up to 46 and from there on, so each value lies on the line."""
    whole, partly = kiln(), parse_size_chart(blanked(sizes))
    for size in sizes:
        body = partly.size(size)
        assert dict(body) == pytest.approx(dict(whole.size(size)), abs=1e-3)
        left_out = whole.size(size).given.keys() - set(REQUIRED)
        assert all(body.is_estimated(name) and body.is_of_chart(name) for name in left_out)
        assert not any(body.is_usual(name) for name in left_out)
        assert body.estimated["shoulder_length"] == "the other sizes of the chart step"


def test_a_size_with_few_measurements_is_drafted_as_its_chart_goes_on(tmp_path: Path) -> None:
    """The pieces are those of the size with all of them, to a tenth of a square centimeter."""
    for name in ("design.yaml", "sizes.csv"):
        (tmp_path / name).write_bytes((DRESS / name).read_bytes())
    design = read_design(tmp_path)
    whole = design.draft(view="A", body=design.chart.size("52"))
    (tmp_path / "sizes.csv").write_text(blanked(("52",)), encoding="utf-8")
    design = read_design(tmp_path)
    partly = design.draft(view="A", body=design.chart.size("52"))
    assert partly.pieces.keys() == whole.pieces.keys()
    for name, piece in partly.pieces.items():
        area = whole.pieces[name].outline.area
        assert piece.outline.area == pytest.approx(area, abs=10.0), name


def test_sizes_go_on_by_those_whose_names_are_of_their_kind() -> None:
    """20W goes on from 16W and 18W, whatever 16 and 18 have."""
    chart = parse_size_chart(
        "size,height_cm,bust_girth_cm,waist_girth_cm,hip_girth_cm,arm_length_cm\n"
        "16,168,100,82,106,58\n18,168,105,87,111,58.5\n"
        "16W,168,100,84,108,56\n18W,168,105,89,113,56.2\n20W,168,110,94,118,\n"
    )
    assert chart.size("20W")["arm_length"] == pytest.approx(564)


def test_with_one_size_that_gives_it_there_is_no_step() -> None:
    girths = "168,100,82,106", "168,105,87,111"
    chart = parse_size_chart(
        "size,height_cm,bust_girth_cm,waist_girth_cm,hip_girth_cm,arm_length_cm\n"
        f"16,{girths[0]},58\n18,{girths[1]},\n"
    )
    body = chart.size("18")
    assert body.is_usual("arm_length")
    assert body["arm_length"] == Body.complete(body.given)["arm_length"]


def test_a_person_in_the_chart_takes_nothing_from_the_sizes_and_gives_them_nothing() -> None:
    needed = {"height": 1700.0, "bust_girth": 980.0, "waist_girth": 845.0, "hip_girth": 1075.0}
    ada = Body.complete({**needed, "arm_length": 640.0}, name="Ada")
    eve = Body.complete(needed, name="Eve")
    chart = kiln()
    added = SizeChart((*chart, ada, eve), chart.unit, chart.title, chart.source)
    assert added.sizes[: len(chart)] == chart.sizes
    assert added.size("Eve") == eve


def test_what_does_not_go_together_is_estimated_by_the_body_itself() -> None:
    """A wrist that must be below the upper arm: the size that is told more keeps what fits."""
    chart = parse_size_chart(
        "size,height_cm,bust_girth_cm,waist_girth_cm,hip_girth_cm,upper_arm_girth_cm,"
        "across_back_shoulder_width_cm,shoulder_length_cm\n"
        "34,168,80,62,86,26,37,\n36,168,84,66,90,28,38,\n60,168,150,130,156,,38,9\n"
    )
    for size in chart:
        for name, measurement in MEASUREMENTS.items():
            assert measurement.smallest <= size[name] <= measurement.largest


def test_a_measurement_of_ones_own_leaves_what_the_other_sizes_told() -> None:
    size = parse_size_chart(blanked(("52",))).size("52")
    wider = size.with_measured({"waist_girth": size["waist_girth"] + 40})
    assert wider["shoulder_length"] == size["shoulder_length"]
    assert wider.is_of_chart("shoulder_length")
    measured = size.with_measured({"shoulder_length": 130.0})
    assert not measured.is_estimated("shoulder_length")


@given(st.sets(st.sampled_from([size.name for size in kiln()]), max_size=9))
def test_charts_with_gaps_are_read_and_written_alike(sizes: set[str]) -> None:
    chart = parse_size_chart(blanked(sizes))
    assert parse_size_chart(format_size_chart(chart)) == chart
    assert replace(chart) == chart
    for size in chart:
        assert all(math.isfinite(value) for value in size.values())


def test_a_size_written_as_a_person_keeps_what_the_other_sizes_told() -> None:
    """A body file has no chart to go on by, so it says these values, and that nobody took them."""
    size = parse_size_chart(blanked(("52",))).size("52")
    text = format_body(size)
    assert "shoulder_length: 13.5  # not measured: as the sizes step" in text
    assert dict(parse_body_yaml(text)) == pytest.approx(dict(size), abs=1e-6)
