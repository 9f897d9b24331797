"""Hooks and eyes: as many as the opening wants, on a line inside its edge."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.geometry import Point
from clothwise.pattern import Body, FinishKind, MarkKind, Pattern
from clothwise.work import plan, verify
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    chart,
    drafted,
    parameters_in_range,
)

KIND = "hooks-and-eyes"
TOPS = ("straight-waistband", "waist-facing")
SKIRTS = ("circle-skirt", "straight-skirt", "gored-skirt", "pleated-skirt")


def parts(skirt: str, top: str, hooks: Parameters | None = None) -> Parts:
    return {
        "skirt": (skirt, {}),
        "top": (top, {}),
        "hooks": (KIND, hooks or {}),
        "hem": ("double-hem", {}),
    }


def dots(pattern: Pattern) -> list[tuple[str, Point]]:
    return [
        (piece.name, mark.at)
        for piece in pattern.pieces.values()
        for mark in piece.marks
        if mark.kind is MarkKind.DOT and mark.name == "hook and eye" and mark.at is not None
    ]


@settings(max_examples=30)
@given(bodies_to_draft(), st.sampled_from(SKIRTS), st.sampled_from(TOPS), parameters_in_range(KIND))
def test_every_hook_lies_inside_its_piece_and_none_is_too_far_from_the_next(
    wearer: Body, skirt: str, top: str, hooks: Parameters
) -> None:
    pattern = drafted(parts(skirt, top, hooks), wearer)
    assert_seams_true(pattern)
    found = dots(pattern)
    for name, at in found:
        piece = pattern.piece(name)
        edge = piece.edge("end-outer" if name == "top" else "opening")
        assert edge.point_at(edge.nearest(at)).distance(at) == pytest.approx(3.0, abs=0.01)
        assert piece.outline.polygon.covers(shapely.Point(at.x, at.y))
    long = sum(
        pattern.edge_length(edge)
        for edge in pattern.finishes["hooks"].run.edges
        if not edge.edge.endswith("inner")
    )
    spacing = (long - 16.0) / (len(found) - 1)
    assert spacing <= float(hooks.get("spacing", 20.0)) + 1e-6
    (notion,) = (each for each in pattern.notions if each.name == "hook and eye")
    assert notion.amount == len(found)


@pytest.mark.parametrize("top", TOPS)
def test_no_size_has_a_finding_and_every_seam_is_sewn_once(top: str) -> None:
    for wearer in chart()[::3]:
        pattern = drafted(parts("gored-skirt", top), wearer)
        assert check(pattern, wearer) == ()
        order = plan(pattern)
        assert not verify(pattern, order)
        names = [operation.name for operation in order.operations]
        assert names.index("hooks-turn") < names.index("hooks-sew")


def test_ten_hooks_less_than_twenty_apart() -> None:
    """190 mm of opening less 16 mm at the ends, in nine gaps of 19.3 mm: ten hooks."""
    pattern = drafted(parts("circle-skirt", "waist-facing"))
    assert len(dots(pattern)) == 10
    assert pattern.finishes["hooks"].kind is FinishKind.CLOSURE
    assert pattern.finishes["hooks"].depth_mm == 20.0


def test_an_opening_is_needed() -> None:
    with pytest.raises(ComponentError, match="needs something with an opening"):
        drafted({"hooks": (KIND, {})})
