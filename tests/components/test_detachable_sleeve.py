"""The detachable sleeve: a sleeve of its own, buttoned or tied to an armhole that is finished."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.components.sleeves.sleeve_cap import Armhole
from clothwise.errors import ComponentError
from clothwise.pattern import Body, MarkKind, NotionUnit, Pattern
from clothwise.work import Part, parts, plan, steps, verify
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

KIND = "detachable-sleeve"


def design(parameters: Parameters, finish: str = "armhole-facing") -> Parts:
    more: Parts = {"armhole": (finish, {}), "sleeve": (KIND, parameters)}
    return dress_with(more, {"armhole_ease": 25.0})


def held(**parameters: float | str) -> Pattern:
    return drafted(design(dict(parameters)))


def armhole_of(pattern: Pattern) -> Armhole:
    run = pattern.runs["armhole"]
    front = pattern.edge_length(run.edges[0])
    return Armhole(run, front, pattern.run_length(run) - front)


@settings(max_examples=30)
@given(bodies_to_draft(), parameters_in_range(KIND))
def test_any_sleeve_is_true_and_held_at_like_places(wearer: Body, parameters: Parameters) -> None:
    pattern = drafted_or_refused(design(parameters), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    number = 2 * int(parameters.get("number", 2))
    tied = parameters.get("closing") == "ties"
    on_garment = [
        mark
        for name in ("bodice-front", "bodice-back")
        for mark in pattern.piece(name).marks
        if mark.name == ("tie" if tied else "sleeve closing")
    ]
    on_sleeve = [
        mark
        for mark in pattern.piece("sleeve").marks
        if mark.kind is (MarkKind.DOT if tied else MarkKind.BUTTONHOLE)
    ]
    assert len(on_garment) == len(on_sleeve) == number


@pytest.mark.parametrize("finish", ["armhole-facing", "bound-armhole"])
@pytest.mark.parametrize("closing", ["buttons", "ties"])
def test_a_dress_with_it_has_no_finding_and_can_be_sewn(finish: str, closing: str) -> None:
    pattern = drafted(design({"closing": closing}, finish))
    assert check(pattern, body()) == ()
    order = plan(pattern)
    assert verify(pattern, order) == ()
    names = [operation.name for operation in order.operations]
    for first in ("sleeve-top", "armhole-bind" if finish == "bound-armhole" else "armhole-attach"):
        assert names.index(first) < names.index("sleeve-hold")
    assert "hang" in steps(pattern, order)[names.index("sleeve-hold")].text


def test_buttons_are_as_far_from_the_shoulder_as_their_buttonholes() -> None:
    pattern = held(flare=0.0)
    armhole = armhole_of(pattern)
    sleeve = pattern.piece("sleeve")
    (edge,) = (mark.path for mark in sleeve.marks if mark.kind is MarkKind.PLACEMENT_LINE)
    assert edge is not None
    shoulder = edge.nearest(sleeve.points["cap top"])
    front = pattern.piece("bodice-front")
    buttons = [mark.at for mark in front.marks if mark.kind is MarkKind.BUTTON]
    holes = [mark.path for mark in sleeve.marks if mark.kind is MarkKind.BUTTONHOLE][:2]
    line = front.edge("armhole")
    for button, hole in zip(buttons, holes, strict=True):
        assert button is not None
        assert hole is not None
        middle = hole.point_at(hole.length / 2)
        from_shoulder = armhole.front_mm - line.nearest(button)
        assert edge.nearest(middle) - shoulder == pytest.approx(from_shoulder, abs=0.5)
        assert button.distance(line.point_at(line.nearest(button))) == pytest.approx(13.0, abs=0.1)


def test_its_cap_is_as_long_as_the_armhole_and_what_hangs_loose() -> None:
    pattern = held(closing="ties", loose=20.0)
    around = pattern.run_length(pattern.runs["armhole"])
    assert pattern.piece("sleeve").edge("top").length == pytest.approx(around + 20.0, abs=0.5)


def test_buttonholes_are_as_long_as_the_button_is_across_and_thick() -> None:
    """F01 (Colgrove)."""
    holes = [
        mark.path
        for mark in held(diameter=14.0).piece("sleeve").marks
        if mark.kind is MarkKind.BUTTONHOLE
    ]
    assert [hole.length for hole in holes if hole] == pytest.approx([17.0] * 4)


def test_ties_are_bought_two_for_each_place() -> None:
    (ribbon,) = (each for each in held(closing="ties", tie=150.0).notions if "cord" in each.name)
    assert ribbon.unit is NotionUnit.LENGTH_MM
    assert ribbon.amount == pytest.approx(2 * 4 * 2 * 150.0)


def test_it_is_worn_apart_from_the_garment() -> None:
    found = parts(held())
    assert {found["sleeve"], found["sleeve-facing"]} == {Part.APART}
    assert found["bodice-front"] is Part.TORSO


def test_an_armhole_with_a_sleeve_sewn_in_is_refused() -> None:
    with pytest.raises(ComponentError, match="something is sewn into this one"):
        drafted(
            {
                "bodice": ("darted-bodice", {}),
                "fixed": ("set-in-sleeve", {}),
                "sleeve": (KIND, {}),
            }
        )


def test_a_strapless_bodice_is_refused_and_the_sleeve_for_it_named() -> None:
    with pytest.raises(ComponentError, match="off-shoulder-sleeve"):
        drafted({"top": ("corselette", {}), "sleeve": (KIND, {})})
