"""Several runs of the packer for one task, in this process or in others, with one outcome.

Each run has its own seed and knows nothing of the others, so what comes out does not depend on how
many run at the same time.
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

from clothwise.cutting.placing import Field, Lying, Thing, pack
from clothwise.jobs import interrupts_held

__all__ = ["Race", "raced"]

_WAIT_S = 0.1  # how long cancelling and Ctrl-C may wait

Lyings = tuple[Lying, ...]
_Message = tuple[int, bool, Lyings | None, float]
"""Number of the run, whether it has ended, where things lie, length."""


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
    race: Race,
    *,
    at_once: int,
    told: Callable[[Lyings, float], None],
    ended: Callable[[int], None],
    cancelled: Callable[[], bool],
) -> None:
    """Make the runs; every layout that is found is told of, and the end of each run.

    Args:
        race: what to run.
        at_once: how many processes; with 1 all happens in this one.
        told: of each layout that is shorter than those of its run before, and its length.
        ended: told that so many runs have ended or are not needed any more.
        cancelled: asked often; if true, all runs end.
    """
    if at_once <= 1 or len(race.seeds) == 1:
        _in_this_process(race, told, ended, cancelled)
    else:
        _Runners(race, at_once).run(told, ended, cancelled)


def _in_this_process(
    race: Race,
    told: Callable[[Lyings, float], None],
    ended: Callable[[int], None],
    cancelled: Callable[[], bool],
) -> None:
    for number in range(len(race.seeds)):
        shortest = _run(race, number, told, cancelled)
        if cancelled():
            return
        if shortest <= race.enough_mm:
            ended(len(race.seeds) - number)
            return
        ended(1)


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


def _run_and_say(race: Race, number: int, says: Queue[_Message]) -> None:
    threading.Thread(target=_end_with_parent, daemon=True).start()
    shortest = _run(race, number, lambda lyings, mm: says.put((number, False, lyings, mm)))
    says.put((number, True, None, shortest))


def _end_with_parent() -> None:
    """End this process when the one that started it is gone, however it went."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        connection.wait([parent.sentinel])
        os._exit(1)


class _Runners:
    """Processes of which each makes one run."""

    def __init__(self, race: Race, at_once: int) -> None:
        self._race = race
        self._at_once = at_once
        self._context = multiprocessing.get_context("spawn")
        self._says: Queue[_Message] = self._context.Queue()
        self._running: dict[int, BaseProcess] = {}
        self._waiting = list(range(len(race.seeds)))

    def run(
        self,
        told: Callable[[Lyings, float], None],
        ended: Callable[[int], None],
        cancelled: Callable[[], bool],
    ) -> None:
        """Make all runs; none is left when this returns, whatever was raised."""
        try:
            while not cancelled() and (self._waiting or self._running):
                self._start()
                for number, is_end, lyings, length_mm in self._heard():
                    if lyings is not None:
                        told(lyings, length_mm)
                    if is_end:
                        gone = 1 + self._end_run(number, is_enough=self._is_enough(length_mm))
                        ended(gone)
        finally:
            for process in self._running.values():
                process.kill()
                process.join()
            self._says.cancel_join_thread()
            self._says.close()

    def _is_enough(self, length_mm: float) -> bool:
        return length_mm <= self._race.enough_mm

    def _start(self) -> None:
        while self._waiting and len(self._running) < self._at_once:
            number = self._waiting.pop(0)
            process = self._context.Process(
                target=_run_and_say, args=(self._race, number, self._says), daemon=True
            )
            with interrupts_held():
                process.start()
                self._running[number] = process

    def _heard(self) -> Sequence[_Message]:
        try:
            return [self._says.get(timeout=_WAIT_S)]
        except queue.Empty:
            dead = [number for number, each in self._running.items() if not each.is_alive()]
            return [(number, True, None, float("inf")) for number in dead]

    def _end_run(self, number: int, *, is_enough: bool) -> int:
        """Take a run off; if it found enough, end those after it. Returns how many those are."""
        process = self._running.pop(number, None)
        if process is None:
            return -1
        process.join()
        if not is_enough:
            return 0
        later = [other for other in self._running if other > number]
        for other in later:
            self._running.pop(other).kill()
        gone = len(later) + len(self._waiting)
        self._waiting.clear()
        return gone
