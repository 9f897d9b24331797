"""Settling: from a layout that is right to a cell to one that is right exactly, and shorter.

Each pair of convex parts that lie near each other is held apart by one straight line, the one that
parts them best where they are. All places then follow from one linear program: the shortest length
under these lines, with small moves. The lines are chosen anew where things came to lie, until the
length no longer falls.

Source: the approach of compaction by linear programs, Z. Li and V. Milenkovic, "Compaction and
separation algorithms for non-convex polygons and their applications", European Journal of
Operational Research 84 (1995); here over convex parts and with slack where things still overlap.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog
from scipy.sparse import csr_array, vstack

from clothwise.cutting.placing.field import Lying
from clothwise.cutting.placing.ground import Ground

__all__ = ["Settled", "settled"]

_PASSES = 14
_CELLS_MOVED = 1.5  # how far a thing may move in one pass, along and across
_FURTHEST_APART = 2.9  # of that: things further apart cannot meet in one pass
_SLACK_COST = 1000.0
_LEFT_COST = 1e-4  # of each millimeter to the right: what has room moves to the start
_HOPE = 0.8  # slack that falls by less in a pass will not go away
_GAIN = 2e-4  # of the length: a pass that gains less is the last
_KEPT_MM = 0.002  # between shapes, for what the solver rounds
_OVERLAP_MM = _KEPT_MM + 1e-5  # what slack may be left: things touch then


@dataclass(frozen=True)
class Settled:
    """Things in places that are exact, and the length of strip that they take, mm."""

    lyings: tuple[Lying, ...]
    length_mm: float


def settled(ground: Ground, lyings: Sequence[Lying], length_mm: float) -> Settled | None:
    """Return things settled from about where they lie; None if they cannot be parted there.

    Args:
        ground: the task.
        lyings: of all things, then of all blocks.
        length_mm: that may not be exceeded by a sheet; a strip is made as short as it can be.
    """
    best: Settled | None = None
    before = np.inf
    places = np.array([(lying.x_mm, lying.y_mm) for lying in lyings])
    is_strip = ground.field.sheet is None
    for _ in range(_PASSES):
        found = _pass(ground, lyings, places, length_mm, is_strip)
        if found is None:
            break
        places, slack, length = found
        if slack > _OVERLAP_MM:
            if slack > _HOPE * before:
                break
            before = slack
            continue
        gain = best.length_mm - length if best else np.inf
        if gain > 0:
            moved = tuple(
                Lying(lying.way, float(x), float(y))
                for lying, (x, y) in zip(lyings, places, strict=True)
            )
            best = Settled(moved, length)
        if gain < _GAIN * length:
            break
    return best


def _pass(
    ground: Ground,
    lyings: Sequence[Lying],
    places: NDArray[np.float64],
    length_mm: float,
    is_strip: bool,
) -> tuple[NDArray[np.float64], float, float] | None:
    """One linear program: new places, slack that is left, length."""
    count = len(lyings)
    move = _CELLS_MOVED * ground.cell_mm
    ways = [ground.ways[number][lying.way] for number, lying in enumerate(lyings)]
    bounds = _bounds(ground, ways, places, length_mm, move)
    movable = [number for number in range(count) if number not in ground.fixed]
    blocks = [_ends(ground, ways, movable, count)]
    for one, other in _near(ground, ways, places, 2 * move):
        parting = ground.partings(ways[one], ways[other])
        normals, least = parting.nearest(places[other] - places[one], _FURTHEST_APART * move)
        if len(least):
            blocks.append(_apart(one, other, count, normals, least))
    matrix = vstack([block for block, _ in blocks], format="csr")
    at_least = np.concatenate([least for _, least in blocks])
    cost = np.zeros(2 * count + 2)
    cost[[2 * number for number in movable]] = _LEFT_COST
    cost[2 * count] = 1.0 if is_strip else 0.0
    cost[2 * count + 1] = _SLACK_COST
    longest = length_mm if not is_strip else np.inf
    solution = linprog(
        cost,
        A_ub=-matrix,
        b_ub=-at_least,
        bounds=[*bounds, (0.0, longest), (0.0, None)],
        method="highs",
    )
    if solution.x is None:
        return None
    return (
        solution.x[: 2 * count].reshape(count, 2),
        float(solution.x[2 * count + 1]),
        float(solution.x[2 * count]),
    )


_Block = tuple[csr_array, NDArray[np.float64]]
"""Rows of the program, and what each must be at least."""


def _ends(ground: Ground, ways: Sequence[int], movable: Sequence[int], count: int) -> _Block:
    """The length is at least where each thing ends."""
    rows = np.arange(len(movable))
    ends = [2 * number for number in movable]
    values = np.concatenate([np.full(len(rows), -1.0), np.ones(len(rows))])
    columns = np.concatenate([ends, np.full(len(rows), 2 * count)])
    matrix = csr_array(
        (values, (np.tile(rows, 2), columns.astype(np.int64))), shape=(len(rows), 2 * count + 2)
    )
    return matrix, np.array([ground.shapes[ways[number]].right for number in movable])


def _apart(
    one: int, other: int, count: int, normals: NDArray[np.float64], least: NDArray[np.float64]
) -> _Block:
    """Two things keep apart along each normal, but for the slack."""
    rows = len(least)
    values = np.hstack([normals, -normals, np.ones((rows, 1))]).ravel()
    own = [2 * other, 2 * other + 1, 2 * one, 2 * one + 1, 2 * count + 1]
    columns = np.tile(own, rows)
    matrix = csr_array(
        (values, (np.repeat(np.arange(rows), 5), columns)), shape=(rows, 2 * count + 2)
    )
    return matrix, least + _KEPT_MM


def _bounds(
    ground: Ground,
    ways: Sequence[int],
    places: NDArray[np.float64],
    length_mm: float,
    move: float,
) -> list[tuple[float, float]]:
    found = []
    for number, way in enumerate(ways):
        x, y = float(places[number][0]), float(places[number][1])
        if number in ground.fixed:
            found += [(x, x), (y, y)]
            continue
        along, across = ground.steps(way)
        left = ground.x_limits(way, length_mm)[0]
        low, high = ground.y_limits(way)
        found.append((x, x) if along else (max(left, x - move), max(left, x) + move))
        found.append((y, y) if across else _within(low, high, y, move))
    return found


def _within(low: float, high: float, at: float, move: float) -> tuple[float, float]:
    """Moves from a place, inside limits that are met even if the place is not inside them."""
    high = max(low, high)
    at = min(max(at, low), high)
    return max(low, at - move), min(high, at + move)


def _near(
    ground: Ground, ways: Sequence[int], places: NDArray[np.float64], apart_mm: float
) -> list[tuple[int, int]]:
    """Pairs whose boxes lie nearer to each other than this, not both fixed."""
    boxes = np.array(
        [
            (shape.left + x, shape.bottom + y, shape.right + x, shape.top + y)
            for shape, (x, y) in zip((ground.shapes[way] for way in ways), places, strict=True)
        ]
    )
    near = (
        (boxes[:, None, 0] - apart_mm < boxes[None, :, 2])
        & (boxes[None, :, 0] - apart_mm < boxes[:, None, 2])
        & (boxes[:, None, 1] - apart_mm < boxes[None, :, 3])
        & (boxes[None, :, 1] - apart_mm < boxes[:, None, 3])
    )
    return [
        (one, other)
        for one, other in np.argwhere(near).tolist()
        if one < other and not (one in ground.fixed and other in ground.fixed)
    ]
