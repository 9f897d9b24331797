"""Long work of the cut room that runs on while its pages come and go.

A work goes on as long as nothing is changed that it follows from. Of a search only the fabrics
begin anew that a change is about: each is a job of its own.
"""

from __future__ import annotations

import threading
from collections.abc import Mapping
from dataclasses import replace
from functools import cache, partial
from typing import Any, Literal

from clothwise.app.jobs.cut_layouts import SearchOf
from clothwise.app.jobs.cut_making import MakeJob
from clothwise.app.jobs.cut_shown import LayoutShown, LayoutsShown
from clothwise.app.ongoing import Ongoing, ongoing
from clothwise.app.rooms.cut_work import Part, Work
from clothwise.app.work import JobCancelled, Superseded, Told, begin, cancel
from clothwise.app.work.events import publish
from clothwise.errors import ClothwiseError

__all__ = ["BETTER", "WORKS", "Works", "works"]

WORKS = ("search", "stash", "table", "tune")
"""Kinds of long work. Under its design each publishes `cut-KIND`, with the make, whenever it has
come further or has ended."""
BETTER = "cut-layouts"
"""Published in the same way when a shorter layout was found, and when work has ended that keeps
the layouts that it finds: each kind does."""

_Key = tuple[str, str, str]
"""A design, a make, and a kind of work."""
_Question = tuple[str, str, str]
"""A design, a make, and what is asked of a search for it."""


class Works:
    """The latest work of each kind on each make."""

    def __init__(self) -> None:
        self._latest: dict[_Key, Work] = {}
        self._open: dict[tuple[str, str], tuple[str, ...]] = {}
        self._given_up: set[_Question] = set()
        self._lock = threading.Lock()

    def latest(self, design: str, make: str, kind: str, *, basis: str = "") -> Work | None:
        """The work that runs, or that ended last.

        One that follows from something else is ended here, which is told until the next change.
        What had come of one before is told to hold no more; after an undo it holds again.
        A search follows its questions instead: `follow`.

        Args:
            design, make: whose.
            kind: one of `WORKS`.
            basis: as of `Work`, now.
        """
        key = (design, make, kind)
        with self._lock:
            found = self._latest.get(key)
        if found is None or found.basis == basis:
            return found
        if found.result is not None:
            return replace(found, result=None, is_outdated=True, was_done=True)
        self.cancel(design, make, kind, "outdated")
        with self._lock:
            now = self._latest.get(key)
            if now is None or now.id != found.id:
                return now
            if not found.is_running:
                del self._latest[key]
                return None
            self._latest[key] = ended = replace(now, basis=basis)
            return ended

    def still_to_search(
        self, design: str, make: str, shown: LayoutsShown
    ) -> tuple[LayoutShown, ...]:
        """The layouts now that no search has answered, and for which none was stopped or failed."""
        rough = [each for each in shown.layouts if not each.is_searched]
        with self._lock:
            self._open[design, make] = tuple(each.question for each in rough)
            given_up = self._given_up
            return tuple(each for each in rough if (design, make, each.question) not in given_up)

    def begin(self, design: str, make: str, kind: str, basis: str, job: MakeJob) -> None:
        """Start work of one job; one of the same kind that runs for the same make ends.

        Args:
            design, make, kind, basis: as for `latest`.
            job: what is done.
        """
        work = Work(job.id, basis, {"": Part(job.id)})
        self._begin((design, make, kind), work, {"": job})

    def search(
        self,
        design: str,
        make: str,
        asked: Mapping[str, Any],
        questions: Mapping[str, str],
        *,
        effort: str,
        of_all: bool = False,
        by_itself: bool = False,
    ) -> None:
        """Start a search; one that runs for the same make ends.

        Args:
            design, make: whose.
            asked: what every job on the make is told.
            questions: of the layouts that are looked for, by fabric; at least one.
            effort, of_all, by_itself: as of `Work`.
        """
        jobs = {name: SearchOf(**asked, effort=effort, fabrics=(name,)) for name in questions}
        parts = {name: Part(job.id, questions[name]) for name, job in jobs.items()}
        first = next(iter(jobs.values())).id
        work = Work(first, "", parts, effort, of_all, by_itself)
        self._begin((design, make, "search"), work, jobs)

    def follow(self, design: str, make: str, shown: LayoutsShown, asked: Mapping[str, Any]) -> None:
        """Let a search follow the layouts as they are now.

        What is asked of a fabric otherwise than before is looked for anew; what is asked as before
        goes on. What a search that has ended tells of other layouts is forgotten.

        Args:
            design, make: whose.
            shown: the layouts now.
            asked: what every job on the make is told, now.
        """
        key = (design, make, "search")
        with self._lock:
            found = self._latest.get(key)
            if found is None:
                return
            now = {each.fabric: each.question for each in shown.layouts}
            kept = {
                name: part for name, part in found.parts.items() if now.get(name) == part.question
            }
            if not found.is_running:
                if len(kept) < len(found.parts):
                    del self._latest[key]
                return
            wanted = [
                each
                for each in shown.layouts
                if each.fabric not in kept
                and (found.of_all or each.fabric in found.parts)
                and not (found.by_itself and self._is_settled(key, each))
            ]
            if not wanted and len(kept) == len(found.parts):
                return
            jobs = {
                each.fabric: SearchOf(**asked, effort=found.effort, fabrics=(each.fabric,))
                for each in wanted
            }
            parts = kept | {name: Part(job.id, now[name]) for name, job in jobs.items()}
            told = [each.title for each in wanted if each.fabric in found.parts]
            anew = tuple(dict.fromkeys((*found.anew, *told)))
            goes_on = any(each.is_running for each in parts.values())
            self._latest[key] = replace(
                found, parts=parts, anew=anew, is_running=goes_on, is_outdated=not parts
            )
        for name, part in found.parts.items():
            if name not in kept:
                cancel(part.job_id)
        if not goes_on:
            ongoing().end(found.id, "done" if parts else "outdated")
        for name, job in jobs.items():
            self._start(key, name, job)
        self._tell(key, better=not goes_on)

    def _is_settled(self, key: _Key, shown: LayoutShown) -> bool:
        return shown.is_searched or (key[0], key[1], shown.question) in self._given_up

    def _begin(self, key: _Key, work: Work, jobs: Mapping[str, MakeJob]) -> None:
        design, make, kind = key
        self.cancel(design, make, kind, "replaced")
        with self._lock:
            self._latest[key] = work
        stop = partial(self.cancel, design, make, kind)
        leave = partial(stop, "outdated")
        ongoing().begin(
            Ongoing(work.id, kind, design, make, stop, by_itself=work.by_itself, leave=leave)
        )
        for name, job in jobs.items():
            self._start(key, name, job)
        publish(design, f"cut-{kind}", make)

    def _start(self, key: _Key, part: str, job: MakeJob) -> None:
        def told(message: Told) -> None:
            self._hear(key, part, job.id, message)

        def failed(error: BaseException) -> None:
            self._failed(key, part, job.id, error)

        begin(job, told, failed)

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
            self._latest[key] = replace(
                found, is_running=False, was_stopped=True, is_outdated=why == "outdated"
            )
        for part in found.parts.values():
            cancel(part.job_id)
        if why == "stopped":
            self._give_up(key)
        ongoing().end(found.id, why)
        self._tell(key, better=True)

    def _hear(self, key: _Key, part: str, job_id: str, told: Told) -> None:
        if not told.ended:
            shown = told.data if isinstance(told.data, LayoutShown) else None
            work = self._further(key, part, job_id, told.share, told.message, shown)
            if work is not None:
                ongoing().further(work.id, work.share, work.message)
            self._tell(key, better=told.data is not None)
            return
        result = None if key[2] == "search" else told.data
        work = self._ended(key, part, job_id, result=result)
        if work is not None and not work.is_running:
            ongoing().end(work.id, "refused" if work.refused else "done")
        self._tell(key, better=True)

    def _failed(self, key: _Key, part: str, job_id: str, error: BaseException) -> None:
        stopped = isinstance(error, JobCancelled | Superseded)
        words = "" if stopped or not isinstance(error, ClothwiseError) else str(error)
        work = self._ended(key, part, job_id, was_stopped=stopped, refused=words)
        if work is not None and not work.is_running:
            ongoing().end(work.id, "stopped" if work.was_stopped else "refused")
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

    def _further(
        self,
        key: _Key,
        part: str,
        job_id: str,
        share: float,
        message: str,
        better: LayoutShown | None,
    ) -> Work | None:
        """Note how far a part is; None if it is of no work any more."""
        with self._lock:
            found = self._of(key, part, job_id)
            if found is None:
                return None
            now = replace(found.parts[part], share=max(found.parts[part].share, share))
            self._latest[key] = work = replace(
                found,
                parts={**found.parts, part: now},
                message=message or found.message,
                better={**found.better, part: better} if better else found.better,
            )
            return work

    def _ended(
        self,
        key: _Key,
        part: str,
        job_id: str,
        *,
        result: Any = None,
        was_stopped: bool = False,
        refused: str = "",
    ) -> Work | None:
        """Note that a part has ended, and with the last one the work; None if it is of none.

        What it could not answer, it could not the next time either.
        """
        with self._lock:
            found = self._of(key, part, job_id)
            if found is None:
                return None
            ended = replace(found.parts[part], share=1.0, is_running=False)
            parts = {**found.parts, part: ended}
            self._latest[key] = work = replace(
                found,
                parts=parts,
                result=result,
                is_running=any(each.is_running for each in parts.values()),
                was_stopped=found.was_stopped or was_stopped,
                refused=found.refused or refused,
            )
        self._give_up(key, (ended.question,))
        return work

    def _of(self, key: _Key, part: str, job_id: str) -> Work | None:
        """The work that runs and has a job as its part; another one may have taken its place."""
        found = self._latest.get(key)
        if found is None or not found.is_running:
            return None
        known = found.parts.get(part)
        return found if known and known.job_id == job_id and known.is_running else None


@cache
def works() -> Works:
    """The long work of this server."""
    return Works()
