"""How rooms ask workers: `ask` for a result, `follow` for what is told on the way, `cancel`."""

from __future__ import annotations

import asyncio
import atexit
import threading
from collections.abc import AsyncIterator, Callable
from contextlib import suppress
from typing import Any

from clothwise.app.work.job import Job, Told
from clothwise.app.work.lane import Lane, Ticket
from clothwise.app.work.lanes import LANES

_lanes: dict[str, Lane] = {}
_starting = threading.Lock()


async def ask(job: Job) -> Any:
    """Return the result of a job; if the caller is cancelled, so is the job.

    Raises:
        JobRefused: the library refused it, in four parts.
        Superseded, JobCancelled, JobTooLong, WorkerFailed: there is no result.
    """
    ticket = Ticket(job)
    _lane(job.lane).submit(ticket)
    try:
        return await asyncio.wrap_future(ticket.result)
    except asyncio.CancelledError:
        cancel(job.id)
        raise


async def follow(job: Job) -> AsyncIterator[Told]:
    """Yield what a job tells; the last one is the result (`ended`).

    Leaving the loop early cancels the job.

    Raises:
        ClothwiseError: as `ask`.
    """
    loop = asyncio.get_running_loop()
    heard: asyncio.Queue[Told | None] = asyncio.Queue()

    def pass_on(told: Told | None) -> None:
        with suppress(RuntimeError):  # the loop has been closed: nobody listens
            loop.call_soon_threadsafe(heard.put_nowait, told)

    ticket = Ticket(job, pass_on)
    ticket.result.add_done_callback(lambda _: pass_on(None))
    _lane(job.lane).submit(ticket)
    try:
        while (told := await heard.get()) is not None:
            yield told
        yield Told(1.0, data=ticket.result.result(), ended=True)
    finally:
        cancel(job.id)


def begin(
    job: Job,
    told: Callable[[Told], None] = lambda _: None,
    failed: Callable[[BaseException], None] = lambda _: None,
) -> str:
    """Start a job that outlives the request; return its id, for `cancel`.

    Args:
        job: it.
        told: called with each message and at last with the result, from a thread of the worker:
            it must return soon. `publish` of events may be called there.
        failed: called in place of the result, with what `ask` would raise.
    """
    ticket = Ticket(job, told)

    def ended(result: Any) -> None:
        error = result.exception()
        if error is None:
            told(Told(1.0, data=result.result(), ended=True))
        else:
            failed(error)

    ticket.result.add_done_callback(ended)
    _lane(job.lane).submit(ticket)
    return job.id


def cancel(job_id: str) -> None:
    """End a job: it is asked to stop and hand over its best, and ended if it does not."""
    for lane in tuple(_lanes.values()):
        if lane.cancel(job_id):
            return


def start_workers(*names: str) -> None:
    """Start the processes of these workers now, so that the first page need not wait."""
    for name in names or ("draft",):
        _lane(name).start()


def stop_workers() -> None:
    """End all workers and all they do; the next job starts them anew."""
    with _starting:
        lanes = list(_lanes.values())
        _lanes.clear()
    for lane in lanes:
        lane.close()


def worker_ids() -> dict[str, int]:
    """Ids of the processes that run now, by the name of their worker."""
    found = {name: lane.process_id for name, lane in tuple(_lanes.items())}
    return {name: process for name, process in found.items() if process is not None}


def _lane(name: str) -> Lane:
    with _starting:
        if name not in _lanes:
            assert name in LANES
            _lanes[name] = Lane(name)
        return _lanes[name]


atexit.register(stop_workers)
