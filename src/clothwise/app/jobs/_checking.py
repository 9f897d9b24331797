"""In a worker behind: findings of what a page looks at, or of every view in every size."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from clothwise.app.jobs._drafting import drafted, opened_design
from clothwise.app.jobs._mending import mending_place
from clothwise.app.jobs.findings import Findings, ShownFinding, shown_finding
from clothwise.app.work import JobCancelled, Shown, Tell
from clothwise.checks import check, refusal
from clothwise.checks.texts import middle_of
from clothwise.errors import ComponentError, GeometryError, MeasurementError
from clothwise.packet.making import Making
from clothwise.packet.whole_check import CheckedDraft, check_designs
from clothwise.pattern import EdgeRef, Finding, Pattern

__all__ = ["findings_of", "findings_of_range"]

_ORDER = {"error": 0, "warning": 1, "note": 2}


def findings_of(shown: Shown, documents: Mapping[str, str]) -> Findings:
    """Check one garment in one size; a draft that is refused is its only finding.

    Raises:
        ClothwiseError: the documents have faults.
    """
    try:
        of = drafted(shown, documents)
    except (ComponentError, GeometryError, MeasurementError) as error:
        refused = refusal(error, size=shown.size)
        design = opened_design(documents).design
        return _sorted([shown_finding(refused, mending_place(refused, design, None))], 1, 1)
    found = Making(of.make).findings if of.make else check(of.pattern, of.body)
    placed = [_placed(each, of.pattern, of.body.name) for each in found]
    design = of.design.design
    return _sorted(
        [shown_finding(each, mending_place(each, design, of.pattern)) for each in placed], 1, 1
    )


def findings_of_range(
    documents: Mapping[str, str], told: Tell, cancelled: Callable[[], bool]
) -> Findings:
    """Check every view in every size, and tell what is found after each.

    Raises:
        ClothwiseError: the documents have faults.
    """
    found: list[ShownFinding] = []
    total = 1
    file = opened_design(documents)

    def tell(done: int, of: int, what: str) -> None:
        nonlocal total
        if cancelled():
            raise JobCancelled("the check was stopped", how_much=f"{done} of {of} done")
        total = of
        told(done / of, what, _sorted(found, done, of))

    def each_draft(draft: CheckedDraft) -> None:
        pattern = draft.derived.pattern if draft.derived else None
        placed = [_placed(each, pattern, draft.size) for each in draft.findings]
        found.extend(
            shown_finding(each, mending_place(each, file.design, pattern), draft.garment)
            for each in placed
        )

    whole = check_designs([file], "", "", {}, tell, each_draft)
    found.extend(shown_finding(each) for each in whole.of_range)
    return _sorted(found, total, total)


def _sorted(found: Iterable[ShownFinding], done: int, total: int) -> Findings:
    return Findings(tuple(sorted(found, key=lambda each: _ORDER[each.severity])), done, total)


def _placed(finding: Finding, pattern: Pattern | None, size: str) -> Finding:
    """The same with its size, and with a place on its piece where it names none."""
    placed = replace(finding, size=finding.size or size)
    if finding.at is not None or pattern is None:
        return placed
    edge = _edge(finding, pattern)
    if edge is None:
        return placed
    at = middle_of(pattern, edge)
    return replace(placed, piece=edge.piece, edge=finding.edge or edge.edge, at=at)


def _edge(finding: Finding, pattern: Pattern) -> EdgeRef | None:
    """The edge it is about: the one it names, or the first one of its seam."""
    piece = pattern.pieces.get(finding.piece)
    if piece is not None and finding.edge in piece.outline.edges:
        return EdgeRef(finding.piece, finding.edge)
    seam = pattern.seams.get(finding.seam)
    if seam is None:
        return None
    edges = [edge for layer in seam.layers for edge in layer.run.edges]
    return next((edge for edge in edges if edge.piece == finding.piece), edges[0])
