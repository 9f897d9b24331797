"""Curves, outlines and hems against formulas from outside. Ids are those of our check values."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from clothwise.geometry import (
    ORIGIN,
    Outline,
    Path,
    Point,
    Transform,
    Vector,
    arc,
    cubic_between,
    offset_path,
    polar,
    polyline,
)


@pytest.mark.parametrize("degrees", [1, 5, 15])
def test_chords_are_short_by_a_known_factor(degrees: float) -> None:
    """G09 (derived): a chord of step angle a is short by sin(a/2) / (a/2); 5 degrees: 0.9997."""
    step = math.radians(degrees)
    circle = arc(ORIGIN, 300, 0.0, math.pi / 2)
    count = round(math.pi / 2 / step)
    chords = polyline([circle.point_at(circle.length * k / count) for k in range(count + 1)])
    factor = math.sin(step / 2) / (step / 2)
    assert chords.length / circle.length == pytest.approx(factor, abs=1e-6)
    if degrees == 5:
        assert factor == pytest.approx(0.9997, abs=5e-5)


def quarter_ellipse(a: float, b: float) -> float:
    """Length by S. Ramanujan, "Modular equations and approximations to pi", 1914, second formula:
    pi (a + b) (1 + 3h / (10 + sqrt(4 - 3h))) / 4 with h = ((a - b) / (a + b))^2.
    """
    h = ((a - b) / (a + b)) ** 2
    return math.pi * (a + b) * (1 + 3 * h / (10 + math.sqrt(4 - 3 * h))) / 4


@pytest.mark.parametrize(("a", "b"), [(100, 100), (120, 80), (150, 60), (90, 70)])
def test_length_of_a_quarter_ellipse(a: float, b: float) -> None:
    """G10. A quarter circle of three arcs, squeezed, is an ellipse within 4e-7 of its axis."""
    round_arc = arc(ORIGIN, 1.0, 0.0, math.pi / 2)
    ellipse = round_arc.transformed(Transform(a=a, d=b))
    assert ellipse.length == pytest.approx(quarter_ellipse(a, b), rel=2e-6)
    if a == b:
        assert quarter_ellipse(a, b) == pytest.approx(math.pi * a / 2)


@pytest.mark.parametrize(("a", "b"), [(100, 100), (120, 80), (90, 70)])
def test_one_cubic_stands_for_a_quarter_ellipse(a: float, b: float) -> None:
    """G10, one natural cubic: an armhole or neckline in one piece is off by less than 1 percent."""
    curve = cubic_between(Point(a, 0), Vector(0, 1), Point(0, b), Vector(-1, 0))
    assert curve.length == pytest.approx(quarter_ellipse(a, b), rel=0.01)


def regular(sides: int, radius_mm: float) -> list[Point]:
    return [ORIGIN + polar(radius_mm, 2 * math.pi * n / sides) for n in range(sides)]


@pytest.mark.parametrize("sides", [3, 4, 6, 11])
@pytest.mark.parametrize("allowance_mm", [6.0, 15.0])
def test_area_added_by_an_even_allowance(sides: int, allowance_mm: float) -> None:
    """A08 (derived), with mitred corners: perimeter x a + a^2 x sum of tan(half the turn).

    Round corners would add pi a^2 in all instead; a mitre adds a little more.
    """
    corners = regular(sides, 200)
    mids = corners[-1].toward(corners[0], 0.5)
    whole = polyline([mids, *corners, mids])
    cut = offset_path(whole, -allowance_mm)
    inner = Outline({"all": whole}).area
    outer = Outline({"all": cut}).area
    added = whole.length * allowance_mm
    corner_terms = sides * allowance_mm**2 * math.tan(math.pi / sides)
    assert outer - inner == pytest.approx(added + corner_terms, abs=0.01)
    assert corner_terms > math.pi * allowance_mm**2


@pytest.mark.parametrize("radius_mm", [40.0, 120.0, 700.0])
@pytest.mark.parametrize("allowance_mm", [6.0, 15.0, 40.0])
def test_a_convex_arc_grows_by_its_allowance(radius_mm: float, allowance_mm: float) -> None:
    """A07, A08 (derived): radius r + a, and the disk grows by perimeter x a + pi a^2."""
    disk = arc(ORIGIN, radius_mm, 0.0, 2 * math.pi)
    cut = offset_path(disk, -allowance_mm)
    assert cut.length == pytest.approx(2 * math.pi * (radius_mm + allowance_mm), abs=0.02)
    added = area(cut) - area(disk)
    expected = disk.length * allowance_mm + math.pi * allowance_mm**2
    assert added == pytest.approx(expected, abs=0.03 * cut.length)


def area(closed: Path) -> float:
    """Area within a closed path by the shoelace formula."""
    spots = closed.flattened(0.001)
    return sum(a.x * b.y - b.x * a.y for a, b in pairwise(spots)) / 2


@pytest.mark.parametrize(
    ("share", "depth_mm", "published_cm"), [(1.0, 20.0, 25.1), (0.25, 20.0, 6.3), (0.5, 20.0, None)]
)
def test_excess_of_a_flared_hem(share: float, depth_mm: float, published_cm: float | None) -> None:
    """H08 (derived): the raw edge of a hem is 4 pi f x depth longer than the line it lies on.

    The raw edge lies `depth` outside the hem line; turned up it must lie `depth` inside it.
    """
    radius_mm = 900.0
    hem = arc(ORIGIN, radius_mm, 0.0, 2 * math.pi * share)
    raw, lies_on = offset_path(hem, -depth_mm), offset_path(hem, depth_mm)
    excess = raw.length - lies_on.length
    assert excess == pytest.approx(4 * math.pi * share * depth_mm, abs=0.05)
    if published_cm is not None:
        assert excess / 10 == pytest.approx(published_cm, abs=0.05)
