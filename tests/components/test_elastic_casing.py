"""The elastic casing: as long as the flat waist, its elastic cut from the body."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.errors import ComponentError
from clothwise.pattern import Body, NotionUnit
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    assert_sound_in_sizes,
    bodies_to_draft,
    body,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)

KIND = "elastic-casing"
SKIRTS = ("gathered-skirt", "tiered-skirt")


def parts(skirt: str, casing: Parameters | None = None, **asked: float | str) -> Parts:
    return {
        "skirt": (skirt, {"opens": "nowhere", **asked}),
        "casing": (KIND, casing or {}),
        "hem": ("double-hem", {}),
    }


@settings(max_examples=30)
@given(bodies_to_draft(), st.sampled_from(SKIRTS), parameters_in_range(KIND))
def test_any_body_gives_a_true_casing_twice_as_high_as_its_elastic_and_room(
    wearer: Body, skirt: str, casing: Parameters
) -> None:
    pattern = drafted_or_refused(parts(skirt, casing), wearer)
    assert pattern is not None
    assert_seams_true(pattern)
    piece = pattern.piece("casing")
    width = float(casing.get("elastic_width", 25.0)) + 5.0
    assert piece.outline.area == pytest.approx(piece.edge("outer").length * 2 * width)


@pytest.mark.parametrize("skirt", SKIRTS)
def test_no_size_has_a_finding_and_every_seam_is_sewn_once(skirt: str) -> None:
    assert_sound_in_sizes(parts(skirt))


def test_the_elastic_is_a_little_shorter_than_the_waist_and_laps() -> None:
    """Common practice, no source: a few centimeters less than the waist of 720 mm, and a lap."""
    pattern = drafted(parts("gathered-skirt", {"tension": 0.95}))
    (elastic,) = (notion for notion in pattern.notions if notion.name == "elastic")
    assert elastic.unit is NotionUnit.LENGTH_MM
    assert elastic.amount == pytest.approx(720.0 * 0.95 + 20.0)


def test_a_skirt_that_opens_nowhere_has_its_back_on_the_fold_and_no_threads_to_gather() -> None:
    pattern = drafted(parts("gathered-skirt"))
    assert pattern.piece("skirt-back").fold_edge == "center"
    assert "opening" not in pattern.runs
    assert not any("gathering" in each.name for each in pattern.operations)
    tiers = [each.name for each in drafted(parts("tiered-skirt")).operations]
    assert [name for name in tiers if "gathering" in name] == [
        "skirt-2-gathering-threads",
        "skirt-3-gathering-threads",
    ]


def test_it_goes_over_the_hip() -> None:
    wearer = body(waist_girth=600.0, hip_girth=1000.0)
    pattern = drafted(parts("gathered-skirt", fullness=1.5), wearer)
    assert 2 * pattern.piece("casing").edge("outer").length >= 1000.0


@pytest.mark.parametrize(
    ("skirt", "message"),
    [
        ("gathered-skirt", "a waist that nothing opens"),
        ("wrap-skirt", "a waist that nothing opens"),
        ("pleated-skirt", "a waist that nothing opens"),
    ],
)
def test_a_skirt_that_opens_is_refused(skirt: str, message: str) -> None:
    with pytest.raises(ComponentError, match=message):
        drafted({"skirt": (skirt, {}), "casing": (KIND, {})})


def test_a_waist_smaller_than_the_hip_is_refused() -> None:
    with pytest.raises(ComponentError, match="does not go over the hip"):
        drafted({"bodice": ("darted-bodice", {"opening": "none"}), "casing": (KIND, {})})
