"""Moves of the plane: rigid, inverse, composed."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from clothwise.geometry import ORIGIN, Point, Transform, Vector, angle_between
from strategies import angles, mirrors, points, rigid_moves, tangents


@given(mirrors(), points)
def test_mirroring_twice_changes_nothing(mirror: Transform, point: Point) -> None:
    assert mirror.is_mirroring
    assert mirror.then(mirror).point(point).is_close(point, 1e-6)
    assert not mirror.then(mirror).is_mirroring


@given(points, tangents, st.floats(-500, 500))
def test_points_of_the_mirror_line_stay(through: Point, along: Vector, step: float) -> None:
    point = through + along.unit * step
    assert Transform.mirror(through, along).point(point).is_close(point, 1e-6)


@given(points, tangents, points)
def test_a_mirrored_point_lies_square_across_the_line(
    through: Point, along: Vector, point: Point
) -> None:
    image = Transform.mirror(through, along).point(point)
    middle = point.toward(image, 0.5)
    assert abs((middle - through).cross(along.unit)) < 1e-6
    assert abs((image - point).dot(along.unit)) < 1e-6


@given(points, points, points, angles)
def test_carrying_there_and_back_changes_nothing(
    start: Point, end: Point, target: Point, angle: float
) -> None:
    assume(start.distance(end) > 1)
    there = (target, target + Vector(10, 0).turned(angle))
    carry = Transform.carry((start, end), there)
    assert carry.point(start).is_close(target, 1e-6)
    ray = carry.point(end) - target
    assert ray.length == pytest.approx(start.distance(end), abs=1e-6)
    assert abs(angle_between(ray, there[1] - there[0])) < 1e-6
    assert not carry.is_mirroring
    back = Transform.carry(there, (start, end))
    assert carry.then(back).point(Point(123, -45)).is_close(Point(123, -45), 1e-5)


@given(rigid_moves(), points, points)
def test_rigid_moves_keep_distances(move: Transform, first: Point, second: Point) -> None:
    moved = move.point(first).distance(move.point(second))
    assert moved == pytest.approx(first.distance(second), abs=1e-6)
    assert (move.vector(second - first) - (move.point(second) - move.point(first))).length < 1e-6


@given(rigid_moves(), rigid_moves(), points)
def test_then_applies_one_after_the_other(
    first: Transform, second: Transform, point: Point
) -> None:
    expected = second.point(first.point(point))
    assert first.then(second).point(point).is_close(expected, 1e-5)


@given(angles, points)
def test_turning_forth_and_back(angle: float, about: Point) -> None:
    turn = Transform.turn(angle, about).then(Transform.turn(-angle, about))
    assert turn.point(Point(9, 9)).is_close(Point(9, 9), 1e-6)


def test_turns_are_anticlockwise() -> None:
    assert Transform.turn(math.pi / 2).point(Point(1, 0)).is_close(Point(0, 1))
    assert angle_between(Vector(1, 0), Vector(0, 1)) == pytest.approx(math.pi / 2)
    assert Vector(1, 0).left == Vector(0, 1)


def test_scale_is_about_the_origin() -> None:
    assert Transform.scale(0.5).point(Point(4, 6)) == Point(2, 3)
    assert Transform.scale(0.5).point(ORIGIN) == ORIGIN


@given(points, points)
def test_toward_reaches_both_ends_exactly(start: Point, end: Point) -> None:
    assert start.toward(end, 0.0) == start
    assert start.toward(end, 1.0) == end
