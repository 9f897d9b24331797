"""The inner loops of the packer, compiled: what overlaps moves, one thing after the other.

All lengths are in cells. How deep shapes lie in each other stands in a `DepthTable`, over whole
cells of displacement. Maps of places tell costs to a whole cell, see `maps`; between cells, depths
are interpolated, so that places are exact to a small part of a cell though tables are coarse.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwise.cutting.placing.compiling import compiled
from clothwise.cutting.placing.maps import Kept, lowest_place

__all__ = ["Pairs", "State", "Ways", "depths_of", "improved", "next_random"]

Floats = NDArray[np.float32]
Doubles = NDArray[np.float64]
Ints = NDArray[np.int64]
Wholes = NDArray[np.int32]
Flags = NDArray[np.bool_]

_TOUCHING = 0.02
"""Cells: what overlaps less touches; settling parts it."""
_STEEP = 3.0  # as in `depth_table`; a test compares them
_REACH = 1.4
"""Cells: no further a thing is moved to one beside where it lies; tables tell room up to 1.5."""
_FIRST_STEP, _LAST_STEP = 0.5, 0.05
"""Cells: how far a thing is moved to look for a lower place beside it; halved in between."""
_HOPELESS = 4.0
"""So many times what is best so far: a lowest whole place that costs more is not looked beside."""
_LOOK = 64
"""What looking at one depth between cells counts for, in cells added to maps."""
_DIRECTIONS = np.array(
    [[1, 0], [-1, 0], [0, 1], [0, -1], [1, 1], [-1, 1], [1, -1], [-1, -1]], dtype=np.float64
)


class Pairs(NamedTuple):
    """How deep shapes lie in each other, and what that costs; see `DepthTable`."""

    depths: Floats
    costs: Wholes
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


class Near(NamedTuple):
    """Others that are near enough to be met, and where their depths are: one value for each."""

    left: Doubles
    low: Doubles
    wide: Doubles
    high: Doubles
    start: Ints
    stride: Ints
    weight: Doubles


@compiled
def improved(
    order: Ints,
    first: int,
    always: bool,
    anywhere: bool,
    state: State,
    ways: Ways,
    pairs: Pairs,
    kept: Kept,
) -> tuple[int, int]:
    """Move each thing that overlaps to where it lies least deep in others, one after the other.

    Args:
        order: numbers of things.
        first: where in the order to begin.
        always: whether things that overlap nothing move too.
        anywhere: whether all places are weighed, or only those beside where a thing lies.
        state, kept: changed in place.
        ways, pairs: as given.

    Returns:
        Where in the order it ended, which is before a thing whose pairs are not all known yet or at
        the end; and how much work was done, in cells added to maps.
    """
    count = state.way.shape[0]
    near = Near(
        np.empty(count),
        np.empty(count),
        np.empty(count),
        np.empty(count),
        np.empty(count, dtype=np.int64),
        np.empty(count, dtype=np.int64),
        np.empty(count),
    )
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
        way, x, y, added = _best_place(number, anywhere, state, ways, pairs, kept, shapes, near)
        work += added
        state.way[number] = way
        state.at[number, 0], state.at[number, 1] = x, y
        depth = depths_of(ways.shape[way], x, y, shapes, state.at, pairs.depths, pairs.table)
        state.depth[number, :] = depth
        state.depth[:, number] = depth
        state.is_laid[number] = True
    return order.shape[0], work


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
    own = table[:, moving]
    for other in range(shapes.shape[0]):
        if shapes[other] >= 0:
            depth = _depth(shapes[other], x - at[other, 0], y - at[other, 1], depths, own)
            found[other] = depth if depth > _TOUCHING else 0.0
    return found


@compiled
def _best_place(
    number: int,
    anywhere: bool,
    state: State,
    ways: Ways,
    pairs: Pairs,
    kept: Kept,
    shapes: Ints,
    near: Near,
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
            least, i, j, added = lowest_place(
                moving,
                columns,
                rows,
                next_random(state.chance),
                shapes,
                state.at,
                weights,
                kept,
                pairs.costs,
                pairs.table,
            )
            work += added
            if least > _HOPELESS * best:
                continue
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
    near: Near,
) -> tuple[float, float, float, int]:
    """Go from a place to lower ones beside it, in ever smaller steps.

    Returns:
        What it costs to lie there, weighed, the place, and how many depths were looked at.
    """
    table = pairs.table[:, moving]
    count = touched = 0
    best = 0.0
    for other in range(shapes.shape[0]):
        still = shapes[other]
        if still < 0:
            continue
        left = at[other, 0] + table[still, 3]
        low = at[other, 1] + table[still, 4]
        wide, high = table[still, 1] - 1.0, table[still, 2] - 1.0
        if not (0.0 <= x - left < wide and 0.0 <= y - low < high):
            continue
        start, stride = table[still, 0], table[still, 5]
        depth = _between(x - left, y - low, start, stride, pairs.depths)
        if depth <= -_REACH:
            continue
        here = count
        if depth > _TOUCHING:  # what costs most likely comes first
            best += weights[other] * depth * (1.0 + _STEEP * depth)
            here = touched
            _copy(near, touched, count)
            touched += 1
        near.left[here], near.low[here] = left, low
        near.wide[here], near.high[here] = wide, high
        near.start[here], near.stride[here] = start, stride
        near.weight[here] = weights[other]
        count += 1
    looks = count
    from_x, from_y = x, y
    step = _FIRST_STEP
    while step > _LAST_STEP and best > 0.0:
        is_moved = False
        for direction in range(_DIRECTIONS.shape[0]):
            other_x = min(max(x + step * _DIRECTIONS[direction, 0], low_x), high_x)
            other_y = min(max(y + step * _DIRECTIONS[direction, 1], low_y), high_y)
            if other_x == x and other_y == y:
                continue
            if (other_x - from_x) ** 2 + (other_y - from_y) ** 2 > _REACH**2:
                continue
            value = _cost(near, count, other_x, other_y, best, pairs.depths)
            looks += count
            if value < best:
                best, x, y, is_moved = value, other_x, other_y, True
                if best <= 0.0:
                    break
        if not is_moved:
            step *= 0.5
    return best, x, y, looks


@compiled
def _copy(near: Near, one: int, to: int) -> None:
    near.left[to], near.low[to] = near.left[one], near.low[one]
    near.wide[to], near.high[to] = near.wide[one], near.high[one]
    near.start[to], near.stride[to] = near.start[one], near.stride[one]
    near.weight[to] = near.weight[one]


@compiled
def _cost(near: Near, count: int, x: float, y: float, enough: float, depths: Floats) -> float:
    """What it costs to lie in the others that are near, weighed; it stops at what is enough."""
    total = 0.0
    for k in range(count):
        column, row = x - near.left[k], y - near.low[k]
        if 0.0 <= column < near.wide[k] and 0.0 <= row < near.high[k]:
            depth = _between(column, row, near.start[k], near.stride[k], depths)
            if depth > _TOUCHING:
                total += near.weight[k] * depth * (1.0 + _STEEP * depth)
                if total >= enough:
                    break
    return total


@compiled
def _depth(still: int, dx: float, dy: float, depths: Floats, table: Ints) -> float:
    """How deep a shape lies in another at a displacement; 0 or less if not at all.

    The table is that of the moving shape.
    """
    wide, high = table[still, 1], table[still, 2]
    column, row = dx - table[still, 3], dy - table[still, 4]
    if not (0.0 <= column < wide - 1.0 and 0.0 <= row < high - 1.0):
        return 0.0
    start, stride = table[still, 0], table[still, 5]
    return float(_between(column, row, start, stride, depths))


@compiled
def _between(column: float, row: float, start: int, stride: int, depths: Floats) -> float:
    """The depth at a place between four cells."""
    i, j = int(column), int(row)
    p, q = column - i, row - j
    first = start + i * stride + j
    one = depths[first] + q * (depths[first + 1] - depths[first])
    other = depths[first + stride] + q * (depths[first + stride + 1] - depths[first + stride])
    return float(one + p * (other - one))


@compiled
def _is_known(number: int, shapes: Ints, ways: Ways, table: Ints) -> bool:
    """Whether the depths of all ways of a thing in all others are in the table."""
    for way in range(ways.first_way[number], ways.first_way[number] + ways.way_count[number]):
        for other in range(shapes.shape[0]):
            if shapes[other] >= 0 and table[shapes[other], ways.shape[way], 0] < 0:
                return False
    return True


@compiled
def next_random(chance: NDArray[np.uint64]) -> float:
    """Return the next random number, from 0 to 1.

    Source: S. Vigna, "An experimental exploration of Marsaglia's xorshift generators, scrambled",
    ACM Transactions on Mathematical Software 42 (2016): xorshift64*.
    """
    x = chance[0]
    x ^= x >> np.uint64(12)
    x ^= x << np.uint64(25)
    x ^= x >> np.uint64(27)
    chance[0] = x
    return float((x * np.uint64(2685821657736338717)) >> np.uint64(11)) / 9007199254740992.0
