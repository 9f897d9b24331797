"""One seam or one hem finished otherwise: what is cut, bought, sewn and said follows."""

from __future__ import annotations

import pytest

from clothwise.checks import check
from clothwise.pattern import EdgeCare, FinishKind, Pattern, Pressing
from clothwise.work import plan, thread_need, verify
from component_cases import (
    Edits,
    Parts,
    assert_sound_in_sizes,
    drafted,
    dress_with,
    skirt_alone,
)

DRESS = dress_with({"armhole": ("bound-armhole", {})})
FRENCH_SIDES: Parts = {**DRESS, "seams": ("seam-finish", {"finish": "French", "seams": "side"})}
BOUND_SIDES: Parts = {**DRESS, "seams": ("seam-finish", {"finish": "bound", "seams": "side"})}

SEAM_CARES = {
    "overlocked open": (EdgeCare.EACH, Pressing.OPEN),
    "overlocked together": (EdgeCare.TOGETHER, Pressing.TOWARD_LAST),
    "French": (EdgeCare.FRENCH, Pressing.TOWARD_LAST),
    "flat-felled": (EdgeCare.FELLED, Pressing.TOWARD_LAST),
    "bound": (EdgeCare.BOUND, Pressing.OPEN),
}


def finish(**words: str) -> tuple[str, dict[str, str]]:
    return ("finish", {name.removesuffix("_"): word for name, word in words.items()})


def step(pattern: Pattern, does: str) -> str:
    (found,) = (each.text for each in pattern.operations if does in each.does)
    return found


@pytest.mark.parametrize("garment", [DRESS, FRENCH_SIDES, BOUND_SIDES], ids=["", "French", "bound"])
@pytest.mark.parametrize("word", SEAM_CARES)
def test_a_seam_is_finished_as_asked_whatever_the_garment_says(garment: Parts, word: str) -> None:
    pattern = drafted(garment, edits=(finish(seam="skirt-side", as_=word),))
    seam = pattern.seams["skirt-side"]
    assert (seam.care, seam.pressing) == SEAM_CARES[word]
    words = step(pattern, "skirt-side")
    assert words.count("To bind an edge") == (1 if word == "bound" else 0)
    assert ("wrong sides together" in words) is (word == "French")
    assert ("Neaten the edges and press open" in words) is (word == "overlocked open")
    assert check(pattern) == ()
    assert verify(pattern, plan(pattern)) == ()


@pytest.mark.parametrize("word", SEAM_CARES)
def test_finished_one_way_and_back_is_as_plain(word: str) -> None:
    """Allowance, care, thread and tape are those of the plain seam again."""
    plain = drafted(DRESS)
    back = drafted(
        DRESS,
        edits=(
            finish(seam="skirt-side", as_=word),
            finish(seam="skirt-side", as_="overlocked open"),
        ),
    )
    assert back.seams == plain.seams
    assert back.notions == plain.notions
    assert thread_need(back).thread_mm == pytest.approx(thread_need(plain).thread_mm)


def test_the_tape_of_the_garment_is_less_by_what_one_seam_took() -> None:
    """Both edges on both sides, each 30 mm longer than the seam: 4 times the seam and 120 mm."""
    before = drafted(BOUND_SIDES)
    after = drafted(BOUND_SIDES, edits=(finish(seam="skirt-side", as_="French"),))
    tape = [
        sum(n.amount for n in each.notions if n.name == "bias tape, single fold")
        for each in (before, after)
    ]
    side = before.run_length(before.seams["skirt-side"].layers[0].run)
    assert tape[0] - tape[1] == pytest.approx(4 * side + 120)


def test_a_narrow_allowance_grows_to_what_the_finish_needs() -> None:
    """6 mm finished and 4 mm more make 10 mm; asked for, an allowance is taken as it is."""
    narrow = ("allowance", {"seam": "skirt-side", "by": "5mm"})
    pattern = drafted(DRESS, edits=(narrow, finish(seam="skirt-side", as_="French")))
    assert pattern.seams["skirt-side"].allowance_mm == pytest.approx(10.0)
    pattern = drafted(DRESS, edits=(finish(seam="skirt-side", as_="French", allowance="12mm"),))
    assert pattern.allowance("skirt-front", "side") == pytest.approx(12.0)


def test_one_side_alone_gets_a_step_of_its_own() -> None:
    edits: Edits = (
        ("asymmetric", {"pieces": "bodice-front, skirt-front"}),
        finish(seam="skirt-side-left", as_="bound"),
    )
    pattern = drafted(DRESS, edits=edits)
    (alone,) = (each for each in pattern.operations if "skirt-side-left" in each.does)
    (rest,) = (each for each in pattern.operations if "skirt-side-right" in each.does)
    assert alone.does == ("skirt-side-left",)
    assert "in a step of its own" in rest.text
    assert "To bind an edge" not in rest.text
    assert verify(pattern, plan(pattern)) == ()


@pytest.mark.parametrize(
    ("word", "kind", "allowance_mm"),
    [
        ("single hem", FinishKind.SINGLE_HEM, 30.0),
        ("double hem", FinishKind.DOUBLE_HEM, 38.0),
        ("rolled hem", FinishKind.DOUBLE_HEM, 6.0),
        ("bound", FinishKind.BOUND, 0.0),
        ("overlocked", FinishKind.OVERLOCKED, 0.0),
    ],
)
def test_a_hem_is_made_as_asked(word: str, kind: FinishKind, allowance_mm: float) -> None:
    edit = finish(piece="skirt-front", edge="hem", as_=word, depth="30mm")
    pattern = drafted(DRESS, edits=(edit,))
    assert pattern.finishes["hem"].kind is kind
    assert pattern.allowance("skirt-back", "hem") == pytest.approx(allowance_mm)
    assert_sound_in_sizes(DRESS, (edit,))


def test_a_bound_hem_takes_tape_for_all_of_it() -> None:
    """Half of the hem is drawn; 50 mm are for the ends."""
    pattern = drafted(
        skirt_alone("gored-skirt", {}),
        edits=(finish(piece="skirt-center-front", edge="hem", as_="bound", width="8mm"),),
    )
    (tape,) = (each for each in pattern.notions if each.name == "bias tape, double fold")
    half = pattern.run_length(pattern.finishes["hem"].run)
    assert tape.amount == pytest.approx(2 * half + 50)
    assert tape.detail.startswith("8 mm finished")


def test_a_hem_through_which_elastic_runs_is_left_alone() -> None:
    parts = dress_with({"sleeve": ("set-in-sleeve", {}), "elastic": ("sleeve-elastic", {})})
    pattern = drafted(parts)
    hem = next(name for name in pattern.finishes if "sleeve" in name)
    edge = pattern.finishes[hem].run.edges[0]
    lost = drafted(parts, edits=(finish(piece=edge.piece, edge=edge.edge, as_="single hem"),))
    assert "drawn through" in lost.findings[0].message


def test_enclosed_seams_are_refused_where_they_end_at_a_vent() -> None:
    vent = ("vent", {"seam": "skirt-side"})
    pattern = drafted(DRESS, edits=(vent, finish(seam="skirt-side", as_="French")))
    (lost,) = pattern.findings
    assert "The edit 2 (finish)" in lost.message
    pattern = drafted(DRESS, edits=(finish(seam="skirt-side", as_="French"), vent))
    (lost,) = pattern.findings
    assert "not pressed open" in lost.message
