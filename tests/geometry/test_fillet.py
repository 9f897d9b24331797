"""Rounded corners touch their sides."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.geometry import (
    ORIGIN,
    ImpossibleCurve,
    Point,
    angle_between,
    arc,
    fillet,
    polar,
    polyline,
)
from strategies import angles


@given(angles, st.floats(0.2, 2.4), st.floats(2, 60), st.booleans())
def test_a_fillet_between_lines_is_tangent_and_round(
    heading: float, turn: float, radius_mm: float, left: bool
) -> None:
    way = heading + (turn if left else -turn)
    before = polyline([ORIGIN - polar(400, heading), ORIGIN])
    after = polyline([ORIGIN, ORIGIN + polar(400, way)])
    head, bend, tail = fillet(before, after, radius_mm)
    assert (head.start, tail.end) == (before.start, after.end)
    assert head.end.is_close(bend.start, 1e-6)
    assert bend.end.is_close(tail.start, 1e-6)
    assert abs(angle_between(head.end_tangent, bend.start_tangent)) < 1e-6
    assert abs(angle_between(bend.end_tangent, tail.start_tangent)) < 1e-6
    inward = head.end_tangent.left if left else -head.end_tangent.left
    center = head.end + inward * radius_mm
    # One cubic for the whole turn: within 1 percent of the radius up to 2.4 rad, far less below.
    for t in (0.0, 0.25, 0.5, 0.75, 1.0):
        assert bend.segments[0].point(t).distance(center) == pytest.approx(radius_mm, rel=0.01)
    assert bend.length == pytest.approx(radius_mm * turn, rel=0.01)


def test_a_right_angle_rounds_to_a_quarter_circle() -> None:
    before = polyline([Point(-100, 0), ORIGIN])
    after = polyline([ORIGIN, Point(0, 100)])
    head, bend, tail = fillet(before, after, 30)
    assert head.end.is_close(Point(-30, 0))
    assert tail.start.is_close(Point(0, 30))
    assert bend.length == pytest.approx(math.pi * 15, rel=5e-4)


def test_a_fillet_between_curves_leaves_and_meets_them_smoothly() -> None:
    before = arc(Point(0, 200), 200, -math.pi / 2 - 0.8, -math.pi / 2)
    after = arc(Point(-300, 0), 300, 0.0, 0.5)
    head, bend, tail = fillet(before, after, 25)
    assert abs(angle_between(head.end_tangent, bend.start_tangent)) < 1e-6
    assert abs(angle_between(bend.end_tangent, tail.start_tangent)) < 1e-6


def test_a_radius_too_large_for_its_side_is_refused() -> None:
    with pytest.raises(ImpossibleCurve) as caught:
        fillet(polyline([Point(-20, 0), ORIGIN]), polyline([ORIGIN, Point(0, 100)]), 30)
    assert "radius 30.0 mm needs 30.0 mm of a side of 20.0 mm" in caught.value.how_much
    assert "below 20.0 mm" in caught.value.what_to_do


def test_no_corner_is_refused() -> None:
    with pytest.raises(ImpossibleCurve):
        fillet(polyline([Point(-20, 0), ORIGIN]), polyline([ORIGIN, Point(100, 0)]), 5)
