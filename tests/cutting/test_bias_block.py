"""Bias strips from a rectangle of cloth: each plan is judged by shapely, and by the area."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.cutting import (
    BiasBlock,
    along_grain_mm,
    bias_block,
    bias_square_mm,
    bias_yield_mm,
    smallest_block,
)
from clothwise.cutting.bias_block import SHORTEST_PART_MM, block_faults
from clothwise.errors import CuttingError


@given(
    st.floats(150, 2000),
    st.floats(150, 1500),
    st.floats(10, 100),
    st.floats(0, 15),
)
def test_strips_lie_on_the_cloth_side_by_side(
    length: float, breadth: float, width: float, allowance: float
) -> None:
    if min(length - along_grain_mm(width), breadth) * math.sqrt(2) < SHORTEST_PART_MM:
        with pytest.raises(CuttingError, match="not one bias strip"):
            bias_block(length, breadth, width, allowance)
        return
    block = bias_block(length, breadth, width, allowance)
    assert block_faults(block) == ()
    assert all(part.length_mm >= SHORTEST_PART_MM for part in block.parts)
    assert block.joined_mm <= bias_yield_mm(length, breadth, width)
    assert 0 < block.used_share <= 1


def test_a_strip_in_a_square_is_as_long_as_it_can_be() -> None:
    """One strip, 20 mm wide, in a square of 400 mm: its diagonal, less a corner at both ends."""
    block = bias_block(400, 400, 20, 0)
    longest = max(part.length_mm for part in block.parts)
    assert 400 * math.sqrt(2) - 2 * 20 <= longest <= 400 * math.sqrt(2)


@settings(max_examples=25)
@given(st.floats(150, 8_000), st.floats(20, 100))
def test_the_smallest_block_yields_enough_and_not_much_more(strip: float, width: float) -> None:
    block = smallest_block(strip, width, 6, widest_mm=1400)
    assert block_faults(block) == ()
    assert block.joined_mm >= strip - 1e-3
    assert block.breadth_mm <= 1400
    area = block.length_mm * block.breadth_mm
    assert area >= bias_square_mm(strip, width) ** 2
    assert block.used_share > 0.5 or strip < 1500


def test_a_block_is_never_broader_than_the_cloth() -> None:
    narrow = smallest_block(5000, 40, 6, widest_mm=300)
    assert narrow.breadth_mm <= 300
    assert narrow.joined_mm >= 5000
    assert narrow.length_mm > smallest_block(5000, 40, 6, widest_mm=1400).length_mm


def _moved(block: BiasBlock, dx_mm: float) -> BiasBlock:
    part = block.parts[0]
    outline = tuple((x + dx_mm, y) for x, y in part.outline)
    return replace(block, parts=(replace(part, outline=outline), *block.parts[1:]))


def test_planted_faults_are_found() -> None:
    block = bias_block(500, 300, 40, 6)
    assert block_faults(block) == ()
    assert any("beyond the cloth" in each for each in block_faults(_moved(block, -600)))
    assert any("on each other" in each for each in block_faults(_moved(block, 20)))
    assert any("wide" in each for each in block_faults(replace(block, width_mm=39.0)))
    part = block.parts[0]
    straight = tuple((x - y, y) for x, y in part.outline)
    upright = replace(block, parts=(replace(part, outline=straight),))
    assert any("bias" in each for each in block_faults(upright))


@pytest.mark.parametrize(
    ("length", "breadth", "width"),
    [(0, 300, 40), (300, -1, 40), (300, 300, 0), (math.nan, 300, 40), (300, 300, math.inf)],
)
def test_impossible_measures_are_refused(length: float, breadth: float, width: float) -> None:
    with pytest.raises(CuttingError) as caught:
        bias_block(length, breadth, width, 6)
    assert caught.value.how_much
    assert caught.value.what_to_do


def test_cloth_too_small_for_one_strip_is_told() -> None:
    with pytest.raises(CuttingError, match="not one bias strip fits"):
        bias_block(100, 100, 60, 6)
    with pytest.raises(CuttingError, match="no room"):
        smallest_block(2000, 40, 6, widest_mm=60)
    with pytest.raises(CuttingError, match="impossible"):
        smallest_block(0, 40, 6, widest_mm=600)
