"""Group `cut`: the packer alone, on open problems of the garment industry.

Two processes search for a number of seconds by the clock, each for itself. The shorter layout of
the two counts, judged by shapely.
Problems and the best lengths that are known are in `tests/data/lay`, with their sources.
"""

from __future__ import annotations

import json
import math
import multiprocessing
import time
from collections.abc import Iterator
from pathlib import Path

from shapely import Polygon
from shapely.affinity import rotate

from clothwise.cutting.placing import Field, Lying, Thing, Way, lying_outline, pack
from clothwise.jobs import usual_workers
from figures import CannotMeasure, Row, rows

GROUP = "cut"

PROBLEMS = ("albano", "dagli", "mao", "shirts", "trousers")
DATA = Path(__file__).resolve().parent.parent / "tests" / "data" / "lay"
WIDTH_MM = 1000.0  # the problems have no unit: each is scaled to this width
BARS = {10: 3.5, 60: 2.0}  # percent over the best known, geometric mean
SEED = 1
ROUNDS = 1_000_000  # more than the time allows
OVERLAP = 1e-6  # of the smaller piece


@rows
def open_problems_soon() -> Iterator[Row]:
    """Percent over the best known length after 10 s, and the geometric mean of all."""
    yield from _open_problems(10)


@rows
def open_problems_late() -> Iterator[Row]:
    """The same after 60 s."""
    yield from _open_problems(60)


def _open_problems(seconds: int) -> Iterator[Row]:
    ratios = []
    for name in PROBLEMS:
        problem = json.loads((DATA / f"{name}.json").read_text(encoding="utf-8"))
        ratio = _raced_mm(name, seconds) / _best_known_mm(problem)
        ratios.append(ratio)
        note = f"seed {SEED}, {usual_workers()} processes"
        yield Row(f"open_{name}_{seconds}s", (ratio - 1) * 100, "%", note=note)
    mean = math.prod(ratios) ** (1 / len(ratios))
    yield Row(f"open_mean_{seconds}s", (mean - 1) * 100, "%", BARS[seconds], note="geometric")


def _best_known_mm(problem: dict[str, dict[str, float]]) -> float:
    return problem["best_known"]["length"] * _scale(problem)


def _scale(problem: dict[str, object]) -> float:
    return WIDTH_MM / float(str(problem["strip_width_used"]))


def _things(name: str) -> tuple[Thing, ...]:
    problem = json.loads((DATA / f"{name}.json").read_text(encoding="utf-8"))
    scale = _scale(problem)
    found = []
    for shape in problem["items"]:
        outline = Polygon([(x * scale, y * scale) for x, y in shape["outline"]])
        ways = tuple(_way(rotate(outline, turn, origin=(0, 0))) for turn in shape["rotations_deg"])
        found += [Thing(f"{shape['id']}.{copy}", ways) for copy in range(shape["demand"])]
    return tuple(found)


def _way(outline: Polygon) -> Way:
    points = [(float(x), float(y)) for x, y in outline.exterior.coords[:-1]]
    return Way(tuple(points if outline.exterior.is_ccw else points[::-1]))


Found = tuple[tuple[Lying, ...], float]
"""Where things lie, and the length."""


def _raced_mm(name: str, seconds: float) -> float:
    """The shortest valid length that the processes found in the time."""
    until = time.time() + seconds
    jobs = [(name, SEED + 1000 * worker, until) for worker in range(usual_workers())]
    with multiprocessing.get_context("spawn").Pool(usual_workers()) as pool:
        best = min(pool.starmap(_search, jobs), key=lambda each: each[1])
    _judge(name, *best)
    return best[1]


def _search(name: str, seed: int, until: float) -> Found:
    best: Found = ((), math.inf)

    def told(lyings: tuple[Lying, ...], length_mm: float) -> None:
        nonlocal best
        best = lyings, length_mm

    pack(
        _things(name),
        Field(WIDTH_MM),
        rounds=ROUNDS,
        seed=seed,
        told=told,
        cancelled=lambda: time.time() > until,
    )
    return best


def _judge(name: str, lyings: tuple[Lying, ...], length_mm: float) -> None:
    things = _things(name)
    shapes = [Polygon(lying_outline(*each)) for each in zip(things, lyings, strict=True)]
    for number, one in enumerate(shapes):
        left, low, right, high = one.bounds
        outside = max(-left, -low, high - WIDTH_MM, right - length_mm)
        shared = max((one.intersection(other).area for other in shapes[:number]), default=0.0)
        if outside > 1e-3 or shared > OVERLAP * one.area:
            raise CannotMeasure(f"the layout of {name} is not valid")
