"""Which copies come from which remnant: held against every way there is, where these are few."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby, product

import pytest

from clothwise.cutting import (
    CutItem,
    Effort,
    Fabric,
    LayerPlan,
    Layout,
    LayoutCancelled,
    Spacing,
    lay,
    verify,
)
from clothwise.cutting.remnant import Remnant, remnant
from clothwise.cutting.stash_plan import Bolt, Bundle, StashPlan
from clothwise.cutting.stash_search import cut_from_stash
from clothwise.cutting.verify_remnant import verify_remnant
from clothwise.errors import CuttingError
from invented_dress import (
    BACK_BODICE_HALF,
    BACK_SKIRT_HALF,
    BELT,
    COLLAR_HALF,
    POCKET,
    SLEEVE,
    item,
    pair,
)

TIGHT = Spacing(0.0, 0.0)
LINEN = Bolt("linen", Fabric("linen", 1400), LayerPlan.FOLDED)


def in_rows(bolt: Bolt, items: tuple[CutItem, ...]) -> Layout:
    return lay(items, bolt.fabric, bolt.plan, effort=Effort(0, 1))


def cloth(name: str, length: float, width: float, **how: object) -> Remnant:
    fabric = replace(Fabric(name, 1400), **how)  # type: ignore[arg-type]
    return remnant(fabric, [(0, 0), (length, 0), (length, width), (0, width)])


def bundle(name: str, items: Sequence[CutItem], bolt: str, *remnants: str) -> Bundle:
    return Bundle(name, tuple(items), bolt, frozenset(remnants))


def strip(name: str, length: float, bolt: str, *remnants: str) -> Bundle:
    """A piece exactly as wide as the remnants, so that lengths alone decide what fits."""
    outline = [(0, 0), (100, 0), (100, length), (0, length)]
    return bundle(name, [item(name, outline)], bolt, *remnants)


def checked(plan: StashPlan, bundles: Sequence[Bundle]) -> StashPlan:
    """Every layout verified, and every copy cut once, over all cloths."""
    by_id = {each.id: each for every in bundles for each in every.opened_items}
    for layout in plan.remnants:
        laid = [by_id[p.item_ids[0]] for p in layout.placements]
        assert verify_remnant(layout.remnant, layout.placements, laid, layout.spacing) == ()
    for bought in plan.bought:
        if bought.layout:
            assert verify(bought.layout, bought.items) == ()
    missing = [each.id for every in plan.missing for each in every.items]
    assert sorted([*plan.sources, *missing]) == sorted(by_id)
    return plan


# Against every way


@pytest.mark.parametrize("seed", range(6))
def test_no_way_buys_less_where_only_lengths_count(seed: int) -> None:
    """Strips on strips: every way is tried by adding lengths, without a packer."""
    chance = random.Random(seed)
    lengths = [float(chance.randrange(60, 400, 20)) for _ in range(7)]
    room = {"one": 600.0, "two": 340.0, "three": 200.0}
    bundles = [strip(f"s{k}", length, "linen", *room) for k, length in enumerate(lengths)]
    remnants = [cloth(name, 1.03 * length, 101) for name, length in room.items()]
    narrow = Bolt("linen", Fabric("linen", 101, 100.5))
    plan = cut_from_stash(
        bundles, remnants, [narrow], spacing=TIGHT, lay_bolt=in_rows, rounds=4, packings=200
    )
    checked(plan, bundles)
    kept = sum(lengths) - max(
        sum(length for length, r in zip(lengths, way, strict=True) if r)
        for way in product(["", *room], repeat=len(lengths))
        if all(
            sum(length for length, r in zip(lengths, way, strict=True) if r == name) <= most
            for name, most in room.items()
        )
    )
    bought = [lengths[int(name[1:])] for name, cloth in plan.sources.items() if cloth == "linen"]
    assert sum(bought) == kept


def test_exchanges_find_what_filling_largest_first_misses() -> None:
    """300 fills best alone; 200 and 190 together leave less to buy."""
    bundles = [strip(f"s{n}", n, "linen", "one") for n in (300.0, 200.0, 190.0)]
    narrow = Bolt("linen", Fabric("linen", 101, 100.5))
    plan = cut_from_stash(
        bundles, [cloth("one", 400, 101)], [narrow], spacing=TIGHT, lay_bolt=in_rows, rounds=4
    )
    assert plan.sources == {"s300.0": "linen", "s200.0": "one", "s190.0": "one"}


# A dress


def dress(*remnants: str) -> list[Bundle]:
    return [
        bundle("pocket", pair("pocket", POCKET), "linen", *remnants),
        bundle("sleeve", pair("sleeve", SLEEVE), "linen", *remnants),
        bundle("back", [item("back", BACK_BODICE_HALF, on_fold=True)], "linen", *remnants),
        bundle("collar", [item("collar", COLLAR_HALF, on_fold=True)], "linen", *remnants),
        bundle("skirt", [item("skirt", BACK_SKIRT_HALF, on_fold=True)], "linen"),
    ]


SHAPED = remnant(
    Fabric("scrap", 1400), [(0, 0), (900, 20), (880, 700), (400, 700), (380, 600), (0, 620)]
)


def test_half_pieces_are_opened_out_on_remnants_and_halves_on_the_bolt() -> None:
    bundles = dress("scrap")
    plan = checked(cut_from_stash(bundles, [SHAPED], [LINEN], lay_bolt=in_rows), bundles)
    sources = plan.sources
    assert sources["skirt"] == "linen"
    assert "scrap" in sources.values()
    (bought,) = plan.bought
    assert bought.saved_mm > 0
    assert bought.needed is not None
    assert bought.needed_before.buy_length_mm - bought.saved_mm == bought.needed.buy_length_mm


def test_the_same_question_has_the_same_answer() -> None:
    one, other = (
        cut_from_stash(dress("scrap"), [SHAPED], [LINEN], lay_bolt=in_rows, packings=6)
        for _ in range(2)
    )
    assert one == other


def test_a_bundle_is_cut_from_one_cloth() -> None:
    bundles = dress("scrap", "other")
    plan = cut_from_stash(
        bundles, [SHAPED, cloth("other", 500, 500)], [LINEN], lay_bolt=in_rows, packings=30
    )
    checked(plan, bundles)
    for each in bundles:
        assert len({plan.sources[piece.id] for piece in each.items}) == 1


def test_nothing_is_taken_from_a_remnant_that_a_bundle_may_not_come_from() -> None:
    plan = cut_from_stash(dress(), [SHAPED], [LINEN], lay_bolt=in_rows)
    assert set(plan.sources.values()) == {"linen"}
    assert plan.unused == ("scrap",)
    assert plan.packings == 0


def test_everything_from_remnants_buys_nothing() -> None:
    bundles = [bundle("pocket", pair("pocket", POCKET), "linen", "scrap")]
    plan = checked(cut_from_stash(bundles, [SHAPED], [LINEN], lay_bolt=in_rows), bundles)
    (bought,) = plan.bought
    assert bought.layout is None
    assert bought.needed is None
    assert bought.saved_mm == bought.needed_before.buy_length_mm


def test_what_cannot_be_bought_is_missing_and_goes_first() -> None:
    """The belt may be bought, the pockets may not: the pockets get the cloth."""
    bundles = [
        bundle("pocket", pair("pocket", POCKET), "", "scrap"),
        bundle("belt", [item("belt", BELT)], "linen", "scrap"),
        bundle("skirt", [item("skirt", BACK_SKIRT_HALF, on_fold=True)], "", "scrap"),
    ]
    plan = cut_from_stash(bundles, [cloth("scrap", 920, 240)], [LINEN], lay_bolt=in_rows)
    assert [each.name for each in plan.missing] == ["skirt"]
    assert plan.sources["pocket.left"] == plan.sources["pocket.right"] == "scrap"
    assert plan.sources["belt"] == "linen"
    assert not plan.fits


def test_the_dearer_fabric_is_spared() -> None:
    """Room for one of two like pieces: that of the silk."""
    silk = Bolt("silk", Fabric("silk", 1400, price_per_meter=60.0))
    plain = Bolt("plain", Fabric("plain", 1400, price_per_meter=6.0))
    square = [(0, 0), (400, 0), (400, 400), (0, 400)]
    bundles = [
        bundle("a", [item("a", square)], "plain", "scrap"),
        bundle("b", [item("b", square)], "silk", "scrap"),
    ]
    plan = cut_from_stash(bundles, [cloth("scrap", 450, 450)], [plain, silk], lay_bolt=in_rows)
    assert plan.sources == {"a": "plain", "b": "scrap"}


def test_remnants_that_save_nothing_are_not_cut_into() -> None:
    """Two squares lie side by side on the bolt: without one of them it is no shorter."""
    square = [(0, 0), (400, 0), (400, 400), (0, 400)]
    single = Bolt("linen", Fabric("linen", 1400))
    bundles = [bundle(name, [item(name, square)], "linen", "scrap") for name in "ab"]
    plan = cut_from_stash(bundles, [cloth("scrap", 450, 450)], [single], lay_bolt=in_rows)
    assert plan.packings >= 1
    assert plan.bought[0].saved_mm == 0
    assert plan.unused == ("scrap",)


def test_effort_is_counted_in_packings() -> None:
    plan = cut_from_stash(dress("scrap"), [SHAPED], [LINEN], lay_bolt=in_rows, packings=1)
    assert plan.packings <= 1
    assert plan.ended_early


def test_only_room_that_was_found_is_told_and_never_less_than_before() -> None:
    """What is tried and does not fit says nothing of what does, so the line stays as it is."""
    lengths = {"long": 400.0, "middle": 300.0, "short": 150.0}
    bundles = [strip(name, length, "linen", "one", "two") for name, length in lengths.items()]
    told: list[str] = []
    cut_from_stash(
        bundles,
        [cloth("one", 480, 101), cloth("two", 200, 101)],
        [LINEN],
        spacing=TIGHT,
        lay_bolt=in_rows,
        rounds=4,
        progress=lambda progress: told.append(progress.message),
    )
    lines = list(dict.fromkeys(told))
    assert len(told) > len(lines), "some tries changed nothing"
    assert not any("no room" in line for line in lines[1:])
    held = [
        sum(lengths[name] for name in line.partition("room for ")[2].split(" and "))
        for line in lines
        if "room for" in line
    ]
    assert held
    assert held == sorted(held)
    assert [line for line, _ in groupby(told)] == lines, "it does not go back"


def test_progress_is_told_and_cancelling_ends_it() -> None:
    shares: list[float] = []
    cut_from_stash(
        dress("scrap"),
        [SHAPED],
        [LINEN],
        lay_bolt=in_rows,
        packings=3,
        progress=lambda progress: shares.append(progress.share),
    )
    assert shares == [pytest.approx(k / 3) for k in range(1, len(shares) + 1)]
    asked = iter([False, False, True])
    with pytest.raises(LayoutCancelled):
        cut_from_stash(dress("scrap"), [SHAPED], [LINEN], cancelled=lambda: next(asked, True))


def test_five_hundred_pieces_take_a_bounded_number_of_packings() -> None:
    """Squares: four rows of nine fit on one remnant, and the rest is bought."""
    square = [(0, 0), (100, 0), (100, 100), (0, 100)]
    bundles = [bundle(f"s{k}", [item(f"s{k}", square)], "linen", "one") for k in range(500)]
    plan = cut_from_stash(bundles, [cloth("one", 1000, 440)], [LINEN], lay_bolt=in_rows, packings=4)
    checked(plan, bundles)
    assert plan.packings <= 4
    assert len(plan.remnants[0].placements) >= 18


# What cannot be asked


@pytest.mark.parametrize(
    ("bundles", "remnants", "bolts", "what"),
    [
        ([], [SHAPED], [LINEN], "nothing to cut"),
        (dress("scrap"), [SHAPED, SHAPED], [LINEN], "remnants share a name"),
        (dress("scrap"), [SHAPED], [LINEN, LINEN], "fabrics share a name"),
        ([*dress(), *dress()], [SHAPED], [LINEN], "copies share a name"),
        (dress("elsewhere"), [SHAPED], [LINEN], "not there"),
        (dress("scrap"), [SHAPED], [], "not there"),
    ],
)
def test_questions_that_make_no_sense(
    bundles: list[Bundle], remnants: list[Remnant], bolts: list[Bolt], what: str
) -> None:
    with pytest.raises(CuttingError, match=what) as error:
        cut_from_stash(bundles, remnants, bolts)
    assert error.value.what_to_do


def test_a_bundle_counts_half_pieces_whole() -> None:
    half = item("back", BACK_BODICE_HALF, on_fold=True)
    around = zip(BACK_BODICE_HALF, [*BACK_BODICE_HALF[1:], BACK_BODICE_HALF[0]], strict=True)
    area = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in around)
    assert math.isclose(bundle("back", [half], "linen").area_mm2, area, rel_tol=1e-9)
