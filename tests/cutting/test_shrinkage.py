"""Worked values of shrinkage: rows K07 to K10 of the project's list of check values, derived."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.cutting import after_washing_mm, before_washing_mm
from clothwise.errors import CuttingError


@pytest.mark.parametrize(
    ("finished_mm", "shrinkage", "cut_mm"),
    [
        (1000, 0.03, 1030.9),  # K08
        (1000, 0.05, 1052.6),  # K08
        (620, 0.04, 645.8),  # K09; 644.8 if multiplied
    ],
)
def test_cloth_to_cut_is_divided_by_what_is_left(
    finished_mm: float, shrinkage: float, cut_mm: float
) -> None:
    assert before_washing_mm(finished_mm, shrinkage) == pytest.approx(cut_mm, abs=0.05)


def test_adding_the_share_instead_would_be_short() -> None:
    """K08 and K09: the usual slip."""
    assert pytest.approx(644.8) == 620 * 1.04
    assert before_washing_mm(620, 0.04) > 620 * 1.04 + 0.9


def test_shrinkage_is_the_share_of_the_length_before() -> None:
    """K07."""
    before, after = 1000.0, after_washing_mm(1000, 0.06)
    assert (before - after) / before == pytest.approx(0.06)


@given(st.floats(1, 10_000), st.floats(0, 0.25))
def test_washing_undoes_what_is_added_for_it(length_mm: float, shrinkage: float) -> None:
    washed = after_washing_mm(before_washing_mm(length_mm, shrinkage), shrinkage)
    assert washed == pytest.approx(length_mm, rel=1e-12)


@pytest.mark.parametrize("shrinkage", [-0.01, 0.2500001, 5, math.nan, math.inf])
def test_impossible_shrinkage_is_refused(shrinkage: float) -> None:
    with pytest.raises(CuttingError) as caught:
        before_washing_mm(1000, shrinkage)
    assert "%" in caught.value.how_much
    assert caught.value.what_to_do
