"""Bias strips laid as drafted, from a block, from the gaps: enough of them, and every layout sound.

Lengths are asked of the pattern, layouts judged by `verify`, parts measured on their outlines.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, union_all

from clothwise.cutting import (
    BiasFrom,
    Cut,
    CutItem,
    Effort,
    Fabric,
    LayerPlan,
    Placement,
    StripCutting,
    bias_needs,
    lay,
    placed_outline,
    prepared_strips,
    verify,
)
from clothwise.cutting.bias_block import SHORTEST_PART_MM
from clothwise.cutting.bias_gaps import Gaps, strip_outline
from clothwise.cutting.bias_needs import is_bias_strip
from clothwise.cutting.cutting_list import cut_items
from clothwise.errors import CuttingError
from clothwise.geometry import Outline, Point, Vector, straight
from clothwise.pattern import Pattern
from component_cases import Parameters, drafted

ROWS = Effort(0, 0)
LINEN = Fabric("linen", 1400)
JOIN_MM = 2 * 6.0 * math.sqrt(2)  # 1/4 in of allowance at both slanted ends
PLANS = [LayerPlan.SINGLE, LayerPlan.FOLDED]


@cache
def _bound(neck: bool, longest_mm: float) -> Pattern:
    strips: Parameters = {"source": "fabric", "longest": longest_mm}
    parts = {
        "bodice": ("darted-bodice", {}),
        "skirt": ("a-line-skirt", {}),
        "binding": ("bound-armhole", strips),
        "hem": ("double-hem", {}),
    }
    if neck:
        parts["neck"] = ("neck-binding", {**strips, "width": 10.0})
    return drafted(parts)


def bound(*, neck: bool = False, longest_mm: float = 300.0) -> Pattern:
    return _bound(neck, longest_mm)


def items_of(pattern: Pattern, plan: LayerPlan) -> tuple[CutItem, ...]:
    cloths = {(name, c.name): "x" for name, piece in pattern.pieces.items() for c in piece.copies}
    return cut_items(pattern, cloths, "x", plan)


def cut(
    pattern: Pattern,
    source: BiasFrom,
    plan: LayerPlan,
    fabric: Fabric = LINEN,
    items: Sequence[CutItem] | None = None,
) -> StripCutting:
    copies = items_of(pattern, plan) if items is None else items
    prepared = prepared_strips(pattern, copies, source, fabric, plan)
    return prepared.finished(lay(prepared.items, fabric, plan, effort=ROWS))


@pytest.mark.parametrize("plan", PLANS)
@pytest.mark.parametrize("longest_mm", [300.0, 900.0])
def test_needs_are_the_lengths_of_the_pattern(plan: LayerPlan, longest_mm: float) -> None:
    """However many parts they are drafted in."""
    pattern = bound(longest_mm=longest_mm)
    needs = bias_needs(pattern, items_of(pattern, plan))
    around = pattern.run_length(pattern.runs["armhole"]) + 50.0
    assert [need.length_mm for need in needs] == pytest.approx([around, around])
    assert [need.mirrored for need in needs] == [False, True]
    assert {(need.width_mm, need.allowance_mm) for need in needs} == {(40.0, 6.0)}


@pytest.mark.parametrize("plan", PLANS)
@pytest.mark.parametrize("neck", [False, True])
def test_blocks_yield_every_strip(plan: LayerPlan, neck: bool) -> None:
    done = cut(bound(neck=neck), BiasFrom.BLOCK, plan)
    assert verify(done.layout, done.items) == ()
    assert not [item for item in done.items if "strip" in item.id]
    for planned in done.strips:
        assert planned.block is not None
        halves = 2 if planned.blocks == 2 else 1
        needed = sum(need.length_mm for need in planned.needs) / halves
        ends = (len(planned.needs) / halves - 1) * JOIN_MM
        assert planned.block.joined_mm >= needed + ends - 1e-6
        laid = [item for item in done.items if item.id.startswith("bias-block")]
        assert sum(Polygon(item.outline).area for item in laid) == pytest.approx(
            planned.blocks * planned.block.length_mm * planned.block.breadth_mm
        )


@pytest.mark.parametrize("plan", LayerPlan)
@pytest.mark.parametrize("source", BiasFrom)
def test_cloth_may_lie_any_way(plan: LayerPlan, source: BiasFrom) -> None:
    done = cut(bound(), source, plan, Fabric("wide", 2400))
    assert verify(done.layout, done.items) == ()
    assert bool(done.strips) == (source is not BiasFrom.PIECES)


def test_folded_cloth_yields_a_block_for_each_armhole_at_one_cut() -> None:
    done = cut(bound(), BiasFrom.BLOCK, LayerPlan.FOLDED)
    blocks = [p for p in done.layout.placements if p.item_ids[0].startswith("bias-block")]
    assert [p.cut for p in blocks] == [Cut.PAIR]
    assert done.strips[0].blocks == 2


@pytest.mark.parametrize("plan", PLANS)
@pytest.mark.parametrize("neck", [False, True])
def test_gaps_yield_every_strip(plan: LayerPlan, neck: bool) -> None:
    pattern = bound(neck=neck)
    done = cut(pattern, BiasFrom.GAPS, plan)
    without = lay(
        prepared_strips(pattern, items_of(pattern, plan), BiasFrom.GAPS, LINEN, plan).items,
        LINEN,
        plan,
        effort=ROWS,
    )
    assert verify(done.layout, done.items) == ()
    for planned in done.strips:
        for need, parts in zip(planned.needs, planned.parts_mm, strict=True):
            assert sum(part - JOIN_MM for part in parts) >= need.length_mm - 1e-6
            assert min(parts) >= SHORTEST_PART_MM - 1e-6
    extra = done.layout.length_mm - without.length_mm
    assert done.strips[0].extra_mm == pytest.approx(extra)
    assert extra == pytest.approx(0.0)
    strips = [item for item in done.items if "-bias-" in item.id]
    assert sum(Polygon(item.outline).area for item in strips) == pytest.approx(
        sum(sum(parts) for planned in done.strips for parts in planned.parts_mm) * 40.0
    )


@pytest.mark.parametrize("plan", PLANS)
def test_strips_of_one_hand_all_slant_one_way(plan: LayerPlan) -> None:
    """Otherwise their ends would not meet: seen on the right side, all of one armhole rise."""
    pattern = bound(neck=True)
    done = cut(pattern, BiasFrom.GAPS, plan, Fabric("narrow", 900))
    by_id = {item.id: item for item in done.items}
    slants: dict[str, set[bool]] = {}
    for need_of, placement in (
        (item.label, p)
        for p in done.layout.placements
        for item in (by_id[p.item_ids[0]],)
        if "-bias-" in item.id and p.cut is Cut.SINGLE
    ):
        outline = placed_outline(placement, by_id)
        rises = {
            (x1 - x0) * (y1 - y0) > 0
            for (x0, y0), (x1, y1) in pairwise(outline)
            if abs(y1 - y0) > 1.0
        }
        assert len(rises) == 1
        slants.setdefault(need_of + str(placement.mirrored), set()).update(rises)
    assert all(len(found) == 1 for found in slants.values())


@pytest.mark.parametrize(("neck", "told"), [(True, True), (False, False)])
def test_a_single_strip_cut_through_two_layers_is_told(neck: bool, told: bool) -> None:
    done = cut(bound(neck=neck), BiasFrom.GAPS, LayerPlan.FOLDED)
    cuts = [p.cut for p in done.layout.placements if "-bias-" in p.item_ids[0]]
    assert (Cut.SPARE in cuts) == told
    assert any("slant the same way" in note for note in done.layout.notes) == told


def test_cloth_grows_only_if_the_gaps_are_too_small() -> None:
    """A belt as wide as the cloth leaves nothing beside it."""
    pattern = bound()
    strips = [item for item in items_of(pattern, LayerPlan.SINGLE) if "strip" in item.id]
    belt = CutItem("belt/whole", "9 Belt", ((0, 0), (1380, 0), (1380, 80), (0, 80)))
    done = cut(pattern, BiasFrom.GAPS, LayerPlan.SINGLE, items=[belt, *strips])
    assert verify(done.layout, done.items) == ()
    assert done.strips[0].extra_mm > 0
    area = sum(sum(parts) for parts in done.strips[0].parts_mm) * 40.0
    assert done.strips[0].extra_mm < 2.5 * area / 1380 + 200
    assert any("more of the length" in note for note in done.layout.notes)


def test_cloth_that_is_too_short_for_that_is_told() -> None:
    pattern = bound()
    strips = [item for item in items_of(pattern, LayerPlan.SINGLE) if "strip" in item.id]
    belt = CutItem("belt/whole", "9 Belt", ((0, 0), (1380, 0), (1380, 80), (0, 80)))
    prepared = prepared_strips(pattern, [belt, *strips], BiasFrom.GAPS, LINEN, LayerPlan.SINGLE)
    layout = lay(prepared.items, LINEN, effort=ROWS)
    enough, short = layout.length_mm, layout.length_mm + 20.0
    for at_hand, told in ((math.inf, False), (short, True), (enough - 10.0, False)):
        fabric = replace(LINEN, length_mm=at_hand)
        done = prepared.finished(replace(layout, fabric=fabric))
        assert any("length at hand" in note for note in done.layout.notes) == told


def test_gaps_beside_what_is_pinned() -> None:
    """A front pinned at the cut end stays there, and the layout with its strips holds."""
    pattern = bound()
    items = items_of(pattern, LayerPlan.SINGLE)
    prepared = prepared_strips(pattern, items, BiasFrom.GAPS, LINEN, LayerPlan.SINGLE)
    front = next(item for item in prepared.items if item.id == "bodice-front/left")
    away = 5.0 - min(y for _, y in front.outline)
    pin = Placement((front.id,), Cut.SINGLE, front.mirrored, -math.pi / 2, (away, 700.0))
    layout = lay(prepared.items, LINEN, effort=ROWS, pins=[pin])
    done = prepared.finished(layout, [pin])
    assert pin in done.layout.placements
    assert verify(done.layout, done.items, [pin]) == ()
    assert any("-bias-" in item.id for item in done.items)


def test_strips_alone_on_a_cloth_come_from_a_block() -> None:
    pattern = bound()
    strips = [item for item in items_of(pattern, LayerPlan.SINGLE) if "strip" in item.id]
    done = cut(pattern, BiasFrom.GAPS, LayerPlan.SINGLE, items=strips)
    assert [planned.source for planned in done.strips] == [BiasFrom.BLOCK]
    assert len(done.items) == 1


def test_a_garment_without_strips_is_laid_as_it_is() -> None:
    pattern = drafted({"bodice": ("darted-bodice", {})})
    for source in BiasFrom:
        done = cut(pattern, source, LayerPlan.FOLDED)
        assert done.strips == ()
        assert done.items == items_of(pattern, LayerPlan.FOLDED)


def test_cloth_too_narrow_for_a_strip_is_told() -> None:
    pattern = bound()
    items = [item for item in items_of(pattern, LayerPlan.SINGLE) if "strip" in item.id]
    with pytest.raises(CuttingError, match="no room for bias strips") as caught:
        prepared_strips(pattern, items, BiasFrom.BLOCK, Fabric("ribbon", 80), LayerPlan.SINGLE)
    assert "mm" in caught.value.how_much
    assert caught.value.what_to_do


def test_a_strip_that_an_edit_has_bent_is_no_strip() -> None:
    strip = bound().piece("binding-strip-1")
    assert is_bias_strip(strip)
    edges = dict(strip.outline.edges)
    end = edges["edge"].end
    edges["edge"] = straight(edges["edge"].start, Point(end.x, end.y - 3.0))
    edges["end"] = straight(Point(end.x, end.y - 3.0), edges["end"].end)
    assert not is_bias_strip(replace(strip, outline=Outline(edges)))
    turned = replace(strip, grain=replace(strip.grain, end=strip.grain.start + Vector(0.0, 9.0)))
    assert not is_bias_strip(turned)


def test_flaws_are_kept_clear() -> None:
    pattern = bound()
    plain = cut(pattern, BiasFrom.GAPS, LayerPlan.SINGLE)
    by_id = {item.id: item for item in plain.items}
    where = next(p for p in plain.layout.placements if "-bias-" in p.item_ids[0])
    stain = Polygon(placed_outline(where, by_id)).centroid.buffer(15)
    flawed = replace(LINEN, flaws=(tuple(stain.exterior.coords[:-1]),))
    items = items_of(pattern, LayerPlan.SINGLE)
    prepared = prepared_strips(pattern, items, BiasFrom.GAPS, flawed, LayerPlan.SINGLE)
    layout = replace(lay(prepared.items, LINEN, effort=ROWS), fabric=flawed)
    done = prepared.finished(layout)
    by_id = {item.id: item for item in done.items}
    laid = [
        Polygon(placed_outline(p, by_id))
        for p in done.layout.placements
        if "-bias-" in p.item_ids[0]
    ]
    assert not any(shape.intersects(stain) for shape in laid)


@st.composite
def boxes(draw: st.DrawFn) -> list[Polygon]:
    found = []
    for _ in range(draw(st.integers(0, 6))):
        x, y = draw(st.floats(0, 900)), draw(st.floats(0, 600))
        found.append(
            Polygon([(x, y), (x + draw(st.floats(5, 400)), y), (x, y + draw(st.floats(5, 400)))])
        )
    return found


@settings(max_examples=60)
@given(boxes(), st.floats(15, 80), st.booleans())
def test_what_is_called_free_is_free(taken: list[Polygon], width: float, rising: bool) -> None:
    gaps = Gaps((0.0, 1000.0), (0.0, 700.0), taken, 3.0)
    cloth = Polygon([(0, 0), (1000, 0), (1000, 700), (0, 700)]).buffer(1e-6)
    shapes = []
    for _ in range(4):
        strip = gaps.longest(width, rising=rising)
        if strip is None:
            break
        shape = Polygon(strip_outline(strip))
        assert shape.area == pytest.approx(strip.length_mm * width)
        assert cloth.covers(shape)
        assert all(shape.distance(one) >= 3.0 - 0.05 for one in (*taken, *shapes))
        gaps.take(strip)
        shapes.append(shape)
    if not taken:
        assert shapes
    assert union_all(shapes).area == pytest.approx(sum(shape.area for shape in shapes))


def test_the_longest_free_strip_is_found() -> None:
    """Against every line of the same grid, asked of shapely one by one."""
    taken = [
        Polygon([(200, 100), (420, 160), (300, 500)]),
        Polygon([(600, 0), (800, 650), (650, 650)]),
    ]
    strip = Gaps((0.0, 1000.0), (0.0, 700.0), taken, 0.0).longest(40.0, rising=True)
    assert strip is not None
    step = 40.0 * math.sqrt(2)
    best = 0.0
    for left in range(-700, 1000 - int(step), 4):
        free = [
            all(
                not Polygon(
                    [
                        (left + y, y),
                        (left + y + step, y),
                        (left + y + step + 5, y + 5),
                        (left + y + 5, y + 5),
                    ]
                ).intersects(one)
                for one in taken
            )
            and left + y >= 0
            and left + y + step + 5 <= 1000
            for y in range(0, 700, 5)
        ]
        run = 0
        for each in free:
            run = run + 5 if each else 0
            best = max(best, run)
    assert best <= strip.high_mm - strip.low_mm <= best + 10


def test_block_and_gaps_take_no_more_cloth_than_strips_as_drafted() -> None:
    """On this dress, in plain rows; the drafted strips are laid across half the cloth."""
    pattern = bound(neck=True, longest_mm=900.0)
    lengths = {
        source: cut(pattern, source, LayerPlan.SINGLE).layout.length_mm for source in BiasFrom
    }
    assert lengths[BiasFrom.GAPS] <= lengths[BiasFrom.BLOCK] <= lengths[BiasFrom.PIECES]
