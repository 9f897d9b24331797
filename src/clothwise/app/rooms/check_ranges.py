"""Checks of every view in every size, which go on while their pages come and go."""

from __future__ import annotations

import threading
import time
from dataclasses import dataclass, replace
from functools import cache
from typing import Literal

from clothwise.app.jobs.findings import Findings, FindingsOf, ShownFinding
from clothwise.app.ongoing import Ongoing, ongoing
from clothwise.app.work import JobCancelled, Superseded, Told, begin, cancel
from clothwise.app.work.events import publish
from clothwise.errors import ClothwiseError

__all__ = ["FOUND", "RangeCheck", "RangeChecks", "range_checks"]

FOUND = "check-range"
"""Published under the design when something more was found, and when the check has ended."""

OFTEN_S = 1.0
"""A list that changes under the eyes faster than this cannot be read; our own choice."""


@dataclass(frozen=True)
class RangeCheck:
    """The check of one state of a design.

    Attributes:
        job_id: of its job.
        head: of the history; what is found holds for this state only.
        findings: what was found so far.
        done, total: how many garments were looked at, of how many; 0 of 0 before the first.
        message: what is looked at now.
        is_running: whether it goes on.
        was_stopped: whether somebody stopped it: `findings` are of those that are done.
        error: why it ended without having looked at all.
    """

    job_id: str
    head: str
    findings: tuple[ShownFinding, ...] = ()
    done: int = 0
    total: int = 0
    message: str = "waiting for its turn"
    is_running: bool = True
    was_stopped: bool = False
    error: ClothwiseError | None = None

    @property
    def share(self) -> float:
        """Done, 0 to 1."""
        return self.done / self.total if self.total else 0.0

    @property
    def is_whole(self) -> bool:
        """Whether everything was looked at."""
        return not self.is_running and not self.was_stopped and self.error is None


class RangeChecks:
    """The latest check of each design."""

    def __init__(self) -> None:
        self._latest: dict[str, RangeCheck] = {}
        self._published: dict[str, float] = {}
        self._lock = threading.Lock()

    def latest(self, design: str, head: str) -> RangeCheck | None:
        """The check that runs, or that ended last; one of another state is ended and forgotten."""
        with self._lock:
            found = self._latest.get(design)
        if found is not None and found.head != head:
            self.cancel(design, "outdated")
            with self._lock:
                if self._latest.get(design, found).job_id == found.job_id:
                    self._latest.pop(design, None)
            return None
        return found

    def begin(self, design: str, head: str, job: FindingsOf) -> None:
        """Start a check, unless this state is being checked already."""
        found = self.latest(design, head)
        if found is not None and found.is_running:
            return
        with self._lock:
            self._latest[design] = RangeCheck(job.id, head)
        ongoing().begin(Ongoing(job.id, "check", design, "", lambda: self.cancel(design)))
        begin(
            job,
            lambda told: self._hear(design, job.id, told),
            lambda error: self._ended(design, job.id, error),
        )

    def cancel(self, design: str, why: Literal["stopped", "outdated"] = "stopped") -> None:
        """Stop the check of a design, if one runs; what it has found is kept."""
        with self._lock:
            found = self._latest.get(design)
        if found is None or not found.is_running:
            return
        self._change(design, found.job_id, is_running=False, was_stopped=True)
        cancel(found.job_id)
        self._tell(design, found.job_id, why)

    def _hear(self, design: str, job_id: str, told: Told) -> None:
        found: Findings = told.data
        before = self._change(
            design,
            job_id,
            findings=found.findings,
            done=found.done,
            total=found.total,
            message=told.message,
            is_running=not told.ended,
        )
        if told.ended:
            self._tell(design, job_id, "done")
            return
        words = f"looked at {found.done} of {found.total}; now {told.message}"
        ongoing().further(job_id, told.share, words)
        now = time.monotonic()
        is_more = before is not None and len(before.findings) != len(found.findings)
        if is_more and now - self._published.get(design, -OFTEN_S) > OFTEN_S:
            self._published[design] = now
            publish(design, FOUND)

    def _ended(self, design: str, job_id: str, error: BaseException) -> None:
        stopped = isinstance(error, JobCancelled | Superseded)
        told = error if isinstance(error, ClothwiseError) and not stopped else None
        self._change(design, job_id, is_running=False, was_stopped=stopped, error=told)
        self._tell(design, job_id, "stopped" if stopped else "refused")

    def _tell(
        self, design: str, job_id: str, how: Literal["done", "stopped", "outdated", "refused"]
    ) -> None:
        ongoing().end(job_id, how)
        publish(design, FOUND)

    def _change(self, design: str, job_id: str, **more: object) -> RangeCheck | None:
        """Change what is known of a check, unless it is another one by now, or was stopped.

        Returns what was known before.
        """
        with self._lock:
            found = self._latest.get(design)
            if found is None or found.job_id != job_id or not found.is_running:
                return None
            self._latest[design] = replace(found, **more)  # type: ignore[arg-type]
            return found


@cache
def range_checks() -> RangeChecks:
    """The checks of this server."""
    return RangeChecks()
