"""Empire and dropped waists and tunics: where they end, how wide, and what hangs from them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.geometry import angle_between
from clothwise.pattern import Body, MarkKind, Severity
from component_cases import (
    Parts,
    assert_seams_true,
    body,
    chart,
    drafted,
    drafted_or_refused,
)
from survey import survey_women

SIZES = (chart()[0], chart()[4], chart()[9])
SKIRTS = ("a-line-skirt", "straight-skirt", "gored-skirt", "gathered-skirt")


def dress(waist: str, skirt: str = "a-line-skirt", **bodice: float | str) -> Parts:
    parts: Parts = {
        "bodice": ("darted-bodice", {"waist": waist, **bodice}),
        "skirt": (skirt, {}),
        "facing": ("front-and-neck-facing", {}),
        "sleeve": ("set-in-sleeve", {}),
        "buttons": ("buttons", {}),
        "hem": ("double-hem", {}),
    }
    if waist == "none":
        del parts["skirt"]
    return parts


def faults(parts: Parts, wearer: Body) -> list[tuple[str, str]]:
    found = check(drafted(parts, wearer), wearer)
    return [(each.code, each.message) for each in found if each.severity is not Severity.NOTE]


@pytest.mark.parametrize("skirt", SKIRTS)
@pytest.mark.parametrize("waist", ["empire", "dropped"])
def test_any_skirt_hangs_from_it(waist: str, skirt: str) -> None:
    for size in SIZES:
        assert_seams_true(drafted(dress(waist, skirt), size))
        assert faults(dress(waist, skirt), size) == []


@pytest.mark.parametrize("skirt", SKIRTS)
@pytest.mark.parametrize("flare", [15.0, 40.0, 80.0])
def test_any_skirt_hangs_from_a_dropped_waist_that_swings_out(flare: float, skirt: str) -> None:
    for size in SIZES:
        assert_seams_true(drafted(dress("dropped", skirt, flare=flare), size))
        assert faults(dress("dropped", skirt, flare=flare), size) == []


@pytest.mark.parametrize("skirt", ["a-line-skirt", "straight-skirt"])
@pytest.mark.parametrize("flare", [40.0, 80.0])
def test_the_side_runs_on_without_a_corner_below_a_waist_that_swings_out(
    flare: float, skirt: str
) -> None:
    """Within half a degree: the sides of front and back of the bodice differ by less."""
    for size in SIZES:
        pattern = drafted(dress("dropped", skirt, flare=flare), size)
        below = -pattern.piece("skirt-front").edge("side").end_tangent
        for name, edge in (("bodice-front", "side-lower"), ("bodice-back", "side")):
            above = -pattern.piece(name).edge(edge).start_tangent
            assert math.degrees(abs(angle_between(above, below))) < 0.5, name


@settings(max_examples=30)
@given(
    st.sampled_from(survey_women()),
    st.sampled_from(SKIRTS),
    st.floats(0.0, 150.0),
    st.floats(40.0, 200.0),
)
def test_any_woman_s_dropped_waist_is_clean(
    wearer: Body, skirt: str, flare: float, shift: float
) -> None:
    parts = dress("dropped", skirt, flare=flare, waist_shift=shift)
    pattern = drafted_or_refused(parts, wearer)
    if pattern is not None:
        assert_seams_true(pattern)
        wrong = {each.code for each in check(pattern, wearer)}
        assert not wrong & {"CORNER-ANGLE", "CENTER-ANGLE", "CURVE-SPIKE", "CURVE-KINK"}


@pytest.mark.parametrize("long", [120.0, 260.0, 600.0, 1000.0])
def test_a_tunic_of_any_length_is_clean(long: float) -> None:
    parts = dress("none", tunic_length=long, flare=0.15 * long if long > 500 else 0.0)
    for size in SIZES:
        assert_seams_true(drafted(parts, size))
        assert faults(parts, size) == []


def test_an_empire_waist_lies_above_a_dropped_one_below() -> None:
    for waist, sign in (("empire", -1), ("dropped", 1)):
        for word in ("front", "back"):
            piece = drafted(dress(waist)).piece(f"bodice-{word}")
            assert piece.points["natural waist"].y * sign > 30.0


def test_the_shift_is_the_designer_s() -> None:
    for waist, sign in (("empire", -1), ("dropped", 1)):
        front = drafted(dress(waist, waist_shift=70.0)).piece("bodice-front")
        assert front.points["natural waist"].y == pytest.approx(sign * 70.0)


def test_the_hip_stays_where_the_body_has_it() -> None:
    wearer = body()
    for waist in ("natural", "empire", "dropped"):
        pattern = drafted(dress(waist), wearer)
        natural = pattern.piece("bodice-front").points.get("natural waist")
        level = pattern.piece("skirt-front").points["side hip"].y
        assert (natural.y if natural else 0.0) - level == pytest.approx(wearer["waist_to_hip"])


def test_a_raised_waist_on_wide_hips_with_a_small_tunic_is_measured_at_the_hip() -> None:
    """What is too narrow at the hip is found also where there is no waist seam."""
    wearer = body()
    pattern = drafted(dress("none", tunic_length=400.0), wearer)
    wider = wearer.with_measured({"hip_girth": wearer["hip_girth"] + 120.0})
    assert "FIT-HIP" not in {each.code for each in check(pattern, wearer)}
    assert "FIT-HIP" in {each.code for each in check(pattern, wider)}


def test_a_tunic_has_no_waist_for_a_skirt() -> None:
    with pytest.raises(ComponentError, match="waist"):
        drafted({**dress("none"), "skirt": ("a-line-skirt", {})})


def test_buttons_go_on_down_a_tunic() -> None:
    pattern = drafted(dress("none", tunic_length=500.0))
    marks = pattern.piece("bodice-front").marks
    levels = [each.at.y for each in marks if each.kind is MarkKind.BUTTON and each.at]
    waist = pattern.piece("bodice-front").points["center front waist"].y
    assert min(levels) < waist - 100.0
    assert min(levels) >= 140.0  # above the hem, by default
