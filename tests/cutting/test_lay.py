from __future__ import annotations

import math
import time
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box

from clothwise.cutting import (
    Cut,
    CutItem,
    Effort,
    Fabric,
    LayerPlan,
    Layers,
    Layout,
    LayoutCancelled,
    LayoutFault,
    LayoutFaultCode,
    Nap,
    Progress,
    Spacing,
    area_mm2,
    lay,
    lower_bound,
    on_fabric,
    opened,
    placed_outline,
    racing,
    verify,
)
from clothwise.cutting.placing import Lying
from clothwise.errors import CuttingError
from cutting_strategies import copies
from invented_dress import (
    COLLAR_HALF,
    FRONT_FACING,
    NECK_FACING_HALF,
    POCKET,
    SLEEVE,
    dress,
    item,
    pair,
)

ROWS_ONLY = Effort(seconds=0, runs=0)
QUICK = Effort(seconds=1, runs=1)
WIDE = Fabric("linen", 2020)


def square(name: str, side_mm: float = 100) -> CutItem:
    corners = ((0.0, 0.0), (side_mm, 0.0), (side_mm, side_mm), (0.0, side_mm))
    return CutItem(name, name, corners)


@given(copies(with_fold=True), st.sampled_from(Nap), st.sampled_from([0.0, 3.0, 12.5]))
def test_rows_hold_for_any_copies(items: list[CutItem], nap: Nap, between_mm: float) -> None:
    fabric, spacing = replace(WIDE, nap=nap), Spacing(between_mm=between_mm)
    folded = lay(items, fabric, LayerPlan.FOLDED, effort=ROWS_ONLY, spacing=spacing)
    whole = [opened(item) for item in items]
    single = lay(whole, fabric, effort=ROWS_ONLY, spacing=spacing)
    assert verify(folded, items) == ()
    assert verify(single, whole) == ()
    for layout in (folded, single):
        assert layout.length_mm >= layout.bound.length_mm  # check value Y15
        assert 0 < layout.used_share <= 1


def for_plan(items: list[CutItem], plan: LayerPlan) -> list[CutItem]:
    """Half pieces where there is a fold for them, opened out where there is none."""
    folded = plan in (LayerPlan.FOLDED, LayerPlan.PARTLY, LayerPlan.TO_MIDDLE)
    return items if folded else [opened(item) for item in items]


@settings(max_examples=6)
@given(copies(with_fold=True), st.sampled_from(Nap), st.sampled_from(LayerPlan))
def test_packed_layouts_hold_for_any_copies(
    items: list[CutItem], nap: Nap, plan: LayerPlan
) -> None:
    laid = for_plan(items, plan)
    if plan is LayerPlan.CROSSWISE:
        nap = Nap.NONE
    fabric = replace(WIDE, nap=nap, nominal_width_mm=4020, usable_width_mm=4000)
    layout = lay(laid, fabric, plan, effort=Effort(1, 1))
    assert verify(layout, laid) == ()
    assert layout.length_mm <= lay(laid, fabric, plan, effort=ROWS_ONLY).length_mm + 1e-6
    assert layout.length_mm >= layout.bound.length_mm - 1e-6


@pytest.mark.parametrize("plan", LayerPlan)
def test_the_dress_is_laid(plan: LayerPlan) -> None:
    """Far shorter than rows, never below the bound, and with each piece where it belongs."""
    items = for_plan(dress(), plan)
    linen = Fabric("linen", 1700)
    layout = lay(items, linen, plan, effort=QUICK)
    rows = lay(items, linen, plan, effort=ROWS_ONLY)
    assert verify(layout, items) == ()
    assert rows.engine == "rows"
    assert layout.engine.startswith("packer")
    assert layout.length_mm < 0.97 * rows.length_mm
    assert 0.5 < layout.used_share < 0.95


def test_the_same_question_has_the_same_answer_in_one_process_and_in_two() -> None:
    items, linen = dress(), Fabric("linen", 1400)
    one, two = (
        lay(items, linen, LayerPlan.FOLDED, effort=Effort(1, 2), seed=7, at_once=at_once)
        for at_once in (1, 2)
    )
    assert one.sections == two.sections


def test_folded_to_the_middle_half_pieces_lie_on_both_folds() -> None:
    """Between both flaps the selvages meet: no piece lies across."""
    halves = [item(f"facing.{n}", NECK_FACING_HALF, on_fold=True) for n in range(8)]
    linen = Fabric("linen", 1500, shrinkage_across=0.05)
    layout = lay(halves, linen, LayerPlan.TO_MIDDLE, effort=QUICK)
    (section,) = layout.sections
    assert section.width_mm == pytest.approx(1500 * 0.95 / 2)
    flap = (1480 * 0.95 - section.width_mm) / 2
    on = {"low": 0, "high": 0}
    for placement in section.placements:
        edge = halves[0].fold_edge
        assert edge is not None
        ys = [y for _, y in on_fabric(placement, edge)]
        at = "low" if ys[0] < 1 else "high"
        assert ys == pytest.approx([0.0 if at == "low" else section.width_mm] * 2)
        on[at] += 1
        across = [y for _, y in placed_outline(placement, {h.id: h for h in halves})]
        assert max(across) <= flap + 0.01 or min(across) >= section.width_mm - flap - 0.01
    assert on == {"low": 4, "high": 4}


def test_face_to_face_two_lengths_are_cut_at_once() -> None:
    items = [*pair("sleeve", SLEEVE), *pair("front facing", FRONT_FACING)]
    faced = lay(items, Fabric("linen", 1000), LayerPlan.FACED, effort=QUICK)
    (section,) = faced.sections
    assert section.layers is Layers.FACED
    assert section.width_mm == 980
    assert {placement.cut for placement in section.placements} == {Cut.PAIR}
    assert faced.length_mm == 2 * section.length_mm


def test_what_is_pinned_stays_and_the_rest_is_laid_around_it() -> None:
    items = [opened(piece) for piece in dress()]
    linen = Fabric("linen", 1400)
    free = lay(items, linen, effort=ROWS_ONLY)
    moved = next(p for p in free.placements if p.item_ids[0].startswith("pocket"))
    pin = replace(moved, translation=(moved.translation[0] + 777.0, moved.translation[1]))
    layout = lay(items, linen, effort=QUICK, pins=[pin])
    assert pin in layout.placements
    assert verify(layout, items, [pin]) == ()


def test_no_piece_lies_on_a_flaw() -> None:
    """A flaw is stated on the cloth as bought, and shrinks with it; it lies in both layers."""
    flaw = ((300.0, 500.0), (700.0, 500.0), (700.0, 620.0), (300.0, 620.0))
    linen = Fabric("linen", 1400, shrinkage_along=0.05, flaws=(flaw,))
    for plan in (LayerPlan.SINGLE, LayerPlan.FOLDED):
        items = for_plan(dress(), plan)
        layout = lay(items, linen, plan, effort=QUICK)
        by_id = {piece.id: piece for piece in items}
        low, high = (500, 620) if plan is LayerPlan.SINGLE else (690 - 620, 690 - 500)
        washed = box(300 * 0.95, low, 700 * 0.95, high)
        covered = sum(
            Polygon(placed_outline(placement, by_id)).intersection(washed).area
            for placement in layout.placements
        )
        assert covered < 0.1, plan


def test_cloth_that_is_the_same_on_both_sides_lets_copies_be_turned_over() -> None:
    """Two copies of one hand, each too wide to lie beside the other unless it is turned over."""
    wedge = ((0.0, 0.0), (400.0, 0.0), (100.0, 900.0), (0.0, 900.0))
    items = [CutItem(name, name, wedge, piece="gore") for name in ("one", "two")]
    plain = lay(items, Fabric("linen", 540, nap=Nap.ONE_WAY), effort=QUICK)
    both = Fabric("linen", 540, nap=Nap.ONE_WAY, wrong_side_usable=True)
    turned = lay(items, both, effort=QUICK)
    assert verify(turned, items) == ()
    assert turned.length_mm <= plain.length_mm


def test_small_parts_may_stray_from_the_grain_where_the_cloth_allows_it() -> None:
    """A strip a little longer than the cloth is wide lies across it at a slant."""
    strip = ((0.0, 0.0), (199.0, 0.0), (199.0, 10.0), (0.0, 10.0))
    narrow = Fabric("linen", 218, usable_width_mm=198.0, off_grain_rad=math.radians(8))
    with pytest.raises(CuttingError, match="wider"):
        lay([CutItem("tab", "tab", strip)], replace(narrow, off_grain_rad=0.0))
    wide = ((0.0, 0.0), (180.0, 0.0), (180.0, 40.0), (0.0, 40.0))
    tabs = [CutItem(f"tab {n}", "tab", wide, piece="tab") for n in range(5)]
    layout = lay(tabs, narrow, effort=QUICK)
    assert verify(layout, tabs) == ()
    straight = replace(layout, fabric=replace(narrow, off_grain_rad=0.0))
    strays = {fault.code for fault in verify(straight, tabs)}
    assert strays <= {LayoutFaultCode.GRAIN}


def strips(count: int) -> list[CutItem]:
    """Each 10 cm wide and 90 cm long as it is drawn."""
    shape = ((0.0, 0.0), (100.0, 0.0), (100.0, 900.0), (0.0, 900.0))
    return [CutItem(f"strip {n}", "strip", shape, piece="strip") for n in range(count)]


FLEECE = Fabric("fleece", 920, usable_width_mm=900, grainless=True)


def test_cloth_without_a_grain_takes_pieces_across_it() -> None:
    """Two strips lie along in 90 cm, or across in 20 cm."""
    tight = Spacing(0.0, 0.0)
    along = lay(strips(2), replace(FLEECE, grainless=False), effort=QUICK, spacing=tight)
    assert along.length_mm == pytest.approx(900, abs=0.5)
    layout = lay(strips(2), FLEECE, effort=QUICK, spacing=tight)
    assert layout.length_mm == pytest.approx(200, abs=0.5)
    assert layout.bound.longest_piece_mm == pytest.approx(100)
    strays = {fault.code for fault in verify(replace(layout, fabric=along.fabric), strips(2))}
    assert strays == {LayoutFaultCode.GRAIN}


def test_a_nap_forbids_what_a_missing_grain_allows() -> None:
    layout = lay(strips(2), replace(FLEECE, nap=Nap.ONE_WAY), effort=QUICK)
    assert layout.length_mm > 900


@pytest.mark.parametrize("effort", [ROWS_ONLY, QUICK])
def test_a_piece_wider_than_cloth_without_a_grain_lies_across_it(effort: Effort) -> None:
    wide = ((0.0, 0.0), (1200.0, 0.0), (1200.0, 300.0), (0.0, 300.0))
    items = [CutItem("band", "band", wide)]
    with pytest.raises(CuttingError, match="wider"):
        lay(items, replace(FLEECE, grainless=False), effort=effort)
    layout = lay(items, FLEECE, effort=effort)
    assert verify(layout, items) == ()
    assert layout.length_mm == pytest.approx(1210, abs=0.5)
    assert layout.bound.longest_piece_mm == pytest.approx(1200)


def test_half_pieces_keep_to_the_fold_where_there_is_no_grain() -> None:
    layout = lay(
        dress(),
        replace(FLEECE, nominal_width_mm=1500, usable_width_mm=1480),
        LayerPlan.FOLDED,
        effort=QUICK,
    )
    assert verify(layout, dress()) == ()
    by_id = {each.id: each for each in dress()}
    folded = [each for each in layout.placements if by_id[each.item_ids[0]].on_fold]
    assert folded
    assert {each.cut for each in folded} == {Cut.ON_FOLD}


def test_a_length_at_hand_that_does_not_do_is_told() -> None:
    layout = lay([square("a", 500)], replace(WIDE, length_mm=400.0), effort=ROWS_ONLY)
    assert "11 cm" in layout.notes[-1]
    assert "missing" in layout.notes[-1]


def test_half_pieces_lie_on_the_fold_and_pairs_are_cut_once() -> None:
    """Check value Y21: fold pieces count once, and the fold halves the usable width."""
    layout = lay(dress(), Fabric("linen", 1500), LayerPlan.FOLDED, effort=ROWS_ONLY)
    by_id = {piece.id: piece for piece in dress()}
    (section,) = layout.sections
    assert section.width_mm == (1500 - 20) / 2
    assert len([p for p in section.placements if p.cut is Cut.ON_FOLD]) == 5
    assert len([p for p in section.placements if p.cut is Cut.PAIR]) == 6
    for placement in section.placements:
        edge = by_id[placement.item_ids[0]].fold_edge
        if edge is not None:
            assert all(abs(y) <= 0.01 for _, y in on_fabric(placement, edge))


def test_one_way_layouts_hold_without_nap_too() -> None:
    """So the best layout with half turns is never longer (check value Y14)."""
    items = [opened(item) for item in dress()]
    one_way = lay(items, Fabric("velvet", 1500, nap=Nap.ONE_WAY), effort=ROWS_ONLY)
    without_nap = replace(one_way, fabric=Fabric("linen", 1500))
    assert verify(without_nap, items) == ()
    for placement in one_way.placements:
        tail, head = on_fabric(placement, [(0, 0), (0, 1)])
        assert head[0] > tail[0]


@given(copies(with_fold=True), st.floats(2020, 4000))
def test_lower_bound_is_area_or_longest_piece(items: list[CutItem], width_mm: float) -> None:
    """Check value Y15."""
    fabric = Fabric("linen", width_mm, shrinkage_across=0.1)
    bound = lower_bound(items, fabric)
    area = sum(Polygon(item.outline).area * (2 if item.fold_edge else 1) for item in items)
    assert bound.area_mm * fabric.washed_width_mm == pytest.approx(area)
    assert bound.length_mm == max(bound.area_mm, bound.longest_piece_mm)


def test_length_takes_the_grain_not_the_page() -> None:
    strip = ((0.0, 0.0), (20.0, 0.0), (20.0, 200.0), (0.0, 200.0))
    straight = lay([CutItem("a", "a", strip)], WIDE, effort=ROWS_ONLY)
    assert straight.length_mm == pytest.approx(200 + 10)
    bias = lay([CutItem("a", "a", strip, grain_angle_rad=math.pi / 4)], WIDE, effort=ROWS_ONLY)
    assert bias.length_mm == pytest.approx((200 + 20) / math.sqrt(2) + 10)
    across = lay([CutItem("a", "a", strip, grain_angle_rad=math.pi / 2)], WIDE, effort=ROWS_ONLY)
    assert across.length_mm == pytest.approx(20 + 10)


def test_bias_pairs_mirror_each_other() -> None:
    outline = tuple(SLEEVE)
    items = [
        CutItem("l", "l", outline, grain_angle_rad=math.pi / 4, piece="sleeve"),
        CutItem("r", "r", outline, mirrored=True, grain_angle_rad=math.pi / 4, piece="sleeve"),
    ]
    single = lay(items, WIDE, effort=ROWS_ONLY)
    by_id = {item.id: item for item in items}
    left, right = (Polygon(placed_outline(p, by_id)) for p in single.placements)
    flipped = Polygon([(x, -y) for x, y in right.exterior.coords])
    dx, dy = left.centroid.x - flipped.centroid.x, left.centroid.y - flipped.centroid.y
    moved = Polygon([(x + dx, y + dy) for x, y in flipped.exterior.coords])
    assert moved.symmetric_difference(left).area < 1e-3
    assert len(lay(items, WIDE, LayerPlan.FOLDED, effort=ROWS_ONLY).placements) == 1


def test_the_layout_lies_on_washed_cloth() -> None:
    shrinking = Fabric("cotton", 1520, shrinkage_across=0.1)
    layout = lay([square("a", 1350)], shrinking, effort=ROWS_ONLY)
    assert layout.sections[0].width_mm == pytest.approx(1350)
    with pytest.raises(CuttingError, match="wider"):
        lay([square("a", 1351)], shrinking, effort=ROWS_ONLY)


def test_a_piece_as_wide_as_the_cloth_can_be_packed() -> None:
    items = [square("a", 1480), square("b", 300), square("c", 300)]
    layout = lay(items, Fabric("linen", 1500), effort=QUICK)
    assert layout.length_mm == pytest.approx(1480 + 3 + 300 + 10, abs=0.05)


class TestSingleCopiesOnFoldedCloth:
    """Copies without a partner, and pairs too wide for half the cloth."""

    def test_a_stretch_is_opened_out_where_that_is_shorter(self) -> None:
        items = [*pair("sleeve", SLEEVE), square("odd", 600)]
        layout = lay(items, Fabric("linen", 1220), LayerPlan.FOLDED, effort=ROWS_ONLY)
        assert verify(layout, items) == ()
        assert sum(s.length_mm for s in layout.sections) == layout.length_mm

    def test_a_piece_too_wide_for_half_the_cloth_is_cut_from_a_single_layer(self) -> None:
        items = [*pair("sleeve", SLEEVE), square("wide", 700)]
        layout = lay(items, Fabric("linen", 1220), LayerPlan.FOLDED, effort=ROWS_ONLY)
        folded, single = layout.sections
        assert (folded.layers, single.layers) == (Layers.DOUBLE, Layers.SINGLE)
        assert single.width_mm == 2 * folded.width_mm
        assert single.start_mm == folded.length_mm
        assert [p.cut for p in single.placements] == [Cut.SINGLE]
        assert "open the fabric out" in layout.notes[0]
        assert "wide" in layout.notes[0]

    def test_wide_pairs_are_cut_one_by_one(self) -> None:
        outline = ((0.0, 0.0), (700.0, 0.0), (650.0, 300.0), (0.0, 300.0))
        items = [
            CutItem("l", "back, left", outline, piece="back"),
            CutItem("r", "back, right", outline, mirrored=True, piece="back"),
        ]
        layout = lay(items, Fabric("linen", 1220), LayerPlan.FOLDED, effort=ROWS_ONLY)
        (single,) = layout.sections
        assert single.layers is Layers.SINGLE
        assert {p.mirrored for p in single.placements} == {False, True}
        assert layout.notes[0].startswith("From the start")

    def test_a_small_single_copy_is_cut_double_where_it_costs_no_length(self) -> None:
        items = [*pair("front facing", FRONT_FACING), square("loop", 60)]
        layout = lay(items, Fabric("linen", 1220), LayerPlan.FOLDED, effort=ROWS_ONLY)
        (section,) = layout.sections
        assert {p.cut for p in section.placements} == {Cut.PAIR, Cut.SPARE}
        assert "left over" in layout.notes[0]
        assert "loop" in layout.notes[0]

    def test_two_copies_of_a_symmetric_piece_are_a_pair(self) -> None:
        items = [item("pocket.1", POCKET), item("pocket.2", POCKET), item("pocket.3", POCKET)]
        layout = lay(items, Fabric("linen", 1220), LayerPlan.FOLDED, effort=ROWS_ONLY)
        assert [len(p.item_ids) for p in layout.placements if p.cut is Cut.PAIR] == [2]


class TestBadInput:
    def test_nothing_to_cut(self) -> None:
        with pytest.raises(CuttingError, match="nothing to cut"):
            lay([], WIDE)

    def test_two_copies_of_one_name(self) -> None:
        with pytest.raises(CuttingError, match="share a name") as caught:
            lay([square("a"), square("a")], WIDE)
        assert caught.value.where == "a"

    def test_half_piece_in_a_single_layer(self) -> None:
        with pytest.raises(CuttingError, match="no fold") as caught:
            lay([item("collar", COLLAR_HALF, on_fold=True)], WIDE)
        assert "Open the piece out" in caught.value.what_to_do

    def test_negative_spacing(self) -> None:
        for spacing in (Spacing(-1, 5), Spacing(3, math.nan), Spacing(math.inf, 5)):
            with pytest.raises(CuttingError, match="spacing is impossible"):
                lay([square("a")], WIDE, spacing=spacing)

    def test_folded_crosswise_with_a_nap(self) -> None:
        with pytest.raises(CuttingError, match="nap of the lower layer"):
            lay([square("a")], replace(WIDE, nap=Nap.ONE_WAY), LayerPlan.CROSSWISE)

    def test_pinned_on_top_of_each_other(self) -> None:
        items = [square("a"), square("b")]
        (one, other) = lay(items, WIDE, effort=ROWS_ONLY).placements
        with pytest.raises(CuttingError, match="no layout could be found"):
            lay(items, WIDE, pins=[one, replace(other, translation=one.translation)])

    def test_piece_wider_than_the_cloth(self) -> None:
        with pytest.raises(CuttingError) as caught:
            lay([square("cape", 1200)], Fabric("linen", 1150), effort=ROWS_ONLY)
        message = str(caught.value)
        for part in ("cape", "120 cm", "113 cm", "122 cm", "seam"):
            assert part in message

    def test_half_piece_deeper_than_the_folded_cloth(self) -> None:
        half = [(0.0, 0.0), (600.0, 0.0), (600.0, 100.0), (0.0, 100.0)]
        with pytest.raises(CuttingError) as caught:
            lay([item("cape", half, on_fold=True)], Fabric("linen", 1150), LayerPlan.FOLDED)
        message = str(caught.value)
        for part in ("cape", "folded", "60 cm", "56.5 cm", "122 cm"):
            assert part in message

    def test_five_hundred_pieces(self) -> None:
        items = [
            replace(piece, id=f"{piece.id} {n}", piece=f"{piece.piece} {n}")
            for n in range(32)
            for piece in (opened(p) for p in dress())
        ][:500]
        layout = lay(items, Fabric("linen", 1500), effort=Effort(1, 1))
        assert len(layout.placements) == 500


class TestSearch:
    def test_progress_is_told_and_ends_at_one(self) -> None:
        told: list[Progress] = []
        lay([opened(p) for p in dress()], WIDE, effort=QUICK, progress=told.append)
        shares = [progress.share for progress in told]
        assert shares == sorted(shares)
        assert shares[-1] == 1
        lengths = [progress.best_length_mm for progress in told]
        assert all(math.isfinite(length) for length in lengths)
        assert "linen" in told[0].message

    def test_cancelling_ends_it_soon(self) -> None:
        started = time.monotonic()
        with pytest.raises(LayoutCancelled):
            lay(
                [opened(p) for p in dress()],
                WIDE,
                effort=Effort(60, 2),
                cancelled=lambda: time.monotonic() > started + 0.3,
            )
        assert time.monotonic() < started + 10

    def test_what_progress_raises_comes_through(self) -> None:
        def impatient(progress: Progress) -> None:
            raise ZeroDivisionError

        with pytest.raises(ZeroDivisionError):
            lay([opened(p) for p in dress()], WIDE, effort=Effort(60, 2), progress=impatient)

    def test_a_packer_that_overlaps_pieces_is_not_believed(
        self, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        def all_in_one_place(things, field, *, told, **_):  # type: ignore[no-untyped-def]
            told(tuple(Lying(0, 500.0, 500.0) for _ in things), 1000.0)

        monkeypatch.setattr(racing, "pack", all_in_one_place)
        items = [opened(p) for p in dress()]
        layout = lay(items, WIDE, effort=QUICK)
        assert verify(layout, items) == ()
        assert layout.engine == "rows"

    def test_each_layout_told_of_holds_and_is_shorter(self) -> None:
        told: list[Layout] = []
        items = dress()
        last = lay(items, WIDE, LayerPlan.FOLDED, effort=QUICK, told=told.append)
        assert len(told) > 1
        assert told[0].engine == "rows"
        assert told[-1].sections == last.sections
        lengths = [layout.length_mm for layout in told]
        assert lengths == sorted(set(lengths), reverse=True)
        assert all(verify(layout, items) == () for layout in told)

    def test_nothing_faulty_is_ever_returned(self, monkeypatch: pytest.MonkeyPatch) -> None:
        def always_wrong(layout: Layout, items: object, pins: object) -> tuple[LayoutFault, ...]:
            return (LayoutFault(LayoutFaultCode.OVERLAP, ("a", "b"), 0.5, 1e-6),)

        monkeypatch.setattr("clothwise.cutting.laying.verify", always_wrong)
        with pytest.raises(CuttingError, match="thrown away"):
            lay([square("a"), square("b")], WIDE, effort=ROWS_ONLY)

    def test_area_counts_both_halves(self) -> None:
        half = item("collar", COLLAR_HALF, on_fold=True)
        assert area_mm2(half) == pytest.approx(area_mm2(opened(half)))
