"""No false alarms: sound designs have no findings, whatever the size, the body or the choices."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.checks import check, refusal
from clothwise.components import DesignFile, read_design
from clothwise.errors import ClothwiseError, MeasurementError
from clothwise.pattern import Body, Finding, Severity
from survey import survey_women
from work.real_designs import HALF_CIRCLE_SKIRT, LONG_DRESS, TUNIC, drafted

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
DESIGNS = ("kiln-dress", "half-circle-skirt")
VIEWS = (("kiln-dress", "A"), ("kiln-dress", "B"), ("half-circle-skirt", "knee"))
MIXTURE = {"hem": "tunic", "armhole": "sleeve", "collar": "none", "pockets": "1"}


@cache
def design(name: str) -> DesignFile:
    return read_design(EXAMPLES / name)


@pytest.mark.parametrize(("name", "view"), [*VIEWS, ("half-circle-skirt", "midi")])
def test_example_has_no_finding_in_any_size(name: str, view: str) -> None:
    file = design(name)
    found: dict[str, tuple[Finding, ...]] = {}
    for size in file.sizes:
        body = file.body(size)
        found[size] = check(file.draft(view=view, body=body), body)
    assert {size: findings for size, findings in found.items() if findings} == {}


def test_mixture_that_nobody_planned_has_no_finding() -> None:
    file = design("kiln-dress")
    for size in file.sizes:
        body = file.body(size)
        assert check(file.draft(MIXTURE, body=body), body) == ()


@pytest.mark.parametrize(("name", "view"), VIEWS)  # one after the other: they share steps
@pytest.mark.parametrize("part", range(8))
def test_survey_women_get_patterns_without_errors(name: str, view: str, part: int) -> None:
    """200 women of the open survey: no finding at all, or a refusal that names a measurement."""
    for body in survey_women()[part::8]:
        findings = findings_for(name, view, body)
        assert {each.code for each in findings} <= {"BODY-RANGE"}, body.name


def findings_for(name: str, view: str, body: Body) -> tuple[Finding, ...]:
    try:
        pattern = design(name).draft(view=view, body=body)
    except MeasurementError as error:
        return (refusal(error, body),)
    return check(pattern, body)


@st.composite
def bodies(draw: st.DrawFn) -> Body:
    """Women's bodies, 78 to 125 cm of bust, with proportions of the survey and beyond."""
    bust = draw(st.floats(780, 1250))
    try:
        return Body.complete(
            {
                "bust_girth": bust,
                "waist_girth": bust * draw(st.floats(0.72, 0.95)),
                "hip_girth": bust * draw(st.floats(0.95, 1.2)),
                "height": draw(st.floats(1500, 1850)),
            }
        )
    except MeasurementError:
        # A contradiction that the body itself refuses is not this test's concern.
        return Body.complete(
            {"bust_girth": bust, "waist_girth": bust * 0.8, "hip_girth": bust, "height": 1680}
        )


@settings(max_examples=40)
@given(bodies(), st.sampled_from([LONG_DRESS, TUNIC, HALF_CIRCLE_SKIRT]))
def test_random_bodies_get_sound_patterns(
    body: Body, spec: tuple[tuple[str, str, dict[str, float]], ...]
) -> None:
    try:
        pattern = drafted(spec, body)
    except ClothwiseError as error:
        told = refusal(error, body)
        assert told.severity is Severity.ERROR
        assert told.remedy
        return
    assert [each.message for each in check(pattern, body) if each.severity is Severity.ERROR] == []
