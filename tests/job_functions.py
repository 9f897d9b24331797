"""Jobs for the tests of `clothwise.jobs`: importable by name, as other processes need."""

from __future__ import annotations

import os
import signal
import sys
import time
from pathlib import Path

from clothwise.errors import ComponentError, MeasurementError, MeasurementFault
from clothwise.jobs import Packed, run_jobs


def squared(number: int) -> int:
    return number * number


def process_id(_: int) -> int:
    return os.getpid()


def refused(number: int) -> int:
    if number == 5:
        raise ComponentError("no sleeve fits", where="sleeve", how_much="5", what_to_do="Less.")
    return number


def measured(number: int) -> int:
    if number == 5:
        raise MeasurementError([MeasurementFault("waist_girth", "it is missing")], where="five")
    return number


class Unportable(Exception):
    def __init__(self, one: str, other: str) -> None:
        super().__init__(f"{one} and {other}")


def raises_what_cannot_travel(number: int) -> int:
    raise Unportable("this", str(number))


def dies_once(job: tuple[int, str]) -> int:
    """Job 7 ends its process from outside, the first time."""
    number, folder = job
    mark = Path(folder) / "died"
    if number == 7 and not mark.exists():
        mark.touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return number


def dies(_: int) -> int:
    os.kill(os.getpid(), signal.SIGKILL)
    return 0


def notes_itself_and_sleeps(job: tuple[int, str]) -> int:
    number, folder = job
    (Path(folder) / str(os.getpid())).touch()
    time.sleep(60)
    return number


def first_is_slow(number: int) -> int:
    if number == 0:
        time.sleep(2)
    return number


def sum_with(packed: Packed[list[int]], number: int) -> tuple[int, int]:
    """The sum, and which object the packed list is in this process."""
    return sum(packed.value) + number, id(packed.value)


if __name__ == "__main__":  # what a test interrupts, or kills
    run_jobs(notes_itself_and_sleeps, [(n, sys.argv[1]) for n in range(20)], workers=2)
