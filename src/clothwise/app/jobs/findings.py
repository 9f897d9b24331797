"""The job behind the list of findings: one garment in one size, or the whole range."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, ClassVar

from clothwise.app.work import Job, Shown, Tell
from clothwise.app.work.job import Worker

if TYPE_CHECKING:
    from clothwise.pattern import Finding

__all__ = ["Findings", "FindingsOf", "Found", "ShownFinding", "shown_finding"]


@dataclass(frozen=True)
class ShownFinding:
    """A finding for a page; `id` stays the same as long as it says the same of the same place.

    The other fields are those of `Finding`; `at` is in mm in the coordinates of the piece, y up.
    `mend` names what is to be changed in the Draft room: `param-COMPONENT-PARAMETER`,
    `part-COMPONENT` or `edit-NAME`; empty if none is known. `garment` is the view it was found in,
    where several are looked at.
    """

    id: str
    code: str
    severity: str
    message: str
    remedy: str
    piece: str
    edge: str
    seam: str
    size: str
    measured: str
    allowed: str
    at: tuple[float, float] | None
    mend: str = ""
    garment: str = ""


@dataclass(frozen=True, kw_only=True)
class Found(ShownFinding):
    """A finding as scripts are told it: with its number, the sizes and garments it was found in.

    `id` stays the same as long as it says the same of the same place. `at` is in mm in the
    coordinates of its piece, y up. `mend` names what is to be changed in the Draft room:
    `param-COMPONENT-PARAMETER`, `part-COMPONENT` or `edit-NAME`; empty if none is known.
    """

    number: int
    sizes: tuple[str, ...]
    garments: tuple[str, ...] = ()


@dataclass(frozen=True)
class Findings:
    """What was found so far.

    Attributes:
        findings: errors first; through all sizes, each with its size.
        done, total: how many garments in how many sizes have been checked.
    """

    findings: tuple[ShownFinding, ...]
    done: int
    total: int

    def count(self, severity: str) -> int:
        """How many there are of `error`, `warning` or `note`."""
        return sum(each.severity == severity for each in self.findings)


@dataclass(frozen=True)
class FindingsOf(Job):
    """Check what a page looks at; of a make also its cloths, cutting list and widths.

    Attributes:
        shown, documents: as for `BoardOf`.
        whole_range: every view in every size instead; what is found so far is told on the way.
        pending: a change as data that waits for a yes; what is looked at is checked with it.
    """

    worker: ClassVar[Worker] = "back"

    shown: Shown
    documents: Mapping[str, str]
    whole_range: bool = False
    pending: Mapping[str, Any] = field(default_factory=dict)

    @property
    def lane(self) -> Worker:
        """A whole range takes long, and what follows a change must not wait for it."""
        return "soon" if self.whole_range else "back"

    @property
    def key(self) -> str:
        """What is checked; a newer state of it makes the older one pointless."""
        seen = (self.shown.size, self.shown.view, self.shown.make, dict(self.shown.choices))
        of = "whole range" if self.whole_range else f"{seen}{' and more' if self.pending else ''}"
        return f"findings {self.shown.design} {of}"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> Findings:
        """Check."""
        from clothwise.app.jobs._checking import findings_of, findings_of_range
        from clothwise.app.jobs._pending import with_pending

        if self.whole_range:
            return findings_of_range(self.documents, told, cancelled)
        return findings_of(self.shown, with_pending(self.documents, self.pending))


def shown_finding(finding: Finding, mend: str = "", garment: str = "") -> ShownFinding:
    """A finding for a page, with the place in the Draft room where it is mended."""
    import hashlib

    at = finding.at
    said = (finding.code, finding.piece, finding.edge, finding.seam, finding.message)
    return ShownFinding(
        id=hashlib.sha256("\0".join(map(str, said)).encode()).hexdigest()[:12],
        code=finding.code,
        severity=finding.severity.value,
        message=finding.message,
        remedy=finding.remedy,
        piece=finding.piece,
        edge=finding.edge,
        seam=finding.seam,
        size=finding.size,
        measured=finding.measured,
        allowed=finding.allowed,
        at=(round(at.x, 2), round(at.y, 2)) if at else None,
        mend=mend,
        garment=garment,
    )
