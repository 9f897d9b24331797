"""Curvature against circles, ellipses, the textbook formula and numeric differentiation."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize_scalar

from clothwise.geometry import (
    Cubic,
    LengthOutOfRange,
    Line,
    Path,
    Point,
    Transform,
    arc,
    combs,
    curvature_at,
    curvature_extremes,
    inflections,
    join,
    kinks,
    polyline,
    straight,
)

S_BEND = Cubic(Point(0, 0), Point(40, 60), Point(60, -60), Point(100, 0))
ARCH = Cubic(Point(0, 0), Point(20, 80), Point(80, 80), Point(100, 0))
HOOK = Cubic(Point(0, 0), Point(70, 0), Point(100, 30), Point(100, 60))

coordinates = st.floats(-500, 500)
points = st.builds(Point, coordinates, coordinates)
cubics = st.builds(Cubic, points, points, points, points)


def ellipse(a: float, b: float) -> Path:
    """A quarter of an ellipse: the arc of the unit circle, stretched."""
    quarter = arc(Point(0, 0), 1.0, 0.0, math.pi / 2)
    stretch = Transform(a, 0.0, 0.0, b, 0.0, 0.0)
    return quarter.transformed(stretch)


@pytest.mark.parametrize("radius", [5.0, 22.0, 140.0, 900.0])
@pytest.mark.parametrize("sign", [1, -1])
def test_circle_bends_evenly_by_one_over_its_radius(radius: float, sign: int) -> None:
    path = arc(Point(3, -4), radius, 0.3, 0.3 + sign * 1.7)
    for share in (0.0, 0.2, 0.55, 1.0):
        assert curvature_at(path, share * path.length) == pytest.approx(sign / radius, rel=2e-3)
    (comb,) = combs([path])
    assert comb.curvatures == pytest.approx(sign / radius, rel=2e-3)


@pytest.mark.parametrize(("a", "b"), [(100.0, 60.0), (200.0, 30.0)])
def test_ellipse_bends_by_its_formula(a: float, b: float) -> None:
    """Source: k = ab / (a^2 sin^2 + b^2 cos^2)^(3/2), any calculus text."""
    path = ellipse(a, b)
    for segment in path.segments:
        for t in (0.1, 0.5, 0.9):
            point = segment.point(t)
            cos, sin = point.x / a, point.y / b
            wanted = a * b / (a * a * sin * sin + b * b * cos * cos) ** 1.5
            assert segment.curvature(t) == pytest.approx(wanted, rel=0.01)


@given(cubics, st.floats(0.02, 0.98))
def test_curvature_is_what_numeric_differentiation_gives(curve: Cubic, t: float) -> None:
    step = 1e-4
    x, y = (
        np.array([getattr(curve.point(t + k * step), axis) for k in (-1, 0, 1)]) for axis in "xy"
    )
    dx, dy = (x[2] - x[0]) / (2 * step), (y[2] - y[0]) / (2 * step)
    ddx, ddy = (x[2] - 2 * x[1] + x[0]) / step**2, (y[2] - 2 * y[1] + y[0]) / step**2
    speed = math.hypot(dx, dy)
    if speed < 50:
        return  # nearly a cusp: differences of rounding only
    wanted = (dx * ddy - dy * ddx) / speed**3
    assert curve.curvature(t) == pytest.approx(wanted, rel=1e-3, abs=1e-5)


def test_inflection_is_where_the_sign_changes_by_scipy() -> None:
    wanted = brentq(S_BEND.curvature, 0.2, 0.8)
    assert inflections(S_BEND) == pytest.approx((wanted,), abs=1e-9)
    assert inflections(HOOK) == ()
    assert inflections(Line(Point(0, 0), Point(5, 5))) == ()


@given(cubics)
def test_curvature_has_opposite_signs_around_an_inflection(curve: Cubic) -> None:
    for t in inflections(curve):
        near = 1e-6
        if near < t < 1 - near:
            before, after = curve.curvature(t - near), curve.curvature(t + near)
            assert before * after <= 0 or min(abs(before), abs(after)) < 1e-3


@pytest.mark.parametrize("curve", [S_BEND, HOOK, ARCH])
def test_extremes_are_where_scipy_finds_the_curvature_greatest_or_least(curve: Cubic) -> None:
    extremes = curvature_extremes(curve)
    assert extremes
    for t in extremes:
        side = 1 if curve.curvature(t) > curve.curvature(t - 0.01) else -1
        best = minimize_scalar(
            lambda x, side=side: -side * curve.curvature(x),
            bounds=(t - 0.02, t + 0.02),
            method="bounded",
            options={"xatol": 1e-8},
        )
        assert best.x == pytest.approx(t, abs=1e-5)
    assert curvature_extremes(Line(Point(0, 0), Point(9, 0))) == ()


def test_kinks_are_jumps_of_direction_and_nothing_else() -> None:
    bent = polyline([Point(0, 0), Point(100, 0), Point(200, 10), Point(300, 20)])
    (kink,) = kinks(bent, math.radians(1))
    assert kink.at_mm == pytest.approx(100)
    assert kink.turn_rad == pytest.approx(math.atan(0.1))
    smooth = join(straight(Point(0, 0), Point(50, 0)), arc(Point(50, 40), 40, -math.pi / 2, 0.0))
    assert kinks(smooth, math.radians(0.01)) == ()


def test_comb_lies_on_the_path_evenly_and_knows_where_it_heads() -> None:
    path = join(straight(Point(0, 0), Point(50, 0)), arc(Point(50, 40), 40, -math.pi / 2, 0.0))
    other = straight(Point(7, 7), Point(7, 97))
    first, second = combs([path, other])
    assert first.at_mm[-1] == pytest.approx(path.length, rel=1e-3)
    for at_mm, (x, y), angle in zip(first.at_mm, first.points, first.angles_rad, strict=True):
        assert path.point_at(min(at_mm, path.length)).distance(Point(x, y)) < 0.05
        assert math.cos(angle - path.tangent_at(min(at_mm, path.length)).angle) > 0.9999
    assert second.angles_rad == pytest.approx(math.pi / 2)
    assert second.points[0] == pytest.approx((7, 7), abs=1e-3)
    assert combs([]) == ()


def test_paths_sampled_together_are_sampled_as_alone() -> None:
    """Where one path ends and the next begins at the same length along, neither takes the other."""
    paths = [ellipse(100, 60), arc(Point(0, 0), 31.7, 0, 2.0), Path((S_BEND,)), Path((HOOK,))]
    for together, path in zip(combs(paths * 3), paths * 3, strict=True):
        (alone,) = combs([path])
        assert together.points == pytest.approx(alone.points, abs=1e-3)
        assert together.angles_rad == pytest.approx(alone.angles_rad, abs=1e-3)


def test_curvature_beyond_the_end_is_refused() -> None:
    with pytest.raises(LengthOutOfRange):
        curvature_at(Path((HOOK,)), 1e6)
