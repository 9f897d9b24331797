"""Searches for shorter layouts that run on while their pages come and go."""

from __future__ import annotations

import threading
from dataclasses import dataclass, field, replace
from functools import cache

from clothwise.app.jobs.cut_layouts import SearchOf
from clothwise.app.jobs.cut_shown import LayoutShown, LayoutsShown
from clothwise.app.work import JobCancelled, Superseded, Told, begin, cancel
from clothwise.app.work.events import publish
from clothwise.errors import ClothwiseError

__all__ = ["BETTER", "PROGRESS", "Search", "Searches", "searches"]

BETTER, PROGRESS = "layout", "searching"
"""Published under the design, with the make: a search has found something or has ended; it has
come further."""


@dataclass(frozen=True)
class Search:
    """One search of a make.

    Attributes:
        job_id: of its job.
        head: of the history; what is found holds for this state only.
        share: done, 0 to 1.
        message: what it is at.
        better: the shortest layout that it has found, by fabric.
        is_running: whether it goes on.
        was_stopped: whether somebody stopped it.
        refused: why it ended without a result; empty if it did not.
    """

    job_id: str
    head: str
    share: float = 0.0
    message: str = "about to begin"
    better: dict[str, LayoutShown] = field(default_factory=dict)
    is_running: bool = True
    was_stopped: bool = False
    refused: str = ""

    @property
    def percent(self) -> int:
        """Of it that is done."""
        return round(100 * self.share)

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


class Searches:
    """The latest search of each make."""

    def __init__(self) -> None:
        self._latest: dict[tuple[str, str], Search] = {}
        self._lock = threading.Lock()

    def latest(self, design: str, make: str, *, head: str) -> Search | None:
        """The search that runs, or that ended last; one for another state is ended and forgotten.

        Args:
            design, make: whose.
            head: of the history now.
        """
        with self._lock:
            found = self._latest.get((design, make))
        if found is not None and found.head != head:
            self.cancel(design, make)
            with self._lock:
                self._latest.pop((design, make), None)
            return None
        return found

    def begin(self, design: str, make: str, head: str, job: SearchOf) -> None:
        """Start a search; one that runs for the same make ends."""
        self.cancel(design, make)
        key = (design, make)
        with self._lock:
            self._latest[key] = Search(job.id, head)

        def told(message: Told) -> None:
            self._hear(key, job.id, message)

        def failed(error: BaseException) -> None:
            self._ended(key, job.id, error)

        begin(job, told, failed)
        publish(design, PROGRESS, make)

    def cancel(self, design: str, make: str) -> None:
        """Stop the search of a make, if one runs; what it has found is kept."""
        with self._lock:
            found = self._latest.get((design, make))
        if found is None or not found.is_running:
            return
        cancel(found.job_id)
        self._change((design, make), found.job_id, is_running=False, was_stopped=True)
        publish(design, BETTER, make)

    def _hear(self, key: tuple[str, str], job_id: str, told: Told) -> None:
        if told.ended:
            self._change(key, job_id, share=1.0, is_running=False)
        else:
            better = {told.data.fabric: told.data} if isinstance(told.data, LayoutShown) else {}
            self._change(key, job_id, told.share, told.message, better)
        publish(key[0], BETTER if told.data is not None else PROGRESS, key[1])

    def _ended(self, key: tuple[str, str], job_id: str, error: BaseException) -> None:
        stopped = isinstance(error, JobCancelled | Superseded)
        words = "" if stopped or not isinstance(error, ClothwiseError) else str(error)
        self._change(key, job_id, is_running=False, was_stopped=stopped, refused=words)
        publish(key[0], BETTER, key[1])

    def _change(
        self,
        key: tuple[str, str],
        job_id: str,
        share: float | None = None,
        message: str = "",
        better: dict[str, LayoutShown] | None = None,
        **more: bool | str,
    ) -> None:
        """Change what is known of a search, unless it is another one by now."""
        with self._lock:
            found = self._latest.get(key)
            if found is None or found.job_id != job_id:
                return
            self._latest[key] = replace(
                found,
                share=found.share if share is None else max(found.share, share),
                message=message or found.message,
                better={**found.better, **(better or {})},
                **more,  # type: ignore[arg-type]
            )


@cache
def searches() -> Searches:
    """The searches of this server."""
    return Searches()
