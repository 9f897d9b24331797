"""Pieces and the copies cut of them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwise.geometry import Point
from clothwise.pattern.piece import CutTo, Dart, Ply, PressedToward, Side, pair, single
from sketches import rectangle, straight_piece

DART = Dart("waist dart", "in", "out", PressedToward.BEFORE)
DARTED = replace(
    straight_piece(
        "front",
        {
            "bottom": Point(0, 0),
            "right": Point(200, 0),
            "top-right": Point(200, 100),
            "in": Point(110, 100),
            "out": Point(100, 30),
            "top-left": Point(90, 100),
            "left": Point(0, 100),
        },
    ),
    darts=(DART,),
)


def test_a_dart_is_known_by_either_leg() -> None:
    assert DARTED.dart_of_leg("in") is DARTED.dart_of_leg("out") is DART
    assert DARTED.dart_of_leg("bottom") is None
    assert DARTED.apex(DART) == Point(100, 30)


def test_edges_keep_their_order() -> None:
    assert DARTED.edge_names[:3] == ("bottom", "right", "top-right")
    with pytest.raises(KeyError):
        DARTED.edge("hood")


def test_the_fold_mirrors_the_half_onto_the_other() -> None:
    piece = replace(rectangle("back", 200, 300), fold_edge="left")
    mirror = piece.fold_mirror()
    assert mirror.point(Point(200, 40)).is_close(Point(-200, 40), 1e-9)
    assert mirror.point(Point(0, 77)).is_close(Point(0, 77), 1e-9)
    with pytest.raises(ValueError, match="back is not cut on the fold"):
        rectangle("back").fold_mirror()


@pytest.mark.parametrize("drawn", [Side.LEFT, Side.RIGHT])
def test_a_pair_has_one_mirrored_copy(drawn: Side) -> None:
    """The copy for the side that is drawn lies as drawn."""
    copies = pair("main", drawn_side=drawn)
    assert {copy.side for copy in copies} == {Side.LEFT, Side.RIGHT}
    assert [copy.mirrored for copy in copies] == [copy.side is not drawn for copy in copies]
    assert {copy.role for copy in copies} == {"main"}


def test_interfacing_is_cut_to_the_stitching_line() -> None:
    for copy in (*pair("fusible", ply=Ply.INTERFACING), *single("fusible", ply=Ply.INTERFACING)):
        assert copy.to is CutTo.STITCHING_LINE
    for copy in (*pair("main"), *single("main"), *pair("lining", ply=Ply.LINING)):
        assert copy.to is CutTo.CUTTING_LINE


def test_copies_of_several_plies_have_different_names() -> None:
    copies = [*pair("main"), *pair("fusible", ply=Ply.INTERFACING), *pair("x", ply=Ply.LINING)]
    assert len({copy.name for copy in copies}) == 6


def test_a_single_copy_lies_across_the_center() -> None:
    (copy,) = single("main", name="collar")
    assert (copy.side, copy.mirrored, copy.name) == (Side.CENTER, False, "collar")
