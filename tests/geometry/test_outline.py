"""Outlines refuse what cannot be cut out."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.geometry import (
    ORIGIN,
    OpenOutline,
    Outline,
    OutlineCrossesItself,
    Path,
    Point,
    Transform,
    arc,
    polar,
    polyline,
    smooth_through,
)
from strategies import rigid_moves

SQUARE = [Point(0, 0), Point(100, 0), Point(100, 100), Point(0, 100)]


def outline(corners: list[Point]) -> Outline:
    sides = zip(corners, corners[1:] + corners[:1], strict=True)
    return Outline({f"e{n}": polyline([a, b]) for n, (a, b) in enumerate(sides)})


@st.composite
def blobs(draw: st.DrawFn) -> Outline:
    """Star-shaped outlines of three to seven smooth edges."""
    count = draw(st.integers(3, 7))
    corners = [
        ORIGIN + polar(draw(st.floats(100, 500)), 2 * math.pi * n / count) for n in range(count)
    ]
    edges: dict[str, Path] = {}
    for n, (a, b) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True)):
        outside = a.toward(b, 0.5) + (a.toward(b, 0.5) - ORIGIN) * draw(st.floats(0, 0.2))
        edges[f"e{n}"] = smooth_through([a, outside, b])
    return Outline(edges)


def test_a_square_is_an_outline() -> None:
    square = outline(SQUARE)
    assert square.area == pytest.approx(10_000)
    assert square.flattened() == SQUARE
    assert square.corner("e0", "e1") == Point(100, 0)
    assert square.corner("e3", "e0") == Point(0, 0)
    with pytest.raises(OpenOutline):
        square.corner("e0", "e2")


def test_an_open_outline_is_refused_with_its_gap() -> None:
    edges = dict(outline(SQUARE).edges)
    edges["e2"] = polyline([Point(100, 100), Point(0, 103)])
    with pytest.raises(OpenOutline) as caught:
        Outline(edges)
    assert "e2 and e3" in caught.value.where
    assert "3.000 mm" in caught.value.how_much


def test_the_last_edge_must_meet_the_first() -> None:
    edges = dict(outline(SQUARE).edges)
    del edges["e3"]
    with pytest.raises(OpenOutline) as caught:
        Outline(edges)
    assert "e2 and e0" in caught.value.where


def test_a_crossing_outline_is_refused() -> None:
    with pytest.raises(OutlineCrossesItself) as caught:
        outline([Point(0, 0), Point(100, 100), Point(100, 0), Point(0, 100)])
    assert "crosses itself" in caught.value.what
    assert caught.value.how_much == "at x 50.0 mm, y 50.0 mm"  # where the diagonals meet


def test_a_curved_edge_that_bulges_through_another_is_refused() -> None:
    edges = dict(outline(SQUARE).edges)
    edges["e0"] = smooth_through([Point(0, 0), Point(50, 130), Point(100, 0)])
    with pytest.raises(OutlineCrossesItself):
        Outline(edges)


def test_a_clockwise_outline_is_refused() -> None:
    with pytest.raises(OutlineCrossesItself) as caught:
        outline(SQUARE[::-1])
    assert "clockwise" in caught.value.what
    assert "anticlockwise" in caught.value.what_to_do


def test_an_outline_without_area_is_refused() -> None:
    with pytest.raises(OutlineCrossesItself):
        outline([Point(0, 0), Point(100, 0), Point(50, 0)])


@settings(max_examples=50)
@given(blobs(), rigid_moves())
def test_area_and_lengths_stay_under_rigid_motion(shape: Outline, move: Transform) -> None:
    """A mirrored outline is travelled the other way, and so stays anticlockwise."""
    moved = shape.transformed(move)
    assert moved.area == pytest.approx(shape.area, rel=1e-6)
    for name, path in shape.edges.items():
        assert moved.edges[name].length == pytest.approx(path.length, abs=0.01)
    names = list(shape.edges)
    assert list(moved.edges) == (names[::-1] if move.is_mirroring else names)
    assert moved.polygon.exterior.is_ccw


@given(st.floats(10, 1000))
def test_area_of_a_disk(radius_mm: float) -> None:
    """Flattened within 0.05 mm, a disk loses less than the ring of that width."""
    halves = {
        "lower": arc(ORIGIN, radius_mm, -math.pi, 0.0),
        "upper": arc(ORIGIN, radius_mm, 0.0, math.pi),
    }
    area = Outline(halves).area
    assert area <= math.pi * radius_mm**2 * (1 + 1e-6)
    assert area >= math.pi * (radius_mm - 0.05) ** 2
