"""Widths in which cloth is sold, and how they stand on a bolt."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.checks.widths import WIDEST_CLOTH_MM
from clothwise.errors import Misuse
from clothwise.pattern.document import parse_make, starting_design
from clothwise.pattern.document.fabric_entry import parse_width
from clothwise.pattern.document.usual_widths import USUAL_WIDTHS, narrower_of_two
from clothwise.units import parse_length
from command_line import clothwise


def test_usual_widths_are_those_of_the_chart() -> None:
    """36, 44/45, 54, 58/60 in are 90, 112-115, 137-140, 148-152 cm (check value Y17)."""
    assert [each.inches for each in USUAL_WIDTHS] == ["36in", "44/45in", "54in", "58/60in"]
    assert [(each.narrow_mm, each.wide_mm) for each in USUAL_WIDTHS] == [
        (900, 900), (1120, 1150), (1370, 1400), (1480, 1520)
    ]  # fmt: skip
    assert USUAL_WIDTHS[-1].wide_mm == WIDEST_CLOTH_MM


def test_inches_and_centimeters_name_the_same_cloth() -> None:
    """Shops round by less than a selvage and a half either way (25.4 mm to the inch)."""
    for each in USUAL_WIDTHS:
        assert parse_width(each.inches) == pytest.approx(parse_width(each.centimeters), abs=15)


@pytest.mark.parametrize(
    ("text", "width_mm"),
    [
        ("44/45in", 44 * 25.4), ('58/60"', 58 * 25.4), ("58 - 60 in", 58 * 25.4),
        ("112/115cm", 1120), ("148–152 cm", 1480), ("45in", 45 * 25.4), ("45 1/2 in", 45.5 * 25.4),
        ("1/2 yd", 457.2),
    ],
)  # fmt: skip
def test_of_two_widths_the_narrower_counts(text: str, width_mm: float) -> None:
    assert parse_width(text) == pytest.approx(width_mm)


@given(st.integers(1, 99), st.sampled_from([2, 4, 8, 16]))
def test_fractions_of_an_inch_stay_fractions(number: int, parts: int) -> None:
    text = f"{number}/{parts}in"
    assert narrower_of_two(text) is None
    assert parse_length(text) == pytest.approx(number / parts * 25.4)


@pytest.mark.parametrize("text", ["45/44in", "44/60in", "3/4in", "44/45", "44/45/46in"])
def test_what_is_no_range_of_one_width_is_none(text: str) -> None:
    assert narrower_of_two(text) is None


def test_a_new_design_takes_cloth_of_the_width_there_is(tmp_path: Path) -> None:
    """All cloths but the fusible, whose width is its own."""
    ran = clothwise("new", "kiln-dress", tmp_path / "dress", "--width", "58/60in")
    assert ran.code == 0
    for file in (tmp_path / "dress" / "makes").glob("*.yaml"):
        make = parse_make(file.read_text(encoding="utf-8"))
        widths = {each.name: each.width for each in make.fabrics}
        assert widths.pop("fusible") == "90cm"
        assert set(widths.values()) == {"58/60in"}
        assert all(each.usable_width == "" for each in make.fabrics)
        assert file.read_text(encoding="utf-8").startswith("#")  # its remarks are still there


@pytest.mark.parametrize("width", ["0cm", "wide", "12m"])
def test_a_width_that_no_cloth_has_starts_nothing(tmp_path: Path, width: str) -> None:
    ran = clothwise("new", "kiln-dress", tmp_path / "dress", "--width", width)
    assert ran.code == 2
    assert ran.err
    assert list(tmp_path.iterdir()) == []


def test_without_a_width_the_files_are_as_published(tmp_path: Path) -> None:
    starting_design("half-circle-skirt", tmp_path / "skirt")
    example = Path(__file__).parents[3] / "examples" / "half-circle-skirt" / "make.yaml"
    assert (tmp_path / "skirt" / "make.yaml").read_bytes() == example.read_bytes()
    with pytest.raises(Misuse):
        starting_design("half-circle-skirt", tmp_path / "other", width="0cm")
