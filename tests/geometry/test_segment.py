"""Lines and cubics, judged by an independent integral and by shapely."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from shapely.geometry import LineString
from shapely.geometry import Point as ShapelyPoint

from clothwise.geometry import FLATTEN_TOLERANCE_MM, Cubic, Line, Path, Point
from clothwise.geometry.errors import ImpossibleCurve
from strategies import DEGENERATE_CUBICS, cubics, fair_cubics, lines

fractions = st.floats(0.0, 1.0)


def speed(curve: Cubic, t: float) -> float:
    """Length of the derivative, from its textbook formula in powers of `t`."""
    sums = []
    for p0, p1, p2, p3 in (
        (curve.start.x, curve.control1.x, curve.control2.x, curve.end.x),
        (curve.start.y, curve.control1.y, curve.control2.y, curve.end.y),
    ):
        cubed, squared, first = p3 - 3 * p2 + 3 * p1 - p0, 3 * (p0 - 2 * p1 + p2), 3 * (p1 - p0)
        sums.append(3 * cubed * t * t + 2 * squared * t + first)
    return math.hypot(*sums)


def integrated_length(curve: Cubic) -> float:
    """Arc length by adaptive quadrature in eighths, good to 1e-4 mm."""
    return sum(
        quad(lambda t: speed(curve, t), k / 8, (k + 1) / 8, epsabs=1e-6, epsrel=1e-10, limit=200)[0]
        for k in range(8)
    )


@settings(max_examples=60)
@given(cubics)
@example(DEGENERATE_CUBICS["handles in the ends"])
@example(DEGENERATE_CUBICS["handles in one place"])
@example(DEGENERATE_CUBICS["collinear"])
@example(DEGENERATE_CUBICS["nearly a cusp"])
@example(DEGENERATE_CUBICS["cusp"])
@example(DEGENERATE_CUBICS["loop"])
@example(DEGENERATE_CUBICS["almost no length"])
def test_arc_length_agrees_with_an_independent_integral(curve: Cubic) -> None:
    assert curve.length == pytest.approx(integrated_length(curve), abs=0.005)


@given(cubics, fractions)
@example(DEGENERATE_CUBICS["cusp"], 0.5)
@example(DEGENERATE_CUBICS["collinear"], 0.3)
@example(DEGENERATE_CUBICS["handles in the ends"], 0.01)
def test_parameter_at_a_length_divides_the_curve_there(curve: Cubic, share: float) -> None:
    at_mm = curve.length * share
    assert curve.part(0.0, curve.t_at(at_mm)).length == pytest.approx(at_mm, abs=0.01)


@given(st.one_of(lines, cubics))
@example(Line(Point(0.1, 0.3), Point(-1234.567, 0.1)))
@example(DEGENERATE_CUBICS["loop"])
def test_ends_are_exact(segment: Line | Cubic) -> None:
    assert segment.point(0.0) == segment.start
    assert segment.point(1.0) == segment.end
    assert segment.part(0.0, 1.0) == segment
    for t in (0.3, 0.999):
        assert segment.part(0.0, t).start == segment.start
        assert segment.part(t, 1.0).end == segment.end
    assert segment.part(1.0, 1.0).start == segment.part(1.0, 1.0).end == segment.end


def test_a_line_that_used_to_miss_its_end() -> None:
    """Rounding of `start + (end - start) * 1` leaves the sum beside `end`."""
    line = Line(Point(1000.1, 0.3), Point(0.1, 1e-9))
    assert line.start.x + (line.end.x - line.start.x) != line.end.x
    assert line.point(1.0) == line.end


@given(st.one_of(lines, cubics), fractions, fractions)
@example(DEGENERATE_CUBICS["almost no length"], 0.0, 0.5)
def test_a_part_runs_between_its_parameters(segment: Line | Cubic, a: float, b: float) -> None:
    low, high = min(a, b), max(a, b)
    part = segment.part(low, high)
    for t in (0.0, 0.5, 1.0):
        assert part.point(t).is_close(segment.point(low + (high - low) * t), 1e-8)


@given(st.one_of(lines, cubics))
def test_reversed_twice_is_the_same(segment: Line | Cubic) -> None:
    assert segment.reversed().reversed() == segment
    assert segment.reversed().point(0.25).is_close(segment.point(0.75), 1e-8)
    assert segment.reversed().length == pytest.approx(segment.length, abs=0.01)


@pytest.mark.parametrize("far_mm", [8e15, 1e300, math.inf, math.nan])
def test_a_curve_out_of_all_proportion_is_refused_at_once(far_mm: float) -> None:
    """It would fill the memory with points; this one was drafted by a skirt on a bodice's waist."""
    curve = Cubic(Point(0, 0), Point(far_mm, 0), Point(far_mm, 10), Point(0, 10))
    with pytest.raises(ImpossibleCurve, match="out of all proportion"):
        curve.flattened_ts(FLATTEN_TOLERANCE_MM)


@settings(max_examples=60)
@given(st.one_of(cubics, fair_cubics()))
@example(DEGENERATE_CUBICS["cusp"])
@example(DEGENERATE_CUBICS["loop"])
@example(DEGENERATE_CUBICS["collinear"])
@example(DEGENERATE_CUBICS["almost no length"])
def test_flattening_keeps_its_tolerance(curve: Cubic) -> None:
    """Each stretch of curve stays within 0.05 mm of its own chord; judged by shapely."""
    ts = [0.0, *curve.flattened_ts(FLATTEN_TOLERANCE_MM)]
    step = max(1, len(ts) // 40)
    for t0, t1 in list(pairwise(ts))[::step]:
        a, b = curve.point(t0), curve.point(t1)
        chord = LineString([(a.x, a.y), (b.x, b.y)])
        for share in (0.25, 0.5, 0.75):
            spot = curve.point(t0 + (t1 - t0) * share)
            assert chord.distance(ShapelyPoint(spot.x, spot.y)) <= FLATTEN_TOLERANCE_MM + 1e-9


@given(fair_cubics(), st.floats(0.02, 0.98))
def test_derivatives_agree_with_differences(curve: Cubic, t: float) -> None:
    h = 1e-5
    step = curve.point(t + h) - curve.point(t - h)
    assert (step * (0.5 / h) - curve.derivative(t)).length < 0.01
    turn = curve.derivative(t + h) - curve.derivative(t - h)
    assert (turn * (0.5 / h) - curve.second_derivative(t)).length < 0.05


@pytest.mark.parametrize("name", ["handles in the ends", "cusp", "collinear"])
def test_direction_of_travel_exists_even_where_handles_are_retracted(name: str) -> None:
    path = Path((DEGENERATE_CUBICS[name],))
    assert path.start_tangent.length == pytest.approx(1)
    assert path.end_tangent.length == pytest.approx(1)


def test_retracted_handles_leave_toward_the_other_handle() -> None:
    curve = Cubic(Point(0, 0), Point(0, 0), Point(0, 50), Point(100, 50))
    assert Path((curve,)).start_tangent.angle == pytest.approx(math.pi / 2)


@given(lines, cubics.map(lambda curve: curve.control1))
def test_nearest_point_of_a_line_agrees_with_shapely(line: Line, point: Point) -> None:
    judge = LineString([(line.start.x, line.start.y), (line.end.x, line.end.y)])
    found = line.point(line.nearest_t(point)).distance(point)
    assert found == pytest.approx(judge.distance(ShapelyPoint(point.x, point.y)), abs=1e-6)


def test_a_line_of_no_length_has_a_nearest_point() -> None:
    spot = Line(Point(3, 4), Point(3, 4))
    assert spot.nearest_t(Point(0, 0)) == 0.0
    assert spot.t_at(0.0) == 0.0


@given(st.one_of(cubics, fair_cubics()), cubics.map(lambda curve: curve.control1), fractions)
@example(Cubic(Point(0, 0), Point(33, 0), Point(66, 0), Point(99, 0)), Point(49.5, 0), 0.5)
@example(Cubic(Point(0, 0), Point(2, 0), Point(4, 0), Point(6, 0)), Point(-5, 3), 0.3)
@example(DEGENERATE_CUBICS["cusp"], Point(50, 75), 0.5)
@example(DEGENERATE_CUBICS["loop"], Point(50, 200), 0.1)
@example(DEGENERATE_CUBICS["almost no length"], Point(0, 0), 0.5)
@example(Cubic(Point(0, 0), Point(0, 0), Point(0, 0), Point(0, 0)), Point(3, 4), 0.5)
def test_no_sampled_point_is_nearer_than_the_nearest(
    curve: Cubic, far: Point, share: float
) -> None:
    """A straight cubic with even handles is the case an engine we used before got wrong."""
    for point in (far, curve.point(share)):
        found = curve.point(curve.nearest_t(point)).distance(point)
        sampled = min(curve.point(k / 200).distance(point) for k in range(201))
        assert found <= sampled + 1e-6
    assert found < 1e-4
