"""Units against what others state. The ids are those of our list of check values.

Kind: *published* unless the row says otherwise.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from clothwise.units import (
    MM_PER_INCH,
    MM_PER_POINT,
    MM_PER_YARD,
    format_cm,
    format_inches,
    meters_to_buy,
    parse_length,
    yards_to_buy,
)


def test_inch_and_yard() -> None:
    """U01, U02. International yard and pound agreement, 1959: 25.4 mm and 0.9144 m exactly."""
    assert MM_PER_INCH == 25.4
    assert MM_PER_YARD == 914.4
    assert pytest.approx(1.0936, abs=5e-5) == 1000 / MM_PER_YARD


def test_point_of_a_pdf() -> None:
    """U03. Definition of the default user space unit in ISO 32000: 1/72 in."""
    assert pytest.approx(0.352778, abs=5e-7) == MM_PER_POINT


def test_the_usual_seam_in_both_systems() -> None:
    """U04. 5/8 in is 15.875 mm, printed as 1.5 cm: 0.875 mm less per edge. Derived."""
    five_eighths = parse_length("5/8 in")
    assert five_eighths == 15.875
    assert five_eighths - parse_length("1.5cm") == pytest.approx(0.875)
    assert format_inches(parse_length("1.5cm")) == "5/8 in"


@pytest.mark.parametrize(
    ("yards", "bought"), [(1.51, Fraction(13, 8)), (2.000, Fraction(2)), (2.001, Fraction(17, 8))]
)
def test_yards_are_bought_by_the_eighth(yards: float, bought: Fraction) -> None:
    """U05. The rule is common practice without a source; the sums are derived."""
    assert yards_to_buy(yards * MM_PER_YARD) == bought


def test_an_eighth_of_a_yard() -> None:
    """U06. 4.5 in = 11.43 cm. Derived."""
    eighth = MM_PER_YARD / 8
    assert format_inches(eighth) == "4 1/2 in"
    assert format_cm(eighth, decimals=2) == "11.43 cm"


@pytest.mark.parametrize(
    ("mm", "step", "bought"),
    [
        (1510, Fraction(1, 10), Fraction(16, 10)),
        (1510, Fraction(1, 20), Fraction(31, 20)),
        (1600, Fraction(1, 10), Fraction(16, 10)),
    ],
)
def test_meters_are_bought_by_the_tenth_or_twentieth(
    mm: float, step: Fraction, bought: Fraction
) -> None:
    """U07. Common practice, no source."""
    assert meters_to_buy(mm, step=step) == bought
