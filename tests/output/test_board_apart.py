"""Pieces on the board that come to lie on one another."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon, box

from clothwise.geometry import Point
from clothwise.output.board_apart import CLEAR_MM, lying_pairs, moved_apart

SHAPES = {"front": box(0, 0, 300, 600), "back": box(0, 0, 300, 600), "belt": box(0, 0, 900, 60)}
CLEAR = {"front": Point(0, 0), "back": Point(370, 0), "belt": Point(0, -130)}


def test_what_lies_clear_stays_where_it_is() -> None:
    assert lying_pairs(SHAPES, CLEAR) == []
    assert moved_apart(SHAPES, CLEAR) == CLEAR


def test_only_what_is_in_the_way_moves_and_only_as_far_as_it_takes() -> None:
    longer = {**SHAPES, "front": box(0, -100, 300, 600)}
    assert lying_pairs(longer, CLEAR) == [("front", "belt")]
    found = moved_apart(longer, CLEAR)
    assert {name: found[name] for name in ("front", "back")} == {
        name: CLEAR[name] for name in ("front", "back")
    }
    down = CLEAR["belt"].y - found["belt"].y
    assert found["belt"].x == pytest.approx(0.0)
    assert 30 + CLEAR_MM <= down < 30 + CLEAR_MM + 15


def test_pieces_all_at_one_place_come_to_lie_clear() -> None:
    found = moved_apart(SHAPES, dict.fromkeys(SHAPES, Point(0, 0)))
    assert lying_pairs(SHAPES, found) == []
    assert sum(at == Point(0, 0) for at in found.values()) == 1


def test_pieces_that_curve_around_each_other_need_not_have_separate_boxes() -> None:
    corner = Polygon([(0, 0), (500, 0), (500, 60), (60, 60), (60, 500), (0, 500)])
    shapes = {"facing": corner, "pocket": box(0, 0, 200, 200)}
    places = {"facing": Point(0, 0), "pocket": Point(150, 150)}
    assert lying_pairs(shapes, places) == []
    assert moved_apart(shapes, places) == places
