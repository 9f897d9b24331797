"""Openings open what they touch: the neckline, the waist, or one of them only."""

from __future__ import annotations

from dataclasses import replace

import pytest

from checks.mutations import piece_changed
from clothwise.checks import Derived, check
from clothwise.checks.openings import neck_over_head, waist_over_hip
from clothwise.geometry import Outline
from clothwise.pattern import Body, Finding, Pattern, Piece, Run, run
from work.real_designs import body, half_circle_skirt, long_dress

DRESS = long_dress()
NECK_MM = body()["neck_base_girth"] + 6
"""The seam of the neckline: the base of the neck and its ease."""
NEEDED_MM = (body()["head_girth"] - NECK_MM) / 2
"""An opening adds its length twice (geometry), so half of what is missing is enough."""


def opened_by(**runs: Run) -> Pattern:
    """The dress with these openings only."""
    kept = {name: each for name, each in DRESS.runs.items() if name not in ("front-edge",)}
    return replace(DRESS, runs={**kept, **runs})


def slit_dress(length_mm: float) -> Pattern:
    """The dress, opened at center front from the neckline down for so much only."""

    def split(piece: Piece) -> Piece:
        edge = piece.edge("front-edge")
        edges = {}
        for name, path in piece.outline.edges.items():
            if name == "front-edge":
                edges["slit"] = edge.part(0.0, length_mm)
                edges["front-edge"] = edge.part(length_mm, edge.length)
            else:
                edges[name] = path
        return replace(piece, outline=Outline(edges))

    pattern = opened_by(opening=run("bodice-front.slit"))
    return piece_changed(pattern, "bodice-front", split)


def found(pattern: Pattern, wearer: Body | None = None) -> list[Finding]:
    derived = Derived(pattern, wearer or body())
    return [*neck_over_head(derived), *waist_over_hip(derived)]


def test_front_edge_begins_at_the_neckline_and_opens_the_waist() -> None:
    assert found(DRESS) == []
    assert found(half_circle_skirt()) == []


@pytest.mark.parametrize("missing_mm", [1.0, 40.0])
def test_slit_too_short_for_the_head_is_found(missing_mm: float) -> None:
    codes = [each.code for each in found(slit_dress(NEEDED_MM - missing_mm))]
    assert codes == ["NECK-HEAD", "WAIST-OPENING"]
    finding = found(slit_dress(NEEDED_MM - missing_mm))[0]
    assert f"Lengthen the opening by {missing_mm:.0f} mm" in finding.remedy


def test_slit_long_enough_for_the_head_leaves_the_waist_to_the_bust() -> None:
    """F15 (derived): a dress without an opening at the waist lets the bust through its waist."""
    (finding,) = found(slit_dress(NEEDED_MM + 1))
    assert finding.code == "WAIST-OPENING"
    assert "bust 90 cm" in finding.message
    wide = body().with_measured({"bust_girth": 760.0, "waist_girth": 600.0})
    assert found(slit_dress(NEEDED_MM + 1), wide) == []


def test_opening_below_the_waist_does_not_let_the_head_through() -> None:
    codes = [each.code for each in found(opened_by(opening=run("skirt-front.front-edge")))]
    assert codes == ["NECK-HEAD"]


def test_bodice_opened_to_its_waist_seam_leaves_the_waist_closed() -> None:
    codes = [each.code for each in found(opened_by(opening=run("bodice-front.front-edge")))]
    assert codes == ["WAIST-OPENING"]


def test_the_whole_dress_is_judged_the_same() -> None:
    pattern = opened_by(opening=run("bodice-front.front-edge"))
    assert "WAIST-OPENING" in {each.code for each in check(pattern, body())}
