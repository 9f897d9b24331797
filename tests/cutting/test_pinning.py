"""Copies that stay where the maker laid them."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.components import read_make
from clothwise.cutting import Cut, Effort, Fabric, LayerPlan, Nap, Spacing, lay, placed_outline
from clothwise.cutting.cutting_list import cut_items
from clothwise.cutting.item import CutItem
from clothwise.cutting.layout import Layers, folds_mm, lanes_mm, stretch_width_mm
from clothwise.cutting.pinning import pin_of, pinned
from clothwise.errors import CuttingError
from clothwise.packet.opening import making_at
from clothwise.pattern.document import PinEntry
from command_line import example

EXAMPLES = Path(__file__).parents[2] / "examples"
FILE = read_make(EXAMPLES / "kiln-dress" / "makes" / "view-a.yaml")
PATTERN = FILE.draft()
ASSIGNED = FILE.assign(PATTERN)
LINEN = Fabric("linen", 1400)
WIDE = Fabric("wide", 1700)


def items(plan: LayerPlan) -> tuple[CutItem, ...]:
    return cut_items(PATTERN, ASSIGNED, "linen", plan)


SINGLE, FOLDED = items(LayerPlan.SINGLE), items(LayerPlan.FOLDED)
TIGHT = Spacing(0.0, 0.0)
BACK = "skirt-back/whole"


def corner(pins: dict[str, PinEntry], plan: LayerPlan) -> tuple[float, float]:
    of = SINGLE if plan is LayerPlan.SINGLE else FOLDED
    (placement,) = pinned(pins, of, LINEN, plan, TIGHT)
    outline = placed_outline(placement, {item.id: item for item in of})
    return min(x for x, _ in outline), min(y for _, y in outline)


def outline_of(name: str, pin: PinEntry) -> tuple[tuple[float, float], ...]:
    (placement,) = pinned({name: pin}, SINGLE, LINEN, LayerPlan.SINGLE, TIGHT)
    return placed_outline(placement, {item.id: item for item in SINGLE})


@pytest.mark.parametrize("turn", ["", "180deg", "0deg"])
@pytest.mark.parametrize("name", ["skirt-front/left", "skirt-front/right", BACK])
def test_a_pinned_piece_lies_where_it_was_measured(name: str, turn: str) -> None:
    pin = PinEntry("40cm", "25mm", turn)
    assert corner({name: pin}, LayerPlan.SINGLE) == pytest.approx((400, 25))


def test_mirrored_copies_lie_printed_side_down() -> None:
    pins = {name: PinEntry("0", "0") for name in ("skirt-front/left", "skirt-front/right")}
    sides = []
    for name, pin in pins.items():
        (placement,) = pinned({name: pin}, SINGLE, LINEN, LayerPlan.SINGLE, TIGHT)
        sides.append((placement.cut, placement.mirrored))
    assert sides == [(Cut.SINGLE, False), (Cut.SINGLE, True)]


def test_a_pair_is_pinned_by_either_name() -> None:
    one, other = (
        pinned(
            {f"skirt-front/{side}": PinEntry("1m", "2cm")}, FOLDED, LINEN, LayerPlan.FOLDED, TIGHT
        )
        for side in ("left", "right")
    )
    assert one == other
    assert one[0].cut is Cut.PAIR
    assert set(one[0].item_ids) == {"skirt-front/left", "skirt-front/right"}
    by_piece = pinned(
        {"skirt-front": PinEntry("1m", "2cm")}, FOLDED, LINEN, LayerPlan.FOLDED, TIGHT
    )
    assert by_piece == one


@pytest.mark.parametrize("turn", ["", "180deg"])
def test_a_half_piece_is_pinned_to_the_fold(turn: str) -> None:
    (placement,) = pinned(
        {BACK: PinEntry("10cm", "0", turn)}, FOLDED, LINEN, LayerPlan.FOLDED, TIGHT
    )
    assert placement.cut is Cut.ON_FOLD
    assert corner({BACK: PinEntry("10cm", "0", turn)}, LayerPlan.FOLDED) == pytest.approx((100, 0))


def test_of_two_folds_the_nearer_one_is_meant() -> None:
    depth = max(y for _, y in placed_outline(
        pinned({BACK: PinEntry("0", "0")}, FOLDED, WIDE, LayerPlan.TO_MIDDLE, TIGHT)[0],
        {item.id: item for item in FOLDED},
    ))  # fmt: skip
    across = stretch_width_mm(Layers.TO_MIDDLE, WIDE) - depth
    (placement,) = pinned(
        {BACK: PinEntry("0", f"{across}mm")}, FOLDED, WIDE, LayerPlan.TO_MIDDLE, TIGHT
    )
    ys = [y for _, y in placed_outline(placement, {item.id: item for item in FOLDED})]
    assert min(ys) == pytest.approx(across)
    assert max(ys) == pytest.approx(folds_mm(Layers.TO_MIDDLE, WIDE)[1])


def test_no_piece_is_pinned_over_the_selvages_that_meet_in_the_middle() -> None:
    lane = lanes_mm(Layers.TO_MIDDLE, WIDE)[0][1]
    pin = PinEntry("0", f"{lane - 50}mm")
    with pytest.raises(CuttingError, match="where the selvages meet"):
        pinned({"pocket/left": pin}, pockets(), WIDE, LayerPlan.TO_MIDDLE, TIGHT)


@settings(max_examples=60)
@given(
    st.sampled_from(FOLDED),
    st.sampled_from(["", "180deg"]),
    st.integers(0, 900),
    st.integers(0, 80),
    st.booleans(),
)
def test_what_is_pinned_as_it_lies_lies_there_again(
    item: CutItem, turn: str, along: int, across: int, over: bool
) -> None:
    """From a placement to the words of a make and back."""
    place = "0" if item.on_fold else f"{across}mm"
    pin = PinEntry(f"{along}mm", place, turn, "yes" if over and not item.on_fold else "no")
    (first,) = pinned({item.id: pin}, FOLDED, LINEN, LayerPlan.FOLDED, TIGHT)
    again = pin_of(first, {each.id: each for each in FOLDED})
    (second,) = pinned({first.item_ids[0]: again}, FOLDED, LINEN, LayerPlan.FOLDED, TIGHT)
    assert second.item_ids == first.item_ids
    assert second.mirrored == first.mirrored
    assert second.rotation_rad == first.rotation_rad
    assert second.translation == pytest.approx(first.translation, abs=0.001)


@pytest.mark.parametrize(
    ("pin", "fabric", "said"),
    [
        (PinEntry("0", "1m"), LINEN, "pinned beside the fabric"),
        (PinEntry("0", "0", "5deg"), LINEN, "pinned off the grain"),
        (PinEntry("0", "0", "90deg"), LINEN, "pinned off the grain"),
        (PinEntry("0", "0", "", "yes"), LINEN, "this fabric has a wrong side"),
        (PinEntry("0", "0", "180deg"), Fabric("velvet", 1400, nap=Nap.ONE_WAY), "against the nap"),
    ],
)
def test_pins_that_would_spoil_cloth_are_refused(pin: PinEntry, fabric: Fabric, said: str) -> None:
    with pytest.raises(CuttingError, match=said) as caught:
        pinned({"skirt-front/left": pin}, SINGLE, fabric, LayerPlan.SINGLE, TIGHT)
    assert caught.value.what_to_do


@pytest.mark.parametrize("turn", ["", "3deg"])
def test_cloth_that_allows_it_takes_either_side_and_a_little_turn(turn: str) -> None:
    """The tab is its own mirror image, so that no search would think of turning it over."""
    cloth = Fabric("gauze", 1400, wrong_side_usable=True, off_grain_rad=0.1)
    tab = [CutItem("tab", "tab", ((0.0, 0.0), (90.0, 0.0), (90.0, 150.0), (0.0, 150.0)))]
    pins = pinned({"tab": PinEntry("0", "0", turn, "yes")}, tab, cloth, LayerPlan.SINGLE, TIGHT)
    assert pins[0].mirrored
    layout = lay(tab, cloth, effort=Effort(0, 0), spacing=TIGHT, pins=pins)
    assert layout.placements == pins


def test_what_is_not_small_is_pinned_along_the_grain() -> None:
    cloth = Fabric("gauze", 1400, off_grain_rad=0.1)
    pin = {"skirt-front/left": PinEntry("0", "0", "3deg")}
    with pytest.raises(CuttingError, match="off the grain") as caught:
        pinned(pin, SINGLE, cloth, LayerPlan.SINGLE, TIGHT)
    assert "larger than 20 cm" in caught.value.how_much


def test_cloth_without_a_grain_takes_every_quarter_turn_and_keeps_it() -> None:
    fleece = Fabric("fleece", 1400, grainless=True)
    for turn in ("", "90deg", "180deg", "-90deg"):
        pin = PinEntry("0", "0", turn)
        (placement,) = pinned({"pocket/left": pin}, pockets(), fleece, LayerPlan.SINGLE, TIGHT)
        layout = lay(pockets(), fleece, effort=Effort(0, 0), spacing=TIGHT, pins=(placement,))
        assert placement in layout.placements
        again = pin_of(placement, {item.id: item for item in pockets()})
        assert again.turn == turn
    with pytest.raises(CuttingError, match="off the grain"):
        pinned(
            {"pocket/left": PinEntry("0", "0", "45deg")}, pockets(), fleece, LayerPlan.SINGLE, TIGHT
        )


def pockets() -> tuple[CutItem, ...]:
    return cut_items(PATTERN, ASSIGNED, "print", LayerPlan.SINGLE)


def test_pinned_pieces_do_not_lie_on_each_other() -> None:
    pins = {"skirt-front/left": PinEntry("0", "0"), BACK: PinEntry("1cm", "1cm")}
    with pytest.raises(CuttingError, match="lie on each other") as caught:
        pinned(pins, SINGLE, LINEN, LayerPlan.SINGLE, TIGHT)
    assert re.fullmatch(r"they share \d,\d{3} cm²", caught.value.how_much)


@pytest.mark.parametrize("plan", [LayerPlan.SINGLE, LayerPlan.FOLDED, LayerPlan.TO_MIDDLE])
def test_no_piece_is_pinned_over_a_flaw(plan: LayerPlan) -> None:
    """A hole of 2 cm, 30 cm along: in the upper or the lower half of the cloth, thus layer."""
    pins = {"skirt-front/left": PinEntry("5mm", "5mm")}
    of = items(plan)
    (placement,) = pinned(pins, of, WIDE, plan, TIGHT)
    middle_mm = 60.0  # across; the piece begins at 5
    places = {
        LayerPlan.SINGLE: [middle_mm],
        LayerPlan.FOLDED: [850 + middle_mm, 850 - middle_mm],
        LayerPlan.TO_MIDDLE: [425 + middle_mm, 425 - middle_mm],
    }[plan]
    for across in places:
        hole = (
            (300.0, across - 10),
            (320.0, across - 10),
            (320.0, across + 10),
            (300.0, across + 10),
        )
        with pytest.raises(CuttingError, match="over a flaw") as caught:
            pinned(pins, of, replace(WIDE, flaws=(hole,)), plan, TIGHT)
        assert "from 30 cm along" in (caught.value.how_much or "")
        beyond = tuple((x + 1500, y) for x, y in hole)
        assert pinned(pins, of, replace(WIDE, flaws=(beyond,)), plan, TIGHT) == (placement,)


def test_pinned_pieces_leave_the_cloth_that_has_to_stay() -> None:
    sleeve = PinEntry("20cm", "5mm")
    pins = {"sleeve/left": PinEntry("5mm", "0"), "sleeve/right": PinEntry("5mm", "0", "180deg")}
    with pytest.raises(CuttingError, match="lie on each other"):
        pinned(pins, SINGLE, LINEN, LayerPlan.SINGLE)
    wide = max(y for _, y in outline_of("sleeve/left", sleeve)) - 5
    pins["sleeve/right"] = PinEntry("5mm", f"{wide + 1}mm")
    with pytest.raises(CuttingError, match="too near to each other"):
        pinned(pins, SINGLE, LINEN, LayerPlan.SINGLE)
    pins["sleeve/right"] = PinEntry("5mm", f"{wide + 3}mm")
    assert len(pinned(pins, SINGLE, LINEN, LayerPlan.SINGLE)) == 2


def test_the_cut_end_stays_free() -> None:
    with pytest.raises(CuttingError, match="stays at the cut end") as caught:
        pinned({BACK: PinEntry("0", "0")}, FOLDED, LINEN, LayerPlan.FOLDED)
    assert "along: 5mm" in caught.value.what_to_do


def test_the_rest_is_packed_around_what_is_pinned() -> None:
    pins = pinned({"sleeve": PinEntry("60cm", "12cm")}, FOLDED, LINEN, LayerPlan.FOLDED)
    layout = lay(FOLDED, LINEN, LayerPlan.FOLDED, effort=Effort(0, 1), pins=pins)
    by_ids = {placement.item_ids: placement for placement in layout.placements}
    assert by_ids[pins[0].item_ids] == pins[0]


def test_a_half_piece_off_the_fold_is_refused() -> None:
    with pytest.raises(CuttingError, match="off the fold"):
        pinned({BACK: PinEntry("0", "2cm")}, FOLDED, LINEN, LayerPlan.FOLDED, TIGHT)


def test_both_of_a_pair_at_different_places_are_refused() -> None:
    pins = {"sleeve/left": PinEntry("0", "0"), "sleeve/right": PinEntry("1m", "0")}
    with pytest.raises(CuttingError, match="both copies of a pair"):
        pinned(pins, FOLDED, LINEN, LayerPlan.FOLDED, TIGHT)
    alike = {"sleeve/left": PinEntry("0", "0"), "sleeve/right": PinEntry("0", "0")}
    assert len(pinned(alike, FOLDED, LINEN, LayerPlan.FOLDED, TIGHT)) == 1


def test_a_piece_that_is_cut_once_has_no_place_on_doubled_cloth() -> None:
    alone = [item for item in FOLDED if item.id != "skirt-front/right"]
    with pytest.raises(CuttingError, match="no fixed place on doubled fabric"):
        pinned({"skirt-front/left": PinEntry("0", "0")}, alone, LINEN, LayerPlan.FOLDED, TIGHT)


def test_a_piece_too_wide_for_doubled_cloth_has_no_place_on_it() -> None:
    narrow = Fabric("narrow", 700)
    with pytest.raises(CuttingError, match="too wide for the doubled fabric"):
        pinned({"skirt-front/left": PinEntry("0", "0")}, FOLDED, narrow, LayerPlan.FOLDED, TIGHT)


def test_a_piece_of_two_single_copies_needs_the_copy() -> None:
    with pytest.raises(CuttingError, match="does not say which copy"):
        pinned({"skirt-front": PinEntry("0", "0")}, SINGLE, LINEN, LayerPlan.SINGLE, TIGHT)


def test_pins_of_other_fabrics_are_left_out() -> None:
    assert pinned({"pocket/left": PinEntry("0", "0")}, SINGLE, LINEN, LayerPlan.SINGLE, TIGHT) == ()


def test_a_pin_of_no_copy_is_set_aside_and_told(tmp_path: Path) -> None:
    folder = example("half-circle-skirt", tmp_path)
    with (folder / "make.yaml").open("a", encoding="utf-8") as out:
        out.write("pins:\n  skrt/whole: {along: 0, across: 0}\n")
    (found,) = [each for each in making_at(folder, "", "").findings if each.code == "MAKE-PIECE"]
    assert found.message.startswith("A place was pinned for Skrt, whole, which this garment does")
    assert found.remedy.endswith("If skirt was meant, write that.")
