"""Real women and every size of the charts: a pattern without errors, or a refusal that says why.

Each test takes every fifth woman of the sample; all 1,595 are drafted in `benchmarks`.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from clothwise.checks import check, refusal
from clothwise.components import DesignFile, read_design
from clothwise.errors import ClothwiseError
from clothwise.pattern import Body, Severity
from survey import survey_women

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"

VIEWS = [
    ("kiln-dress", "A", 0),
    ("kiln-dress", "B", 1),
    ("half-circle-skirt", "knee", 2),
    ("half-circle-skirt", "midi", 0),
    ("pilot-coat-dress", "A", 2),
    ("pilot-coat-dress", "B", 0),
]
"""Example, view, and the first row taken of the sample."""

STRIDE = 5
PARTS = 2  # so that no test takes long


@cache
def women() -> tuple[Body, ...]:
    return survey_women()


def faults(design: DesignFile, view: str, body: Body) -> Iterator[str]:
    """Errors found in the pattern of a body, or a refusal that does not say what to do."""
    try:
        pattern = design.draft(view=view, body=body)
    except ClothwiseError as error:
        told = refusal(error, body)
        if told.code not in ("BODY-RANGE", "DRAFT-IMPOSSIBLE") or not told.remedy:
            yield f"{body.name}: {told}"
        return
    for finding in check(pattern, body):
        if finding.severity is Severity.ERROR:
            yield f"{body.name}: {finding.code} {finding.message}"


@pytest.mark.parametrize(("example", "view", "first"), VIEWS)
def test_every_size_of_the_chart_drafts_without_errors(example: str, view: str, first: int) -> None:
    """Sizes of our own chart are not even refused."""
    design = read_design(EXAMPLES / example)
    assert len(design.sizes) == 10
    for size in design.chart:
        assert design.draft(view=view, body=size).pieces
        assert [*faults(design, view, size)] == []


@pytest.mark.parametrize("part", range(PARTS))
@pytest.mark.parametrize(("example", "view", "first"), VIEWS)
def test_women_of_the_survey_draft_without_errors_or_are_refused_in_words(
    example: str, view: str, first: int, part: int
) -> None:
    design = read_design(EXAMPLES / example)
    chosen = women()[first::STRIDE][part::PARTS]
    assert len(chosen) >= 20
    assert [fault for body in chosen for fault in faults(design, view, body)] == []


def test_the_sample_is_large_enough_and_hardly_anybody_is_refused() -> None:
    """Bar: at most 1 % refused. Drafting alone, without checks, is quick enough for all 200."""
    design = read_design(EXAMPLES / "half-circle-skirt")
    assert len(women()) >= 200
    refused = 0
    for body in women():
        try:
            design.draft(view="knee", body=body)
        except ClothwiseError:
            refused += 1
    assert refused <= len(women()) / 100
