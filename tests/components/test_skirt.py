"""The A-line skirt: hangs from its bodice, true at sides and waist, wide enough at the hip."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings

from clothwise.components.skirts.skirt import LARGEST_SKIRT_DART_MM
from clothwise.errors import ComponentError
from clothwise.pattern import Body, Pattern, Side
from component_cases import (
    Parameters,
    assert_darts_close,
    assert_seams_true,
    bodies_to_draft,
    body,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)

KIND = "a-line-skirt"


def dress(for_body: Body | None = None, **parameters: float) -> Pattern:
    return drafted({"bodice": ("darted-bodice", {}), "skirt": (KIND, dict(parameters))}, for_body)


@settings(max_examples=50)
@given(bodies_to_draft(), parameters_in_range("darted-bodice"), parameters_in_range(KIND))
def test_any_bodice_and_parameters_give_a_true_skirt(
    wearer: Body, above: Parameters, parameters: Parameters
) -> None:
    parts = {"bodice": ("darted-bodice", above), "skirt": (KIND, parameters)}
    pattern = drafted_or_refused(parts, wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert_darts_close(pattern)
    front, back = pattern.piece("skirt-front"), pattern.piece("skirt-back")
    hip = 2 * (front.points["side hip"].x + back.points["side hip"].x)
    wanted = wearer["hip_girth"] + float(parameters.get("hip_ease", 70))
    assert hip >= wanted - 0.5
    if above.get("waist") != "dropped":  # whose sides may swing out wider
        assert hip == pytest.approx(wanted, abs=0.5)
    for piece in (front, back):
        assert piece.outline.polygon.is_valid
        for dart in piece.darts:
            mouth = piece.edge(dart.leg_in).start.distance(piece.edge(dart.leg_out).end)
            assert mouth <= LARGEST_SKIRT_DART_MM + 1.0


@settings(max_examples=30)
@given(bodies_to_draft())
def test_front_and_back_have_the_same_side_seam(wearer: Body) -> None:
    """One path moved sideways, so that it is the same at every length, not only in all."""
    pattern = dress(wearer)
    front, back = (pattern.piece(name).edge("side") for name in ("skirt-front", "skirt-back"))
    shift = back.start.x - front.start.x
    for share in (0.0, 0.3, 0.6, 0.9, 1.0):
        one, other = front.point_at(share * front.length), back.point_at(share * back.length)
        assert (other - one).x == pytest.approx(shift, abs=0.1)
        assert (other - one).y == pytest.approx(0.0, abs=0.1)


@settings(max_examples=30)
@given(bodies_to_draft())
def test_hem_is_square_to_center_and_side(wearer: Body) -> None:
    pattern = dress(wearer, length=720.0, flare=90.0)
    for name in ("skirt-front", "skirt-back"):
        hem, side = pattern.piece(name).edge("hem"), pattern.piece(name).edge("side")
        assert hem.start_tangent.angle == pytest.approx(0.0, abs=1e-6)
        turn = math.remainder(side.start_tangent.angle - hem.end_tangent.angle, 2 * math.pi)
        assert turn == pytest.approx(math.pi / 2, abs=1e-3)


def test_length_and_flare_do_what_they_say() -> None:
    narrow, wide = dress(length=700.0, flare=40.0), dress(length=700.0, flare=120.0)
    assert narrow.piece("skirt-back").edge("center").length == pytest.approx(700.0)
    hems = [pattern.run_length(pattern.runs["hem"]) for pattern in (narrow, wide)]
    assert hems[1] - hems[0] == pytest.approx(160.0, abs=25.0)


def test_front_edge_runs_on_from_the_bodice() -> None:
    pattern = dress(length=700.0)
    bodice = pattern.piece("bodice-front").edge("front-edge").length
    assert pattern.run_length(pattern.runs["front-edge"]) == pytest.approx(bodice + 700.0)
    stands = [
        -pattern.piece(name).edge("front-edge").start.x for name in ("bodice-front", "skirt-front")
    ]
    assert stands == pytest.approx([20.0, 20.0])


def test_front_is_a_mirrored_pair_and_back_on_the_fold() -> None:
    pattern = dress()
    assert {copy.side for copy in pattern.piece("skirt-front").copies} == {Side.LEFT, Side.RIGHT}
    assert pattern.piece("skirt-back").fold_edge == "center"


def test_a_skirt_that_ends_above_the_hip_is_refused() -> None:
    with pytest.raises(ComponentError, match="ends above the hip"):
        dress(body(waist_to_hip=240.0), length=250.0)


def test_a_skirt_needs_a_bodice() -> None:
    with pytest.raises(ComponentError, match="needs something with a waist"):
        drafted({"skirt": (KIND, {})})
