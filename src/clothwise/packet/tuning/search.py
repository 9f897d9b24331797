"""Looks for the values within the limits of a design that save most cloth.

1. Both ends of every limit are tried, then together all that did no harm.
2. By chance: mostly one or two values of the best so far changed, now and then all of them.
3. The best is taken back toward the design as far as it keeps nearly all that it saves, value by
   value: what remains is what matters.
4. The best few and the design as it is are laid out anew with other seeds, the same for all. Only
   these layouts are reported: a search picks what came out well by chance, and those seeds are
   what it picked from.
"""

from __future__ import annotations

import contextlib
import math
import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from clothwise.cutting import LayoutCancelled
from clothwise.packet.tuning.dimension import Point, start_of
from clothwise.packet.tuning.sensitivity import ClothChange, cloth_changes
from clothwise.packet.tuning.trial import Measure, Trial, Trier

__all__ = ["Found", "SearchSize", "best_of", "search", "seeds_after"]

_KEPT_SHARE = 0.95  # of what is saved, when values are taken back toward the design. Our own choice
_AT_ONCE = 4  # drawn before the best so far is asked for again. Our own choice
_LEAP = 0.25  # one try in four changes all values. Our own choice
_MOST_TRIED = 4  # times the tries asked for, if most values cannot be made. Our own choice
_SEED_STEP = 104_729  # between the seeds of a layout; any number that packers do not use would do


@dataclass(frozen=True, slots=True)
class SearchSize:
    """How much is tried.

    Attributes:
        tries: of different values, the design as it is among them; taking back comes on top.
        seeds: with how many the finalists are laid out anew.
        finalists: how many.
    """

    tries: int = 30
    seeds: int = 4
    finalists: int = 2


@dataclass(frozen=True)
class Found:
    """What a search found.

    Attributes:
        seed: of the search.
        before: the make as it is, laid out with seeds that the search did not use.
        after: the best, with the same seeds; `before` itself if nothing is better.
        measure: what was to become less.
        tried: how many different values.
        refused: how many of them cannot be made.
        is_whole: whether it ended by itself; False if it was stopped.
    """

    seed: int
    before: Trial
    after: Trial
    measure: Measure
    tried: int
    refused: int
    is_whole: bool

    @property
    def saved(self) -> float:
        """From the shortest layout to the shortest layout, in the figure that was to be lowered."""
        return min(self.before.values(self.measure)) - min(self.after.values(self.measure))

    @property
    def least_saved(self) -> float:
        """Between the seeds where it comes out lowest; may be negative."""
        return min(self.before.values(self.measure)) - max(self.after.values(self.measure))

    @property
    def most_saved(self) -> float:
        """Between the seeds where it comes out highest."""
        return max(self.before.values(self.measure)) - min(self.after.values(self.measure))

    @property
    def is_clear(self) -> bool:
        """Whether every layout of the best takes less than every layout of the make as it is."""
        return self.least_saved > 0

    @property
    def changes(self) -> tuple[ClothChange, ...]:
        """Of each fabric whose pieces change."""
        return cloth_changes(self.before, self.after)


def best_of(found: Sequence[Found]) -> Found:
    """Return the search that saves most; of equal ones the first."""
    return max(found, key=lambda each: each.saved)


def seeds_after(seed: int, count: int) -> tuple[int, ...]:
    """Return seeds for layouts that are to be compared, none of them the one given.

    >>> seeds_after(1, 2)
    (104730, 209459)
    """
    return tuple(seed + _SEED_STEP * number for number in range(1, count + 1))


def search(
    trier: Trier,
    measure: Measure,
    *,
    seed: int,
    size: SearchSize = SearchSize(),
    progress: Callable[[int, int, str], None] | None = None,
) -> Found:
    """Search the values that save most; the same seed tries the same values in the same order.

    Stopped by the trier's `cancelled`, it returns what it has by then, once the make as it is has
    been laid out.

    Args:
        trier: of the make.
        measure: what is to become less.
        seed: of the chance in it, and of its layouts.
        size: how much is tried.
        progress: told how many of how many are tried, and what is being done.

    Raises:
        LayoutCancelled: stopped before there was anything to tell.
        Misuse, DocumentError, CuttingError: as `Trier.trial` does.
    """
    return _Search(trier, measure, seed, size, progress).found()


class _Search:
    """The state of one search: what was tried, and its figures."""

    def __init__(
        self,
        trier: Trier,
        measure: Measure,
        seed: int,
        size: SearchSize,
        progress: Callable[[int, int, str], None] | None,
    ) -> None:
        self.trier, self.measure, self.size = trier, measure, size
        self.seed, self.progress = seed, progress
        self.chance = random.Random(seed)
        self.dimensions = trier.dimensions
        self.start = start_of(self.dimensions)
        self.figures: dict[Point, float] = {}
        self.taken_back: Point = self.start

    @property
    def ranked(self) -> list[Point]:
        """What was tried, best first; of equal ones what is nearest to the design."""
        return sorted(self.figures, key=lambda point: (self.figures[point], self._away(point)))

    @property
    def best(self) -> Point:
        return self.ranked[0]

    @property
    def refused(self) -> int:
        """How many cannot be made."""
        return sum(figure == math.inf for figure in self.figures.values())

    @property
    def _are_enough(self) -> bool:
        """Whether enough was laid out; what cannot be made costs little, but not nothing."""
        tried = len(self.figures)
        return tried - self.refused >= self.size.tries or tried >= _MOST_TRIED * self.size.tries

    def found(self) -> Found:
        self._try(self.start)
        is_whole = self._look()
        seeds = seeds_after(self.seed, self.size.seeds)
        try:
            self.trier.prepare((self.start, *self._finalists()), seeds)
            before = self.trier.trial(self.start, seeds)
            finals = [before, *(self.trier.trial(each, seeds) for each in self._finalists())]
        except LayoutCancelled:
            before, is_whole = self._known(self.start), False
            finals = [before, self._known(self.best)]
        return Found(
            seed=self.seed,
            before=before,
            after=self._winner(before, finals),
            measure=self.measure,
            tried=len(self.figures),
            refused=self.refused,
            is_whole=is_whole,
        )

    def _known(self, point: Point) -> Trial:
        """What was tried already, with the seed of the search and the fabrics that count."""
        return self.trier.trial(point, (self.seed,), self.measure)

    def _winner(self, before: Trial, finals: list[Trial]) -> Trial:
        """The best; but what was taken back toward the design, if it saves nearly as much."""
        figures = {trial.point: min(trial.values(self.measure)) for trial in finals}
        best = min(finals, key=lambda trial: figures[trial.point])
        nearer = next((trial for trial in finals if trial.point == self.taken_back), best)
        wanted = _wanted(figures[before.point], figures[best.point])
        return nearer if figures[nearer.point] <= wanted else best

    def _look(self) -> bool:
        """Try values until there are enough; tell whether it ended by itself."""
        try:
            for batch in self._batches():
                self._try_all(batch)
                if self._are_enough:
                    break
            self._take_back()
        except LayoutCancelled:
            return False
        return True

    def _try_all(self, batch: list[Point]) -> None:
        """Try what is new of a batch; stopped meanwhile, at least what is laid out already."""
        new = list(dict.fromkeys(point for point in batch if point not in self.figures))
        new = new[: self.size.tries - len(self.figures) + self.refused]
        try:
            self.trier.prepare(new, (self.seed,), self.measure)
            for point in new:
                self._try(point)
        except LayoutCancelled:
            for point in new:
                with contextlib.suppress(LayoutCancelled):
                    self._try(point)
            raise

    def _finalists(self) -> list[Point]:
        others = [each for each in self.ranked if each not in (self.start, self.taken_back)]
        nearer = [self.taken_back] if self.taken_back != self.start else []
        return [*nearer, *others][: self.size.finalists]

    def _try(self, point: Point) -> float:
        if point not in self.figures:
            self._tell(point)
            self.figures[point] = min(self._known(point).values(self.measure))
        return self.figures[point]

    def _tell(self, point: Point) -> None:
        if self.progress is not None:
            words = [
                dimension.title
                for dimension, number in zip(self.dimensions, point, strict=True)
                if number != dimension.start
            ]
            done = min(len(self.figures), self.size.tries - 1)
            self.progress(done, self.size.tries, ", ".join(words) or "as it is")

    def _batches(self) -> Iterator[list[Point]]:
        """Yield what is to be tried at once; what comes next may depend on what came of it."""
        yield [
            _with(self.start, at, end)
            for at, dimension in enumerate(self.dimensions)
            for end in dimension.ends
        ]
        yield [self._best_of_each()]
        every = math.prod(dimension.size for dimension in self.dimensions)
        while len(self.figures) < every:
            yield [self._drawn() for _ in range(_AT_ONCE)]

    def _drawn(self) -> Point:
        return self._leap() if self.chance.random() < _LEAP else self._step()

    def _best_of_each(self) -> Point:
        point = self.start
        for at, dimension in enumerate(self.dimensions):
            # Of equals an end: several values may have to change together before anything is saved.
            tried = [n for n in (*dimension.ends, dimension.start) if self._knows(at, n)]
            best = min(tried, key=lambda n: self.figures[_with(self.start, at, n)])
            point = _with(point, at, best)
        return point

    def _knows(self, at: int, number: int) -> bool:
        return _with(self.start, at, number) in self.figures

    def _leap(self) -> Point:
        return tuple(self.chance.randrange(dimension.size) for dimension in self.dimensions)

    def _step(self) -> Point:
        """The best so far with one or two values changed; small changes more often than large."""
        point = self.best
        count = min(len(self.dimensions), self.chance.choice((1, 1, 2)))
        for at in self.chance.sample(range(len(self.dimensions)), count):
            size = self.dimensions[at].size
            if self.dimensions[at].is_choice:
                point = _with(point, at, self.chance.randrange(size))
            else:
                reach = max(1.0, size * self.chance.random() ** 2)
                moved = point[at] + round(self.chance.uniform(-reach, reach))
                point = _with(point, at, min(size - 1, max(0, moved)))
        return point

    def _take_back(self) -> None:
        """Bring each value of the best back toward the design while nearly all is still saved."""
        point = self.best
        if not self.figures[point] < self.figures[self.start]:
            return
        wanted = _wanted(self.figures[self.start], self.figures[point])
        for at in range(len(self.dimensions)):
            point = self._taken_back(point, at, wanted)
        self.taken_back = point

    def _taken_back(self, point: Point, at: int, wanted: float) -> Point:
        near, far = self.dimensions[at].start, point[at]
        if near == far:
            return point
        if self._try(_with(point, at, near)) <= wanted:
            return _with(point, at, near)
        while not self.dimensions[at].is_choice and abs(far - near) > 1:
            middle = (near + far) // 2
            if self._try(_with(point, at, middle)) <= wanted:
                far = middle
            else:
                near = middle
        return _with(point, at, far)

    def _away(self, point: Point) -> float:
        return sum(
            abs(number - dimension.start) / max(1, dimension.size - 1)
            for dimension, number in zip(self.dimensions, point, strict=True)
        )


def _wanted(before: float, best: float) -> float:
    """The figure that still keeps nearly all of what the best saves."""
    return before - _KEPT_SHARE * (before - best)


def _with(point: Point, at: int, number: int) -> Point:
    return (*point[:at], number, *point[at + 1 :])
