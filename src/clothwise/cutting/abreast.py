"""Whether two pieces find room beside each other: the width that they take together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from clothwise.cutting.item import Polyline
from clothwise.cutting.sliding import slide_distance

__all__ = ["above_mm", "abreast_mm", "extent_mm", "half_turned", "resting_mm", "turned_over"]

_STEPS = 12
"""Places tried along the longer of the two pieces. Our own choice; a few mm finer is no gain."""


def abreast_mm(ones: Sequence[Polyline], others: Sequence[Polyline]) -> float:
    """Return the least width that two pieces take side by side, the shorter within the longer.

    Args:
        ones: the first piece in each way in which it may lie, x along the cloth, with half of the
            spacing all round.
        others: the second piece likewise.
    """
    return min(above_mm(ones, others), above_mm(others, ones))


def above_mm(lowers: Sequence[Polyline], uppers: Sequence[Polyline]) -> float:
    """Return the same if it is decided which of them lies nearer to y = 0, as on a fold."""
    return min(_over(lower, upper) for lower in lowers for upper in uppers)


def resting_mm(lower: Polyline, upper: Polyline) -> float:
    """Return how far up an outline is put to rest on another; minus infinity if it lies beside."""
    # What slides along x in the one picture comes down along y in the other.
    return slide_distance(_swapped(lower), _swapped(upper))


def extent_mm(outline: Polyline, axis: int) -> tuple[float, float]:
    """Return from where to where an outline reaches along x (0) or y (1)."""
    values = [point[axis] for point in outline]
    return min(values), max(values)


def half_turned(outline: Polyline) -> Polyline:
    """Return the outline after half a turn."""
    return tuple((-x, -y) for x, y in outline)


def turned_over(outline: Polyline) -> Polyline:
    """Return the outline turned over about a line along the cloth, its top as it was."""
    return tuple((x, -y) for x, y in outline)[::-1]


def _over(lower: Polyline, upper: Polyline) -> float:
    """Return the width of both, `upper` let down on `lower` at the place that suits best."""
    return min(_width(lower, moved) for moved in _along(lower, upper))


def _along(lower: Polyline, upper: Polyline) -> Iterator[Polyline]:
    (low_start, low_end), (start, end) = extent_mm(lower, 0), extent_mm(upper, 0)
    room = (low_end - low_start) - (end - start)
    steps = _STEPS if abs(room) > 1e-6 else 1
    for at in np.linspace(0.0, room, steps):
        shift = low_start - start + float(at)
        yield tuple((x + shift, y) for x, y in upper)


def _width(lower: Polyline, upper: Polyline) -> float:
    down = resting_mm(lower, upper)
    bottom, top = extent_mm(lower, 1)
    low, high = extent_mm(upper, 1)
    return max(top, high + down) - min(bottom, low + down)


def _swapped(outline: Polyline) -> Polyline:
    return tuple((y, x) for x, y in outline)
