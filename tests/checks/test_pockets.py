"""Reach and openings of pockets, against the survey and geometry; pockets that are in order."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from checks.mutations import placement_moved
from clothwise.checks import Derived, check
from clothwise.checks.levels import depth_of, hip_pieces
from clothwise.checks.pockets import fingertips_below_waist_mm, wrist_below_waist_mm
from clothwise.components.bodices.bodice_block import Opening
from clothwise.components.bodices.waist_level import WaistLevel
from clothwise.components.pockets.pocket import PocketHost
from clothwise.geometry import Point
from clothwise.pattern import Body, Pattern, run
from survey import survey_women
from work.real_designs import LONG_DRESS, body, drafted, half_circle_skirt, long_dress

POCKET_CODES = {"POCKET-OPENING", "POCKET-REACH"}

SURVEY_WRIST_SHARE, SURVEY_WRIST_SD = 0.486, 0.0123
"""Height of the wrist above the floor, as a share of the height: acromion height less the straight
arm, over the 1,595 women of ANSUR II (US Army, 2012); mean and standard deviation computed by us
from the published rows."""


def pocket_codes(pattern: Pattern, wearer: Body | None = None) -> set[str]:
    return {finding.code for finding in check(pattern, wearer or body())} & POCKET_CODES


def with_pocket(**parameters: Any) -> Pattern:
    return drafted(
        tuple(
            (name, kind, parameters if name == "pocket" else given)
            for name, kind, given in LONG_DRESS
        )
    )


@pytest.mark.parametrize("height", [1520.0, 1630.0, 1760.0])
def test_wrist_hangs_where_the_survey_found_it(height: float) -> None:
    """Heights above the floor are compared: the survey's waist is the navel, ours is not."""
    figure = body(height=height)
    above_floor = figure["waist_height"] - wrist_below_waist_mm(figure)
    assert above_floor / height == pytest.approx(SURVEY_WRIST_SHARE, abs=SURVEY_WRIST_SD)


def test_every_woman_has_room_for_pockets_between_waist_and_fingertips() -> None:
    """A pocket 11.5 cm below the waist, 17 cm deep, is in reach of 200 women of the survey."""
    for woman in survey_women():
        assert wrist_below_waist_mm(woman) > 115, woman.name
        assert 115 + 170 < fingertips_below_waist_mm(woman) < woman["inside_leg_height"], woman.name


def test_opening_is_measured_round() -> None:
    """A straight opening of w is 2 w round: half the hand and 2 cm are enough, 1 mm less is not."""
    enough = body()["hand_girth"] / 2 + 20
    assert pocket_codes(with_pocket(width_mm=enough)) == set()
    assert pocket_codes(with_pocket(width_mm=enough - 1)) == {"POCKET-OPENING"}


def test_a_second_open_edge_makes_room_for_the_hand() -> None:
    pattern = with_pocket(width_mm=100.0)
    placement = replace(
        pattern.placements["pocket-placement"], stitched=run("pocket.left", "pocket.bottom")
    )
    opened = replace(pattern, placements={"pocket-placement": placement})
    assert pocket_codes(pattern) == {"POCKET-OPENING"}
    assert pocket_codes(opened) == set()


def test_opening_at_the_wrist_is_in_reach() -> None:
    lower = wrist_below_waist_mm(body()) - 115.0
    for beyond, found in ((-0.5, set()), (0.5, {"POCKET-REACH"})):
        moved = placement_moved(long_dress(), "pocket-placement", 0.0, -(lower + beyond))
        assert pocket_codes(moved) == found


def test_bottom_at_the_fingertips_is_in_reach() -> None:
    tips = fingertips_below_waist_mm(body())
    for beyond, found in ((-0.5, set()), (0.5, {"POCKET-REACH"})):
        deep = with_pocket(below_top_mm=tips + beyond - 280, height_mm=280.0)
        assert pocket_codes(deep) == found


def test_small_pocket_on_the_bodice_is_left_alone() -> None:
    small = with_pocket(
        host=PocketHost.BODICE_FRONT, number=1, width_mm=60.0, height_mm=60.0, below_top_mm=120.0
    )
    assert pocket_codes(small) == set()


def test_what_is_stitched_all_round_is_no_pocket() -> None:
    pattern = with_pocket(width_mm=70.0)
    placement = pattern.placements["pocket-placement"]
    edges = run("pocket.left", "pocket.bottom", "pocket.right", "pocket.top")
    badge = replace(placement, stitched=edges)
    closed = replace(pattern, placements={"pocket-placement": badge})
    assert pocket_codes(pattern) == {"POCKET-OPENING"}
    assert pocket_codes(closed) == set()


def test_depth_follows_the_cloth_on_a_skirt_that_hangs_from_its_waist() -> None:
    """On a half circle of waist radius r, a point at r + d from the middle hangs d below."""
    derived = Derived(half_circle_skirt(), body())
    (hanging,) = hip_pieces(derived)
    radius = hanging.waist_center.distance(Point(0.0, 0.0))
    for x, y in ((0.0, -1.0), (0.6, -0.8), (0.96, -0.28)):
        point = Point(x * (radius + 200), y * (radius + 200))
        assert depth_of(derived, hanging, point) == pytest.approx(200, abs=0.1)


@pytest.mark.parametrize(("below_shoulder", "found"), [(115.0, set()), (560.0, {"POCKET-OPENING"})])
def test_a_breast_pocket_of_a_tunic_is_for_a_pen(below_shoulder: float, found: set[str]) -> None:
    """The piece reaches from shoulder to hip: what lies above the waist is no pocket for a hand."""
    tunic = drafted(
        (
            ("bodice", "darted-bodice", {"waist": WaistLevel.NONE, "opening": Opening.NONE}),
            (
                "pocket",
                "turned-patch-pocket",
                {
                    "host": PocketHost.BODICE_FRONT,
                    "width_mm": 80.0,
                    "height_mm": 90.0,
                    "below_top_mm": below_shoulder,
                },
            ),
        )
    )
    assert pocket_codes(tunic) == found
