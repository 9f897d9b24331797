"""Princess bodices: the block in four panels, whose seams take its darts in."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.cutting.cutting_list import cut_items
from clothwise.cutting.layout import LayerPlan
from clothwise.geometry import angle_between
from clothwise.pattern import Body, NotchKind, Pattern, Severity
from clothwise.work import plan, verify
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)
from survey import survey_women

KIND = "princess-bodice"
BEGINS = ("armhole", "shoulder")
REST: Parts = {
    "skirt": ("a-line-skirt", {}),
    "facing": ("front-and-neck-facing", {}),
    "collar": ("two-piece-collar", {}),
    "sleeve": ("set-in-sleeve", {}),
    "buttons": ("buttons", {}),
    "hem": ("double-hem", {}),
}


def bodice(begins: str, for_body: Body | None = None, kind: str = KIND) -> Pattern:
    return drafted({"bodice": (kind, {"begins": begins} if kind == KIND else {})}, for_body)


def dress(begins: str, for_body: Body) -> Pattern:
    return drafted({"bodice": (KIND, {"begins": begins}), **REST}, for_body)


@pytest.mark.parametrize("begins", BEGINS)
def test_a_dress_of_it_is_sound_in_every_size(begins: str) -> None:
    for size in chart():
        pattern = dress(begins, size)
        assert_seams_true(pattern)
        assert check(pattern, size) == (), size.name


@pytest.mark.parametrize("begins", BEGINS)
def test_a_dress_of_it_is_sound_for_women_of_the_survey(begins: str) -> None:
    for woman in survey_women()[::8]:
        pattern = dress(begins, woman)
        assert_seams_true(pattern)
        found = [each for each in check(pattern, woman) if each.severity is not Severity.NOTE]
        assert found == [], woman.name


@pytest.mark.parametrize("begins", BEGINS)
def test_a_dress_of_it_can_be_sewn_and_cut(begins: str) -> None:
    pattern = dress(begins, body())
    order = plan(pattern)
    assert verify(pattern, order) == ()
    done = [name for operation in order.operations for name in operation.does]
    assert sorted(done) == sorted(use.name for use in pattern.all_uses())
    fabrics = {
        (piece.name, copy.name): copy.role
        for piece in pattern.pieces.values()
        for copy in piece.copies
    }
    items = cut_items(pattern, fabrics, "main", LayerPlan.SINGLE)
    assert len(items) == list(fabrics.values()).count("main")


@settings(max_examples=40)
@given(bodies_to_draft(), parameters_in_range(KIND))
def test_any_body_and_parameters_give_true_panels(wearer: Body, parameters: Parameters) -> None:
    pattern = drafted_or_refused({"bodice": (KIND, parameters)}, wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert all(not piece.darts for piece in pattern.pieces.values())
    assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())


@pytest.mark.parametrize("begins", BEGINS)
@pytest.mark.parametrize("size", chart(), ids=lambda size: size.name)
def test_the_side_panel_is_eased_over_the_bust(begins: str, size: Body) -> None:
    """G11: the front side panel is 0.5 to 1.2 cm longer (common practice, no source)."""
    pattern = bodice(begins, size)
    front, back = (pattern.seams[f"bodice-{half}-panels"] for half in ("front", "back"))
    assert 4.5 <= front.layers[1].ease_mm <= 12.0
    assert back.layers[1].ease_mm == 0.0
    assert [match.notch for match in front.matches] == [NotchKind.SINGLE] * 2
    assert [match.notch for match in back.matches] == [NotchKind.DOUBLE]
    (_, below), (_, above) = (match.at_mm for match in front.matches)
    assert below is not None
    assert above is not None
    eased = above - below - front.layers[1].ease_mm
    assert eased == pytest.approx(front.matches[1].at_mm[0] - front.matches[0].at_mm[0])  # type: ignore[operator]


@pytest.mark.parametrize("begins", BEGINS)
@pytest.mark.parametrize("size", chart()[::3], ids=lambda size: size.name)
def test_it_is_as_wide_and_long_as_the_darted_bodice(begins: str, size: Body) -> None:
    """Same armhole, neck, waist and side: only where the shape is taken in differs."""
    darted, princess = bodice(begins, size, "darted-bodice"), bodice(begins, size)
    for name in ("armhole", "neck", "waist", "front-edge"):
        wanted = darted.run_length(darted.runs[name])
        assert princess.run_length(princess.runs[name]) == pytest.approx(wanted, abs=0.01), name
    side, other = (each.seams["bodice-side"].layers[0].run for each in (darted, princess))
    assert princess.run_length(other) == pytest.approx(darted.run_length(side), abs=0.05)


@pytest.mark.parametrize("size", chart()[::3], ids=lambda size: size.name)
def test_lines_begin_square_and_the_side_stays_square_to_the_armhole(size: Body) -> None:
    pattern = bodice("armhole", size)
    for name in ("bodice-front", "bodice-back"):
        center, side = pattern.piece(name), pattern.piece(f"{name}-side")
        for one, other in (
            (center.edge("panel").end_tangent, center.edge("armhole").start_tangent),
            (side.edge("armhole").end_tangent, side.edge("panel").start_tangent),
            (side.edge("side").end_tangent, side.edge("armhole").start_tangent),
        ):
            assert abs(angle_between(one, other)) == pytest.approx(math.pi / 2, abs=0.01)


def test_a_line_from_the_shoulder_meets_at_the_shoulder_seam() -> None:
    pattern = bodice("shoulder")
    shoulder = pattern.seams["bodice-shoulder"]
    match = next(each for each in shoulder.matches if each.name == "panel seam")
    for layer, at in zip(shoulder.layers, match.at_mm, strict=True):
        assert pattern.edge_length(layer.run.edges[0]) == pytest.approx(at)


def test_without_a_bust_dart_both_fronts_agree() -> None:
    """A front as short as the back has nothing to turn: no ease, and no seam of unequal sides."""
    flat = body(neck_shoulder_point_to_waist_front=400.0, back_neck_to_waist=400.0)
    pattern = drafted_or_refused({"bodice": (KIND, {"front_length_ease": 0.0})}, flat)
    assert pattern is not None
    assert pattern.seams["bodice-front-panels"].layers[1].ease_mm == pytest.approx(0.0, abs=0.5)
    assert_seams_true(pattern)


def test_a_tunic_of_it_has_room_at_the_hip_that_all_its_panels_give() -> None:
    """The checks measure bust and hip over both panels of a half."""
    parts: Parts = {
        "bodice": (KIND, {"opening": "none", "waist": "none", "neckline": "scoop"}),
        "facing": ("neck-facing", {}),
        "sleeve": ("set-in-sleeve", {}),
        "hem": ("single-hem", {}),
    }
    for size in chart()[::3]:
        found = {each.code for each in check(drafted(parts, size), size)}
        assert not found & {"FIT-HIP", "FIT-BUST", "STRIDE-ROOM"}, size.name


def test_a_bust_that_is_too_tight_is_found() -> None:
    pattern = drafted({"bodice": (KIND, {"bust_ease": -100.0})}, body())
    assert "FIT-BUST" in {each.code for each in check(pattern, body())}
