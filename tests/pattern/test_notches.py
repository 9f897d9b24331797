"""Notches are derived: each match of a seam shows on every layer that reaches it."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, reject, settings
from shapely.geometry import Point as ShapelyPoint

from body_strategies import bodies
from clothwise.components import read_design
from clothwise.errors import ComponentError, MeasurementError
from clothwise.geometry import Point, Vector
from clothwise.pattern import Body
from clothwise.pattern.graph import Layer, Match, Seam, run
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.notches import notches
from clothwise.pattern.pattern import Contribution, Pattern
from sketches import rectangle

KILN_DRESS = Path(__file__).parents[2] / "examples" / "kiln-dress"


def sewn(*matches: Match) -> Pattern:
    """Two short panels one above the other, along one tall panel."""
    seam = Seam(
        "side",
        "side",
        (Layer(run("low.right", "high.right")), Layer(run("-tall.left"))),
        allowance_mm=15,
        matches=matches,
    )
    pieces = (rectangle("low", 200, 150), rectangle("high", 200, 150), rectangle("tall", 200, 300))
    return Pattern().adding(Contribution(pieces=pieces, seams=(seam,)))


def test_a_match_is_marked_on_every_layer() -> None:
    pattern = sewn(Match("hip", (40.0, 40.0), NotchKind.DOUBLE))
    (low,), (tall,) = notches(pattern, "low"), notches(pattern, "tall")
    assert (low.at, low.edge, low.kind) == (Point(200, 40), "right", NotchKind.DOUBLE)
    assert tall.at.is_close(Point(0, 40), 1e-6)
    assert tall.edge == "left"
    assert low.seam == tall.seam == "side"
    assert low.name == tall.name == "hip"
    assert notches(pattern, "high") == ()


def test_a_notch_points_out_of_the_piece_either_way_of_travel() -> None:
    pattern = sewn(Match("hip", (40.0, 40.0), NotchKind.SINGLE))
    assert (notches(pattern, "low")[0].outward - Vector(1, 0)).length < 1e-9
    assert (notches(pattern, "tall")[0].outward - Vector(-1, 0)).length < 1e-9


def test_a_later_edge_of_a_run_is_counted_from_its_start() -> None:
    (high,) = notches(sewn(Match("upper", (200.0, 200.0), NotchKind.SINGLE)), "high")
    assert high.at.is_close(Point(200, 50), 1e-6)


def test_the_end_of_a_seam_is_marked_only_where_there_is_no_seam() -> None:
    """The joint of the short panels is a seam's end on them, and a plain place on the tall one."""
    pattern = sewn(Match("joint", (150.0, 150.0), NotchKind.AT_SEAM))
    assert notches(pattern, "low") == notches(pattern, "high") == ()
    (tall,) = notches(pattern, "tall")
    assert tall.at.is_close(Point(0, 150), 1e-6)
    assert tall.kind.cuts == 1


def test_layers_that_do_not_reach_and_matches_without_a_mark_have_none() -> None:
    pattern = sewn(
        Match("half", (None, 70.0), NotchKind.SINGLE), Match("quiet", (60.0, 60.0), NotchKind.NONE)
    )
    assert notches(pattern, "low") == ()
    assert [notch.name for notch in notches(pattern, "tall")] == ["half"]


def test_notches_are_drawn_once_twice_or_not_at_all() -> None:
    cuts = {kind: kind.cuts for kind in NotchKind}
    assert cuts == {
        NotchKind.NONE: 0,
        NotchKind.SINGLE: 1,
        NotchKind.DOUBLE: 2,
        NotchKind.AT_SEAM: 1,
    }


@settings(max_examples=10)
@given(bodies())
def test_notches_of_a_dress_lie_on_their_edges_and_point_outward(body: Body) -> None:
    try:
        pattern = read_design(KILN_DRESS).draft(view="A", body=body)
    except (ComponentError, MeasurementError):  # about 1 body in 200 is refused, with a reason
        reject()
    found = 0
    for name, piece in pattern.pieces.items():
        for notch in notches(pattern, name):
            path = piece.edge(notch.edge)
            assert path.point_at(path.nearest(notch.at)).is_close(notch.at, 0.01)
            assert notch.outward.length == pytest.approx(1)
            assert abs(notch.outward.dot(path.tangent_at(path.nearest(notch.at)))) < 0.01
            out = notch.at + notch.outward
            inside = piece.outline.polygon.buffer(-0.01)
            assert not inside.covers(ShapelyPoint(out.x, out.y))
            found += 1
    assert found > 10
