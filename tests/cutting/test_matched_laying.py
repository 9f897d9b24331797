"""Whole layouts on striped and checked cloth: every plan, pins, flaws, and what they cost."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwise.cutting import (
    Cut,
    CutItem,
    Effort,
    Fabric,
    LayerPlan,
    Layers,
    LayoutCancelled,
    Nap,
    Placement,
    Progress,
    lay,
    opened,
    verify,
)
from clothwise.cutting.dividing import ways_to_divide
from clothwise.cutting.matched_laying import MatchedTask, matched_sections
from clothwise.cutting.matching import PatternCannotMeet
from clothwise.cutting.repeat import MatchPoint, Repeat
from clothwise.cutting.verify_repeats import lines_met, phase_faults, repeat_faults
from clothwise.errors import CuttingError
from invented_dress import BACK_BODICE_HALF, FRONT_BODICE, POCKET, SLEEVE, item, pair

ROWS_ONLY = Effort(0, 0)
QUICK = Effort(1, 1)
CHECK = Repeat(along_mm=70, across_mm=50, start_along_mm=15)


def bodice(*, on_fold: bool) -> list[CutItem]:
    """Fronts, sleeves and pockets in pairs, a back on the fold or opened out."""
    back = item("back", BACK_BODICE_HALF, on_fold=True)
    if not on_fold:
        back = opened(back)
    return [
        *pair("front", FRONT_BODICE),
        *pair("sleeve", SLEEVE),
        *pair("pocket", POCKET),
        back,
    ]


def points(items: list[CutItem]) -> list[MatchPoint]:
    """Side seams along, pockets and center front both ways, all by the names of copies."""
    fronts = [each for each in items if each.piece == "front"]
    pockets = [each for each in items if each.piece == "pocket"]
    (back,) = (each for each in items if each.piece == "back")
    found = []
    for number, (front, pocket) in enumerate(zip(fronts, pockets, strict=True)):
        side = -238.0 if number else 238.0
        found += [
            MatchPoint(f"side {number}", front.id, (262.0, 120.0)),
            MatchPoint(f"side {number}", back.id, (side, 110.0)),
            MatchPoint(f"pocket {number}", front.id, (90.0, 60.0), across=True),
            MatchPoint(f"pocket {number}", pocket.id, (20.0, 10.0), across=True),
            MatchPoint("center", front.id, (0.0, 100.0), across=True, even=True),
        ]
    return found


@pytest.mark.parametrize("nap", Nap)
@pytest.mark.parametrize("effort", [ROWS_ONLY, QUICK])
@pytest.mark.parametrize(
    ("plan", "start"),
    [(LayerPlan.SINGLE, 12.0), (LayerPlan.FOLDED, 0.0), (LayerPlan.FOLDED, 25.0)],
)
def test_matched_layouts_hold(plan: LayerPlan, start: float, nap: Nap, effort: Effort) -> None:
    repeat = replace(CHECK, start_across_mm=start)
    fabric = Fabric("check", 1500, shrinkage_along=0.04, nap=nap, repeat=repeat)
    items = bodice(on_fold=plan is LayerPlan.FOLDED)
    layout = lay(items, fabric, plan, effort=effort, matches=points(items))
    assert verify(layout, items) == ()
    assert repeat_faults(layout, items, points(items)) == ()
    again = lay(items, fabric, plan, effort=effort, matches=points(items))
    assert again == layout, "the same question has the same answer"


ALONG_ONLY = (LayerPlan.TO_MIDDLE, LayerPlan.PARTLY, LayerPlan.FACED, LayerPlan.CROSSWISE)


@pytest.mark.parametrize("plan", ALONG_ONLY)
def test_other_double_cloth_is_matched_along(plan: LayerPlan) -> None:
    """The upper layer too: its lines lie on those of the lower one."""
    fabric = Fabric("stripe", 1500, repeat=CHECK)
    items = bodice(on_fold=plan in (LayerPlan.TO_MIDDLE, LayerPlan.PARTLY))
    along = [replace(point, across=False, even=False) for point in points(items)]
    layout = lay(items, fabric, plan, effort=ROWS_ONLY, matches=along)
    assert verify(layout, items) == ()
    assert repeat_faults(layout, items, along) == ()
    (first, *_) = layout.sections
    if plan is LayerPlan.FACED:
        assert first.layers is Layers.FACED
        assert math.remainder(first.length_mm, 70) == pytest.approx(0, abs=1e-6)
    if plan is LayerPlan.CROSSWISE:
        assert math.remainder(first.length_mm - 15, 35) == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("plan", [LayerPlan.FACED, LayerPlan.CROSSWISE])
def test_an_upper_length_beside_the_lines_is_a_fault(plan: LayerPlan) -> None:
    fabric = Fabric("stripe", 1500, repeat=CHECK)
    items = bodice(on_fold=False)
    along = [replace(point, across=False, even=False) for point in points(items)]
    layout = lay(items, fabric, plan, effort=ROWS_ONLY, matches=along)
    first = replace(layout.sections[0], length_mm=layout.sections[0].length_mm + 10)
    assert repeat_faults(replace(layout, sections=(first,)), items, along) != ()


def test_a_longer_search_is_never_longer_and_tells_on_its_way() -> None:
    fabric = Fabric("check", 1500, repeat=CHECK)
    items = bodice(on_fold=False)
    rows = lay(items, fabric, effort=ROWS_ONLY, matches=points(items))
    told: list[float] = []
    shares: list[Progress] = []
    found = lay(
        items,
        fabric,
        effort=QUICK,
        matches=points(items),
        told=lambda layout: told.append(layout.length_mm),
        progress=shares.append,
    )
    assert found.length_mm <= rows.length_mm
    assert told == sorted(told, reverse=True)
    assert told[-1] == found.length_mm
    assert shares
    assert all(0 <= each.share <= 1 for each in shares)


def test_a_matched_search_can_be_cancelled() -> None:
    items = bodice(on_fold=False)
    fabric = Fabric("check", 1500, repeat=CHECK)
    with pytest.raises(LayoutCancelled):
        lay(items, fabric, effort=Effort(60, 4), matches=points(items), cancelled=lambda: True)


def test_what_meets_a_pinned_copy_follows_it() -> None:
    fabric = Fabric("check", 1500, repeat=CHECK)
    items = bodice(on_fold=False)
    front = next(each for each in items if each.id.startswith("front"))
    pin = Placement((front.id,), Cut.SINGLE, front.mirrored, -math.pi / 2, (33.3, 700.0))
    layout = lay(items, fabric, effort=QUICK, matches=points(items), pins=[pin])
    assert pin in layout.placements
    assert verify(layout, items, [pin]) == ()
    assert repeat_faults(layout, items, points(items)) == ()


def test_pins_that_cannot_meet_are_told() -> None:
    fabric = Fabric("check", 1500, repeat=Repeat(along_mm=70))
    items = pair("front", FRONT_BODICE)
    pins = [
        Placement((each.id,), Cut.SINGLE, each.mirrored, -math.pi / 2, (x, y))
        for each, x, y in zip(items, (100.0, 620.0), (700.0, 300.0), strict=True)
    ]
    meeting = [MatchPoint("center", each.id, (0.0, 100.0)) for each in items]
    with pytest.raises(PatternCannotMeet, match=r"center as well.*30\.0 mm off"):
        lay(items, fabric, effort=ROWS_ONLY, matches=meeting, pins=pins)


def test_flaws_are_kept_clear() -> None:
    flaw = ((300.0, 300.0), (420.0, 300.0), (420.0, 420.0), (300.0, 420.0))
    fabric = Fabric("check", 1500, repeat=CHECK, flaws=(flaw,))
    items = bodice(on_fold=False)
    layout = lay(items, fabric, effort=ROWS_ONLY, matches=points(items))
    assert verify(layout, items) == ()
    assert repeat_faults(layout, items, points(items)) == ()


def test_a_piece_that_nowhere_meets_is_told() -> None:
    """Its center must lie on a line; the only line leaves no room beside it."""
    fabric = Fabric("check", 600, usable_width_mm=580, repeat=Repeat(across_mm=400))
    sleeve = item("sleeve", SLEEVE)
    asked = [MatchPoint("middle", sleeve.id, (0.0, 0.0), False, True, phase_across=0.0)]
    with pytest.raises(
        CuttingError, match=r"sleeve on check: .*no place across.*58.0 cm.*Take a wider fabric"
    ):
        lay([sleeve], fabric, effort=ROWS_ONLY, matches=asked)


def test_the_distances_to_lines_are_measured_where_points_lie() -> None:
    """One figure by hand: a line at 15, then every 70; a point at 100 is 55 before the next."""
    fabric = Fabric("check", 1500, repeat=CHECK)
    sleeve = item("sleeve", SLEEVE)
    laid = Placement((sleeve.id,), Cut.SINGLE, False, -math.pi / 2, (100.0, 500.0))
    layout = lay([sleeve], fabric, effort=ROWS_ONLY)
    section = replace(layout.sections[0], placements=(laid,))
    point = MatchPoint("x", sleeve.id, (0.0, 0.0), across=True)
    (met,) = lines_met((section,), fabric, LayerPlan.SINGLE, [sleeve], [point])
    assert met.along_mm == pytest.approx(55)
    assert met.across_mm == pytest.approx(50)


@pytest.mark.parametrize("plan", [LayerPlan.FACED, LayerPlan.CROSSWISE])
def test_a_stretch_after_two_lengths_goes_on_with_the_lines(plan: LayerPlan) -> None:
    """Opened out after both lengths, the cloth begins twice as far along as in the picture."""
    fabric = Fabric("stripe", 1500, repeat=CHECK)
    items = [*pair("front", FRONT_BODICE), item("extra", FRONT_BODICE)]
    along = [
        MatchPoint("all", each.id, (262.0, 120.0 + 7 * number), phase_along=0.3)
        for number, each in enumerate(items[1:])
    ]
    task = MatchedTask(
        ways_to_divide(items, fabric, plan)[:1],
        along,
        {each.id: each for each in items},
        fabric,
        plan,
        3.0,
        5.0,
        2,
        1,
    )
    sections = matched_sections(task)
    assert [section.layers for section in sections] == [Layers.FACED, Layers.SINGLE]
    assert phase_faults(sections, fabric, plan, items, along) == ()
    moved = (replace(sections[0], length_mm=sections[0].length_mm + 70 / 4), sections[1])
    assert phase_faults(moved, fabric, plan, items, along) != ()
