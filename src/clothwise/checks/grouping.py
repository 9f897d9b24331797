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
        draft: the number of the draft it was first found in, from 0.
        findings: at least one, in the order in which they were found.
        in_draft: how many of them, from the first, are of that draft; they say the same of
            several places.
    """

    number: int
    draft: int
    findings: tuple[Finding, ...]
    in_draft: int

    @property
    def first(self) -> Finding:
        """The one that is shown for all."""
        return self.findings[0]

    @property
    def places(self) -> tuple[Finding, ...]:
        """What was found in the draft that is shown."""
        return self.findings[: self.in_draft]

    @property
    def sizes(self) -> tuple[str, ...]:
        """The sizes it was found in, each once."""
        return tuple(dict.fromkeys(finding.size for finding in self.findings if finding.size))


def grouped(drafts: Iterable[Sequence[Finding]]) -> tuple[FindingGroup, ...]:
    """Number the findings of several drafts: errors first, then in the order found.

    Findings of one draft come together only if they say the same, word for word, of the same edge.

    Args:
        drafts: the findings of each draft: of each view and size.
    """
    found: dict[tuple[object, ...], FindingGroup] = {}
    for draft, findings in enumerate(drafts):
        said: dict[tuple[object, ...], list[str]] = {}
        for finding in findings:
            key = (finding.severity, finding.code, finding.seam, finding.piece, finding.edge)
            messages = said.setdefault(key, [])
            if finding.message not in messages:
                messages.append(finding.message)
            whole = (*key, messages.index(finding.message))
            known = found.get(whole, FindingGroup(0, draft, (), 0))
            found[whole] = replace(
                known,
                findings=(*known.findings, finding),
                in_draft=known.in_draft + (known.draft == draft),
            )
    groups = sorted(found.values(), key=lambda group: _RANK[group.first.severity])
    return tuple(replace(group, number=number) for number, group in enumerate(groups, start=1))
