"""How far across two outlines may not lie from each other, for a distance along. Exact.

An outline is cut across the strip at each of its corners, into trapezoids. Where a trapezoid of
one and one of the other share a stretch along, they collide in one interval of distances across;
all these together are where the outlines collide.

Source: our own.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from clothwise.cutting.item import Polyline

__all__ = ["Trapezoids", "collisions", "trapezoids"]

Trapezoids = NDArray[np.float64]
"""(n, 6), mm: where each begins and ends along, its lower edge there, its upper edge there."""

_TOUCH_MM = 1e-6


def trapezoids(outline: Polyline) -> Trapezoids:
    """Cut an outline across the strip at each of its corners."""
    points = np.asarray(outline, dtype=np.float64)
    ends = np.roll(points, -1, axis=0)
    cuts = np.unique(points[:, 0])
    rows = []
    for left, right in pairwise(cuts.tolist()):
        if right - left <= _TOUCH_MM:
            continue
        spans = (np.minimum(points[:, 0], ends[:, 0]) <= left) & (
            np.maximum(points[:, 0], ends[:, 0]) >= right
        )
        begin, end = points[spans], ends[spans]
        rise = (end[:, 1] - begin[:, 1]) / (end[:, 0] - begin[:, 0])
        at_left = begin[:, 1] + (left - begin[:, 0]) * rise
        at_right = begin[:, 1] + (right - begin[:, 0]) * rise
        upward = np.argsort(at_left + at_right)
        for low, high in zip(upward[::2], upward[1::2], strict=True):
            rows.append((left, right, at_left[low], at_right[low], at_left[high], at_right[high]))
    return np.array(rows, dtype=np.float64).reshape(-1, 6)


def collisions(
    fixed: Trapezoids, moving: Trapezoids, along_mm: float
) -> tuple[tuple[float, float], ...]:
    """Return from where to where across the moving outline collides, merged, in order.

    Args:
        fixed, moving: both outlines, their origins at one place.
        along_mm: how far the moving one lies along from there.
    """
    return tuple((low, high) for low, high in _inner_loop()(fixed, moving, along_mm).tolist())


@cache
def _inner_loop() -> Callable[[Trapezoids, Trapezoids, float], Trapezoids]:
    """Compiled when it is first used: loading the compiler takes longer than most commands."""
    from clothwise.cutting.placing.compiling import compiled

    return compiled(_merged)


def _merged(fixed: Trapezoids, moving: Trapezoids, along_mm: float) -> Trapezoids:
    """One interval for each two trapezoids that share a stretch along; then all put together."""
    found = np.empty((fixed.shape[0] * moving.shape[0], 2))
    count = 0
    for i in range(fixed.shape[0]):
        for k in range(moving.shape[0]):
            left = max(fixed[i, 0], moving[k, 0] + along_mm)
            right = min(fixed[i, 1], moving[k, 1] + along_mm)
            if right - left <= _TOUCH_MM:
                continue
            low, high = np.inf, -np.inf
            for x in (left, right):
                share = (x - fixed[i, 0]) / (fixed[i, 1] - fixed[i, 0])
                their = (x - along_mm - moving[k, 0]) / (moving[k, 1] - moving[k, 0])
                floor = fixed[i, 2] + share * (fixed[i, 3] - fixed[i, 2])
                ceiling = fixed[i, 4] + share * (fixed[i, 5] - fixed[i, 4])
                under = moving[k, 2] + their * (moving[k, 3] - moving[k, 2])
                over = moving[k, 4] + their * (moving[k, 5] - moving[k, 4])
                low, high = min(low, floor - over), max(high, ceiling - under)
            found[count, 0], found[count, 1] = low, high
            count += 1
    order = np.argsort(found[:count, 0])
    merged = np.empty((count, 2))
    last = -1
    for n in order:
        low, high = found[n, 0], found[n, 1]
        if last >= 0 and low <= merged[last, 1] + _TOUCH_MM:
            merged[last, 1] = max(merged[last, 1], high)
        else:
            last += 1
            merged[last, 0], merged[last, 1] = low, high
    return merged[: last + 1]
