"""Runs independent jobs and brings their results in order, whoever does the work.

A job must depend on nothing but itself and the function: then results are the same with one
worker, with several, or on a cluster.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, wait
from dataclasses import dataclass
from typing import Any, TypeVar

from clothwise.errors import Misuse
from clothwise.jobs.chunks import MOST_PER_CHUNK, Chunk, Raised, chunks, run_chunk
from clothwise.jobs.cluster import ClusterWorkers
from clothwise.jobs.errors import JobsCancelled
from clothwise.jobs.local import LocalWorkers

Job = TypeVar("Job")
Result = TypeVar("Result")

LOOK_S = 0.5
"""How often it is asked whether workers are still there and wanted, while none has finished."""

WORKERS_ON_CLUSTER = 8
"""Into how many workers' handfuls jobs are cut at least; workers may join later."""


@dataclass(frozen=True)
class Progress:
    """How far the jobs have come; `left_s` is the time left in seconds, None if nobody can tell."""

    done: int
    total: int
    left_s: float | None = None


def usual_workers() -> int:
    """As many processes as this program may use cores."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def run_jobs(
    function: Callable[[Job], Result],
    jobs: Iterable[Job],
    *,
    workers: int | None = None,
    cluster: str = "",
    progress: Callable[[Progress], None] | None = None,
    name: Callable[[Job], str] = str,
    each: Callable[[Job, Result], None] | None = None,
    handful: int = MOST_PER_CHUNK,
    cancelled: Callable[[], bool] | None = None,
) -> list[Result]:
    """Return what the function makes of each job, in the order of the jobs.

    What a job raises is raised here, with a note that names the job; of several, what the first in
    the order raised. On any exception, Ctrl-C among them, all workers of ours are ended before it
    goes on. A local worker that dies is replaced and its work done again, twice at most.

    Workers start from the program's main file: a script of your own must call this behind
    `if __name__ == "__main__":`, as for every pool of processes.

    Args:
        function: importable by its name (or a `functools.partial` of such), as it is sent to other
            processes.
        jobs: small values that can be pickled; see `Packed` for what all of them need.
        workers: local processes; as many as there are cores if None. With 1, and for a single
            job, everything happens in this process.
        cluster: address of a Dask scheduler, such as `tcp://192.0.2.7:8786`; then `workers` does
            not count.
        progress: told at the start and whenever some jobs are done.
        name: what a job is called in notes and messages.
        each: given every result as soon as it is there, in whatever order; in this process. So
            what is done can be kept even if the rest never will be. What it raises ends the work.
        handful: how many jobs a worker takes at once, at most; 1 for jobs of seconds or minutes.
        cancelled: asked twice a second, and between jobs done in this process.

    Raises:
        JobsCancelled: `cancelled` said so.
        JobsError: workers cannot be had, or die again and again.
        Misuse: fewer than one worker.

    >>> run_jobs(abs, [-3, 2, -1], workers=1)
    [3, 2, 1]
    """
    given = tuple(jobs)
    count = usual_workers() if workers is None else workers
    if count < 1:
        raise Misuse(
            "jobs need at least one worker", how_much=f"{count} asked", what_to_do="Ask for 1."
        )
    told = _Told(len(given), progress, each, cancelled)
    told.say(0)
    if cluster and given:
        with ClusterWorkers(cluster) as those:
            cut = chunks(given, max(WORKERS_ON_CLUSTER, those.workers), handful)
            return _collected(those, function, cut, told, name)
    if count == 1 or len(given) < 2:
        return [_done_here(function, job, told, name) for job in given]
    cut = chunks(given, count, handful)
    with LocalWorkers(min(count, len(cut))) as these:
        return _collected(these, function, cut, told, name)


class _Told:
    """Tells results and progress, with the time left, and asks whether anybody wants more."""

    def __init__(
        self,
        total: int,
        progress: Callable[[Progress], None] | None,
        each: Callable[[Any, Any], None] | None,
        cancelled: Callable[[], bool] | None,
    ) -> None:
        self._total, self._progress, self._each = total, progress, each
        self._cancelled = cancelled
        self._started, self._done = time.monotonic(), 0

    def check_wanted(self) -> None:
        """Raise if nobody wants more.

        Raises:
            JobsCancelled: nobody does.
        """
        if self._cancelled is not None and self._cancelled():
            raise JobsCancelled(
                "the work was cancelled",
                how_much=f"{self._done} of {self._total} done",
                what_to_do="Start it again when you are ready.",
            )

    def results(self, jobs: Sequence[Any], results: Sequence[Any]) -> None:
        """Tell what was made of some jobs."""
        if self._each is not None:
            for job, result in zip(jobs, results, strict=False):
                if not isinstance(result, Raised):
                    self._each(job, result)
        self.say(len(jobs))

    def say(self, more: int) -> None:
        self._done += more
        if self._progress is None:
            return
        took = time.monotonic() - self._started
        left = took / self._done * (self._total - self._done) if self._done else None
        self._progress(Progress(self._done, self._total, left))


def _done_here(
    function: Callable[[Job], Result], job: Job, told: _Told, name: Callable[[Job], str]
) -> Result:
    told.check_wanted()
    try:
        result = function(job)
    except Exception as error:
        error.add_note(f"This happened in the job {name(job)}.")
        raise
    told.results([job], [result])
    return result


def _collected(
    workers: LocalWorkers | ClusterWorkers,
    function: Callable[[Job], Result],
    cut: Sequence[Chunk[Job]],
    told: _Told,
    name: Callable[[Job], str],
) -> list[Result]:
    done: dict[int, list[Result | Raised]] = {}
    until = len(cut) * len(cut[0].jobs)  # nobody waits for what comes after a job that raised
    while left := [chunk for chunk in cut if chunk.first not in done and chunk.first < until]:
        waiting, lost = _submitted(workers, function, left)
        while not lost and any(chunk.first < until for chunk in waiting.values()):
            told.check_wanted()
            ended, _ = wait(waiting, timeout=LOOK_S, return_when=FIRST_COMPLETED)
            if not ended:
                workers.check_alive()
            for future in ended:
                chunk = waiting.pop(future)
                answer = _answer(workers, future, _named(chunk, name))
                if answer is None:
                    lost = True
                    continue
                done[chunk.first] = answer
                if isinstance(answer[-1], Raised):
                    until = min(until, chunk.first)
                told.results(chunk.jobs, answer)
        if lost:
            under_way = next(chunk for chunk in cut if chunk.first not in done)
            workers.replace_lost(f"{_named(under_way, name)}, or a little later")
    return [result for chunk in cut for result in _without_raised(done[chunk.first], chunk, name)]


def _submitted(
    workers: LocalWorkers | ClusterWorkers,
    function: Callable[[Job], Result],
    left: Sequence[Chunk[Job]],
) -> tuple[dict[Future[Any], Chunk[Job]], bool]:
    """What waits for an answer, and whether a worker died meanwhile."""
    waiting: dict[Future[Any], Chunk[Job]] = {}
    for chunk in left:
        try:
            waiting[workers.submit(run_chunk, function, chunk)] = chunk
        except workers.lost:
            return waiting, True
    return waiting, False


def _answer(
    workers: LocalWorkers | ClusterWorkers, future: Future[Any], jobs: str
) -> list[Any] | None:
    """What a handful gave; None if its worker died."""
    error = _error(future)
    if error is None:
        answer: list[Any] = future.result()
        return answer
    if isinstance(error, workers.lost):
        return None
    if isinstance(workers, ClusterWorkers) and (told := workers.told(error, jobs)):
        raise told from None
    raise error


def _error(future: Future[Any]) -> BaseException | None:
    if future.cancelled():
        from concurrent.futures import CancelledError

        return CancelledError()
    return future.exception()


def _without_raised(
    answer: list[Result | Raised], chunk: Chunk[Job], name: Callable[[Job], str]
) -> list[Result]:
    """The results of a handful.

    Raises:
        Exception: the one that a job raised, with the job named in a note.
    """
    results: list[Result] = []
    for job, result in zip(chunk.jobs, answer, strict=False):
        if isinstance(result, Raised):
            result.error.add_note(f"This happened in the job {name(job)}, in a worker:")
            result.error.add_note(result.trace)
            raise result.error
        results.append(result)
    return results


def _named(chunk: Chunk[Job], name: Callable[[Job], str]) -> str:
    if len(chunk.jobs) == 1:
        return name(chunk.jobs[0])
    return f"{name(chunk.jobs[0])} to {name(chunk.jobs[-1])}"
