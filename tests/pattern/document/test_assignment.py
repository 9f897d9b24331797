"""Every copy gets its fabric, or all that is missing is said at once."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwise.errors import DocumentError
from clothwise.geometry import Outline, Point, straight
from clothwise.pattern import Grainline, Pattern, Piece, Ply, pair, single
from clothwise.pattern.document import (
    FabricEntry,
    Make,
    Source,
    assign,
    copies_named,
    set_aside,
    without_set_aside,
)
from clothwise.pattern.document.cutting_entry import PinEntry

A, B, C = Point(0, 0), Point(100, 0), Point(0, 100)
TRIANGLE = Outline({"a": straight(A, B), "b": straight(B, C), "c": straight(C, A)})
FRONT = Piece(
    "front", "Front", TRIANGLE, Grainline(A, C),
    (*pair("main"), *pair("interfacing", ply=Ply.INTERFACING)),
)  # fmt: skip
BACK = replace(FRONT, name="back", copies=single("contrast"))
PATTERN = Pattern(pieces={"front": FRONT, "back": BACK})
MAKE = Make(
    fabrics=tuple(FabricEntry(name, "150cm") for name in ("wool", "silk", "fusible")),
    roles={"main": "wool", "contrast": "silk", "interfacing": "fusible"},
)
LEFT, RIGHT = ("front", "left"), ("front", "right")
INNER = ("front", "interfacing left"), ("front", "interfacing right")


def test_copies_of_a_piece_have_names_of_their_own() -> None:
    assert len({copy.name for copy in FRONT.copies}) == 4


def test_roles_say_what_copies_are_cut_from() -> None:
    assert assign(PATTERN, MAKE) == {
        LEFT: "wool", RIGHT: "wool", INNER[0]: "fusible", INNER[1]: "fusible",
        ("back", "whole"): "silk",
    }  # fmt: skip


def test_a_piece_is_stronger_than_its_role_and_a_copy_than_its_piece() -> None:
    make = replace(MAKE, copies={"front": "silk", "front/right": "wool"})
    found = assign(PATTERN, make)
    assert (found[LEFT], found[RIGHT]) == ("silk", "wool")
    assert found[INNER[0]] == "fusible", "a piece alone means its shell"


def test_interfacing_can_be_named() -> None:
    make = replace(MAKE, copies={"front/interfacing left": "silk"})
    found = assign(PATTERN, make)
    assert (found[INNER[0]], found[INNER[1]]) == ("silk", "fusible")


def test_names_mean_copies() -> None:
    assert copies_named(PATTERN, "front") == (LEFT, RIGHT)
    assert copies_named(PATTERN, "front/left") == (LEFT,)
    assert copies_named(PATTERN, "fornt") == ()


def test_all_faults_are_told_at_once_with_their_lines() -> None:
    source = Source("make.yaml", {"$": 1, "$.roles": 5, "$.roles.lining": 6})
    make = replace(MAKE, roles={"main": "wool", "lining": "slik"})
    with pytest.raises(DocumentError) as caught:
        assign(PATTERN, make, source=source)
    found = [(fault.line, fault.what, fault.remedy) for fault in caught.value.faults]
    assert found == [
        (6, "the make has no fabric 'slik'", "Did you mean silk?"),
        (
            5,
            "nothing says what interfacing is cut from "
            "(front/interfacing left, front/interfacing right)",
            "Add `interfacing: wool` under roles; the fabrics are wool, silk, fusible.",
        ),
        (
            5,
            "nothing says what contrast is cut from (back/whole)",
            "Add `contrast: wool` under roles; the fabrics are wool, silk, fusible.",
        ),
    ]


PIN = PinEntry("10cm", "5cm")


def test_what_is_said_of_pieces_that_are_not_there_is_set_aside() -> None:
    copies = {"fornt": "wool", "front/lft": "silk", "front/left": "silk"}
    make = replace(MAKE, copies=copies, pins={"fornt": PIN, "gone/left": PIN, "back": PIN})
    assert assign(PATTERN, make) == assign(PATTERN, replace(MAKE, copies={"front/left": "silk"}))
    found = [(each.key, each.fabric, each.has_piece) for each in set_aside(PATTERN, make)]
    assert found == [
        ("fornt", "wool", False),
        ("front/lft", "silk", True),
        ("gone/left", "", False),
    ]
    rest = without_set_aside(PATTERN, make)
    assert (rest.copies, rest.pins) == ({"front/left": "silk"}, {"back": PIN})


def test_without_any_fabric_it_says_how_to_begin() -> None:
    with pytest.raises(DocumentError) as caught:
        assign(PATTERN, Make())
    assert caught.value.faults[0].remedy == "Add a fabric, and `main: ITS NAME` under roles."
