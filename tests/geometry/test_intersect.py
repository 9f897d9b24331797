"""Crossings lie on both paths, and shapely finds no others."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString

from clothwise.geometry import (
    ORIGIN,
    NoIntersection,
    Path,
    Point,
    Vector,
    angle_between,
    arc,
    crossings,
    first_crossing,
    line_crossing,
    polar,
    polyline,
    smooth_through,
)
from strategies import fair_paths, points, tangents


@st.composite
def crossing_pairs(draw: st.DrawFn) -> tuple[Path, Path]:
    """Two fair paths, the second moved so that it meets the first somewhere."""
    first, second = draw(fair_paths()), draw(fair_paths())
    here = first.point_at(first.length * draw(st.floats(0.1, 0.9)))
    there = second.point_at(second.length * draw(st.floats(0.1, 0.9)))
    shift = here - there
    spots = [second.start + shift, *(segment.end + shift for segment in second.segments)]
    return first, smooth_through(spots)


@settings(max_examples=80)
@given(crossing_pairs())
def test_crossings_lie_on_both_paths(pair: tuple[Path, Path]) -> None:
    first, second = pair
    found = crossings(first, second)
    assert [c.first_mm for c in found] == sorted(c.first_mm for c in found)
    for crossing in found:
        assert first.point_at(crossing.first_mm).is_close(crossing.point, 1e-3)
        assert second.point_at(crossing.second_mm).is_close(crossing.point, 1e-3)


@settings(max_examples=50)
@given(crossing_pairs())
def test_shapely_finds_the_same_crossings(pair: tuple[Path, Path]) -> None:
    """Where they meet at a good angle and not in an end; mere touching may be missed."""
    first, second = pair
    a, b = (LineString([(p.x, p.y) for p in path.flattened(0.002)]) for path in pair)
    met = a.intersection(b)
    shapes = getattr(met, "geoms", [met])
    assume(all(shape.geom_type == "Point" for shape in shapes))
    spots = [Point(shape.x, shape.y) for shape in shapes]
    found = crossings(first, second)
    for spot in [*spots, *(crossing.point for crossing in found)]:
        at = [path.nearest(spot) for path in pair]
        lean = angle_between(first.tangent_at(at[0]), second.tangent_at(at[1]))
        assume(abs(math.sin(lean)) > 0.05)
        assume(all(1 < a < path.length - 1 for a, path in zip(at, pair, strict=True)))
    assert len(found) == len(spots)
    for spot in spots:
        assert min(crossing.point.distance(spot) for crossing in found) < 0.2


def test_a_circle_and_a_line_through_its_center() -> None:
    circle = arc(ORIGIN, 100, 0.1, 0.1 + 2 * math.pi)
    line = polyline([Point(-200, 0), Point(200, 0)])
    found = crossings(line, circle)
    assert [c.first_mm for c in found] == pytest.approx([100, 300], abs=1e-3)
    assert [c.second_mm for c in found] == pytest.approx(
        [100 * (math.pi - 0.1), 100 * (2 * math.pi - 0.1)], abs=1e-3
    )


def test_first_crossing_comes_first_along_the_first_path() -> None:
    zigzag = polyline([Point(0, -10), Point(10, 10), Point(20, -10)])
    level = polyline([Point(-5, 0), Point(50, 0)])
    assert first_crossing(zigzag, level).point.is_close(Point(5, 0))
    assert first_crossing(zigzag.reversed(), level).point.is_close(Point(15, 0))


def test_a_crossing_in_a_vertex_counts_once() -> None:
    peak = polyline([Point(0, 0), Point(10, 0), Point(20, 0)])
    assert len(crossings(peak, polyline([Point(10, -5), Point(10, 5)]))) == 1


def test_paths_that_do_not_meet_are_refused() -> None:
    with pytest.raises(NoIntersection) as caught:
        first_crossing(polyline([Point(0, 0), Point(10, 0)]), polyline([Point(0, 5), Point(10, 5)]))
    assert "(0.0, 5.0)" in caught.value.where


@given(points, tangents, points, tangents)
def test_crossing_of_endless_lines_lies_on_both(
    start: Point, along: Vector, other: Point, other_along: Vector
) -> None:
    assume(abs(along.unit.cross(other_along.unit)) > 0.01)
    met = line_crossing(start, along, other, other_along)
    assert abs((met - start).cross(along.unit)) < 1e-5
    assert abs((met - other).cross(other_along.unit)) < 1e-5


@given(points, tangents, points)
def test_parallel_lines_are_refused(start: Point, along: Vector, other: Point) -> None:
    with pytest.raises(NoIntersection):
        line_crossing(start, along, other, along * -2)


def test_crossing_far_beyond_both_starts() -> None:
    met = line_crossing(ORIGIN, polar(1, 0), Point(1000, 10), Vector(-1, 0.01))
    assert met.is_close(Point(2000, 0), 1e-6)
