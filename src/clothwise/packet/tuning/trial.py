"""Tries a make with other values: is it sound, and how much cloth does it take.

Every layout is searched anew, never taken from those that are kept: what is kept may have been
searched longer for one of the two that are compared.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from itertools import islice, product
from typing import TypeAlias

from clothwise.components import MakeFile
from clothwise.cutting import Effort, Layout, Progress
from clothwise.cutting.keeping import Searching, search_layout
from clothwise.cutting.question import LayoutQuestion
from clothwise.cutting.search import LayoutCancelled
from clothwise.cutting.shrinkage import before_washing_mm
from clothwise.errors import (
    ComponentError,
    CuttingError,
    DocumentError,
    GeometryError,
    MeasurementError,
    Misuse,
)
from clothwise.jobs import JobsCancelled, run_jobs
from clothwise.packet.making import ClothPlan, Making
from clothwise.packet.tuning.dimension import MOST_WAYS, Dimension, Point, make_at
from clothwise.pattern import Severity
from clothwise.pattern.document import FabricEntry

__all__ = [
    "ClothTried",
    "Goal",
    "Measure",
    "Trial",
    "Trier",
    "measure_for",
    "questions_of",
    "split_idle",
]

_CANNOT_BE_MADE = (
    ComponentError,
    CuttingError,
    DocumentError,
    GeometryError,
    MeasurementError,
    Misuse,
)


_Key: TypeAlias = tuple[str, int]
"""Digest of a question, and seed."""
_Job: TypeAlias = tuple[LayoutQuestion, Effort, int]
"""A question, how long it is searched, and seed."""


class Goal(Enum):
    """What is to become less."""

    COST = "cost"
    """Of all cloths together, before rounding to what shops sell."""
    AREA = "area"
    """Of all cloths together, as bought; where a price is missing or currencies differ."""
    LENGTH = "length"
    """Of one cloth."""


@dataclass(frozen=True)
class Measure:
    """How lengths of cloth add up to one figure.

    Attributes:
        goal: what it is.
        weights: of a millimeter of each fabric as bought.
        fabric: of which the length counts; empty for the other goals.
        currency: of a cost.
    """

    goal: Goal
    weights: Mapping[str, float]
    fabric: str = ""
    currency: str = ""


@dataclass(frozen=True)
class ClothTried:
    """One fabric of a make that was tried.

    Attributes:
        entry: the fabric.
        plans: one for each seed.
        shapes: digest of all that the layouts depend on.
    """

    entry: FabricEntry
    plans: tuple[ClothPlan, ...]
    shapes: str

    @property
    def title(self) -> str:
        """What the fabric is called."""
        return self.entry.title or self.entry.name

    @property
    def layouts(self) -> tuple[Layout, ...]:
        """One for each seed."""
        return tuple(plan.layout for plan in self.plans)

    @property
    def buy_mm(self) -> tuple[float, ...]:
        """What each layout takes of cloth as bought, before it is rounded."""
        return tuple(plan.requirement.buy_length_mm for plan in self.plans)

    @property
    def best(self) -> ClothPlan:
        """The shortest; of equal ones the first."""
        return min(self.plans, key=lambda plan: plan.layout.length_mm)

    @property
    def pieces_mm(self) -> float:
        """Length of cloth as wide as it is usable, as bought, with the area of the pieces alone."""
        layout = self.plans[0].layout
        bare_mm = layout.piece_area_mm2 / layout.fabric.washed_width_mm
        return before_washing_mm(bare_mm, layout.fabric.shrinkage_along)


@dataclass(frozen=True)
class Trial:
    """A make with certain values, tried.

    Attributes:
        point: the values.
        file: the make.
        cloths: by fabric; empty if it cannot be made.
        refused: why it cannot be made; empty if it can.
    """

    point: Point
    file: MakeFile
    cloths: Mapping[str, ClothTried]
    refused: str = ""

    def values(self, measure: Measure) -> tuple[float, ...]:
        """The figure of each seed; infinite if it cannot be made."""
        if self.refused:
            return (math.inf,)
        lengths = {name: cloth.buy_mm for name, cloth in self.cloths.items()}
        seeds = min(len(each) for each in lengths.values())
        return tuple(
            sum(measure.weights[name] * each[seed] for name, each in lengths.items())
            for seed in range(seeds)
        )


def measure_for(file: MakeFile, fabric: str = "") -> Measure:
    """Return what a search is to lower: the length of one fabric, else cost, else area.

    Raises:
        Misuse: the make has no such fabric.
    """
    entries = file.make.fabrics
    if fabric:
        file.make.fabric(fabric)
        weights = {entry.name: float(entry.name == fabric) for entry in entries}
        return Measure(Goal.LENGTH, weights, fabric)
    prices = {entry.name: entry.stated_price for entry in entries}
    currencies = {price.currency if price else None for price in prices.values()}
    if len(currencies) == 1 and None not in currencies:
        weights = {name: price.per_meter / 1000 for name, price in prices.items() if price}
        if any(weights.values()):
            return Measure(Goal.COST, weights, currency=currencies.pop() or "")
    return Measure(Goal.AREA, {entry.name: entry.width_mm for entry in entries})


def split_idle(
    file: MakeFile, dimensions: Sequence[Dimension]
) -> tuple[tuple[Dimension, ...], tuple[str, ...]]:
    """Return what changes a piece of the make when it is changed, and the titles of the rest.

    What changes a piece only where an option is chosen otherwise, as limits allow, counts too.

    Raises:
        DocumentError, ComponentError, MeasurementError: the make as it is cannot be drafted.
    """
    options = [dimension for dimension in dimensions if dimension.is_choice]
    ways = product(*(range(dimension.size) for dimension in options))
    files = [file, *(make_at(file, options, way) for way in islice(ways, MOST_WAYS))]
    working, idle = [], []
    for dimension in dimensions:
        if any(
            _does_something(each, dimension) for each in files[: 1 if dimension.is_choice else None]
        ):
            working.append(dimension)
        else:
            idle.append(dimension.title)
    return tuple(working), tuple(idle)


def _does_something(file: MakeFile, dimension: Dimension) -> bool:
    try:
        trier = Trier(file, [dimension], Effort(0, 1))
        return not all(trier.changes_nothing((end,)) for end in dimension.ends)
    except Misuse:
        return False  # these choices contradict each other


class Trier:
    """Tries makes; each question is searched once for each seed.

    Args:
        file: the make as it is.
        dimensions: what is turned.
        effort: of each layout.
        workers: processes that search layouts where several are wanted at once. What is found does
            not depend on it.
        progress: told of layouts that are searched in this process, in words.
        cancelled: asked several times a second.
    """

    def __init__(
        self,
        file: MakeFile,
        dimensions: Sequence[Dimension],
        effort: Effort,
        *,
        workers: int = 1,
        progress: Callable[[str], None] | None = None,
        cancelled: Callable[[], bool] | None = None,
    ) -> None:
        self.file = file
        self.dimensions = tuple(dimensions)
        self.effort = effort
        self._workers = workers
        self._progress = progress
        self._cancelled = cancelled
        self._layouts: dict[_Key, Layout | str] = {}
        self._sound: dict[Point, Making | str] = {}
        self._questions: dict[Point, dict[str, LayoutQuestion]] = {}
        self._known_errors = frozenset(_errors(Making(file)))

    def prepare(
        self,
        points: Sequence[Point],
        seeds: Sequence[int],
        measure: Measure | None = None,
        *,
        progress: Callable[[int, int], None] | None = None,
    ) -> None:
        """Search the layouts that some trials will need, with all workers at once.

        Args:
            points, seeds, measure: of the trials.
            progress: told how many of how many layouts are there.

        Raises:
            LayoutCancelled: the caller wants no more.
        """
        if self._workers < 2 or self.effort.seconds < 1:
            return
        wanted: dict[_Key, _Job] = {}
        for point in points:
            try:
                questions = self._wanted(point, measure).values()
            except _CANNOT_BE_MADE:
                continue  # its trial tells why
            for question, seed in product(questions, seeds):
                key = (question.digest, seed)
                if key not in self._layouts:
                    wanted.setdefault(key, (question, self.effort, seed))
        if len(wanted) < 2:
            return
        try:
            run_jobs(
                _laid,
                wanted.values(),
                workers=min(self._workers, len(wanted)),
                name=lambda job: f"layout of {job[0].fabric.name}",
                progress=None if progress is None else lambda now: progress(now.done, now.total),
                each=self._take,
                handful=1,
                cancelled=self._cancelled,
            )
        except JobsCancelled as error:
            raise LayoutCancelled("the search for layouts was cancelled") from error

    def trial(self, point: Point, seeds: Sequence[int], measure: Measure | None = None) -> Trial:
        """Try the make with these values, with a layout of every fabric for each seed.

        Args:
            point: the values.
            seeds: of the layouts.
            measure: if given, fabrics that do not count in it are left out.

        Raises:
            LayoutCancelled: the caller wants no more.
            Misuse, DocumentError, CuttingError: the make as it is cannot be tried.
        """
        making = self._making(point)
        if isinstance(making, str):
            return Trial(point, make_at(self.file, self.dimensions, point), {}, making)
        try:
            cloths = {
                name: self._cloth(making, name, question, seeds)
                for name, question in self._wanted(point, measure).items()
            }
        except LayoutCancelled:
            raise
        except _CANNOT_BE_MADE as error:
            if self._is_start(point):
                raise
            return Trial(point, making.file, {}, _reason(error))
        return Trial(point, making.file, cloths)

    def changes_nothing(self, point: Point) -> bool:
        """Tell whether every piece comes out as it is now."""
        here, there = self._making(self._start), self._making(point)
        if isinstance(here, str) or isinstance(there, str):
            return False
        return _digests(here) == _digests(there)

    @property
    def _start(self) -> Point:
        return tuple(dimension.start for dimension in self.dimensions)

    def _is_start(self, point: Point) -> bool:
        return point == self._start

    def _making(self, point: Point) -> Making | str:
        if point not in self._sound:
            self._sound[point] = self._drafted(point)
        return self._sound[point]

    def _drafted(self, point: Point) -> Making | str:
        making = Making(make_at(self.file, self.dimensions, point))
        try:
            more = [each for each in _errors(making) if each not in self._known_errors]
        except _CANNOT_BE_MADE as error:
            if self._is_start(point):
                raise
            return _reason(error)
        return f"the checks find {more[0]}" if more else making

    def _cloth(
        self, making: Making, name: str, question: LayoutQuestion, seeds: Sequence[int]
    ) -> ClothTried:
        plans = tuple(
            making.planned(name, question, self._layout(question, seed)) for seed in seeds
        )
        return ClothTried(making.file.make.fabric(name), plans, question.digest)

    def _wanted(self, point: Point, measure: Measure | None) -> dict[str, LayoutQuestion]:
        """Return what is to be laid out for a trial; nothing if it cannot be made."""
        making = self._making(point)
        if isinstance(making, str):
            return {}
        if point not in self._questions:
            self._questions[point] = questions_of(making)
        return {
            name: question
            for name, question in self._questions[point].items()
            if measure is None or measure.weights[name] > 0
        }

    def _layout(self, question: LayoutQuestion, seed: int) -> Layout:
        key = (question.digest, seed)
        found = self._layouts.get(key)
        if found is None or isinstance(found, str):  # once more, for the reason as an exception
            how = Searching(self.effort, seed, progress=self._tell, cancelled=self._cancelled)
            found = search_layout(question, how)
            self._layouts[key] = found
        return replace(found, fabric=question.fabric)

    def _take(self, job: _Job, found: Layout | str) -> None:
        question, _, seed = job
        self._layouts[question.digest, seed] = found

    def _tell(self, progress: Progress) -> None:
        if self._progress is not None:
            self._progress(progress.message)


def _laid(job: _Job) -> Layout | str:
    """Search one layout, in a worker; why there is none, if there is none."""
    question, effort, seed = job
    try:
        return search_layout(question, Searching(effort, seed))
    except CuttingError as error:
        return error.problem


def questions_of(making: Making) -> dict[str, LayoutQuestion]:
    """Return what is to be laid on each fabric of a make, as if any length of it could be had."""
    found = {}
    for name in dict.fromkeys(making.assignment.values()):
        question = making.question(name)
        endless = replace(question.fabric, length_mm=math.inf)
        found[name] = replace(question, fabric=endless)
    return found


def _digests(making: Making) -> list[str]:
    return sorted(question.digest for question in questions_of(making).values())


def _errors(making: Making) -> list[str]:
    """The findings that would be sewn wrong, as `CODE at piece`; figures may differ."""
    return [
        f"{each.code} at {each.seam or each.piece or each.edge or 'the garment'}"
        for each in making.findings
        if each.severity is Severity.ERROR
    ]


def _reason(error: Exception) -> str:
    if isinstance(error, DocumentError):
        return error.faults[0].what
    problem = getattr(error, "problem", "")
    return str(problem or error)
