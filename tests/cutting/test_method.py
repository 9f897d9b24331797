"""How much cloth stays between pieces, by what cuts it."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.cutting import DEFAULT_SPACING, Fabric, LayerPlan, Spacing
from clothwise.cutting.from_make import method_from, spacing_from
from clothwise.cutting.method import (
    WHEEL_DIAMETER_MM,
    WIDEST_BETWEEN_MM,
    CuttingMethod,
    method_words,
    spacing_for,
    wheel_ahead_mm,
)
from clothwise.pattern.document import CuttingEntry
from clothwise.pattern.document.cutting_entry import METHODS

THICK = Fabric("coating", 1500, thickness_mm=2.0)
PLAIN = Fabric("lawn", 1400)


def test_words_are_those_of_the_make() -> None:
    assert list(METHODS) == [method.value for method in CuttingMethod]
    assert method_from(CuttingEntry("rotary cutter")) is CuttingMethod.ROTARY
    assert all(method_words(method) for method in CuttingMethod)


@given(st.floats(0.01, WHEEL_DIAMETER_MM / 2))
def test_the_wheel_touches_the_top_layer_where_the_chord_ends(stack: float) -> None:
    """Both ends of the half chord lie on the circle (Pythagoras on the radius)."""
    radius = WHEEL_DIAMETER_MM / 2
    assert math.hypot(wheel_ahead_mm(stack), radius - stack) == pytest.approx(radius)


def test_scissors_keep_the_usual_spacing() -> None:
    assert spacing_for(CuttingMethod.SCISSORS, THICK, LayerPlan.FOLDED) == DEFAULT_SPACING


def test_a_wheel_needs_more_in_thicker_and_doubled_cloth() -> None:
    single = spacing_for(CuttingMethod.ROTARY, THICK, LayerPlan.SINGLE).between_mm
    double = spacing_for(CuttingMethod.ROTARY, THICK, LayerPlan.FOLDED).between_mm
    assert (single, double) == (10, 13)  # sqrt(2 * 43) = 9.3, sqrt(4 * 41) = 12.8
    assert spacing_for(CuttingMethod.ROTARY, PLAIN, LayerPlan.SINGLE).between_mm == 7
    quilted = Fabric("quilt", 1500, thickness_mm=20)
    between = spacing_for(CuttingMethod.ROTARY, quilted, LayerPlan.FOLDED).between_mm
    assert between == WIDEST_BETWEEN_MM


def test_what_the_maker_states_counts() -> None:
    entry = CuttingEntry("rotary cutter", "1mm", "2cm")
    assert spacing_from(entry, THICK, LayerPlan.FOLDED) == Spacing(1, 20)
    assert spacing_from(CuttingEntry(between="0"), PLAIN, LayerPlan.SINGLE).between_mm == 0
    assert spacing_from(CuttingEntry(), PLAIN, LayerPlan.SINGLE) == DEFAULT_SPACING
