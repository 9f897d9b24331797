"""A block for women refuses a child's body and names what is too small; no woman is refused."""

from __future__ import annotations

import pytest

from clothwise.checks import refusal
from clothwise.components import component_class, read_design
from clothwise.components.wearers import WOMEN, refuse_others
from clothwise.errors import MeasurementError
from clothwise.pattern import Body
from component_cases import EXAMPLES, body, chart, drafted
from survey import survey_women

CHILD = {"height": 1280.0, "bust_girth": 640.0, "waist_girth": 570.0, "hip_girth": 680.0}
"""A body as of 8 years; invented, no source."""


@pytest.mark.parametrize("kind", ["darted-bodice", "a-line-skirt"])
def test_the_blocks_say_whom_they_are_for(kind: str) -> None:
    assert component_class(kind).drafted_for is WOMEN


def test_a_child_is_refused_with_measurement_bound_and_remedy() -> None:
    with pytest.raises(MeasurementError) as caught:
        drafted({"bodice": ("darted-bodice", {})}, Body.complete(CHILD, name="Mia"))
    assert [fault.measurement for fault in caught.value.faults] == ["bust_girth", "hip_girth"]
    for fault in caught.value.faults:
        assert "grown women" in fault.how_much
        assert fault.remedy
    told = refusal(caught.value)
    assert told.code == "BODY-RANGE"
    assert "bust_girth is 64 cm" in told.message
    assert "from 69 cm" in told.allowed


def test_a_formula_that_fails_on_a_child_does_not_hide_why() -> None:
    """The dress's own formulas would fall out of range for her; the block is asked first."""
    design = read_design(EXAMPLES / "kiln-dress")
    with pytest.raises(MeasurementError, match="grown women"):
        design.draft(view="A", body=Body.complete(CHILD))


def test_a_skirt_from_the_waist_alone_is_drafted_for_anybody() -> None:
    assert drafted({"skirt": ("circle-skirt", {})}, Body.complete(CHILD)).pieces


def test_a_neck_beyond_every_woman_s_is_refused_only_if_it_was_measured() -> None:
    broad = body(hip_girth=960.0, neck_girth=390.0, neck_base_girth=430.0)
    with pytest.raises(MeasurementError, match="neck_girth"):
        drafted({"bodice": ("darted-bodice", {})}, broad)
    assert drafted({"bodice": ("darted-bodice", {})}, body(hip_girth=800.0)).pieces


def test_no_woman_of_the_survey_and_no_size_is_refused() -> None:
    """Smallest bust 69.5 cm and hip 79.8 cm, neck at most 0.395 of the hip, in all 1,595 rows of
    ANSUR II; the sample has 200 of them."""
    for each in (*survey_women(), *chart(), *read_design(EXAMPLES / "half-circle-skirt").chart):
        refuse_others(WOMEN, each)


@pytest.mark.parametrize(
    ("name", "bust_cm", "waist_cm", "hip_cm"),
    [
        ("EN 13402-3 bust 74-78, seen second-hand; waist and hip from memory", 74, 60, 84),
        ("CS 215-58 size 8: 31, 23 1/2, 32 1/2 in, press account of 2012", 78.7, 59.7, 82.6),
        ("home-sewing misses 6: 30 1/2, 23, 32 1/2 in, common practice", 77.5, 58.4, 82.6),
    ],
)
def test_the_smallest_sizes_of_published_tables_are_drafted(
    name: str, bust_cm: float, waist_cm: float, hip_cm: float
) -> None:
    smallest = body(
        height=1600.0,
        bust_girth=10 * bust_cm,
        waist_girth=10 * waist_cm,
        hip_girth=10 * hip_cm,
    )
    assert drafted({"bodice": ("darted-bodice", {})}, smallest).pieces, name
