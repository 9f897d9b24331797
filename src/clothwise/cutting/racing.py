"""Several runs of the packer for some tasks, in this process or in others, with one outcome.

Each run has its own seed and knows nothing of the others, and which runs count does not depend on
which ends first. So what comes out does not depend on how many run at the same time.
"""

from __future__ import annotations

import multiprocessing
import os
import queue
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from multiprocessing import connection
from multiprocessing.process import BaseProcess
from multiprocessing.queues import Queue
from typing import NamedTuple

from clothwise.cutting.placing import Field, Lying, Thing, pack
from clothwise.jobs import interrupts_held

__all__ = ["Race", "Run", "raced"]

_WAIT_S = 0.1  # how long cancelling and Ctrl-C may wait

Lyings = tuple[Lying, ...]


class Run(NamedTuple):
    """One run: the number of its race, and its own within that."""

    race: int
    number: int


_Message = tuple[Run, bool, Lyings | None, float]
"""The run, whether it has ended, where things lie, length."""


@dataclass(frozen=True)
class Race:
    """What is packed, by each run.

    Attributes:
        things, field: the task.
        rounds: how much each run searches.
        seeds: one for each run.
        enough_mm: a run that gets no longer than this ends, and later ones need not be run.
    """

    things: tuple[Thing, ...]
    field: Field
    rounds: int
    seeds: tuple[int, ...]
    enough_mm: float


def raced(
    races: Sequence[Race],
    *,
    at_once: int,
    told: Callable[[Run, Lyings], None],
    ended: Callable[[int, int], None],
    cancelled: Callable[[], bool],
) -> tuple[int, ...]:
    """Make the runs; every layout that is found is told of, and the end of each run.

    Args:
        races: what to run.
        at_once: how many processes; with 1 all happens in this one.
        told: of each layout that is shorter than those of its run before.
        ended: told that so many runs of a race have ended or are not needed any more.
        cancelled: asked often; if true, all runs end.

    Returns:
        For each race how many of its runs count, from the first on. What later ones told of is to
        be forgotten: an earlier run has found enough, so that they were not needed.
    """
    if at_once <= 1 or sum(len(race.seeds) for race in races) == 1:
        return _in_this_process(races, told, ended, cancelled)
    return _Runners(races, at_once).run(told, ended, cancelled)


def _in_this_process(
    races: Sequence[Race],
    told: Callable[[Run, Lyings], None],
    ended: Callable[[int, int], None],
    cancelled: Callable[[], bool],
) -> tuple[int, ...]:
    counts = [len(race.seeds) for race in races]
    for at, race in enumerate(races):
        for number in range(len(race.seeds)):
            shortest = _run(race, number, _tells(told, Run(at, number)), cancelled)
            if cancelled():
                return tuple(counts)
            if shortest <= race.enough_mm:
                ended(at, len(race.seeds) - number)
                counts[at] = number + 1
                break
            ended(at, 1)
    return tuple(counts)


def _tells(told: Callable[[Run, Lyings], None], run: Run) -> Callable[[Lyings, float], None]:
    return lambda lyings, _: told(run, lyings)


def _run(
    race: Race,
    number: int,
    told: Callable[[Lyings, float], None],
    cancelled: Callable[[], bool] = lambda: False,
) -> float:
    """One run; the shortest length it found."""
    shortest = float("inf")

    def take(lyings: Lyings, length_mm: float) -> None:
        nonlocal shortest
        shortest = min(shortest, length_mm)
        told(lyings, length_mm)

    pack(
        race.things,
        race.field,
        rounds=race.rounds,
        seed=race.seeds[number],
        told=take,
        cancelled=cancelled,
        enough_mm=race.enough_mm,
    )
    return shortest


def _run_and_say(race: Race, run: Run, says: Queue[_Message]) -> None:
    threading.Thread(target=_end_with_parent, daemon=True).start()
    shortest = _run(race, run.number, lambda lyings, mm: says.put((run, False, lyings, mm)))
    says.put((run, True, None, shortest))


def _end_with_parent() -> None:
    """End this process when the one that started it is gone, however it went."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        connection.wait([parent.sentinel])
        os._exit(1)


class _Runners:
    """Processes of which each makes one run."""

    def __init__(self, races: Sequence[Race], at_once: int) -> None:
        self._races = races
        self._at_once = at_once
        self._context = multiprocessing.get_context("spawn")
        self._says: Queue[_Message] = self._context.Queue()
        self._running: dict[Run, BaseProcess] = {}
        self._waiting = [
            Run(at, number) for at, race in enumerate(races) for number in range(len(race.seeds))
        ]
        self._counts = [len(race.seeds) for race in races]

    def run(
        self,
        told: Callable[[Run, Lyings], None],
        ended: Callable[[int, int], None],
        cancelled: Callable[[], bool],
    ) -> tuple[int, ...]:
        """Make all runs; none is left when this returns, whatever was raised."""
        try:
            while not cancelled() and (self._waiting or self._running):
                self._start()
                for run, is_end, lyings, length_mm in self._heard():
                    if lyings is not None:
                        told(run, lyings)
                    if is_end:
                        is_enough = length_mm <= self._races[run.race].enough_mm
                        ended(run.race, 1 + self._end_run(run, is_enough=is_enough))
        finally:
            for process in self._running.values():
                process.kill()
                process.join()
            self._says.cancel_join_thread()
            self._says.close()
        return tuple(self._counts)

    def _start(self) -> None:
        while self._waiting and len(self._running) < self._at_once:
            run = self._waiting.pop(0)
            process = self._context.Process(
                target=_run_and_say, args=(self._races[run.race], run, self._says), daemon=True
            )
            with interrupts_held():
                process.start()
                self._running[run] = process

    def _heard(self) -> Sequence[_Message]:
        try:
            return [self._says.get(timeout=_WAIT_S)]
        except queue.Empty:
            dead = [run for run, each in self._running.items() if not each.is_alive()]
            return [(run, True, None, float("inf")) for run in dead]

    def _end_run(self, run: Run, *, is_enough: bool) -> int:
        """Take a run off; if it found enough, end those after it. Returns how many those are."""
        process = self._running.pop(run, None)
        if process is None:
            return -1
        process.join()
        if not is_enough:
            return 0
        self._counts[run.race] = min(self._counts[run.race], run.number + 1)
        later = [each for each in self._running if _comes_after(each, run)]
        for each in later:
            self._running.pop(each).kill()
        gone = len(later) + sum(_comes_after(each, run) for each in self._waiting)
        self._waiting = [each for each in self._waiting if not _comes_after(each, run)]
        return gone


def _comes_after(other: Run, run: Run) -> bool:
    """Whether it is a later run of the same race."""
    return other.race == run.race and other.number > run.number
