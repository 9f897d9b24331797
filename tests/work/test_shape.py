from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from clothwise.geometry import Outline, Point, straight
from clothwise.pattern import Dart, Grainline, Piece, PressedToward, pair
from clothwise.work.shape import center_x, outside_strip, shape_of
from work.real_designs import TUNIC, body, drafted, long_dress


def triangle_dart(intake_mm: float, depth_mm: float) -> Piece:
    """A plain rectangle, 200 by 300 mm, with an upright dart in its lower edge."""
    left, right = Point(120 - intake_mm / 2, 0), Point(120 + intake_mm / 2, 0)
    apex = Point(120, depth_mm)
    corners = [Point(0, 0), left, apex, right, Point(200, 0), Point(200, 300), Point(0, 300)]
    names = ["waist-center", "in", "out", "waist-side", "side", "top", "center"]
    edges = {
        name: straight(start, end)
        for name, start, end in zip(names, corners, [*corners[1:], corners[0]], strict=True)
    }
    return Piece(
        name="plain",
        title="Plain",
        outline=Outline(edges),
        grain=Grainline(Point(50, 50), Point(50, 200)),
        copies=pair("main"),
        darts=(Dart("dart", "in", "out", PressedToward.BEFORE),),
        fold_edge="center",
    )


def all_pieces_with_darts() -> list[Piece]:
    bodies = [body(), body(1180, 1020, 1230, 1680), body(820, 600, 900, 1560)]
    return [
        piece
        for wearer in bodies
        for piece in drafted(TUNIC, wearer).pieces.values()
        if piece.darts
    ]


@pytest.mark.parametrize("piece", all_pieces_with_darts(), ids=lambda piece: piece.name)
def test_closed_darts_leave_no_gap(piece: Piece) -> None:
    shape = shape_of(piece)
    for dart in piece.darts:
        mouth_in = shape.move(piece.edge(dart.leg_in).start)
        mouth_out = shape.move(piece.edge(dart.leg_out).end)
        assert mouth_in.distance(mouth_out) < 0.05
    points = [point for edge in shape.edges.values() for point in edge]
    gaps = [a.distance(b) for a, b in zip(points, [*points[1:], points[0]], strict=True)]
    assert max(gaps) < 18.0
    assert shape.polygon.is_valid


@pytest.mark.parametrize("piece", all_pieces_with_darts(), ids=lambda piece: piece.name)
def test_the_center_line_stays_where_it_is(piece: Piece) -> None:
    shape = shape_of(piece)
    if piece.fold_edge:
        fold = piece.edge(piece.fold_edge)
        on_center = [fold.start, fold.point_at(fold.length / 2), fold.end]
    else:
        on_center = [at for name, at in piece.points.items() if name.startswith("center")]
    assert len(on_center) > 1
    for point in on_center:
        assert point.x == center_x(piece)
        assert shape.move(point).is_close(point, 0.01)


@given(st.floats(8, 60), st.floats(60, 190))
@example(60.0, 60.0)
def test_a_closed_dart_takes_in_its_intake_at_the_mouth(intake: float, depth: float) -> None:
    shape = shape_of(triangle_dart(intake, depth))
    side = shape.move(Point(200, 0))
    assert side.x == pytest.approx(200 - intake, abs=0.6)
    assert shape.move(Point(200, 300)).is_close(Point(200, 300), 0.01)  # well beyond it
    lower = shape.edges["waist-center"] + shape.edges["waist-side"]
    length = sum(a.distance(b) for a, b in pairwise(lower))
    assert length == pytest.approx(200 - intake, rel=0.03)


def test_darts_that_are_not_sewn_stay_open() -> None:
    piece = long_dress().piece("bodice-front")
    shape = shape_of(piece, ())
    assert shape.darts == ()
    assert shape.edges.keys() == piece.outline.edges.keys()
    assert math.isclose(shape.polygon.area, piece.outline.area, rel_tol=1e-3)


def test_the_strip_outside_an_edge_lies_outside() -> None:
    piece = long_dress().piece("skirt-front")
    shape = shape_of(piece)
    for points in shape.edges.values():
        strip = outside_strip(list(points), 10.0, (0.0, 0.0))
        assert strip.intersection(shape.polygon).area < 0.06 * strip.area
