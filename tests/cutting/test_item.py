from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from shapely import Polygon

from clothwise.cutting import CutItem, area_mm2, is_symmetric, opened
from clothwise.errors import CuttingError
from cutting_strategies import half_outlines
from invented_dress import (
    BACK_BODICE_HALF,
    BELT,
    COLLAR_HALF,
    FRONT_SKIRT,
    POCKET,
    SLEEVE,
    XY,
    item,
    mirrored,
)

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))


def test_outline_is_kept_anticlockwise_and_open() -> None:
    clockwise = CutItem("a", "a", (*SQUARE[::-1], SQUARE[-1]))
    assert len(clockwise.outline) == 4
    assert Polygon(clockwise.outline).exterior.is_ccw


@given(half_outlines())
def test_opened_piece_is_both_halves(half: list[XY]) -> None:
    folded = CutItem("a", "a", tuple(half), fold_edge=(half[0], half[1]))
    whole = opened(folded)
    one, other = Polygon(half), Polygon([(-x, y) for x, y in half])
    assert not whole.on_fold
    assert Polygon(whole.outline).symmetric_difference(one.union(other)).area < 1e-3
    assert area_mm2(whole) == pytest.approx(area_mm2(folded))
    assert is_symmetric(whole)


def test_fold_edge_may_have_points_along_it_and_lie_on_either_side() -> None:
    left = mirrored([(0, 0), (100, 0), (90, 50), (0, 80), (0, 40)])
    whole = opened(CutItem("a", "a", tuple(left), fold_edge=((0, 80), (0, 0))))
    assert Polygon(whole.outline).bounds == (-100, 0, 100, 80)


def test_opening_what_has_no_fold_changes_nothing() -> None:
    sleeve = item("sleeve", SLEEVE)
    assert opened(sleeve) == sleeve


@pytest.mark.parametrize(
    "outline", [BELT, POCKET, opened(item("c", COLLAR_HALF, on_fold=True)).outline]
)
def test_symmetric_pieces_are_known(outline: list[XY]) -> None:
    assert is_symmetric(item("piece", outline))


@pytest.mark.parametrize("outline", [FRONT_SKIRT, BACK_BODICE_HALF])
def test_one_sided_pieces_are_known(outline: list[XY]) -> None:
    assert not is_symmetric(item("piece", outline))


def test_symmetry_is_about_the_grain() -> None:
    """A square on the bias is symmetric; a long strip cut along the bias of its own is, too."""
    assert is_symmetric(CutItem("a", "a", SQUARE, grain_angle_rad=math.pi / 4))
    strip = ((0.0, 0.0), (20.0, 0.0), (20.0, 200.0), (0.0, 200.0))
    assert not is_symmetric(CutItem("a", "a", strip, grain_angle_rad=math.pi / 4))


@pytest.mark.parametrize(
    ("outline", "word"),
    [
        ((), "nothing"),
        (((0, 0), (1, 1)), "nothing"),
        (((0, 0), (100, 0), (200, 0)), "cross"),
        (((0, 0), (100, 100), (100, 0), (0, 100)), "cross"),
        (((0, 0), (math.nan, 0), (0, 100)), "nowhere"),
        (((0, 0), (math.inf, 0), (0, 100)), "nowhere"),
        (((0, 0), (1, 0), (0, 1)), "nothing"),
    ],
)
def test_outlines_that_cannot_be_cut_are_refused(outline: tuple[XY, ...], word: str) -> None:
    with pytest.raises(CuttingError, match=word) as caught:
        CutItem("pocket", "pocket", outline)
    assert caught.value.where == "pocket"
    assert caught.value.what_to_do


@pytest.mark.parametrize(
    ("fold_edge", "grain_rad"),
    [
        (((0, 0), (100, 0)), 0.0),  # across the grain
        (((0, 0), (0.02, 100)), 0.0),  # slanting
        (((0, 0), (0, 50)), 0.0),  # ends nowhere
        (((50, 0), (50, 100)), 0.0),  # inside
        (((0, 0), (0, 100)), 0.1),  # off the grain
    ],
)
def test_fold_edges_that_cannot_lie_on_a_fold_are_refused(
    fold_edge: tuple[XY, XY], grain_rad: float
) -> None:
    with pytest.raises(CuttingError, match="fold edge"):
        CutItem("a", "a", SQUARE, fold_edge=fold_edge, grain_angle_rad=grain_rad)


def test_a_piece_on_both_sides_of_its_fold_edge_is_refused() -> None:
    hooked = ((0, 0), (100, 0), (100, 100), (-30, 100), (-30, 60), (0, 50))
    with pytest.raises(CuttingError, match="both sides"):
        CutItem("a", "a", hooked, fold_edge=((0, 50), (0, 0)))


def test_items_can_be_compared_and_changed() -> None:
    sleeve = item("sleeve", SLEEVE)
    assert replace(sleeve, mirrored=True) != sleeve
    assert hash(sleeve) == hash(item("sleeve", SLEEVE))
