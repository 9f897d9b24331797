"""The slant pocket: the front loses a corner, the side piece has it, and both bags agree."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.geometry import Point
from clothwise.pattern import Body, Pattern, Severity
from clothwise.work import parts, plan, steps
from clothwise.work.wearing import Part
from component_cases import (
    Parameters,
    Parts,
    assert_darts_close,
    assert_seams_true,
    assert_sound,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
    parameters_in_range,
    skirt_alone,
)

KIND = "slant-pocket"
SKIRTS = (
    *("straight-skirt", "gored-skirt", "gathered-skirt"),
    *("tiered-skirt", "pleated-skirt"),
)
SIZES = (chart()[0], chart()[4], chart()[9])


def dress(parameters: Parameters, skirt: str = "a-line-skirt", **of_skirt: float) -> Parts:
    return {
        "bodice": ("darted-bodice", {}),
        "skirt": (skirt, dict(of_skirt)),
        "facing": ("front-and-neck-facing", {}),
        "pocket": (KIND, parameters),
        "binding": ("bound-armhole", {}),
        "hem": ("double-hem", {}),
    }


def alone(skirt: str) -> Parts:
    whole = skirt_alone(skirt, {})
    hem = whole.pop("hem")
    return {**whole, "pocket": (KIND, {}), "hem": hem}


def without(parts_of: Parts) -> Parts:
    return {name: part for name, part in parts_of.items() if name != "pocket"}


@pytest.mark.parametrize("size", SIZES, ids=lambda size: size.name)
def test_it_is_sound_in_every_size(size: Body) -> None:
    assert_sound(dress({}), size)


@pytest.mark.parametrize("skirt", SKIRTS)
def test_it_goes_into_any_skirt_with_side_seams(skirt: str) -> None:
    assert_sound(dress({}, skirt), SIZES[1])
    assert_sound(alone(skirt), SIZES[2])


@pytest.mark.parametrize("place", ["before", "after"])
def test_it_may_be_listed_before_the_waistband(place: str) -> None:
    whole = skirt_alone("straight-skirt", {})
    pocket: Parts = {"pocket": (KIND, {})}
    skirt, rest = {"skirt": whole.pop("skirt")}, whole
    hem = {"hem": rest.pop("hem")}
    order = {**skirt, **pocket, **rest} if place == "before" else {**skirt, **rest, **pocket}
    assert_sound({**order, **hem}, body())


def test_the_slant_leads_from_the_waist_to_the_side_seam() -> None:
    pattern = drafted(dress({"along_waist": 40.0, "down_side": 150.0}))
    side = pattern.piece("pocket-side")
    assert side.edge("waist-side").length == pytest.approx(40.0, abs=0.01)
    assert side.edge("side").length == pytest.approx(150.0, abs=0.01)
    mouth = pattern.piece("pocket-front-bag").edge("mouth")
    assert mouth.length == pytest.approx(pattern.piece("skirt-front").edge("slant-pocket").length)
    assert mouth.length == pytest.approx(mouth.start.distance(mouth.end))


def test_front_and_side_piece_together_are_the_front_of_before() -> None:
    """Nothing of waist, side seam and area is lost: the corner went to the side piece."""
    design = dress({})
    before, after = drafted(without(design)), drafted(design)
    whole, front = before.piece("skirt-front"), after.piece("skirt-front")
    side = after.piece("pocket-side")
    for edge in ("waist-side", "side"):
        together = front.edge(edge).length + side.edge(edge).length
        assert together == pytest.approx(whole.edge(edge).length, abs=0.01)
    cut_off = whole.outline.polygon.difference(front.outline.polygon)
    assert side.outline.polygon.buffer(0.05).contains(cut_off.buffer(-0.05))
    for name in ("skirt-waist", "skirt-side"):
        lengths = [
            [pattern.run_length(layer.run) for layer in pattern.seams[name].layers]
            for pattern in (before, after)
        ]
        assert lengths[0] == pytest.approx(lengths[1], abs=0.02)


def test_the_bag_is_as_wide_and_deep_as_asked() -> None:
    pattern = drafted(dress({"bag_width": 150.0, "bag_depth": 100.0}))
    bag = pattern.piece("pocket-front-bag")
    left = bag.outline.polygon.bounds[0]
    assert bag.edge("mouth").start.x - left == pytest.approx(150.0, abs=0.5)
    assert bag.edge("side-held").length == pytest.approx(100.0, abs=0.01)


def test_the_side_piece_shows_where_the_slant_edge_lies() -> None:
    pattern = drafted(dress({}))
    (line,) = (mark.path for mark in pattern.piece("pocket-side").marks if mark.path)
    assert {line.start, line.end} == _ends(pattern)


def _ends(pattern: Pattern) -> set[Point]:
    path = pattern.piece("skirt-front").edge("slant-pocket")
    return {path.start, path.end}


@pytest.mark.parametrize("skirt", ["a-line-skirt", "gathered-skirt"])
@pytest.mark.parametrize("width", [25.0, 45.0, 70.0])
def test_a_facing_lies_along_the_mouth_of_the_bag(skirt: str, width: float) -> None:
    design = dress({"facing_width": width}, skirt)
    assert_sound(design, SIZES[1])
    pattern = drafted(design, SIZES[1])
    facing, bag = pattern.piece("pocket-facing"), pattern.piece("pocket-front-bag")
    assert facing.edge("mouth") == bag.edge("mouth")
    assert bag.outline.polygon.buffer(0.2).contains(facing.outline.polygon)
    assert len(pattern.seams["pocket-slant"].layers) == 3
    order = [operation.name for operation in plan(pattern).operations]
    assert order.index("pocket-facings") < order.index("pocket-face") < order.index("pocket-close")


def test_a_facing_that_covers_nothing_is_refused() -> None:
    with pytest.raises(ComponentError, match="too narrow"):
        drafted(dress({"facing_width": 10.0}))


def test_slant_and_bags_are_sewn_before_side_and_waist() -> None:
    pattern = drafted(dress({}))
    order = [operation.name for operation in plan(pattern).operations]
    names = ("pocket-face", "pocket-close", "skirt-sides", "skirt-waist")
    places = [order.index(name) for name in names]
    assert places == sorted(places)
    found = parts(pattern)
    assert found["pocket-front-bag"] is Part.INSIDE
    text = " ".join(step.text for step in steps(pattern, plan(pattern)))
    assert "does not stretch" in text


def test_a_narrow_mouth_is_found() -> None:
    """A hand goes in flat: half its girth and 2 cm (common practice, no source)."""
    design = dress({"down_side": 130.0, "along_waist": 22.0})
    mouth = drafted(design).piece("pocket-front-bag").edge("mouth").length
    for hand, codes in ((2 * (mouth - 21.0), set()), (2 * (mouth - 19.0), {"POCKET-OPENING"})):
        wearer = body().with_measured({"wrist_girth": 180.0, "hand_girth": hand})
        found = check(drafted(design, wearer), wearer)
        assert {each.code for each in found} & {"POCKET-OPENING"} == codes


@pytest.mark.parametrize("skirt", ["circle-skirt"])
def test_a_skirt_without_side_seams_is_told(skirt: str) -> None:
    with pytest.raises(ComponentError, match="no corner of waist and side seam"):
        drafted(alone(skirt))


def test_it_needs_room_on_the_side_seam() -> None:
    with pytest.raises(ComponentError, match="side seam is too short"):
        drafted(dress({"down_side": 220.0, "bag_depth": 70.0}, length=300.0))


@settings(max_examples=25)
@given(bodies_to_draft(), parameters_in_range(KIND), parameters_in_range("a-line-skirt"))
def test_any_pocket_in_any_skirt_is_sound_or_refused(
    wearer: Body, parameters: Parameters, skirt: Parameters
) -> None:
    design = {**dress(parameters), "skirt": ("a-line-skirt", skirt)}
    pattern = drafted_or_refused(design, wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert_darts_close(pattern)
    before = {each.code for each in check(drafted(without(design), wearer), wearer)}
    found = [each for each in check(pattern, wearer) if each.severity is not Severity.NOTE]
    assert [each.message for each in found if each.code not in before | {"POCKET-OPENING"}] == []
