"""Shapes as cells of a grid, and how deep two of them lie in each other at every displacement.

Two outlines overlap at a displacement if any cell of one comes to lie on a cell of the other: the
correlation of both rasters tells so for all displacements at once. How deep is the distance, in
cells, to the nearest displacement without overlap. Penalties of this kind for whole maps of places
are what makes a search by coordinates strong.

Source: the map of penetration depths after S. Umetani and S. Murakami, "Coordinate descent
heuristics for the irregular strip packing problem of rasterized shapes", European Journal of
Operational Research 303 (2022); the search here is our own.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.fft import irfft2, next_fast_len, rfft2
from scipy.ndimage import distance_transform_edt
from shapely.geometry.base import BaseGeometry

__all__ = ["Cells", "Depths", "Raster", "depths", "rasterized"]


Cells = NDArray[np.float32]

_FRAME = 2  # cells


@dataclass(frozen=True)
class Raster:
    """The cells of a shape whose origin lies at a corner of cell (0, 0).

    Attributes:
        cells: bool, (columns along x, rows along y).
        x0, y0: number of the first column and row.
    """

    cells: NDArray[np.bool_]
    x0: int
    y0: int


@dataclass(frozen=True)
class Depths:
    """Depth of overlap for each displacement of one shape against another, in cells.

    Attributes:
        values: (columns, rows); zero where they do not overlap.
        x0, y0: the displacement of `values[0, 0]`.
    """

    values: Cells
    x0: int
    y0: int


def rasterized(shape: BaseGeometry, cell_mm: float) -> Raster:
    """Return the cells whose middles lie in a shape; at least one."""
    left, bottom, right, top = shape.bounds
    x0, y0 = math.floor(left / cell_mm), math.floor(bottom / cell_mm)
    columns = max(1, math.ceil(right / cell_mm) - x0)
    rows = max(1, math.ceil(top / cell_mm) - y0)
    xs = (np.arange(columns) + x0 + 0.5) * cell_mm
    ys = (np.arange(rows) + y0 + 0.5) * cell_mm
    shapely.prepare(shape)
    cells = shapely.contains_xy(shape, xs[:, None], ys[None, :])
    if not cells.any():
        cells[columns // 2, rows // 2] = True
    return Raster(cells, x0, y0)


def depths(still: Raster, moving: Raster) -> Depths:
    """Return how deep `moving` lies in `still` for every displacement of their origins.

    Right to a cell. A frame without overlap is around them.
    """
    a, b = still.cells, moving.cells
    size = (a.shape[0] + b.shape[0] - 1, a.shape[1] + b.shape[1] - 1)
    fast = (next_fast_len(size[0], real=True), next_fast_len(size[1], real=True))
    turned = b[::-1, ::-1].astype(np.float32)
    product = rfft2(a.astype(np.float32), fast) * rfft2(turned, fast)
    shared = irfft2(product, fast)[: size[0], : size[1]] > 0.5
    framed = np.pad(shared, _FRAME)
    values = distance_transform_edt(framed).astype(np.float32)
    return Depths(
        values,
        still.x0 - (moving.x0 + b.shape[0] - 1) - _FRAME,
        still.y0 - (moving.y0 + b.shape[1] - 1) - _FRAME,
    )
