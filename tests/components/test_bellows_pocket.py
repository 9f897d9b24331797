"""The bellows pocket: gusset as long as three sides, pleat folded away, on any host."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from shapely.geometry import LineString, Polygon

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.pattern import Body, MarkKind, Pattern, Placement, Severity, Side, Sides
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
)

KIND = "bellows-pocket"
SLEEVE: Parts = {"sleeve": ("set-in-sleeve", {"length": 560.0})}
A_LINE: tuple[str, Parameters] = ("a-line-skirt", {"length": 720.0, "flare": 90.0})


def dress(
    parameters: Parameters,
    *,
    skirt: tuple[str, Parameters] = A_LINE,
    arm: Parts | None = None,
) -> Parts:
    return {
        "bodice": ("darted-bodice", {}),
        "skirt": skirt,
        "facing": ("front-and-neck-facing", {}),
        **(arm or {"binding": ("bound-armhole", {})}),
        "pocket": (KIND, parameters),
        "hem": ("double-hem", {}),
    }


def pocketed(**parameters: float | str) -> Pattern:
    return drafted(dress(dict(parameters)))


def laid(pattern: Pattern, placement: Placement) -> Polygon:
    """The placed piece where it will be sewn, judged by another engine."""
    outline = pattern.laid_piece(placement).outline.transformed(placement.onto)
    return Polygon([(point.x, point.y) for point in outline.flattened()])


def faults(pattern: Pattern, wearer: Body) -> list[str]:
    return [
        f"{found.code}: {found.message}"
        for found in check(pattern, wearer)
        if found.severity is not Severity.NOTE
    ]


@pytest.mark.parametrize("size", chart(), ids=lambda size: size.name)
def test_the_default_is_sound_in_every_size(size: Body) -> None:
    pattern = drafted(dress({}), size)
    assert_seams_true(pattern)
    assert not faults(pattern, size)


HOSTS: dict[str, Parts] = {
    "skirt back": dress({"host": "skirt back"}),
    "bodice front": dress({"host": "bodice front", "width": 85.0, "height": 95.0}),
    "bodice back": dress({"host": "bodice back", "width": 85.0, "height": 100.0}),
    "sleeve": dress({"host": "sleeve", "width": 100.0, "height": 120.0}, arm=SLEEVE),
    "gores": dress({}, skirt=("gored-skirt", {})),
    "tier": dress({}, skirt=("tiered-skirt", {})),
    "gathers": dress({}, skirt=("gathered-skirt", {})),
    "vent": dress({"host": "skirt back"}, skirt=("straight-skirt", {})),
}


@pytest.mark.parametrize("host", HOSTS)
def test_it_lies_on_any_host(host: str) -> None:
    pattern = drafted(HOSTS[host], body())
    assert_seams_true(pattern)
    assert not faults(pattern, body())
    for mode in OrderMode:
        assert plan(pattern, mode).operations


def test_the_gusset_is_as_long_as_the_three_sides() -> None:
    """Two heights and the width; a rounded corner saves two radii and adds a quarter circle."""
    square = pocketed(width=140.0, height=165.0, corner=0.0)
    assert square.piece("pocket-gusset").edge("host").length == pytest.approx(2 * 165 + 140)
    rounded = pocketed(width=140.0, height=165.0, corner=30.0)
    expected = 2 * 165 + 140 - 4 * 30 + math.pi * 30
    assert rounded.piece("pocket-gusset").edge("host").length == pytest.approx(expected, abs=0.1)


def test_what_is_stitched_is_as_long_as_the_placement_line() -> None:
    pattern = pocketed(corner=25.0)
    placement = pattern.placements["pocket-placement"]
    host = pattern.piece(placement.host)
    (line,) = (
        mark.path
        for mark in host.marks
        if mark.kind is MarkKind.PLACEMENT_LINE and mark.name == "pocket"
    )
    assert line is not None
    assert pattern.run_length(placement.stitched) == pytest.approx(line.length, abs=0.01)


def test_a_box_pleat_takes_twice_its_width() -> None:
    """Each half of it is folded back by half its width, and forward again (derived)."""
    left, _, right, _ = pocketed(width=140.0, pleat=30.0).piece("pocket").outline.polygon.bounds
    assert right - left == pytest.approx(140 + 2 * 30)
    plain = pocketed(width=140.0, pleat=0.0)
    left, _, right, _ = plain.piece("pocket").outline.polygon.bounds
    assert right - left == pytest.approx(140)
    assert "pocket-pleat" not in {operation.name for operation in plain.operations}


def test_the_buttonhole_is_diameter_and_thickness_long() -> None:
    """F01, source: Colgrove, buttonhole length = diameter + thickness of the button."""
    pattern = pocketed(diameter=20.0, thickness=4.0)
    (hole,) = (m for m in pattern.piece("pocket-flap").marks if m.kind is MarkKind.BUTTONHOLE)
    assert hole.path is not None
    assert hole.path.length == pytest.approx(24.0)


def test_the_button_lies_under_its_hole_when_the_flap_is_closed() -> None:
    pattern = pocketed()
    flap, pocket = (
        pattern.placements[name] for name in ("pocket-flap-placement", "pocket-placement")
    )
    (hole,) = (m.path for m in pattern.piece("pocket-flap").marks if m.path is not None)
    (button,) = (m.at for m in pattern.piece("pocket").marks if m.kind is MarkKind.BUTTON)
    assert button is not None
    at, line = pocket.onto.point(button), hole.transformed(flap.onto)
    assert LineString([(p.x, p.y) for p in line.flattened()]).distance(
        LineString([(at.x, at.y), (at.x, at.y + 0.001)])
    ) == pytest.approx(0.0, abs=0.01)


def test_the_flap_covers_the_opening() -> None:
    pattern = pocketed()
    flap = laid(pattern, pattern.placements["pocket-flap-placement"])
    pocket = laid(pattern, pattern.placements["pocket-placement"])
    top = max(y for _, y in pocket.exterior.coords)
    left, low, right, high = flap.bounds
    assert low < top < high
    assert left < pocket.bounds[0]
    assert right > pocket.bounds[2]


def test_without_a_flap_there_is_neither_button_nor_hole() -> None:
    pattern = pocketed(flap="none")
    assert set(pattern.placements) == {"pocket-placement"}
    assert not any(
        mark.kind in (MarkKind.BUTTON, MarkKind.BUTTONHOLE)
        for name in pattern.pieces
        if name.startswith("pocket")
        for mark in pattern.piece(name).marks
    )
    assert not [notion for notion in pattern.notions if notion.component == "pocket"]


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_single_one_sits_where_it_was_asked_for(side: str) -> None:
    pattern = pocketed(number=1, single_side=side)
    assert {each.sides for each in pattern.placements.values()} == {Sides(side)}
    for name in ("pocket", "pocket-gusset", "pocket-facing", "pocket-flap", "pocket-flap-under"):
        assert {copy.side for copy in pattern.piece(name).copies} == {Side(side)}


def test_what_belongs_to_a_pocket_is_no_part_of_the_torso() -> None:
    found = parts(pocketed())
    inside = ("pocket-gusset", "pocket-facing", "pocket-flap-under")
    assert {found[name] for name in inside} == {Part.INSIDE}
    assert {found[name] for name in ("pocket", "pocket-flap")} == {Part.PLACED}


def test_the_pocket_is_made_before_it_is_sewn_on() -> None:
    order = [operation.name for operation in plan(pocketed()).operations]
    made = [
        "pocket-fuse",
        "pocket-pleat",
        "pocket-face",
        "pocket-gusset-ends",
        "pocket-gusset",
        "pocket-sew-on",
        "pocket-flap-sew-on",
        "pocket-flap-button",
    ]
    places = [order.index(name) for name in made]
    assert places[1:] == sorted(places[1:])
    assert places[0] < places[2]


def test_a_button_that_the_flap_does_not_reach_is_refused_in_words() -> None:
    with pytest.raises(ComponentError, match="hangs too little over its pocket"):
        pocketed(height=60.0, flap_height=50.0, diameter=30.0)


@settings(max_examples=40)
@given(bodies_to_draft(), parameters_in_range(KIND, host="skirt front"))
def test_any_pocket_lies_inside_its_host(wearer: Body, parameters: Parameters) -> None:
    pattern = drafted_or_refused(dress(parameters), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    for placement in pattern.placements.values():
        outline = pattern.piece(placement.host).outline.flattened()
        host = Polygon([(point.x, point.y) for point in outline]).buffer(0.05)
        assert host.covers(laid(pattern, placement))
