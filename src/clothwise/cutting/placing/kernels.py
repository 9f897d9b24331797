"""The inner loops of the packer, compiled: maps of depth added up, their lowest place found.

All take the depths of all pairs of shapes in one flat array, see `DepthTable`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numba
import numpy as np
from numpy.typing import NDArray

__all__ = ["compiled", "depths_of", "lowest", "map_depths"]

Floats = NDArray[np.float32]
Ints = NDArray[np.int64]


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """Compile a function, and keep it for the next start where a folder can be written to."""
    try:
        return numba.njit(cache=True, fastmath=True, nogil=True)(function)
    except RuntimeError:  # no folder for the cache
        return numba.njit(fastmath=True, nogil=True)(function)


@compiled
def map_depths(
    found: Floats,
    x_first: int,
    y_first: int,
    moving: int,
    shapes: Ints,
    cells: Ints,
    weights: Floats,
    buffer: Floats,
    table: Ints,
) -> int:
    """Add up, for each place of a moving shape, how deep it lies in all others, weighed.

    Args:
        found: (columns, rows), overwritten.
        x_first, y_first: cell of the place `found[0, 0]`.
        moving: number of the moving shape.
        shapes: of each other thing, -1 for one that is not to be added.
        cells: (things, 2), where each lies.
        weights: of each.
        buffer, table: of a `DepthTable`.

    Returns:
        How many cells were added.
    """
    columns, rows = found.shape
    found[:, :] = 0.0
    added = columns * rows
    for other in range(shapes.shape[0]):
        still = shapes[other]
        if still < 0:
            continue
        start = table[still, moving, 0]
        wide, high = table[still, moving, 1], table[still, moving, 2]
        left = cells[other, 0] + table[still, moving, 3] - x_first
        low = cells[other, 1] + table[still, moving, 4] - y_first
        is_reversed = table[still, moving, 5] == 1
        a, b = max(left, 0), min(left + wide, columns)
        c, d = max(low, 0), min(low + high, rows)
        if a >= b or c >= d:
            continue
        weight = weights[other]
        added += (b - a) * (d - c)
        for column in range(a, b):
            if is_reversed:
                at = start + (wide - 1 - (column - left)) * high + (high - 1 - (c - low))
                for row in range(d - c):
                    found[column, c + row] += weight * buffer[at - row]
            else:
                at = start + (column - left) * high + (c - low)
                for row in range(d - c):
                    found[column, c + row] += weight * buffer[at + row]
    return int(added)


@compiled
def lowest(found: Floats, columns: Ints, rows: Ints, chance: float) -> tuple[float, int, int]:
    """Return the least depth among allowed places, and one of the places that have it.

    Args:
        found: (columns, rows).
        columns, rows: the allowed ones.
        chance: from 0 to 1; which of equally low places is taken.
    """
    least = np.float32(np.inf)
    count = 0
    for i in range(columns.shape[0]):
        for j in range(rows.shape[0]):
            value = found[columns[i], rows[j]]
            if value < least:
                least, count = value, 1
            elif value == least:
                count += 1
    wanted = min(int(chance * count), count - 1)
    for i in range(columns.shape[0]):
        for j in range(rows.shape[0]):
            if found[columns[i], rows[j]] == least:
                if wanted == 0:
                    return float(least), i, j
                wanted -= 1
    return float(least), 0, 0


@compiled
def depths_of(
    moving: int, cell: Ints, shapes: Ints, cells: Ints, buffer: Floats, table: Ints
) -> Floats:
    """Return how deep a shape at a cell lies in each other thing.

    Args:
        moving: number of the shape.
        cell: where it lies.
        shapes: of each other thing, -1 for one that does not count.
        cells: (things, 2), where each lies.
        buffer, table: of a `DepthTable`.
    """
    found = np.zeros(shapes.shape[0], dtype=np.float32)
    for other in range(shapes.shape[0]):
        still = shapes[other]
        if still < 0:
            continue
        wide, high = table[still, moving, 1], table[still, moving, 2]
        column = cell[0] - cells[other, 0] - table[still, moving, 3]
        row = cell[1] - cells[other, 1] - table[still, moving, 4]
        if not (0 <= column < wide and 0 <= row < high):
            continue
        if table[still, moving, 5] == 1:
            column, row = wide - 1 - column, high - 1 - row
        found[other] = buffer[table[still, moving, 0] + column * high + row]
    return found
