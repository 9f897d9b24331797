"""Jobs waiting for one worker: one runs, the latest of each key waits, any can be cancelled."""

from __future__ import annotations

import pickle
import threading
from collections.abc import Callable
from concurrent.futures import Future, InvalidStateError
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any

from clothwise.app.work.errors import JobCancelled, JobTooLong, Superseded, WorkerFailed
from clothwise.app.work.job import Job, Told
from clothwise.app.work.lanes import LANES
from clothwise.app.work.messages import Begun, Do, Done, On, Raised, Stop
from clothwise.app.work.process import WorkerProcess
from clothwise.errors import ClothwiseError

GRACE_S = 1.5
"""So long a job that was cancelled may take to hand over the best there is; our own choice."""


@dataclass
class Ticket:
    """A job, who hears of it, and what becomes of it."""

    job: Job
    told: Callable[[Told], None] = lambda _: None
    result: Future[Any] = field(default_factory=Future)
    joined: list[Ticket] = field(default_factory=list)  # of equal jobs, which get the same result
    ending: ClothwiseError | None = None  # why its worker is being ended, if it is
    is_begun: bool = False  # before, its worker still loads what it needs: no time is counted

    def tell(self, told: Told) -> None:
        """Pass on how far it is."""
        for each in (self, *self.joined):
            if not each.result.done():
                each.told(told)

    def succeed(self, value: Any) -> None:
        """Hand over the result to whoever still waits."""
        for each in (self, *self.joined):
            with suppress(InvalidStateError):
                each.result.set_result(value)

    def fail(self, error: ClothwiseError) -> None:
        """Say why there is no result to whoever still waits."""
        for each in (self, *self.joined):
            with suppress(InvalidStateError):
                each.result.set_exception(error)

    def leave(self, job_id: str, error: ClothwiseError) -> bool:
        """End the waiting of one of several; tell whether others still wait."""
        for each in (self, *self.joined):
            if each.job.id == job_id:
                with suppress(InvalidStateError):
                    each.result.set_exception(error)
        return any(not each.result.done() for each in (self, *self.joined))

    def holds(self, job_id: str) -> bool:
        """Whether it is this job, or one that joined it."""
        return any(each.job.id == job_id for each in (self, *self.joined))


class Lane:
    """The jobs of one worker. All methods may be called from any thread."""

    def __init__(self, name: str) -> None:
        self._name, self._settings = name, LANES[name]
        self._lock = threading.RLock()
        self._waiting: list[Ticket] = []
        self._running: Ticket | None = None
        self._process: WorkerProcess | None = None
        self._timers: list[threading.Timer] = []
        self._resting: threading.Timer | None = None  # until a process without work is ended
        self._closed = False

    def start(self) -> None:
        """Start the process if it does not run, so that the first job need not wait for it."""
        with self._lock:
            if self._process is None and not self._closed:
                self._process = WorkerProcess(self._name, self._heard, self._gone)

    def submit(self, ticket: Ticket) -> None:
        """Take a job; older ones of the same key that still wait give way.

        A job equal to one that waits or runs is not done twice.
        """
        with self._lock:
            running = [self._running] if self._running else []
            for other in (*self._waiting, *running):
                if other.ending is None and other.job == ticket.job:
                    other.joined.append(ticket)
                    return
            if key := ticket.job.key:
                self._supersede(key)
            self._waiting.append(ticket)
            self._go_on()

    def cancel(self, job_id: str) -> bool:
        """End a job, by asking first; tell whether it was known here."""
        with self._lock:
            running = [self._running] if self._running else []
            ticket = next((each for each in (*self._waiting, *running) if each.holds(job_id)), None)
            if ticket is None:
                return False
            if ticket.joined and ticket.leave(job_id, _cancelled()):
                return True  # others still wait for it
            if ticket is self._running:
                self._stop(ticket, _cancelled())
            else:
                self._waiting.remove(ticket)
                ticket.fail(_cancelled())
            return True

    def close(self) -> None:
        """End everything, for good."""
        with self._lock:
            self._closed = True
            process, self._process = self._process, None
            tickets, self._waiting = self._waiting, []
            if self._running is not None:
                tickets.append(self._running)
                self._running = None
            self._end_timers()
            self._stay()
        if process is not None:
            process.end()
        for ticket in tickets:
            ticket.fail(_cancelled())

    @property
    def process_id(self) -> int | None:
        """Of the process that runs now."""
        with self._lock:
            return None if self._process is None else self._process.id

    def _supersede(self, key: str) -> None:
        for ticket in [each for each in self._waiting if each.job.key == key]:
            self._waiting.remove(ticket)
            ticket.fail(_superseded())
        running = self._running
        if running is not None and running.job.key == key and self._settings.ends_running:
            self._stop(running, _superseded())

    def _stop(self, ticket: Ticket, why: ClothwiseError) -> None:
        if ticket.ending is not None or self._process is None:
            return
        ticket.ending = why
        self._process.send(Stop(ticket.job.id))
        if ticket.is_begun:
            self._after(GRACE_S, ticket)
        else:
            ticket.fail(why)  # its process is not ended for that: the next would load all anew

    def _go_on(self) -> None:
        """Give the next job to the worker if it is free."""
        if self._running is not None or self._closed:
            return
        self._stay()
        if not self._waiting:
            self._rest()
            return
        self.start()
        assert self._process is not None
        ticket = self._waiting.pop(0)
        try:
            content = pickle.dumps(ticket.job, pickle.HIGHEST_PROTOCOL)
        except Exception as error:
            ticket.fail(WorkerFailed("a job cannot be sent to a worker", how_much=str(error)))
            self._go_on()
            return
        self._running = ticket
        self._process.send(Do(ticket.job.id, content))

    def _rest(self) -> None:
        """Without work: give the memory of the process back after a while."""
        process, wait_s = self._process, self._settings.rests_after_s
        if process is None or wait_s is None:
            return

        def end() -> None:
            with self._lock:
                if self._process is process and self._running is None:
                    self._process = None
                    process.kill()

        self._resting = threading.Timer(wait_s, end)
        self._resting.daemon = True
        self._resting.start()

    def _stay(self) -> None:
        if self._resting is not None:
            self._resting.cancel()
            self._resting = None

    def _after(self, wait_s: float, ticket: Ticket) -> None:
        timer = threading.Timer(wait_s, self._end, [ticket, wait_s])
        timer.daemon = True
        self._timers.append(timer)
        timer.start()

    def _end(self, ticket: Ticket, waited_s: float) -> None:
        """End the worker of a job that has had its time."""
        with self._lock:
            if self._running is not ticket or self._process is None:
                return
            ticket.ending = ticket.ending or _too_long(waited_s)
            self._process.kill()

    def _end_timers(self) -> None:
        for timer in self._timers:
            timer.cancel()
        self._timers = []

    def _heard(self, process: WorkerProcess, message: Any) -> None:
        ticket = self._ticket_of(process, message)
        if ticket is None:
            return
        if isinstance(message, Begun):
            self._begin(ticket)
            return
        if isinstance(message, On):
            ticket.tell(Told(message.share, message.message, pickle.loads(message.data)))
            return
        with self._lock:
            self._running = None
            self._end_timers()
            if isinstance(message, Raised) and message.spent:
                self._process = None
                process.kill()
            self._go_on()
        if isinstance(message, Done):
            if isinstance(ticket.ending, Superseded):
                ticket.fail(ticket.ending)
            else:
                ticket.succeed(pickle.loads(message.result))
        elif isinstance(message, Raised):
            ticket.fail(ticket.ending or pickle.loads(message.error))

    def _begin(self, ticket: Ticket) -> None:
        with self._lock:
            if self._running is not ticket:
                return
            ticket.is_begun = True
            self._after(
                GRACE_S if ticket.ending else ticket.job.limit_s or self._settings.limit_s, ticket
            )

    def _ticket_of(self, process: WorkerProcess, message: Any) -> Ticket | None:
        if not isinstance(message, Begun | On | Done | Raised):
            return None
        with self._lock:
            ticket = self._running
            known = process is self._process and ticket is not None
            return ticket if known and ticket and ticket.job.id == message.id else None

    def _gone(self, process: WorkerProcess) -> None:
        """Its process has ended: tell why, and go on with another one."""
        with self._lock:
            if process is not self._process:
                return
            self._process = None
            ticket, self._running = self._running, None
            self._end_timers()
            self._go_on()
        if ticket is not None:
            ticket.fail(ticket.ending or _died())


def _cancelled() -> JobCancelled:
    return JobCancelled("this was cancelled", what_to_do="Start it again when you are ready.")


def _superseded() -> Superseded:
    return Superseded("a newer change took the place of this one")


def _too_long(limit_s: float) -> JobTooLong:
    return JobTooLong(
        "this takes longer than it may",
        how_much=f"ended after {limit_s:g} s",
        what_to_do="Look at the last number that was changed: it may be far out of proportion. "
        "Undo brings the one before back.",
    )


def _died() -> WorkerFailed:
    return WorkerFailed(
        "the process that worked on this ended before it was done",
        what_to_do="Try again. If it happens again, memory may be short: close other programs.",
    )
