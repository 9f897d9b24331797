"""Cloth of which one selvage is folded over, only as deep as is needed."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest
from shapely import Point, Polygon, box

from clothwise.cutting import (
    Cut,
    CutItem,
    Effort,
    Fabric,
    LayerPlan,
    Layers,
    Layout,
    LayoutFaultCode,
    Nap,
    Placement,
    Spacing,
    lay,
    placed_outline,
    racing,
    search,
    verify,
)
from clothwise.cutting.dividing import by_lane, ways_to_divide
from clothwise.cutting.layers import flaws_on, layers_of
from clothwise.cutting.layout import (
    Section,
    flap_of,
    folds_mm,
    lanes_for,
    lanes_mm,
    opened_out,
    stretch_width_mm,
)
from clothwise.cutting.layout_text import layout_from_text, layout_to_text
from clothwise.cutting.limit_words import limit_sentences
from clothwise.cutting.limits import what_limits
from clothwise.cutting.partly import DEPTH_STEP_MM, divisions
from clothwise.cutting.pinning import pin_of, pinned
from clothwise.cutting.question import LayoutQuestion
from clothwise.cutting.repeat import MatchPoint, Repeat
from clothwise.errors import CuttingError
from clothwise.pattern.document import PinEntry
from invented_dress import dress

ROWS_ONLY, QUICK = Effort(0, 0), Effort(1, 1)
TIGHT = Spacing(0.0, 0.0)
PLAIN = Fabric("linen", 1000, 1000)
WITH_SELVAGES = Fabric("linen", 1040, 1000)


def rectangle(
    name: str, wide_mm: float, long_mm: float, *, piece: str = "", mirrored: bool = False
) -> CutItem:
    corners = ((0.0, 0.0), (wide_mm, 0.0), (wide_mm, long_mm), (0.0, long_mm))
    return CutItem(name, name, corners, mirrored=mirrored, piece=piece)


def half(name: str, deep_mm: float, long_mm: float) -> CutItem:
    whole = rectangle(name, deep_mm, long_mm)
    return replace(whole, fold_edge=((0.0, 0.0), (0.0, long_mm)))


def slanted_pair(name: str, wide_mm: float, long_mm: float) -> list[CutItem]:
    """A piece that is no mirror image of itself, left and right."""
    corners = ((0.0, 0.0), (wide_mm, 0.0), (0.6 * wide_mm, long_mm), (0.0, long_mm))
    return [
        CutItem(f"{name}/{side}", f"{name}, {side}", corners, side == "right", piece=name)
        for side in ("left", "right")
    ]


FILLED = [
    half("front", 300, 400),
    half("back", 300, 400),
    *(rectangle(f"band {number}", 400, 200) for number in range(4)),
]
"""They fill 80 cm of cloth that is 1 m wide, if its flap is 30 cm deep, and only then."""


def depth_of(layout: Layout) -> float:
    (section,) = layout.sections
    assert section.layers is Layers.PARTLY
    return section.depth_mm


def cuts(layout: Layout) -> dict[str, Cut]:
    return {item_id: each.cut for each in layout.placements for item_id in each.item_ids}


# How it lies ------------------------------------------------------------------------------------


def test_of_a_flap_its_selvage_is_not_used() -> None:
    assert stretch_width_mm(Layers.PARTLY, WITH_SELVAGES, 300) == 700
    assert lanes_mm(Layers.PARTLY, WITH_SELVAGES, 300) == ((0, 300), (320, 700))
    assert folds_mm(Layers.PARTLY, WITH_SELVAGES) == (0.0,)
    assert lanes_for(Cut.SINGLE, Layers.PARTLY, WITH_SELVAGES, 300) == ((320, 700),)
    for cut in (Cut.PAIR, Cut.ON_FOLD, Cut.SPARE):
        assert lanes_for(cut, Layers.PARTLY, WITH_SELVAGES, 300) == ((0, 300),)


def test_a_flap_that_reaches_the_other_selvage_leaves_no_single_layer() -> None:
    assert lanes_mm(Layers.PARTLY, WITH_SELVAGES, 500) == ((0, 500),)
    assert lanes_for(Cut.SINGLE, Layers.PARTLY, WITH_SELVAGES, 500) == ()


def test_both_layers_are_all_of_the_cloth_once() -> None:
    section = Section(Layers.PARTLY, 200.0, 500.0, 700.0, (), 300.0)
    lower, flap = layers_of(section, LayerPlan.PARTLY, 1000.0, starts_mm=200.0)
    assert Polygon(box(*lower.part)).area + box(*flap.part).area == pytest.approx(500_000)
    assert not box(*lower.part).intersection(box(*flap.part)).area
    assert lower.laid(box(*lower.part)).bounds == pytest.approx((200, 0, 700, 700))
    assert flap.laid(box(*flap.part)).bounds == pytest.approx((200, 0, 700, 300))
    # What lies beside the fold on the one does so on the other, turned over.
    assert lower.laid(Point(300, 310)).y == pytest.approx(10)
    assert flap.laid(Point(300, 290)).y == pytest.approx(10)


def test_flaws_of_the_flap_and_of_what_lies_below_are_kept_clear() -> None:
    at_x = [(100.0, 120.0), (200.0, 220.0), (300.0, 320.0)]
    at_y = [(280.0, 290.0), (340.0, 350.0), (900.0, 910.0)]
    flaws = tuple(
        ((left, low), (right, low), (right, high), (left, high))
        for (left, right), (low, high) in zip(at_x, at_y, strict=True)
    )
    cloth = replace(PLAIN, flaws=flaws)
    layout = lay(FILLED, cloth, LayerPlan.PARTLY, effort=ROWS_ONLY, spacing=TIGHT)
    depth = layout.sections[0].depth_mm
    found = sorted(Polygon(flaw).bounds for flaw in flaws_on(layout, 0))
    assert [each[1] for each in found] == pytest.approx([depth - 290, 340 - depth, 900 - depth])
    assert verify(layout, FILLED) == ()
    covered = replace(layout, fabric=PLAIN)
    for placement in covered.placements:
        shape = Polygon(placed_outline(placement, {item.id: item for item in FILLED}))
        assert all(shape.intersection(box(*each)).area < 0.1 for each in found)


# How deep ---------------------------------------------------------------------------------------


def test_the_depth_is_found_at_which_everything_fits() -> None:
    layout = lay(FILLED, PLAIN, LayerPlan.PARTLY, effort=QUICK, spacing=TIGHT)
    assert depth_of(layout) == 300
    assert layout.length_mm == pytest.approx(800, abs=0.5)
    assert layout.used_share == pytest.approx(1.0, abs=1e-3)
    assert set(cuts(layout).values()) == {Cut.ON_FOLD, Cut.SINGLE}
    folded = lay(FILLED, PLAIN, LayerPlan.FOLDED, effort=QUICK, spacing=TIGHT)
    assert folded.length_mm > 1000


def test_a_pair_beside_a_half_piece_makes_the_flap_deeper() -> None:
    """Two bands lie on the flap beside the half piece; the single layer is just as wide."""
    pair = [rectangle(f"strip {n}", 95, 800, piece="strip", mirrored=n > 0) for n in range(2)]
    items = [half("front", 200, 800), *pair, rectangle("panel", 400, 800)]
    layout = lay(items, PLAIN, LayerPlan.PARTLY, effort=QUICK, spacing=TIGHT)
    assert depth_of(layout) == 300
    assert layout.length_mm == pytest.approx(800, abs=0.5)
    assert cuts(layout)["strip 0"] is Cut.PAIR


def test_a_pair_is_cut_singly_where_the_single_layer_would_stay_empty() -> None:
    bands = slanted_pair("band", 390, 99)
    items = [half("front", 300, 800), rectangle("panel", 400, 600), *bands]
    layout = lay(items, PLAIN, LayerPlan.PARTLY, effort=QUICK, spacing=TIGHT)
    assert layout.length_mm == pytest.approx(800, abs=0.5)
    assert cuts(layout)["band/left"] is Cut.SINGLE
    by_id = {item.id: item for item in items}
    for placement in layout.placements:
        if placement.cut is Cut.SINGLE:
            assert placement.mirrored == by_id[placement.item_ids[0]].mirrored


def test_half_pieces_that_would_only_follow_each_other_are_opened_out() -> None:
    """Two of them on the fold would take 80 cm."""
    items = [half("front", 300, 400), half("back", 195, 400)]
    layout = lay(items, PLAIN, LayerPlan.PARTLY, effort=QUICK, spacing=TIGHT)
    assert layout.length_mm == pytest.approx(400, abs=0.5)
    assert cuts(layout) == {"front": Cut.ON_FOLD, "back": Cut.SINGLE}
    by_id = {item.id: item for item in items}
    assert opened_out(layout, by_id) == {"back"}
    (whole,) = (each for each in layout.placements if each.cut is Cut.SINGLE)
    assert Polygon(placed_outline(whole, by_id)).area == pytest.approx(2 * 195 * 400)
    assert any(note == "Opened out beside the flap: back." for note in layout.notes)


def test_the_flap_is_measured_in_whole_steps_with_its_selvage() -> None:
    items = [half("front", 287, 400), rectangle("band", 300, 300)]
    for division in divisions(items, WITH_SELVAGES, 3.0):
        assert division.depth_mm >= 287
        measured = division.depth_mm + 20
        is_deepest = division.depth_mm == 500
        assert is_deepest or math.isclose(math.remainder(measured, DEPTH_STEP_MM), 0, abs_tol=1e-6)


def test_what_fits_in_neither_lane_is_cut_from_a_stretch_that_is_opened_out() -> None:
    items = [half("front", 300, 400), rectangle("train", 900, 600)]
    layout = lay(items, PLAIN, LayerPlan.PARTLY, effort=ROWS_ONLY, spacing=TIGHT)
    assert [section.layers for section in layout.sections] == [Layers.PARTLY, Layers.SINGLE]
    assert verify(layout, items) == ()
    assert any("open the fabric out" in note and "train" in note for note in layout.notes)


def test_all_ways_to_divide_hold_each_copy_once_and_keep_to_their_lanes() -> None:
    items = dress()
    ways = ways_to_divide(items, Fabric("linen", 1400), LayerPlan.PARTLY, 3.0)
    assert len(ways) > 3
    for way in ways:
        laid = [item_id for stretch in way for part in stretch.parts for item_id in part.item_ids]
        assert sorted(laid) == sorted(item.id for item in items)
        for stretch in way:
            for (low, high), parts in by_lane(stretch, Fabric("linen", 1400), 3.0).items():
                assert high > low
                assert parts


def test_nap_is_no_reason_to_refuse() -> None:
    """Both layers run one way, as on cloth that is folded lengthwise."""
    velvet = replace(PLAIN, nap=Nap.ONE_WAY)
    layout = lay(FILLED, velvet, LayerPlan.PARTLY, effort=ROWS_ONLY, spacing=TIGHT)
    assert verify(layout, FILLED) == ()


def test_the_same_question_has_the_same_answer_in_one_process_and_in_two() -> None:
    one, two = (
        lay(dress(), Fabric("linen", 1400), LayerPlan.PARTLY, effort=QUICK, seed=3, at_once=at_once)
        for at_once in (1, 2)
    )
    assert one.sections == two.sections


WORTH_PROCESSES = Effort(2, 2)
"""Three ways to divide are searched, one run each, long enough for a process of its own."""


def test_ways_that_are_searched_at_the_same_time_have_the_same_answer(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    at_once: list[int] = []
    start = racing._Runners._start

    def counted(runners: racing._Runners) -> None:
        start(runners)
        at_once.append(len({run.race for run in runners._running}))

    monkeypatch.setattr(racing._Runners, "_start", counted)
    one, three = (
        lay(
            dress(),
            Fabric("linen", 1400),
            LayerPlan.PARTLY,
            effort=WORTH_PROCESSES,
            seed=3,
            at_once=count,
        )
        for count in (1, 3)
    )
    assert max(at_once) == 3
    assert one.sections == three.sections


def test_whichever_run_tells_first_the_answer_is_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    def laid() -> tuple[Section, ...]:
        fabric = Fabric("linen", 1400)
        return lay(dress(), fabric, LayerPlan.PARTLY, effort=Effort(1, 4), seed=3).sections

    def last_first(races, *, told, **how):  # type: ignore[no-untyped-def]
        heard = []
        counts = racing.raced(races, told=lambda *found: heard.append(found), **how)
        for run, lyings in sorted(heard, key=lambda found: found[0], reverse=True):
            told(run, lyings)
        return counts

    first = laid()
    monkeypatch.setattr(search, "raced", last_first)
    assert laid() == first


def test_half_pieces_wider_than_half_the_cloth_are_refused_in_words() -> None:
    with pytest.raises(CuttingError, match="wider than the folded fabric") as caught:
        lay([half("coat", 600, 400)], PLAIN, LayerPlan.PARTLY, effort=ROWS_ONLY)
    assert "50 cm" in caught.value.how_much
    assert caught.value.what_to_do


# What is said -----------------------------------------------------------------------------------


def test_it_is_said_how_deep_the_selvage_is_folded_over() -> None:
    bands = slanted_pair("band", 390, 90)
    items = [half("front", 280, 800), rectangle("panel", 400, 600), *bands]
    layout = lay(items, WITH_SELVAGES, LayerPlan.PARTLY, effort=ROWS_ONLY)
    assert flap_of(layout.sections[0], layout) == 300
    fold, singly = layout.notes
    assert fold.startswith("Fold one selvage over, right sides together, until the flap is 30 cm ")
    assert "right side up" in fold
    assert "panel, band, left, band, right, cut singly" in singly
    assert "one with the pattern printed side up and one printed side down" in singly


def test_what_limits_it_is_said_of_the_partly_folded_stretch() -> None:
    items = [*FILLED, rectangle("train", 900, 600)]
    layout = lay(items, PLAIN, LayerPlan.PARTLY, effort=ROWS_ONLY, spacing=TIGHT)
    said = limit_sentences(what_limits(layout, items), layout, items, told=lambda mm: f"{mm:.0f}")
    assert "partly folded stretch" in said[0]
    assert "stretch in one layer" in said[1]


# Judged -----------------------------------------------------------------------------------------

MIXED = [half("front", 300, 400), *slanted_pair("cuff", 120, 200), *slanted_pair("panel", 250, 300)]


def by_hand(*placements: Placement, depth_mm: float = 300.0) -> Layout:
    """Laid by hand on cloth with selvages of 2 cm: lanes to 30 cm, and from 32 to 70 cm."""
    layout = lay(MIXED, WITH_SELVAGES, LayerPlan.PARTLY, effort=ROWS_ONLY, spacing=TIGHT)
    xs = [x for p in placements for x, _ in placed_outline(p, {i.id: i for i in MIXED})]
    section = Section(Layers.PARTLY, 0.0, max(xs), 1000 - depth_mm, placements, depth_mm)
    return replace(layout, sections=(section,))


def at(ids: tuple[str, ...], cut: Cut, x_mm: float, y_mm: float) -> Placement:
    """Laid by its lower left corner; the first copy printed side up unless it is mirrored."""
    item = next(item for item in MIXED if item.id == ids[0])
    mirrored = item.mirrored if cut is Cut.SINGLE else cut is Cut.ON_FOLD
    lying = Placement(ids, cut, mirrored, -math.pi / 2, (0.0, 0.0))
    outline = placed_outline(lying, {item.id: item})
    return replace(
        lying,
        translation=(x_mm - min(x for x, _ in outline), y_mm - min(y for _, y in outline)),
    )


CUFFS = ("cuff/left", "cuff/right")
SOUND = (
    at(("front",), Cut.ON_FOLD, 0, 0),
    at(CUFFS, Cut.PAIR, 400, 180),
    at(("panel/left",), Cut.SINGLE, 0, 320),
    at(("panel/right",), Cut.SINGLE, 300, 450),
)


def faults(layout: Layout) -> set[LayoutFaultCode]:
    return {fault.code for fault in verify(layout, MIXED)}


def test_a_sound_layout_has_no_fault() -> None:
    assert faults(by_hand(*SOUND)) == set()


def planted(number: int, change: Callable[[Placement], Placement]) -> Layout:
    changed = [change(each) if n == number else each for n, each in enumerate(SOUND)]
    return by_hand(*changed)


def across(by_mm: float) -> Callable[[Placement], Placement]:
    return lambda placed: replace(
        placed, translation=(placed.translation[0], placed.translation[1] + by_mm)
    )


@pytest.mark.parametrize(
    ("layout", "code"),
    [
        (planted(1, across(1)), LayoutFaultCode.OUTSIDE),  # over the selvage of the flap
        (planted(2, across(-1)), LayoutFaultCode.OUTSIDE),
        (planted(3, across(1)), LayoutFaultCode.OUTSIDE),  # over the far selvage
        (planted(0, across(1)), LayoutFaultCode.OUTSIDE),
        (planted(0, across(-1)), LayoutFaultCode.FOLD),
        (planted(2, lambda p: at(p.item_ids, p.cut, 600, 0)), LayoutFaultCode.CUT),
        (planted(1, lambda p: at(p.item_ids, p.cut, 600, 330)), LayoutFaultCode.CUT),
        (planted(1, lambda p: replace(p, cut=Cut.SINGLE)), LayoutFaultCode.CUT),
        (planted(3, lambda p: replace(p, mirrored=False)), LayoutFaultCode.CUT),
        (planted(1, lambda p: replace(p, item_ids=CUFFS[:1])), LayoutFaultCode.COPIES),
        (planted(0, lambda p: replace(p, cut=Cut.SINGLE)), LayoutFaultCode.OUTSIDE),  # unfolded
    ],
)
def test_each_way_to_spoil_it_is_seen(layout: Layout, code: LayoutFaultCode) -> None:
    assert code in faults(layout)


@pytest.mark.parametrize("depth_mm", [-1.0, 500.5])
def test_a_flap_that_cannot_be_folded_so_is_seen(depth_mm: float) -> None:
    assert LayoutFaultCode.SECTION in faults(by_hand(*SOUND, depth_mm=depth_mm))


def test_a_flap_is_seen_where_cloth_lies_otherwise() -> None:
    layout = by_hand(*SOUND)
    single = replace(layout.sections[0], layers=Layers.SINGLE)
    assert LayoutFaultCode.SECTION in faults(replace(layout, sections=(single,)))
    folded = replace(layout, plan=LayerPlan.FOLDED)
    assert LayoutFaultCode.SECTION in faults(folded)


# Kept -------------------------------------------------------------------------------------------


def test_it_is_written_and_read_with_its_depth() -> None:
    layout = lay(FILLED, WITH_SELVAGES, LayerPlan.PARTLY, effort=ROWS_ONLY)
    question = LayoutQuestion(tuple(FILLED), WITH_SELVAGES, LayerPlan.PARTLY)
    again = layout_from_text(layout_to_text(layout), question, layout.effort, layout.seed)
    assert again.sections == layout.sections
    folded = lay(FILLED, WITH_SELVAGES, LayerPlan.FOLDED, effort=ROWS_ONLY)
    assert "depth" not in layout_to_text(folded)


def test_the_width_of_the_selvages_belongs_to_the_question() -> None:
    digests = {
        LayoutQuestion(tuple(FILLED), cloth, LayerPlan.PARTLY).digest
        for cloth in (PLAIN, WITH_SELVAGES)
    }
    assert len(digests) == 2


# Pinned -----------------------------------------------------------------------------------------


def pins_of(layout: Layout, *names: str) -> dict[str, PinEntry]:
    items = {item.id: item for item in MIXED}
    return {
        placement.item_ids[0]: pin_of(placement, items, flap_of(section, layout))
        for section in layout.sections
        for placement in section.placements
        if placement.item_ids[0] in names
    }


def test_a_pin_keeps_the_depth_it_was_made_with() -> None:
    layout = by_hand(*SOUND)
    named = ("cuff/left", "panel/right", "front")
    said = pins_of(layout, *named)
    assert {pin.flap for pin in said.values()} == {"320mm"}
    pins = pinned(said, MIXED, WITH_SELVAGES, LayerPlan.PARTLY, TIGHT)
    assert {pin.flap_mm for pin in pins} == {300}
    around = lay(MIXED, WITH_SELVAGES, LayerPlan.PARTLY, effort=QUICK, spacing=TIGHT, pins=pins)
    assert depth_of(around) == 300
    assert verify(around, MIXED, pins) == ()
    assert set(pins) <= set(around.placements)
    assert cuts(around)["panel/left"] is Cut.SINGLE  # its other hand is pinned beside the flap
    other = replace(around.sections[0], depth_mm=295.0, width_mm=705.0)
    moved = replace(around, sections=(other,))
    assert LayoutFaultCode.PINNED in {fault.code for fault in verify(moved, MIXED, pins)}


def test_the_depth_of_a_pin_belongs_to_the_question() -> None:
    pins = pinned(pins_of(by_hand(*SOUND), "front"), MIXED, WITH_SELVAGES, LayerPlan.PARTLY, TIGHT)
    deeper = tuple(replace(pin, flap_mm=310.0) for pin in pins)
    digests = {
        LayoutQuestion(tuple(MIXED), WITH_SELVAGES, LayerPlan.PARTLY, TIGHT, each).digest
        for each in (pins, deeper)
    }
    assert len(digests) == 2


@pytest.mark.parametrize(
    ("pins", "said"),
    [
        ({"front": PinEntry("0", "0")}, "does not say how deep"),
        ({"front": PinEntry("0", "0", flap="70cm")}, "cannot be folded over as deep"),
        ({"front": PinEntry("0", "0", flap="2cm")}, "cannot be folded over as deep"),
        (
            {
                "front": PinEntry("0", "0", flap="32cm"),
                "cuff/left": PinEntry("50cm", "0", flap="33cm"),
            },
            "say differently how deep",
        ),
        ({"front": PinEntry("0", "1cm", flap="33cm")}, "off the fold"),
        ({"front": PinEntry("0", "32cm", flap="32cm")}, "beside the fabric"),  # 60 cm, opened out
        ({"cuff/left": PinEntry("0", "29cm", flap="32cm")}, "across the edge of the flap"),
        ({"cuff/left": PinEntry("0", "60cm", flap="32cm")}, "beside the fabric"),
        ({"cuff": PinEntry("0", "40cm", flap="32cm")}, "does not say which copy"),
        (
            {
                "cuff/left": PinEntry("0", "0", flap="32cm"),
                "cuff/right": PinEntry("0", "40cm", flap="32cm"),
            },
            "one of them beside the flap",
        ),
    ],
)
def test_pins_that_cannot_be_kept_are_refused_in_words(
    pins: dict[str, PinEntry], said: str
) -> None:
    with pytest.raises(CuttingError, match=said) as caught:
        pinned(pins, MIXED, WITH_SELVAGES, LayerPlan.PARTLY, TIGHT)
    assert caught.value.what_to_do


# Striped ----------------------------------------------------------------------------------------


def test_crosswise_lines_meet_between_both_lanes() -> None:
    striped = replace(WITH_SELVAGES, repeat=Repeat(along_mm=60.0))
    matches = [
        MatchPoint("side", name, (0.0, 100.0), across=False)
        for name in ("front", "cuff/left", "panel/left", "panel/right")
    ]
    layout = lay(MIXED, striped, LayerPlan.PARTLY, effort=QUICK, matches=matches)
    assert layout.sections[0].layers is Layers.PARTLY
    xs = {item_id: placement for placement in layout.placements for item_id in placement.item_ids}
    assert len(xs) == len(MIXED)


def test_lengthwise_lines_are_refused_in_words() -> None:
    striped = replace(WITH_SELVAGES, repeat=Repeat(across_mm=40.0))
    matches = [
        MatchPoint("side", f"cuff/{side}", (0.0, 100.0), across=True) for side in ("left", "right")
    ]
    with pytest.raises(CuttingError, match="lengthwise lines") as caught:
        lay(MIXED, striped, LayerPlan.PARTLY, effort=ROWS_ONLY, matches=matches)
    assert "selvage is folded over" in caught.value.how_much
    assert "folded lengthwise" in caught.value.what_to_do
