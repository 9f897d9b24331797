"""Rounding as shops sell, after shrinkage.

Rows U05 to U07 and K16 of the project's list of check values: common practice, no source; the
sums are derived.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.cutting import CutItem, Effort, Fabric, Requirement, SoldBy, lay, requirement

ENDS_MM = 10.0  # both end margins


def of_length(layout_mm: float, **cloth: Any) -> Requirement:
    """Return the requirement of a layout of just this length."""
    side = layout_mm - ENDS_MM
    strip = ((0.0, 0.0), (50.0, 0.0), (50.0, side), (0.0, side))
    fabric = Fabric("linen", 1400, **cloth)
    return requirement(lay([CutItem("a", "a", strip)], fabric, effort=Effort(0, 0)))


@pytest.mark.parametrize(
    ("yards", "sold"),
    [
        (1.51, Fraction(13, 8)),  # U05
        (2.000, Fraction(2)),  # U05
        (1.0, Fraction(1)),
        (1.001, Fraction(9, 8)),
    ],
)
def test_yards_are_rounded_up_to_eighths(yards: float, sold: Fraction) -> None:
    assert of_length(yards * 914.4).yards == sold


def test_an_eighth_of_a_yard_is_four_and_a_half_inches() -> None:
    """U06: 4.5 in = 11.43 cm."""
    assert of_length(114.3).yards == Fraction(1, 8)
    assert of_length(114.4).yards == Fraction(1, 4)


@pytest.mark.parametrize(
    ("length_mm", "step", "sold"),
    [
        (1510, Fraction(1, 10), Fraction(16, 10)),  # U07
        (1510, Fraction(1, 20), Fraction(155, 100)),  # U07
        (1500, Fraction(1, 10), Fraction(15, 10)),
        (1500.004, Fraction(1, 10), Fraction(15, 10)),  # what the packer's arithmetic may add
    ],
)
def test_meters_are_rounded_up(length_mm: float, step: Fraction, sold: Fraction) -> None:
    side = length_mm - ENDS_MM
    strip = ((0.0, 0.0), (50.0, 0.0), (50.0, side), (0.0, side))
    layout = lay([CutItem("a", "a", strip)], Fabric("linen", 1400), effort=Effort(0, 0))
    assert requirement(layout, meter_step=step).meters == sold


def test_cloth_is_bought_before_it_shrinks() -> None:
    """K16 with K08: a layout of 1 m at 5 % takes 105.26 cm, so 1.1 m or 1 1/4 yd."""
    needed = of_length(1000, shrinkage_along=0.05)
    assert needed.buy_length_mm == pytest.approx(1052.6, abs=0.05)
    assert needed.layout_length_mm == pytest.approx(1000)
    assert needed.meters == Fraction(11, 10)
    assert needed.yards == Fraction(5, 4)


def test_only_the_warp_counts_for_the_length() -> None:
    """K10."""
    assert of_length(1000, shrinkage_across=0.2).buy_length_mm == pytest.approx(1000)


def test_cost_is_that_of_what_is_sold() -> None:
    assert of_length(1010, price_per_meter=12.0).cost == pytest.approx(1.1 * 12)
    assert of_length(1010).cost is None
    by_the_yard = of_length(1010, price_per_meter=20 / 0.9144, sold_by=SoldBy.YARD)
    assert by_the_yard.cost == pytest.approx(1.125 * 20)


@given(st.floats(20, 20_000), st.floats(0, 0.25))
def test_enough_is_bought_and_not_a_step_too_much(layout_mm: float, shrinkage: float) -> None:
    needed = of_length(layout_mm, shrinkage_along=shrinkage)
    washed_mm = float(needed.meters) * 1000 * (1 - shrinkage)
    assert washed_mm >= needed.layout_length_mm - 0.011
    assert float(needed.meters) * 1000 < needed.buy_length_mm + 100
    assert float(needed.yards) * 914.4 < needed.buy_length_mm + 114.3
