"""Lays things one after the other, each at the first place that is free and allowed. Exact.

For outlines that may lie at few places only, such as those of pieces that must meet on stripes.
Where two outlines collide is worked out once for each distance along (`collisions`). A thing is
put at the first place along where a place across is left.

Source: bottom-left placement, as is usual for irregular shapes.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from clothwise.cutting.item import Polyline
from clothwise.cutting.placing.collisions import Trapezoids, collisions, trapezoids
from clothwise.cutting.placing.field import Field, Lying, Steps, Thing, Way

__all__ = ["InOrder"]

Interval = tuple[float, float]

_GRID_MM = 36.0
"""From one place to the next along the strip for things that may lie anywhere. Our own choice."""
_TOUCH_MM = 1e-6
_KEY_DECIMALS = 3


@dataclass(frozen=True)
class _Shape:
    """An outline, cut across the strip."""

    trapezoids: Trapezoids
    left: float
    right: float
    bottom: float
    top: float


@dataclass(frozen=True)
class _Laid:
    outline: Polyline
    shape: _Shape
    x_mm: float
    y_mm: float


class InOrder:
    """Lays things on one strip; outlines that were compared once are not compared again.

    Args:
        field: the strip.
        cancelled: asked after each thing; then nothing is laid.
    """

    def __init__(self, field: Field, cancelled: Callable[[], bool] = lambda: False) -> None:
        self._field = field
        self._cancelled = cancelled
        self._shapes: dict[Polyline, _Shape] = {}
        self._collisions: dict[tuple[int, int, float], tuple[Interval, ...]] = {}
        self._taken = [_Laid(each, self._shape(each), 0.0, 0.0) for each in field.taken]

    def lay(
        self, things: Sequence[Thing], order: Sequence[int], most_mm: float = math.inf
    ) -> tuple[Lying, ...] | None:
        """Return where all things lie, those that are fixed first; None if one finds no place.

        Args:
            things: to be laid.
            order: of their numbers.
            most_mm: of the strip that may be taken.
        """
        most_mm = min(most_mm, self._field.length_mm)
        lyings: dict[int, Lying] = {}
        laid = [*self._taken]
        for number in sorted(order, key=lambda number: things[number].fixed is None):
            thing = things[number]
            lying = thing.fixed or self._first_place(thing, laid, most_mm)
            if lying is None or self._cancelled():
                return None
            lyings[number] = lying
            outline = thing.ways[lying.way].outline
            laid.append(_Laid(outline, self._shape(outline), lying.x_mm, lying.y_mm))
        return tuple(lyings[number] for number in range(len(things)))

    def length_mm(self, things: Sequence[Thing], lyings: Sequence[Lying]) -> float:
        """Return how much of the strip is taken."""
        return max(
            lying.x_mm + self._shape(thing.ways[lying.way].outline).right
            for thing, lying in zip(things, lyings, strict=True)
        )

    def _first_place(self, thing: Thing, laid: Sequence[_Laid], most_mm: float) -> Lying | None:
        """The place whose end along the strip comes first, of all ways; then the lowest."""
        best: tuple[float, float] | None = None
        found = None
        for number, way in enumerate(thing.ways):
            shape = self._shape(way.outline)
            most = most_mm if best is None else best[0] + _TOUCH_MM
            place = self._first_of(way, shape, laid, most - shape.right)
            if place is not None:
                score = round(place[0] + shape.right, 3), place[1] + shape.bottom
                if best is None or score < best:
                    best, found = score, Lying(number, *place)
        return found

    def _first_of(
        self, way: Way, shape: _Shape, laid: Sequence[_Laid], before_mm: float
    ) -> tuple[float, float] | None:
        ends = [each.x_mm + each.shape.right - shape.left for each in laid]
        for x in _places(way.x, -shape.left, ends):
            if x > before_mm + _TOUCH_MM:
                return None
            y = self._lowest(way, shape, laid, x)
            if y is not None:
                return x, y
        return None

    def _lowest(self, way: Way, shape: _Shape, laid: Sequence[_Laid], x_mm: float) -> float | None:
        low = max(way.low_mm, 0.0) - shape.bottom
        high = min(way.high_mm, self._field.width_mm) - shape.top
        taken = sorted(
            (first + each.y_mm, last + each.y_mm)
            for each in laid
            if each.x_mm + each.shape.left < x_mm + shape.right - _TOUCH_MM
            and x_mm + shape.left < each.x_mm + each.shape.right - _TOUCH_MM
            for first, last in self._collide(each, way.outline, shape, x_mm - each.x_mm)
        )
        if way.y is None:
            y = low
            for first, last in taken:
                if first >= y - _TOUCH_MM:
                    break
                y = max(y, last)
            return y if y <= high + _TOUCH_MM else None
        for y in _lattice(way.y, low, high):
            if not any(first + _TOUCH_MM < y < last - _TOUCH_MM for first, last in taken):
                return y
        return None

    def _collide(
        self, fixed: _Laid, outline: Polyline, shape: _Shape, dx_mm: float
    ) -> tuple[Interval, ...]:
        key = (id(fixed.shape), id(shape), round(dx_mm, _KEY_DECIMALS))
        if key not in self._collisions:
            self._collisions[key] = collisions(fixed.shape.trapezoids, shape.trapezoids, dx_mm)
        return self._collisions[key]

    def _shape(self, outline: Polyline) -> _Shape:
        if outline not in self._shapes:
            xs, ys = [x for x, _ in outline], [y for _, y in outline]
            self._shapes[outline] = _Shape(trapezoids(outline), min(xs), max(xs), min(ys), max(ys))
        return self._shapes[outline]


def _places(steps: Steps | None, low_mm: float, ends_mm: Sequence[float]) -> Iterator[float]:
    """Places along from the first one on, up to one that is surely free.

    Anywhere means: on a grid, and where something else ends.
    """
    free_mm = max(ends_mm, default=low_mm)
    if steps is None:
        grid = [low_mm + k * _GRID_MM for k in range(math.ceil((free_mm - low_mm) / _GRID_MM))]
        yield from sorted({low_mm, *grid, *(end for end in ends_mm if end > low_mm)})
    elif not steps.step_mm:
        if steps.offset_mm >= low_mm - _TOUCH_MM:
            yield steps.offset_mm
    else:
        first = math.ceil((low_mm - _TOUCH_MM - steps.offset_mm) / steps.step_mm)
        last = max(first, math.ceil((free_mm - steps.offset_mm) / steps.step_mm))
        for number in range(first, last + 1):
            yield steps.offset_mm + number * steps.step_mm


def _lattice(steps: Steps, low_mm: float, high_mm: float) -> Iterator[float]:
    """Places across between two limits."""
    if not steps.step_mm:
        if low_mm - _TOUCH_MM <= steps.offset_mm <= high_mm + _TOUCH_MM:
            yield steps.offset_mm
        return
    number = math.ceil((low_mm - _TOUCH_MM - steps.offset_mm) / steps.step_mm)
    while (y := steps.offset_mm + number * steps.step_mm) <= high_mm + _TOUCH_MM:
        yield y
        number += 1
