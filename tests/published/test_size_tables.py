"""The published size tables that come with Clothwise, against the figures they were copied from."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from clothwise.errors import MeasurementError, Misuse
from clothwise.pattern.measurements import MEASUREMENTS
from clothwise.pattern.published import Flag, published, published_names, published_tables
from clothwise.pattern.size_chart import format_size_chart, parse_size_chart

IN, CM = 25.4, 10.0

D5585_11, D5585_95 = "astm-d5585-11", "astm-d5585-95"
EN, PS42 = "en13402-3-women", "ps42-70"
MISSES, WOMENS = "home-sewing-misses", "home-sewing-womens"

FIGURES = [
    # table, size, unit, figures, flag; then where it was seen
    # Z01: ASTM D5585-11e1 (2011), Table 1, public abstract page: seen
    (D5585_11, "8", IN, {"bust_girth": 36.25, "waist_girth_curvy": 28}, Flag.SEEN),
    (D5585_11, "8", IN, {"waist_girth_straight": 29.5}, Flag.SEEN),
    # Z02: the same page
    (D5585_11, "12", IN, {"bust_girth": 38.75, "waist_girth_curvy": 30.75}, Flag.SEEN),
    (D5585_11, "12", IN, {"waist_girth_straight": 32.25, "neck_base_girth": 15.125}, Flag.SEEN),
    # Z04: New York Times, 1 March 2004, on ASTM D5585-95: seen second-hand
    (D5585_95, "8", IN, {"bust_girth": 35, "waist_girth": 27, "hip_girth": 37.5}, Flag.SECOND_HAND),
    # Z08: PS 42-70, from memory
    (PS42, "12", IN, {"bust_girth": 35, "waist_girth": 26, "hip_girth": 37}, Flag.MEMORY),
    # Z12: usual on home-sewing patterns; common practice, no source
    (MISSES, "12", IN, {"bust_girth": 34, "waist_girth": 26.5, "hip_girth": 36}, Flag.PRACTICE),
    (MISSES, "12", IN, {"back_neck_to_waist": 16.25}, Flag.PRACTICE),
    # Z09: EN 13402-3 (2005), quoted by the reference manual of the R package Anthropometry
    (EN, "88", CM, {"bust_girth_from": 86, "bust_girth_to": 90}, Flag.SECOND_HAND),
    # Z10: from memory
    (EN, "88", CM, {"waist_girth": 72, "hip_girth": 96}, Flag.MEMORY),
]  # fmt: skip


@pytest.mark.parametrize(("name", "size", "unit_mm", "figures", "flag"), FIGURES)
def test_figures_are_the_published_ones(
    name: str, size: str, unit_mm: float, figures: dict[str, float], flag: Flag
) -> None:
    found = published(name).size(size).figures
    for column, amount in figures.items():
        assert found[column].mm == pytest.approx(amount * unit_mm, abs=1e-9)
        assert found[column].flag is flag


def test_straight_waist_is_an_inch_and_a_half_more_than_the_curvy_one_in_every_size() -> None:
    """Z03, derived from the page of ASTM D5585-11e1; 00 to 20 are 12 sizes."""
    table = published(D5585_11)
    assert " ".join(size.name for size in table.sizes) == "00 0 2 4 6 8 10 12 14 16 18 20"
    for size in table.sizes:
        straight, curvy = (size.figures[f"waist_girth_{of}"].mm for of in ("straight", "curvy"))
        assert straight - curvy == pytest.approx(1.5 * IN, abs=1e-9)


def test_the_odd_upper_chest_is_copied_as_printed() -> None:
    """The page prints an upper chest above the bust in 00, 0 and 2, equal in 4."""
    above = {
        size.name: size.figures["upper_chest_girth"].mm - size.figures["bust_girth"].mm
        for size in published(D5585_11).sizes
    }
    assert {name for name, mm in above.items() if mm > 0} == {"00", "0", "2"}
    assert above["4"] == 0
    assert "copied as printed" in published(D5585_11).note


def test_bust_minus_waist_is_eight_inches_throughout() -> None:
    """Z05, from memory; size 8 seen second-hand agrees."""
    for size in published(D5585_95).sizes:
        difference_mm = size.figures["bust_girth"].mm - size.figures["waist_girth"].mm
        assert difference_mm == pytest.approx(8 * IN, abs=1e-9)
        assert size.figures["bust_girth"].flag is (
            Flag.SECOND_HAND if size.name == "8" else Flag.MEMORY
        )


def test_bounds_of_the_bust_leave_no_gap() -> None:
    """Z09: 74, 78, ... 102 by 4, then 107, 113, 119, 125, 131: 12 sizes. Z10: waist and hip."""
    sizes = published(EN).sizes
    bounds_mm = [sizes[0].figures["bust_girth_from"].mm]
    for size in sizes:
        assert size.figures["bust_girth_from"].mm == bounds_mm[-1]
        bounds_mm.append(size.figures["bust_girth_to"].mm)
        assert bounds_mm[-2] < size.figures["bust_girth"].mm < bounds_mm[-1]
        assert size.name == f"{size.figures['bust_girth'].mm / CM:g}"
    assert bounds_mm == [each * CM for each in (*range(74, 103, 4), 107, 113, 119, 125, 131)]
    for name, ends in (("waist_girth", (600, 1120)), ("hip_girth", (840, 1320))):
        assert (sizes[0].figures[name].mm, sizes[-1].figures[name].mm) == ends


def test_steps_of_the_bust_on_home_sewing_patterns() -> None:
    """Z13, derived: 1 in from 6 to 10, 1 1/2 in from 10 to 12, then 2 in."""
    busts = [size.figures["bust_girth"].mm / IN for size in published(MISSES).sizes]
    steps = [b - a for a, b in pairwise(busts)]
    assert steps == pytest.approx([1, 1, 1.5, *[2] * 6])


def test_every_table_says_where_it_is_from_and_what_it_lacks() -> None:
    assert set(published_names()) == {D5585_11, D5585_95, EN, PS42, MISSES, WOMENS}
    for table in published_tables():
        assert table == published(table.name)
        assert table.title
        assert table.source
        assert table.flags
        assert "height" in table.lacks
        for size in table.sizes:
            assert set(size.figures) == set(table.columns), "no figure is blank"
        for column in set(table.columns) & set(MEASUREMENTS):
            values = [size.figures[column].mm for size in table.sizes]
            assert values == sorted(values)
            known = MEASUREMENTS[column]
            assert known.smallest <= values[0] <= values[-1] <= known.largest
    assert set(published(D5585_11).lacks) == {"height", "waist_girth", "hip_girth"}


# A chart of one's own


@pytest.mark.parametrize("name", sorted({D5585_95, EN, PS42, MISSES, WOMENS}))
@pytest.mark.parametrize("height_mm", [1550.0, 1650.0, 1651.0, 1780.0])
def test_a_chart_has_the_figures_of_its_table_and_the_height(name: str, height_mm: float) -> None:
    table = published(name)
    chart = table.chart(height_mm=height_mm)
    assert chart.unit is table.unit
    assert chart.names == tuple(size.name for size in table.sizes)
    for body, size in zip(chart, table.sizes, strict=True):
        ours = {name: each.mm for name, each in size.figures.items() if name in MEASUREMENTS}
        assert body.given == {"height": height_mm, **ours}
    assert table.title in chart.title
    assert table.source in chart.source
    assert all(flag.value in chart.source for flag in table.flags)
    assert parse_size_chart(format_size_chart(chart)) == chart


def test_a_height_in_centimeters_stays_one_in_a_chart_in_inches() -> None:
    text = format_size_chart(published(PS42).chart(height_mm=1650))
    assert text.splitlines()[2:4] == [
        "size,height_in,bust_girth_in,waist_girth_in,hip_girth_in",
        "6,165 cm,31 1/2,22 1/2,33 1/2",
    ]
    assert "height 165 cm" in text.splitlines()[0]
    assert "height 65 in" in published(PS42).chart(height_mm=65 * IN).title


@pytest.mark.parametrize(
    ("name", "height_mm", "says"),
    [
        (D5585_11, 1650, "no waist_girth (only waist_girth_curvy and waist_girth_straight) and no"),
        (PS42, None, "gives no height"),
        (PS42, 165, "not the height of an adult"),
    ],
)
def test_no_chart_from_too_little(name: str, height_mm: float | None, says: str) -> None:
    with pytest.raises(Misuse) as caught:
        published(name).chart(height_mm=height_mm)
    assert says in str(caught.value)
    assert caught.value.what_to_do


def test_a_height_that_contradicts_the_table_is_refused() -> None:
    """A back of 18 in (457 mm) is more than a third of 125 cm."""
    with pytest.raises(MeasurementError, match="back_neck_to_waist"):
        published(WOMENS).chart(height_mm=1250)


def test_unknown_tables_and_sizes_are_refused_with_a_suggestion() -> None:
    with pytest.raises(Misuse, match="Did you mean ps42-70"):
        published("ps42-71")
    with pytest.raises(Misuse, match="no size '9'"):
        published(PS42).size("9")
    with pytest.raises(Misuse, match="no published table is named"):
        published("")


def test_the_page_about_size_charts_has_a_row_for_each_table() -> None:
    page = Path(__file__).parents[2] / "docs" / "reference" / "size-charts.md"
    rows = [line for line in page.read_text("utf-8").splitlines() if line.startswith("| `")]
    for name in published_names():
        assert sum(row.startswith(f"| `{name}` |") for row in rows) == 1
