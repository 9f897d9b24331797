"""The process of a worker: `python -m clothwise.app.work.worker NAME`, started by a lane.

It takes jobs from its standard input, one after the other, and ends with the server. What a
library prints goes to standard error, so that it cannot be taken for a message.
"""

from __future__ import annotations

import importlib
import os
import pickle
import queue
import signal
import sys
import threading
import time
import traceback
from contextlib import suppress
from dataclasses import fields, is_dataclass
from typing import Any, BinaryIO

from clothwise.app.work.errors import JobRefused, WorkerFailed
from clothwise.app.work.lanes import LANES, LaneSettings
from clothwise.app.work.messages import Begun, Do, Done, On, Raised, Stop, read_message
from clothwise.app.work.messages import write_message as write
from clothwise.errors import ClothwiseError

QUIET_S = 0.05
"""Progress without data is told no faster than this; nobody reads faster."""

IDLE_S = 0.05
"""After so long without a job a worker loads what may be wanted later. Short, because at the start
of the app nobody asks until the server is there, a good while after the worker."""


def main(name: str) -> None:
    """Serve jobs until the server is gone."""
    settings = LANES[name]
    source, sink = _own_pipes()
    _restrict(settings)
    worker = _Worker(source, sink)
    threading.Thread(target=worker.listen, daemon=True).start()
    for module in settings.loads:
        _load(module)
    worker.serve(settings.loads_later)


class _Worker:
    """Hears in one thread, works in the main one, speaks from any."""

    def __init__(self, source: BinaryIO, sink: BinaryIO) -> None:
        self._source, self._sink = source, sink
        self._speaking = threading.Lock()
        self._waiting: queue.SimpleQueue[Do] = queue.SimpleQueue()
        self._stopped: set[str] = set()

    def listen(self) -> None:
        """Take messages; end everything when the server is gone."""
        try:
            while True:
                message = read_message(self._source)
                if isinstance(message, Do):
                    self._waiting.put(message)
                elif isinstance(message, Stop):
                    self._stopped.add(message.id)
        except (EOFError, OSError):
            os._exit(0)

    def say(self, message: Any) -> None:
        with self._speaking, suppress(OSError):  # listen() ends us when nobody hears
            write(self._sink, message)

    def serve(self, later: tuple[str, ...]) -> None:
        for module in later:
            while (do := self._next(IDLE_S)) is not None:
                self._work(do)
            _load(module)
        while True:
            self._work(self._waiting.get())

    def _next(self, wait_s: float) -> Do | None:
        try:
            return self._waiting.get(timeout=wait_s)
        except queue.Empty:
            return None

    def _work(self, do: Do) -> None:
        self.say(Begun(do.id))
        try:
            if do.id in self._stopped:
                raise WorkerFailed("nobody wanted this any more when its turn came")
            job = pickle.loads(do.job)
            result = job.run(_Teller(do.id, self.say), lambda: do.id in self._stopped)
            answer: Done | Raised = Done(do.id, pickle.dumps(result, pickle.HIGHEST_PROTOCOL))
        except Exception as error:
            spent = isinstance(error, MemoryError | RecursionError)
            answer = Raised(do.id, pickle.dumps(portable(error)), spent)
        self._stopped.discard(do.id)
        self.say(answer)


class _Teller:
    """What a job calls to say how far it is."""

    def __init__(self, job_id: str, say: Any) -> None:
        self._id, self._say, self._last = job_id, say, 0.0

    def __call__(self, share: float, message: str = "", data: Any = None) -> None:
        now = time.monotonic()
        if data is None and now - self._last < QUIET_S:
            return
        self._last = now
        content = pickle.dumps(data, pickle.HIGHEST_PROTOCOL)
        self._say(On(self._id, min(1.0, max(0.0, share)), message, content))


def portable(error: Exception) -> ClothwiseError:
    """Return an error as something that the server can read without loading the library."""
    if isinstance(error, ClothwiseError):
        if type(error).__module__.startswith("clothwise.app.work."):
            return error
        return JobRefused(
            error.what,
            where=error.where,
            how_much=error.how_much,
            what_to_do=error.what_to_do,
            kind=type(error).__name__,
            faults=tuple(_fields(fault) for fault in getattr(error, "faults", ())),
            text=str(error),
        )
    if isinstance(error, MemoryError):
        return WorkerFailed(
            "this needs more memory than it may take",
            what_to_do="Look at the last number that was changed: it may be far out of proportion.",
        )
    traceback.print_exception(error)  # for the terminal; a page shows the sentence below
    return WorkerFailed(
        "the program has a fault of its own",
        how_much=f"{type(error).__name__}: {error}"[:300],
        what_to_do="Undo the last change and go on; the terminal in which Clothwise runs has the "
        "lines that say where it happened.",
    )


def _fields(fault: Any) -> dict[str, Any]:
    """The fields of a fault, as plain types."""
    if not is_dataclass(fault):
        return {"what": str(fault)}
    plain = (str, int, float, type(None))
    found = {each.name: getattr(fault, each.name) for each in fields(fault)}
    return {
        **{
            name: value if isinstance(value, plain) else str(value) for name, value in found.items()
        },
        "text": str(fault),
    }


def _load(module: str) -> None:
    """Import a module ahead of time; `module:name` also calls a function of it, for what it loads.

    Whatever is wrong with it is said where it is needed.
    """
    path, _, function = module.partition(":")
    try:
        loaded = importlib.import_module(path)
        if function:
            getattr(loaded, function)()
    except Exception as error:
        traceback.print_exception(error)


def _own_pipes() -> tuple[BinaryIO, BinaryIO]:
    """The pipes of messages, out of reach of whatever prints or reads."""
    source = os.fdopen(os.dup(0), "rb")
    sink = os.fdopen(os.dup(1), "wb")
    nothing = os.open(os.devnull, os.O_RDONLY)
    os.dup2(nothing, 0)
    os.close(nothing)
    os.dup2(2, 1)
    return source, sink


def _restrict(settings: LaneSettings) -> None:
    """Give way to others, leave Ctrl-C to the server, and bound the memory where that is known."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if settings.niceness and hasattr(os, "nice"):
        os.nice(settings.niceness)
    try:
        import resource
    except ImportError:
        return
    with suppress(OSError, ValueError):
        _, most = resource.getrlimit(resource.RLIMIT_AS)
        unbounded = most == resource.RLIM_INFINITY
        limit = settings.most_bytes if unbounded else min(most, settings.most_bytes)
        resource.setrlimit(resource.RLIMIT_AS, (limit, most))


if __name__ == "__main__":
    main(sys.argv[1])
