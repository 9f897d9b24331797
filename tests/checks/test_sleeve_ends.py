"""Sleeves that let arm and hand through, and openings as long as they must be."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from checks.mutations import stretched
from clothwise.checks import check
from clothwise.checks.sleeve_hems import FOREARM_SHARE, arm_girth_mm
from clothwise.pattern import Finish, FinishKind, Pattern, run
from survey import survey_women
from work.real_designs import HALF_CIRCLE_SKIRT, LONG_DRESS, Spec, body, drafted, long_dress

HAND = body()["hand_girth"]


def codes(pattern: Pattern, *prefixes: str, **measured: float) -> set[str]:
    wearer = body().with_measured(measured) if measured else body()
    found = {finding.code for finding in check(pattern, wearer)}
    return {code for code in found if code.startswith(prefixes)}


def changed(spec: Spec, part: str, **parameters: Any) -> Pattern:
    return drafted(
        tuple((name, kind, parameters if name == part else given) for name, kind, given in spec)
    )


def hem_mm(pattern: Pattern) -> float:
    return pattern.piece("sleeve").edge("hem").length


# The arm


def test_arm_measures_what_was_measured_at_its_places() -> None:
    figure = body()
    upper, elbow = figure["upper_arm_girth"], figure["shoulder_to_elbow"]
    assert arm_girth_mm(figure, 0.0) == arm_girth_mm(figure, 0.6 * elbow) == upper
    # The forearm: 0.868 of the upper arm, mean of ANSUR II's 1,595 women, sd 0.046; by us.
    assert arm_girth_mm(figure, elbow) == pytest.approx(0.868 * upper)
    wrist = figure["wrist_girth"]
    assert arm_girth_mm(figure, figure["arm_length"]) == pytest.approx(wrist)
    assert arm_girth_mm(figure, 2 * elbow) == pytest.approx(wrist)


def test_arms_of_real_women_grow_thinner_downward() -> None:
    for woman in survey_women():
        girths = [arm_girth_mm(woman, down) for down in range(0, 700, 50)]
        assert girths == sorted(girths, reverse=True), woman.name
        assert FOREARM_SHARE * woman["upper_arm_girth"] > woman["wrist_girth"], woman.name


# Sleeves


@pytest.mark.parametrize("length_mm", [180.0, 250.0, 330.0, 450.0, 570.0])
def test_default_sleeve_of_any_length_is_wide_enough(length_mm: float) -> None:
    assert codes(changed(LONG_DRESS, "sleeve", length_mm=length_mm), "SLEEVE-") == set()


@pytest.mark.parametrize(("spare_mm", "found"), [(10.5, set()), (9.0, {"SLEEVE-HAND"})])
def test_hand_passes_with_one_centimeter_to_spare(spare_mm: float, found: set[str]) -> None:
    """Check value L08: the hand girth and 1 to 2 cm (common practice, no source)."""
    sleeve = changed(LONG_DRESS, "sleeve", length_mm=570.0, taper_mm=80.0)
    assert codes(sleeve, "SLEEVE-", hand_girth=hem_mm(sleeve) - spare_mm) == found


@pytest.mark.parametrize(("spare_mm", "found"), [(11.0, set()), (9.0, {"SLEEVE-HEM"})])
def test_forearm_has_one_centimeter_to_spare(spare_mm: float, found: set[str]) -> None:
    figure = body()
    sleeve = changed(LONG_DRESS, "sleeve", length_mm=figure["shoulder_to_elbow"])
    arm = (hem_mm(sleeve) - spare_mm) / 0.868
    assert codes(sleeve, "SLEEVE-", upper_arm_girth=arm) == found


def test_sleeve_that_opens_need_not_let_the_hand_through() -> None:
    tight = stretched(long_dress(), "sleeve", 0.5)
    closure = Finish("cuff", "cuff opening", run("sleeve.underarm-back"), FinishKind.CLOSURE)
    opened = replace(tight, finishes={**tight.finishes, "cuff": closure})
    assert "SLEEVE-HAND" in codes(tight, "SLEEVE-")
    assert "SLEEVE-HAND" not in codes(opened, "SLEEVE-")


def test_stretch_cloth_lets_the_hand_through_a_narrow_sleeve() -> None:
    """Cloth of 60 % gives 40 % while it is pulled on: 17 cm become 23.8 cm, a hand and more."""
    tight = stretched(long_dress(), "sleeve", 0.5)
    assert "SLEEVE-HAND" in codes(tight, "SLEEVE-")
    assert "SLEEVE-HAND" not in codes(replace(tight, stretch={"main": 0.6}), "SLEEVE-")


# Openings


@pytest.mark.parametrize(("hip_mm", "found"), [(1110.0, set()), (1115.0, {"OPENING-SHORT"})])
def test_hip_goes_through_a_half_circle_below_its_opening(hip_mm: float, found: set[str]) -> None:
    """Check value C06 (derived): 735 mm at the waist and pi times 120 mm are 1112 mm."""
    skirt = changed(HALF_CIRCLE_SKIRT, "skirt", opening_mm=120.0)
    assert codes(skirt, "OPENING-", hip_girth=hip_mm) == found


def test_opening_that_reaches_the_hip_is_long_enough() -> None:
    """Check value F14 (common practice): 18 to 20 cm from the waist."""
    narrow = changed(HALF_CIRCLE_SKIRT, "skirt", opening_mm=190.0, share=0.2)
    assert codes(narrow, "OPENING-", waist_to_hip=189.0) == set()
    assert codes(narrow, "OPENING-", waist_to_hip=195.0, hip_girth=1000.0) == {"OPENING-SHORT"}


def test_stretch_cloth_lets_the_hip_through_a_short_opening() -> None:
    skirt = changed(HALF_CIRCLE_SKIRT, "skirt", opening_mm=120.0, share=0.2)
    assert codes(skirt, "OPENING-") == {"OPENING-SHORT"}
    assert codes(replace(skirt, stretch={"main": 0.3}), "OPENING-") == set()


def test_front_that_opens_to_the_hem_lets_everybody_in() -> None:
    assert codes(long_dress(), "OPENING-", hip_girth=1300.0) == set()
