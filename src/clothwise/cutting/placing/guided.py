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
from clothwise.cutting.placing.kernels import depths_of, lowest, map_depths

__all__ = ["Budget", "Search"]

_HEAVIER, _HEAVIEST = 1.2, 2.0
"""A pair that overlaps becomes this much heavier, the deepest one the most. Measured."""
_LIGHTER = 0.95
"""A pair that does not overlap forgets by this factor."""
_MOST_WEIGHT = 1e12  # far from what a float can hold, where things cannot be parted

_ROUND_CELLS = 100_000
"""What a round counts for beside its maps."""


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
    """Where everything lies, and the weights; `Lying`s of things first, then of blocks."""

    def __init__(self, ground: Ground, seed: int, budget: Budget) -> None:
        self._ground = ground
        self._chance = random.Random(seed)
        self._budget = budget
        self._count = len(ground.ways)
        self._weights = np.ones((self._count, self._count), dtype=np.float32)
        self._depth = np.zeros((self._count, self._count))
        self._way = [numbers[0] for numbers in ground.ways]
        self._cell = np.zeros((self._count, 2), dtype=np.int64)
        self._mm = np.zeros((self._count, 2))
        self._shape = np.array([ground.shape_of[way] for way in self._way], dtype=np.int64)
        self._is_fixed = np.array([n in ground.fixed for n in range(self._count)])
        self._ones = np.ones(self._count, dtype=np.float32)
        self._is_laid = np.zeros(self._count, dtype=np.bool_)
        self._length_mm = 0.0
        self._known_places: dict[int, tuple[Places | None, Places | None]] = {}
        self._known_for_mm = math.nan
        self._areas = [ground.shapes[n[0]].geometry.area for n in ground.ways]
        for number in sorted(ground.fixed):
            things = ground.things
            lying = things[number].fixed if number < len(things) else Lying(0, 0.0, 0.0)
            assert lying is not None
            self._lay(number, ground.ways[number][lying.way], lying.x_mm, lying.y_mm)

    @property
    def lyings(self) -> tuple[Lying, ...]:
        """Where everything lies now."""
        return tuple(
            Lying(
                self._ground.ways[number].index(self._way[number]),
                float(self._mm[number, 0]),
                float(self._mm[number, 1]),
            )
            for number in range(self._count)
        )

    @property
    def overlap(self) -> float:
        """Depths of all pairs, in cells, unweighted."""
        return float(self._depth.sum()) / 2

    def take(self, lyings: Sequence[Lying]) -> None:
        """Lay everything where it lay before; weights are forgotten."""
        self._weights.fill(1.0)
        for number, lying in enumerate(lyings):
            way = self._ground.ways[number][lying.way]
            self._lay(number, way, lying.x_mm, lying.y_mm)

    def lay_all(self, order: Sequence[int], length_mm: float) -> bool:
        """Lay things one after another, each as near to the start as it finds room.

        Returns whether all found room within the length; those that did not lie where they are
        least deep in others.
        """
        self._length_mm = length_mm
        self._is_laid[:] = self._is_fixed
        self._depth.fill(0.0)
        found_room = True
        for number in order:
            best = self._first_free(number)
            if best is None:
                found_room = False
                best = self._lowest(number)
            self._lay(number, *best)
        return found_room

    def separate(self, length_mm: float, patience: int) -> bool:
        """Move things until nothing overlaps within a length; false if it got stuck.

        Args:
            length_mm: of the strip or sheet.
            patience: so many rounds without a smaller overlap are the end.
        """
        self._length_mm = length_mm
        for number in self._beyond():
            self._lay(number, *self._lowest(number))
        least, waited = self.overlap, 0
        while self.overlap > 0:
            if self._budget.is_spent or waited > patience:
                return False
            colliding = [
                number
                for number in range(self._count)
                if number not in self._ground.fixed and self._depth[number].any()
            ]
            self._chance.shuffle(colliding)
            for number in colliding:
                if self._depth[number].any():
                    self._lay(number, *self._lowest(number))
            self._weigh()
            self._budget.left -= _ROUND_CELLS
            waited += 1
            if self.overlap < least:
                least, waited = self.overlap, 0
        return True

    def shake(self) -> None:
        """Swap the places of two large things that may move."""
        movable = [n for n in range(self._count) if n not in self._ground.fixed]
        if len(movable) < 2:
            return
        by_area = sorted(movable, key=lambda n: -self._areas[n])
        large = by_area[: max(2, len(by_area) // 2)]
        one, other = self._chance.sample(large, 2)
        places = [self._mm[n].copy() for n in (one, other)]
        for number, place in ((one, places[1]), (other, places[0])):
            way = self._chance.choice(self._ground.ways[number])
            xs, ys = self._ground.xs(way, self._length_mm), self._ground.ys(way)
            if xs is not None and ys is not None:
                self._lay(number, way, _nearest(xs, place[0]), _nearest(ys, place[1]))

    def _places(self, way: int) -> tuple[Places | None, Places | None]:
        if self._known_for_mm != self._length_mm:
            self._known_places.clear()
            self._known_for_mm = self._length_mm
        if way not in self._known_places:
            self._known_places[way] = self._ground.xs(way, self._length_mm), self._ground.ys(way)
        return self._known_places[way]

    def _beyond(self) -> list[int]:
        """Things that reach beyond the length."""
        found = []
        for number in range(self._count):
            if number in self._ground.fixed:
                continue
            low, high = self._ground.x_limits(self._way[number], self._length_mm)
            if not low - 1e-6 <= self._mm[number, 0] <= high + 1e-6:
                found.append(number)
        return found

    def _weigh(self) -> None:
        deepest = self._depth.max()
        if deepest <= 0:
            return
        heavier = _HEAVIER + (_HEAVIEST - _HEAVIER) * self._depth / deepest
        factor = np.where(self._depth > 0, heavier, _LIGHTER)
        self._weights = np.clip(self._weights * factor, 1.0, _MOST_WEIGHT).astype(np.float32)

    def _lay(self, number: int, way: int, x_mm: float, y_mm: float) -> None:
        ground = self._ground
        self._way[number] = way
        self._shape[number] = ground.shape_of[way]
        self._mm[number] = x_mm, y_mm
        self._cell[number] = round(x_mm / ground.cell_mm), round(y_mm / ground.cell_mm)
        self._is_laid[number] = True
        depths = depths_of(
            int(self._shape[number]),
            self._cell[number],
            self._others(number),
            self._cell,
            ground.table.buffer,
            ground.table.table,
        )
        self._depth[number, :] = depths
        self._depth[:, number] = depths

    def _others(self, number: int, shape: int | None = None) -> NDArray[np.int64]:
        """Shapes of what a thing may lie in, -1 for the rest; their depths are known then."""
        others = np.where(self._is_laid, self._shape, -1)
        others[number] = -1
        if number in self._ground.fixed:
            others[self._is_fixed] = -1
        moving = int(self._shape[number]) if shape is None else shape
        self._ground.table.know(others, moving)
        return others

    def _map(
        self, number: int, way: int, xs: Places, ys: Places, *, is_weighed: bool
    ) -> NDArray[np.float32]:
        """Depths of a thing in all others for each place, (columns, rows) from the first cells."""
        ground = self._ground
        x0, y0 = int(xs.cells[0]), int(ys.cells[0])
        columns, rows = int(xs.cells[-1]) - x0 + 1, int(ys.cells[-1]) - y0 + 1
        found = np.empty((columns, rows), dtype=np.float32)
        moving = int(ground.shape_of[way])
        self._budget.left -= map_depths(
            found,
            x0,
            y0,
            moving,
            self._others(number, moving),
            self._cell,
            self._weights[number] if is_weighed else self._ones,
            ground.table.buffer,
            ground.table.table,
        )
        return found

    def _lowest(self, number: int) -> tuple[int, float, float]:
        """The way and place in which a thing lies least deep in others, weighed."""
        best, best_depth = None, np.inf
        for way in self._ground.ways[number]:
            xs, ys = self._places(way)
            if xs is None or ys is None:
                continue
            found = self._map(number, way, xs, ys, is_weighed=True)
            least, column, row = lowest(
                found, xs.cells - xs.cells[0], ys.cells - ys.cells[0], self._chance.random()
            )
            if least < best_depth:
                best, best_depth = (way, float(xs.mm[column]), float(ys.mm[row])), least
        if best is None:
            way = self._way[number]
            return way, float(self._mm[number, 0]), float(self._mm[number, 1])
        return best

    def _first_free(self, number: int) -> tuple[int, float, float] | None:
        """The way and free place in which a thing ends nearest to the start, if there is one."""
        best, best_end = None, np.inf
        for way in self._ground.ways[number]:
            xs, ys = self._places(way)
            if xs is None or ys is None:
                continue
            found = self._map(number, way, xs, ys, is_weighed=False)
            least, column, row = lowest(found, xs.cells - xs.cells[0], ys.cells - ys.cells[0], 0.0)
            end = float(xs.mm[column]) + self._ground.shapes[way].right
            if least <= 0 and end < best_end:
                best, best_end = (way, float(xs.mm[column]), float(ys.mm[row])), end
        return best


def _nearest(places: Places, mm: float) -> float:
    return float(places.mm[np.abs(places.mm - mm).argmin()])
