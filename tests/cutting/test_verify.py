"""Each way to spoil a layout is seen, and a sound one is not complained about."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.cutting import (
    Cut,
    Effort,
    Fabric,
    LayerPlan,
    Layers,
    Layout,
    LayoutFaultCode,
    Nap,
    Placement,
    lay,
    opened,
    verify,
)
from invented_dress import dress

ROWS_ONLY = Effort(seconds=0, runs=0)
ITEMS = dress()
FOLDED = lay(ITEMS, Fabric("linen", 1400, nap=Nap.ONE_WAY), LayerPlan.FOLDED, effort=ROWS_ONLY)
OPEN_ITEMS = [opened(item) for item in ITEMS]
SINGLE = lay(OPEN_ITEMS, Fabric("linen", 1400), effort=ROWS_ONLY)


def codes(layout: Layout, items: list[object] | None = None) -> set[LayoutFaultCode]:
    given_items = items or (ITEMS if layout.plan is LayerPlan.FOLDED else OPEN_ITEMS)
    return {fault.code for fault in verify(layout, given_items)}  # type: ignore[arg-type]


def with_first(
    layout: Layout, change: Callable[[Placement], Placement], which: Cut | None = None
) -> Layout:
    """Return the layout with one placement changed."""
    section = layout.sections[0]
    placements = list(section.placements)
    index = next(i for i, p in enumerate(placements) if which is None or p.cut is which)
    placements[index] = change(placements[index])
    changed = replace(section, placements=tuple(placements))
    return replace(layout, sections=(changed, *layout.sections[1:]))


def moved(dx: float, dy: float) -> Callable[[Placement], Placement]:
    def move(placement: Placement) -> Placement:
        x, y = placement.translation
        return replace(placement, translation=(x + dx, y + dy))

    return move


def test_sound_layouts_have_no_fault() -> None:
    assert verify(FOLDED, ITEMS) == ()
    assert verify(SINGLE, OPEN_ITEMS) == ()


def test_a_missing_copy_is_seen() -> None:
    section = SINGLE.sections[0]
    short = replace(SINGLE, sections=(replace(section, placements=section.placements[1:]),))
    assert codes(short) == {LayoutFaultCode.COPIES}


def test_a_copy_cut_twice_is_seen() -> None:
    """Check value Y21: the mirror image of a half piece must not be cut again."""
    section = FOLDED.sections[0]
    twice = replace(section, placements=(*section.placements, section.placements[0]))
    assert codes(replace(FOLDED, sections=(twice,))) == {LayoutFaultCode.COPIES}


def test_a_copy_that_nobody_asked_for_is_seen() -> None:
    assert {f.code for f in verify(SINGLE, OPEN_ITEMS[1:])} == {LayoutFaultCode.COPIES}


def test_the_wrong_hand_is_seen() -> None:
    assert LayoutFaultCode.CUT in codes(
        with_first(SINGLE, lambda p: replace(p, mirrored=not p.mirrored))
    )


def test_two_copies_of_one_hand_are_no_pair() -> None:
    both_plain = [replace(item, mirrored=False) for item in ITEMS]
    assert LayoutFaultCode.CUT in {f.code for f in verify(FOLDED, both_plain)}


def test_double_cloth_in_a_single_plan_is_seen() -> None:
    double = tuple(replace(s, layers=Layers.DOUBLE) for s in SINGLE.sections)
    assert LayoutFaultCode.SECTION in codes(replace(SINGLE, sections=double))


def test_a_piece_over_the_edge_is_seen() -> None:
    assert LayoutFaultCode.OUTSIDE in codes(with_first(SINGLE, moved(0, -2000)))


def test_a_piece_on_another_is_seen() -> None:
    assert LayoutFaultCode.OVERLAP in codes(with_first(SINGLE, moved(0, 20)))


def test_pieces_closer_than_asked_are_seen() -> None:
    wider = replace(SINGLE, spacing=replace(SINGLE.spacing, between_mm=40))
    assert LayoutFaultCode.SPACING in codes(wider)


@pytest.mark.parametrize("angle_deg", [0.01, 1, 45, 90])
def test_a_piece_off_the_grain_is_seen(angle_deg: float) -> None:
    tilted = with_first(
        SINGLE, lambda p: replace(p, rotation_rad=p.rotation_rad + math.radians(angle_deg))
    )
    assert LayoutFaultCode.GRAIN in codes(tilted)


def test_a_half_turn_is_seen_where_there_is_nap_only() -> None:
    def turned(placement: Placement) -> Placement:
        return replace(placement, rotation_rad=placement.rotation_rad + math.pi)

    assert LayoutFaultCode.NAP in codes(with_first(FOLDED, turned, Cut.PAIR))
    assert LayoutFaultCode.NAP not in codes(with_first(SINGLE, turned))


@pytest.mark.parametrize("off_mm", [0.02, -0.02, 5])
def test_a_fold_edge_off_the_fold_is_seen(off_mm: float) -> None:
    assert LayoutFaultCode.FOLD in codes(with_first(FOLDED, moved(0, off_mm), Cut.ON_FOLD))


def test_more_cloth_than_there_is_is_seen() -> None:
    narrower = replace(SINGLE, fabric=Fabric("linen", 1300))
    assert LayoutFaultCode.SECTION in codes(narrower)


@pytest.mark.parametrize("longer_mm", [-4, 4, 1000])
def test_a_wrong_length_is_seen(longer_mm: float) -> None:
    section = SINGLE.sections[0]
    wrong = replace(section, length_mm=section.length_mm + longer_mm)
    assert LayoutFaultCode.ENDS in codes(replace(SINGLE, sections=(wrong,)))


def test_a_gap_between_stretches_is_seen() -> None:
    late = tuple(replace(s, start_mm=s.start_mm + 50) for s in SINGLE.sections)
    assert LayoutFaultCode.SECTION in codes(replace(SINGLE, sections=late))


def test_faults_say_what_where_and_how_much() -> None:
    fault = next(
        f
        for f in verify(with_first(FOLDED, moved(0, 5), Cut.ON_FOLD), ITEMS)
        if f.code is LayoutFaultCode.FOLD
    )
    assert fault.item_ids == ("back skirt",)
    assert fault.measured == pytest.approx(5)
    assert str(fault) == "LAYOUT-FOLD back skirt: 5, allowed 0.01"


@given(st.floats(-300, 300), st.floats(-300, 300), st.integers(0, 15))
def test_no_random_shift_of_a_piece_goes_unseen_if_it_matters(
    dx: float, dy: float, index: int
) -> None:
    """Against the plainest judge: the areas of the pieces and that of their union."""
    from shapely import Polygon, unary_union

    from clothwise.cutting import placed_outline

    section = SINGLE.sections[0]
    placements = list(section.placements)
    placements[index] = moved(dx, dy)(placements[index])
    layout = replace(SINGLE, sections=(replace(section, placements=tuple(placements)),))
    by_id = {item.id: item for item in OPEN_ITEMS}
    shapes = [Polygon(placed_outline(p, by_id)) for p in placements]
    lost = sum(shape.area for shape in shapes) - unary_union(shapes).area
    found = LayoutFaultCode.OVERLAP in codes(layout)
    smallest = min(shape.area for shape in shapes)
    if lost > smallest * 1e-3:
        assert found
    if found:
        assert lost > 0
