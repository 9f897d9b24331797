"""The set-in sleeve: its cap is the armhole and the ease, and the arm has its room."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.errors import ComponentError
from clothwise.pattern import Body, NotchKind, Pattern, Piece, Side
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    body,
    drafted,
    drafted_or_refused,
    only_seam,
    parameters_in_range,
)

KIND = "set-in-sleeve"


def sleeved(for_body: Body | None = None, **parameters: float) -> Pattern:
    return drafted({"bodice": ("darted-bodice", {}), "sleeve": (KIND, dict(parameters))}, for_body)


def width(piece: Piece) -> float:
    """From underarm to underarm, on the upper arm line."""
    return piece.edge("cap").start.distance(piece.edge("cap").end)


@settings(max_examples=50)
@given(
    bodies_to_draft(),
    parameters_in_range(KIND),
    st.sampled_from([20.0, 45.0, 90.0]),
)
def test_any_body_and_parameters_give_a_sleeve_that_goes_in(
    wearer: Body, parameters: Parameters, armhole_ease: float
) -> None:
    parts: Parts = {
        "bodice": ("darted-bodice", {"armhole_ease": armhole_ease}),
        "sleeve": (KIND, parameters),
    }
    pattern = drafted_or_refused(parts, wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    piece = pattern.piece("sleeve")
    assert piece.outline.polygon.is_valid
    armhole = pattern.run_length(pattern.runs["armhole"])
    ease = float(parameters.get("cap_ease", 26))
    assert piece.edge("cap").length == pytest.approx(armhole + ease, abs=0.5)
    room = float(parameters.get("upper_arm_ease", 44))
    assert width(piece) >= wearer["upper_arm_girth"] + room - 0.1


@settings(max_examples=30)
@given(bodies_to_draft(), st.sampled_from([0.0, 26.0, 38.0]))
def test_no_ease_below_the_notches_and_the_back_takes_most(wearer: Body, ease: float) -> None:
    """L03 (common practice, no source), L10."""
    pattern = sleeved(wearer, cap_ease=ease)
    seam = only_seam(pattern, "bodice-front.armhole")
    matches = {match.name: match for match in seam.matches}
    armhole, cap = (pattern.run_length(layer.run) for layer in seam.layers)
    front, shoulder, back = (
        tuple(at or 0.0 for at in matches[name].at_mm)
        for name in ("front notch", "shoulder", "back notch")
    )
    assert front[1] == pytest.approx(front[0])
    assert cap - back[1] == pytest.approx(armhole - back[0], abs=0.1)
    front_ease = (shoulder[1] - front[1]) - (shoulder[0] - front[0])
    back_ease = (back[1] - shoulder[1]) - (back[0] - shoulder[0])
    assert front_ease + back_ease == pytest.approx(ease)
    assert back_ease >= front_ease >= 0.0
    assert matches["front notch"].notch is NotchKind.SINGLE
    assert matches["back notch"].notch is NotchKind.DOUBLE


@settings(max_examples=20)
@given(bodies_to_draft())
def test_shoulder_notch_lies_at_the_top_of_the_cap(wearer: Body) -> None:
    pattern = sleeved(wearer)
    seam = only_seam(pattern, "bodice-front.armhole")
    at = next(match.at_mm[1] for match in seam.matches if match.name == "shoulder")
    spot = pattern.spot(seam.layers[1].run, at or 0.0)
    assert spot.point.distance(pattern.piece("sleeve").points["cap top"]) < 0.5


@settings(max_examples=20)
@given(bodies_to_draft(), st.sampled_from([0.0, 14.0, 40.0]))
def test_underarm_edges_are_equal_and_square_to_the_hem(wearer: Body, taper: float) -> None:
    piece = sleeved(wearer, taper=taper).piece("sleeve")
    front, back = piece.edge("underarm-front"), piece.edge("underarm-back")
    assert front.length == pytest.approx(back.length, abs=0.5)
    hem = piece.edge("hem")
    assert abs(hem.start_tangent.unit.dot(front.end_tangent.unit)) < 0.01
    assert abs(hem.end_tangent.unit.dot(back.start_tangent.unit)) < 0.01


def test_length_is_from_the_top_of_the_cap_to_the_hem() -> None:
    piece = sleeved(length=400.0, taper=0.0).piece("sleeve")
    assert piece.points["cap top"].y - piece.edge("hem").start.y == pytest.approx(400.0)


def test_sleeves_are_a_mirrored_pair() -> None:
    piece = sleeved().piece("sleeve")
    assert {(copy.side, copy.mirrored) for copy in piece.copies} == {
        (Side.LEFT, False),
        (Side.RIGHT, True),
    }


def test_a_sleeve_shorter_than_its_cap_is_refused() -> None:
    with pytest.raises(ComponentError, match="shorter than its cap"):
        sleeved(length=120.0)


def test_an_arm_too_thick_for_the_armhole_is_refused() -> None:
    with pytest.raises(ComponentError) as caught:
        sleeved(body(upper_arm_girth=400.0), upper_arm_ease=200.0)
    assert "armhole_ease" in caught.value.what_to_do
