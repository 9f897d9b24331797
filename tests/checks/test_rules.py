"""Figures behind the checks, against geometry and published values."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checks.mutations import finish_changed, layer_changed, match_changed, operation_changed
from clothwise.checks import Derived, check, refusal
from clothwise.checks.girths import measured_girths
from clothwise.checks.hems import _fullness
from clothwise.checks.levels import girth_at, hip_pieces
from clothwise.checks.stride import STEP_SHARE, needed_girth_mm
from clothwise.components import Drafting, component_class, read_design
from clothwise.errors import ComponentError, MeasurementError, MeasurementFault
from clothwise.geometry import ORIGIN, arc
from clothwise.pattern import Corner, Finding, Pattern, Severity
from command_line import DRESS, edited, example
from work.real_designs import body, half_circle_skirt, long_dress, tunic

# Hems


@pytest.mark.parametrize(("share", "excess_mm"), [(1.0, 251.0), (0.25, 63.0)])
def test_hem_of_a_circle_is_longer_by_four_pi_f_times_depth(share: float, excess_mm: float) -> None:
    """Check value H08 (derived): full circle, 2 cm: 25.1 cm; quarter: 6.3 cm. At any radius."""
    for radius in (400.0, 900.0):
        turned = 0.0
        for segment in arc(ORIGIN, radius, 0.0, 2 * math.pi * share).segments:
            lain_on = segment.length * (radius - 20.0) / radius
            turned += _fullness(segment, 20.0) * lain_on
        assert turned == pytest.approx(excess_mm, abs=0.5)


def test_hem_that_bulges_inward_is_shorter() -> None:
    segment = arc(ORIGIN, 300.0, 0.5, 0.0).segments[0]
    assert _fullness(segment, 30.0) == pytest.approx(-2 * 30.0 / (300.0 + 30.0), rel=1e-3)


# Levels


@given(st.floats(0.25, 0.9), st.floats(120.0, 260.0))
def test_circle_skirt_grows_by_two_pi_f_per_depth(share: float, depth: float) -> None:
    """Check value C06 (derived): whatever the waist."""
    parameters = {"share": share, "waist_ease_mm": 15.0}
    skirt = component_class("circle-skirt")(**parameters)
    pattern = Pattern().adding(skirt.contribute(Drafting("skirt", body(), Pattern())))
    derived = Derived(pattern, body())
    measured = girth_at(derived, hip_pieces(derived), depth)
    assert measured is not None
    assert measured[0] == pytest.approx(735.0 + 2 * math.pi * share * depth, abs=0.2)


def test_hip_of_the_dress_is_the_body_and_its_ease() -> None:
    derived = Derived(long_dress(), body())
    measured = girth_at(derived, hip_pieces(derived), body()["waist_to_hip"])
    assert measured is not None
    assert measured[0] == pytest.approx(960.0 + 70.0, abs=0.1)


def test_darts_do_not_count_at_a_level_they_cross() -> None:
    """Just below the waist the skirt measures the waist and what the side seams swing out."""
    derived = Derived(long_dress(), body())
    pieces = hip_pieces(derived)
    assert [piece.piece for piece in pieces] == ["skirt-front", "skirt-back"]
    near, far = girth_at(derived, pieces, 5.0), girth_at(derived, pieces, 190.0)
    assert near is not None
    assert far is not None
    assert 765.0 < near[0] < 800.0 < far[0]


def test_a_level_below_the_hem_cannot_be_measured() -> None:
    derived = Derived(long_dress(), body())
    assert girth_at(derived, hip_pieces(derived), 2000.0) is None


def test_girth_leaves_out_what_laps_over() -> None:
    derived = Derived(long_dress(), body())
    neck_edge = long_dress().runs["neck-edge"]
    neck = long_dress().runs["neck"]
    waist = long_dress().runs["waist"]
    stand = 20.0
    assert derived.girth(neck) == pytest.approx(2 * long_dress().run_length(neck))
    assert derived.girth(neck_edge) == pytest.approx(derived.girth(neck) + 2 * stand)
    lapping = 2 * long_dress().run_length(waist)
    assert derived.girth(waist) == pytest.approx(lapping - 2 * stand, abs=0.01)


# Stride


def test_stride_at_the_floor_is_two_steps_and_a_calf() -> None:
    figure = body()
    at_floor = needed_girth_mm(figure, 0.0)
    assert at_floor == pytest.approx(2 * STEP_SHARE * 1660 + figure["calf_girth"])
    assert needed_girth_mm(figure, -50.0) == at_floor


def test_stride_grows_downward_and_is_free_above_the_crotch() -> None:
    figure = body()
    crotch = figure["inside_leg_height"]
    assert needed_girth_mm(figure, crotch) == 0.0
    just_below = needed_girth_mm(figure, crotch - 1e-6)
    assert just_below == pytest.approx(figure["thigh_girth"], abs=0.01)
    heights = [crotch * share for share in (0.1, 0.3, 0.5)]
    needed = [needed_girth_mm(figure, height) for height in heights]
    assert needed == sorted(needed, reverse=True)


# The whole


def test_findings_come_in_a_stable_order_with_size_and_the_drafts_own_first() -> None:
    own = Finding("HEM-DEEP", Severity.NOTE, "Noted while drafting.", "Nothing.")
    faulty = finish_changed(long_dress(), "hem", lambda hem: replace(hem, depth_mm=200.0))
    pattern = replace(faulty, findings=(own,), size="38")
    first, second = check(pattern, body()), check(pattern, body())
    assert first == second
    assert first[0] == replace(own, size="38")
    assert len(first) > 1
    assert {each.size for each in first} == {"38"}


def test_without_a_body_everything_but_the_fit_is_checked() -> None:
    faulty = layer_changed(
        long_dress(), "bodice-shoulder", 1, lambda layer: replace(layer, ease_mm=3.0)
    )
    assert [each.code for each in check(faulty)] == ["SEAM-LENGTH"]
    assert check(tunic()) == ()


def test_faults_do_not_hide_each_other() -> None:
    pattern = long_dress()
    pattern = layer_changed(
        pattern, "bodice-shoulder", 1, lambda layer: replace(layer, ease_mm=3.0)
    )
    pattern = match_changed(pattern, "skirt-side", "hip", (300.0, 305.0))
    pattern = operation_changed(pattern, "sew-hem", lambda each: replace(each, does=()))
    codes = [each.code for each in check(pattern, body())]
    assert codes == ["SEAM-LENGTH", "NOTCH-PAIR", "STEP-MISSING"]


def test_derived_keeps_what_it_would_work_out_again() -> None:
    """Each value kept equals the one a fresh start gives."""
    for pattern in (long_dress(), half_circle_skirt()):
        used = Derived(pattern, body())
        check(pattern, body(), derived=used)
        for name in pattern.pieces:
            fresh = Derived(pattern, body())
            assert used.cutting_line(name) == fresh.cutting_line(name)
            assert used.room(name).equals(fresh.room(name))
            assert used.sides(name) == fresh.sides(name)
        fresh = Derived(pattern, body())
        for junction in used.junctions:
            assert junction in fresh.junctions
            for corner in junction.corners:
                assert used.interior_angle(corner) == fresh.interior_angle(corner)


def test_interior_angles_of_a_piece_add_up() -> None:
    """(n - 2) times 180 degrees for straight edges."""
    derived = Derived(long_dress())
    belt = long_dress().piece("belt")
    total = sum(derived.interior_angle(Corner("belt", edge)) for edge in belt.edge_names)
    assert total == pytest.approx((6 - 2) * math.pi)


# Refusals


def test_refusal_names_the_measurement() -> None:
    fault = MeasurementFault(
        "back_neck_to_waist", "the back is too short", "at least 60 mm", "Measure again."
    )
    told = refusal(MeasurementError([fault]), body(), size="38")
    assert (told.code, told.severity, told.size) == ("BODY-RANGE", Severity.ERROR, "38")
    assert "back_neck_to_waist: the back is too short (at least 60 mm)" in told.message
    assert (told.measured, told.remedy) == ("back_neck_to_waist", "Measure again.")


def test_refusal_finds_the_measurement_behind_another_error() -> None:
    fault = MeasurementFault("hip_girth", "hip_girth is missing", remedy="Measure it.")
    outer = ComponentError("the skirt cannot be drafted")
    outer.__cause__ = MeasurementError([fault])
    assert refusal(outer).message.endswith("for this body: hip_girth is missing.")


def test_refusal_by_parameters_names_what_is_unusual_about_the_body() -> None:
    strong = body().with_measured({"upper_arm_girth": 520.0})
    sleeve = component_class("set-in-sleeve")()
    others = {name: each for name, each in tunic().finishes.items() if "armhole" not in each.title}
    unbound = replace(tunic(), finishes=others)
    with pytest.raises(ComponentError) as caught:
        sleeve.contribute(Drafting("sleeve", strong, unbound))
    told = refusal(caught.value, strong)
    assert told.code == "DRAFT-IMPOSSIBLE"
    assert "upper_arm_girth (52 cm, estimated 27.7 cm)" in told.message
    assert "armhole_ease" in told.remedy
    usual = refusal(ComponentError("the facing is wider than the shoulder"), body())
    assert usual.message == "There is no pattern: the facing is wider than the shoulder."


def test_finished_girths_are_body_and_ease() -> None:
    """What the packet prints is what the checks measure: the default ease on the body's girths."""
    measured = {
        name: (garment, girth) for name, garment, girth in measured_girths(long_dress(), body())
    }
    assert measured["bust"] == pytest.approx((980.0, 900.0))
    assert measured["waist"] == pytest.approx((770.0, 720.0), abs=2.0)
    assert measured["hip"] == pytest.approx((1030.0, 960.0), abs=0.1)
    assert measured["upper arm"][0] >= body()["upper_arm_girth"] + 50 - 0.01


def test_a_short_sleeve_with_a_high_cap_is_measured_as_a_long_one(tmp_path: Path) -> None:
    """Most of such a sleeve lies above its cap line, as of a ruffle; it is none."""
    folder = example(DRESS, tmp_path)
    girths = []
    for length in ("shoulder_to_elbow - 2cm", "16.5cm"):
        edited(folder / "design.yaml", "length: shoulder_to_elbow - 2cm", f"length: {length}")
        file = read_design(folder)
        measured = measured_girths(file.draft(view="A"), file.body("38"))
        girths += [garment for name, garment, _ in measured if name == "upper arm"]
        edited(folder / "design.yaml", f"length: {length}", "length: shoulder_to_elbow - 2cm")
    assert len(girths) == 2
    assert girths[0] == pytest.approx(girths[1], rel=0.05)
