"""Bias strips from what a layout leaves: the longest free stretches at 45 degrees.

A strip with its ends along the warp is a box in sheared coordinates: c = x - s y says which slanted
line a point lies on (s is 1 for strips that rise with x, -1 for such as fall), y how far across.
So a band of lines is asked which heights are blocked in it; what lies between them is free.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from clothwise.cutting.bias_yield import along_grain_mm
from clothwise.cutting.item import Polyline

__all__ = ["GAP_STEP_MM", "FreeStrip", "Gaps", "strip_outline"]

GAP_STEP_MM = 4.0
"""Lines are tried this far apart; our own choice."""

_TOUCH_MM = 1e-6


@dataclass(frozen=True, slots=True)
class FreeStrip:
    """A free stretch: its lines meet y = 0 at `left_mm` and `right_mm`."""

    left_mm: float
    right_mm: float
    low_mm: float
    high_mm: float
    rising: bool

    @property
    def length_mm(self) -> float:
        """Along the strip."""
        return (self.high_mm - self.low_mm) * math.sqrt(2)

    def shortened(self, length_mm: float) -> FreeStrip:
        """The same from its lower end on, no longer than asked."""
        high = min(self.high_mm, self.low_mm + length_mm / math.sqrt(2))
        return FreeStrip(self.left_mm, self.right_mm, self.low_mm, high, self.rising)


def strip_outline(strip: FreeStrip) -> Polyline:
    """The strip on the cloth, anticlockwise from its lower left corner."""
    s = 1.0 if strip.rising else -1.0
    left, right, low, high = strip.left_mm, strip.right_mm, strip.low_mm, strip.high_mm
    return (
        (left + s * low, low),
        (right + s * low, low),
        (right + s * high, high),
        (left + s * high, high),
    )


class Gaps:
    """What is free on a stretch of cloth, while strips are taken from it one by one."""

    def __init__(
        self,
        along_mm: tuple[float, float],
        across_mm: tuple[float, float],
        taken: Iterable[Polygon],
        between_mm: float,
    ) -> None:
        """Begin with what is taken already.

        Args:
            along_mm: from where to where along the length, within the margins.
            across_mm: from where to where across, such as a lane of the cloth.
            taken: pieces and flaws, where they lie.
            between_mm: cloth to be left around each.
        """
        self._start, self._end = along_mm
        self._low, self._high = across_mm
        self._between = between_mm
        self._taken = [self._kept_clear(shape) for shape in taken]
        self._known: dict[tuple[float, bool], _Bands] = {}

    def take(self, strip: FreeStrip) -> None:
        """Leave this strip out from now on."""
        shape = self._kept_clear(Polygon(strip_outline(strip)))
        self._taken.append(shape)
        for bands in self._known.values():
            bands.block(shape)

    def longest(self, width_mm: float, *, rising: bool) -> FreeStrip | None:
        """Return the longest free strip of a width, the first of several along the cloth."""
        best: FreeStrip | None = None
        step = along_grain_mm(width_mm)
        bands = self._bands(step, rising=rising)
        for left, heights in zip(bands.lefts.tolist(), bands.blocked, strict=True):
            low, high = self._reach(left, left + step, rising=rising)
            for bottom, top in _between_heights(low, high, heights):
                if best is None or top - bottom > best.high_mm - best.low_mm + _TOUCH_MM:
                    best = FreeStrip(left, left + step, bottom, top, rising)
        return best

    def _bands(self, step_mm: float, *, rising: bool) -> _Bands:
        """The bands that may hold a strip, with what is taken in each; worked out once."""
        key = (step_mm, rising)
        if key not in self._known:
            first = self._start - (self._high if rising else -self._low)
            last = self._end - (self._low if rising else -self._high) - step_mm
            lefts = np.arange(first, last + _TOUCH_MM, GAP_STEP_MM)
            bands = _Bands(lefts, step_mm, 1.0 if rising else -1.0, [[] for _ in lefts])
            for shape in self._taken:
                bands.block(shape)
            self._known[key] = bands
        return self._known[key]

    def _kept_clear(self, shape: Polygon) -> Polygon:
        return shape.buffer(self._between + _TOUCH_MM) if self._between else shape

    def _reach(self, left: float, right: float, *, rising: bool) -> tuple[float, float]:
        """Between these heights a band lies within the stretch."""
        if rising:
            return max(self._low, self._start - left), min(self._high, self._end - right)
        return max(self._low, right - self._end), min(self._high, left - self._start)


@dataclass(frozen=True, slots=True)
class _Bands:
    """Bands of slanted lines, and for each the heights that something covers in part of it."""

    lefts: np.ndarray
    step_mm: float
    slant: float
    blocked: list[list[tuple[float, float]]]

    def block(self, shape: Polygon) -> None:
        """Add what a shape covers."""
        sheared = shapely.transform(
            shape, lambda p: np.column_stack((p[:, 0] - self.slant * p[:, 1], p[:, 1]))
        )
        low_c, low_y, high_c, high_y = sheared.bounds
        first, last = np.searchsorted(self.lefts, [low_c - self.step_mm, high_c])
        lefts = self.lefts[first:last]
        if not len(lefts):
            return
        boxes = shapely.box(lefts, low_y - 1.0, lefts + self.step_mm, high_y + 1.0)
        parts, of = shapely.get_parts(shapely.intersection(sheared, boxes), return_index=True)
        for band, (_, bottom, _, top) in zip(of.tolist(), shapely.bounds(parts), strict=True):
            if top > bottom:
                self.blocked[first + band].append((float(bottom), float(top)))


def _between_heights(
    low: float, high: float, blocked: Sequence[tuple[float, float]]
) -> list[tuple[float, float]]:
    """Return what is left between two heights."""
    free = []
    for bottom, top in sorted(blocked):
        if bottom > low:
            free.append((low, min(bottom, high)))
        low = max(low, top)
        if low >= high:
            break
    if low < high:
        free.append((low, high))
    return [(bottom, top) for bottom, top in free if top > bottom]
