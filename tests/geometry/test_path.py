"""Paths: lengths along, parts, joins and nearest places."""

from __future__ import annotations

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString
from shapely.geometry import Point as ShapelyPoint

from clothwise.geometry import (
    Cubic,
    LengthOutOfRange,
    Line,
    OpenOutline,
    Path,
    Point,
    Transform,
    angle_between,
    arc,
    join,
    polyline,
)
from strategies import DEGENERATE_CUBICS, fair_cubics, fair_paths, paths, points, rigid_moves

shares = st.floats(0.001, 0.999)


@given(paths(), shares)
@example(Path((DEGENERATE_CUBICS["handles in the ends"],)), 0.5)
@example(Path((DEGENERATE_CUBICS["handles in one place"],)), 0.5)
@example(Path((DEGENERATE_CUBICS["collinear"],)), 0.3)
@example(Path((DEGENERATE_CUBICS["nearly a cusp"],)), 0.5)
@example(Path((DEGENERATE_CUBICS["cusp"],)), 0.5)
@example(Path((DEGENERATE_CUBICS["almost no length"],)), 0.5)
def test_two_halves_sum_to_the_whole(path: Path, share: float) -> None:
    """Within 0.01 mm; and put together again they are as long as before."""
    assume(path.length > 1e-4)
    head, tail = path.split(path.length * share)
    assert head.length + tail.length == pytest.approx(path.length, abs=0.01)
    assert head.length == pytest.approx(path.length * share, abs=0.01)
    again = join(head, tail)
    assert (again.start, again.end) == (path.start, path.end)
    assert again.length == pytest.approx(path.length, abs=0.01)


@given(paths())
def test_reversed_path_has_same_length_and_twice_is_the_same(path: Path) -> None:
    assert path.reversed().reversed() == path
    assert path.reversed().length == pytest.approx(path.length, abs=0.01)
    assert (path.reversed().start, path.reversed().end) == (path.end, path.start)


@given(paths(), rigid_moves())
def test_length_stays_under_rigid_motion(path: Path, move: Transform) -> None:
    assert path.transformed(move).length == pytest.approx(path.length, abs=0.01)
    assert path.transformed(move).end.is_close(move.point(path.end), 1e-9)


@settings(max_examples=60)
@given(fair_paths(), shares)
def test_nearest_finds_the_place_point_at_names(path: Path, share: float) -> None:
    """A fair path goes one way, so no other stretch of it comes as near."""
    at_mm = path.length * share
    found = path.nearest(path.point_at(at_mm))
    assert path.point_at(found).is_close(path.point_at(at_mm), 0.01)
    assert found == pytest.approx(at_mm, abs=0.02)


@settings(max_examples=60)
@given(fair_paths(), points, st.floats(0, 300))
def test_nearest_distance_agrees_with_shapely(path: Path, far: Point, beside: float) -> None:
    judge = LineString([(p.x, p.y) for p in path.flattened(0.005)])
    middle = path.point_at(path.length / 2)
    for point in (far, middle + path.tangent_at(path.length / 2).left * beside):
        found = path.point_at(path.nearest(point)).distance(point)
        assert found == pytest.approx(judge.distance(ShapelyPoint(point.x, point.y)), abs=0.02)


@given(paths(), shares, shares)
def test_a_part_lies_between_its_places(path: Path, a: float, b: float) -> None:
    low, high = sorted((path.length * a, path.length * b))
    assume(high - low > 1e-3)
    part = path.part(low, high)
    assert part.length == pytest.approx(high - low, abs=0.02)
    assert part.start.is_close(path.point_at(low), 0.001)
    assert part.end.is_close(path.point_at(high), 0.001)


@given(fair_cubics(), shares)
def test_tangent_points_along_the_path(curve: Cubic, share: float) -> None:
    path = Path((curve,))
    at_mm = path.length * share
    step_mm = min(0.01, at_mm, path.length - at_mm)
    chord = path.point_at(at_mm + step_mm) - path.point_at(at_mm - step_mm)
    assert abs(angle_between(chord, path.tangent_at(at_mm))) < 0.02


@given(paths(), st.floats(0.1, 200), st.floats(0.1, 200))
def test_an_extended_path_runs_on_straight(path: Path, before: float, after: float) -> None:
    longer = path.extended(start_mm=before, end_mm=after)
    assert longer.length == pytest.approx(path.length + before + after, abs=0.01)
    assert longer.end.is_close(path.end + path.end_tangent * after, 1e-6)
    assert abs(angle_between(longer.start_tangent, path.start_tangent)) < 1e-6
    assert path.extended() == path


@settings(max_examples=40)
@given(paths(), st.sampled_from([0.02, 0.05, 1.0]))
def test_a_flattened_path_is_never_longer_and_hardly_shorter(
    path: Path, tolerance_mm: float
) -> None:
    flat = path.flattened(tolerance_mm)
    assert (flat[0], flat[-1]) == (path.start, path.end)
    chords = polyline(flat).length
    assert chords <= path.length + 0.01
    loss = sum(
        len(segment.flattened_ts(tolerance_mm)) * 4 * tolerance_mm for segment in path.segments
    )
    assert chords >= path.length - loss


def test_junctions_belong_to_both_segments() -> None:
    path = polyline([Point(0, 0), Point(100, 0), Point(100, 50)])
    assert path.point_at(100) == Point(100, 0)
    assert path.part(0, 100) == polyline([Point(0, 0), Point(100, 0)])
    assert path.part(100, 150) == polyline([Point(100, 0), Point(100, 50)])


@pytest.mark.parametrize("at_mm", [-0.01, 100.01])
def test_places_beyond_the_path_are_refused(at_mm: float) -> None:
    with pytest.raises(LengthOutOfRange) as caught:
        polyline([Point(0, 0), Point(100, 0)]).point_at(at_mm)
    assert f"{at_mm:.2f} mm along a path of 100.00 mm" in caught.value.how_much
    assert caught.value.what_to_do


@pytest.mark.parametrize(("from_mm", "to_mm"), [(50, 50), (60, 50), (0, 0), (100, 100)])
def test_stretches_of_no_length_are_refused(from_mm: float, to_mm: float) -> None:
    with pytest.raises(LengthOutOfRange):
        polyline([Point(0, 0), Point(100, 0)]).part(from_mm, to_mm)


def test_a_path_with_a_gap_is_refused() -> None:
    with pytest.raises(OpenOutline) as caught:
        Path((Line(Point(0, 0), Point(10, 0)), Line(Point(10, 2), Point(20, 2))))
    assert "2.000 mm apart" in caught.value.how_much
    assert "(10.00, 0.00)" in caught.value.where
    with pytest.raises(OpenOutline):
        join(polyline([Point(0, 0), Point(1, 0)]), polyline([Point(5, 0), Point(9, 0)]))


@pytest.mark.parametrize("spots", [[], [Point(1, 1)], [Point(1, 1), Point(1, 1)]])
def test_a_path_needs_two_points(spots: list[Point]) -> None:
    with pytest.raises(OpenOutline):
        polyline(spots)


def test_polyline_passes_over_repeated_points() -> None:
    path = polyline([Point(0, 0), Point(0, 0), Point(5, 0), Point(5, 0), Point(5, 5)])
    assert len(path.segments) == 2


def test_nearest_to_the_center_of_an_arc_lies_on_it() -> None:
    """Every point is as near; any answer is right, none may be beyond the path."""
    path = arc(Point(0, 0), 100, 0.0, 1.0)
    assert 0 <= path.nearest(Point(0, 0)) <= path.length
