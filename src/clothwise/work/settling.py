"""Flat pieces of cloth that are joined find their places in a drawing, as little bent as can be.

Each cloth is covered by a grid of nodes. Every node turns with its neighbors and wants to keep its
distances from them; joined places want to lie on each other, pinned ones where they are told. The
best turns for given places and the best places for given turns are found in turn, a fixed number
of times.

Source: O. Sorkine and M. Alexa, "As-Rigid-As-Possible Surface Modeling", Symposium on Geometry
Processing 2007, sections 2 and 3, in the plane; grid, weights and number of rounds are our own
choice.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from clothwise.geometry import Point
from clothwise.work.shape import Move

STEP_MM = 36.0
"""Distance of the nodes on large cloths."""

LEAST_STEP_MM = 9.0
"""Distance of the nodes on the narrowest ones."""

ROUNDS = 40
"""After so many rounds nothing moves that could be seen."""

HOLD = 60.0
"""Weight of a joined or pinned place beside that of one distance between nodes."""

_Floats: TypeAlias = NDArray[np.float64]
_Indices: TypeAlias = NDArray[np.int64]


@dataclass(frozen=True)
class LooseCloth:
    """A cloth about where it is to lie; `hung` gives its shape when its fullness is drawn up."""

    area: Polygon
    hung: Move


@dataclass(frozen=True)
class Joint:
    """A place of one cloth that is to lie on a place of another, both by number."""

    cloth: int
    at: Point
    other: int
    other_at: Point


@dataclass(frozen=True)
class Pin:
    """A place of a cloth, and where it is to be; None leaves it free to slide."""

    cloth: int
    at: Point
    x: float | None = None
    y: float | None = None


def settled(
    cloths: Sequence[LooseCloth], joints: Sequence[Joint], pins: Sequence[Pin]
) -> tuple[Move, ...]:
    """For each cloth, where its points come to lie."""
    grids = _grids(cloths)
    if not grids:
        return ()
    count = grids[-1].first + len(grids[-1].rest)
    rest = np.concatenate([grid.rest for grid in grids])
    ends = np.concatenate([grid.links for grid in grids])
    here, there = ends[:, 0], ends[:, 1]
    span = rest[here] - rest[there]
    axes = [_Axis(count, ends, _rows(grids, joints, pins, axis)) for axis in (0, 1)]
    turn = np.zeros(count)
    places = rest
    for _ in range(ROUNDS):
        cos, sin = np.cos(turn), np.sin(turn)
        c, s = (cos[here] + cos[there]) / 2, (sin[here] + sin[there]) / 2
        wanted = np.stack([c * span[:, 0] - s * span[:, 1], s * span[:, 0] + c * span[:, 1]], 1)
        places = np.stack([axes[0].places(wanted[:, 0]), axes[1].places(wanted[:, 1])], 1)
        turn = _turns(count, here, there, span, places[here] - places[there])
    return tuple(_move(grid, places) for grid in grids)


@dataclass(frozen=True)
class _Grid:
    """Nodes of a cloth: `number` gives the node at a crossing, -1 where there is none."""

    first: int
    left: float
    bottom: float
    step: float
    number: tuple[tuple[int, ...], ...]
    rest: _Floats
    links: _Indices

    def shares(self, at: Point) -> tuple[list[int], list[float]]:
        """The four nodes around a point and the share of each."""
        columns, rows = len(self.number), len(self.number[0])
        u, v = (at.x - self.left) / self.step, (at.y - self.bottom) / self.step
        i, j = self._cell(
            min(max(math.floor(u), 0), columns - 2), min(max(math.floor(v), 0), rows - 2)
        )
        u, v = u - i, v - j
        near, far = self.number[i], self.number[i + 1]
        nodes = [near[j], far[j], near[j + 1], far[j + 1]]
        return nodes, [(1 - u) * (1 - v), u * (1 - v), (1 - u) * v, u * v]

    def _cell(self, i: int, j: int) -> tuple[int, int]:
        """The cell there, or the nearest one that has all its nodes."""
        if self._is_whole(i, j):
            return i, j
        columns, rows = len(self.number), len(self.number[0])
        whole = [
            (a, b) for a in range(columns - 1) for b in range(rows - 1) if self._is_whole(a, b)
        ]
        return min(whole, key=lambda cell: (cell[0] - i) ** 2 + (cell[1] - j) ** 2)

    def _is_whole(self, i: int, j: int) -> bool:
        return min(*self.number[i][j : j + 2], *self.number[i + 1][j : j + 2]) >= 0


def _grids(cloths: Sequence[LooseCloth]) -> list[_Grid]:
    found: list[_Grid] = []
    first = 0
    for cloth in cloths:
        grid = _grid(cloth, first)
        first += len(grid.rest)
        found.append(grid)
    return found


def _grid(cloth: LooseCloth, first: int) -> _Grid:
    left, bottom, right, top = cloth.area.bounds
    step = min(max(min(right - left, top - bottom) / 3, LEAST_STEP_MM), STEP_MM)
    columns, rows = (max(math.ceil(size / step), 1) for size in (right - left, top - bottom))
    left -= (columns * step - (right - left)) / 2
    bottom -= (rows * step - (top - bottom)) / 2
    i, j = (
        each.ravel() for each in np.meshgrid(np.arange(columns), np.arange(rows), indexing="ij")
    )
    boxes = shapely.box(
        left + i * step, bottom + j * step, left + (i + 1) * step, bottom + (j + 1) * step
    )
    shapely.prepare(cloth.area)
    cells = [(int(a), int(b)) for a, b in zip(i, j, strict=True)]
    kept = [
        c for c, is_in in zip(cells, shapely.intersects(cloth.area, boxes), strict=True) if is_in
    ]
    number = np.full((columns + 1, rows + 1), -1, dtype=np.int64)
    for a, b in kept:
        number[a : a + 2, b : b + 2] = 0
    where = np.argwhere(number == 0)
    number[where[:, 0], where[:, 1]] = first + np.arange(len(where))
    hung = [cloth.hung(Point(left + a * step, bottom + b * step)) for a, b in where.tolist()]
    links = sorted({link for a, b in kept for link in _links(number, a, b)})
    rest = np.array([(point.x, point.y) for point in hung])
    table = tuple(tuple(row) for row in number.tolist())
    return _Grid(first, left, bottom, step, table, rest, np.array(links, dtype=np.int64))


def _links(number: _Indices, i: int, j: int) -> list[tuple[int, int]]:
    """The sides and diagonals of a cell."""
    a, b, c, d = (int(number[i + u, j + v]) for u, v in ((0, 0), (1, 0), (0, 1), (1, 1)))
    return [(a, b), (a, c), (b, d), (c, d), (a, d), (b, c)]


class _Axis:
    """The equations of one coordinate, ready to be solved for changing turns."""

    def __init__(
        self, count: int, links: _Indices, rows: Sequence[tuple[list[int], list[float], float]]
    ) -> None:
        self._here, self._there = links[:, 0], links[:, 1]
        self._count = count
        matrix = np.zeros((count, count))
        self._fixed = np.zeros(count)
        np.add.at(matrix, (self._here, self._here), 1.0)
        np.add.at(matrix, (self._there, self._there), 1.0)
        np.add.at(matrix, (self._here, self._there), -1.0)
        np.add.at(matrix, (self._there, self._here), -1.0)
        for nodes, shares, value in rows:
            at = np.array(nodes)
            np.add.at(matrix, (at[:, None], at[None, :]), HOLD * np.outer(shares, shares))
            np.add.at(self._fixed, at, HOLD * value * np.array(shares))
        self._inverse = np.linalg.inv(matrix)

    def places(self, wanted: _Floats) -> _Floats:
        """The best coordinates if each link wants to be this long along the axis."""
        right = self._fixed.copy()
        right += np.bincount(self._here, wanted, self._count)
        right -= np.bincount(self._there, wanted, self._count)
        return np.asarray(self._inverse @ right)


def _rows(
    grids: Sequence[_Grid], joints: Sequence[Joint], pins: Sequence[Pin], axis: int
) -> list[tuple[list[int], list[float], float]]:
    """Sums of shares of nodes that are to be a value: joints and pins of one coordinate.

    Every group of joined cloths without a pin gets one, so that it cannot drift.
    """
    rows = []
    groups = list(range(len(grids)))
    held: set[int] = set()
    for joint in joints:
        nodes, shares = grids[joint.cloth].shares(joint.at)
        others, their = grids[joint.other].shares(joint.other_at)
        rows.append(([*nodes, *others], [*shares, *(-share for share in their)], 0.0))
        one, other = groups[joint.cloth], groups[joint.other]
        groups = [one if group == other else group for group in groups]
    for pin in pins:
        value = pin.y if axis else pin.x
        if value is not None:
            rows.append((*grids[pin.cloth].shares(pin.at), value))
            held.add(groups[pin.cloth])
    for number, grid in enumerate(grids):
        if groups[number] not in held:
            held.add(groups[number])
            rows.append(([grid.first], [1.0], float(grid.rest[0, axis])))
    return rows


def _turns(count: int, here: _Indices, there: _Indices, span: _Floats, now: _Floats) -> _Floats:
    """How far each node has turned: the best fit of its links."""
    cross = span[:, 0] * now[:, 1] - span[:, 1] * now[:, 0]
    dot = span[:, 0] * now[:, 0] + span[:, 1] * now[:, 1]
    up = np.bincount(here, cross, count) + np.bincount(there, cross, count)
    along = np.bincount(here, dot, count) + np.bincount(there, dot, count)
    return np.asarray(np.arctan2(up, along))


def _move(grid: _Grid, places: _Floats) -> Move:
    nodes_at = places.tolist()

    def move(point: Point) -> Point:
        nodes, shares = grid.shares(point)
        x = y = 0.0
        for node, share in zip(nodes, shares, strict=True):
            x += share * nodes_at[node][0]
            y += share * nodes_at[node][1]
        return Point(x, y)

    return move
