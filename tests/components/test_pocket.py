"""The patch pocket: inside its host, clear of the edges, one on each side or on one only."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from shapely.geometry import LineString, Polygon

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.pattern import Body, MarkKind, Pattern, Side, Sides
from component_cases import (
    Parameters,
    Parts,
    bodies_to_draft,
    chart,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)
from survey import survey_women

KIND = "turned-patch-pocket"
TUNIC: Parts = {
    "bodice": (
        "darted-bodice",
        {
            "waist": "none",
            "opening": "none",
            "neckline": "scoop",
            "neck_widen": 45.0,
            "front_neck_drop": 110.0,
        },
    ),
}


def parts(parameters: Parameters) -> Parts:
    return {
        "bodice": ("darted-bodice", {}),
        "skirt": ("a-line-skirt", {"length": 720.0, "flare": 90.0}),
        "pocket": (KIND, parameters),
    }


def pocketed(**parameters: float | str) -> Pattern:
    return drafted(parts(dict(parameters)))


def laid(pattern: Pattern) -> Polygon:
    """The pocket where it will be sewn, judged by another engine."""
    placement = pattern.placements["pocket-placement"]
    outline = pattern.piece("pocket").outline.transformed(placement.onto)
    return Polygon([(point.x, point.y) for point in outline.flattened()])


def host_of(pattern: Pattern) -> Polygon:
    host = pattern.piece(pattern.placements["pocket-placement"].host)
    return Polygon([(point.x, point.y) for point in host.outline.flattened()])


@settings(max_examples=50)
@given(bodies_to_draft(), parameters_in_range(KIND, host="skirt front", below_top=115.0))
def test_any_pocket_lies_inside_its_host(wearer: Body, parameters: Parameters) -> None:
    pattern = drafted_or_refused(parts(parameters), wearer)
    if pattern is None:
        return
    piece, host = pattern.piece("pocket"), host_of(pattern)
    assert piece.outline.polygon.is_valid
    assert host.covers(laid(pattern)), host.exterior.distance(laid(pattern))


@pytest.mark.parametrize("size", chart(), ids=lambda size: size.name)
def test_the_default_pocket_is_clear_of_the_dart_s_stitching(size: Body) -> None:
    pattern = drafted(parts({}), size)
    front = pattern.piece("skirt-front")
    for dart in front.darts:
        legs = (front.edge(dart.leg_in), front.edge(dart.leg_out))
        stitching = [LineString([(p.x, p.y) for p in leg.flattened()]) for leg in legs]
        assert all(laid(pattern).distance(line) > 5.0 for line in stitching)


@pytest.mark.parametrize("across", [0.1, 0.2, 0.3])
def test_no_breast_pocket_lies_on_the_point_of_a_narrow_bust_dart(across: float) -> None:
    """A nearly level dart is a few millimeters high at its point: less than one step of looking."""
    breast = {"host": "bodice front", "number": "1", "width": 80.0, "height": 90.0}
    for wearer in survey_women()[::8]:
        pattern = drafted_or_refused(
            {**TUNIC, "pocket": (KIND, {**breast, "across": across})}, wearer
        )
        codes = {finding.code for finding in check(pattern, wearer)} if pattern else set()
        assert "PLACEMENT-DART" not in codes, wearer.name


def test_measures_are_those_asked_for() -> None:
    pattern = pocketed(width=120.0, height=150.0, from_center=70.0, across=0.0, below_top=130.0)
    left, bottom, right, top = laid(pattern).bounds
    assert (left, right - left, top - bottom) == pytest.approx((70.0, 120.0, 150.0))
    assert top == pytest.approx(-130.0)


def test_a_pocket_reaches_the_limit_at_the_side() -> None:
    """With `across` 1 the gap to the side edge is the one asked for, at the narrowest place."""
    pattern = pocketed(across=1.0, from_side=30.0)
    front = pattern.piece("skirt-front").edge("side")
    side = LineString([(point.x, point.y) for point in front.flattened()])
    assert 28.0 <= laid(pattern).distance(side) <= 30.5


def test_two_pockets_are_a_mirrored_pair_on_both_sides() -> None:
    pattern = pocketed(number=2)
    assert pattern.placements["pocket-placement"].sides is Sides.BOTH
    copies = pattern.piece("pocket").copies
    assert {(copy.side, copy.mirrored) for copy in copies} == {
        (Side.LEFT, False),
        (Side.RIGHT, True),
    }


def test_one_pocket_is_on_the_right_and_so_are_its_marks() -> None:
    pattern = pocketed(number=1)
    assert pattern.placements["pocket-placement"].sides is Sides.RIGHT
    assert [copy.side for copy in pattern.piece("pocket").copies] == [Side.RIGHT]
    marks = [mark for mark in pattern.piece("skirt-front").marks if mark.name.startswith("pocket")]
    assert marks
    assert all(mark.only_side == "right" for mark in marks)


def test_the_host_is_marked_with_line_and_corners() -> None:
    pattern = pocketed()
    marks = pattern.piece("skirt-front").marks
    (line,) = (mark for mark in marks if mark.kind is MarkKind.PLACEMENT_LINE)
    dots = [mark.at for mark in marks if mark.kind is MarkKind.DOT]
    assert line.path is not None
    assert len(dots) == 2
    assert {line.path.start, line.path.end} == set(dots)


def test_a_pocket_too_wide_for_its_place_says_how_much_is_free() -> None:
    with pytest.raises(ComponentError, match=r"mm wide, .* mm free"):
        pocketed(width=260.0)


def test_a_pocket_needs_its_host() -> None:
    with pytest.raises(ComponentError, match="needs something with a hem"):
        drafted({"bodice": ("darted-bodice", {}), "pocket": (KIND, {})})
