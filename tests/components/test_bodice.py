"""The bodice: a sound block for every body, its seams true and its darts closing."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings

from clothwise.components.bodices.bodice_armhole import armhole
from clothwise.errors import MeasurementError
from clothwise.geometry import Point, offset_path, polar, straight
from clothwise.pattern import Body, Pattern, Side
from component_cases import (
    Parameters,
    assert_darts_close,
    assert_seams_true,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)
from survey import survey_women

KIND = "darted-bodice"
JEWEL = {"front_neck_drop": 0.0, "back_neck_drop": 0.0, "neck_widen": 0.0}


def bodice(for_body: Body | None = None, **parameters: float) -> Pattern:
    return drafted({"bodice": (KIND, dict(parameters))}, for_body)


def tried(for_body: Body, parameters: Parameters) -> Pattern | None:
    return drafted_or_refused({"bodice": (KIND, parameters)}, for_body)


@settings(max_examples=60)
@given(bodies_to_draft(), parameters_in_range(KIND))
def test_any_body_and_parameters_give_a_true_bodice(wearer: Body, parameters: Parameters) -> None:
    pattern = tried(wearer, parameters)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert_darts_close(pattern)
    for piece in pattern.pieces.values():
        assert piece.outline.polygon.is_valid
        assert piece.outline.area > 20_000


@settings(max_examples=40)
@given(bodies_to_draft(), parameters_in_range(KIND, neckline="round", **JEWEL))
def test_neckline_is_the_neck_and_its_ease(wearer: Body, parameters: Parameters) -> None:
    """D14: the seam of a jewel neck is the neck base girth and a little."""
    pattern = tried(wearer, parameters)
    if pattern is None:
        return
    ease = float(parameters.get("neck_ease", 6))
    around = 2 * pattern.run_length(pattern.runs["neck"])
    assert around == pytest.approx(wearer["neck_base_girth"] + ease, abs=0.1)


@settings(max_examples=40)
@given(bodies_to_draft(), parameters_in_range(KIND, waist="natural", opening="center front"))
def test_girths_are_those_of_the_body_and_the_ease(wearer: Body, parameters: Parameters) -> None:
    """Derived: what is sewn is what was asked (E13); within 0.05 mm."""
    pattern = tried(wearer, parameters)
    if pattern is None:
        return
    front, back = pattern.piece("bodice-front"), pattern.piece("bodice-back")
    bust = 2 * (front.points["underarm"].x + back.points["underarm"].x)
    assert bust == pytest.approx(wearer["bust_girth"] + float(parameters.get("bust_ease", 80)))
    stand = float(parameters.get("button_stand", 20))
    waist = 2 * (pattern.run_length(pattern.runs["waist"]) - stand)
    wanted = wearer["waist_girth"] + float(parameters.get("waist_ease", 50))
    assert waist == pytest.approx(wanted, abs=0.05)


@settings(max_examples=30)
@given(bodies_to_draft())
def test_shoulders_differ_by_the_ease_and_have_the_body_s_length(wearer: Body) -> None:
    pattern = bodice(wearer, shoulder_ease=8.0)
    front = pattern.piece("bodice-front").edge("shoulder").length
    assert front == pytest.approx(wearer["shoulder_length"], abs=0.01)
    assert pattern.piece("bodice-back").edge("shoulder").length == pytest.approx(front + 8.0)


@pytest.mark.parametrize("size", chart(), ids=lambda size: size.name)
def test_bust_dart_points_at_the_bust_point_and_stops_short(size: Body) -> None:
    """D08: 20 to 25 mm (common practice, no source); at its height."""
    front = bodice(size).piece("bodice-front")
    dart = next(each for each in front.darts if each.name == "bust dart")
    apex, bust = front.apex(dart), front.points["bust point"]
    assert 20.0 <= apex.x - bust.x <= 25.0 + 1e-6
    assert apex.y == pytest.approx(bust.y)


@pytest.mark.parametrize("size", chart(), ids=lambda size: size.name)
def test_darts_get_wider_with_a_smaller_waist(size: Body) -> None:
    def intake(ease: float) -> float:
        pattern = bodice(size, waist_ease=ease)
        total = 0.0
        for piece in pattern.pieces.values():
            for dart in piece.darts:
                if dart.name == "waist dart":
                    mouth = piece.edge(dart.leg_in).start, piece.edge(dart.leg_out).end
                    total += mouth[0].distance(mouth[1])
        return total

    assert intake(30.0) >= intake(80.0)


def test_armhole_deepens_with_its_ease_and_meets_square() -> None:
    shallow, deep = bodice(armhole_ease=25.0), bodice(armhole_ease=65.0)
    assert deep.run_length(deep.runs["armhole"]) > shallow.run_length(shallow.runs["armhole"]) + 60
    for piece in deep.pieces.values():
        side = piece.edge("side-upper" if "side-upper" in piece.edge_names else "side")
        armhole, shoulder = piece.edge("armhole"), piece.edge("shoulder")
        for one, other in (
            (side.end_tangent, armhole.start_tangent),
            (armhole.end_tangent, shoulder.start_tangent),
        ):
            corner = abs(math.remainder(one.angle - other.angle, 2 * math.pi))
            assert corner == pytest.approx(math.pi / 2, abs=1e-3), piece.name


def test_front_is_a_mirrored_pair_and_back_is_on_the_fold() -> None:
    pattern = bodice()
    front, back = pattern.piece("bodice-front"), pattern.piece("bodice-back")
    assert {(copy.side, copy.mirrored) for copy in front.copies} == {
        (Side.LEFT, False),
        (Side.RIGHT, True),
    }
    assert len(back.copies) == 1
    assert back.fold_edge == "center"
    assert all(abs(point.x) < 1e-9 for point in back.edge("center").flattened())


def test_a_back_too_short_for_the_armhole_names_measurement_and_remedy() -> None:
    wearer = body(back_neck_to_waist=330.0, scye_depth=225.0)
    assert tried(wearer, {"armhole_ease": 90.0}) is None


def test_lines_that_cross_are_refused_in_four_parts() -> None:
    """A row of the survey with ease that its short side cannot take up: no traceback."""
    (woman,) = [each for each in survey_women() if each.name == "survey woman 89"]
    wide: Parameters = {"bust_ease": 0.0, "waist_ease": 250.0, "armhole_ease": 90.0}
    still: Parameters = {"front_length_ease": 0.0, "neck_ease": 0.0, "shoulder_ease": 0.0}
    assert tried(woman, {**wide, **still}) is None


def test_a_waist_far_wider_than_the_bust_on_a_short_side_is_refused() -> None:
    """Quarters of (910 + 250) and (900 - 100) mm differ by 90 mm."""
    wide: Parameters = {"bust_ease": -100.0, "waist_ease": 250.0, "armhole_ease": 90.0}
    with pytest.raises(MeasurementError, match="90 mm wider in each quarter") as caught:
        drafted({"bodice": ("darted-bodice", wide)}, body(waist_girth=910.0))
    assert "Lower waist_ease" in caught.value.faults[0].remedy


@pytest.mark.parametrize("size", chart(), ids=lambda size: size.name)
def test_waist_is_square_to_the_side_as_sewn(size: Body) -> None:
    """Within 0.05 degree, so that front and back waist run on into each other."""
    pattern = bodice(size)
    for name, first_side in (("bodice-front", "side-lower"), ("bodice-back", "side")):
        piece = pattern.piece(name)
        waist = "waist-side" if "waist-side" in piece.edge_names else "waist-center"
        along, up = piece.edge(waist).end_tangent, piece.edge(first_side).start_tangent
        corner = math.degrees(math.remainder(up.angle - along.angle, 2 * math.pi))
        assert corner == pytest.approx(90.0, abs=0.05), name


def test_an_armhole_with_little_room_bends_as_roundly_as_it_can() -> None:
    """A side that swings out by 30 degrees, and 23 mm from it to where the armhole is narrowest."""
    underarm = Point(217.0, 260.0)
    side = straight(underarm - polar(100.0, math.radians(120)), underarm)
    found = armhole(
        side,
        Point(225.0, 430.0),
        slope_rad=math.radians(20),
        across_mm=194.0,
        body_slope_rad=math.radians(20),
    )
    offset_path(found, -12.0)  # as an allowance of 12 mm is cut: refused where a bend is tighter
    assert found.start_tangent.dot(side.end_tangent) == pytest.approx(0.0, abs=1e-9)
