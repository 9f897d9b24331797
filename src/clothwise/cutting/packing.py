"""Packs plain polygons into a strip with `spyrrow`, a general-purpose strip packer.

Nothing here knows cloth: shapes, a width, allowed half turns; placements come out. Each run is a
process of its own, because the packer cannot be interrupted; ending the process always works.
"""

from __future__ import annotations

import json
import os
import queue
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path
from typing import Any

from clothwise.cutting.item import XY, Polyline

__all__ = [
    "StripJob",
    "StripOutcome",
    "StripPlaced",
    "StripShape",
    "engine_name",
    "pack_strips",
    "processors",
]

_WORKER = Path(__file__).with_name("_strip_worker.py")
_POLL_S = 0.1  # how long Ctrl-C and cancelling may wait
_GRACE_FACTOR, _GRACE_S = 4.0, 30.0  # a run this far over its budget hangs: it is ended


@dataclass(frozen=True, slots=True)
class StripShape:
    """A polygon to be packed; equal shapes are told to the packer as copies of one.

    Attributes:
        outline: (n, 2), mm, simple.
        may_turn: whether a half turn is allowed.
    """

    outline: Polyline
    may_turn: bool


@dataclass(frozen=True, slots=True)
class StripJob:
    """One run of the packer.

    Attributes:
        shapes: what to pack, by position.
        width_mm: across the strip, the y direction; a shape as wide as this does not fit.
        seconds: whole seconds, at least 1.
        seed: any whole number.
    """

    shapes: tuple[StripShape, ...]
    width_mm: float
    seconds: int
    seed: int


@dataclass(frozen=True, slots=True)
class StripPlaced:
    """Where a shape lies: turned by half if so, about the origin, then moved."""

    half_turn: bool
    translation: XY


@dataclass(frozen=True, slots=True)
class StripOutcome:
    """What became of a job.

    Attributes:
        job: as it was given.
        placed: one for each shape, in their order; empty if the run failed.
        failure: why; empty if it did not.
    """

    job: StripJob
    placed: tuple[StripPlaced, ...]
    failure: str = ""


def engine_name() -> str:
    """Return the packer's name and version, as stored with each layout."""
    return f"spyrrow {version('spyrrow')}"


def processors() -> int:
    """Return how many processors this process may use."""
    try:
        return len(os.sched_getaffinity(0))
    except AttributeError:  # not Linux
        return os.cpu_count() or 1


def pack_strips(
    jobs: Iterable[StripJob],
    *,
    on_outcome: Callable[[StripOutcome], bool],
    on_length: Callable[[StripJob, float], None] = lambda job, length_mm: None,
    cancelled: Callable[[], bool] = lambda: False,
    at_once: int | None = None,
) -> None:
    """Run jobs, several at once, each in its own process; all have ended when this returns.

    `jobs` is drawn from only when a processor is free, so it may be a generator that looks at the
    outcomes so far.

    Args:
        jobs: what to run.
        on_outcome: told of each run that ended; returns whether to go on. If not, the runs that
            are still going are ended, and not told of.
        on_length: told of each shorter packing that a run has found on its way.
        cancelled: asked several times a second; if true, all runs are ended.
        at_once: how many runs at the same time; `processors()` if None.

    Raises:
        Whatever a callback raises, and KeyboardInterrupt, after ending all runs.
    """
    waiting = iter(jobs)
    running: dict[int, _Run] = {}
    messages: queue.Queue[tuple[int, dict[str, Any]]] = queue.Queue()
    limit = at_once or processors()
    number = 0
    try:
        while not cancelled():
            while len(running) < limit and (job := next(waiting, None)) is not None:
                number += 1
                running[number] = _Run(number, job, messages)
            if not running:
                return
            for sender, message in _received(messages, running):
                run = running.get(sender)
                if run is None:
                    continue
                if "length" in message:
                    on_length(run.job, float(message["length"]))
                    continue
                running.pop(sender).end()
                if not on_outcome(_outcome(run.job, message)):
                    return
    finally:
        for run in running.values():
            run.end()


class _Run:
    """A packer at work in its own process, with a thread that hands on what it says."""

    def __init__(
        self, number: int, job: StripJob, messages: queue.Queue[tuple[int, dict[str, Any]]]
    ) -> None:
        self.job = job
        self.deadline = time.monotonic() + job.seconds * _GRACE_FACTOR + _GRACE_S
        self.process = subprocess.Popen(
            [sys.executable, "-P", str(_WORKER)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            encoding="utf-8",
        )
        self.listener = threading.Thread(target=self._listen, args=(number, messages), daemon=True)
        self.listener.start()
        assert self.process.stdin is not None
        with suppress(OSError):  # it died at once: the listener tells
            self.process.stdin.write(json.dumps(_as_message(job)) + "\n")
            self.process.stdin.flush()

    def end(self) -> None:
        """End the process, whatever it is doing, and wait until it has gone."""
        self.process.kill()
        self.process.wait()
        self.listener.join()
        for pipe in (self.process.stdin, self.process.stdout):
            assert pipe is not None
            with suppress(OSError):
                pipe.close()

    def _listen(self, number: int, messages: queue.Queue[tuple[int, dict[str, Any]]]) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            try:
                messages.put((number, json.loads(line)))
            except ValueError:
                break  # killed while it was talking
        messages.put((number, {"failed": "the packer ended without a result"}))


def _received(
    messages: queue.Queue[tuple[int, dict[str, Any]]], running: dict[int, _Run]
) -> Iterator[tuple[int, dict[str, Any]]]:
    """Wait a moment for a message; a run that hangs sends its own failure."""
    with suppress(queue.Empty):
        yield messages.get(timeout=_POLL_S)
    now = time.monotonic()
    for number, run in list(running.items()):
        if now > run.deadline:
            yield number, {"failed": "the packer did not end in time"}


def _as_message(job: StripJob) -> dict[str, Any]:
    shapes = [
        {
            "id": str(numbers[0]),
            "outline": shape.outline,
            "demand": len(numbers),
            "turns_deg": [0.0, 180.0] if shape.may_turn else [0.0],
        }
        for shape, numbers in _copies(job).items()
    ]
    return {"shapes": shapes, "width": job.width_mm, "seconds": job.seconds, "seed": job.seed}


def _copies(job: StripJob) -> dict[StripShape, list[int]]:
    copies: dict[StripShape, list[int]] = {}
    for number, shape in enumerate(job.shapes):
        copies.setdefault(shape, []).append(number)
    return copies


def _outcome(job: StripJob, message: dict[str, Any]) -> StripOutcome:
    if "result" not in message:
        return StripOutcome(job, (), str(message.get("failed", "no answer")))
    left = {str(numbers[0]): list(numbers) for numbers in _copies(job).values()}
    placed: dict[int, StripPlaced] = {}
    for shape_id, turn_deg, x, y in message["result"]["placed"]:
        number = left[shape_id].pop(0)
        placed[number] = StripPlaced(abs(turn_deg % 360 - 180) < 1, (x, y))
    if len(placed) != len(job.shapes):
        return StripOutcome(job, (), f"the packer placed {len(placed)} of {len(job.shapes)}")
    return StripOutcome(job, tuple(placed[n] for n in range(len(job.shapes))))
