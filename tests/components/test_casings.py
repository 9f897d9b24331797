"""Casings for elastic and drawstrings: their height, what is drawn through, and who is warned."""

from __future__ import annotations

import pytest

from clothwise.checks import check
from clothwise.pattern import Caution, FinishKind, NotionUnit, Pattern, Ply, Severity
from clothwise.work import plan, verify
from component_cases import (
    Edits,
    Parts,
    assert_seams_true,
    assert_sound_in_sizes,
    drafted,
    dress_with,
    skirt_alone,
)
from survey import survey_women

SLEEVED = dress_with({"sleeve": ("set-in-sleeve", {})})
GATHERED = skirt_alone("gathered-skirt", {})

HOSTS: dict[str, tuple[Parts, dict[str, str]]] = {
    "grown on, sleeves": (SLEEVED, {"piece": "sleeve", "edge": "hem", "width": "10mm"}),
    "a strip, sleeves": (
        SLEEVED,
        {"piece": "sleeve", "edge": "hem", "width": "10mm", "made": "strip"},
    ),
    "grown on, skirt": (GATHERED, {"piece": "skirt-front", "edge": "hem"}),
    "a strip, skirt": (GATHERED, {"piece": "skirt-front", "edge": "hem", "made": "strip"}),
    "across a skirt": (
        SLEEVED,
        {"piece": "skirt-back", "edge": "side", "where": "across", "at": "75%"},
    ),
    "across a gathered skirt": (
        GATHERED,
        {"piece": "skirt-front", "edge": "side", "where": "across", "at": "60%"},
    ),
}


def casing(words: dict[str, str], **more: str) -> Edits:
    return (("casing", {**words, **more}),)


def bought(pattern: Pattern, name: str) -> float:
    return sum(n.amount for n in pattern.notions if n.name == name)


@pytest.mark.parametrize("draws", ["elastic", "drawstring"])
@pytest.mark.parametrize("what", HOSTS)
def test_a_casing_is_sound_in_sizes(what: str, draws: str) -> None:
    parts, words = HOSTS[what]
    assert_sound_in_sizes(parts, casing(words, draws=draws))
    assert_seams_true(drafted(parts, edits=casing(words, draws=draws)))


@pytest.mark.parametrize("what", HOSTS)
def test_women_of_the_survey_get_it_too(what: str) -> None:
    parts, words = HOSTS[what]
    for woman in survey_women()[::60]:
        found = []
        for edits in ((), casing(words)):
            pattern = drafted(parts, woman, edits)
            assert verify(pattern, plan(pattern)) == ()
            errors = (e for e in check(pattern, woman) if e.severity is Severity.ERROR)
            found.append({each.code for each in errors})
        assert found[1] <= found[0]


def test_the_casing_is_as_high_as_the_elastic_needs() -> None:
    """5 mm more than the elastic, and a heading beyond it."""
    parts, words = HOSTS["grown on, sleeves"]
    hem = drafted(parts, edits=casing(words, width="12mm")).finishes["sleeve-hem"]
    assert (hem.kind, hem.depth_mm, hem.turn_mm) == (FinishKind.DOUBLE_HEM, 17.0, 8.0)
    hem = drafted(parts, edits=casing(words, width="12mm", heading="10mm")).finishes["sleeve-hem"]
    assert hem.depth_mm == pytest.approx(27.0)


def test_elastic_in_both_sleeves() -> None:
    """Each three quarters of the hem, and 20 mm for the lap."""
    parts, words = HOSTS["grown on, sleeves"]
    pattern = drafted(parts, edits=casing(words))
    edge = pattern.run_length(pattern.finishes["sleeve-hem"].run)
    assert bought(pattern, "elastic") == pytest.approx(2 * (0.75 * edge + 20))
    pattern = drafted(parts, edits=casing(words, length="200mm"))
    assert bought(pattern, "elastic") == pytest.approx(2 * 220)


def test_elastic_round_a_skirt_is_one_ring() -> None:
    """Half of the hem is drawn."""
    for what in ("grown on, skirt", "a strip, skirt"):
        parts, words = HOSTS[what]
        before = drafted(parts)
        half = before.run_length(before.finishes["hem"].run)
        pattern = drafted(parts, edits=casing(words, drawn_to="0.5"))
        assert bought(pattern, "elastic") == pytest.approx(half + 20)


def test_elastic_across_a_back_is_held_in_the_side_seams() -> None:
    """The strip is cut on the fold; 15 mm at each end are sewn in."""
    parts, words = HOSTS["across a skirt"]
    pattern = drafted(parts, edits=casing(words, width="20mm"))
    strip = pattern.piece("edit-1-strip")
    assert strip.fold_edge is not None
    assert strip.outline.polygon.bounds[3] - strip.outline.polygon.bounds[1] == pytest.approx(25)
    long = strip.edge("lower").length
    assert bought(pattern, "elastic") == pytest.approx(2 * long * 0.75 + 30)
    spans = [layer for layer in pattern.seams["skirt-side"].layers if layer.span]
    assert [layer.run.pieces for layer in spans] == [("edit-1-strip",)]
    order = [each.name for each in plan(pattern).operations]
    assert order.index("edit-1-strip") < order.index("edit-1-through")
    assert order.index("edit-1-through") < order.index("skirt-sides")


def test_a_strip_may_be_of_another_cloth() -> None:
    parts, words = HOSTS["across a skirt"]
    pattern = drafted(parts, edits=casing(words, role="contrast"))
    roles = {copy.role for copy in pattern.piece("edit-1-strip").copies if copy.ply is Ply.SHELL}
    assert roles == {"contrast"}


@pytest.mark.parametrize("what", HOSTS)
def test_cords_are_warned_of(what: str) -> None:
    """Cords on children's clothes are what rules forbid first: the step says so."""
    parts, words = HOSTS[what]
    pattern = drafted(parts, edits=casing(words, draws="drawstring"))
    (through,) = (e for e in pattern.operations if "drawstring through" in e.title)
    assert Caution.CORD in through.cautions
    assert through.shows
    assert "children" in through.text
    (eyelets,) = (n for n in pattern.notions if n.name == "eyelets")
    assert eyelets.unit is NotionUnit.PIECES
    assert eyelets.amount in (2, 4)
    assert bought(pattern, "elastic") == 0.0
    assert bought(pattern, "ribbon or cord") > 2 * 200


def test_what_a_cord_comes_out_of_lies_in_the_casing() -> None:
    parts, words = HOSTS["grown on, sleeves"]
    pattern = drafted(parts, edits=casing(words, draws="drawstring", width="10mm"))
    sleeve = pattern.piece("sleeve")
    eyelets = [mark for mark in sleeve.marks if mark.name == "eyelet"]
    assert len(eyelets) == 2
    hem = sleeve.edge("hem")
    for mark in eyelets:
        assert mark.at is not None
        off = hem.point_at(hem.nearest(mark.at)).distance(mark.at)
        assert off == pytest.approx(7.5, abs=0.01)
