"""The flat collar: drawn along the sewn neckline, as long as it, in one sweep beside it."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.components.collars.laid_neckline import laid_neckline
from clothwise.errors import ComponentError
from clothwise.geometry import Line, Path, Point, angle_between
from clothwise.pattern import Body, Pattern
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

KIND = "flat-collar"


def parts(parameters: Parameters, bodice: Parameters | None = None) -> Parts:
    more: Parts = {"collar": (KIND, parameters), "binding": ("bound-armhole", {})}
    return dress_with(more, bodice)


def collared(**parameters: float | str) -> Pattern:
    return drafted(parts(dict(parameters), {"armhole_ease": 25.0}))


@settings(max_examples=40)
@given(
    bodies_to_draft(),
    parameters_in_range(KIND),
    parameters_in_range("darted-bodice", button_stand=20.0),
)
def test_any_flat_collar_is_as_long_as_its_neckline(
    wearer: Body, parameters: Parameters, bodice: Parameters
) -> None:
    """D15 (common practice): within 3 mm of the neckline; ours within 0.5 mm."""
    pattern = drafted_or_refused(parts(parameters, bodice), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    neck = pattern.run_length(pattern.runs["neck"])
    for word in ("under", "upper"):
        piece = pattern.piece(f"collar-{word}")
        assert piece.outline.polygon.is_valid
        assert piece.edge("neck").length == pytest.approx(neck, abs=0.5)


@pytest.mark.parametrize("ends", ["round", "pointed"])
def test_a_dress_with_it_has_no_finding_and_can_be_sewn(ends: str) -> None:
    pattern = collared(ends=ends)
    assert check(pattern, body()) == ()
    order = plan(pattern)
    assert verify(pattern, order) == ()
    (make,) = (step.text for step in steps(pattern, order) if step.title == "Make the collar")
    assert ("curves" in make) == (ends == "round")
    assert ("points" in make) == (ends == "pointed")


def test_without_overlap_it_lies_as_front_and_back_do_with_their_shoulders_together() -> None:
    """Both half necklines are square to the shoulder (G07), so the bends of both add up."""
    pattern = collared()
    laid = laid_neckline(pattern, pattern.runs["neck"], 0.0, "collar")
    front, back = (pattern.piece(f"bodice-{name}").edge("neck") for name in ("front", "back"))
    bends = [abs(_bend(path)) for path in (front, back)]
    assert _bend(laid) == pytest.approx(sum(bends), abs=math.radians(0.1))
    shoulder = laid.point_at(back.length)
    assert shoulder.distance(Point(0.0, 0.0)) == pytest.approx(
        back.start.distance(back.end), abs=0.2
    )
    assert shoulder.distance(laid.end) == pytest.approx(front.start.distance(front.end), abs=0.2)


def _bend(path: Path) -> float:
    return sum(
        math.atan2(
            Path((segment,)).start_tangent.cross(Path((segment,)).end_tangent),
            Path((segment,)).start_tangent.dot(Path((segment,)).end_tangent),
        )
        for segment in path.segments
    )


def test_overlapping_shoulders_make_the_outer_edge_shorter() -> None:
    """What lies flat without overlap rolls with it (common practice)."""
    flat, rolled = (
        collared(overlap=overlap, turn_of_cloth=0.0).piece("collar-under")
        for overlap in (0.0, 40.0)
    )
    assert flat.edge("neck").length == pytest.approx(rolled.edge("neck").length, abs=1e-3)
    # On a shoulder s, an overlap o takes an angle of o/s from a band of width w: w * o/s.
    expected = 65.0 * 40.0 / body()["shoulder_length"]
    shorter = flat.edge("outer").length - rolled.edge("outer").length
    assert shorter == pytest.approx(expected, rel=0.1)


def test_the_outer_edge_keeps_its_distance_from_the_neckline() -> None:
    under = collared(ends="round", width=70.0).piece("collar-under")
    outer, neck = under.edge("outer"), under.edge("neck")
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        point = outer.point_at(share * outer.length)
        # One sweep past the shoulder, where a line at one distance has a flat place.
        strays = 0.1 if share in (0.0, 1.0) else 2.5
        assert point.distance(neck.point_at(neck.nearest(point))) == pytest.approx(70.0, abs=strays)
    bends = [outer.tangent_at(outer.length * step / 100) for step in range(101)]
    turns = [angle_between(one, other) for one, other in pairwise(bends)]
    assert sum(-turn for turn in turns if turn < 0) < math.radians(0.5)


def test_points_reach_forward() -> None:
    square, pointed = (
        collared(ends="pointed", point=point, turn_of_cloth=0.0).piece("collar-under")
        for point in (0.0, 40.0)
    )
    assert square.edge("end").length == pytest.approx(65.0, abs=0.1)
    assert pointed.edge("end").length == pytest.approx(math.hypot(65.0, 40.0), abs=0.1)
    assert isinstance(pointed.edge("end").segments[0], Line)


def test_upper_collar_is_larger_at_the_outer_edge_only() -> None:
    pattern = collared(turn_of_cloth=3.0)
    upper, under = pattern.piece("collar-upper"), pattern.piece("collar-under")
    assert upper.edge("neck") == under.edge("neck")
    assert upper.edge("center").length - under.edge("center").length == pytest.approx(3.0)
    assert pattern.seams["collar-outer"].layers[1].ease_mm > 3.0


@pytest.mark.parametrize("kind", [KIND, "two-piece-collar"])
def test_a_collar_that_is_caught_needs_something_sewn_to_the_neckline(kind: str) -> None:
    with pytest.raises(ComponentError, match="nothing is sewn to the neckline yet"):
        drafted({"bodice": ("darted-bodice", {}), "collar": (kind, {})})
