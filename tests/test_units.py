"""Lengths and angles survive the way in and out."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from clothwise.errors import UnitError
from clothwise.units import (
    ROUNDING_SLACK_MM,
    AngleUnit,
    LengthUnit,
    format_angle,
    format_cm,
    format_fraction,
    format_inches,
    format_length,
    format_meters,
    format_mm,
    format_yards,
    meters_to_buy,
    nearest_inches,
    parse_angle,
    parse_length,
    yards_to_buy,
)

LENGTHS_MM = st.floats(-5000, 5000)
POSITIVE_MM = st.floats(0, 50_000)


# Reading


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("2.5cm", 25),
        ("2,5 cm", 25),
        ("25 mm", 25),
        ("0.025m", 25),
        ("1 Meter", 1000),
        ("3/8in", 9.525),
        ("1 5/8 in", 41.275),
        ("1-5/8 in", 41.275),
        ("1  5/8  inches", 41.275),
        ('5/8"', 15.875),
        ("5⁄8 in.", 15.875),
        ("1⅝″", 41.275),
        ("1 ⅝ in", 41.275),
        ("½in", 12.7),
        (".5 in", 12.7),
        ("5'6\"", 1676.4),
        ("5 ft 6 1/2 in", 1689.1),
        ("5'6", 1676.4),
        ("6 ft", 1828.8),
        ("2 yd", 1828.8),
        ("-2cm", -20),
        ("−2cm", -20),
        ("+2cm", 20),
        ("  2 CM ", 20),
    ],
)
def test_written_lengths_are_read_exactly(text: str, mm: float) -> None:
    assert parse_length(text) == mm


def test_plain_number_takes_the_stated_unit() -> None:
    assert parse_length("92", default_unit=LengthUnit.CENTIMETER) == 920
    assert parse_length("36 1/4", default_unit=LengthUnit.INCH) == 920.75


def test_own_unit_wins_over_the_stated_one() -> None:
    assert parse_length("92 mm", default_unit=LengthUnit.CENTIMETER) == 92


def test_plain_number_without_stated_unit_is_refused() -> None:
    with pytest.raises(UnitError, match="no unit"):
        parse_length("92")
    with pytest.raises(UnitError, match="no unit"):
        parse_angle("21")


@pytest.mark.parametrize(
    "text",
    ["", "  ", "cm", "abc", "2.5.1 cm", "1e3 mm", "nan cm", "inf cm", "2 cm 3 cm", "1/2/3 in",
     "2 1 cm", "5'6\"7", "5 ft 3 cm", "--2cm", "٣cm", "2cm" * 50, "=B4*2", "#REF!"],
)  # fmt: skip
def test_what_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(UnitError) as caught:
        parse_length(text)
    assert caught.value.what_to_do
    assert len(str(caught.value)) < 300


def test_unknown_unit_is_named() -> None:
    with pytest.raises(UnitError, match=r"'3 furlong': 'furlong' is not a unit of length"):
        parse_length("3 furlong")


def test_division_by_zero_is_refused() -> None:
    with pytest.raises(UnitError, match="divides by zero"):
        parse_length("1/0 in")


@pytest.mark.parametrize(("text", "degrees"), [("21deg", 21), ("21.5 °", 21.5), ("-3 degrees", -3)])
def test_written_angles_are_read(text: str, degrees: float) -> None:
    assert parse_angle(text) == math.radians(degrees)


def test_radians_stay_as_they_are() -> None:
    assert parse_angle("0.37 rad") == 0.37
    assert parse_angle("0.37", default_unit=AngleUnit.RADIAN) == 0.37


@pytest.mark.parametrize("text", ["21cm", "", "steep", "21deg 3"])
def test_what_is_no_angle_is_refused(text: str) -> None:
    with pytest.raises(UnitError, match="angle"):
        parse_angle(text)


@given(st.text(max_size=80))
@example("1" * 60)
@example("1/" + "9" * 50 + " in")
@example("5'")
def test_any_text_is_a_length_or_refused(text: str) -> None:
    try:
        mm = parse_length(text, default_unit=LengthUnit.CENTIMETER)
    except UnitError:
        return
    assert math.isfinite(mm)


# Writing


@pytest.mark.parametrize(
    ("mm", "text"),
    [(15.875, "5/8 in"), (15.0, "5/8 in"), (25.4, "1 in"), (41.275, "1 5/8 in"), (0, "0 in"),
     (-38.1, "-1 1/2 in"), (1.0, "0 in"), (1.5875, "1/8 in"), (25.4 * 7 / 8 + 1.6, "1 in")],
)  # fmt: skip
def test_inches_are_reduced_fractions(mm: float, text: str) -> None:
    assert format_inches(mm) == text


def test_halves_round_away_from_zero_as_decimals_are_written() -> None:
    """0.25 and 2.675 are not exactly those numbers in binary; people see decimals."""
    assert format_cm(22.5, decimals=0) == "2 cm"
    assert format_cm(25, decimals=0) == "3 cm"
    assert format_cm(0.25, decimals=2) == "0.03 cm"
    assert format_mm(2.675, decimals=2) == "2.68 mm"
    assert format_mm(-0.5) == "-1 mm"


def test_nothing_is_written_without_a_sign() -> None:
    assert (format_cm(-0.4), format_mm(-0.4), format_inches(-0.4)) == ("0 cm", "0 mm", "0 in")


@pytest.mark.parametrize(
    ("unit", "text"),
    [
        (LengthUnit.MILLIMETER, "1676 mm"),
        (LengthUnit.CENTIMETER, "167.6 cm"),
        (LengthUnit.METER, "1.68 m"),
        (LengthUnit.INCH, "66 in"),
        (LengthUnit.FOOT, "5 ft 6 in"),
        (LengthUnit.YARD, "1 7/8 yd"),
    ],
)
def test_each_unit_has_its_usual_form(unit: LengthUnit, text: str) -> None:
    assert format_length(1676.4, unit) == text


def test_angles_are_shown_in_degrees() -> None:
    assert format_angle(math.radians(21.46)) == "21.5°"
    assert format_angle(math.pi) == "180°"


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_unreal_lengths_are_not_shown(bad: float) -> None:
    for unit in LengthUnit:
        with pytest.raises(UnitError):
            format_length(bad, unit)


def test_no_ruler_has_tenths_of_an_inch() -> None:
    with pytest.raises(UnitError, match="10 parts"):
        format_inches(20, denominator=10)


def test_meters_have_the_decimals_they_need() -> None:
    assert [format_meters(Fraction(n, 20)) for n in (40, 32, 33)] == ["2.0 m", "1.6 m", "1.65 m"]


@given(LENGTHS_MM)
def test_inches_read_back_within_half_a_division(mm: float) -> None:
    for denominator in (8, 16):
        read = parse_length(format_inches(mm, denominator=denominator))
        assert abs(read - mm) <= 25.4 / denominator / 2 + 1e-9


@given(LENGTHS_MM, st.integers(0, 3))
def test_centimeters_and_millimeters_read_back_within_half_a_digit(
    mm: float, decimals: int
) -> None:
    step_mm = 10**-decimals
    assert abs(parse_length(format_mm(mm, decimals=decimals)) - mm) <= step_mm / 2 + 1e-9
    assert abs(parse_length(format_cm(mm, decimals=decimals)) - mm) <= step_mm * 5 + 1e-9


@given(LENGTHS_MM, st.sampled_from(LengthUnit))
def test_every_shown_length_can_be_read(mm: float, unit: LengthUnit) -> None:
    coarsest = {LengthUnit.METER: 5.0, LengthUnit.YARD: 914.4 / 16}.get(unit, 25.4 / 16)
    assert abs(parse_length(format_length(mm, unit)) - mm) <= coarsest + 1e-6


@given(st.integers(-4000, 4000))
def test_inch_fractions_survive_exactly(sixteenths: int) -> None:
    amount = Fraction(sixteenths, 16)
    mm = float(amount * LengthUnit.INCH.exact_mm)
    assert nearest_inches(mm, denominator=16) == amount
    assert parse_length(f"{format_fraction(amount)} in") == mm


@given(st.floats(-1e4, 1e4), st.sampled_from(LengthUnit))
def test_units_convert_both_ways(amount: float, unit: LengthUnit) -> None:
    assert unit.from_mm(unit.to_mm(amount)) == pytest.approx(amount, rel=1e-12, abs=1e-12)


@given(st.floats(-7, 7))
def test_angles_read_back_within_half_a_digit(angle_rad: float) -> None:
    shown = format_angle(angle_rad, decimals=2)
    assert abs(parse_angle(shown) - angle_rad) <= math.radians(0.005) + 1e-12


# Buying


@given(POSITIVE_MM)
def test_enough_is_bought_and_less_than_a_step_too_much(mm: float) -> None:
    for bought_mm, step_mm in (
        (float(yards_to_buy(mm) * LengthUnit.YARD.exact_mm), 914.4 / 8),
        (float(meters_to_buy(mm) * 1000), 100),
        (float(meters_to_buy(mm, step=Fraction(1, 20)) * 1000), 50),
    ):
        assert mm - ROUNDING_SLACK_MM - 1e-9 <= bought_mm < mm + step_mm


@given(st.integers(0, 400), st.floats(-1e-9, 1e-9))
def test_a_length_on_a_step_stays_there_whatever_floats_do(steps: int, noise_mm: float) -> None:
    assert yards_to_buy(max(0.0, steps * 914.4 / 8 + noise_mm)) == Fraction(steps, 8)
    assert meters_to_buy(max(0.0, steps * 100 + noise_mm)) == Fraction(steps, 10)


def test_sums_of_floats_stay_on_the_step() -> None:
    """Ten times 0.1 m is 1 m in the shop, though not in floats."""
    assert meters_to_buy(sum([0.1] * 10) * 1000) == 1
    assert yards_to_buy(sum([914.4 / 8] * 16)) == 2


def test_nothing_and_negative() -> None:
    assert yards_to_buy(0) == meters_to_buy(0) == 0
    with pytest.raises(UnitError, match="negative"):
        yards_to_buy(-1)


def test_yards_are_written_as_in_a_shop() -> None:
    assert format_yards(yards_to_buy(1.51 * 914.4)) == "1 5/8 yd"
