"""Each check can fail: every planted fault is reported, at its place, with its figures."""

from __future__ import annotations

import pytest

from checks.planted import BODY, DRESS, PLANTED, SKIRT, Planted, hits
from clothwise.checks import check, codes
from clothwise.checks.refusal import REFUSAL_CODES
from clothwise.checks.registry import DRAFT_CODES


@pytest.mark.parametrize("fault", PLANTED, ids=lambda fault: f"{fault.code}: {fault.name}")
def test_planted_fault_is_found(fault: Planted) -> None:
    found = [each for each in check(fault.pattern, fault.body) if each.code == fault.code]
    assert hits(fault), [
        (each.message, each.measured, each.allowed, each.severity) for each in found
    ]
    assert len(found) == fault.findings, [each.message for each in found]


def test_the_patterns_that_faults_are_planted_in_are_sound() -> None:
    assert check(DRESS, BODY) == ()
    assert check(SKIRT, BODY) == ()


def test_every_check_has_a_planted_fault() -> None:
    """Those of DRAFT_CODES are planted in tests/components/test_edits.py."""
    planted = {fault.code for fault in PLANTED}
    assert set(codes()) - {*REFUSAL_CODES, *DRAFT_CODES} - planted == set()


@pytest.mark.parametrize("fault", PLANTED, ids=lambda fault: fault.name)
def test_findings_can_be_shown(fault: Planted) -> None:
    """Each has words, figures and a remedy, a code that is listed, and points into its piece."""
    for finding in check(fault.pattern, fault.body):
        assert finding.code in codes()
        assert finding.message.endswith(".")
        assert finding.remedy.endswith(".")
        assert finding.measured
        assert finding.allowed
        if finding.piece in fault.pattern.pieces:
            piece = fault.pattern.piece(finding.piece)
            assert finding.edge in ("", *piece.edge_names) or finding.code == "REFERENCE-UNKNOWN"
            if finding.at is not None:
                left, low, right, high = piece.outline.polygon.bounds
                assert left - 700 <= finding.at.x <= right + 700
                assert low - 100 <= finding.at.y <= high + 100
