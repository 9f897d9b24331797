"""What the packer sees must contain the piece, and not much more."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPolygon, Point, Polygon, box

from clothwise.cutting import CutItem, simplified_outward, widened
from clothwise.cutting.clearance import GRID_MM, on_grid, rounded
from cutting_strategies import outlines
from invented_dress import XY, dress

SLACK_MM = 1e-6


def drafted(outline: list[XY]) -> tuple[XY, ...]:
    return CutItem("a", "a", tuple(outline)).outline


@given(outlines(), st.floats(0.05, 2))
def test_simplified_outline_contains_the_true_one_and_strays_little(
    outline: list[XY], tolerance_mm: float
) -> None:
    given_outline = drafted(outline)
    simpler = Polygon(simplified_outward(given_outline, tolerance_mm))
    true = Polygon(given_outline)
    assert simpler.is_valid
    assert simpler.buffer(SLACK_MM).covers(true)
    assert true.buffer(tolerance_mm + SLACK_MM, join_style="mitre", mitre_limit=50).covers(simpler)
    assert max(true.distance(p) for p in _corners(simpler)) <= tolerance_mm * 1.0001 + SLACK_MM


@pytest.mark.parametrize("piece", dress(), ids=lambda piece: piece.id)
def test_dress_pieces_lose_points_but_nothing_of_their_area(piece: CutItem) -> None:
    true = Polygon(piece.outline)
    simpler = Polygon(simplified_outward(piece.outline))
    assert simpler.buffer(SLACK_MM).covers(true)
    assert simpler.area <= true.area * 1.01
    assert len(simpler.exterior.coords) <= len(piece.outline) + 1


def test_curves_lose_most_of_their_points() -> None:
    """A circle of 100 mm needs 32 corners to stay within 0.5 mm outside; it comes with 400."""
    angles = [2 * math.pi * k / 400 for k in range(400)]
    circle = tuple((100 * math.cos(a), 100 * math.sin(a)) for a in angles)
    assert len(simplified_outward(circle, 0.5)) < 80


@given(outlines(), st.floats(0.005, 10))
def test_widened_outline_keeps_the_distance_all_round(
    outline: list[XY], distance_mm: float
) -> None:
    true = Polygon(drafted(outline))
    wider = Polygon(widened(drafted(outline), distance_mm))
    assert wider.is_valid
    assert wider.exterior.distance(true) >= distance_mm * 0.99 - GRID_MM


def test_straight_edges_are_widened_exactly() -> None:
    square = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
    assert Polygon(widened(square, 1.5)).bounds == pytest.approx((-1.5, -1.5, 101.5, 101.5))
    assert widened(square, 0.0) == square


def _corners(polygon: Polygon) -> list[Point]:
    return [Point(p) for p in polygon.exterior.coords]


def test_parts_that_meet_only_on_the_grid_become_one_outline() -> None:
    """As the teeth of a comb of half pieces, pushed together, do by chance."""
    apart = MultiPolygon([box(0, 0, 10, 10), box(10.0002, 0, 20, 10)])
    whole = Polygon(on_grid(apart))
    assert whole.is_valid
    assert whole.bounds == (0, 0, 20, 10)
    assert whole.area == pytest.approx(200, abs=1e-9)


def test_a_rounded_outline_reaches_no_further_than_it_was_grown() -> None:
    """Also at the point of a wedge, where mitred edges meet beyond it."""
    wedge = ((0.0, 0.0), (400.0, 0.0), (400.0, 100.0))
    grown = Polygon(rounded(wedge, 5.0))
    assert grown.hausdorff_distance(Polygon(wedge)) == pytest.approx(5.0, abs=0.05)
    assert Polygon(wedge).distance(grown.exterior) == pytest.approx(5.0, abs=0.05)
    assert grown.bounds == pytest.approx((-5.0, -5.0, 405.0, 105.0), abs=0.05)
    assert Polygon(widened(wedge, 5.0)).bounds[0] < -9.0
    assert rounded(wedge, 0.0) == wedge
