"""The packer: lays things in the shortest order it finds, then shortens the strip step by step."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from shapely import Polygon

from clothwise.cutting.placing.field import Field, Lying, Thing, lying_outline
from clothwise.cutting.placing.ground import Ground
from clothwise.cutting.placing.guided import Budget, Search
from clothwise.cutting.placing.in_order import InOrder
from clothwise.cutting.placing.settling import Settled, settled

__all__ = ["pack"]

CELLS = 5_000
"""So many cells a strip or sheet has; our own choice, measured."""
CELLS_OF_A_THING = 100
"""Of many things, each has about so many cells."""
CELLS_ACROSS_A_THING = 5
"""A thing of middle size has at least so many cells the narrow way."""
MOST_AT_ONCE = 120
"""More things than this are laid in parts, one after the other along the strip."""
ROUND_CELLS = 800_000_000
"""Cells added to maps in one round: about a fifth of a second."""
_SETTLING_CELLS = 5_000_000
"""What settling counts for, in cells added to maps, for each thing."""
_FIRST_CUT, _LEAST_CUT = 0.02, 0.004
_PATIENCE = 200
_NEARLY = 3
"""Of so many failures, one goes on from what is right; the others from what was nearly right."""
_NEARLY_PARTED = 1.0
"""Cells: what overlaps by less, all told, may yet be parted exactly."""
_UNSETTLED, _FINER_AT_MOST = 3, 2
"""After so many layouts that are shorter to a cell, but not exactly, cells are halved; so often."""
_STUCK = 2
"""So many failures for each thing, one after the other, are the end of a way to shorten."""
_LONGER = 1.06
"""Another way begins with a strip so much longer than the shortest."""
_ORDERS = 6
_SHAKES = 6
"""On a sheet, so many times some things change places before all are laid in another order."""
_FIRST_CELLS = 4.0
"""First layouts are laid with cells so much finer."""


def pack(
    things: Sequence[Thing],
    field: Field,
    *,
    rounds: int,
    seed: int,
    told: Callable[[tuple[Lying, ...], float], None] | None = None,
    cancelled: Callable[[], bool] = lambda: False,
    enough_mm: float = 0.0,
) -> tuple[Lying, ...] | None:
    """Return where all things lie so that the strip is short, or that they fit on a sheet.

    The same question always has the same answer, however fast the machine.

    Args:
        things: to be laid, at least one.
        field: a strip or a sheet.
        rounds: how much to search, in units of about a fifth of a second.
        seed: of the search.
        told: of each better layout, with its length.
        cancelled: asked often; if true, the best so far is returned.
        enough_mm: a strip no longer than this need not become shorter.

    Returns:
        One place for each thing; None if they do not fit (on the sheet, or across the strip).
    """
    movable = sum(thing.fixed is None for thing in things)
    if movable == len(things) > MOST_AT_ONCE and field.sheet is None and not field.taken:
        return _in_parts(things, field, rounds, seed, cancelled)
    packing = _Packing(things, field, rounds, seed, told, cancelled, enough_mm)
    return packing.run()


def _in_parts(
    things: Sequence[Thing],
    field: Field,
    rounds: int,
    seed: int,
    cancelled: Callable[[], bool],
) -> tuple[Lying, ...] | None:
    """Lay many things in parts, each with some of every size, one after the other."""
    count = -(-len(things) // MOST_AT_ONCE)
    by_area = sorted(range(len(things)), key=lambda n: -Polygon(things[n].ways[0].outline).area)
    found: dict[int, Lying] = {}
    start = 0.0
    for part in range(count):
        own = by_area[part::count]
        moved = [_further(things[number], -start) for number in own]
        lyings = pack(
            moved, Field(field.width_mm), rounds=rounds // count, seed=seed, cancelled=cancelled
        )
        if lyings is None:
            return None
        ends = (
            max(x for x, _ in lying_outline(thing, lying))
            for thing, lying in zip(moved, lyings, strict=True)
        )
        found |= {
            number: Lying(lying.way, lying.x_mm + start, lying.y_mm)
            for number, lying in zip(own, lyings, strict=True)
        }
        start += max(ends)
    return tuple(found[number] for number in range(len(things)))


def _further(thing: Thing, by_mm: float) -> Thing:
    """A thing whose places along the strip are moved."""
    ways = (
        replace(way, x=replace(way.x, offset_mm=way.x.offset_mm + by_mm)) if way.x else way
        for way in thing.ways
    )
    return replace(thing, ways=tuple(ways))


class _Packing:
    def __init__(
        self,
        things: Sequence[Thing],
        field: Field,
        rounds: int,
        seed: int,
        told: Callable[[tuple[Lying, ...], float], None] | None,
        cancelled: Callable[[], bool],
        enough_mm: float,
    ) -> None:
        area = sum(Polygon(thing.ways[0].outline).area for thing in things)
        length = field.length_mm
        if math.isinf(length):
            length = 1.2 * area / field.width_mm
        boxes = [Polygon(thing.ways[0].outline).bounds for thing in things]
        narrow = sorted(min(box[2] - box[0], box[3] - box[1]) for box in boxes)
        cell_mm = min(
            math.sqrt(field.width_mm * length / max(CELLS, CELLS_OF_A_THING * len(things))),
            narrow[len(narrow) // 2] / CELLS_ACROSS_A_THING,
        )
        self.ground = Ground(things, field, cell_mm)
        self.budget = Budget(rounds * ROUND_CELLS)
        self.search = Search(self.ground, seed, self.budget)
        self.chance = random.Random(seed)
        self.told = told
        self.cancelled = cancelled
        self.enough_mm = enough_mm
        self.best: Settled | None = None
        self.now: Settled | None = None
        self.count = len(things)
        self.things = things
        self.area = area
        self.finer = 0

    @property
    def _is_over(self) -> bool:
        """Whether nothing more is to be searched."""
        has_enough = self.best is not None and self.best.length_mm <= self.enough_mm
        return has_enough or self.budget.is_spent or self.cancelled()

    def run(self) -> tuple[Lying, ...] | None:
        if self.ground.field.sheet is not None or math.isfinite(self.ground.field.length_mm):
            self._fit()
        else:
            self._lay_first()
            self._shorten()
        return self.best.lyings[: self.count] if self.best else None

    def _settle(self, lyings: Sequence[Lying], length_mm: float) -> bool:
        """Settle where things lie about; whether that is better than what one has now."""
        self.budget.left -= _SETTLING_CELLS * self.count
        found = settled(self.ground, lyings, length_mm)
        if found is None or not _is_shorter(found, self.now):
            return False
        self.now = found
        if _is_shorter(found, self.best):
            self.best = found
            if self.told is not None:
                self.told(found.lyings[: self.count], found.length_mm)
        return True

    def _settle_nearly(self, length_mm: float) -> bool:
        """Settle what the search could not quite part: gaps narrower than a cell it cannot see."""
        return self.search.least < _NEARLY_PARTED and self._settle(self.search.nearly, length_mm)

    def _orders(self) -> list[list[int]]:
        """Largest first, longest first, then changes of these by chance."""
        movable = [n for n in range(self.count) if n not in self.ground.fixed]
        shapes = [self.ground.shapes[self.ground.ways[n][0]] for n in range(self.count)]
        by_area = sorted(movable, key=lambda n: -shapes[n].geometry.area)
        by_length = sorted(movable, key=lambda n: shapes[n].left - shapes[n].right)
        orders = [by_area, by_length]
        return orders + [self._order_by_chance() for _ in range(_ORDERS - len(orders))]

    def _order_by_chance(self) -> list[int]:
        """Large things mostly first."""
        movable = [n for n in range(self.count) if n not in self.ground.fixed]
        shapes = [self.ground.shapes[self.ground.ways[n][0]] for n in movable]
        spread = {
            n: shape.geometry.area * self.chance.uniform(0.6, 1.6)
            for n, shape in zip(movable, shapes, strict=True)
        }
        return sorted(movable, key=lambda n: -spread[n])

    def _lay_first(self) -> None:
        longest = max(
            min(self.ground.shapes[w].right - self.ground.shapes[w].left for w in ways)
            for ways in self.ground.ways[: self.count]
        )
        room = 1.5 * self.area / self.ground.field.width_mm + 2 * longest
        self._lay_in_order()
        for ground in (self._ground_with(_FIRST_CELLS), self.ground):
            if self._is_over:
                return
            search = Search(ground, 0, self.budget)
            laid = []
            for order in self._orders():
                if not search.lay_all(order, room):
                    room *= 2
                    continue
                laid.append((_reach(ground, search.lyings[: self.count]), search.lyings))
                if self._is_over:
                    break
            shortest_first = sorted(laid, key=lambda each: each[0])
            if any(self._settle(lyings, room) for _, lyings in shortest_first):
                return

    def _ground_with(self, finer: float) -> Ground:
        return Ground(self.things, self.ground.field, self.ground.cell_mm / finer)

    def _lay_in_order(self) -> None:
        """Lay things one after the other, exactly: nothing overlaps that would not settle."""
        fixed = [number for number in range(self.count) if number in self.ground.fixed]
        order = [*fixed, *self._orders()[0]]
        lyings = InOrder(self.ground.field, self.cancelled).lay(self.things, order)
        if lyings is not None:
            blocks = self.search.lyings[self.count :]
            self._settle((*lyings, *blocks), _reach(self.ground, lyings))

    def _shorten(self) -> None:
        """Shorten what there is until that is stuck; then by turns another layout, and the best."""
        is_anew = False
        while not self._is_over and self.best is not None:
            self._shorten_one()
            is_anew = not is_anew
            if not (is_anew and self._begin_anew()):
                self.now = self.best

    def _begin_anew(self) -> bool:
        """Lay everything in an order of chance, longer than the best; whether that holds."""
        assert self.best is not None
        self.now = None
        length = self.best.length_mm * _LONGER
        self.search.lay_all(self._order_by_chance(), length)
        is_apart = self.search.separate(length, _PATIENCE)
        return is_apart and self._settle(self.search.lyings, length)

    def _shorten_one(self) -> None:
        """Shorten what there is now until it is stuck."""
        assert self.now is not None
        cut, failed, unsettled = _FIRST_CUT, 0, 0
        self.search.take(self.now.lyings)
        while not self._is_over and failed < _STUCK * self.count:
            target = self.now.length_mm * (1 - cut)
            if self.search.separate(target, _PATIENCE):
                if self._settle(self.search.lyings, target):
                    self.search.take(self.now.lyings)
                    failed = unsettled = 0
                    continue
                # Right to a cell, but not shorter exactly: tighten, then look closer.
                unsettled += 1
                cut += _LEAST_CUT
                if unsettled > _UNSETTLED and self.finer < _FINER_AT_MOST:
                    self._look_closer(self.now.lyings)
                    unsettled = 0
                continue
            if self._settle_nearly(target):
                self.search.take(self.now.lyings)
                failed = unsettled = 0
                continue
            failed += 1
            cut = max(cut * 0.7, _LEAST_CUT)
            # Mostly on from what was nearly right, now and then from what is right.
            is_right = failed % _NEARLY == 0
            self.search.take(self.now.lyings if is_right else self.search.nearly)
            self.search.shake(self.now.length_mm * (1 - cut))

    def _look_closer(self, lyings: Sequence[Lying]) -> None:
        """Go on with cells of half the size."""
        self.finer += 1
        self.ground = self._ground_with(2.0)
        self.search = Search(self.ground, self.chance.randrange(1 << 30), self.budget)
        self.search.take(lyings)

    def _fit(self) -> None:
        """Part what lies in each other on the sheet, from one order of laying after the other."""
        length, unsettled = self.ground.field.length_mm, 0
        for order in self._ever_more_orders():
            self.search.lay_all(order, length)
            for _ in range(_SHAKES):
                if self._is_over:
                    return
                if not self.search.separate(length, _PATIENCE):
                    if self._settle_nearly(length):
                        return
                    self.search.shake(length)
                    continue
                if self._settle(self.search.lyings, length):
                    return
                unsettled += 1
                if unsettled > _UNSETTLED and self.finer < _FINER_AT_MOST:
                    unsettled = 0
                    self._look_closer(self.search.lyings)
                self.search.shake(length)

    def _ever_more_orders(self) -> Iterator[list[int]]:
        while True:
            yield from self._orders()


def _is_shorter(one: Settled, than: Settled | None) -> bool:
    return than is None or one.length_mm < than.length_mm - 1e-6


def _reach(ground: Ground, lyings: Sequence[Lying]) -> float:
    """Where the last thing ends, about."""
    ends = (
        lying.x_mm + ground.shapes[ground.ways[number][lying.way]].right
        for number, lying in enumerate(lyings)
    )
    return float(max(ends))
