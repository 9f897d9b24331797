"""The straight skirt: on a bodice and alone, true at every seam, with a vent that lets it walk."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.pattern import Body, FinishKind, Sides
from clothwise.work import LineRole
from clothwise.work.scene import scene
from component_cases import (
    Parameters,
    Parts,
    assert_darts_close,
    assert_seams_true,
    bodies_to_draft,
    body,
    drafted,
    drafted_or_refused,
    parameters_in_range,
    skirt_alone,
    skirt_on_bodice,
)

KIND = "straight-skirt"


alone, on_bodice = partial(skirt_alone, KIND), partial(skirt_on_bodice, KIND)


@pytest.mark.parametrize("parts", [alone, on_bodice])
@settings(max_examples=30)
@given(bodies_to_draft(), parameters_in_range(KIND))
def test_any_body_and_parameters_give_a_true_skirt(
    parts: Callable[[Parameters], Parts], wearer: Body, parameters: Parameters
) -> None:
    pattern = drafted_or_refused(parts(parameters), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert_darts_close(pattern)
    front, back = pattern.piece("skirt-front"), pattern.piece("skirt-back")
    hip = 2 * (front.points["side hip"].x + back.points["side hip"].x)
    wanted = wearer["hip_girth"] + float(parameters.get("hip_ease", 60))
    assert hip == pytest.approx(wanted, abs=0.5)
    assert front.outline.polygon.is_valid
    assert back.outline.polygon.is_valid


def test_alone_it_is_as_wide_at_the_waist_as_the_body_and_its_ease() -> None:
    pattern = drafted(alone({"waist_ease": 24.0}))
    assert 2 * pattern.run_length(pattern.runs["waist"]) == pytest.approx(744.0, abs=0.5)
    assert pattern.piece("skirt-front").fold_edge == "center"


def test_center_back_is_opening_seam_and_vent() -> None:
    wearer = body()
    pattern = drafted(alone({"length": 640.0, "vent": 180.0, "extension": 50.0}), wearer)
    back = pattern.piece("skirt-back")
    parts = [back.edge(name).length for name in ("opening", "center-back")]
    assert sum(parts) + 180.0 == pytest.approx(640.0)
    assert parts[0] == pytest.approx(wearer["waist_to_hip"])
    assert min(p.x for p in back.outline.flattened()) == pytest.approx(-50.0)
    assert back.edge("vent-top").length == pytest.approx(50 * math.hypot(1, 0.5))
    seam = pattern.seams["skirt-center-back"]
    assert seam.sides is Sides.CENTER
    assert [edge.edge for edge in seam.layers[0].run.edges] == ["center-back", "vent-top"]
    assert pattern.finishes["skirt-vent"].kind is FinishKind.OVERLOCKED


def test_on_a_bodice_center_back_is_sewn_from_the_waist_and_the_front_opens() -> None:
    pattern = drafted(on_bodice({}))
    assert "opening" not in pattern.runs
    assert "opening" not in pattern.piece("skirt-back").edge_names
    assert [edge.piece for edge in pattern.runs["front-edge"].edges] == [
        "bodice-front",
        "skirt-front",
    ]


def test_a_vent_that_is_too_short_for_a_step_is_found() -> None:
    """Room to walk is measured where the vent begins, without the extension."""
    wearer = body()
    codes = [
        {
            each.code
            for each in check(drafted(alone({"length": 790.0, "vent": vent}), wearer), wearer)
        }
        for vent in (100.0, 400.0)
    ]
    assert codes == [{"STRIDE-ROOM"}, set()]


def test_a_vent_up_to_the_opening_is_refused() -> None:
    with pytest.raises(ComponentError, match="the vent leaves no seam at center back"):
        drafted(alone({"length": 600.0, "vent": 400.0}))


def test_folding_the_vent_is_shown_without_a_seam_that_is_not_sewn_yet() -> None:
    """The hem must come later; it is not what the step sews."""
    pattern = drafted(on_bodice({}))
    (fold,) = (each for each in pattern.operations if each.name == "skirt-vent-fold")
    picture = scene(pattern, fold, ["skirt-vent", "skirt-center-back"])
    assert picture.areas
    assert picture.traces(LineRole.SEWN_NOW) == ()
