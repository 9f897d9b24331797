"""What a benchmark module writes down, and what the runner does with it.

A module `benchmarks/bench_NAME.py` says its `GROUP` and registers functions:

    GROUP = "first"

    @figure("draft_dress", unit="ms", bar=100)
    def draft_dress() -> float:
        return median_ms(lambda: draft(design, size))

    @rows
    def layouts() -> list[Row]:
        return [Row(name, density, "%", bar=best, better=Better.HIGHER) for ...]

A figure that cannot be measured raises `CannotMeasure` with the reason and counts as short.
"""

from __future__ import annotations

import enum
import statistics
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace


class Better(enum.Enum):
    """Which side of its bar a figure wants to be on; a figure on the bar is fine."""

    LOWER = "lower"
    HIGHER = "higher"


class CannotMeasure(Exception):
    """There is nothing to measure yet, or it failed; the message says why."""


@dataclass(frozen=True)
class Row:
    """One figure. Without a value it was not measured; without a bar it is only recorded."""

    name: str
    value: float | None
    unit: str
    bar: float | None = None
    better: Better = Better.LOWER
    note: str = ""

    @property
    def is_ok(self) -> bool:
        if self.value is None:
            return False
        if self.bar is None:
            return True
        return self.value <= self.bar if self.better is Better.LOWER else self.value >= self.bar

    def line(self, group: str) -> str:
        bar = "none" if self.bar is None else f"{self.bar:g}"
        value = "not measured" if self.value is None else f"{to_shown(self.value)} {self.unit}"
        return f"{group}.{self.name}: {value} (bar: {bar}) {'ok' if self.is_ok else 'short'}"


def to_shown(value: float) -> str:
    """Four significant digits, never with an exponent for what people read.

    >>> to_shown(412.345), to_shown(0.012345), to_shown(1595)
    ('412.3', '0.01234', '1595')
    """
    return f"{value:.4g}" if abs(value) < 10_000 else f"{value:.0f}"


@dataclass(frozen=True)
class Benchmark:
    """A registered function with the rows it promises, so that a failure has names to fall on."""

    name: str
    promised: tuple[Row, ...]
    measure: Callable[[], Iterable[Row]]


_registered: dict[str, list[Benchmark]] = {}


def registered(module: str) -> list[Benchmark]:
    """What the module of that name has registered, in order."""
    return _registered.get(module, [])


def figure(
    name: str, *, unit: str, bar: float | None = None, better: Better = Better.LOWER
) -> Callable[[Callable[[], float]], Callable[[], float]]:
    """Register a function that returns one number."""

    def register(function: Callable[[], float]) -> Callable[[], float]:
        promised = Row(name, None, unit, bar, better)

        def measure() -> Iterator[Row]:
            yield replace(promised, value=function())

        _registered.setdefault(function.__module__, []).append(
            Benchmark(function.__name__, (promised,), measure)
        )
        return function

    return register


def rows(function: Callable[[], Iterable[Row]]) -> Callable[[], Iterable[Row]]:
    """Register a function that returns any number of rows."""
    promised = (Row(function.__name__, None, ""),)
    _registered.setdefault(function.__module__, []).append(
        Benchmark(function.__name__, promised, function)
    )
    return function


def median_ms(call: Callable[[], object], *, runs: int = 9, warm_ups: int = 1) -> float:
    """Median duration of a call in milliseconds, after calls that do not count."""
    for _ in range(warm_ups):
        call()
    return statistics.median(_once_ms(call) for _ in range(runs))


def _once_ms(call: Callable[[], object]) -> float:
    started = time.perf_counter()
    call()
    return (time.perf_counter() - started) * 1000
