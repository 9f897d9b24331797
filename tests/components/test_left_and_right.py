"""Left and right that differ: two pieces in place of a pair, and a narrower front underneath."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwise.checks import check
from clothwise.components.edits.edit import Editing
from clothwise.components.edits.registry import edit_class
from clothwise.components.edits.sides import Asymmetric
from clothwise.components.edits.under_front import NarrowerUnderFront, Under
from clothwise.errors import ComponentError
from clothwise.pattern import Pattern, Severity, Side, Sides
from clothwise.pattern.siding import unpaired
from clothwise.work import plan, steps, verify
from component_cases import (
    Parts,
    assert_darts_close,
    assert_seams_true,
    body,
    chart,
    drafted,
)

EDITING = Editing("one-sided")
FRONTS = "bodice-front, skirt-front, facing-front"
WRAP: Parts = {
    "bodice": ("darted-bodice", {}),
    "front": ("wrap-front", {}),
    "skirt": ("a-line-skirt", {}),
    "facing": ("front-and-neck-facing", {}),
    "sleeve": ("set-in-sleeve", {}),
    "pocket": ("turned-patch-pocket", {"width": 110.0, "number": 1}),
    "hem": ("double-hem", {}),
}
COAT: Parts = {
    "bodice": ("darted-bodice", {"button_stand": 60.0}),
    "skirt": ("a-line-skirt", {}),
    "facing": ("front-and-neck-facing", {}),
    "collar": ("two-piece-collar", {}),
    "binding": ("bound-armhole", {}),
    "buttons": ("buttons", {}),
    "hem": ("double-hem", {}),
}
LAPELS: Parts = {
    "bodice": ("darted-bodice", {}),
    "front": ("lapel-front", {}),
    "skirt": ("a-line-skirt", {}),
    "collar": ("notched-collar", {}),
    "hem": ("double-hem", {}),
}
NARROWER = NarrowerUnderFront(Under.LEFT, 25.0)


def wrong(pattern: Pattern, size: int) -> list[str]:
    found = check(pattern, chart()[size])
    return [each.message for each in found if each.severity is not Severity.NOTE]


@pytest.mark.parametrize("size", [0, 4, 9])
@pytest.mark.parametrize("parts", [WRAP, COAT], ids=["wrap", "coat"])
def test_a_narrower_front_underneath_is_sound_in_all_sizes(parts: Parts, size: int) -> None:
    whole = drafted(parts, chart()[size])
    pattern = NARROWER.apply(whole, EDITING)
    assert_seams_true(pattern)
    assert_darts_close(pattern)
    assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())
    assert set(wrong(pattern, size)) <= set(wrong(whole, size))


@pytest.mark.parametrize("parts", [WRAP, COAT], ids=["wrap", "coat"])
def test_every_seam_is_still_sewn_once(parts: Parts) -> None:
    pattern = NARROWER.apply(drafted(parts), EDITING)
    order = plan(pattern)
    assert verify(pattern, order) == ()
    done = [use for operation in order.operations for use in operation.does]
    assert sorted(done) == sorted(use.name for use in pattern.all_uses())
    assert all(step.text for step in steps(pattern, order))


def test_only_the_front_underneath_is_narrower() -> None:
    pattern = NarrowerUnderFront(Under.RIGHT, 30.0).apply(drafted(WRAP), EDITING)
    for name in FRONTS.split(", "):
        reach = {
            side: -pattern.piece(f"{name}-{side}").edge("front-edge").end.x
            for side in ("left", "right")
        }
        assert reach == pytest.approx({"left": 70.0, "right": 30.0})


def test_parted_pieces_have_one_copy_and_their_seams_one_side() -> None:
    pattern = Asymmetric(FRONTS).apply(drafted(WRAP), EDITING)
    for side in (Side.LEFT, Side.RIGHT):
        piece = pattern.piece(f"bodice-front-{side.value}")
        assert [copy.side for copy in piece.copies] == [side]
        assert pattern.seams[f"bodice-side-{side.value}"].sides is Sides(side.value)
    assert "bodice-front" not in pattern.pieces
    assert "bodice-side" not in pattern.seams


def test_a_pocket_on_one_side_stays_on_that_side() -> None:
    pattern = Asymmetric(FRONTS).apply(drafted(WRAP), EDITING)
    (placement,) = pattern.placements.values()
    assert (placement.host, placement.sides) == ("skirt-front-right", Sides.RIGHT)


def test_the_girth_is_that_of_the_pair() -> None:
    """Parted or not, a garment whose two sides are alike goes round the same body."""
    whole = drafted(WRAP)
    parted = Asymmetric(FRONTS).apply(whole, EDITING)
    wide = body(bust_girth=1100.0, waist_girth=900.0, hip_girth=1150.0)
    too_small = [
        {(each.code, each.measured) for each in check(pattern, wide) if "FIT" in each.code}
        for pattern in (whole, parted)
    ]
    assert too_small[0] == too_small[1] != set()


def test_a_piece_on_the_fold_has_no_left_and_right() -> None:
    with pytest.raises(ComponentError, match="cut as a pair"):
        unpaired(drafted(WRAP), ["bodice-back"])


def test_lapels_are_not_narrowed_on_one_side() -> None:
    with pytest.raises(ComponentError, match="lapel cannot be narrowed"):
        NARROWER.apply(drafted(LAPELS), EDITING)


def test_a_front_that_is_narrow_already_is_not_narrowed() -> None:
    with pytest.raises(ComponentError, match="not wider than it is to become"):
        NarrowerUnderFront(Under.LEFT, 80.0).apply(drafted(WRAP), EDITING)


def test_a_button_beyond_the_new_edge_is_not_lost_in_silence() -> None:
    parts: Parts = {**WRAP, "buttons": ("double-breasted-buttons", {"number": 1})}
    with pytest.raises(ComponentError, match="beyond its new edge"):
        NARROWER.apply(drafted(parts), EDITING)


def test_a_row_at_the_edge_closes_over_a_narrower_front() -> None:
    buttons = ("double-breasted-buttons", {"number": 1, "rows": "one", "inside": "nothing"})
    whole = drafted({**WRAP, "buttons": buttons}, chart()[4])
    pattern = NARROWER.apply(whole, EDITING)
    assert set(wrong(pattern, 4)) <= set(wrong(whole, 4))
    assert not any("button" in each for each in wrong(whole, 4))


def test_designs_may_name_both_edits() -> None:
    assert edit_class("asymmetric") is Asymmetric
    assert edit_class("narrower-under-front") is NarrowerUnderFront


def test_buttons_of_parted_fronts_are_counted_by_copies() -> None:
    """A tab is cut twice, its buttons lie on two pieces: as many of each."""
    parts = {**LAPELS, "sleeve": ("set-in-sleeve", {}), "tab": ("shoulder-tab", {})}
    buttoned = {**parts, "buttons": ("double-breasted-buttons", {})}
    pattern = unpaired(drafted(buttoned, chart()[4]), ("bodice-front",))
    assert wrong(pattern, 4) == []
    front = pattern.piece("bodice-front-left")
    bare = replace(front, marks=tuple(m for m in front.marks if m.name != "tab closing"))
    fewer = replace(pattern, pieces={**pattern.pieces, front.name: bare})
    assert "Bodice front, right has 1 buttons, but 2 buttonholes." in wrong(fewer, 4)


def test_a_front_that_parts_low_does_not_gape_where_it_is_divided() -> None:
    """The lower part of a divided lapel front has the bust; where the fronts part lies above."""
    parts = {**LAPELS, "buttons": ("double-breasted-buttons", {})}
    whole = drafted(parts, chart()[4])
    front = whole.piece("bodice-front")
    bare = {name: at for name, at in front.points.items() if name != "break point"}
    upper = replace(
        whole.piece("collar-facing"), points={"break point": front.points["break point"]}
    )
    divided = {front.name: replace(front, points=bare), upper.name: upper}
    moved = replace(whole, pieces={**whole.pieces, **divided})
    assert "BUTTON-BUST" not in {each.code for each in check(moved, chart()[4])}
