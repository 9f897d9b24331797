"""Bias strips against what others state.

I01, I02 (seen): three quilting and furnishing pages on bias length. I03 (seen), I04 (derived): the
same. I05, I07: derived. I06 (seen, weak): a page on making bias tape (Fiber Images). I08, I09
(seen): a sewing page on bias tape sizes, and others. I13 (seen): The New Dressmaker, 3rd ed., New
York, 1921, p. 19. I12 and I14 are tested beside the components that bind.
"""

from __future__ import annotations

import math

import pytest

from clothwise.components.bindings import bias_strip
from clothwise.cutting import (
    TapeFold,
    along_grain_mm,
    bias_block,
    bias_cut_width_mm,
    bias_square_mm,
    bias_yield_mm,
)
from clothwise.cutting.bias_yield import JOIN_ALLOWANCE_MM

IN = 25.4
YD = 914.4

# Width of the cloth and of the strip, in; yield of one yard of cloth, yd (I06).
CHART = (
    (35, 1.25, 23),
    (35, 1.75, 15),
    (35, 2.25, 12),
    (35, 2.75, 10),
    (35, 3.75, 8),
    (45, 1.25, 30),
    (45, 1.75, 21.5),
    (45, 2.25, 16),
    (45, 2.75, 14),
    (45, 3.75, 10),
    (54, 1.25, 37),
    (54, 1.75, 26),
    (54, 2.25, 20),
    (54, 2.75, 16.5),
    (54, 3.75, 12),
    (60, 1.25, 40),
    (60, 1.75, 29),
    (60, 2.25, 22.5),
    (60, 2.75, 19),
    (60, 3.75, 14),
)


@pytest.mark.parametrize(("side", "width", "strip"), [(20, 2, 200), (12, 2, 72)])
def test_yield_of_a_square(side: float, width: float, strip: float) -> None:
    """I01."""
    assert bias_yield_mm(side * IN, side * IN, width * IN) == pytest.approx(strip * IN)


@pytest.mark.parametrize(
    ("strip", "width", "side", "cut"), [(250, 2, 22.36, 23), (100, 3.5, 18.71, 19)]
)
def test_square_that_is_needed(strip: float, width: float, side: float, cut: int) -> None:
    """I02: the root of length times width, cut to the next whole inch."""
    found_in = bias_square_mm(strip * IN, width * IN) / IN
    assert found_in == pytest.approx(side, abs=0.005)
    assert math.ceil(found_in) == cut
    assert bias_yield_mm(cut * IN, cut * IN, width * IN) >= strip * IN


def test_yield_with_joining_seams() -> None:
    """I03: a square of 22 in, a quarter of an inch lost in seams, strips of 3 in: 157.7 in."""
    found = bias_yield_mm(22 * IN, 22 * IN, 3 * IN, seams_mm=0.25 * IN)
    assert found / IN == pytest.approx(157.7, abs=0.05)
    assert bias_square_mm(found, 3 * IN, seams_mm=0.25 * IN) == pytest.approx(22 * IN)


def test_yield_of_a_rectangle() -> None:
    """I04: length times breadth over the width of the strip."""
    assert bias_yield_mm(900, 300, 30) == pytest.approx(9000)


def test_spacing_along_the_grain() -> None:
    """I05: 3 cm strips are marked 4.243 cm apart."""
    assert along_grain_mm(30) == pytest.approx(42.43, abs=0.005)


@pytest.mark.parametrize(("finished", "cut"), [(0.25, 1.0), (0.5, 2.0)])
def test_double_fold_tape(finished: float, cut: float) -> None:
    """I08."""
    assert bias_cut_width_mm(finished * IN) == pytest.approx(cut * IN)
    assert TapeFold.DOUBLE.value == bias_strip.DOUBLE_FOLD_WIDTHS


def test_single_fold_tape() -> None:
    """I09: twice the finished width; bought half-inch tape is just under 1 in flat."""
    assert bias_cut_width_mm(0.5 * IN, TapeFold.SINGLE) == pytest.approx(1.0 * IN)


def test_allowance_of_joins_is_that_of_the_pattern() -> None:
    """I03: 1/4 in, 6 mm in the metric column."""
    assert JOIN_ALLOWANCE_MM == bias_strip.JOIN_ALLOWANCE_MM
    assert pytest.approx(0.25 * IN, abs=0.5) == JOIN_ALLOWANCE_MM


@pytest.mark.parametrize(("cloth", "width"), [row[:2] for row in CHART])
def test_a_yard_of_cloth_yields_what_the_chart_prints(cloth: float, width: float) -> None:
    """I06, I07: between the least share of the area that the chart ever gives, and all of it."""
    ideal = bias_yield_mm(YD, cloth * IN, width * IN)
    least = min(yards * YD / bias_yield_mm(YD, c * IN, w * IN) for c, w, yards in CHART)
    planned = bias_block(YD, cloth * IN, width * IN, 0.25 * IN)
    assert least * ideal <= planned.joined_mm < ideal


def test_the_chart_is_met_on_the_whole() -> None:
    """I07: the chart gives 0.75 to 0.88 of the area, 0.83 in the mean; a plan gives no less."""
    chart, plans = [], []
    for cloth, width, yards in CHART:
        ideal = bias_yield_mm(YD, cloth * IN, width * IN)
        chart.append(yards * YD / ideal)
        plans.append(bias_block(YD, cloth * IN, width * IN, 0.25 * IN).joined_mm / ideal)
    assert min(chart) == pytest.approx(0.75, abs=0.005)
    assert max(chart) == pytest.approx(0.875, abs=0.005)
    assert sum(chart) / len(chart) == pytest.approx(0.83, abs=0.005)
    assert sum(plans) / len(plans) >= sum(chart) / len(chart)
