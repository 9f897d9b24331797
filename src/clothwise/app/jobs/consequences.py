"""The job behind the one line that says what a change did."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import ClassVar

from clothwise.app.work import Job, Shown, Tell
from clothwise.app.work.job import Worker

__all__ = ["Consequences", "ConsequencesOf"]


@dataclass(frozen=True)
class Consequences:
    """What a change did.

    Attributes:
        line: all of it in one line.
        pieces, seams, steps, fabric: its parts in words; a part that did not change is empty.
        refused: sizes and views that cannot be drafted or in which an edit is not made, and why.
        elsewhere: other views and makes that change too.
    """

    line: str
    pieces: str = ""
    seams: str = ""
    steps: str = ""
    fabric: str = ""
    refused: str = ""
    elsewhere: str = ""


@dataclass(frozen=True)
class ConsequencesOf(Job):
    """Compare a design before and after a change; told at once, with other sizes and fabric later.

    Attributes:
        shown: what the page looks at; its make, or else the first one, says what cloth it takes.
        before, after: the documents.
        unit: `cm` or `in`; empty takes that of the design.
        window: of the lines for one window only the latest is worked out.
    """

    worker: ClassVar[Worker] = "back"

    shown: Shown
    before: Mapping[str, str]
    after: Mapping[str, str]
    unit: str = ""
    window: str = ""

    @property
    def key(self) -> str:
        """The window, or the design."""
        return f"consequences {self.window or self.shown.design}"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> Consequences:
        """Compare; what takes long, other sizes and then cloth, comes later than the rest."""
        from clothwise.app.jobs._comparing import consequences

        return consequences(self.shown, self.before, self.after, self.unit, told, cancelled)
