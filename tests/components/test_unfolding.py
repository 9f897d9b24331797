"""Pieces drawn out to both sides and folded again: the same garment, told for each side."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwise.checks import check
from clothwise.components import draft, read_design
from clothwise.pattern import Pattern, Severity
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.work import plan, thread_need, verify
from component_cases import (
    EXAMPLES,
    Edits,
    Parts,
    assert_seams_true,
    chart,
    drafted,
    dress_with,
    skirt_alone,
)
from survey import survey_women

HOSTS: dict[str, Parts] = {
    "dress": dress_with(
        {
            "collar": ("two-piece-collar", {}),
            "sleeve": ("set-in-sleeve", {}),
            "pocket": ("turned-patch-pocket", {}),
        }
    ),
    "half circle": skirt_alone("circle-skirt", {}),
    "gathered": skirt_alone("gathered-skirt", {}),
    "straight": skirt_alone("straight-skirt", {}),
}


def folded_pieces(pattern: Pattern) -> list[str]:
    return [name for name, piece in pattern.pieces.items() if piece.fold_edge]


def unfold(*pieces: str) -> Edits:
    return tuple(("unfold", {"piece": name}) for name in pieces)


def fold(*pieces: str) -> Edits:
    return tuple(("fold", {"piece": name}) for name in pieces)


@pytest.mark.parametrize("what", HOSTS)
def test_unfolded_and_folded_is_exactly_as_before(what: str) -> None:
    before = drafted(HOSTS[what])
    names = folded_pieces(before)
    assert names
    assert drafted(HOSTS[what], edits=(*unfold(*names), *fold(*reversed(names)))) == before


@pytest.mark.parametrize("what", HOSTS)
def test_all_pieces_unfolded_are_the_same_garment(what: str) -> None:
    """Twice the area, the same thread, no finding, and every seam is sewn once on each side."""
    for wearer in (*chart()[::4], *survey_women()[::90]):
        before = drafted(HOSTS[what], wearer)
        names = folded_pieces(before)
        after = drafted(HOSTS[what], wearer, unfold(*names))
        for name in names:
            half, whole = before.piece(name), after.piece(name)
            assert whole.fold_edge is None
            assert whole.outline.area == pytest.approx(2 * half.outline.area, rel=1e-9)
            assert len(whole.darts) == 2 * len(half.darts)
        assert_seams_true(after)
        assert verify(after, plan(after)) == ()
        codes = [{each.code for each in check(each, wearer)} for each in (before, after)]
        assert codes[1] <= codes[0]
        assert thread_need(after).thread_mm == pytest.approx(thread_need(before).thread_mm)


def test_only_one_side_changes() -> None:
    """The right side seam is longer by what the slid end added; the left is as it was."""
    parts = HOSTS["half circle"]
    lower = ("reshape", {"piece": "skirt", "edge": "hem-right", "through": "50% 10mm"})
    plain = drafted(parts, edits=unfold("skirt"))
    after = drafted(parts, edits=(*unfold("skirt"), lower))
    assert after.findings == ()
    for side, changed in (("left", False), ("right", True)):
        same = after.piece("skirt").edge(f"hem-{side}") == plain.piece("skirt").edge(f"hem-{side}")
        assert same is not changed


def test_an_early_edit_waits_for_the_unfolding_before_it() -> None:
    """A reshape is made as soon as its piece is there, but for an unfold that stands before it."""
    parts = HOSTS["half circle"]
    both = ("reshape", {"piece": "skirt", "edge": "hem", "through": "50% 10mm"})
    one = ("reshape", {"piece": "skirt", "edge": "hem-left", "through": "50% 10mm"})
    assert drafted(parts, edits=(both, *unfold("skirt"))).findings == ()
    (lost,) = drafted(parts, edits=(one, *unfold("skirt"))).findings
    assert "edit 1" in lost.message
    assert drafted(parts, edits=(*unfold("skirt"), one)).findings == ()


@pytest.mark.parametrize(
    ("edit", "says"),
    [
        (("reshape", {"piece": "skirt-back", "edge": "hem-left", "through": "50% 5mm"}), "differ"),
        (("split", {"piece": "skirt-back", "from": "side-left", "to": "hem-left",
                    "left": "skirt-back", "right": "corner"}), "neither side"),
        (("slit", {"seam": "skirt-side-left", "end": "start"}), "neither side"),
        (("allowance", {"seam": "skirt-side-left", "by": "1cm"}), "other side with another"),
        (("finish", {"seam": "skirt-side-left", "as": "French"}), "on one side only"),
    ],
    ids=lambda value: value if isinstance(value, str) else value[0],
)  # fmt: skip
def test_sides_that_differ_are_not_folded(edit: tuple[str, dict[str, str]], says: str) -> None:
    pattern = drafted(HOSTS["dress"], edits=(*unfold("skirt-back"), edit, *fold("skirt-back")))
    assert pattern.findings
    assert says in pattern.findings[0].message
    assert verify(pattern, plan(pattern)) == ()


def test_a_mark_of_one_side_is_kept_for_its_copy() -> None:
    mark = ("mark", {"piece": "skirt-back", "edge": "side-left", "inside": "5cm", "label": "spot"})
    after = drafted(HOSTS["dress"], edits=(*unfold("skirt-back"), mark, *fold("skirt-back")))
    (found,) = (each for each in after.piece("skirt-back").marks if each.name == "spot")
    assert found.only_side == "left"
    assert found.at is not None
    assert found.at.x > 0  # the half is drawn for the right, toward greater x
    kept = tuple(m for m in after.piece("skirt-back").marks if m.name != "spot")
    piece = replace(after.piece("skirt-back"), marks=kept)
    assert piece == drafted(HOSTS["dress"]).piece("skirt-back")


def test_a_pair_with_a_straight_center_seam_becomes_one_piece() -> None:
    """The lowest tier is too wide for the fold: its halves are sewn together at the center."""
    tiered = read_design(EXAMPLES / "tiered-skirt")
    before = draft(tiered.design, tiered.body("40"), tiered.design.chosen({}, view="B"))
    name = "skirt-4-front"

    def edited(*edits: tuple[str, dict[str, str]]) -> Pattern:
        made = (EditEntry(f"edit-{n}", kind, words) for n, (kind, words) in enumerate(edits, 1))
        design = replace(tiered.design, edits=tuple(made))
        return draft(design, tiered.body("40"), design.chosen({}, view="B"))

    after = edited(*unfold(name))
    assert after.findings == ()
    assert f"{name}-center" in before.seams
    assert f"{name}-center" not in after.seams
    whole, half = after.piece(name).outline.area, before.piece(name).outline.area
    assert whole == pytest.approx(2 * half)
    assert verify(after, plan(after)) == ()
    assert [e for e in check(after) if e.severity is Severity.ERROR] == []
    again = edited(*unfold(name), *fold(name))
    assert again.piece(name).fold_edge == "center-seam"
    assert [e for e in check(again) if e.severity is Severity.ERROR] == []
