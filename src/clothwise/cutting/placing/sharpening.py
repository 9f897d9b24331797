"""Depths that are right to a cell, made exact where two shapes just touch.

Cells tell how deep two shapes lie in each other far in, and miss what is narrower than a cell.
Where there is little depth or none, the convex parts of both tell it exactly: each pair of parts is
parted best along one of its edges.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from clothwise.cutting.placing.compiling import compiled
from clothwise.cutting.placing.convex import Partings
from clothwise.cutting.placing.raster import Depths

__all__ = ["sharpened"]

Floats = NDArray[np.float32]
Doubles = NDArray[np.float64]
Ints = NDArray[np.int64]

_DEEP = 1.9
"""Cells: further in than this, depths need not be exact."""
_FAR = 2.0
"""Cells: more room than this need not be told."""


def sharpened(found: Depths, parting: Partings, cell_mm: float) -> Depths:
    """Return depths that are exact near touching, and negative where there is room.

    Further in they keep what the cells say, less half a cell: the edge lies between two.

    Args:
        found: right to a cell.
        parting: of the same two shapes.
        cell_mm: size of a cell.
    """
    still, moving = parting.still, parting.moving
    values = np.empty_like(found.values)
    _sharpen(
        values,
        found.values,
        found.x0,
        found.y0,
        cell_mm,
        still.boxes,
        moving.boxes,
        still.normals,
        still.normal_starts,
        parting.least_still,
        moving.normals,
        moving.normal_starts,
        parting.least_moving,
    )
    return Depths(values, found.x0, found.y0)


@compiled
def _sharpen(
    values: Floats,
    rough: Floats,
    x0: int,
    y0: int,
    cell_mm: float,
    boxes_still: Doubles,
    boxes_moving: Doubles,
    normals_still: Doubles,
    starts_still: Ints,
    least_still: Doubles,
    normals_moving: Doubles,
    starts_moving: Ints,
    least_moving: Doubles,
) -> None:
    """Fill `values` with signed depths, in cells."""
    columns, rows = rough.shape
    far_mm = _FAR * cell_mm
    for i in range(columns):
        for j in range(rows):
            if rough[i, j] > _DEEP:
                values[i, j] = rough[i, j] - 0.5
                continue
            dx, dy = (x0 + i) * cell_mm, (y0 + j) * cell_mm
            deepest = -far_mm
            for a in range(boxes_still.shape[0]):
                for b in range(boxes_moving.shape[0]):
                    if (
                        boxes_moving[b, 0] + dx > boxes_still[a, 2] + far_mm
                        or boxes_moving[b, 2] + dx < boxes_still[a, 0] - far_mm
                        or boxes_moving[b, 1] + dy > boxes_still[a, 3] + far_mm
                        or boxes_moving[b, 3] + dy < boxes_still[a, 1] - far_mm
                    ):
                        continue
                    room = max(
                        _room(dx, dy, a, b, normals_still, starts_still, least_still),
                        _room(-dx, -dy, b, a, normals_moving, starts_moving, least_moving),
                    )
                    deepest = max(deepest, -room)
            values[i, j] = max(deepest / cell_mm, rough[i, j] - 1.5)


@compiled
def _room(
    dx: float, dy: float, part: int, other: int, normals: Doubles, starts: Ints, least: Doubles
) -> float:
    """Room between two parts along the best normal of the first, mm; negative if they overlap."""
    room = -1e9
    end = starts[part + 1] if part + 1 < len(starts) else len(normals)
    for n in range(starts[part], end):
        room = max(room, normals[n, 0] * dx + normals[n, 1] * dy - least[other, n])
    return room
