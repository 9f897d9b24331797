"""Corners that are turned onto each other are alike; others may differ."""

from __future__ import annotations

import math

import pytest

from clothwise.checks.derived import Derived
from clothwise.checks.faced_corners import corners_on_each_other
from clothwise.geometry import Point
from clothwise.pattern import Contribution, Finding, Layer, Pattern, Pressing, Seam, run
from sketches import straight_piece

TOP_MM = 100.0


def faced(
    by_mm: float, pressing: Pressing = Pressing.TURNED, *, edges: tuple[str, ...] = ("end", "top")
) -> Pattern:
    """A cuff and its facing, whose corner between end and top leans out by some mm.

    Its edges are sewn in one seam.
    """
    pieces = tuple(
        straight_piece(
            name,
            {
                "bottom": Point(0, 0),
                "end": Point(200, 0),
                "top": Point(200 + out_mm, TOP_MM),
                "far": Point(0, TOP_MM),
            },
        )
        for name, out_mm in (("cuff", 0.0), ("facing", by_mm))
    )
    layers = tuple(
        Layer(run(*(f"{piece.name}.{edge}" for edge in edges)), ease_mm=by_mm * number)
        for number, piece in enumerate(pieces)
    )
    seam = Seam("turned", "outer seam", layers, 10, pressing=pressing)
    return Pattern().adding(Contribution(pieces=pieces, seams=(seam,)))


def found(pattern: Pattern) -> list[Finding]:
    return list(corners_on_each_other(Derived(pattern)))


@pytest.mark.parametrize("lean_deg", [0.0, 1.5, 4.9, -4.9])
def test_corners_that_are_nearly_alike_are_let_be(lean_deg: float) -> None:
    assert found(faced(TOP_MM * math.tan(math.radians(lean_deg)))) == []


@pytest.mark.parametrize("lean_deg", [5.1, 20.0, -20.0])
def test_sharper_and_blunter_corners_are_reported(lean_deg: float) -> None:
    (finding,) = found(faced(TOP_MM * math.tan(math.radians(lean_deg))))
    assert (finding.code, finding.piece, finding.edge) == ("CORNER-FACED", "facing", "top")
    assert finding.measured == f"{90 - lean_deg:.1f}°".replace(".0°", "°")
    assert finding.allowed == "90° ± 5°"


def test_corners_of_pieces_that_are_not_turned_may_differ() -> None:
    """A piece let in around a corner makes the cloth stand: that is shaping."""
    assert found(faced(30.0, Pressing.OPEN)) == []


def test_a_corner_sewn_along_one_of_its_edges_only_may_differ() -> None:
    assert found(faced(30.0, edges=("top",))) == []


def test_two_seams_of_the_same_pieces_go_round_their_corner_too() -> None:
    pattern = faced(30.0, edges=("end",))
    top = Seam("top", "top seam", (Layer(run("cuff.top")), Layer(run("facing.top"))), 10)
    (finding,) = found(pattern.adding(Contribution(seams=(top,))))
    assert finding.edge == "top"
