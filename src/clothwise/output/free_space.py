"""Finding room for words: a rectangle inside an area that touches nothing drawn there."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray

from clothwise.geometry import Point
from clothwise.output.bounds import text_corners
from clothwise.output.drawing import Text

CLEARANCE_MM = 1.8
"""How far words stay from lines."""

_CELLS_ACROSS = 160  # the area is searched on a grid about so fine
_FINEST_MM = 1.0

Mask: TypeAlias = NDArray[np.bool_]


@dataclass
class FreeSpace:
    """An area and what is drawn in it already; words are added as they are placed.

    `area` is where words may stand, `taken` what they must not touch.
    """

    area: shapely.Geometry
    taken: list[shapely.Geometry] = field(default_factory=list)
    _grids: dict[tuple[float, int], _Grid] = field(default_factory=dict, repr=False)

    def take(self, geometry: shapely.Geometry) -> None:
        """Keep words off a line or a box."""
        self.taken.append(geometry)

    def has_room_for(self, text: Text, clearance_mm: float = CLEARANCE_MM / 2) -> bool:
        """True if a line of text stands inside and clear of everything."""
        box = text_polygon(text).buffer(clearance_mm, join_style="mitre")
        if not self.area.contains(box):
            return False
        return not any(box.intersects(other) for other in self.taken)

    def place(
        self, width_mm: float, height_mm: float, wanted: Point, clearance_mm: float = CLEARANCE_MM
    ) -> Point | None:
        """The middle of a free rectangle of this size, as near to `wanted` as can be; or None."""
        key = (clearance_mm, len(self.taken))
        if key not in self._grids:
            self._grids = {key: self._grid(clearance_mm)}  # what is taken only grows
        grid = self._grids[key]
        across = int(np.ceil(width_mm / grid.cell_mm)) + 1
        down = int(np.ceil(height_mm / grid.cell_mm)) + 1
        rows, columns = grid.free.shape
        if across > columns or down > rows:
            return None
        sums = np.zeros((rows + 1, columns + 1), dtype=np.int64)
        sums[1:, 1:] = grid.free.cumsum(axis=0).cumsum(axis=1)
        inside = (
            sums[down:, across:]
            - sums[:-down, across:]
            - sums[down:, :-across]
            + sums[:-down, :-across]
        )
        row, column = np.nonzero(inside == across * down)
        if not len(row):
            return None
        x = grid.left + (column + across / 2) * grid.cell_mm
        y = grid.bottom + (row + down / 2) * grid.cell_mm
        best = int(np.argmin((x - wanted.x) ** 2 + (y - wanted.y) ** 2))
        return Point(float(x[best]), float(y[best]))

    def _grid(self, clearance_mm: float) -> _Grid:
        left, bottom, right, top = self.area.bounds
        cell = max(_FINEST_MM, max(right - left, top - bottom) / _CELLS_ACROSS)
        # A cell counts as free if nothing comes near its middle; no line can then cross it.
        reach = max(clearance_mm, 0.75 * cell)
        xs = np.arange(left + cell / 2, right, cell)
        ys = np.arange(bottom + cell / 2, top, cell)
        inner = self.area.buffer(-reach)
        if inner.is_empty or not len(xs) or not len(ys):
            return _Grid(left, bottom, cell, np.zeros((1, 1), dtype=np.bool_))
        shapely.prepare(inner)
        free = shapely.contains_xy(inner, *np.meshgrid(xs, ys))
        grid = _Grid(left, bottom, cell, free)
        grid.free &= ~_near(self.taken, grid, reach)
        return grid


@dataclass
class _Grid:
    left: float
    bottom: float
    cell_mm: float
    free: Mask


def _near(taken: list[shapely.Geometry], grid: _Grid, reach_mm: float) -> Mask:
    """Cells whose middle may be nearer than `reach_mm` to something taken, or lie inside it.

    Lines are sampled twice per cell and the cells hit are widened: a hundred times faster than
    buffering a nest of crossing lines.
    """
    hit = np.zeros_like(grid.free)
    if not taken:
        return hit
    cell = grid.cell_mm
    spots = shapely.get_coordinates(shapely.segmentize(taken, cell / 2))
    columns = np.floor((spots[:, 0] - grid.left) / cell).astype(int)
    rows = np.floor((spots[:, 1] - grid.bottom) / cell).astype(int)
    inside = (columns >= 0) & (rows >= 0) & (columns < hit.shape[1]) & (rows < hit.shape[0])
    hit[rows[inside], columns[inside]] = True
    # A sample lies up to 0.71 cells from the middle of its cell, and 0.25 from the next sample.
    near = _widened(hit, reach_mm / cell + 1.0)
    for geometry in taken:
        if geometry.geom_type in ("Polygon", "MultiPolygon"):
            _fill(near, geometry, grid)
    return near


def _widened(hit: Mask, by_cells: float) -> Mask:
    """All cells no further than `by_cells` from a cell that is hit."""
    wide = hit.copy()
    rows, columns = hit.shape
    reach = int(by_cells)
    for down in range(-reach, reach + 1):
        for across in range(-reach, reach + 1):
            if down * down + across * across > by_cells * by_cells:
                continue
            to_rows = slice(max(0, down), rows + min(0, down))
            from_rows = slice(max(0, -down), rows + min(0, -down))
            to_columns = slice(max(0, across), columns + min(0, across))
            from_columns = slice(max(0, -across), columns + min(0, -across))
            wide[to_rows, to_columns] |= hit[from_rows, from_columns]
    return wide


def _fill(near: Mask, polygon: shapely.Geometry, grid: _Grid) -> None:
    """Mark the cells whose middle lies inside a polygon."""
    left, bottom, right, top = polygon.bounds
    cell, (rows, columns) = grid.cell_mm, near.shape
    first, last = max(0, int((left - grid.left) / cell)), int((right - grid.left) / cell) + 1
    low, high = max(0, int((bottom - grid.bottom) / cell)), int((top - grid.bottom) / cell) + 1
    xs = grid.left + (np.arange(first, min(last, columns)) + 0.5) * cell
    ys = grid.bottom + (np.arange(low, min(high, rows)) + 0.5) * cell
    if len(xs) and len(ys):
        within = shapely.contains_xy(polygon, *np.meshgrid(xs, ys))
        near[low : low + len(ys), first : first + len(xs)] |= within


def text_polygon(text: Text) -> shapely.Polygon:
    """The box of a line of text."""
    return shapely.polygons([(point.x, point.y) for point in text_corners(text)])
