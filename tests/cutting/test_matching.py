"""Copies on the places that a pattern allows: what the verifier of repeats says of them."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from clothwise.cutting import CutItem, Fabric, LayerPlan, Layers, Layout, LowerBound, Nap, Spacing
from clothwise.cutting.layout import Effort, Placement, Section, on_fabric
from clothwise.cutting.matched_rows import first_place, in_matched_rows
from clothwise.cutting.matching import Chosen, Matching, matching, whole_repeats_mm
from clothwise.cutting.parts import Part, Pose, paired, placement_of, single_parts
from clothwise.cutting.placing.field import Steps
from clothwise.cutting.repeat import MatchPoint, Repeat
from clothwise.cutting.verify import LayoutFaultCode
from clothwise.cutting.verify_repeats import lines_met, repeat_faults
from clothwise.errors import CuttingError
from cutting_strategies import copies

SPACING = Spacing()
CHECK = Repeat(along_mm=120, across_mm=80, start_along_mm=30)


def layout_of(
    sections: tuple[Section, ...], fabric: Fabric, plan: LayerPlan = LayerPlan.SINGLE
) -> Layout:
    return Layout(
        fabric, plan, SPACING, Effort(0, 1), 0, sections, 1.0, LowerBound(1.0, 1.0), "rows"
    )


def section_of(
    placements: list[Placement], layers: Layers, width_mm: float, start_mm: float = 0.0
) -> Section:
    return Section(layers, start_mm, 10_000.0, width_mm, tuple(placements))


def stretches(
    items: list[CutItem], fabric: Fabric, plan: LayerPlan
) -> list[tuple[Layers, list[Part]]]:
    if plan is LayerPlan.SINGLE:
        return [(Layers.SINGLE, single_parts(items, fabric.nap))]
    parts, alone = paired(items, fabric.nap)
    return [(Layers.DOUBLE, parts), (Layers.SINGLE, single_parts(alone, fabric.nap))]


def laid_anyhow(
    found: Matching,
    ways: list[tuple[Layers, list[Part]]],
    chosen: Chosen,
    chance: random.Random,
    fabric: Fabric,
    plan: LayerPlan,
) -> Layout:
    """Each part anywhere that the matching allows, in any pose; pieces may lie on each other."""
    sections = []
    for layers, parts in ways:
        placements = []
        for part in parts:
            pose = chance.choice(part.poses)
            along, across = found.steps(part, layers, pose, chosen)
            x, y = (_somewhere(steps, chance) for steps in (along, across))
            if part.item.fold_edge is not None:
                edge = on_fabric(placement_of(part, pose, 0, 0), part.item.fold_edge)
                y = -edge[0][1]
            placements.append(placement_of(part, pose, x, y))
        width = fabric.washed_width_mm / (2 if layers is Layers.DOUBLE else 1)
        sections.append(section_of(placements, layers, width, 10_000.0 * len(sections)))
    return layout_of(tuple(sections), fabric, plan)


def _somewhere(steps: Steps | None, chance: random.Random) -> float:
    if steps is None:
        return chance.uniform(-500, 3000)
    return steps.offset_mm + steps.step_mm * chance.randrange(-3, 20)


@st.composite
def cloths(draw: st.DrawFn, plan: LayerPlan) -> Fabric:
    across = draw(st.floats(10, 200))
    start = draw(st.sampled_from([0.0, across / 2]))
    if plan is LayerPlan.SINGLE:
        start = draw(st.floats(0, across))
    return Fabric(
        "check",
        1400,
        shrinkage_along=draw(st.sampled_from([0.0, 0.05])),
        shrinkage_across=draw(st.sampled_from([0.0, 0.03])),
        nap=draw(st.sampled_from(Nap)),
        repeat=Repeat(draw(st.floats(10, 300)), across, draw(st.floats(0, 10)), start),
    )


@given(data=st.data(), plan=st.sampled_from([LayerPlan.SINGLE, LayerPlan.FOLDED]))
@settings(max_examples=200, deadline=None)
def test_whatever_the_matching_allows_is_matched(data: st.DataObject, plan: LayerPlan) -> None:
    """Random copies, groups, poses and places; judged by arithmetic of its own."""
    fabric = data.draw(cloths(plan))
    items = data.draw(copies(with_fold=plan is LayerPlan.FOLDED))
    points = data.draw(
        st.lists(
            st.builds(
                MatchPoint,
                st.sampled_from(["a", "b", "c"]),
                st.sampled_from([item.id for item in items]),
                st.tuples(st.floats(-300, 300), st.floats(-300, 300)),
                st.booleans(),
                st.booleans(),
            ),
            max_size=6,
        )
    )
    ways = stretches(items, fabric, plan)
    by_id = {item.id: item for item in items}
    try:
        found = matching(ways, points, by_id, fabric, plan)
    except CuttingError:
        assume(False)
    chance = random.Random(data.draw(st.integers()))
    for chosen in (found.first(), found.by_chance(chance)):
        chosen = found.changed(chosen, chance)
        layout = laid_anyhow(found, ways, chosen, chance, fabric, plan)
        assert repeat_faults(layout, items, points) == ()


@given(data=st.data(), plan=st.sampled_from([LayerPlan.SINGLE, LayerPlan.FOLDED]))
@settings(max_examples=100, deadline=None)
def test_what_the_matching_refuses_cannot_meet_by_chance(
    data: st.DataObject, plan: LayerPlan
) -> None:
    """Copies that were laid anyhow meet in the eyes of the verifier where the matching says so.

    Points are read off a layout that exists, so that the groups can be met: none may be refused.
    """
    fabric = data.draw(cloths(plan))
    items = data.draw(copies(with_fold=plan is LayerPlan.FOLDED))
    ways = stretches(items, fabric, plan)
    by_id = {item.id: item for item in items}
    chance = random.Random(data.draw(st.integers()))
    free = matching(ways, [], by_id, fabric, plan)
    layout = laid_anyhow(free, ways, free.first(), chance, fabric, plan)
    points = []
    for number in range(data.draw(st.integers(1, 4))):
        for item_id in data.draw(st.lists(st.sampled_from([i.id for i in items]), min_size=1)):
            at = MatchPoint(f"group {number}", item_id, (0.0, 0.0), across=True)
            (met,) = lines_met(layout.sections, fabric, plan, items, [at])
            assert met.along_mm is not None
            assert met.across_mm is not None
            grain = by_id[item_id].grain_angle_rad
            side = -1 if by_id[item_id].mirrored else 1
            up = (-math.sin(grain), math.cos(grain))
            left = (-side * math.cos(grain), -side * math.sin(grain))
            point = (
                met.along_mm * up[0] + met.across_mm * left[0],
                met.along_mm * up[1] + met.across_mm * left[1],
            )  # a line of the pattern passes there
            points.append(replace(at, point=point))
    assert repeat_faults(layout, items, points) == ()
    found = matching(ways, points, by_id, fabric, plan)
    chosen = found.by_chance(chance)
    again = laid_anyhow(found, ways, chosen, chance, fabric, plan)
    assert repeat_faults(again, items, points) == ()


def square(name: str, *, mirrored: bool = False, piece: str = "") -> CutItem:
    corners = ((0.0, 0.0), (200.0, 0.0), (210.0, 300.0), (0.0, 300.0))
    return CutItem(name, name, corners, mirrored=mirrored, piece=piece or name)


def test_places_by_hand() -> None:
    """Figures by hand: a repeat of 100 by 60 whose first lines lie at 10 along and 20 across."""
    fabric = Fabric("check", 1500, usable_width_mm=1500, repeat=Repeat(100, 60, 10, 20))
    item = square("front")
    (part,) = single_parts([item], Nap.NONE)
    point = MatchPoint("notch", "front", (30.0, 140.0), True, True, 0.0, 0.0)
    found = matching([(Layers.SINGLE, [part])], [point], {"front": item}, fabric, LayerPlan.SINGLE)
    upright, turned = Pose(False, False), Pose(False, True)
    # Upright, the notch comes to lie 140 after the origin and 30 below it: 70 and 50 are places.
    along, across = found.steps(part, Layers.SINGLE, upright, found.first())
    assert (along, across) == (Steps(pytest.approx(70), 100), Steps(pytest.approx(50), 60))
    # Turned by half, 140 before the origin and 30 above it.
    along, across = found.steps(part, Layers.SINGLE, turned, found.first())
    assert (along, across) == (Steps(pytest.approx(50), 100), Steps(pytest.approx(50), 60))


def test_a_piece_turned_by_half_shows_the_same_lines_not_the_same_phase() -> None:
    """A quarter of a repeat above a line, upright; turned, the line must lie a quarter above it."""
    fabric = Fabric("stripe", 1500, repeat=Repeat(along_mm=100))
    items = [square("one"), square("other")]
    upright = placement_of(single_parts(items, Nap.NONE)[0], Pose(False, False), 25, 300)
    alike, below = (
        placement_of(single_parts(items, Nap.NONE)[1], Pose(False, True), x, 900)
        for x in (1075, 1025)
    )
    points = [MatchPoint("seam", name, (0.0, 0.0)) for name in ("one", "other")]
    good = layout_of((section_of([upright, alike], Layers.SINGLE, 1480),), fabric)
    bad = layout_of((section_of([upright, below], Layers.SINGLE, 1480),), fabric)
    assert repeat_faults(good, items, points) == ()
    (fault,) = repeat_faults(bad, items, points)
    assert fault.code is LayoutFaultCode.PHASE
    assert fault.measured == pytest.approx(50)


@pytest.mark.parametrize(("shift_mm", "faults"), [(0.4, 0), (0.6, 1), (-0.6, 1), (100.0, 0)])
def test_half_a_millimeter_is_allowed(shift_mm: float, faults: int) -> None:
    fabric = Fabric("stripe", 1500, repeat=Repeat(along_mm=100, across_mm=50))
    items = [square("one"), square("other")]
    places = [
        placement_of(part, Pose(False, False), x, 500)
        for part, x in zip(single_parts(items, Nap.NONE), (20, 420 + shift_mm), strict=True)
    ]
    points = [MatchPoint("seam", name, (0.0, 40.0), across=True) for name in ("one", "other")]
    layout = layout_of((section_of(places, Layers.SINGLE, 1480),), fabric)
    assert len(repeat_faults(layout, items, points)) == faults


def test_an_asked_phase_is_judged_too() -> None:
    fabric = Fabric("stripe", 1500, repeat=Repeat(along_mm=100))
    item = square("one")
    (part,) = single_parts([item], Nap.NONE)
    laid = placement_of(part, Pose(False, False), 130, 500)
    layout = layout_of((section_of([laid], Layers.SINGLE, 1480),), fabric)
    met, missed = (
        repeat_faults(layout, [item], [MatchPoint("a", "one", (0, 0), phase_along=phase)])
        for phase in (0.3, 0.7)
    )
    assert met == ()
    assert missed[0].measured == pytest.approx(40)


def test_a_pair_from_folded_cloth_is_even_at_its_center() -> None:
    """Both fronts meet at the center if it lies whole or half repeats from the fold."""
    fabric = Fabric("check", 1500, repeat=Repeat(across_mm=60))
    items = [square("left", piece="front"), square("right", mirrored=True, piece="front")]
    parts, _ = paired(items, Nap.NONE)
    points = [
        MatchPoint("center", item.id, (25.0, 0.0), along=False, across=True) for item in items
    ]
    by_id = {item.id: item for item in items}
    found = matching([(Layers.DOUBLE, parts)], points, by_id, fabric, LayerPlan.FOLDED)
    assert found.is_free, "on a line, or midway"
    seen = set()
    for seed in range(20):
        chosen = found.by_chance(random.Random(seed))
        for pose in parts[0].poses:
            _, across = found.steps(parts[0], Layers.DOUBLE, pose, chosen)
            assert across is not None
            placed = placement_of(parts[0], pose, 0.0, across.offset_mm)
            center_y = on_fabric(placed, [(25.0, 0.0)])[0][1]
            assert center_y / 30 == pytest.approx(round(center_y / 30), abs=1e-6)
            seen.add(round(center_y / 30) % 2)
    assert seen == {0, 1}


def test_two_equal_copies_of_a_symmetric_piece_make_a_pair_whose_second_is_turned_over() -> None:
    corners = ((0.0, 0.0), (200.0, 0.0), (150.0, 300.0), (50.0, 300.0))
    items = [CutItem(name, name, corners, piece="panel") for name in ("one", "other")]
    fabric = Fabric("check", 1500, repeat=Repeat(across_mm=70))
    parts, alone = paired(items, Nap.NONE)
    assert not alone
    points = [
        MatchPoint("a", name, (180.0, 0.0), along=False, across=True) for name in ("one", "other")
    ]
    by_id = {item.id: item for item in items}
    found = matching([(Layers.DOUBLE, parts)], points, by_id, fabric, LayerPlan.FOLDED)
    for seed in range(10):
        chance = random.Random(seed)
        layout = laid_anyhow(
            found,
            [(Layers.DOUBLE, parts)],
            found.by_chance(chance),
            chance,
            fabric,
            LayerPlan.FOLDED,
        )
        assert repeat_faults(layout, items, points) == ()


def test_points_that_cannot_all_meet_are_told_with_their_gap() -> None:
    fabric = Fabric("check", 1500, repeat=Repeat(along_mm=100))
    items = {name: square(name) for name in ("one", "other")}
    points = [
        MatchPoint("upper notch", "one", (0, 200)),
        MatchPoint("upper notch", "other", (0, 200)),
        MatchPoint("lower notch", "one", (0, 20)),
        MatchPoint("lower notch", "other", (0, 27)),
    ]
    parts = single_parts(items.values(), Nap.NONE)
    with pytest.raises(CuttingError, match=r"lower notch as well.*7\.0 mm off.*Match fewer"):
        matching([(Layers.SINGLE, parts)], points, items, fabric, LayerPlan.SINGLE)


def test_the_fold_must_lie_on_a_line_where_lines_must_meet_across() -> None:
    fabric = Fabric("check", 1500, repeat=Repeat(across_mm=60, start_across_mm=20))
    items = {"left": square("left", piece="f"), "right": square("right", mirrored=True, piece="f")}
    parts, _ = paired([*items.values()], Nap.NONE)
    points = [MatchPoint("c", name, (0, 0), across=True) for name in items]
    with pytest.raises(CuttingError, match=r"fold is 10\.0 mm beside a line.*Fold the fabric on"):
        matching([(Layers.DOUBLE, parts)], points, items, fabric, LayerPlan.FOLDED)
    along_only = [replace(point, across=False) for point in points]
    matching([(Layers.DOUBLE, parts)], along_only, items, fabric, LayerPlan.FOLDED)


@pytest.mark.parametrize("layers", [Layers.TO_MIDDLE, Layers.FACED, Layers.PARTLY])
def test_other_double_cloth_is_matched_along_only(layers: Layers) -> None:
    fabric = Fabric("check", 1500, repeat=Repeat(along_mm=90, across_mm=60))
    items = {"left": square("left", piece="f"), "right": square("right", mirrored=True, piece="f")}
    parts, _ = paired([*items.values()], Nap.NONE)
    points = [MatchPoint("c", name, (0, 0), across=True) for name in items]
    with pytest.raises(CuttingError, match="Lay it in a single layer"):
        matching([(layers, parts)], points, items, fabric, LayerPlan.FACED)


def test_rows_on_places_of_the_pattern_hold() -> None:
    fabric = Fabric("check", 1000, repeat=CHECK)
    items = [square(f"piece {number}") for number in range(9)]
    points = [
        MatchPoint("all", item.id, (10.0 * number, 20.0 * number), across=True)
        for number, item in enumerate(items)
    ]
    parts = single_parts(items, Nap.NONE)
    by_id = {item.id: item for item in items}
    found = matching([(Layers.SINGLE, parts)], points, by_id, fabric, LayerPlan.SINGLE)
    placements = in_matched_rows(
        parts, lambda part, pose: found.steps(part, Layers.SINGLE, pose, found.first()), 980, 3, 5
    )
    assert placements is not None
    layout = layout_of((section_of(placements, Layers.SINGLE, 980),), fabric)
    assert repeat_faults(layout, items, points) == ()
    boxes = [on_fabric(placement, items[0].outline) for placement in placements]
    for box in boxes:
        assert min(x for x, _ in box) >= 5 - 1e-6
        assert min(y for _, y in box) >= -1e-6
        assert max(y for _, y in box) <= 980 + 1e-6


def test_a_piece_without_a_place_across_says_so() -> None:
    fabric = Fabric("check", 240, usable_width_mm=220, repeat=Repeat(across_mm=200))
    item = square("one")
    (part,) = single_parts([item], Nap.ONE_WAY)
    point = MatchPoint("a", "one", (100.0, 0.0), along=False, across=True, phase_across=0.0)
    found = matching([(Layers.SINGLE, [part])], [point], {"one": item}, fabric, LayerPlan.SINGLE)
    assert (
        in_matched_rows(
            [part],
            lambda part, pose: found.steps(part, Layers.SINGLE, pose, found.first()),
            220,
            3,
            5,
        )
        is None
    )


def test_a_border_holds_the_lower_edge() -> None:
    """Grain across: the lower edge of the piece lies 80 mm from the lower selvage."""
    fabric = Fabric("border", 1400, repeat=Repeat(along_mm=300, border_mm=80))
    item = replace(square("skirt"), grain_angle_rad=-math.pi / 2)
    (part,) = single_parts([item], Nap.ONE_WAY)
    point = MatchPoint("hem", "skirt", (100.0, 30.0), along=False, across=True, on_border=True)
    found = matching([(Layers.SINGLE, [part])], [point], {"skirt": item}, fabric, LayerPlan.SINGLE)
    (pose,) = part.poses
    along, across = found.steps(part, Layers.SINGLE, pose, found.first())
    assert along is None
    assert across == Steps(pytest.approx(50), 0.0)
    laid = placement_of(part, pose, 0.0, 50.0)
    assert on_fabric(laid, [(100.0, 30.0)])[0][1] == pytest.approx(80)
    for y, faults in ((50.0, 0), (50.6, 1), (49.6, 0)):
        moved = replace(laid, translation=(0.0, y))
        layout = layout_of((section_of([moved], Layers.SINGLE, 1380),), fabric)
        assert len(repeat_faults(layout, [item], [point])) == faults


def test_first_place() -> None:
    assert first_place(None, 12.5) == 12.5
    assert first_place(Steps(7, 10), 7) == 7
    assert first_place(Steps(7, 10), 7.1) == pytest.approx(17)
    assert first_place(Steps(7, 10), -20) == pytest.approx(-13)
    assert first_place(Steps(7), 3) == 7
    assert first_place(Steps(7), 8) == math.inf


def test_whole_repeats() -> None:
    assert whole_repeats_mm(1.0, 27) == 27
    assert whole_repeats_mm(54.0, 27) == 54
