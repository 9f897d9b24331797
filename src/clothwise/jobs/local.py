"""Worker processes on this machine: they ignore Ctrl-C, which is ours, and never outlive us."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from typing import Any

from clothwise.jobs.errors import JobsError
from clothwise.jobs.interrupts import interrupts_held

MOST_WORKERS = 60
"""One platform cannot wait for more than 61 processes at once."""

MOST_DEATHS = 2
"""So often all unfinished work is given to new workers after one has died; our own choice."""


class LocalWorkers:
    """Processes that take jobs; a context manager that leaves none behind."""

    lost: tuple[type[BaseException], ...] = (BrokenProcessPool,)

    def __init__(self, count: int) -> None:
        self._count = min(count, MOST_WORKERS)
        self._deaths = 0
        self._pool = self._new_pool()

    def _new_pool(self) -> ProcessPoolExecutor:
        # "spawn" is what every platform can do, and safe whatever threads we have.
        context = multiprocessing.get_context("spawn")
        return ProcessPoolExecutor(self._count, context, initializer=_start_worker)

    def __enter__(self) -> LocalWorkers:
        return self

    def __exit__(self, kind: type[BaseException] | None, *_: object) -> None:
        if kind is None:
            self._pool.shutdown()
        else:
            _end_at_once(self._pool)

    def submit(self, function: Callable[..., Any], *arguments: Any) -> Future[Any]:
        """Give work to the next worker that is free."""
        with interrupts_held():
            return self._pool.submit(function, *arguments)

    def replace_lost(self, jobs: str) -> None:
        """Start new workers after one has died.

        Raises:
            JobsError: they die again and again.
        """
        self._deaths += 1
        _end_at_once(self._pool)
        if self._deaths > MOST_DEATHS:
            raise JobsError(
                "worker processes were ended from outside, again and again",
                where=jobs,
                how_much=f"{self._deaths} times",
                what_to_do="Often memory has run out: use fewer workers, or close other programs. "
                "One worker does everything in the program's own process.",
            )
        self._pool = self._new_pool()

    def check_alive(self) -> None:
        """Nothing to ask: a local process that dies is noticed by itself."""


def _start_worker() -> None:
    """Runs first in each worker."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    """A worker whose parent was killed would wait for work for ever."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _end_at_once(pool: ProcessPoolExecutor) -> None:
    # From Python 3.14 on there is `kill_workers`; before, nothing public ends a busy worker.
    processes = list((pool._processes or {}).values())
    for process in processes:
        process.kill()
    pool.shutdown(wait=True, cancel_futures=True)
    for process in processes:
        process.join()
