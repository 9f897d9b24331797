"""The job that tries a change, which nobody keeps yet, in every size."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, ClassVar

from clothwise.app.work import Job, Shown, Tell
from clothwise.app.work.job import Worker

__all__ = ["RefusingSizesOf"]


@dataclass(frozen=True)
class RefusingSizesOf(Job):
    """Tell in which sizes and views a change cannot be made, in words; empty for none.

    Attributes:
        shown, documents: as for `BoardOf`.
        command: the change, as data.
        unit: `cm` or `in`; empty takes that of the design.
        window: of what is tried for one window only the latest matters.
    """

    worker: ClassVar[Worker] = "back"

    shown: Shown
    documents: Mapping[str, str]
    command: Mapping[str, Any] = field(default_factory=dict)
    unit: str = ""
    window: str = ""

    @property
    def key(self) -> str:
        """The window."""
        return f"refusing {self.window}" if self.window else ""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> str:
        """Draft every size."""
        from clothwise.app.jobs._refusing import refusing_words

        return refusing_words(self, cancelled)
