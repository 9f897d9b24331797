"""What limits a layout, on layouts laid by hand whose limit is plain to see."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import Polygon, unary_union
from shapely.affinity import translate

from clothwise.cutting import (
    Cut,
    CutItem,
    Effort,
    Fabric,
    LayerPlan,
    Layers,
    Layout,
    Nap,
    Placement,
    Section,
    Spacing,
    lay,
    lower_bound,
)
from clothwise.cutting.abreast import above_mm, abreast_mm, half_turned, turned_over
from clothwise.cutting.limit_words import limit_sentences, name_of_cut
from clothwise.cutting.limits import Limit, LimitKind, what_limits
from clothwise.cutting.repeat import Repeat
from clothwise.units import format_cm
from invented_dress import dress

CLOTH = Fabric("twill", 1000, 1000)
GAP = Spacing(4.0, 5.0)


def block(name: str, along_mm: float, across_mm: float, **kinds: object) -> CutItem:
    """A rectangle, its grain along +y as drafted."""
    corners = ((0.0, 0.0), (across_mm, 0.0), (across_mm, along_mm), (0.0, along_mm))
    return CutItem(name, name, corners, **kinds)  # type: ignore[arg-type]


def at(item: CutItem, x_mm: float, y_mm: float, cut: Cut = Cut.SINGLE) -> Placement:
    """The block with its lower left corner at a place of the cloth."""
    across = max(x for x, _ in item.outline)
    # A quarter turn clockwise: (x, y) comes to (y, -x).
    return Placement((item.id,), cut, False, -1.5707963267948966, (x_mm, y_mm + across))


def on_fold(item: CutItem, x_mm: float) -> Placement:
    """A half piece, mirrored so that its edge at x = 0 lies at y = 0 and the rest above."""
    return Placement((item.id,), Cut.ON_FOLD, True, -1.5707963267948966, (x_mm, 0.0))


def layout_of(
    length_mm: float,
    placements: Sequence[Placement],
    items: Sequence[CutItem],
    layers: Layers = Layers.SINGLE,
    fabric: Fabric = CLOTH,
) -> Layout:
    plan = LayerPlan.FOLDED if layers is Layers.DOUBLE else LayerPlan.SINGLE
    width = fabric.washed_width_mm / (2 if layers is Layers.DOUBLE else 1)
    section = Section(layers, 0.0, length_mm, width, tuple(placements))
    bound = lower_bound(items, fabric)
    return Layout(fabric, plan, GAP, Effort(0, 0), 0, (section,), 1.0, bound, "by hand")


def only(layout: Layout, items: Sequence[CutItem]) -> Limit:
    (limit,) = what_limits(layout, items)
    return limit


def said(layout: Layout, items: Sequence[CutItem], **more: tuple[str, ...]) -> str:
    limits = what_limits(layout, items)
    (sentence,) = limit_sentences(limits, layout, items, told=format_cm, **more)
    return sentence


def test_the_longest_piece() -> None:
    items = [block("1 Panel", 900, 500), block("2 Pocket", 200, 150)]
    layout = layout_of(910, [at(items[0], 5, 0), at(items[1], 5, 600)], items)
    found = only(layout, items)
    assert found.kind is LimitKind.ONE_PIECE
    assert found.floor_mm == pytest.approx(910)
    assert said(layout, items) == "The layout is as long as its longest piece, 1 Panel."


def test_a_fold_that_pins_hold_is_told() -> None:
    """One selvage is folded over as deep as when something was pinned, whatever else changed."""
    items = [block("1 Panel", 900, 500), block("2 Pocket", 200, 150)]
    layout = layout_of(910, [at(items[0], 5, 0), at(items[1], 5, 600)], items)
    (section,) = layout.sections
    partly = replace(section, layers=Layers.PARTLY, depth_mm=285.0)
    layout = replace(layout, plan=LayerPlan.PARTLY, sections=(partly,))
    limits = [Limit(0, LimitKind.ONE_PIECE, (partly.placements[0],), 0.5)]
    loose = limit_sentences(limits, layout, items, told=format_cm)
    held = limit_sentences(limits, layout, items, told=format_cm, pinned=("2 Pocket",))
    assert len(loose) == 1
    assert held == (
        *loose,
        "The selvage stays folded over 28.5 cm deep, as it was when 2 Pocket was pinned; not "
        "pinned, another depth may take less cloth.",
    )


def test_a_row_of_pieces_that_lack_width() -> None:
    items = [block("1 Front", 600, 520), block("2 Back", 500, 500), block("3 Cuff", 100, 100)]
    placements = [at(items[0], 5, 0), at(items[1], 609, 0), at(items[2], 5, 700)]
    layout = layout_of(1114, placements, items)
    found = only(layout, items)
    assert found.kind is LimitKind.ROW
    assert [p.item_ids[0] for p in found.placements] == ["1 Front", "2 Back"]
    assert found.slack_mm == pytest.approx(0.0, abs=0.1)
    assert found.lacking is not None
    # 520 + 4 + 500 mm on 1,000 mm
    assert found.lacking.cloth_mm == pytest.approx(24.0, abs=0.1)
    assert said(layout, items) == (
        "The layout is as long as these, one behind another: 1 Front and 2 Back; on cloth 2.4 cm "
        "wider, 1 Front and 2 Back would lie side by side."
    )


def test_on_folded_cloth_half_of_the_width_is_missing_twice() -> None:
    items = [block("1 Front", 600, 260), block("2 Back", 500, 250)]
    spare = [at(items[0], 5, 0, Cut.SPARE), at(items[1], 609, 0, Cut.SPARE)]
    fabric = replace(CLOTH, shrinkage_across=0.05)
    layout = layout_of(1114, spare, items, Layers.DOUBLE, fabric)
    found = only(layout, items)
    assert found.lacking is not None
    assert found.lacking.cloth_mm == pytest.approx(2 * (260 + 4 + 250 - 475) / 0.95, abs=0.3)


def test_pieces_that_would_fit_beside_each_other_are_not_told_to_lack_width() -> None:
    items = [block("1 Front", 600, 400), block("2 Back", 500, 500)]
    layout = layout_of(1114, [at(items[0], 5, 0), at(items[1], 609, 0)], items)
    assert only(layout, items).lacking is None


def test_what_lies_on_the_fold() -> None:
    halves = [
        replace(block(f"{at_} Half", long, 200), fold_edge=((0.0, 0.0), (0.0, long)))
        for at_, long in ((1, 600.0), (2, 500.0))
    ]
    placements = [on_fold(halves[0], 5), on_fold(halves[1], 609)]
    layout = layout_of(1114, placements, halves, Layers.DOUBLE)
    found = only(layout, halves)
    assert found.kind is LimitKind.FOLD
    assert found.floor_mm == pytest.approx(1114)
    assert said(layout, halves) == (
        "The layout is as long as what lies on the fold, one behind another: 1 Half and 2 Half; "
        "the folded edges alone take 111.4 cm."
    )


def half(name: str, long_mm: float, across_mm: float) -> CutItem:
    return replace(block(name, long_mm, across_mm), fold_edge=((0.0, 0.0), (0.0, long_mm)))


def test_two_half_pieces_never_lie_side_by_side_on_one_fold() -> None:
    items = [half("1 Half", 600, 260), block("2 Block", 500, 400), half("3 Half", 500, 250)]
    placements = [
        on_fold(items[0], 5),
        at(items[1], 609, 0, Cut.SPARE),
        on_fold(items[2], 1113),
    ]
    found = only(layout_of(1618, placements, items, Layers.DOUBLE), items)
    assert found.lacking is None


def test_beside_a_half_piece_only_its_outer_side_counts() -> None:
    """Its slope lies at the fold's far side; turned to the fold it could never lie."""
    slope = ((0.0, 0.0), (400.0, 0.0), (100.0, 600.0), (0.0, 600.0))
    gore = replace(CutItem("1 Gore", "1 Gore", slope), fold_edge=((0.0, 0.0), (0.0, 600.0)))
    wedge = CutItem("2 Wedge", "2 Wedge", slope)
    rectangle = block("2 Wedge", 600, 200)
    for other, needed in ((rectangle, 400 + 4 + 200), (wedge, 500 + 4)):
        items = [gore, other]
        placements = [on_fold(gore, 5), at(other, 609, 0, Cut.SPARE)]
        fabric = replace(CLOTH, nominal_width_mm=990, usable_width_mm=990)
        found = only(layout_of(1214, placements, items, Layers.DOUBLE, fabric), items)
        assert found.lacking is not None
        assert found.lacking.cloth_mm == pytest.approx(2 * (needed - 495), abs=4.0)


def test_matched_pieces_keep_apart_for_the_pattern() -> None:
    items = [block("1 Front", 600, 900), block("2 Back", 500, 900)]
    fabric = replace(CLOTH, repeat=Repeat(along_mm=60.0))
    layout = layout_of(1154, [at(items[0], 5, 0), at(items[1], 649, 0)], items, fabric=fabric)
    (plain,) = what_limits(layout, items)
    assert plain.kind is LimitKind.LOOSE
    (found,) = what_limits(layout, items, matched=True)
    assert found.kind is LimitKind.PATTERN
    assert limit_sentences([found], layout, items, told=format_cm) == (
        "The layout is as long as these, one behind another: 1 Front and 2 Back; to meet on the "
        "pattern of the fabric they keep 4 cm apart in all.",
    )


def test_full_cloth() -> None:
    items = [block(f"{n} Tile", 300, 330) for n in range(6)]
    placements = [at(item, 5 + 304 * (n % 2), 335 * (n // 2)) for n, item in enumerate(items)]
    layout = layout_of(614, placements, items)
    found = only(layout, items)
    assert found.kind is LimitKind.FULL
    assert found.covered_share == pytest.approx(6 * 300 * 330 / 614e3)
    assert said(layout, items) == "The layout is full: 97 % of the cloth is covered."


def test_a_gap_from_selvage_to_selvage_is_no_row() -> None:
    items = [block("1 Front", 300, 900), block("2 Back", 300, 900)]
    layout = layout_of(700, [at(items[0], 5, 0), at(items[1], 395, 0)], items)
    found = only(layout, items)
    assert found.kind is LimitKind.LOOSE
    assert "longer search" in said(layout, items)


def test_the_row_with_least_slack_is_told() -> None:
    long = [block("1 A", 500, 300), block("2 B", 496, 300)]
    short = [block("3 C", 500, 300), block("4 D", 480, 300)]
    placements = [
        at(long[0], 5, 0),
        at(long[1], 509, 0),
        at(short[0], 5, 400),
        at(short[1], 520, 400),
    ]
    items = [*long, *short]
    found = only(layout_of(1010, placements, items), items)
    assert [p.item_ids[0] for p in found.placements] == ["1 A", "2 B"]


def test_a_piece_that_a_flaw_keeps_from_the_end_is_told_so() -> None:
    items = [block("1 Front", 600, 900)]
    flaw = ((0.0, 400.0), (203.0, 400.0), (203.0, 450.0), (0.0, 450.0))
    fabric = replace(CLOTH, flaws=(flaw,))
    layout = layout_of(811, [at(items[0], 206, 0)], items, fabric=fabric)
    found = only(layout, items)
    assert found.behind_flaw
    assert found.kind is LimitKind.ROW
    assert found.placements == layout.placements
    assert said(layout, items) == (
        "The layout is as long as the way to a flaw and these behind it: 1 Front."
    )
    elsewhere = replace(CLOTH, flaws=(tuple((x, y + 520) for x, y in flaw),))
    assert not only(
        layout_of(811, [at(items[0], 206, 0)], items, fabric=elsewhere), items
    ).behind_flaw


def test_a_flaw_beside_the_row_changes_nothing() -> None:
    items = [block("1 Front", 600, 520), block("2 Back", 500, 500)]
    flaw = ((300.0, 800.0), (320.0, 800.0), (320.0, 820.0), (300.0, 820.0))
    placements = [at(items[0], 5, 0), at(items[1], 609, 0)]
    plain = layout_of(1114, placements, items)
    flawed = layout_of(1114, placements, items, fabric=replace(CLOTH, flaws=(flaw,)))
    assert only(flawed, items) == only(plain, items)


def test_of_a_long_row_the_first_are_named_and_the_rest_counted() -> None:
    items = [block(f"{n} Strip", 100, 800) for n in range(1, 13)]
    placements = [at(item, 5 + 104 * n, 0) for n, item in enumerate(items)]
    sentence = said(layout_of(12 * 104 - 4 + 10, placements, items), items)
    assert "6 Strip, 7 Strip and 5 more" in sentence
    assert "8 Strip" not in sentence


def test_pinned_pieces_of_a_row_are_named() -> None:
    items = [block("1 Front", 600, 520), block("2 Back", 500, 500)]
    layout = layout_of(1114, [at(items[0], 5, 0), at(items[1], 609, 0)], items)
    assert said(layout, items, pinned=("2 Back",)).endswith("; pinned there: 2 Back.")


def test_each_stretch_has_its_sentence() -> None:
    items = [block("1 Front", 600, 300), block("2 Panel", 400, 900)]
    double = Section(Layers.DOUBLE, 0, 610, 500, (at(items[0], 5, 0, Cut.SPARE),))
    single = Section(Layers.SINGLE, 610, 410, 1000, (at(items[1], 615, 0),))
    layout = replace(layout_of(610, [], items, Layers.DOUBLE), sections=(double, single))
    limits = what_limits(layout, items)
    assert limit_sentences(limits, layout, items, told=format_cm) == (
        "The stretch in two layers is as long as its longest piece, 1 Front.",
        "The stretch in one layer is as long as its longest piece, 2 Panel.",
    )


def test_the_name_of_a_cut_is_what_its_copies_share() -> None:
    left, right = block("left", 100, 100), block("right", 100, 100, mirrored=True)
    left, right = replace(left, label="5 Sleeve, left"), replace(right, label="5 Sleeve, right")
    both = {"left": left, "right": right}
    pair = Placement(("left", "right"), Cut.PAIR, False, 0.0, (0.0, 0.0))
    assert name_of_cut(pair, both) == "5 Sleeve"
    assert name_of_cut(replace(pair, item_ids=("left",)), both) == "5 Sleeve, left"


def test_a_piece_keeps_its_whole_name_but_not_that_of_its_side() -> None:
    front = [
        replace(
            block(f"front.{side}", 600, 520, mirrored=side == "right"),
            label=f"1 Front, yoke, {side}",
            piece="front",
        )
        for side in ("left", "right")
    ]
    back = replace(block("back", 500, 500), label="2 Back, yoke")
    items = [*front, back]
    placements = [at(front[0], 5, 0), at(back, 609, 0), at(front[1], 1113, 0)]
    sentence = said(layout_of(1718, placements, items), items)
    assert "one behind another: 1 Front, yoke (x2) and 2 Back, yoke" in sentence


WEDGE = ((0.0, 0.0), (600.0, 0.0), (600.0, 100.0), (0.0, 400.0))
"""400 mm wide at its left end, 100 mm at its right."""


def test_wedges_lie_closer_head_to_tail() -> None:
    assert abreast_mm([WEDGE], [half_turned(WEDGE)]) == pytest.approx(500.0)
    # Both wide ends at one end of the cloth: no way to lay them saves anything.
    assert abreast_mm([WEDGE], [turned_over(WEDGE)]) == pytest.approx(800.0)
    assert abreast_mm([WEDGE], [WEDGE]) == pytest.approx(800.0)


def test_nap_forbids_to_turn_one_around() -> None:
    corners = ((0.0, 0.0), (400.0, 0.0), (300.0, 600.0), (0.0, 600.0))
    items = [CutItem(f"{n} Gore", f"{n} Gore", corners) for n in (1, 2)]
    placements = [at(items[0], 5, 0), at(items[1], 609, 0)]
    narrow = replace(CLOTH, nominal_width_mm=650, usable_width_mm=650)
    lacks = {}
    for nap in Nap:
        layout = layout_of(1214, placements, items, fabric=replace(narrow, nap=nap))
        lacking = only(layout, items).lacking
        assert lacking is not None
        lacks[nap] = lacking.cloth_mm
    # Turned around: 400 + 300 mm and the spacing; the same way up 400 + 400 mm.
    # Outlines are made simpler by up to 0.5 mm each, never smaller.
    assert 0 <= lacks[Nap.ONE_WAY] - (400 + GAP.between_mm + 400 - 650) <= 1.0
    assert lacks[Nap.NONE] == pytest.approx(lacks[Nap.ONE_WAY] - 100, abs=2.0)


@given(st.lists(st.tuples(st.floats(20, 400), st.floats(20, 900)), min_size=1, max_size=6))
@settings(max_examples=40, deadline=None)
def test_blocks_in_one_row_are_that_row(sizes: list[tuple[float, float]]) -> None:
    """Blocks too wide to lie beside each other, one behind another, are the limit as they are."""
    items = [
        block(f"{n} Block", along, 501 + across / 2) for n, (along, across) in enumerate(sizes)
    ]
    x, placements = GAP.ends_mm, []
    for item, (along, _) in zip(items, sizes, strict=True):
        placements.append(at(item, x, 0))
        x += along + GAP.between_mm
    layout = layout_of(x - GAP.between_mm + GAP.ends_mm, placements, items)
    found = only(layout, items)
    if found.kind is not LimitKind.FULL:
        assert found.placements == tuple(placements)
    else:
        assert found.covered_share >= 0.9


def test_a_found_layout_is_explained() -> None:
    """On whatever the search brings, the row is real: no gap in it is wider than its slack."""
    items = dress()
    layout = lay(items, Fabric("linen", 1400), LayerPlan.FOLDED, effort=Effort(0, 0))
    for limit, section in zip(what_limits(layout, items), layout.sections, strict=True):
        assert 0 < limit.covered_share < 1
        assert limit.slack_mm <= 0.02 * section.length_mm
        assert set(limit.placements) <= set(section.placements)


def lowered(lower: Polygon, upper: Polygon) -> float:
    """How wide both are, the upper one let down at each place along until shapely sees it touch."""
    long, short = lower.bounds[2] - lower.bounds[0], upper.bounds[2] - upper.bounds[0]
    best = float("inf")
    for nth in range(12):
        shift = lower.bounds[0] - upper.bounds[0] + (long - short) * nth / 11
        moved = translate(upper, shift, 0)
        above, inside = 2000.0, -2000.0  # clear of each other, and far below
        while above - inside > 0.01:
            middle = (above + inside) / 2
            # Let down from above it may not pass through: the whole way must be free.
            way = unary_union(
                [translate(moved, 0, middle), translate(moved, 0, 2000.0)]
            ).convex_hull
            touches = way.buffer(-0.005).intersects(lower)
            above, inside = (above, middle) if touches else (middle, inside)
        placed = translate(moved, 0, above)
        low = min(lower.bounds[1], placed.bounds[1])  # a tall one may come down beside the other
        best = min(best, max(lower.bounds[3], placed.bounds[3]) - low)
    return best


@example((100.0, 50.0, 50.0), (166.0, 176.0, 50.0))
@given(
    st.tuples(st.floats(100, 600), st.floats(50, 400), st.floats(50, 400)),
    st.tuples(st.floats(100, 600), st.floats(50, 400), st.floats(50, 400)),
)
@settings(max_examples=12, deadline=None)
def test_the_width_of_two_agrees_with_another_engine(
    one: tuple[float, float, float], other: tuple[float, float, float]
) -> None:
    """Wedges, whose way down is convex, lowered onto each other by shapely."""
    wedges = [
        ((0.0, 0.0), (long, 0.0), (long, right), (0.0, left)) for long, left, right in (one, other)
    ]
    lower, upper = wedges
    for way in (upper, half_turned(upper), turned_over(upper)):
        expected = lowered(Polygon(lower), Polygon(way))
        assert above_mm([lower], [way]) == pytest.approx(expected, abs=0.05)
