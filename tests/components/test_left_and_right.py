"""Left and right that differ: two pieces in place of a pair, and a narrower front underneath."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from itertools import pairwise

import pytest

from clothwise.checks import check
from clothwise.components.bodices.lapel_front import ROLL_LINE
from clothwise.components.edits.edit import Editing
from clothwise.components.edits.registry import edit_class
from clothwise.components.edits.sides import Asymmetric
from clothwise.components.edits.under_front import NarrowerUnderFront, Under
from clothwise.errors import ComponentError
from clothwise.geometry import Path, angle_between
from clothwise.pattern import Body, MarkKind, Pattern, Piece, Severity, Side, Sides
from clothwise.pattern.siding import unpaired
from clothwise.work import plan, steps, verify
from component_cases import (
    Parameters,
    Parts,
    assert_darts_close,
    assert_seams_true,
    body,
    chart,
    drafted,
    drafted_or_refused,
)
from survey import survey_women

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
BUTTONED: Parts = {
    **LAPELS,
    "binding": ("bound-armhole", {}),
    "buttons": ("double-breasted-buttons", {"rows": "one"}),
}
NARROWER = NarrowerUnderFront(Under.LEFT, 25.0)
LAPEL_FRONTS: list[Parameters] = [
    {},
    {"overlap": 95.0, "lapel_width": 110.0},
    {"overlap": 50.0, "break_above_bust": 60.0},
    {"break_above_bust": -60.0},
]


def wrong(pattern: Pattern, size: int) -> list[str]:
    return messages(pattern, chart()[size])


def messages(pattern: Pattern, woman: Body) -> list[str]:
    found = check(pattern, woman)
    return [each.message for each in found if each.severity is not Severity.NOTE]


@pytest.mark.parametrize("size", [0, 4, 9])
@pytest.mark.parametrize("parts", [WRAP, COAT, BUTTONED], ids=["wrap", "coat", "lapels"])
def test_a_narrower_front_underneath_is_sound_in_all_sizes(parts: Parts, size: int) -> None:
    whole = drafted(parts, chart()[size])
    pattern = NARROWER.apply(whole, EDITING)
    assert_seams_true(pattern)
    assert_darts_close(pattern)
    assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())
    assert set(wrong(pattern, size)) <= set(wrong(whole, size))


@pytest.mark.parametrize("parts", [WRAP, COAT, BUTTONED], ids=["wrap", "coat", "lapels"])
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


def lapel_front(pattern: Pattern, side: str, piece: str = "bodice-front") -> Piece:
    return pattern.piece(f"{piece}-{side}")


@pytest.mark.parametrize("front", LAPEL_FRONTS, ids=str)
@pytest.mark.parametrize("size", range(10))
def test_a_narrower_front_keeps_its_lapel_in_all_sizes(size: int, front: Parameters) -> None:
    whole = drafted({**BUTTONED, "front": ("lapel-front", front)}, chart()[size])
    pattern = NARROWER.apply(whole, EDITING)
    assert wrong(pattern, size) == []
    assert_seams_true(pattern)
    for piece in ("bodice-front", "collar-facing"):
        left, right = (lapel_front(pattern, side, piece) for side in ("left", "right"))
        for edge in ("neck", "gorge", "lapel-top", "lapel-edge"):
            assert left.edge(edge) == right.edge(edge)
        assert rolls(left) == rolls(right) != []
        assert left.points.get("break point") == right.points.get("break point")


def test_narrower_lapel_fronts_of_any_shape_are_sound_for_women_of_the_survey() -> None:
    dice, tried = random.Random(7), 0
    for woman in survey_women()[::4]:
        front: Parameters = {
            "overlap": dice.uniform(40, 100),
            "break_above_bust": dice.uniform(-60, 60),
            "lapel_width": dice.uniform(60, 110),
        }
        whole = drafted_or_refused({**BUTTONED, "front": ("lapel-front", front)}, woman)
        overlap = dice.uniform(15, 40)
        if whole is None or not has_room(whole, overlap):
            continue
        pattern = NarrowerUnderFront(Under.LEFT, overlap).apply(whole, EDITING)
        assert_seams_true(pattern)
        assert sideless(pattern, woman) <= sideless(whole, woman), woman.name
        tried += 1
    assert tried > 25


def has_room(whole: Pattern, overlap: float) -> bool:
    """From break to waist twice what the edge steps in by."""
    edge = whole.piece("bodice-front").edge("front-edge")
    return edge.start.y - edge.end.y >= 2 * (-edge.start.x - overlap)


def sideless(pattern: Pattern, woman: Body) -> set[str]:
    found = messages(pattern, woman)
    return {each.replace(", left", "").replace(", right", "") for each in found}


@pytest.mark.parametrize("overlap", [74.0, 70.0, 60.0, 45.0, 10.0])
def test_steps_small_and_large_can_be_cut_and_sewn(overlap: float) -> None:
    """Allowances of 10 mm lie along them; a small step is drawn out until they do."""
    pattern = NarrowerUnderFront(Under.LEFT, overlap).apply(drafted(BUTTONED, chart()[0]), EDITING)
    assert wrong(pattern, 0) == []


def rolls(piece: Piece) -> list[Path]:
    return [mark.path for mark in piece.marks if mark.name == ROLL_LINE and mark.path]


def test_below_the_break_the_edge_steps_in_as_a_fair_line() -> None:
    """It leaves the lapel and meets the straight edge without a corner, and never turns back."""
    pattern = NARROWER.apply(drafted(BUTTONED), EDITING)
    front = lapel_front(pattern, "left")
    edge = front.edge("front-edge")
    for piece in (front, lapel_front(pattern, "left", "collar-facing")):
        line, lapel = piece.edge("front-edge"), piece.edge("lapel-edge")
        assert angle_between(lapel.end_tangent, line.start_tangent) == pytest.approx(0, abs=1e-6)
        assert line.end_tangent.unit.y == pytest.approx(-1.0)
        assert line.end.x == pytest.approx(-25.0)
    ways = [edge.tangent_at(at).unit for at in steps_along(edge)]
    bends = [angle_between(one, two) for one, two in pairwise(ways)]
    assert all(way.y < -math.cos(math.radians(45)) and way.x > -1e-9 for way in ways)
    assert max(map(abs, bends)) < math.radians(4)
    signs = [bend > 0 for bend in bends if abs(bend) > 1e-6]
    assert sum(one is not two for one, two in pairwise(signs)) == 1


def steps_along(edge: Path) -> list[float]:
    return [edge.length * number / 100 for number in range(101)]


def test_facing_and_front_step_in_alike() -> None:
    pattern = NARROWER.apply(drafted(BUTTONED), EDITING)
    front, facing = (
        lapel_front(pattern, "left", piece).edge("front-edge")
        for piece in ("bodice-front", "collar-facing")
    )
    for at in steps_along(front):
        assert facing.point_at(at).distance(front.point_at(at)) < 0.05


def test_what_lies_under_is_covered_by_the_front_on_top() -> None:
    """Both fronts share one center front; turned over, the narrow edge lies inside the wide one."""
    pattern = NARROWER.apply(drafted(BUTTONED), EDITING)
    wide = lapel_front(pattern, "right").outline.polygon.buffer(0.1)
    assert wide.covers(lapel_front(pattern, "left").outline.polygon)
    skirts = [pattern.piece(f"skirt-front-{side}").outline.polygon for side in ("left", "right")]
    assert skirts[1].buffer(0.1).covers(skirts[0])


@pytest.mark.parametrize("overlap", [10.0, 25.0, 60.0])
def test_the_inner_button_moves_with_the_edge_and_still_meets_its_hole(overlap: float) -> None:
    pattern = NarrowerUnderFront(Under.LEFT, overlap).apply(drafted(BUTTONED, chart()[4]), EDITING)
    under, top = lapel_front(pattern, "left"), lapel_front(pattern, "right")
    (hole,) = [m.path for m in under.marks if m.kind is MarkKind.BUTTONHOLE and m.path]
    (button,) = [m for m in top.marks if m.kind is MarkKind.BUTTON]
    assert button.at is not None
    ends = sorted((hole.start.x, hole.end.x))
    assert ends[0] + overlap >= 0.75 * button.size_mm - 1e-6  # F07: from hole to edge
    assert ends[0] < -button.at.x < ends[1]
    assert wrong(pattern, 4) == []


def test_the_step_is_told_once_and_only_for_lapels() -> None:
    def told(parts: Parts) -> list[str]:
        pattern = NARROWER.apply(drafted(parts), EDITING)
        texts = [step.text for step in steps(pattern, plan(pattern))]
        return [text for text in texts if "steps in below the break" in text]

    (text,) = told(BUTTONED)
    assert "The left front lies under" in text
    assert told(WRAP) == []


def test_a_step_without_room_above_the_waist_is_refused() -> None:
    parts: Parts = {**LAPELS, "front": ("lapel-front", {"break_above_bust": -120.0})}
    with pytest.raises(ComponentError, match="cannot step in so far") as refused:
        NarrowerUnderFront(Under.LEFT, 10.0).apply(drafted(parts), EDITING)
    assert "Raise overlap of this edit" in str(refused.value)


def test_a_front_that_is_narrow_already_is_not_narrowed() -> None:
    with pytest.raises(ComponentError, match="not wider than it is to become"):
        NarrowerUnderFront(Under.LEFT, 80.0).apply(drafted(WRAP), EDITING)


def test_a_button_beyond_the_new_edge_is_not_lost_in_silence() -> None:
    """The right front lies on top, with the buttonholes at its edge."""
    parts: Parts = {**WRAP, "buttons": ("double-breasted-buttons", {"number": 1})}
    with pytest.raises(ComponentError, match="beyond its new edge"):
        NarrowerUnderFront(Under.RIGHT, 25.0).apply(drafted(parts), EDITING)


def test_a_row_at_the_edge_closes_over_a_narrower_front() -> None:
    buttons = ("double-breasted-buttons", {"number": 1, "rows": "one", "inside": "nothing"})
    whole = drafted({**WRAP, "buttons": buttons}, chart()[4])
    pattern = NARROWER.apply(whole, EDITING)
    assert set(wrong(pattern, 4)) <= set(wrong(whole, 4))
    assert not any("button" in each for each in wrong(whole, 4))


@pytest.mark.parametrize("parts", [WRAP, COAT, BUTTONED], ids=["wrap", "coat", "lapels"])
def test_a_faced_hem_begins_under_the_facing_of_the_narrower_front(parts: Parts) -> None:
    whole = drafted({**parts, "hem": ("faced-hem", {})}, chart()[4])
    pattern = NARROWER.apply(whole, EDITING)
    assert_seams_true(pattern)
    assert set(wrong(pattern, 4)) <= set(wrong(whole, 4))
    first, strip, hung = pattern.seams["hem-edge-left"].layers
    assert hung.span == pytest.approx((0.0, pattern.run_length(hung.run)))
    assert strip.span is not None
    assert strip.span[1] == pytest.approx(pattern.run_length(first.run))


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
