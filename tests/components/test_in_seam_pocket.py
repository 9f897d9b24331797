"""The in-seam pocket: bags as long as the opening, the side seam whole above and below."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.pattern import Body, Severity, Sides
from clothwise.work import OrderMode, parts, plan
from clothwise.work.wearing import Part
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
    parameters_in_range,
    skirt_alone,
)

KIND = "in-seam-pocket"


def dress(parameters: Parameters, skirt: str = "a-line-skirt") -> Parts:
    return {
        "bodice": ("darted-bodice", {}),
        "skirt": (skirt, {}),
        "facing": ("front-and-neck-facing", {}),
        "pocket": (KIND, parameters),
        "binding": ("bound-armhole", {}),
        "hem": ("double-hem", {}),
    }


def alone(skirt: str) -> Parts:
    whole = skirt_alone(skirt, {})
    hem = whole.pop("hem")
    return {**whole, "pocket": (KIND, {}), "hem": hem}


def assert_sound(design: Parts, wearer: Body) -> None:
    pattern = drafted(design, wearer)
    assert_seams_true(pattern)
    found = check(pattern, wearer)
    assert not [each.message for each in found if each.severity is not Severity.NOTE]
    for mode in OrderMode:
        assert plan(pattern, mode).operations


@pytest.mark.parametrize("size", chart(), ids=lambda size: size.name)
def test_it_is_sound_in_every_size(size: Body) -> None:
    assert_sound(dress({}), size)


SKIRTS = ("straight-skirt", "gored-skirt", "gathered-skirt", "tiered-skirt", "pleated-skirt")


@pytest.mark.parametrize("skirt", SKIRTS)
def test_it_goes_into_the_side_seam_of_any_skirt(skirt: str) -> None:
    assert_sound(dress({}, skirt), body())
    assert_sound(alone(skirt), body())


def test_the_opening_begins_where_it_was_asked_for() -> None:
    pattern = drafted(dress({"below_waist": 70.0, "opening": 150.0}))
    front = pattern.piece("skirt-front")
    assert front.edge("side-beyond-pocket").length == pytest.approx(70.0, abs=0.01)
    for edge in (front.edge("side-pocket"), pattern.piece("pocket-back-bag").edge("mouth")):
        assert edge.length == pytest.approx(150.0, abs=0.01)


def test_the_bag_is_as_wide_and_deep_as_asked() -> None:
    bag = drafted(dress({"bag_width": 150.0, "bag_depth": 110.0})).piece("pocket-front-bag")
    left, low, right, _ = bag.outline.polygon.bounds
    assert right - left == pytest.approx(150.0, abs=0.5)
    assert bag.edge("mouth").start.y - low == pytest.approx(110.0, abs=0.5)


def test_a_single_one_leaves_the_other_side_sewn() -> None:
    design = dress({"number": 1, "single_side": "left"})
    assert_sound(design, body())
    pattern = drafted(design)
    assert pattern.seams["pocket-bag"].sides is Sides.LEFT
    assert pattern.seams["pocket-other-side"].sides is Sides.RIGHT


def test_the_bags_are_inside_and_sewn_on_before_the_side_seam() -> None:
    pattern = drafted(dress({}))
    found = parts(pattern)
    assert {found[f"pocket-{word}-bag"] for word in ("front", "back")} == {Part.INSIDE}
    order = [operation.name for operation in plan(pattern).operations]
    places = [order.index(name) for name in ("pocket-attach", "skirt-sides", "pocket-close")]
    assert places == sorted(places)


def test_a_skirt_without_side_seams_is_told() -> None:
    with pytest.raises(ComponentError, match="no side seam long enough"):
        drafted(alone("circle-skirt"))


@settings(max_examples=30)
@given(bodies_to_draft(), parameters_in_range(KIND))
def test_seams_are_true_on_any_body(wearer: Body, parameters: Parameters) -> None:
    pattern = drafted_or_refused(dress(parameters), wearer)
    if pattern is not None:
        assert_seams_true(pattern)
        assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())
