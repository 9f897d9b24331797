"""Curves from conditions keep them: ends, directions, lengths and radii."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from clothwise.geometry import (
    ORIGIN,
    Cubic,
    ImpossibleCurve,
    Point,
    Vector,
    angle_between,
    arc,
    cubic_between,
    cubic_of_length,
    polar,
    smooth_through,
    straight,
)
from strategies import angles, points, tangents

bends = st.floats(-1.5, 1.5)
chord_lengths = st.floats(5, 1500)


@st.composite
def wandering_points(draw: st.DrawFn) -> list[Point]:
    """Two to six points, each at most a right angle off the way before."""
    heading, spots = draw(angles), [draw(points)]
    for _ in range(draw(st.integers(1, 5))):
        heading += draw(st.floats(-1.5, 1.5))
        spots.append(spots[-1] + polar(draw(chord_lengths), heading))
    return spots


@given(points, angles, chord_lengths, bends, bends)
def test_cubic_between_keeps_ends_and_directions(
    start: Point, heading: float, chord_mm: float, leave: float, arrive: float
) -> None:
    end = start + polar(chord_mm, heading)
    out, into = polar(3, heading + leave), polar(7, heading + arrive)
    curve = cubic_between(start, out, end, into)
    assert (curve.start, curve.end) == (start, end)
    assert abs(angle_between(curve.start_tangent, out)) < 1e-6
    assert abs(angle_between(curve.end_tangent, into)) < 1e-6


@given(st.floats(1, 2000), st.floats(0.01, math.pi / 2))
def test_cubic_between_follows_a_circle(radius_mm: float, sweep: float) -> None:
    """A cubic for a quarter of a circle strays by 2.8e-4 of the radius at best."""
    end = ORIGIN + polar(radius_mm, sweep)
    curve = cubic_between(
        Point(radius_mm, 0), Vector(0, 1), end, Vector(-math.sin(sweep), math.cos(sweep))
    )
    for share in (0.1, 0.25, 0.5, 0.8):
        spot = curve.segments[0].point(share)
        assert spot.distance(ORIGIN) == pytest.approx(radius_mm, rel=5e-4)


def test_a_curve_that_ends_where_it_starts_is_refused() -> None:
    with pytest.raises(ImpossibleCurve) as caught:
        cubic_between(Point(3, 4), Vector(1, 0), Point(3, 4), Vector(0, 1))
    assert "(3.00, 4.00)" in caught.value.where


@settings(max_examples=40)
@given(points, angles, st.floats(50, 800), bends, bends, st.floats(0.3, 2.5))
def test_cubic_of_length_hits_its_length(
    start: Point, heading: float, chord_mm: float, leave: float, arrive: float, fullness: float
) -> None:
    """The length asked for is that of a curve known to exist."""
    end = start + polar(chord_mm, heading)
    out, into = polar(1, heading + leave), polar(1, heading + arrive)
    wanted = cubic_between(start, out, end, into, fullness=fullness).length
    curve = cubic_of_length(start, out, end, into, wanted)
    assert curve.length == pytest.approx(wanted, abs=0.005)
    assert (curve.start, curve.end) == (start, end)
    assert abs(angle_between(curve.start_tangent, out)) < 1e-6
    assert abs(angle_between(curve.end_tangent, into)) < 1e-6


@pytest.mark.parametrize("length_mm", [99.0, 1000.0])
def test_cubic_of_an_impossible_length_says_what_is_possible(length_mm: float) -> None:
    with pytest.raises(ImpossibleCurve) as caught:
        cubic_of_length(Point(0, 0), Vector(1, 1), Point(100, 0), Vector(1, -1), length_mm)
    assert f"{length_mm:.1f} mm wanted, 10" in caught.value.how_much
    assert "possible" in caught.value.how_much


@given(wandering_points(), st.none() | angles, st.none() | angles)
@example([Point(0, 0), Point(50, 0), Point(100, 0)], None, None)
@example([Point(0, 0), Point(100, 0)], None, None)
@example([Point(0, 0), Point(-5, 0)], None, 0.0)
@example([Point(0, 0), Point(-5, 0)], 0.0, 0.0)
@example([Point(0, 0), Point(100, 0), Point(100, 0.01)], None, None)
def test_smooth_through_has_no_corner(
    spots: list[Point], leave: float | None, arrive: float | None
) -> None:
    """It passes through its points in order, and starts and ends as it is told."""
    path = smooth_through(
        spots,
        start_tangent=None if leave is None else polar(2, leave),
        end_tangent=None if arrive is None else polar(2, arrive),
    )
    assert [path.start, *(segment.end for segment in path.segments)] == spots
    for before, after in pairwise(path.segments):
        assert abs(angle_between(before.derivative(1.0), after.derivative(0.0))) < 1e-5
    if leave is not None:
        assert abs(angle_between(path.start_tangent, polar(1, leave))) < 1e-6
    if arrive is not None:
        assert abs(angle_between(path.end_tangent, polar(1, arrive))) < 1e-6


def test_smooth_through_points_of_a_line_is_straight() -> None:
    path = smooth_through([Point(0, 0), Point(10, 5), Point(100, 50)])
    assert path.length == pytest.approx(math.hypot(100, 50), abs=1e-4)


def test_smooth_through_points_of_a_circle_is_nearly_round() -> None:
    spots = [ORIGIN + polar(200, math.radians(degrees)) for degrees in range(0, 181, 30)]
    path = smooth_through(spots, start_tangent=Vector(0, 1), end_tangent=Vector(0, -1))
    for spot in path.flattened():
        assert spot.distance(ORIGIN) == pytest.approx(200, abs=0.05)


@pytest.mark.parametrize(
    "spots", [[], [Point(0, 0)], [Point(0, 0), Point(5, 5), Point(5, 5), Point(9, 0)]]
)
def test_smooth_through_refuses_repeated_or_missing_points(spots: list[Point]) -> None:
    with pytest.raises(ImpossibleCurve):
        smooth_through(spots)


@given(points, st.floats(0.5, 3000), angles, st.floats(-2 * math.pi, 2 * math.pi))
def test_an_arc_lies_on_its_circle(
    center: Point, radius_mm: float, start: float, sweep: float
) -> None:
    assume(abs(sweep) > 1e-3)
    path = arc(center, radius_mm, start, start + sweep)
    assert path.length == pytest.approx(radius_mm * abs(sweep), rel=1e-6, abs=0.001)
    for segment in path.segments:
        for t in (0.0, 0.2, 0.5, 0.7):
            spot = segment.point(t)
            assert spot.distance(center) == pytest.approx(radius_mm, rel=4e-7, abs=1e-8)
    assert path.start.is_close(center + polar(radius_mm, start), 1e-9)
    turn = path.start_tangent.cross(center - path.start)
    assert (turn > 0) == (sweep > 0)


@given(st.floats(500, 1300), st.sampled_from([0.25, 0.5, 0.75, 1.0]))
def test_the_waist_of_a_circle_skirt(waist_mm: float, share: float) -> None:
    """C01 (derived): a waist W and a share f of a circle need the radius W / (2 pi f)."""
    radius_mm = waist_mm / (2 * math.pi * share)
    waist = arc(ORIGIN, radius_mm, 0.0, 2 * math.pi * share)
    assert waist.length == pytest.approx(waist_mm, abs=0.01)


@pytest.mark.parametrize(("radius_mm", "to"), [(0.0, 1.0), (-5.0, 1.0), (10.0, 0.0)])
def test_an_arc_of_no_radius_or_angle_is_refused(radius_mm: float, to: float) -> None:
    with pytest.raises(ImpossibleCurve) as caught:
        arc(ORIGIN, radius_mm, 0.0, to)
    assert "mm" in caught.value.how_much


@given(points, tangents)
def test_straight_is_straight(start: Point, way: Vector) -> None:
    path = straight(start, start + way)
    assert path.length == pytest.approx(way.length, abs=1e-6)
    assert not isinstance(path.segments[0], Cubic)
