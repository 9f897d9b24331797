"""The same finding in many sizes gets one number; findings of one draft stay apart."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from clothwise.checks.grouping import grouped
from clothwise.pattern import Finding, Severity

CODES = st.sampled_from(["SEAM-LENGTH", "NOTCH-PAIR", "EASE-LARGE"])
FINDINGS = st.builds(
    Finding,
    code=CODES,
    severity=st.sampled_from(list(Severity)),
    message=st.just("words."),
    remedy=st.just("do."),
    piece=st.sampled_from(["front", "back"]),
    size=st.sampled_from(["36", "38", "40"]),
)


def finding(
    size: str, severity: Severity = Severity.ERROR, edge: str = "side", message: str = "m"
) -> Finding:
    return Finding("SEAM-LENGTH", severity, message, "r", "front", edge, "side seam", size)


def test_sizes_come_together() -> None:
    (group,) = grouped([[finding("36")], [finding("38")], [], [finding("38")]])
    assert (group.number, group.draft) == (1, 0)
    assert group.sizes == ("36", "38")
    assert len(group.findings) == 3


def test_two_findings_of_one_draft_stay_two() -> None:
    groups = grouped([[finding("36"), finding("36", message="n")], [finding("38")]])
    assert [group.sizes for group in groups] == [("36", "38"), ("36",)]
    assert grouped([[], [finding("38")]])[0].draft == 1


def test_the_same_words_about_several_places_are_one() -> None:
    """Twelve buttons too near to an edge are one thing to mend."""
    (group,) = grouped([[finding("36")] * 3, [finding("38")] * 2])
    assert len(group.places) == 3
    assert len(group.findings) == 5


def test_errors_come_first() -> None:
    groups = grouped([[finding("36", Severity.NOTE), finding("36", edge="hem")]])
    assert [group.first.severity for group in groups] == [Severity.ERROR, Severity.NOTE]
    assert [group.number for group in groups] == [1, 2]


@given(st.lists(st.lists(FINDINGS, max_size=6), max_size=4))
def test_nothing_is_lost_and_numbers_run_on(drafts: list[list[Finding]]) -> None:
    groups = grouped(drafts)
    assert [group.number for group in groups] == list(range(1, len(groups) + 1))
    assert sorted(id(each) for group in groups for each in group.findings) == sorted(
        id(each) for draft in drafts for each in draft
    )
