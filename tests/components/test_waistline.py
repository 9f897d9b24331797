"""Waistlines: square to center, dart legs and side, so that they close into one fair line."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.components.bodices.waistline import WaistDart, Waistline, waistline
from clothwise.geometry import Point, Transform, Vector, polar

SQUARE = math.radians(0.01)


def angle_between(one: Vector, other: Vector) -> float:
    return abs(math.remainder(one.angle - other.angle, 2 * math.pi))


def drawn(intake: float, lean: float, *, upward: bool) -> tuple[Waistline, Vector]:
    up = 1.0 if upward else -1.0
    side = polar(1.0, up * (math.pi / 2 - lean))
    dart = WaistDart(95.0, intake, up * 120.0)
    return waistline(200.0 + intake, side, (dart,), upward=upward), side


@given(st.floats(8, 40), st.floats(-0.2, 0.2), st.booleans())
def test_every_corner_is_square(intake: float, lean: float, upward: bool) -> None:
    line, side = drawn(intake, lean, upward=upward)
    (leg_in, leg_out), (inner, outer) = line.legs[0], line.parts
    right = math.pi / 2
    assert inner.start == Point(0.0, 0.0)
    assert angle_between(inner.start_tangent, Vector(1.0, 0.0)) < SQUARE
    assert abs(angle_between(inner.end_tangent, leg_in.start_tangent) - right) < SQUARE
    assert abs(angle_between(outer.start_tangent, leg_out.end_tangent) - right) < SQUARE
    assert abs(angle_between(outer.end_tangent, side) - right) < SQUARE


@given(st.floats(8, 40), st.floats(-0.2, 0.2), st.booleans())
def test_closing_the_dart_leaves_no_corner(intake: float, lean: float, upward: bool) -> None:
    """Turned about the apex until the legs lie on each other, the parts run on into each other."""
    line, _ = drawn(intake, lean, upward=upward)
    leg_in, leg_out = line.legs[0]
    assert leg_in.length == pytest.approx(leg_out.length, abs=1e-6)
    apex = leg_in.end
    turn = (leg_in.start - apex).angle - (leg_out.end - apex).angle
    closed = line.parts[1].transformed(Transform.turn(turn, apex))
    assert closed.start.distance(line.parts[0].end) < 1e-6
    assert angle_between(closed.start_tangent, line.parts[0].end_tangent) < SQUARE


@given(st.floats(8, 40), st.booleans())
def test_length_is_that_of_the_parts_without_the_dart(intake: float, upward: bool) -> None:
    line, _ = drawn(intake, 0.0, upward=upward)
    assert line.length == pytest.approx(sum(part.length for part in line.parts))
    assert line.length == pytest.approx(200.0, abs=3.0)
    assert line.side.x == pytest.approx(200.0 + intake)


def test_the_side_may_be_given_a_height() -> None:
    line = waistline(200.0, Vector(0.0, -1.0), (), upward=False, side_y_mm=9.0)
    assert line.side == Point(200.0, 9.0)
    assert len(line.parts) == 1
    assert line.legs == ()
