"""A packing task on a grid: which places each thing may take, and how deep things lie in others."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon, box
from shapely.geometry.base import BaseGeometry

from clothwise.cutting.item import Polyline
from clothwise.cutting.placing.convex import Partings, partings
from clothwise.cutting.placing.depth_table import DepthTable
from clothwise.cutting.placing.field import Field, Steps, Thing, Way
from clothwise.cutting.placing.shape import Shape

__all__ = ["Ground", "Places"]

_REACH_MM = 1e-6  # a place may lie beyond its limits by what adding floats can cost


@dataclass(frozen=True)
class Places:
    """Where an origin may lie along one direction.

    Attributes:
        mm: ascending, at least one.
        cells: the same in whole cells.
        is_free: whether all places between the first and the last are allowed.
    """

    mm: NDArray[np.float64]
    cells: NDArray[np.int64]
    is_free: bool


class Ground:
    """Things on a field, with a cell size. Blocks (what may not be covered) come after things.

    Attributes:
        things, field, cell_mm: as given.
        shapes: of each way of each thing, by number.
        ways: numbers of the ways of each thing; blocks have one.
        fixed: numbers of the things that do not move; blocks are among them.
        shape_of: number of the distinct shape of each way.
        table: of the distinct shapes.
    """

    def __init__(self, things: Sequence[Thing], field: Field, cell_mm: float) -> None:
        self.things = tuple(things)
        self.field = field
        self.cell_mm = cell_mm
        self.shapes: list[Shape] = []
        self.ways: list[tuple[int, ...]] = []
        self._way_of: list[Way | None] = []
        known: dict[Polyline, Shape] = {}
        for thing in self.things:
            numbers = []
            for way in thing.ways:
                if way.outline not in known:
                    known[way.outline] = Shape(Polygon(way.outline), cell_mm)
                numbers.append(len(self.shapes))
                self.shapes.append(known[way.outline])
                self._way_of.append(way)
            self.ways.append(tuple(numbers))
        for block in _blocks(field, 4 * cell_mm):
            self.ways.append((len(self.shapes),))
            self.shapes.append(Shape(block, cell_mm))
            self._way_of.append(None)
        distinct = {id(shape): shape for shape in self.shapes}.values()
        number_of = {id(shape): number for number, shape in enumerate(distinct)}
        self.fixed = {
            number
            for number in range(len(self.ways))
            if number >= len(things) or self.things[number].fixed is not None
        }
        self.shape_of = np.array([number_of[id(shape)] for shape in self.shapes], dtype=np.int64)
        self.table = DepthTable(list(distinct), cell_mm)
        self._partings: dict[tuple[int, int], Partings] = {}

    def partings(self, still: int, moving: int) -> Partings:
        """The half-planes that part the shapes of two ways."""
        a, b = self.shapes[still], self.shapes[moving]
        key = (id(a), id(b))
        if key not in self._partings:
            self._partings[key] = partings(a.convex, b.convex)
        return self._partings[key]

    def x_limits(self, way: int, length_mm: float) -> tuple[float, float]:
        """From where to where the origin of a way may lie along the strip."""
        shape = self.shapes[way]
        return -shape.left, length_mm - shape.right

    def y_limits(self, way: int) -> tuple[float, float]:
        """From where to where the origin of a way may lie across the strip."""
        shape, asked = self.shapes[way], self._way_of[way]
        low, high = 0.0, self.field.width_mm
        if asked is not None:
            low, high = max(low, asked.low_mm), min(high, asked.high_mm)
        return low - shape.bottom, high - shape.top

    def steps(self, way: int) -> tuple[Steps | None, Steps | None]:
        """The lattices of a way, along and across."""
        asked = self._way_of[way]
        return (asked.x, asked.y) if asked is not None else (None, None)

    def xs(self, way: int, length_mm: float) -> Places | None:
        """Places along the strip; None if there is none."""
        return _places(self.x_limits(way, length_mm), self.steps(way)[0], self.cell_mm)

    def ys(self, way: int) -> Places | None:
        """Places across the strip; None if there is none."""
        return _places(self.y_limits(way), self.steps(way)[1], self.cell_mm)


def _places(limits: tuple[float, float], steps: Steps | None, cell_mm: float) -> Places | None:
    low, high = limits
    if high < low - _REACH_MM:
        return None
    if steps is None:
        first, last = math.ceil(low / cell_mm), math.floor(high / cell_mm)
        inner = np.arange(first, last + 1) * cell_mm
        mm = np.unique(np.concatenate([[low], inner, [max(low, high)]]))
        return Places(mm, np.rint(mm / cell_mm).astype(np.int64), True)
    if steps.step_mm <= 0:
        mm = np.array([steps.offset_mm])
    else:
        first = math.ceil((low - _REACH_MM - steps.offset_mm) / steps.step_mm)
        last = math.floor((high + _REACH_MM - steps.offset_mm) / steps.step_mm)
        mm = np.asarray(steps.offset_mm + steps.step_mm * np.arange(first, last + 1))
    mm = mm[(mm >= low - _REACH_MM) & (mm <= high + _REACH_MM)]
    if not len(mm):
        return None
    cells = np.rint(mm / cell_mm).astype(np.int64)
    return Places(mm, cells, False)


def _blocks(field: Field, frame_mm: float) -> list[BaseGeometry]:
    """What may not be covered: flaws, and what lies around a sheet."""
    found: list[BaseGeometry] = [Polygon(outline) for outline in field.taken]
    if field.sheet is not None:
        sheet = Polygon(field.sheet)
        left, bottom, right, top = sheet.bounds
        frame = box(left - frame_mm, bottom - frame_mm, right + frame_mm, top + frame_mm)
        around = frame.difference(sheet)
        found += list(getattr(around, "geoms", [around]))
    return found
