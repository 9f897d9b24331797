"""The shirt collar: the stand as long as the neckline and its overlap, the fall as the stand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.pattern import Body, MarkKind, Pattern, Pressing
from clothwise.work import plan, steps, verify
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    body,
    drafted,
    drafted_or_refused,
    dress_with,
    parameters_in_range,
)

KIND = "shirt-collar"


def parts(parameters: Parameters, bodice: Parameters | None = None) -> Parts:
    more: Parts = {"collar": (KIND, parameters), "binding": ("bound-armhole", {})}
    return dress_with(more, bodice)


def unfaced(parameters: Parameters) -> Pattern:
    return drafted({"bodice": ("darted-bodice", {}), "collar": (KIND, parameters)})


@settings(max_examples=40)
@given(bodies_to_draft(), parameters_in_range(KIND), parameters_in_range("darted-bodice"))
def test_any_stand_is_as_long_as_neckline_and_overlap(
    wearer: Body, parameters: Parameters, bodice: Parameters
) -> None:
    """D15 (common practice): the neckline within 3 mm, a stand collar with its overlap."""
    pattern = drafted_or_refused(parts(parameters, bodice), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    around = pattern.run_length(pattern.runs["neck-edge"])
    for name in ("collar-stand", "collar-stand-inner"):
        stand = pattern.piece(name)
        assert stand.outline.polygon.is_valid
        assert stand.edge("neck").length == pytest.approx(around, abs=0.5)
    upper = pattern.piece("collar-stand").edge("upper").length
    for name in ("collar-upper", "collar-under"):
        assert pattern.piece(name).outline.polygon.is_valid
        assert pattern.piece(name).edge("stand").length == pytest.approx(upper, abs=0.5)


@pytest.mark.parametrize("parameters", [{}, {"width": 70.0, "point": 110.0}, {"rise": 0.0}])
def test_a_faced_dress_with_it_has_no_finding_and_can_be_sewn(parameters: Parameters) -> None:
    pattern = drafted(parts(parameters, {"armhole_ease": 25.0}))
    assert check(pattern, body()) == ()
    order = plan(pattern)
    assert verify(pattern, order) == ()
    names = [operation.name for operation in order.operations]
    made = [f"collar-{word}" for word in ("make", "stand-on", "baste")]
    assert [name for name in names if name in (*made, "facing-attach")] == [*made, "facing-attach"]
    assert names.index("bodice-shoulders") < names.index("collar-baste")


def test_without_a_facing_the_neck_lies_between_the_stands() -> None:
    pattern = unfaced({})
    assert_seams_true(pattern)
    assert [layer.run.pieces[-1] for layer in pattern.seams["neck"].layers] == [
        "bodice-back",
        "collar-stand",
        "collar-stand-inner",
    ]
    order = plan(pattern)
    assert verify(pattern, order) == ()
    (sewn,) = (step for step in steps(pattern, order) if step.title == "Sew on the collar stand")
    assert "stitch it down" in sewn.text
    (edge,) = {each.edge for each in check(pattern, body()) if each.code == "EDGE-UNUSED"} - {
        "armhole",
        "waist-center",
        "waist-side",
    }
    assert edge == "front-edge", "only what this bodice leaves to others is not sewn"


def test_the_outer_edge_is_longer_than_the_stand_so_that_it_turns_down() -> None:
    for piece in (unfaced({}).piece("collar-under"), unfaced({"fall": 45.0}).piece("collar-under")):
        assert piece.edge("outer").length > piece.edge("stand").length
    flat, dropped = (
        unfaced({"fall": fall, "spread": 0.0}).piece("collar-under").edge("outer").length
        for fall in (10.0, 45.0)
    )
    assert dropped > flat + 10.0


def test_stand_and_fall_are_square_to_center_back() -> None:
    pattern = unfaced({})
    for name, edges in (
        ("collar-stand", ("neck", "upper")),
        ("collar-upper", ("stand", "outer")),
    ):
        low, high = (pattern.piece(name).edge(edge) for edge in edges)
        assert abs(low.start_tangent.y) < 1e-6
        assert abs(high.end_tangent.y) < 1e-6


def test_the_front_end_runs_on_into_the_upper_edge() -> None:
    stand = unfaced({}).piece("collar-stand")
    turn = stand.edge("end").end_tangent.cross(stand.edge("upper").start_tangent)
    assert abs(math.asin(turn)) < math.radians(0.1)


def test_measures_are_those_asked_for() -> None:
    pattern = unfaced({"stand": 32.0, "stand_front": 28.0, "width": 50.0, "point": 80.0})
    stand, under = pattern.piece("collar-stand"), pattern.piece("collar-under")
    assert stand.edge("center").length == pytest.approx(32.0)
    top = stand.edge("upper").start
    assert stand.points["center front"].distance(top) == pytest.approx(28.0)
    assert under.edge("center").length == pytest.approx(50.0)
    assert under.edge("end").length == pytest.approx(80.0)


def test_button_and_hole_lie_on_center_front() -> None:
    """F01 (Colgrove): a buttonhole is as long as the button is across and thick."""
    stand = unfaced({"diameter": 12.0}).piece("collar-stand")
    marks = {mark.kind: mark for mark in stand.marks}
    button, hole = marks[MarkKind.BUTTON], marks[MarkKind.BUTTONHOLE]
    assert hole.path is not None
    assert button.at is not None
    assert hole.path.length == pytest.approx(15.0)
    assert hole.path.point_at(hole.path.nearest(button.at)).is_close(button.at, 1e-6)
    assert {button.only_side, hole.only_side} == {"left", "right"}


def test_the_collar_is_caught_between_the_stands_and_turned() -> None:
    seam = unfaced({}).seams["collar-stand"]
    assert seam.pressing is Pressing.TURNED
    assert [layer.run.pieces[0] for layer in seam.layers] == [
        "collar-stand",
        "collar-stand-inner",
        "collar-under",
        "collar-upper",
    ]


def test_too_little_fall_or_overlap_is_refused() -> None:
    with pytest.raises(ComponentError, match="does not cover its stand"):
        unfaced({"stand": 36.0, "width": 40.0})
    with pytest.raises(ComponentError, match="buttonhole of the collar stand has no room"):
        drafted(
            {"bodice": ("darted-bodice", {"button_stand": 10.0}), "collar": (KIND, {})},
        )


def test_a_shirt_collar_needs_a_neckline() -> None:
    with pytest.raises(ComponentError, match="needs something with a neck"):
        drafted({"collar": (KIND, {})})
