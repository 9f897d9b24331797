"""How deep the shapes of a task lie in each other, for all displacements, in one flat array.

Compiled loops read it. Depths of a pair are worked out when they are first asked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from clothwise.cutting.placing.convex import partings
from clothwise.cutting.placing.raster import Cells, depths
from clothwise.cutting.placing.shape import Shape
from clothwise.cutting.placing.sharpening import sharpened
from clothwise.cutting.placing.vectors import LANES

__all__ = ["COST_UNITS", "DepthTable", "penalty"]

Numbers = NDArray[np.int64]
Number = TypeVar("Number", bound=np.generic)

_STEEP = np.float32(3.0)
"""How much more it costs to lie a cell deeper, for each cell: our own choice, measured. With a cost
that grows no faster than the depth, a large thing ends up deep in one that has little weight."""

COST_UNITS = 64
"""So many units of cost are a penalty of 1; in whole units costs add up exactly."""
_DEAREST = 1 << 20
"""Units. Two thousand things that lie in each other so deep still add up within 32 bits."""


def penalty(depth: Cells) -> Cells:
    """Return what lying so deep in another costs: twice as deep costs more than twice as much."""
    inside = np.maximum(depth, np.float32(0.0))
    return np.asarray(inside * (np.float32(1.0) + _STEEP * inside))


class DepthTable:
    """How deep each shape lies in each other.

    Attributes:
        depths: of all known pairs, one after the other, in cells; negative where there is room.
        costs: what those cost in whole units, see `penalty` and `COST_UNITS`.
        table: (shapes, shapes, 6), by still and moving shape: where those of a pair start, columns,
            rows, the displacement of the first one along and across, and by how much the next
            column starts later. Start is -1 for a pair that is not known yet.
    """

    def __init__(self, shapes: Sequence[Shape], cell_mm: float) -> None:
        self._shapes = shapes
        self._cell_mm = cell_mm
        self.depths = np.empty(0, dtype=np.float32)
        self.costs = np.empty(0, dtype=np.int32)
        self.table = np.full((len(shapes), len(shapes), 6), -1, dtype=np.int64)
        self._used = 0

    def know(self, still: Numbers, moving: int) -> None:
        """See to it that pairs are known; -1 among `still` is passed over."""
        unknown = (still >= 0) & (self.table[still, moving, 0] < 0)
        if unknown.any():
            for one in set(still[unknown].tolist()):
                self._add(one, moving)

    def _add(self, still: int, moving: int) -> None:
        one, other = self._shapes[still], self._shapes[moving]
        found = sharpened(
            depths(one.raster, other.raster), partings(one.convex, other.convex), self._cell_mm
        )
        columns, rows = found.values.shape
        self._put(still, moving, found.values, (found.x0, found.y0))
        if still != moving:
            turned = found.values[::-1, ::-1]
            self._put(moving, still, turned, (1 - found.x0 - columns, 1 - found.y0 - rows))

    def _put(self, still: int, moving: int, values: Cells, first: tuple[int, int]) -> None:
        columns, rows = values.shape
        stride = -(-rows // LANES) * LANES
        end = self._used + columns * stride
        if end > len(self.depths):
            self.depths = _longer(self.depths, self._used, 2 * end)
            self.costs = _longer(self.costs, self._used, 2 * end)
        for array, filled in ((self.depths, values), (self.costs, _whole(penalty(values)))):
            lines = array[self._used : end].reshape(columns, stride)
            lines[:, :rows], lines[:, rows:] = filled, 0
        self.table[still, moving] = [self._used, columns, rows, *first, stride]
        self._used = end


def _whole(penalties: Cells) -> NDArray[np.int32]:
    return np.minimum(np.rint(penalties * COST_UNITS), _DEAREST).astype(np.int32)


def _longer(array: NDArray[Number], used: int, size: int) -> NDArray[Number]:
    """Copy what is used into a longer array; what is not written yet takes no memory."""
    found = np.empty(size, dtype=array.dtype)
    found[:used] = array[:used]
    return found
