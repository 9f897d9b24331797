"""A run of several edges can be sewn only if seams make it one run."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.texts import edge_words
from clothwise.pattern import Finding, Severity
from clothwise.pattern.junctions import end_corner


def broken_runs(derived: Derived) -> Iterator[Finding]:
    """Edges that follow each other in a run although nothing brings them together."""
    pattern = derived.pattern
    for each in derived.junctions:
        junction = each.junction
        if junction.seams is not None:
            continue
        before, after = junction.before, junction.after
        yield Finding(
            code="RUN-BROKEN",
            severity=Severity.ERROR,
            message=f"{each.use.title}: {edge_words(pattern, before)} should run on into "
            f"{edge_words(pattern, after)}, but no seam or dart joins them.",
            remedy="Add the seam between them, or correct the order of the edges in the run.",
            piece=before.piece,
            edge=before.edge,
            seam=each.use.name,
            measured="not joined",
            allowed="neighbors, or joined by seams",
            at=derived.corner_point(end_corner(pattern, before)),
        )


CHECKS = (Check(("RUN-BROKEN",), broken_runs),)
