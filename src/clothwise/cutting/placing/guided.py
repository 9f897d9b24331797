"""The search: things move one by one to where they lie least deep in others, all places weighed.

For one thing, the depths against all others, shifted to where those lie, add up to a map of all
places: its lowest place is the best move there is. Where the search gets stuck, pairs that still
overlap weigh more from then on, until nothing overlaps (guided local search).

Source: weights after C. Voudouris and E. Tsang, "Guided local search", European Journal of
Operational Research 113 (1999); the maps see `raster`.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from clothwise.cutting.placing.field import Lying
from clothwise.cutting.placing.ground import Ground, Places
from clothwise.cutting.placing.kernels import (
    Pairs,
    State,
    Ways,
    depths_of,
    improved,
)
from clothwise.cutting.placing.maps import Frame, Kept, kept_maps, lowest_place
from clothwise.cutting.placing.separating import (
    APART,
    Least,
    overlap_of,
    rounds_of,
    separated,
)
from clothwise.cutting.placing.vectors import LANES

__all__ = ["Budget", "Search"]

_TORN = 0.25
"""Share of the things that are laid anew where the search got stuck."""
_SWAPS = 0.5
"""Share of the times in which two large things change places instead. Measured: few things come
further by that, many by being laid anew."""

_MANY = 4
"""Maps are kept of shapes that so many things have. Measured: for fewer, as much moves between two
looks as there is."""


@dataclass
class Budget:
    """Work that may be done, in cells added to maps.

    About the same time on every machine of a kind, and the same result on all.
    """

    left: int

    @property
    def is_spent(self) -> bool:
        """Whether nothing is left."""
        return self.left <= 0


class Search:
    """Where everything lies, and the weights; `Lying`s of things first, then of blocks.

    Attributes:
        nearly: where everything lay with the least overlap of the last separation.
        least: that overlap, in cells.
    """

    def __init__(self, ground: Ground, seed: int, budget: Budget) -> None:
        count = len(ground.ways)
        self._ground = ground
        self._chance = random.Random(seed)
        self._budget = budget
        self._count = count
        self._is_fixed = np.array([n in ground.fixed for n in range(count)])
        self._state = State(
            way=np.array([numbers[0] for numbers in ground.ways], dtype=np.int64),
            at=np.zeros((count, 2)),
            weights=np.ones((count, count), dtype=np.float32),
            depth=np.zeros((count, count), dtype=np.float32),
            is_laid=np.zeros(count, dtype=np.bool_),
            chance=np.array([self._chance.randrange(1, 1 << 63)], dtype=np.uint64),
        )
        self._ones = np.ones(count, dtype=np.float32)
        self._length_mm = math.nan
        self._known_ways: Ways | None = None
        self._kept = kept_maps({}, len(ground.table.table), count)
        self.nearly: tuple[Lying, ...] = ()
        self.least = math.inf
        self._areas = [ground.shapes[n[0]].geometry.area for n in ground.ways]
        for number in sorted(ground.fixed):
            things = ground.things
            lying = things[number].fixed if number < len(things) else Lying(0, 0.0, 0.0)
            assert lying is not None
            self._lay(number, ground.ways[number][lying.way], lying.x_mm, lying.y_mm)

    @property
    def lyings(self) -> tuple[Lying, ...]:
        """Where everything lies now."""
        return self._lyings(self._state.way, self._state.at)

    def _lyings(self, ways: NDArray[np.int64], at: NDArray[np.float64]) -> tuple[Lying, ...]:
        cell_mm = self._ground.cell_mm
        return tuple(
            Lying(int(way) - self._ground.ways[number][0], float(x) * cell_mm, float(y) * cell_mm)
            for number, (way, (x, y)) in enumerate(zip(ways, at, strict=True))
        )

    @property
    def overlap(self) -> float:
        """Depths of all pairs, in cells, unweighted."""
        return float(overlap_of(self._state.depth))

    def take(self, lyings: Sequence[Lying]) -> None:
        """Lay everything where it lay before; weights are forgotten."""
        self._state.weights.fill(1.0)
        for number, lying in enumerate(lyings):
            way = self._ground.ways[number][lying.way]
            self._lay(number, way, lying.x_mm, lying.y_mm)

    def lay_all(self, order: Sequence[int], length_mm: float) -> bool:
        """Lay things one after another, each as near to the start as it finds room.

        Returns whether all found room within the length; those that did not lie where they are
        least deep in others.
        """
        self._within(length_mm)
        self._state.is_laid[:] = self._is_fixed
        self._state.depth.fill(0.0)
        found_room = True
        for number in order:
            best = self._first_free(number)
            if best is None:
                found_room = False
                self._improve([number])
            else:
                self._lay(number, *best)
        return found_room

    def separate(self, length_mm: float, patience: int) -> bool:
        """Move things until nothing overlaps within a length; false if it got stuck.

        Args:
            length_mm: of the strip or sheet.
            patience: so many rounds without a smaller overlap are the end.
        """
        self._within(length_mm)
        self._improve(self._beyond())
        state, table = self._state, self._ground.table
        least = Least(np.array([self.overlap]), state.way.copy(), state.at.copy())
        rounds = rounds_of(self._count)
        while True:
            ended, work = separated(
                patience,
                self._budget.left,
                self._is_fixed,
                state,
                self._known_ways,
                Pairs(table.depths, table.costs, table.table),
                self._kept,
                rounds,
                least,
            )
            self._budget.left -= work
            if ended < 0:
                break
            self._know(ended)
        self.least, self.nearly = float(least.overlap[0]), self._lyings(least.way, least.at)
        return bool(ended == APART)

    def shake(self, length_mm: float) -> None:
        """Change where some things lie: what the search then comes to is another layout."""
        self._within(length_mm)
        movable = [n for n in range(self._count) if n not in self._ground.fixed]
        if self._chance.random() < _SWAPS and len(movable) > 1:
            self._swap_two(movable)
        else:
            self._lay_some_anew(movable)

    def _swap_two(self, movable: Sequence[int]) -> None:
        """Two large things change places."""
        by_area = sorted(movable, key=lambda n: -self._areas[n])
        large = by_area[: max(2, len(by_area) // 2)]
        one, other = self._chance.sample(large, 2)
        places = [self._state.at[n] * self._ground.cell_mm for n in (one, other)]
        for number, place in ((one, places[1]), (other, places[0])):
            way = self._chance.choice(self._ground.ways[number])
            xs, ys = self._ground.xs(way, self._length_mm), self._ground.ys(way)
            if xs is not None and ys is not None:
                self._lay(number, way, _nearest(xs, place[0]), _nearest(ys, place[1]))

    def _lay_some_anew(self, movable: Sequence[int]) -> None:
        """Take things out, here and there or all from one stretch, and lay them anew.

        Each is laid where it is least deep in what lies there already, large ones mostly first.
        """
        count = min(len(movable), max(2, round(_TORN * len(movable))))
        if self._chance.random() < 0.5:
            torn = self._chance.sample(movable, count)
        else:
            at = self._chance.uniform(0.0, self._length_mm / self._ground.cell_mm)
            torn = sorted(movable, key=lambda n: abs(self._state.at[n, 0] - at))[:count]
        for number in torn:
            self._state.is_laid[number] = False
            self._state.depth[number, :] = self._state.depth[:, number] = 0.0
        large = {number: self._areas[number] * self._chance.uniform(0.5, 2.0) for number in torn}
        for number in sorted(torn, key=lambda n: -large[n]):
            self._improve([number])

    def _within(self, length_mm: float) -> None:
        """Things may lie anywhere within a length from now on."""
        if self._length_mm == length_mm:
            return
        self._length_mm = length_mm
        ground = self._ground
        ways = [way for numbers in ground.ways for way in numbers]
        none = Places(np.zeros(0), np.zeros(0, dtype=np.int64), False)
        xs = [ground.xs(way, length_mm) or none for way in ways]
        ys = [ground.ys(way) or none for way in ways]
        self._known_ways = Ways(
            first_way=np.array([numbers[0] for numbers in ground.ways], dtype=np.int64),
            way_count=np.array([len(numbers) for numbers in ground.ways], dtype=np.int64),
            shape=ground.shape_of,
            xs=np.concatenate([each.mm for each in xs]) / ground.cell_mm,
            ys=np.concatenate([each.mm for each in ys]) / ground.cell_mm,
            columns=np.concatenate([each.cells for each in xs]),
            rows=np.concatenate([each.cells for each in ys]),
            x_first=_starts(xs),
            x_count=np.array([len(each.mm) for each in xs], dtype=np.int64),
            y_first=_starts(ys),
            y_count=np.array([len(each.mm) for each in ys], dtype=np.int64),
            x_free=np.array([each.is_free for each in xs]),
            y_free=np.array([each.is_free for each in ys]),
        )
        self._keep_maps(xs, ys)

    def _keep_maps(self, xs: Sequence[Places], ys: Sequence[Places]) -> None:
        """Keep maps of the places of each shape that many things have, unless they are kept."""
        ground = self._ground
        users: dict[int, list[int]] = {}
        for number, ways in enumerate(ground.ways):
            for way in ways:
                if number not in ground.fixed and len(xs[way].cells) and len(ys[way].cells):
                    users.setdefault(int(ground.shape_of[way]), []).append(way)
        frames = {
            shape: _frame([xs[way] for way in ways], [ys[way] for way in ways])
            for shape, ways in users.items()
            if len(ways) >= _MANY
        }
        if not all(_holds(self._kept, shape, frame) for shape, frame in frames.items()):
            self._kept = kept_maps(frames, len(ground.table.table), self._count)

    def _improve(self, order: Sequence[int]) -> None:
        """Move each thing of an order to where it lies least deep in others, weighed."""
        numbers = np.array(order, dtype=np.int64)
        table = self._ground.table
        at = 0
        while at < len(numbers):
            at, work = improved(
                numbers,
                at,
                True,
                True,
                self._state,
                self._known_ways,
                Pairs(table.depths, table.costs, table.table),
                self._kept,
            )
            self._budget.left -= work
            if at < len(numbers):
                self._know(int(numbers[at]))

    def _beyond(self) -> list[int]:
        """Things that reach beyond the length."""
        found = []
        for number in range(self._count):
            if number in self._ground.fixed:
                continue
            way, x = int(self._state.way[number]), self._state.at[number, 0] * self._ground.cell_mm
            low, high = self._ground.x_limits(way, self._length_mm)
            if not low - 1e-6 <= x <= high + 1e-6:
                found.append(number)
        return found

    def _lay(self, number: int, way: int, x_mm: float, y_mm: float) -> None:
        ground, state = self._ground, self._state
        state.way[number] = way
        state.at[number] = x_mm / ground.cell_mm, y_mm / ground.cell_mm
        state.is_laid[number] = True
        shape = int(ground.shape_of[way])
        depths = depths_of(
            shape,
            *state.at[number],
            self._others(number, shape),
            state.at,
            ground.table.depths,
            ground.table.table,
        )
        state.depth[number, :] = depths
        state.depth[:, number] = depths

    def _know(self, number: int) -> None:
        """See to it that the depths of all ways of a thing in all others are known."""
        for way in self._ground.ways[number]:
            self._others(number, int(self._ground.shape_of[way]))

    def _others(self, number: int, moving: int) -> NDArray[np.int64]:
        """Shapes of what a thing may lie in, -1 for the rest; their depths are known then."""
        others = np.where(self._state.is_laid, self._ground.shape_of[self._state.way], -1)
        others[number] = -1
        if number in self._ground.fixed:
            others[self._is_fixed] = -1
        self._ground.table.know(others, moving)
        return others

    def _first_free(self, number: int) -> tuple[int, float, float] | None:
        """The way and free place in which a thing ends nearest to the start, if there is one."""
        ground = self._ground
        best, best_end = None, np.inf
        for way in ground.ways[number]:
            xs, ys = ground.xs(way, self._length_mm), ground.ys(way)
            if xs is None or ys is None:
                continue
            moving = int(ground.shape_of[way])
            least, column, row, added = lowest_place(
                moving,
                xs.cells,
                ys.cells,
                0.0,
                self._others(number, moving),
                self._state.at,
                self._ones,
                self._kept,
                ground.table.costs,
                ground.table.table,
            )
            self._budget.left -= added
            end = float(xs.mm[column]) + ground.shapes[way].right
            if least <= 0 and end < best_end:
                best, best_end = (way, float(xs.mm[column]), float(ys.mm[row])), end
        return best


def _frame(xs: Sequence[Places], ys: Sequence[Places]) -> Frame:
    """What has all of several places."""
    x_first, y_first = (min(int(each.cells[0]) for each in places) for places in (xs, ys))
    x_last, y_last = (max(int(each.cells[-1]) for each in places) for places in (xs, ys))
    rows = -(-(y_last - y_first + 1) // LANES) * LANES
    return Frame(x_first, x_last - x_first + 1, y_first, rows)


def _holds(kept: Kept, shape: int, frame: Frame) -> bool:
    """Whether a map that is kept has all places of a frame; across it always has."""
    start, x_first, columns, *_ = kept.frames[shape]
    end = frame.x_first + frame.columns
    return bool(start >= 0 and x_first <= frame.x_first and end <= x_first + columns)


def _starts(places: Sequence[Places]) -> NDArray[np.int64]:
    return np.cumsum([0, *(len(each.mm) for each in places[:-1])], dtype=np.int64)


def _nearest(places: Places, mm: float) -> float:
    return float(places.mm[np.abs(places.mm - mm).argmin()])
