"""The tie belt: round the waist with both ends to tie."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.pattern import Body, MarkKind, Side, Sides
from clothwise.work import plan, verify
from component_cases import (
    Parameters,
    assert_seams_true,
    bodies_to_draft,
    body,
    chart,
    drafted,
    parameters_in_range,
)

KIND = "tie-belt"


@settings(max_examples=40)
@given(bodies_to_draft(), parameters_in_range(KIND))
def test_any_belt_goes_round_the_waist_and_hangs_from_the_knot(
    wearer: Body, parameters: Parameters
) -> None:
    pattern = drafted({"belt": (KIND, parameters)}, wearer)
    assert_seams_true(pattern)
    piece = pattern.piece("belt")
    tie, width = float(parameters.get("tie", 620)), float(parameters.get("width", 38))
    half = piece.edge("long-lower").length
    assert 2 * half == pytest.approx(wearer["waist_girth"] + 2 * tie)
    assert piece.outline.area == pytest.approx(half * 2 * width, rel=1e-6)


def test_two_halves_meet_at_center_back() -> None:
    pattern = drafted({"belt": (KIND, {})})
    seam = pattern.seams["belt-center"]
    assert seam.sides is Sides.CENTER
    assert seam.layers[0].run == seam.layers[1].run
    copies = pattern.piece("belt").copies
    assert {(copy.side, copy.mirrored) for copy in copies} == {
        (Side.LEFT, False),
        (Side.RIGHT, True),
    }


def test_it_is_folded_along_its_middle() -> None:
    piece = drafted({"belt": (KIND, {"width": 40.0})}).piece("belt")
    (fold,) = (mark for mark in piece.marks if mark.kind is MarkKind.FOLD_LINE)
    assert fold.path is not None
    assert {point.y for point in (fold.path.start, fold.path.end)} == {0.0}
    assert [y for _, y in (piece.outline.polygon.bounds[:2], piece.outline.polygon.bounds[2:])] == (
        pytest.approx([-40.0, 40.0])
    )


def test_what_the_cloth_is_wide_enough_for_is_cut_in_one() -> None:
    """Its half is the same; it lies on the fold, and nothing is joined."""
    pieced = drafted({"belt": (KIND, {})})
    whole = drafted({"belt": (KIND, {"longest": 6000.0, "grain": "across"})})
    assert whole.piece("belt").fold_edge == "center"
    assert [copy.side for copy in whole.piece("belt").copies] == [Side.CENTER]
    assert set(whole.seams) == {"belt-long"}
    assert "belt-join" not in {operation.name for operation in whole.operations}
    assert whole.piece("belt").outline.area == pytest.approx(pieced.piece("belt").outline.area)


@pytest.mark.parametrize(("longest", "pieces"), [(1979.9, 2), (1980.1, 1)])
def test_it_is_pieced_as_soon_as_it_is_longer_than_a_strip(longest: float, pieces: int) -> None:
    """72 cm of waist, two ties of 62 cm and 1 cm of allowance at each end: 198 cm."""
    pattern = drafted({"belt": (KIND, {"longest": longest})}, body(waist_girth=720.0))
    assert len(pattern.piece("belt").copies) == pieces


@pytest.mark.parametrize("grain", ["along", "across"])
@pytest.mark.parametrize("longest", [600.0, 6000.0])
def test_either_way_it_is_sound(grain: str, longest: float) -> None:
    for size in chart()[::4]:
        pattern = drafted({"belt": (KIND, {"longest": longest, "grain": grain})}, size)
        wide = grain == "across" and longest == 6000.0
        assert {each.code for each in check(pattern, size)} == ({"PIECE-WIDE"} if wide else set())
        assert verify(pattern, plan(pattern)) == ()
