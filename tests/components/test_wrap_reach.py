"""Fronts that wrap to a chosen point of the other side: faced, tied, buttoned."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.geometry import angle_between
from clothwise.pattern import Body, MarkKind, Severity
from clothwise.work import plan, verify
from component_cases import (
    Edits,
    Parameters,
    Parts,
    assert_seams_true,
    assert_sound_in_sizes,
    bodies_to_draft,
    body,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)

BODICES = ("darted-bodice", "princess-bodice")
CLOSINGS = ("wrap-ties", "wrap-buttons")


def wrap(
    reach: float,
    closing: str = "wrap-ties",
    bodice: str = "darted-bodice",
    skirt: str | None = "a-line-skirt",
    **parameters: float | str,
) -> Parts:
    return {
        "bodice": (bodice, {}),
        "front": ("wrap-front", {"reach": reach, **parameters}),
        **({"skirt": (skirt, {})} if skirt else {}),
        "facing": ("wrap-facing", {}),
        "sleeve": ("set-in-sleeve", {}),
        "closing": (closing, {}),
        **({"hem": ("double-hem", {})} if skirt else {}),
    }


@pytest.mark.parametrize("reach", [0.3, 0.65, 1.0])
@pytest.mark.parametrize("closing", CLOSINGS)
@pytest.mark.parametrize("bodice", BODICES)
def test_a_wrap_dress_is_sound_in_every_size(bodice: str, closing: str, reach: float) -> None:
    assert_sound_in_sizes(wrap(reach, closing, bodice))


@pytest.mark.parametrize("skirt", ["gathered-skirt", "pleated-skirt", "gored-skirt"])
def test_other_skirts_lap_as_far_as_the_bodice(skirt: str) -> None:
    pattern = drafted(wrap(1.0, skirt=skirt))
    assert_seams_true(pattern)
    assert check(pattern, body()) == ()


@pytest.mark.parametrize("share", [0.25, 0.5, 1.0])
@pytest.mark.parametrize("bodice", BODICES)
def test_it_reaches_the_chosen_point_of_the_waist(bodice: str, share: float) -> None:
    """Derived: so much of the sewn waist from center front to the side seam."""
    plain = drafted({"bodice": (bodice, {"button_stand": 20.0})})
    front, _ = plain.half_lengths(plain.runs["waist"])
    half = front - 20.0
    wrapped = drafted(wrap(share, bodice=bodice, skirt=None))
    longer, _ = wrapped.half_lengths(wrapped.runs["waist"])
    assert longer - half == pytest.approx(min(share * half, half - 1.0), abs=0.05)
    piece = wrapped.piece("bodice-front")
    assert piece.edge("front-edge").length == pytest.approx(65.0)
    lower = piece.edge("waist-center")
    square = piece.edge("front-edge").end_tangent.dot(lower.start_tangent)
    assert square == pytest.approx(0.0, abs=1e-6)


def test_the_lap_has_the_shape_of_the_half_it_lies_on() -> None:
    """Mirrored, with its dart closed: no corner where the dart was, and the same length."""
    pattern = drafted(wrap(1.0, skirt=None))
    lower = pattern.piece("bodice-front").edge("waist-center")
    center = lower.nearest(pattern.piece("bodice-front").points["center front waist"])
    lap = lower.part(0.0, center)
    for before, after in zip(lap.segments, lap.segments[1:], strict=False):
        heading, on = before.derivative(1.0).unit, after.derivative(0.0).unit
        assert heading.dot(on) == pytest.approx(1.0, abs=1e-6)


def test_buttons_lie_over_their_buttonholes_when_it_is_wrapped() -> None:
    for bodice in BODICES:
        pattern = drafted(wrap(0.8, "wrap-buttons", bodice))
        marks = [mark for piece in pattern.pieces.values() for mark in piece.marks]
        holes = [mark for mark in marks if mark.kind is MarkKind.BUTTONHOLE]
        buttons = [mark for mark in marks if mark.kind is MarkKind.BUTTON]
        assert len(holes) == len(buttons) == 1
        (needed,) = (each for each in pattern.notions if each.name == "buttons")
        assert needed.amount == 2
        front = pattern.piece("bodice-front")
        lower = front.edge("waist-center")
        center = lower.nearest(front.points["center front waist"])
        assert holes[0].path is not None
        along = center - lower.nearest(holes[0].path.point_at(3.0))
        (host,) = (each for each in pattern.pieces.values() if buttons[0] in each.marks)
        at = buttons[0].at
        assert at is not None
        side = host.edge("waist-side")  # beyond the dart or the panel seam
        assert side.point_at(side.nearest(at)).distance(at) < 50.0
        sewn = lower.length - center + side.nearest(at)
        assert sewn == pytest.approx(along, abs=0.5)


def test_a_tie_for_each_front_and_each_side() -> None:
    pattern = drafted(wrap(0.7))
    for name in ("closing-front", "closing-side"):
        assert {copy.side.value for copy in pattern.piece(name).copies} == {"left", "right"}
    for seam, tie in (("facing-front-edge", "closing-front"), ("bodice-side", "closing-side")):
        caught = [layer for layer in pattern.seams[seam].layers if tie in layer.run.pieces]
        assert len(caught) == 2, seam


def test_what_it_needs_is_told() -> None:
    with pytest.raises(ComponentError, match="needs a waist seam"):
        drafted({**wrap(0.5, skirt=None), "bodice": ("darted-bodice", {"waist": "none"})})
    with pytest.raises(ComponentError, match="hardly reaches"):
        drafted(wrap(0.05))
    with pytest.raises(ComponentError, match="fronts that wrap to the other side"):
        drafted(wrap(0.0))
    with pytest.raises(ComponentError, match="too short for the ties"):
        drafted(wrap(0.5, edge=35.0))
    with pytest.raises(ComponentError, match="too short for its buttons"):
        drafted({**wrap(0.5), "closing": ("wrap-buttons", {"number": 3})})


@settings(max_examples=40)
@given(
    bodies_to_draft(),
    st.sampled_from(BODICES),
    st.sampled_from(CLOSINGS),
    parameters_in_range("wrap-front", overlap=70.0),
    parameters_in_range("wrap-facing"),
    st.sampled_from(("natural", "empire", "dropped")),
)
def test_any_woman_s_wrap_is_true_and_can_be_sewn(
    wearer: Body,
    bodice: str,
    closing: str,
    front: Parameters,
    facing: Parameters,
    waist: str,
) -> None:
    parts = wrap(0.5, closing, bodice)
    parts["bodice"] = (bodice, {"waist": waist})
    parts["front"] = ("wrap-front", {"reach": 0.5, **front})
    parts["facing"] = ("wrap-facing", facing)
    pattern = drafted_or_refused(parts, wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())
    assert not verify(pattern, plan(pattern))
    found = {each.code for each in check(pattern, wearer) if each.severity is Severity.ERROR}
    assert not found - {"FIT-UPPER-ARM"}


RUFFLED_WRAP: Parts = {
    "bodice": ("darted-bodice", {}),
    "front": ("wrap-front", {"reach": 0.6}),
    "skirt": ("a-line-skirt", {}),
    "ruffle": ("ruffle", {"edge": "hem"}),
    "facing": ("wrap-facing", {}),
    "sleeve": ("set-in-sleeve", {}),
    "closing": ("wrap-ties", {}),
    "hem": ("double-hem", {}),
}
FULLER = (("spread", {"piece": "skirt-front", "open": "hem", "hinge": "waist-side", "by": "60mm"}),)
TUCKED = (("dart-to", {"piece": "skirt-front", "dart": "waist dart", "into": "tuck"}),)
RUFFLED = (("spread", {"piece": "ruffle-front", "open": "hem", "hinge": "waist", "by": "9cm"}),)


@pytest.mark.parametrize("edit", [FULLER, TUCKED, RUFFLED], ids=["spread", "tuck", "ruffle"])
def test_what_laps_over_the_center_keeps_its_line_under_edits(edit: Edits) -> None:
    """Fullness goes in beside the center: there the edges stay square (G08, common practice)."""
    errors = [
        finding.message
        for finding in check(drafted(RUFFLED_WRAP, edits=edit), body())
        if finding.severity is Severity.ERROR
    ]
    assert errors == []


def test_a_spread_lap_keeps_front_edge_center_and_grain() -> None:
    before, after = (
        drafted(RUFFLED_WRAP, edits=edits).piece("ruffle-front") for edits in ((), RUFFLED)
    )
    assert after.edge("front-edge") == before.edge("front-edge")
    assert abs(angle_between(*(p.grain.end - p.grain.start for p in (before, after)))) < 1e-9
    center = next(mark for mark in before.marks if mark.kind is MarkKind.CENTER_LINE)
    assert center in after.marks
    assert after.edge("waist").length == pytest.approx(before.edge("waist").length, abs=0.02)
    assert after.edge("hem").length == pytest.approx(before.edge("hem").length + 90, abs=0.02)


def test_no_edge_of_a_spread_strip_waves_at_its_slashes() -> None:
    """Four deep slashes, one sweep: all that bends back, at its straight ends, is within 2°."""
    strip = drafted(RUFFLED_WRAP, edits=RUFFLED).piece("ruffle-front")
    for name in ("waist", "hem"):
        edge = strip.edge(name)
        ways = [edge.tangent_at(edge.length * number / 200) for number in range(1, 200)]
        turns = [angle_between(before, after) for before, after in pairwise(ways)]
        sides = [sum(turn for turn in turns if turn * side > 0) for side in (1, -1)]
        assert min(map(abs, sides)) < math.radians(2), name
