"""A back yoke, plain or gathered: the block divided level, nothing else changed."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.geometry import angle_between
from clothwise.pattern import Body, NotchKind, Pattern, SeamKind, Severity
from clothwise.work import plan, verify
from component_cases import (
    Parameters,
    Parts,
    assert_darts_close,
    assert_seams_true,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)
from survey import survey_women

KIND = "yoke-bodice"
REST: Parts = {
    "skirt": ("a-line-skirt", {}),
    "facing": ("front-and-neck-facing", {}),
    "sleeve": ("bishop-sleeve", {}),
    "buttons": ("buttons", {}),
    "hem": ("double-hem", {}),
}


def dress(for_body: Body | None = None, **parameters: float) -> Pattern:
    return drafted({"bodice": (KIND, dict(parameters)), **REST}, for_body)


@pytest.mark.parametrize("gathers", [0.0, 40.0])
def test_a_dress_of_it_is_sound_in_every_size_and_can_be_sewn(gathers: float) -> None:
    for wearer in (*chart(), *survey_women()[::40]):
        pattern = dress(wearer, gathers=gathers)
        assert_seams_true(pattern)
        assert_darts_close(pattern)
        found = [each for each in check(pattern, wearer) if each.severity is not Severity.NOTE]
        assert found == [], wearer.name
    order = plan(pattern)
    assert verify(pattern, order) == ()
    done = [name for operation in order.operations for name in operation.does]
    assert sorted(done) == sorted(use.name for use in pattern.all_uses())


@settings(max_examples=20)
@given(bodies_to_draft(), parameters_in_range(KIND))
def test_any_body_and_parameters_give_a_true_yoke(wearer: Body, parameters: Parameters) -> None:
    pattern = drafted_or_refused({"bodice": (KIND, parameters)}, wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert_darts_close(pattern)
    assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())


def test_only_the_yoke_seam_takes_the_gathers() -> None:
    """Armhole, side and darts keep their lengths; the yoke seam is longer by what was asked."""
    plain, full = dress(gathers=0.0), dress(gathers=50.0)
    for name in ("armhole", "neck"):
        wanted = plain.run_length(plain.runs[name])
        assert full.run_length(full.runs[name]) == pytest.approx(wanted, abs=1e-6)
    side, other = (each.seams["bodice-side"].layers[1].run for each in (plain, full))
    assert full.run_length(other) == pytest.approx(plain.run_length(side), abs=1e-6)
    seam, none = full.seams["bodice-back-yoke"], plain.seams["bodice-back-yoke"]
    assert (seam.kind, none.kind) == (SeamKind.GATHERED, SeamKind.PLAIN)
    assert seam.layers[1].ease_mm == pytest.approx(50.0, abs=2.0)
    assert none.layers[1].ease_mm == 0.0
    assert {match.notch for match in (*seam.matches, *none.matches)} == {NotchKind.DOUBLE}


@pytest.mark.parametrize("gathers", [0.0, 40.0])
def test_corners_at_center_back_are_square(gathers: float) -> None:
    pattern = dress(gathers=gathers)
    for name in ("bodice-back", "bodice-back-yoke"):
        piece = pattern.piece(name)
        center = piece.edge("center")
        across = piece.edge("yoke")
        touching = across.end_tangent if name == "bodice-back" else across.start_tangent
        turn = abs(angle_between(touching, center.end - center.start))
        assert turn == pytest.approx(math.pi / 2, abs=0.002)


def test_a_yoke_seam_that_misses_the_armhole_is_refused_in_words() -> None:
    deep = {"back_neck_drop": 150.0, "yoke_depth": 130.0}
    assert drafted_or_refused({"bodice": (KIND, deep)}, body()) is None
