"""The neckline of a block: its seam has the length the neck asks for, and meets square."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.components.bodices.neckline import (
    BACK_RISE_SHARE,
    FRONT_DEPTH_EXTRA_MM,
    jewel_neckline,
)
from clothwise.geometry import Vector

SLOPES = st.floats(math.radians(5), math.radians(35))


def is_square(one: Vector, other: Vector) -> bool:
    return abs(one.unit.x * other.unit.x + one.unit.y * other.unit.y) < 1e-6


@given(st.floats(280, 560), SLOPES, SLOPES)
def test_seam_is_as_long_as_asked(girth: float, back: float, front: float) -> None:
    neck = jewel_neckline(girth, back_slope_rad=back, front_slope_rad=front)
    assert 2 * (neck.back.length + neck.front.length) == pytest.approx(girth, abs=0.01)


@given(st.floats(280, 560), SLOPES, SLOPES, st.floats(0, 120))
def test_both_halves_are_square_to_shoulder_and_center(
    girth: float, back: float, front: float, drop: float
) -> None:
    neck = jewel_neckline(girth, back_slope_rad=back, front_slope_rad=front, front_drop_mm=drop)
    for half, slope in ((neck.back, back), (neck.front, front)):
        assert is_square(half.start_tangent, Vector(math.cos(slope), -math.sin(slope)))
        assert is_square(half.end_tangent, Vector(0.0, 1.0))
        assert half.start.x == pytest.approx(neck.half_width_mm)
        assert half.end.x == pytest.approx(0.0, abs=1e-9)


@settings(max_examples=30)
@given(st.floats(280, 560), st.floats(0, 120))
def test_a_drop_lowers_the_front_alone(girth: float, drop: float) -> None:
    slopes = {"back_slope_rad": 0.3, "front_slope_rad": 0.4}
    high = jewel_neckline(girth, **slopes)
    low = jewel_neckline(girth, front_drop_mm=drop, **slopes)
    assert low.back == high.back
    assert low.front_depth_mm - high.front_depth_mm == pytest.approx(drop)
    assert low.front.length >= high.front.length - 1e-9


def test_the_front_is_deeper_than_the_back() -> None:
    neck = jewel_neckline(370, back_slope_rad=0.3, front_slope_rad=0.4)
    assert neck.back_rise_mm == pytest.approx(neck.half_width_mm * BACK_RISE_SHARE)
    assert neck.front_depth_mm == pytest.approx(neck.half_width_mm + FRONT_DEPTH_EXTRA_MM)
    assert neck.front_depth_mm > 2 * neck.back_rise_mm
