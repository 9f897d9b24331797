"""What is told in both units begins with that of the reader."""

from __future__ import annotations

from fractions import Fraction

import pytest

from clothwise.packet.both_units import amounts, unit_first
from clothwise.packet.requirement_words import width_words
from clothwise.units import LengthUnit

CM, INCH = LengthUnit.CENTIMETER, LengthUnit.INCH


@pytest.mark.parametrize(
    ("text", "turned"),
    [
        ("57.5 cm (22 5/8 in) wide", "22 5/8 in (57.5 cm) wide"),
        ("112–115 cm (44–45 in)", "44–45 in (112–115 cm)"),
        ("Buy 2.3 m (2 1/2 yd) now.", "Buy 2 1/2 yd (2.3 m) now."),
        ("no 4 cm (to spare)", "no 4 cm (to spare)"),
    ],
)
def test_lengths_in_both_units_are_turned_round_for_who_reads_inches(
    text: str, turned: str
) -> None:
    assert unit_first(text, INCH) == turned
    assert unit_first(text, CM) == text


def test_an_amount_begins_with_the_unit_of_the_reader() -> None:
    assert amounts(Fraction(13, 5), Fraction(23, 8), CM) == ("2.6 m", "2 7/8 yd")
    assert amounts(Fraction(13, 5), Fraction(23, 8), INCH) == ("2 7/8 yd", "2.6 m")


def test_a_width_begins_with_the_unit_of_the_reader() -> None:
    assert width_words(1120, "44/45in", INCH) == "44–45 in (112–115 cm)"
    assert width_words(1150, unit=INCH) == "45 1/4 in (115 cm)"
    assert width_words(1150) == "115 cm (45 1/4 in)"
