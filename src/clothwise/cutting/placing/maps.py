"""Maps of what it costs to lie at each whole place: the costs in all others, shifted, add up.

The map of a shape that many things have is kept from one look to the next and follows what moved
since, which is little. In it all pairs weigh 1; what weighs more is added for one look. Costs are
whole numbers, so that what is taken out as often as it is put in leaves nothing behind.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwise.cutting.placing.compiling import compiled
from clothwise.cutting.placing.vectors import LANES, add_times, add_weighed, as_floats, keep_lower

__all__ = ["Frame", "Kept", "kept_maps", "lowest_place"]

Floats = NDArray[np.float32]
Doubles = NDArray[np.float64]
Wholes = NDArray[np.int32]
Ints = NDArray[np.int64]

_COST_UNITS = 64  # as in `depth_table`; a test compares them


class Frame(NamedTuple):
    """Which whole places a map has: columns along the strip, rows across, in multiples of `LANES`.

    Its cells lie in a flat array by columns. Before the first column and after each lie `LANES`
    cells that mean nothing: what is added, so many cells in one step, may begin and end in them.
    """

    x_first: int
    columns: int
    y_first: int
    rows: int


class Kept(NamedTuple):
    """Maps that are kept, by number of the moving shape; changed in place.

    Attributes:
        sums: of all maps, one after the other.
        frames: (shapes, 5), where each starts in `sums`, and its `Frame`. Start is -1 for a shape
            whose map is not kept.
        seen: (shapes, things, 3), what each map holds of each thing: its shape, -1 for nothing, and
            the column and row in which it lay.
    """

    sums: Wholes
    frames: Ints
    seen: Ints


def kept_maps(frames: Mapping[int, Frame], shapes: int, things: int) -> Kept:
    """Return maps in which nothing lies yet.

    Args:
        frames: by number of the shape.
        shapes, things: how many there are.
    """
    table = np.full((shapes, 5), -1, dtype=np.int64)
    used = 0
    for shape, frame in frames.items():
        table[shape] = [used, *frame]
        used += LANES + frame.columns * (frame.rows + LANES)
    seen = np.full((shapes if frames else 0, things, 3), -1, dtype=np.int64)
    return Kept(np.zeros(used, dtype=np.int32), table, seen)


@compiled
def lowest_place(
    moving: int,
    columns: Ints,
    rows: Ints,
    chance: float,
    shapes: Ints,
    at: Doubles,
    weights: Floats,
    kept: Kept,
    costs: Wholes,
    table: Ints,
) -> tuple[float, int, int, int]:
    """Return the allowed whole place in which it costs least to lie in all others, weighed.

    Where others lie counts to a whole cell.

    Args:
        moving: number of the moving shape.
        columns, rows: cells of the allowed places, each ascending.
        chance: from 0 to 1; which of equally low places is taken.
        shapes: of each other thing, -1 for one that does not count.
        at: (things, 2), where each lies.
        weights: of each, 1 or more.
        kept: that of the moving shape follows where others lie, if it is kept.
        costs, table: of a `DepthTable`.

    Returns:
        What it costs, the numbers of the column and of the row, how many cells were added.
    """
    frame, sums, added = _map(moving, columns, rows, shapes, at, weights, kept, costs, table)
    least, column, row = _lowest(sums, frame, columns, rows, chance)
    return least / _COST_UNITS, column, row, added


@compiled
def _map(
    moving: int,
    columns: Ints,
    rows: Ints,
    shapes: Ints,
    at: Doubles,
    weights: Floats,
    kept: Kept,
    costs: Wholes,
    table: Ints,
) -> tuple[Frame, Floats, int]:
    """Add up what it costs to lie in all others.

    Returns:
        Its frame, which has no other columns than those from the first to the last that is
        allowed; costs in units; how many cells were added.
    """
    wide = columns[-1] - columns[0] + 1
    is_kept = kept.frames[moving, 0] >= 0
    added = 0
    if is_kept:
        added = _follow(moving, shapes, at, kept, costs, table)
        frame = Frame(columns[0], wide, kept.frames[moving, 3], kept.frames[moving, 4])
    else:
        high = -(-(rows[-1] - rows[0] + 1) // LANES) * LANES
        frame = Frame(columns[0], wide, rows[0], high)
    length = frame.rows + LANES
    sums = np.zeros(LANES + wide * length, dtype=np.float32)
    added += wide * length
    if is_kept:
        begin = kept.frames[moving, 0] + (columns[0] - kept.frames[moving, 1]) * length
        for k in range(LANES, LANES + wide * length, LANES):
            as_floats(sums, k, kept.sums, begin + k)
    own = table[:, moving]
    for other in range(shapes.shape[0]):
        still = shapes[other]
        weight = weights[other] - np.float32(1.0 if is_kept else 0.0)
        if still < 0 or weight == 0:
            continue
        x, y = int(np.rint(at[other, 0])), int(np.rint(at[other, 1]))
        met, high, to, begin, stride = _where(still, x, y, frame, own)
        added += met * high
        for _ in range(met):
            for k in range(0, high, LANES):
                add_weighed(sums, to + k, costs, begin + k, weight)
            to, begin = to + length, begin + stride
    return frame, sums, added


@compiled
def _follow(moving: int, shapes: Ints, at: Doubles, kept: Kept, costs: Wholes, table: Ints) -> int:
    """Let a kept map follow where others lie now; return how many cells were added."""
    start, x_first, columns, y_first, rows = kept.frames[moving]
    frame, seen = Frame(x_first, columns, y_first, rows), kept.seen[moving]
    sums = kept.sums[start : start + LANES + columns * (rows + LANES)]
    own = table[:, moving]
    laid = changes = added = 0
    for other in range(shapes.shape[0]):
        x, y = int(np.rint(at[other, 0])), int(np.rint(at[other, 1]))
        laid += shapes[other] >= 0
        if not _is_seen(seen[other], shapes[other], x, y):
            changes += (seen[other, 0] >= 0) + (shapes[other] >= 0)
    if changes > laid:  # it takes less to begin anew
        sums[:] = 0
        seen[:, 0] = -1
        added += sums.shape[0]
    for other in range(shapes.shape[0]):
        x, y = int(np.rint(at[other, 0])), int(np.rint(at[other, 1]))
        if _is_seen(seen[other], shapes[other], x, y):
            continue
        was = seen[other]
        added += _add(-1, was[0], was[1], was[2], sums, frame, costs, own)
        added += _add(1, shapes[other], x, y, sums, frame, costs, own)
        seen[other, 0], seen[other, 1], seen[other, 2] = shapes[other], x, y
    return added


@compiled
def _add(
    times: int, still: int, x: int, y: int, sums: Wholes, frame: Frame, costs: Wholes, table: Ints
) -> int:
    """Add the costs in a thing so many times, if there is one; return how many cells it took."""
    if still < 0:
        return 0
    met, high, to, begin, stride = _where(still, x, y, frame, table)
    for _ in range(met):
        for k in range(0, high, LANES):
            add_times(sums, to + k, costs, begin + k, times)
        to, begin = to + frame.rows + LANES, begin + stride
    return int(met * high)


@compiled
def _is_seen(seen: Ints, shape: int, x: int, y: int) -> bool:
    return bool(seen[0] == shape and (shape < 0 or (seen[1] == x and seen[2] == y)))


@compiled
def _where(still: int, x: int, y: int, frame: Frame, table: Ints) -> tuple[int, int, int, int, int]:
    """Where the costs in a thing that lies in a column and row go in a map.

    The table is that of the moving shape.

    Returns:
        How many columns they meet, 0 if none; how many cells of each, in steps of `LANES`; where
        the first of these is in the map and in the costs; how far the next column is in the costs.
    """
    stride = table[still, 5]
    left = x + table[still, 3] - frame.x_first
    low = y + table[still, 4] - frame.y_first
    first, end = max(left, 0), min(left + table[still, 1], frame.columns)
    below = max(-low, 0) // LANES * LANES
    high = min(stride - below, -(-(frame.rows - low - below) // LANES) * LANES)
    if first >= end or high <= 0:
        return 0, 0, 0, 0, stride
    to = LANES + first * (frame.rows + LANES) + low + below
    begin = table[still, 0] + (first - left) * stride + below
    return end - first, high, to, begin, stride


@compiled
def _lowest(
    sums: Floats, frame: Frame, columns: Ints, rows: Ints, chance: float
) -> tuple[float, int, int]:
    """The least cost among allowed places, and one that has it; the first, if chance is 0."""
    length, first = frame.rows + LANES, LANES - frame.y_first
    across = rows[-1] - rows[0] + 1
    lows = np.full(across + LANES, np.inf, dtype=np.float32)
    for i in range(columns.shape[0]):
        start = (columns[i] - columns[0]) * length + first + rows[0]
        for k in range(0, across, LANES):
            keep_lower(lows, k, sums, start + k)
    least = np.float32(np.inf)
    for j in range(rows.shape[0]):
        least = min(least, lows[rows[j] - rows[0]])
    low_rows = np.empty(rows.shape[0], dtype=np.int64)
    low_count = 0
    for j in range(rows.shape[0]):
        if lows[rows[j] - rows[0]] == least:
            low_rows[low_count] = j
            low_count += 1
    count = 0
    for i in range(columns.shape[0]):
        start = (columns[i] - columns[0]) * length + first
        for k in range(low_count):
            count += sums[start + rows[low_rows[k]]] == least
    wanted = min(int(chance * count), count - 1)
    for i in range(columns.shape[0]):
        start = (columns[i] - columns[0]) * length + first
        for k in range(low_count):
            if sums[start + rows[low_rows[k]]] == least:
                if wanted == 0:
                    return float(least), i, low_rows[k]
                wanted -= 1
    return float(least), 0, 0
