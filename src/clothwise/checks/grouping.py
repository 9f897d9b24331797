"""The same finding in many sizes and views is one thing to mend: it gets one number."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from clothwise.pattern import Finding, Severity

_RANK = {severity: rank for rank, severity in enumerate(Severity)}


@dataclass(frozen=True)
class FindingGroup:
    """A finding with its number, and everything that says the same of another size or view.

    Attributes:
        number: from 1; errors come first.
        findings: at least one, in the order in which they were found.
    """

    number: int
    findings: tuple[Finding, ...]

    @property
    def first(self) -> Finding:
        """The one that is shown for all."""
        return self.findings[0]

    @property
    def sizes(self) -> tuple[str, ...]:
        """The sizes it was found in, each once."""
        return tuple(dict.fromkeys(finding.size for finding in self.findings if finding.size))


def grouped(drafts: Iterable[Sequence[Finding]]) -> tuple[FindingGroup, ...]:
    """Number the findings of several drafts: errors first, then in the order found.

    Findings of one draft are never put together, even if they say the same of the same edge.

    Args:
        drafts: the findings of each draft: of each view and size.
    """
    found: dict[tuple[object, ...], list[Finding]] = {}
    for findings in drafts:
        seen: dict[tuple[object, ...], int] = {}
        for finding in findings:
            key = (finding.severity, finding.code, finding.seam, finding.piece, finding.edge)
            seen[key] = seen.get(key, 0) + 1
            found.setdefault((*key, seen[key]), []).append(finding)
    groups = [FindingGroup(0, tuple(findings)) for findings in found.values()]
    groups.sort(key=lambda group: _RANK[group.first.severity])
    return tuple(replace(group, number=number) for number, group in enumerate(groups, start=1))
