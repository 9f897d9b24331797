"""Suggestions: recounted on the bodies held back, never more than was counted, always the same."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings

from chart_strategies import chart_of, charts, kiln
from clothwise.pattern.size_chart import SizeChart
from clothwise.sizing.coverage import Girths, SizeReach, coverage, survey_girths
from clothwise.sizing.suggestion import Kind, Suggestion, explained, suggestions
from clothwise.units import LengthUnit


def held_back(sizes: tuple[SizeReach, ...]) -> int:
    """Women of every second row, from the second, that some size fits; counted one by one."""
    girths = survey_girths()
    pairs = list(zip(girths.bust.tolist(), girths.hip.tolist(), strict=True))[1::2]
    return sum(
        any(
            size.bust.low_mm - 1e-6 <= bust <= size.bust.high_mm + 1e-6
            and size.hip.low_mm - 1e-6 <= hip <= size.hip.high_mm + 1e-6
            for size in sizes
        )
        for bust, hip in pairs
    )


@settings(deadline=None, max_examples=15)
@given(chart=charts())
def test_every_gain_is_counted_on_women_held_back(chart: SizeChart) -> None:
    found = coverage(chart)
    for each in suggestions(chart):
        assert each.after.of == each.before.of == 797
        assert each.before.count == held_back(found.sizes)
        assert each.after.count == held_back(each.sizes)
        assert 0 < each.low <= each.gain <= each.high
        assert each.gain_per_hundred / 100 <= each.gain


@settings(deadline=None, max_examples=15)
@given(chart=charts())
def test_sizes_reach_no_further_than_before(chart: SizeChart) -> None:
    old = coverage(chart).sizes
    widest = [max(reach.down_mm + reach.up_mm for reach in reaches) for reaches in _widths(old)]
    for each in suggestions(chart):
        for most, new in zip(widest, _widths(each.sizes), strict=True):
            assert max(reach.down_mm + reach.up_mm for reach in new) <= most + 1e-6


def _widths(sizes: tuple[SizeReach, ...]) -> tuple[list, list]:  # type: ignore[type-arg]
    return [size.bust for size in sizes], [size.hip for size in sizes]


@settings(deadline=None, max_examples=15)
@given(chart=charts())
def test_each_kind_does_what_it_says(chart: SizeChart) -> None:
    old = coverage(chart).sizes
    for each in suggestions(chart):
        if each.kind is Kind.REGRADED:
            assert len(each.sizes) == len(old)
            assert each.added == ()
            assert max(size.bust.girth_mm for size in each.sizes) >= max(
                size.bust.girth_mm for size in old
            )
        else:
            assert set(old) <= set(each.sizes)
            assert len(each.sizes) == len(old) + len(each.added)
        if each.kind is Kind.MORE_SIZES:
            busts = [size.bust.girth_mm for size in old]
            assert len(each.added) == 2
            for size in each.added:
                assert not min(busts) <= size.bust.girth_mm <= max(busts)
        if each.kind is Kind.SECOND_HIP:
            assert len(each.added) <= max(1, len(old) // 2)


def test_the_dress_gains_most_by_a_second_hip() -> None:
    """B07: hip minus bust spreads by 5.8 cm (sd), so one hip to a bust cannot fit most."""
    found = {each.kind: each for each in suggestions(kiln())}
    assert found[Kind.SECOND_HIP].gain > 0.15
    assert found[Kind.SECOND_HIP].gain == max(each.gain for each in found.values())


def test_the_same_chart_gets_the_same_suggestions() -> None:
    assert suggestions(kiln()) == suggestions(kiln())


def test_nothing_is_suggested_where_nothing_helps() -> None:
    """Sizes that fit everybody already; and bodies without any order to gain from."""
    grid = [(bust, 70.0, hip) for bust in (80.0, 100.0, 120.0) for hip in (90.0, 110.0, 130.0)]
    everybody = chart_of(*grid)
    assert suggestions(everybody, tolerance_mm=200.0) == ()
    found = coverage(everybody, tolerance_mm=200.0)
    first, second = explained(found, (), LengthUnit.CENTIMETER)
    assert "100 of 100 women" in first
    assert second.startswith("None of the changes")


def test_a_gain_that_is_chance_is_not_suggested() -> None:
    """Bodies of the searched half alone gather at a second hip: on the other half it gains none."""
    number = 400
    bust = np.full(number, 900.0)
    hip = np.where(np.arange(number) % 2 == 0, 1040.0, 960.0)
    bodies = Girths(bust, bust, hip)
    chart = chart_of((90, 72, 96), (94, 76, 100))
    assert [each.kind for each in suggestions(chart, bodies=bodies)] == []


def test_a_chart_with_too_low_a_hip_is_told_to_raise_it() -> None:
    """Hips equal to the bust, where women have 7.5 cm more (B07)."""
    chart = chart_of(*((bust, bust - 18, bust) for bust in range(80, 124, 4)))
    regraded = next(each for each in suggestions(chart) if each.kind is Kind.REGRADED)
    drops = [size.hip.girth_mm - size.bust.girth_mm for size in regraded.sizes]
    assert 30 <= float(np.median(drops)) <= 120
    assert regraded.gain > 0.10


def test_two_sentences_with_the_figures_that_were_counted() -> None:
    found, changes = coverage(kiln()), suggestions(kiln())
    first, second = explained(found, changes, LengthUnit.CENTIMETER)
    assert first == "Your ten sizes fit 29 of 100 women of the survey at bust and hip."
    told = next(each for each in changes if each.kind is Kind.SECOND_HIP)
    assert f"would fit {told.gain_per_hundred} more" in second
    assert "no part in the search" in second
    for sentence in (first, second):
        assert sentence[0].isupper()
        assert sentence.endswith(".")
        assert sentence.count(". ") == 0


def test_gains_are_rounded_down() -> None:
    told = suggestions(kiln())[-1]
    assert isinstance(told, Suggestion)
    assert told.gain_per_hundred == math.floor(100 * (told.after.count - told.before.count) / 797)


@pytest.mark.parametrize(("tolerance_mm", "words"), [(30.0, "give or take 3 cm"), (None, "hip.")])
def test_the_tolerance_is_told(tolerance_mm: float | None, words: str) -> None:
    found = coverage(kiln(), tolerance_mm=tolerance_mm)
    assert words in explained(found, (), LengthUnit.CENTIMETER)[0]


def test_inches_are_told_in_inches() -> None:
    rows = [
        ((30.5 + 2 * step) * 2.54, 60.0 + 5 * step, (32.5 + 2 * step) * 2.54) for step in range(8)
    ]
    chart = SizeChart(chart_of(*rows).sizes, LengthUnit.INCH)
    second = explained(coverage(chart), suggestions(chart), LengthUnit.INCH)[1]
    assert " in)" in second
    assert "cm" not in second


def test_a_chart_in_centimeters_is_told_in_inches_to_whom_reads_them() -> None:
    """The same changes, in other words."""
    own = suggestions(kiln())
    told = suggestions(kiln(), shown_in=LengthUnit.INCH)
    assert [each.gain_per_hundred for each in told] == [each.gain_per_hundred for each in own]
    second = explained(coverage(kiln()), told, LengthUnit.INCH)[1]
    assert "cm" in explained(coverage(kiln()), own, LengthUnit.CENTIMETER)[1]
    assert "cm" not in second
    assert " in)" in second


def test_a_chart_of_two_hundred_sizes_is_answered() -> None:
    chart = chart_of(*((70 + step * 0.3, 55 + step * 0.3, 80 + step * 0.3) for step in range(200)))
    assert {each.kind for each in suggestions(chart, tolerance_mm=20.0)} <= set(Kind)
