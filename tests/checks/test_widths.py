"""Widths across the grain, against geometry, and silent just below the widest usual cloth."""

from __future__ import annotations

import pytest

from clothwise.checks import Derived, check
from clothwise.checks.widths import WIDEST_CLOTH_MM, cloth_widths
from clothwise.pattern import Finding, Pattern
from work.real_designs import HALF_CIRCLE_SKIRT, body, drafted

BODY = body()
IN = 25.4


def circle(share: float, length_mm: float) -> Pattern:
    return drafted(
        (
            ("skirt", "circle-skirt", {"share": share, "length_mm": length_mm}),
            *HALF_CIRCLE_SKIRT[1:],
        )
    )


def wide(pattern: Pattern) -> list[Finding]:
    return [each for each in cloth_widths(Derived(pattern, BODY)) if each.piece == "skirt"]


def test_the_widest_cloth_is_that_of_the_list() -> None:
    """Y17: 58/60 in, printed as 148 to 152 cm."""
    assert 58 * IN <= WIDEST_CLOTH_MM <= 60 * IN


def test_a_half_circle_is_as_wide_as_its_radius() -> None:
    """C07: with its diameter along the selvage it needs cloth r + L wide, plus allowances."""
    radius = 1200.0 + (BODY["waist_girth"] + 15.0) / 3.14159265
    assert radius < WIDEST_CLOTH_MM
    assert wide(circle(0.5, 1200.0)) == []


def test_a_full_circle_needs_its_diameter() -> None:
    radius = 800.0 + (BODY["waist_girth"] + 15.0) / (2 * 3.14159265)
    (found,) = wide(circle(1.0, 800.0))
    measured = 10 * float(found.measured.removesuffix(" cm"))
    assert measured == pytest.approx(2 * radius, abs=80.0)  # allowances at hem and back seam
    assert measured > 2 * radius
    assert found in check(circle(1.0, 800.0), BODY)
