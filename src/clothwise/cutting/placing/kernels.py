"""The inner loops of the packer, compiled: what overlaps moves, one thing after the other.

All lengths are in cells. How deep shapes lie in each other stands in a `DepthTable`, over whole
cells of displacement. Maps of places are added up from it to a whole cell; between cells, depths
are interpolated, so that places are exact to a small part of a cell though tables are coarse.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwise.cutting.placing.compiling import compiled

__all__ = ["Pairs", "State", "Ways", "depths_of", "improved", "lowest", "map_penalties"]

Floats = NDArray[np.float32]
Doubles = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

_TOUCHING = 0.02
"""Cells: what overlaps less touches; settling parts it."""
_STEEP = 3.0  # as in `depth_table`; a test compares them
_NEAR = 2.0
"""Cells: things further away cannot be met by moving from a whole place to one beside it."""
_FIRST_STEP, _LAST_STEP = 0.5, 0.05
"""Cells: how far a thing is moved to look for a lower place beside it; halved in between."""
_LOOK = 8
"""What looking at one depth between cells counts for, in cells added to maps."""
_DIRECTIONS = np.array(
    [[1, 0], [-1, 0], [0, 1], [0, -1], [1, 1], [-1, 1], [1, -1], [-1, -1]], dtype=np.float64
)


class Pairs(NamedTuple):
    """How deep shapes lie in each other, and what that costs; see `DepthTable`."""

    depths: Floats
    penalties: Floats
    table: Ints


class Ways(NamedTuple):
    """In which ways and places things may lie.

    Attributes:
        first_way, way_count: of the ways of each thing.
        shape: of each way.
        xs, ys: places along and across of all ways, one after the other, each ascending.
        columns, rows: the same in whole cells.
        x_first, x_count, y_first, y_count: where those of each way are.
        x_free, y_free: whether a way may also lie between two of its places.
    """

    first_way: Ints
    way_count: Ints
    shape: Ints
    xs: Doubles
    ys: Doubles
    columns: Ints
    rows: Ints
    x_first: Ints
    x_count: Ints
    y_first: Ints
    y_count: Ints
    x_free: Flags
    y_free: Flags


class State(NamedTuple):
    """Where things lie; changed in place.

    Attributes:
        way: of each thing.
        at: (things, 2).
        weights, depth: (things, things), of each pair.
        is_laid: which things others are kept from.
        chance: (1,), state of the random numbers.
    """

    way: Ints
    at: Doubles
    weights: Floats
    depth: Floats
    is_laid: Flags
    chance: NDArray[np.uint64]


@compiled
def improved(
    order: Ints,
    first: int,
    always: bool,
    anywhere: bool,
    state: State,
    ways: Ways,
    pairs: Pairs,
) -> tuple[int, int]:
    """Move each thing that overlaps to where it lies least deep in others, one after the other.

    Args:
        order: numbers of things.
        first: where in the order to begin.
        always: whether things that overlap nothing move too.
        anywhere: whether all places are weighed, or only those beside where a thing lies.
        state: changed in place.
        ways, pairs: as given.

    Returns:
        Where in the order it ended, which is before a thing whose pairs are not all known yet or at
        the end; and how much work was done, in cells added to maps.
    """
    count = state.way.shape[0]
    near = np.empty(count, dtype=np.int64)
    shapes = np.empty(count, dtype=np.int64)
    work = 0
    for k in range(first, order.shape[0]):
        number = order[k]
        if not always and not state.depth[number].any():
            continue
        for other in range(count):
            is_other = other != number and state.is_laid[other]
            shapes[other] = ways.shape[state.way[other]] if is_other else -1
        if not _is_known(number, shapes, ways, pairs.table):
            return k, work
        way, x, y, added = _best_place(number, anywhere, state, ways, pairs, shapes, near)
        work += added
        state.way[number] = way
        state.at[number, 0], state.at[number, 1] = x, y
        depth = depths_of(ways.shape[way], x, y, shapes, state.at, pairs.depths, pairs.table)
        state.depth[number, :] = depth
        state.depth[:, number] = depth
        state.is_laid[number] = True
    return order.shape[0], work


@compiled
def map_penalties(
    found: Floats,
    x_first: int,
    y_first: int,
    moving: int,
    shapes: Ints,
    at: Doubles,
    weights: Floats,
    penalties: Floats,
    table: Ints,
) -> int:
    """Add up, for each whole place of a moving shape, what it costs to lie in all others, weighed.

    Where others lie counts to a whole cell.

    Args:
        found: (columns, rows), overwritten.
        x_first, y_first: cell of the place `found[0, 0]`.
        moving: number of the moving shape.
        shapes: of each other thing, -1 for one that is not to be added.
        at: (things, 2), where each lies.
        weights: of each.
        penalties, table: of a `DepthTable`.

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
        left = int(np.rint(at[other, 0])) + table[still, moving, 3] - x_first
        low = int(np.rint(at[other, 1])) + table[still, moving, 4] - y_first
        a, b = max(left, 0), min(left + wide, columns)
        c, d = max(low, 0), min(low + high, rows)
        if a >= b or c >= d:
            continue
        weight = weights[other]
        added += (b - a) * (d - c)
        for column in range(a, b):
            begin = start + (column - left) * high + (c - low)
            line = found[column, c:d]
            own = penalties[begin : begin + d - c]
            for row in range(d - c):
                line[row] += weight * own[row]
    return int(added)


@compiled
def lowest(found: Floats, columns: Ints, rows: Ints, chance: float) -> tuple[float, int, int]:
    """Return the least value among allowed places, and one of the places that have it.

    Args:
        found: (columns, rows), from the first allowed ones on.
        columns, rows: the allowed ones.
        chance: from 0 to 1; which of equally low places is taken.
    """
    least = np.float32(np.inf)
    count = 0
    for i in range(columns.shape[0]):
        line = found[columns[i] - columns[0]]
        for j in range(rows.shape[0]):
            value = line[rows[j] - rows[0]]
            if value < least:
                least, count = value, 1
            elif value == least:
                count += 1
    wanted = min(int(chance * count), count - 1)
    for i in range(columns.shape[0]):
        line = found[columns[i] - columns[0]]
        for j in range(rows.shape[0]):
            if line[rows[j] - rows[0]] == least:
                if wanted == 0:
                    return float(least), i, j
                wanted -= 1
    return float(least), 0, 0


@compiled
def depths_of(
    moving: int, x: float, y: float, shapes: Ints, at: Doubles, depths: Floats, table: Ints
) -> Floats:
    """Return how deep a shape at a place lies in each other thing.

    Args:
        moving: number of the shape.
        x, y: where it lies.
        shapes: of each other thing, -1 for one that does not count.
        at: (things, 2), where each lies.
        depths, table: of a `DepthTable`.
    """
    found = np.zeros(shapes.shape[0], dtype=np.float32)
    for other in range(shapes.shape[0]):
        if shapes[other] >= 0:
            depth = _depth(shapes[other], moving, x - at[other, 0], y - at[other, 1], depths, table)
            found[other] = depth if depth > _TOUCHING else 0.0
    return found


@compiled
def _best_place(
    number: int,
    anywhere: bool,
    state: State,
    ways: Ways,
    pairs: Pairs,
    shapes: Ints,
    near: Ints,
) -> tuple[int, float, float, int]:
    """Where a thing lies least deep in others: way, place, work.

    Beside where it lies now and, if all places are weighed, beside the lowest one of each way.
    """
    best = np.inf
    best_way, best_x, best_y = state.way[number], state.at[number, 0], state.at[number, 1]
    work = 0
    weights = state.weights[number]
    for turn in range(ways.way_count[number] + 1):
        if turn > 0 and not anywhere and best < np.inf:
            break
        way = state.way[number] if turn == 0 else ways.first_way[number] + turn - 1
        if ways.x_count[way] == 0 or ways.y_count[way] == 0:
            continue
        in_x = slice(ways.x_first[way], ways.x_first[way] + ways.x_count[way])
        in_y = slice(ways.y_first[way], ways.y_first[way] + ways.y_count[way])
        xs, ys, moving = ways.xs[in_x], ways.ys[in_y], ways.shape[way]
        if turn == 0:
            x, y = state.at[number, 0], state.at[number, 1]
            if ways.x_free[way]:
                x = min(max(x, xs[0]), xs[-1])
            if ways.y_free[way]:
                y = min(max(y, ys[0]), ys[-1])
            if not (xs[0] <= x <= xs[-1] and ys[0] <= y <= ys[-1]):
                continue
        else:
            columns, rows = ways.columns[in_x], ways.rows[in_y]
            found = np.empty((columns[-1] - columns[0] + 1, rows[-1] - rows[0] + 1), np.float32)
            work += map_penalties(
                found,
                columns[0],
                rows[0],
                moving,
                shapes,
                state.at,
                weights,
                pairs.penalties,
                pairs.table,
            )
            _, i, j = lowest(found, columns, rows, _random(state.chance))
            x, y = xs[i], ys[j]
        low_x, high_x = (xs[0], xs[-1]) if ways.x_free[way] else (x, x)
        low_y, high_y = (ys[0], ys[-1]) if ways.y_free[way] else (y, y)
        value, x, y, looks = _beside(
            x, y, low_x, high_x, low_y, high_y, moving, shapes, state.at, weights, pairs, near
        )
        work += _LOOK * looks
        if value < best:
            best, best_way, best_x, best_y = value, way, x, y
            if best <= 0.0:
                break
    return best_way, best_x, best_y, work


@compiled
def _beside(
    x: float,
    y: float,
    low_x: float,
    high_x: float,
    low_y: float,
    high_y: float,
    moving: int,
    shapes: Ints,
    at: Doubles,
    weights: Floats,
    pairs: Pairs,
    near: Ints,
) -> tuple[float, float, float, int]:
    """Go from a place to lower ones beside it, in ever smaller steps.

    Returns:
        What it costs to lie there, weighed, the place, and how many depths were looked at.
    """
    count = 0
    for other in range(shapes.shape[0]):
        still = shapes[other]
        if still < 0:
            continue
        column = x - at[other, 0] - pairs.table[still, moving, 3]
        row = y - at[other, 1] - pairs.table[still, moving, 4]
        if -_NEAR <= column <= pairs.table[still, moving, 1] + _NEAR and (
            -_NEAR <= row <= pairs.table[still, moving, 2] + _NEAR
        ):
            near[count] = other
            count += 1
    best = _cost(near, count, moving, x, y, shapes, at, weights, pairs)
    looks = count
    step = _FIRST_STEP
    while step > _LAST_STEP and best > 0.0:
        is_moved = False
        for direction in range(_DIRECTIONS.shape[0]):
            other_x = min(max(x + step * _DIRECTIONS[direction, 0], low_x), high_x)
            other_y = min(max(y + step * _DIRECTIONS[direction, 1], low_y), high_y)
            if other_x == x and other_y == y:
                continue
            value = _cost(near, count, moving, other_x, other_y, shapes, at, weights, pairs)
            looks += count
            if value < best:
                best, x, y, is_moved = value, other_x, other_y, True
                if best <= 0.0:
                    break
        if not is_moved:
            step *= 0.5
    return best, x, y, looks


@compiled
def _cost(
    near: Ints,
    count: int,
    moving: int,
    x: float,
    y: float,
    shapes: Ints,
    at: Doubles,
    weights: Floats,
    pairs: Pairs,
) -> float:
    """What it costs to lie in those of the others that are near, weighed."""
    total = 0.0
    for k in range(count):
        other = near[k]
        depth = _depth(
            shapes[other], moving, x - at[other, 0], y - at[other, 1], pairs.depths, pairs.table
        )
        if depth > _TOUCHING:
            total += weights[other] * depth * (1.0 + _STEEP * depth)
    return total


@compiled
def _depth(still: int, moving: int, dx: float, dy: float, depths: Floats, table: Ints) -> float:
    """How deep a shape lies in another at a displacement; 0 if not at all."""
    wide, high = table[still, moving, 1], table[still, moving, 2]
    column, row = dx - table[still, moving, 3], dy - table[still, moving, 4]
    if not (0.0 <= column < wide - 1.0 and 0.0 <= row < high - 1.0):
        return 0.0
    i, j = int(column), int(row)
    p, q = column - i, row - j
    first = table[still, moving, 0] + i * high + j
    value = (1 - p) * ((1 - q) * depths[first] + q * depths[first + 1]) + p * (
        (1 - q) * depths[first + high] + q * depths[first + high + 1]
    )
    return value if value > 0.0 else 0.0


@compiled
def _is_known(number: int, shapes: Ints, ways: Ways, table: Ints) -> bool:
    """Whether the depths of all ways of a thing in all others are in the table."""
    for way in range(ways.first_way[number], ways.first_way[number] + ways.way_count[number]):
        for other in range(shapes.shape[0]):
            if shapes[other] >= 0 and table[shapes[other], ways.shape[way], 0] < 0:
                return False
    return True


@compiled
def _random(chance: NDArray[np.uint64]) -> float:
    """The next random number, from 0 to 1.

    Source: S. Vigna, "An experimental exploration of Marsaglia's xorshift generators, scrambled",
    ACM Transactions on Mathematical Software 42 (2016): xorshift64*.
    """
    x = chance[0]
    x ^= x >> np.uint64(12)
    x ^= x << np.uint64(25)
    x ^= x >> np.uint64(27)
    chance[0] = x
    return float((x * np.uint64(2685821657736338717)) >> np.uint64(11)) / 9007199254740992.0
