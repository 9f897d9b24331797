"""Buttons: one at the neck, the bust and the waist, evenly spaced between, on the center line."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings

from clothwise.components.closings.buttonhole import BEYOND_BUTTON_MM
from clothwise.components.closings.buttons import (
    ABOVE_WAIST_MM,
    BELOW_HOLE_TOP_MM,
    BELOW_NECK_MM,
)
from clothwise.errors import ComponentError
from clothwise.pattern import Body, Mark, MarkKind, Pattern
from component_cases import (
    Parameters,
    Parts,
    bodies_to_draft,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)

KIND = "buttons"
PIECES = ("bodice-front", "skirt-front", "bodice-back", "skirt-back")


def parts(parameters: Parameters, bodice: Parameters | None = None) -> Parts:
    return {
        "bodice": ("darted-bodice", bodice or {}),
        "skirt": ("a-line-skirt", {"length": 720.0}),
        "buttons": (KIND, parameters),
    }


def buttoned(for_body: Body | None = None, **parameters: float | str) -> Pattern:
    return drafted(parts(dict(parameters)), for_body)


def marks(pattern: Pattern, kind: MarkKind) -> list[Mark]:
    found = [mark for name in PIECES for mark in pattern.piece(name).marks if mark.kind is kind]
    assert found
    return found


def heights(pattern: Pattern) -> list[float]:
    """From the top down; bodice and skirt both have the waist at zero."""
    return [mark.at.y for mark in marks(pattern, MarkKind.BUTTON) if mark.at]


@settings(max_examples=40)
@given(bodies_to_draft(), parameters_in_range(KIND), parameters_in_range("darted-bodice"))
def test_any_buttons_lie_on_the_center_line_of_their_piece(
    wearer: Body, parameters: Parameters, bodice: Parameters
) -> None:
    pattern = drafted_or_refused(parts(parameters, bodice), wearer)
    if pattern is None:
        return
    buttons, holes = marks(pattern, MarkKind.BUTTON), marks(pattern, MarkKind.BUTTONHOLE)
    assert [mark.at.x for mark in buttons if mark.at] == [0.0] * len(buttons)
    assert len(holes) == len(buttons)
    hole_heights = [mark.path.start.y for mark in holes if mark.path]
    assert hole_heights == pytest.approx(heights(pattern), abs=BELOW_HOLE_TOP_MM + 1e-6)
    assert heights(pattern) == sorted(heights(pattern), reverse=True)
    (notion,) = (each for each in pattern.notions if each.name == "buttons")
    assert notion.amount == len(buttons)


@settings(max_examples=30)
@given(bodies_to_draft())
def test_neck_bust_and_waist_have_a_button_and_the_rest_is_even(wearer: Body) -> None:
    """F10, F11: the gaps between two fixed points are equal."""
    pattern = buttoned(wearer, diameter=18.0)
    front, found = pattern.piece("bodice-front"), heights(pattern)
    top = front.points["center front neck"].y - 9.0 - BELOW_NECK_MM
    bust = front.points["bust point"].y
    assert found[0] == pytest.approx(top)
    at_bust = min(range(len(found)), key=lambda number: abs(found[number] - bust))
    at_waist = min(range(len(found)), key=lambda number: abs(found[number] - ABOVE_WAIST_MM))
    assert found[at_bust] == pytest.approx(bust)
    assert found[at_waist] == pytest.approx(ABOVE_WAIST_MM)
    gaps = [above - below for above, below in pairwise(found)]
    for start, end in ((0, at_bust), (at_bust, at_waist), (at_waist - 1, len(gaps))):
        assert gaps[start:end] == pytest.approx([gaps[end - 1]] * (end - start))


def test_the_last_button_keeps_off_the_hem() -> None:
    pattern = buttoned(above_hem=140.0)
    above = heights(pattern)[-1] + 720.0
    gap = heights(pattern)[-2] - heights(pattern)[-1]
    assert 140.0 <= above < 140.0 + gap


def test_a_buttonhole_is_diameter_and_thickness_from_outside_the_center() -> None:
    """F01, F05, F06."""
    for hole in marks(buttoned(diameter=20.0, thickness=5.0), MarkKind.BUTTONHOLE):
        assert hole.path is not None
        assert hole.path.length == pytest.approx(25.0)
        assert hole.path.start.x == pytest.approx(-BEYOND_BUTTON_MM)
        assert hole.path.end.x == pytest.approx(25.0 - BEYOND_BUTTON_MM)


@pytest.mark.parametrize(
    ("lap", "holes"), [("right over left", "right"), ("left over right", "left")]
)
def test_holes_are_on_the_front_that_lies_on_top(lap: str, holes: str) -> None:
    pattern = buttoned(lap=lap)
    other = {"right": "left", "left": "right"}[holes]
    assert {mark.only_side for mark in marks(pattern, MarkKind.BUTTONHOLE)} == {holes}
    assert {mark.only_side for mark in marks(pattern, MarkKind.BUTTON)} == {other}


def test_buttons_need_an_opening() -> None:
    with pytest.raises(ComponentError, match="needs something with a front edge"):
        drafted({"skirt": ("circle-skirt", {}), "buttons": (KIND, {})})
