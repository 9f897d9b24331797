"""Jobs for the tests of `clothwise.app.work`: importable by name, as a worker needs."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, ClassVar

from clothwise.app.work import Job, Tell
from clothwise.app.work.job import Worker
from clothwise.errors import ComponentError, DocumentError, Fault


@dataclass(frozen=True)
class Squared(Job):
    number: int
    name: str = ""

    @property
    def key(self) -> str:
        return self.name

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> tuple[int, int]:
        return self.number**2, os.getpid()


@dataclass(frozen=True)
class Slow(Job):
    """Works for so long, tells each tenth, and stops when asked if it is polite."""

    seconds: float
    name: str = ""
    is_polite: bool = True

    @property
    def key(self) -> str:
        return self.name

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> str:
        began = time.monotonic()
        tenth = 0
        while (gone := time.monotonic() - began) < self.seconds:
            if self.is_polite and cancelled():
                return f"the best after {tenth}"
            if gone > self.seconds * tenth / 10:
                told(tenth / 10, f"tenth {tenth}", tenth)
                tenth += 1
            time.sleep(0.005)
        return "all of it"


@dataclass(frozen=True)
class SlowBehind(Slow):
    worker: ClassVar[Worker] = "back"


@dataclass(frozen=True)
class SlowSearch(Slow):
    worker: ClassVar[Worker] = "long"


@dataclass(frozen=True)
class Quick(Job):
    """Done at once, and not allowed to take long; the latest one is wanted."""

    number: int
    limit_s: ClassVar[float | None] = 0.5
    worker: ClassVar[Worker] = "back"

    @property
    def key(self) -> str:
        return "quick"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> int:
        return os.getpid()


@dataclass(frozen=True)
class Errand(Job):
    """What somebody waits for, unless it is as long as a search."""

    worker: ClassVar[Worker] = "soon"

    is_long: bool = False

    @property
    def lane(self) -> Worker:
        return "long" if self.is_long else "soon"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> int:
        return os.nice(0)


@dataclass(frozen=True)
class Hanging(Job):
    """Never ends and never asks."""

    limit_s: ClassVar[float | None] = 0.5

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> None:
        while True:
            pass


@dataclass(frozen=True)
class Greedy(Job):
    def run(self, told: Tell, cancelled: Callable[[], bool]) -> int:
        return len(bytearray(1 << 40))


@dataclass(frozen=True)
class Dying(Job):
    def run(self, told: Tell, cancelled: Callable[[], bool]) -> None:
        os._exit(9)


@dataclass(frozen=True)
class Refused(Job):
    def run(self, told: Tell, cancelled: Callable[[], bool]) -> None:
        raise ComponentError("no sleeve fits", where="sleeve", how_much="5", what_to_do="Less.")


@dataclass(frozen=True)
class Faulty(Job):
    def run(self, told: Tell, cancelled: Callable[[], bool]) -> None:
        raise DocumentError([Fault("a.yaml", 3, "$.x", "no"), Fault("a.yaml", 4, "$.y", "nor")])


@dataclass(frozen=True)
class Broken(Job):
    def run(self, told: Tell, cancelled: Callable[[], bool]) -> None:
        raise KeyError("a fault of our own")


@dataclass(frozen=True)
class Printing(Job):
    """Libraries print; that must not be taken for a message."""

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> str:
        print("x" * 100)
        os.write(1, b"y" * 100)
        return "printed"


@dataclass(frozen=True)
class Surroundings(Job):
    def run(self, told: Tell, cancelled: Callable[[], bool]) -> dict[str, Any]:
        import sys

        return {
            "blas": os.environ.get("OPENBLAS_NUM_THREADS"),
            "nice": os.nice(0),
            "cutting": "clothwise.cutting" in sys.modules,
            "web": "starlette" in sys.modules,
        }


@dataclass(frozen=True)
class SurroundingsBehind(Surroundings):
    worker: ClassVar[Worker] = "back"
