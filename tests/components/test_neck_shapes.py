"""Shapes of the neckline: their corners, their ends, and how front and back meet."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from clothwise.checks import check
from clothwise.geometry import angle_between
from clothwise.pattern import Pattern, Severity
from component_cases import Parameters, Parts, assert_seams_true, chart, drafted

SHAPES = ("round", "scoop", "v", "square", "boat")
SIZES = (chart()[0], chart()[4], chart()[9])


def buttoned(**bodice: float | str) -> Parts:
    return {
        "bodice": ("darted-bodice", dict(bodice)),
        "skirt": ("a-line-skirt", {}),
        "facing": ("front-and-neck-facing", {}),
        "sleeve": ("set-in-sleeve", {}),
        "buttons": ("buttons", {}),
        "hem": ("double-hem", {}),
    }


def over_head(**bodice: float | str) -> Parts:
    wide: Parameters = {"neck_widen": 50.0, "front_neck_drop": 70.0}
    return {
        "bodice": ("darted-bodice", {**wide, **bodice, "opening": "none", "waist": "none"}),
        "facing": ("neck-facing", {}),
        "sleeve": ("set-in-sleeve", {}),
        "hem": ("double-hem", {}),
    }


def faults(pattern: Pattern, wearer: object) -> list[str]:
    found = check(pattern, wearer)  # type: ignore[arg-type]
    return [each.code for each in found if each.severity is not Severity.NOTE]


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("garment", [buttoned, over_head], ids=["buttoned", "over head"])
def test_every_shape_drafts_clean(shape: str, garment: object) -> None:
    for size in SIZES:
        pattern = drafted(garment(neckline=shape), size)  # type: ignore[operator]
        assert_seams_true(pattern)
        assert faults(pattern, size) == []


@pytest.mark.parametrize("shape", SHAPES)
def test_the_line_runs_on_across_the_shoulder(shape: str) -> None:
    """G07: joined angles add to 180 degrees (common practice)."""
    pattern = drafted(buttoned(neckline=shape))
    angles = []
    for name in ("bodice-front", "bodice-back"):
        piece = pattern.piece(name)
        outward = piece.edge("shoulder").end_tangent * -1.0
        angles.append(abs(angle_between(piece.edge("neck").start_tangent, outward)))
    assert sum(angles) == pytest.approx(math.pi, abs=1e-6)


def test_a_square_neck_has_one_corner_and_a_level_lower_edge() -> None:
    pattern = drafted(buttoned(neckline="square"))
    neck = pattern.piece("bodice-front").edge("neck")
    corners = [each for each in pattern.intended_corners if each.line.piece == "bodice-front"]
    (corner,) = corners
    assert corner.at_mm is not None
    assert corner.angle_rad == pytest.approx(math.radians(270 - 4), abs=1e-6)
    assert neck.point_at(corner.at_mm).y == pytest.approx(neck.end.y)


def test_the_facing_has_the_corners_of_what_it_faces() -> None:
    for shape, number in (("square", 2), ("v", 2), ("scoop", 0)):
        pattern = drafted(over_head(neckline=shape))
        assert len(pattern.intended_corners) == number
        bodice, facing = pattern.piece("bodice-front"), pattern.piece("facing-front")
        assert facing.edge("neck") == bodice.edge("neck")


def test_both_fronts_of_a_v_cross_at_its_point() -> None:
    """The line goes on straight from center front to the front edge."""
    front = drafted(buttoned(neckline="v")).piece("bodice-front")
    neck, stand = front.edge("neck"), front.edge("neck-stand")
    assert stand.start.x == pytest.approx(0.0, abs=1e-9)
    assert stand.end.x == pytest.approx(-20.0)
    assert abs(angle_between(neck.end_tangent, stand.start_tangent)) < 1e-6


def test_the_steps_say_where_to_clip() -> None:
    for shape, words in (
        ("square", "at the corner of the square neck"),
        ("v", "at the point of the V neck"),
        ("scoop", "clip the curve"),
    ):
        texts = [each.text for each in drafted(over_head(neckline=shape)).operations]
        assert any(words in text for text in texts)


def test_a_front_that_opens_takes_no_closed_facing() -> None:
    from clothwise.errors import ComponentError

    parts = {**buttoned(), "facing": ("neck-facing", {})}
    with pytest.raises(ComponentError, match="neckline that is closed"):
        drafted(parts)


def test_sixty_millimeters_of_shoulder_are_left() -> None:
    for size in SIZES:
        front = drafted(buttoned(neckline="boat", neck_widen=60.0), size).piece("bodice-front")
        assert front.edge("shoulder").length >= 60.0 - 1e-6


@pytest.mark.parametrize("shape", ["round", "scoop", "boat"])
@pytest.mark.parametrize("drop", [0.0, 60.0, 120.0])
def test_a_neckline_is_hollow_all_the_way(shape: str, drop: float) -> None:
    """From shoulder to center its direction turns one way, but for what nobody sees."""
    pattern = drafted(
        {"bodice": ("darted-bodice", {"neckline": shape, "front_neck_drop": drop})}, chart()[0]
    )
    for name in ("bodice-front", "bodice-back"):
        neck = pattern.piece(name).edge("neck")
        headings = [neck.tangent_at(neck.length * step / 200) for step in range(201)]
        turns = [angle_between(one, other) for one, other in pairwise(headings)]
        whole = sum(turns)
        back = sum(abs(turn) for turn in turns if turn * whole < 0)
        assert math.degrees(back) < 0.6, name
        assert 45 < math.degrees(abs(whole)) < 95
