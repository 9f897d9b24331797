"""Circle skirts against arcs; the figures others state are in `tests/published`."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings

from clothwise.errors import ComponentError
from clothwise.pattern import Body, Sides
from clothwise.work import plan
from component_cases import (
    Parameters,
    assert_seams_true,
    bodies_to_draft,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)

KIND = "circle-skirt"


@settings(max_examples=60)
@given(bodies_to_draft(), parameters_in_range(KIND))
def test_any_share_has_waist_and_hem_of_its_arcs(wearer: Body, parameters: Parameters) -> None:
    pattern = drafted_or_refused({"skirt": (KIND, parameters)}, wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    piece = pattern.piece("skirt")
    assert piece.outline.polygon.is_valid
    share, long = float(parameters.get("share", 0.5)), float(parameters.get("length", 600))
    waist = wearer["waist_girth"] + float(parameters.get("waist_ease", 15))
    assert 2 * piece.edge("waist").length == pytest.approx(waist, abs=0.1)
    hem = 2 * piece.edge("hem").length
    assert hem - waist == pytest.approx(2 * math.pi * share * long, abs=0.2)  # C06
    sides = (
        piece.edge("center-front").length,
        (piece.edge("center-back").length + piece.edge("opening").length),
    )
    assert sides == pytest.approx((long, long))


def test_center_back_is_sewn_up_to_the_opening() -> None:
    pattern = drafted({"skirt": (KIND, {"length": 600.0, "opening": 180.0})})
    seam = pattern.seams["skirt-center-back"]
    assert seam.sides is Sides.CENTER
    assert pattern.run_length(seam.layers[0].run) == pytest.approx(420.0)
    assert pattern.run_length(pattern.runs["opening"]) == pytest.approx(180.0)


def test_an_opening_as_long_as_the_skirt_is_refused() -> None:
    with pytest.raises(ComponentError, match="the opening is as long as the skirt"):
        drafted({"skirt": (KIND, {"length": 300.0, "opening": 280.0})})


def test_it_does_not_hang_from_a_bodice() -> None:
    with pytest.raises(ComponentError, match="band of its own, but there is a waist above"):
        drafted({"bodice": ("darted-bodice", {}), "skirt": (KIND, {})})


def test_the_waist_is_staystitched_before_the_skirt_hangs_from_it() -> None:
    pattern = drafted({"skirt": (KIND, {}), "band": ("straight-waistband", {})})
    names = [operation.name for operation in plan(pattern).operations]
    assert names[0] == "skirt-staystitch"
    assert names.index("skirt-staystitch") < names.index("skirt-hang") < names.index("band-attach")
    (stay,) = (each for each in pattern.operations if each.name == "skirt-staystitch")
    assert "skirt.waist" in stay.prepares


def test_a_component_that_stays_the_waist_says_how_far_from_the_seam_line() -> None:
    pattern = drafted(
        {"skirt": (KIND, {}), "stay": ("staystitching", {"edge": "waist", "inside": 3.0})}
    )
    (stay,) = (each for each in pattern.operations if each.title == "Staystitch the waist")
    assert dict(stay.values) == {"inside": 3.0}
