"""Long work of the cut room that runs on while its pages come and go."""

from __future__ import annotations

import threading
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cache, partial
from typing import Any, Literal

from clothwise.app.jobs.cut_making import MakeJob
from clothwise.app.jobs.cut_shown import LayoutShown, LayoutsShown
from clothwise.app.ongoing import Ongoing, ongoing
from clothwise.app.work import JobCancelled, Superseded, Told, begin, cancel
from clothwise.app.work.events import publish
from clothwise.errors import ClothwiseError

__all__ = ["BETTER", "WORKS", "Work", "Works", "works"]

WORKS = ("search", "stash", "table", "tune")
"""Kinds of long work. Under its design each publishes `cut-KIND`, with the make, whenever it has
come further or has ended."""
BETTER = "cut-layouts"
"""Published in the same way when a shorter layout was found, and when work has ended that keeps
the layouts that it finds: each kind does."""


@dataclass(frozen=True)
class Work:
    """One long work on a make.

    Attributes:
        job_id: of its job.
        head: of the history, or a digest of less of it on which the work depends; what is found
            holds for this state only.
        share: done, 0 to 1.
        message: what it is at.
        better: the shortest layout that a search has found so far, by fabric.
        result: what came of it; None until it ends.
        is_running: whether it goes on.
        was_stopped: whether somebody stopped it.
        refused: why it ended without a result; empty if it did not.
        questions: of the layouts that it was begun for by itself; none if somebody began it.
    """

    job_id: str
    head: str
    share: float = 0.0
    message: str = "Waiting for its turn."
    better: Mapping[str, LayoutShown] = field(default_factory=dict)
    result: Any = None
    is_running: bool = True
    was_stopped: bool = False
    refused: str = ""
    questions: tuple[str, ...] = ()

    @property
    def by_itself(self) -> bool:
        """Whether nobody began it."""
        return bool(self.questions)

    def over(self, shown: LayoutsShown) -> LayoutsShown:
        """The layouts with those in their place that were found since, if they are shorter."""
        layouts = tuple(
            self.better[each.fabric]
            if each.fabric in self.better
            and self.better[each.fabric].length_mm < each.length_mm - 0.05
            else each
            for each in shown.layouts
        )
        return LayoutsShown(layouts, shown.refused)


_Key = tuple[str, str, str]
_Question = tuple[str, str, str]
"""A design, a make, and what is asked of a search for it."""


class Works:
    """The latest work of each kind on each make."""

    def __init__(self) -> None:
        self._latest: dict[_Key, Work] = {}
        self._open: dict[tuple[str, str], tuple[str, ...]] = {}
        self._given_up: set[_Question] = set()
        self._lock = threading.Lock()

    def latest(self, design: str, make: str, kind: str, *, head: str) -> Work | None:
        """The work that runs, or that ended last; one on another state is ended and forgotten.

        Args:
            design, make: whose.
            kind: one of `WORKS`.
            head: as of `Work`, now.
        """
        key = (design, make, kind)
        with self._lock:
            found = self._latest.get(key)
        if found is not None and found.head != head:
            self.cancel(design, make, kind, "outdated")
            with self._lock:
                if self._latest.get(key, found).job_id == found.job_id:
                    self._latest.pop(key, None)
            return None
        return found

    def still_to_search(
        self, design: str, make: str, shown: LayoutsShown
    ) -> tuple[LayoutShown, ...]:
        """The layouts now that no search has answered, and for which none was stopped or failed."""
        rough = [each for each in shown.layouts if not each.is_searched]
        with self._lock:
            self._open[design, make] = tuple(each.question for each in rough)
            given_up = self._given_up
            return tuple(each for each in rough if (design, make, each.question) not in given_up)

    def begin(
        self,
        design: str,
        make: str,
        kind: str,
        head: str,
        job: MakeJob,
        *,
        questions: tuple[str, ...] = (),
    ) -> None:
        """Start work; one of the same kind that runs for the same make ends.

        Args:
            design, make, kind, head: as for `latest`.
            job: what is done.
            questions: as of `Work`.
        """
        self.cancel(design, make, kind, "replaced")
        key = (design, make, kind)
        work = Work(job.id, head, questions=questions)
        with self._lock:
            self._latest[key] = work
        stop = partial(self.cancel, design, make, kind)
        leave = partial(stop, "outdated")
        ongoing().begin(
            Ongoing(job.id, kind, design, make, stop, by_itself=work.by_itself, leave=leave)
        )

        def told(message: Told) -> None:
            self._hear(key, job.id, message)

        def failed(error: BaseException) -> None:
            self._ended(key, job.id, error)

        begin(job, told, failed)
        publish(design, f"cut-{kind}", make)

    def cancel(
        self,
        design: str,
        make: str,
        kind: str,
        why: Literal["stopped", "outdated", "replaced"] = "stopped",
    ) -> None:
        """Stop work, if it runs; layouts that it has found are kept.

        No search begins by itself again for what one was stopped that somebody did not want.
        """
        key = (design, make, kind)
        with self._lock:
            found = self._latest.get(key)
        if found is None or not found.is_running:
            return
        cancel(found.job_id)
        if self._change(key, found.job_id, is_running=False, was_stopped=True) and why == "stopped":
            self._give_up(key)
        ongoing().end(found.job_id, why)
        self._tell(key, better=True)

    def _hear(self, key: _Key, job_id: str, told: Told) -> None:
        if told.ended:
            work = self._change(key, job_id, share=1.0, is_running=False, result=told.data)
            if work is not None:  # what it could not answer, it could not the next time either
                self._give_up(key, work.questions)
            ongoing().end(job_id, "done")
        else:
            better = {told.data.fabric: told.data} if isinstance(told.data, LayoutShown) else {}
            self._change(key, job_id, told.share, told.message, better)
            ongoing().further(job_id, told.share, told.message)
        self._tell(key, better=told.data is not None)

    def _ended(self, key: _Key, job_id: str, error: BaseException) -> None:
        stopped = isinstance(error, JobCancelled | Superseded)
        words = "" if stopped or not isinstance(error, ClothwiseError) else str(error)
        if self._change(key, job_id, is_running=False, was_stopped=stopped, refused=words):
            self._give_up(key)
        ongoing().end(job_id, "stopped" if stopped else "refused")
        self._tell(key, better=True)

    def _give_up(self, key: _Key, questions: tuple[str, ...] | None = None) -> None:
        """Begin no search by itself any more for these, or for all that is open."""
        design, make, kind = key
        if kind != "search":
            return
        with self._lock:
            asked = self._open.get((design, make), ()) if questions is None else questions
            self._given_up |= {(design, make, each) for each in asked}

    def _tell(self, key: _Key, *, better: bool) -> None:
        design, make, kind = key
        publish(design, f"cut-{kind}", make)
        if better:
            publish(design, BETTER, make)

    def _change(
        self,
        key: _Key,
        job_id: str,
        share: float | None = None,
        message: str = "",
        better: Mapping[str, LayoutShown] | None = None,
        **more: Any,
    ) -> Work | None:
        """Change what is known of a work, unless it is another one by now, or was stopped."""
        with self._lock:
            found = self._latest.get(key)
            if found is None or found.job_id != job_id or not found.is_running:
                return None
            self._latest[key] = now = replace(
                found,
                share=found.share if share is None else max(found.share, share),
                message=message or found.message,
                better={**found.better, **(better or {})},
                **more,
            )
            return now


@cache
def works() -> Works:
    """The long work of this server."""
    return Works()
