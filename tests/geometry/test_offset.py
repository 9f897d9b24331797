"""Offset points lie at the distance asked for; shapely judges on flattened input."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString
from shapely.geometry import Point as ShapelyPoint

from clothwise.geometry import (
    ORIGIN,
    Cubic,
    OffsetCollapsed,
    Path,
    Point,
    angle_between,
    arc,
    offset_path,
    polyline,
)
from strategies import fair_cubics, fair_paths, lines

distances = st.floats(1, 40) | st.floats(-40, -1)


def flat(path: Path) -> LineString:
    """Flattened so finely that it cannot blur a distance by more than 0.002 mm."""
    return LineString([(p.x, p.y) for p in path.flattened(0.002)])


def has_room(path: Path, distance_mm: float) -> bool:
    """True if no curve bends, to the offset's side, more tightly than 1.3 times the distance."""
    bends = [
        segment.curvature(step / 100) * distance_mm
        for segment in path.segments
        for step in range(101)
    ]
    return max(bends) < 1 / 1.3


def assert_at_distance(path: Path, side: Path, distance_mm: float) -> None:
    """Every offset point lies at the distance, and every place of the path has one, square off.

    Whether a fair curve comes near itself again is not ruled out: then the offset point may be
    nearer to another stretch, so the nearest of the two is compared with the place square off.
    """
    judge = flat(side)
    for share in (0.0, 0.13, 0.37, 0.5, 0.71, 0.92, 1.0):
        at_mm = path.length * share
        expected = path.point_at(at_mm) + path.tangent_at(at_mm).left * distance_mm
        assert judge.distance(ShapelyPoint(expected.x, expected.y)) < 0.02
    original = flat(path)
    for share in (0.0, 0.21, 0.5, 0.83, 1.0):
        spot = side.point_at(side.length * share)
        assert original.distance(ShapelyPoint(spot.x, spot.y)) == pytest.approx(
            abs(distance_mm), abs=0.02
        )


@settings(max_examples=80)
@given(fair_cubics(), distances)
@example(Cubic(Point(0, 0), Point(50, 0), Point(100, 0), Point(150, 0)), 10.0)
@example(Cubic(Point(0, 0), Point(0, 0), Point(100, 0), Point(150, 40)), 10.0)
@example(Cubic(Point(0, 0), Point(100, 1e-9), Point(100, 0), Point(150, 0)), -10.0)
def test_points_of_an_offset_curve_lie_at_that_distance(curve: Cubic, distance_mm: float) -> None:
    path = Path((curve,))
    assume(curve.length > 4 * abs(distance_mm) and has_room(path, distance_mm))
    assert_at_distance(path, offset_path(path, distance_mm), distance_mm)


@settings(max_examples=60)
@given(fair_paths(), distances)
def test_points_of_an_offset_path_lie_at_that_distance(path: Path, distance_mm: float) -> None:
    assume(path.length > 4 * abs(distance_mm) and has_room(path, distance_mm))
    assert_at_distance(path, offset_path(path, distance_mm), distance_mm)


@given(lines.filter(lambda line: line.length > 1), distances)
def test_an_offset_line_is_parallel(line: object, distance_mm: float) -> None:
    path = Path((line,))  # type: ignore[arg-type]
    side = offset_path(path, distance_mm)
    assert side.length == pytest.approx(path.length, abs=1e-6)
    assert abs(angle_between(side.start_tangent, path.start_tangent)) < 1e-6
    assert (side.start - path.start).dot(path.start_tangent.left) == pytest.approx(distance_mm)


@given(st.floats(50, 2000), st.floats(0.2, 3.0), st.floats(1, 40), st.booleans())
def test_the_offset_of_an_arc_is_an_arc(
    radius_mm: float, sweep: float, distance_mm: float, outside: bool
) -> None:
    """Left of an anticlockwise arc is its inside."""
    signed = -distance_mm if outside else distance_mm
    side = offset_path(arc(ORIGIN, radius_mm, 0.0, sweep), signed)
    for share in (0.0, 0.3, 0.6, 1.0):
        spot = side.point_at(side.length * share)
        assert spot.distance(ORIGIN) == pytest.approx(radius_mm - signed, abs=0.02)
    assert side.length == pytest.approx((radius_mm - signed) * sweep, abs=0.05)


@given(st.floats(0.1, 2.4), st.floats(1, 40), st.booleans())
def test_corners_stay_corners(turn: float, distance_mm: float, left: bool) -> None:
    """On either side the corner lies on the bisector, distance / cos(turn / 2) away."""
    way = math.copysign(turn, 1 if left else -1)
    path = polyline([Point(-300, 0), ORIGIN, Point(300 * math.cos(way), 300 * math.sin(way))])
    for signed in (distance_mm, -distance_mm):
        side = offset_path(path, signed)
        corners = [segment.end for segment in side.segments[:-1]]
        far = signed / math.cos(turn / 2)
        expected = Point(-math.sin(way / 2) * far, math.cos(way / 2) * far)
        assert min(corner.distance(expected) for corner in corners) < 1e-6
        assert flat(path).distance(flat(side)) == pytest.approx(distance_mm, abs=1e-6)


def test_no_distance_is_the_path_itself() -> None:
    path = polyline([Point(0, 0), Point(10, 0)])
    assert offset_path(path, 0) is path


def test_a_curve_tighter_than_the_distance_is_refused() -> None:
    with pytest.raises(OffsetCollapsed) as caught:
        offset_path(arc(ORIGIN, 12, 0, 1), 15)
    assert "radius is 12.0 mm, the distance 15.0 mm" in caught.value.how_much
    assert "12.0 mm" in caught.value.what_to_do
    assert offset_path(arc(ORIGIN, 12, 0, 1), -15).length == pytest.approx(27, abs=0.02)


def test_an_inner_corner_that_leaves_nothing_is_refused() -> None:
    hook = polyline([Point(-100, 0), ORIGIN, Point(0, 5)])
    with pytest.raises(OffsetCollapsed) as caught:
        offset_path(hook, 10)
    assert "10.0 mm" in caught.value.how_much
