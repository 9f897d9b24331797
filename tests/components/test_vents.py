"""Vents let into seams: what grows, what is sewn across, and that it can be worn and walked in."""

from __future__ import annotations

import math

import pytest

from clothwise.checks import check
from clothwise.pattern import MarkKind, Severity
from clothwise.work import plan, verify
from component_cases import (
    Edits,
    Parts,
    assert_seams_true,
    assert_sound_in_sizes,
    body,
    drafted,
    dress_with,
    skirt_alone,
)
from survey import survey_women

DRESS = dress_with({"armhole": ("bound-armhole", {})})

HOSTS: dict[str, tuple[Parts, str, int]] = {
    "the side of a flared skirt": (DRESS, "skirt-side", 200),
    "the side of a straight skirt": (skirt_alone("straight-skirt", {}), "skirt-side", 150),
    "a seam between gores": (skirt_alone("gored-skirt", {}), "skirt-front-gores", 150),
    "the seam of a sleeve": (
        dress_with({"sleeve": ("set-in-sleeve", {})}),
        "sleeve-underarm",
        60,
    ),
}
"""Parts, the seam, and the length of a vent that fits there in every size."""


def vent(seam: str, long: int, **more: str) -> Edits:
    return (("vent", {"seam": seam, "length": f"{long}mm", **more}),)


@pytest.mark.parametrize("what", HOSTS)
def test_a_vent_is_sound_in_sizes(what: str) -> None:
    parts, seam, long = HOSTS[what]
    assert_sound_in_sizes(parts, vent(seam, long))
    assert_sound_in_sizes(parts, vent(seam, long, corner="mitred", width="30mm"))


@pytest.mark.parametrize("what", HOSTS)
def test_both_sides_grow_by_the_strip(what: str) -> None:
    """The strip is as wide as asked, its top falls by half of that, and nothing else grows."""
    parts, name, long = HOSTS[what]
    before, after = drafted(parts), drafted(parts, edits=vent(name, long))
    assert after.findings == ()
    top_mm = math.hypot(40.0, 20.0)
    for layer in after.seams[name].layers:
        for edge in (layer.run.edges[0], layer.run.edges[-1]):
            if not edge.edge.endswith("-top"):
                continue
            assert after.edge_length(edge) == pytest.approx(top_mm)
            stem = edge.edge.removesuffix("-edit-1-top")
            was = before.piece(edge.piece).edge(stem).length
            now = after.piece(edge.piece).edge(stem).length
            assert was - now == pytest.approx(long, abs=0.1)
    grown = {
        piece: after.piece(piece).outline.area - before.piece(piece).outline.area
        for piece in after.pieces
        if after.piece(piece).outline != before.piece(piece).outline
    }
    sides = sum(len(after.seams[name].layers) for _ in grown) / len(grown)
    expected = 40.0 * (long - 10.0)  # a strip whose top falls from the seam by 20 mm
    for area in grown.values():
        strips = sides if len(grown) == 1 else 1
        assert area == pytest.approx(strips * expected, rel=0.04)
    assert_seams_true(after)


def test_the_hem_of_a_sleeve_is_open_at_its_vent() -> None:
    parts, name, long = HOSTS["the seam of a sleeve"]
    before, after = drafted(parts), drafted(parts, edits=vent(name, long))
    assert before.finishes["sleeve-hem"].run.closed
    assert not after.finishes["sleeve-hem"].run.closed
    assert verify(after, plan(after)) == ()


def test_a_skirt_hem_ends_at_the_vent_on_both_sides() -> None:
    after = drafted(DRESS, edits=vent("skirt-side", 200))
    parts = [each for name, each in after.finishes.items() if name.startswith("hem")]
    assert len(parts) == 2
    (step,) = (each for each in after.operations if "hem" in each.does)
    assert {each.name for each in parts} <= set(step.does)


def test_the_piece_on_top_has_the_fold_line() -> None:
    for over in ("skirt-front", "skirt-back"):
        after = drafted(DRESS, edits=vent("skirt-side", 200, over=over))
        folded = {
            name
            for name, piece in after.pieces.items()
            if any(m.kind is MarkKind.FOLD_LINE and m.name == "vent fold" for m in piece.marks)
        }
        assert folded == {over}


def test_a_vent_gives_room_to_walk() -> None:
    """A long skirt that is too narrow for a step is not, once its sides open."""
    parts = skirt_alone("straight-skirt", {"length_mm": 800.0, "vent_mm": 100.0})
    parts = {name: (kind, {k.removesuffix("_mm"): v for k, v in p.items()})
             for name, (kind, p) in parts.items()}  # fmt: skip
    wearer = body()
    codes = [
        {each.code for each in check(drafted(parts, wearer, edits), wearer)}
        for edits in ((), vent("skirt-side", 450))
    ]
    assert "STRIDE-ROOM" in codes[0]
    assert "STRIDE-ROOM" not in codes[1]


def test_vents_on_women_of_the_survey() -> None:
    """What a check calls an error with the vent it calls one without."""
    parts, name, long = HOSTS["the side of a flared skirt"]
    for woman in survey_women()[::40]:
        before, after = (
            {
                each.code
                for each in check(drafted(parts, woman, edits), woman)
                if each.severity is Severity.ERROR
            }
            for edits in ((), vent(name, long))
        )
        assert after <= before


def test_a_slit_does_not_open_a_center_seam_at_the_waist() -> None:
    """The waistband goes on over the other half, though the drawn half ends there."""
    for parts, end in (
        (skirt_alone("straight-skirt", {}), "start"),
        (skirt_alone("gored-skirt", {}), "start"),
    ):
        edit = ("slit", {"seam": "skirt-center-back", "end": end, "length": "40mm"})
        (lost,) = drafted(parts, edits=(edit,)).findings
        assert "across this end" in lost.message


def test_a_slit_opens_a_center_seam_and_a_sleeve() -> None:
    """Both sides of a center seam are one edge; a sleeve's hem was closed all round."""
    for parts, name, end in (
        (skirt_alone("gored-skirt", {}), "skirt-center-back", "end"),
        (HOSTS["the seam of a sleeve"][0], "sleeve-underarm", "start"),
    ):
        for which in (end, "start", "end"):
            after = drafted(
                parts, edits=(("slit", {"seam": name, "end": which, "length": "60mm"}),)
            )
            if after.findings:
                continue
            assert verify(after, plan(after)) == ()
            assert [e for e in check(after) if e.severity is Severity.ERROR] == []
            break
        else:
            pytest.fail(f"{name} opens at neither end")
