"""Facings copy the lines they face, so that their seams agree by construction."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from clothwise.errors import ComponentError
from clothwise.pattern import Body, Pattern, Ply, Side
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)

KIND = "front-and-neck-facing"


def parts(parameters: Parameters, bodice: Parameters | None = None) -> Parts:
    return {
        "bodice": ("darted-bodice", bodice or {}),
        "skirt": ("a-line-skirt", {}),
        "facing": (KIND, parameters),
    }


def faced(**parameters: float) -> Pattern:
    return drafted(parts(dict(parameters)))


@settings(max_examples=50)
@given(bodies_to_draft(), parameters_in_range(KIND), parameters_in_range("darted-bodice"))
def test_any_facing_goes_onto_its_garment(
    wearer: Body, parameters: Parameters, bodice: Parameters
) -> None:
    pattern = drafted_or_refused(parts(parameters, bodice), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    for name in ("facing-front", "facing-back"):
        assert pattern.piece(name).outline.polygon.is_valid


@settings(max_examples=25)
@given(bodies_to_draft())
def test_neck_and_front_edge_are_the_garment_s_own(wearer: Body) -> None:
    pattern = drafted(parts({}), wearer)
    front, back = pattern.piece("facing-front"), pattern.piece("facing-back")
    bodice_front, bodice_back = pattern.piece("bodice-front"), pattern.piece("bodice-back")
    assert front.edge("neck") == bodice_front.edge("neck")
    assert front.edge("neck-stand") == bodice_front.edge("neck-stand")
    assert back.edge("neck") == bodice_back.edge("neck")
    edge = front.edge("front-edge")
    assert edge.start == bodice_front.edge("front-edge").start
    whole = pattern.run_length(pattern.runs["front-edge"])
    assert edge.length == pytest.approx(whole)


@settings(max_examples=25)
@given(bodies_to_draft())
def test_shoulders_lie_on_the_garment_s_from_the_neck_outwards(wearer: Body) -> None:
    pattern = drafted(parts({"shoulder_width": 40.0}), wearer)
    for word in ("front", "back"):
        own = pattern.piece(f"facing-{word}").edge("shoulder")
        host = pattern.piece(f"bodice-{word}").edge("shoulder")
        assert own.length == pytest.approx(40.0)
        assert own.end.distance(host.end) < 1e-6
        assert host.point_at(host.nearest(own.start)).distance(own.start) < 1e-6


def test_the_neck_seam_holds_garment_and_facing() -> None:
    pattern = faced()
    garment, facing = pattern.seams["neck"].layers
    assert garment.run == pattern.runs["neck-edge"]
    assert facing.run.pieces == ("facing-front", "facing-back")
    assert garment.ease_mm == facing.ease_mm == 0.0


def test_the_front_edge_has_a_notch_where_the_waist_seam_crosses() -> None:
    pattern = faced()
    (match,) = pattern.seams["facing-front-edge"].matches
    waist = pattern.piece("bodice-front").edge("front-edge").length
    assert match.at_mm == pytest.approx((waist, waist))


def test_fronts_are_a_mirrored_pair_and_all_are_interfaced() -> None:
    pattern = faced()
    front, back = pattern.piece("facing-front"), pattern.piece("facing-back")
    for ply in (Ply.SHELL, Ply.INTERFACING):
        sides = {(copy.side, copy.mirrored) for copy in front.copies if copy.ply is ply}
        assert sides == {(Side.LEFT, False), (Side.RIGHT, True)}
    assert back.fold_edge == "center"
    assert {copy.ply for copy in back.copies} == {Ply.SHELL, Ply.INTERFACING}


def test_a_facing_as_wide_as_the_shoulder_is_refused() -> None:
    narrow = Body.complete(
        {"height": 1600, "bust_girth": 860, "waist_girth": 700, "hip_girth": 920,
         "shoulder_length": 98}
    )  # fmt: skip
    with pytest.raises(ComponentError, match="wider than the shoulder"):
        drafted(parts({"shoulder_width": 90.0}), narrow)
