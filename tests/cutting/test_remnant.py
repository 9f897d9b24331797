"""Remnants, layouts on them, and the verifier that judges these: each fault is planted once."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, affinity

from clothwise.cutting import Cut, CutItem, Fabric, LayoutFaultCode, Nap, Placement, Spacing
from clothwise.cutting.layout import on_fabric
from clothwise.cutting.placing import Lying
from clothwise.cutting.remnant import (
    MOST_CORNERS,
    Remnant,
    rectangle,
    remnant,
    spot,
    usable_cloth,
    washed_cloth,
)
from clothwise.cutting.remnant_layout import RemnantLayout, lay_on_remnant
from clothwise.cutting.verify_remnant import verify_remnant
from clothwise.errors import CuttingError
from invented_dress import BACK_BODICE_HALF, BELT, FRONT_BODICE, POCKET, SLEEVE, item, pair

XY = tuple[float, float]
CLOTH = Fabric("blue linen", 1400)
SHAPE: list[XY] = [(0, 0), (900, 20), (880, 700), (400, 700), (380, 600), (0, 620)]
FEW = [*pair("pocket", POCKET), *pair("sleeve", SLEEVE)]
TIGHT = Spacing(0.0, 0.0)


def box(length: float, width: float, at: XY = (0.0, 0.0)) -> list[XY]:
    x, y = at
    return [(x, y), (x + length, y), (x + length, y + width), (x, y + width)]


def sheet(
    shape: Sequence[XY] = SHAPE,
    *,
    holes: Sequence[Sequence[XY]] = (),
    flaws: Sequence[Sequence[XY]] = (),
    **cloth: object,
) -> Remnant:
    return remnant(replace(CLOTH, **cloth), shape, holes=holes, flaws=flaws)  # type: ignore[arg-type]


def laid(items: Sequence[CutItem], on: Remnant, **how: object) -> RemnantLayout:
    found = lay_on_remnant(items, on, **how)  # type: ignore[arg-type]
    assert found is not None
    return found


# The cloth


def test_its_box_begins_at_the_origin_wherever_it_was_measured_from() -> None:
    moved = [(x + 37, y - 500) for x, y in SHAPE]
    hole = [(x + 37, y - 500) for x, y in box(30, 30, (100, 100))]
    assert sheet(moved, holes=[hole]) == sheet(holes=[box(30, 30, (100, 100))])
    assert sheet().fabric.length_mm == 900
    assert sheet().fabric.usable_width_mm == 700


def test_area_is_that_of_an_independent_engine() -> None:
    """The shoelace formula, by hand."""
    around = zip(SHAPE, [*SHAPE[1:], SHAPE[0]], strict=True)
    area = 0.5 * sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in around)
    on = sheet(holes=[box(40, 50, (100, 100))], flaws=[box(10, 10, (300, 300))])
    assert on.area_mm2 == pytest.approx(area - 2000 - 100)


def test_washing_shrinks_cloth_and_holes_along_and_across() -> None:
    on = sheet(holes=[box(40, 50, (100, 100))], shrinkage_along=0.1, shrinkage_across=0.05)
    assert washed_cloth(on).bounds == pytest.approx((0, 0, 810, 665))
    assert usable_cloth(on).area == pytest.approx(on.area_mm2 * 0.9 * 0.95)


def test_a_spot_holds_its_circle() -> None:
    assert Polygon(spot((50, 60), 40)).covers(
        affinity.translate(
            Polygon([(20 * math.cos(a), 20 * math.sin(a)) for a in range(7)]), 50, 60
        )
    )


def test_a_length_at_hand_is_a_remnant_between_the_selvages() -> None:
    on = rectangle(replace(CLOTH, length_mm=2000.0, flaws=(tuple(box(50, 50, (100, 100))),)))
    assert on.area_mm2 == pytest.approx(2000 * 1380 - 2500)
    assert on.fabric.length_mm == 2000


def test_cloth_of_which_no_length_is_stated_is_no_remnant() -> None:
    with pytest.raises(CuttingError, match="no length at hand"):
        rectangle(CLOTH)


@pytest.mark.parametrize("length", [0.0, -5.0, math.nan])
def test_a_length_that_is_none_is_refused(length: float) -> None:
    with pytest.raises(CuttingError) as error:
        rectangle(replace(CLOTH, length_mm=length))
    assert error.value.what_to_do


BOW = [(0.0, 0.0), (100.0, 0.0), (0.0, 100.0), (100.0, 100.0)]


@pytest.mark.parametrize(
    ("shape", "holes", "what", "how_much"),
    [
        (BOW, [], "crosses or touches itself", "near 5 cm along and 5 cm across"),
        (SHAPE, [BOW], "hole 1 crosses", "near 5 cm"),
        ([(0, 0), (100, 0)], [], "encloses nothing", "2 corners"),
        ([(0, 0), (100, 0), (200, 0)], [], "no remnant has this size", "200 by 0"),
        (box(100, 1e6), [], "no remnant has this size", "allowed up to"),
        ([(0, 0), (100, 0), (math.nan, 100)], [], "nowhere", ""),
        (SHAPE, [box(30, 30, (2000, 100))], "hole 1 does not lie on the cloth", "200 cm along"),
        (
            [(500 * math.cos(k), 500 * math.sin(k)) for k in range(MOST_CORNERS + 1)],
            [],
            "too many corners",
            "at most 5,000",
        ),
    ],
)
def test_shapes_that_are_no_remnant(
    shape: list[XY], holes: list[list[XY]], what: str, how_much: str
) -> None:
    with pytest.raises(CuttingError, match=what) as error:
        sheet(shape, holes=holes)
    assert error.value.where == "blue linen"
    assert how_much in error.value.how_much
    assert error.value.what_to_do


# Layouts


def test_few_pieces_on_a_shape_with_hole_and_flaw() -> None:
    on = sheet(holes=[spot((600, 300), 20)], flaws=[spot((300, 200), 40)])
    layout = laid(FEW, on)
    assert verify_remnant(on, layout.placements, FEW, layout.spacing) == ()
    assert layout.used_share == pytest.approx(
        sum(Polygon(each.outline).area for each in FEW) / on.area_mm2
    )


def test_the_same_question_has_the_same_answer() -> None:
    assert laid(FEW, sheet()) == laid(FEW, sheet())


@pytest.mark.parametrize("count", [2, 3])
def test_squares_that_fill_a_square_to_a_fiftieth(count: int) -> None:
    """A packing known without searching: n by n squares of 100, with 2 % to spare each way."""
    squares = [item(f"square.{k}", box(100, 100)) for k in range(count**2)]
    on = sheet(box(102.0 * count, 102.0 * count))
    assert laid(squares, on, spacing=TIGHT).used_share == pytest.approx(1.02**-2)


def test_more_than_the_area_is_refused_without_a_search() -> None:
    squares = [item(f"square.{k}", box(100, 100)) for k in range(5)]
    assert lay_on_remnant(squares, sheet(box(200, 200)), spacing=TIGHT) is None


def test_two_squares_of_more_than_half_do_not_fit_side_by_side() -> None:
    """Area would do: 2 * 60² is less than 100²; no two squares fit into one smaller than both."""
    squares = [item(f"square.{k}", box(60, 60)) for k in range(2)]
    assert lay_on_remnant(squares, sheet(box(100, 100)), spacing=TIGHT) is None


def test_a_piece_longer_than_the_cloth_along_the_grain_is_not_turned_across() -> None:
    on = sheet(box(300, 1000))
    assert lay_on_remnant([item("belt", BELT)], on) is None
    assert lay_on_remnant([item("belt", BELT)], sheet(box(1000, 300))) is not None


def test_margins_are_kept_from_edges_and_pieces() -> None:
    """10 mm at the edges and 5 between: two squares of 100 need 225 by 120, and no less."""
    squares = [item(f"square.{k}", box(100, 100)) for k in range(2)]
    spacing = Spacing(between_mm=5.0, ends_mm=10.0)
    assert lay_on_remnant(squares, sheet(box(225.1, 120.1)), spacing=spacing) is not None
    assert lay_on_remnant(squares, sheet(box(223, 120.1)), spacing=spacing, rounds=8) is None
    assert lay_on_remnant(squares, sheet(box(225.1, 119)), spacing=spacing, rounds=8) is None


def test_shrinkage_to_come_takes_room() -> None:
    squares = [item(f"square.{k}", box(100, 100)) for k in range(2)]
    assert lay_on_remnant(squares, sheet(box(220, 120))) is not None
    assert lay_on_remnant(squares, sheet(box(220, 120), shrinkage_along=0.1), rounds=8) is None


def test_a_flaw_in_the_middle_keeps_a_piece_off() -> None:
    square = [item("square", box(150, 150))]
    assert lay_on_remnant(square, sheet(box(200, 200))) is not None
    assert lay_on_remnant(square, sheet(box(200, 200), flaws=[spot((100, 100), 10)])) is None


def test_cloth_parted_by_a_hole_gives_its_larger_part() -> None:
    on = sheet(box(500, 200), holes=[box(20, 260, (150, -30))])
    layout = laid([item("square", box(180, 180))], on)
    assert min(x for x, _ in on_fabric(layout.placements[0], box(180, 180))) > 170


def test_nap_keeps_the_tops_of_pieces_one_way() -> None:
    layout = laid(FEW, sheet(nap=Nap.ONE_WAY))
    assert all(math.isclose(p.rotation_rad, -math.pi / 2) for p in layout.placements)


def test_a_cloth_good_on_both_sides_takes_a_piece_that_one_side_does_not() -> None:
    """A right triangle laid along the grain, on cloth of its shape and on the mirror image."""
    triangle = [item("triangle", [(0, 0), (200, 0), (0, 300)])]
    shapes: dict[str, list[XY]] = {
        "as it lies": [(0, 0), (320, 215), (0, 215)],
        "turned over": [(0, 0), (320, 0), (0, 215)],
    }

    def fitting(both: bool) -> list[str]:
        cloths = {
            name: sheet(shape, wrong_side_usable=both, nap=Nap.ONE_WAY)
            for name, shape in shapes.items()
        }
        return [n for n, on in cloths.items() if lay_on_remnant(triangle, on, spacing=TIGHT)]

    assert fitting(both=False) == ["as it lies"]
    assert fitting(both=True) == ["as it lies", "turned over"]


def test_a_remnant_without_a_grain_takes_a_piece_across_it() -> None:
    """A strip longer than the remnant is, but no longer than it is wide."""
    strip = [item("strip", box(60, 290))]
    shape: list[XY] = [(0, 0), (200, 0), (200, 300), (0, 300)]
    assert lay_on_remnant(strip, sheet(shape), spacing=TIGHT) is None
    layout = laid(strip, sheet(shape, grainless=True))
    assert abs(math.cos(layout.placements[0].rotation_rad)) == pytest.approx(1)
    assert (
        lay_on_remnant(strip, sheet(shape, grainless=True, nap=Nap.ONE_WAY), spacing=TIGHT) is None
    )


def test_a_packer_that_lies_is_never_believed(monkeypatch: pytest.MonkeyPatch) -> None:
    """All at one place: the verifier throws the layout away, and says whose fault it is."""
    monkeypatch.setattr(
        "clothwise.cutting.remnant_layout.pack",
        lambda things, *_, **__: tuple(Lying(0, 300.0, 300.0) for _ in things),
    )
    with pytest.raises(CuttingError, match="thrown away") as error:
        lay_on_remnant(FEW, sheet())
    assert "LAYOUT-OVERLAP" in error.value.how_much


def test_a_half_piece_must_be_opened_out() -> None:
    with pytest.raises(CuttingError, match="half piece"):
        lay_on_remnant([item("back", BACK_BODICE_HALF, on_fold=True)], sheet())


@settings(max_examples=8)
@given(
    st.lists(st.tuples(st.floats(300, 900), st.floats(0.15, 0.35)), min_size=5, max_size=12),
    st.integers(0, 3),
)
def test_whatever_is_found_holds_on_cloth_of_any_shape(
    rays: list[tuple[float, float]], holes: int
) -> None:
    """A star of random rays; the verifier judges each layout, so no exception is the assertion."""
    turn, points = 0.0, []
    share = 2 * math.pi / sum(step for _, step in rays)
    for length, step in rays:
        points.append((length * math.cos(turn), length * math.sin(turn)))
        turn += step * share
    on = sheet(points, holes=[spot((60.0 * k, 40.0 * k), 20.0 + 10 * k) for k in range(holes)])
    found = lay_on_remnant(pair("pocket", POCKET), on, rounds=1)
    if found is not None:
        assert verify_remnant(on, found.placements, pair("pocket", POCKET), found.spacing) == ()


# The verifier

ON = sheet(box(1000, 600), flaws=[spot((500, 300), 40)], holes=[spot((200, 300), 40)])
PIECES = [item("one", box(100, 100)), item("two", FRONT_BODICE)]


def placed(name: str, x: float, y: float, **how: object) -> Placement:
    """A square whose lower left corner on the cloth is at (x, y)."""
    plain = Placement((name,), Cut.SINGLE, False, -math.pi / 2, (x, y + 100))
    return replace(plain, **how)  # type: ignore[arg-type]


GOOD = (placed("one", 50, 50), placed("two", 560, 200))


def codes(*placements: Placement, on: Remnant = ON) -> list[LayoutFaultCode]:
    faults = verify_remnant(on, placements, PIECES, Spacing(3.0, 5.0))
    return [fault.code for fault in faults]


def test_a_good_layout_has_no_fault() -> None:
    assert codes(*GOOD) == []


def test_a_missing_and_a_double_copy() -> None:
    assert codes(GOOD[0]) == [LayoutFaultCode.COPIES]
    assert codes(*GOOD, GOOD[0]) == [LayoutFaultCode.COPIES]


def test_a_stranger() -> None:
    assert codes(*GOOD, replace(GOOD[0], item_ids=("three",))) == [LayoutFaultCode.COPIES]


def test_the_wrong_hand_and_the_right_to_it() -> None:
    turned = replace(GOOD[1], mirrored=True, translation=(560.0, 350.0))
    assert LayoutFaultCode.CUT in codes(GOOD[0], turned)
    both = replace(ON, fabric=replace(ON.fabric, wrong_side_usable=True))
    assert LayoutFaultCode.CUT not in codes(GOOD[0], turned, on=both)


def test_a_pair_from_one_layer() -> None:
    assert codes(replace(GOOD[0], cut=Cut.PAIR), GOOD[1]) == [LayoutFaultCode.CUT]


def test_grain_that_strays() -> None:
    askew = replace(GOOD[0], rotation_rad=-math.pi / 2 + 1e-3)
    assert codes(askew, GOOD[1]) == [LayoutFaultCode.GRAIN]


def test_nap_the_wrong_way() -> None:
    napped = replace(ON, fabric=replace(ON.fabric, nap=Nap.ONE_WAY))
    upside_down = replace(GOOD[0], rotation_rad=math.pi / 2, translation=(150.0, 50.0))
    assert codes(upside_down, GOOD[1]) == []
    assert codes(upside_down, GOOD[1], on=napped) == [LayoutFaultCode.NAP]


def test_beyond_the_edge_and_too_near_to_it() -> None:
    assert codes(placed("one", -10, 50), GOOD[1]) == [LayoutFaultCode.OUTSIDE]
    assert codes(placed("one", 4, 50), GOOD[1]) == [LayoutFaultCode.ENDS]


def test_over_a_hole_over_a_flaw_and_too_near_to_them() -> None:
    assert codes(placed("one", 150, 250), GOOD[1]) == [LayoutFaultCode.FLAW]
    assert codes(placed("one", 450, 250), GOOD[1]) == [LayoutFaultCode.FLAW]
    near = 180 - 100 - 4.0  # the hole begins 18 cm from the edge, a little before
    assert codes(placed("one", near, 250), GOOD[1]) == [LayoutFaultCode.SPACING]


def test_over_another_and_too_near_to_it() -> None:
    twice = [item("one", box(100, 100)), item("two", box(100, 100))]

    def of(x: float) -> list[LayoutFaultCode]:
        placements = (placed("one", 50, 50), placed("two", x, 50))
        return [f.code for f in verify_remnant(ON, placements, twice, Spacing(3.0, 5.0))]

    assert of(100) == [LayoutFaultCode.OVERLAP]
    assert of(152) == [LayoutFaultCode.SPACING]
    assert of(153) == []
