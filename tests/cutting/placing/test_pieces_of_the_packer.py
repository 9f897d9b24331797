"""Cells and depths, convex parts and what parts them: judged by shapely."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box, unary_union
from shapely.affinity import translate

from clothwise.cutting.placing.convex import convex_parts, convex_shape, partings
from clothwise.cutting.placing.raster import depths, rasterized
from cutting_strategies import outlines
from invented_dress import XY

CELL_MM = 10.0


def test_a_square_lies_as_deep_in_another_as_it_must_move_to_be_clear_of_it() -> None:
    """Two squares of 10 cells, one on the other: 10 cells to any side, and less beside it."""
    square = rasterized(box(0, 0, 100, 100), CELL_MM)
    found = depths(square, square)

    def depth(dx: int, dy: int) -> float:
        column, row = dx - found.x0, dy - found.y0
        inside = 0 <= column < found.values.shape[0] and 0 <= row < found.values.shape[1]
        return float(found.values[column, row]) if inside else 0.0

    assert depth(0, 0) == 10
    assert depth(4, 0) == 6
    assert depth(9, 9) == 1
    assert depth(10, 0) == 0
    assert depth(3, -7) == 3


@settings(max_examples=40)
@given(outlines(), outlines(), st.integers(-30, 30), st.integers(-30, 30))
def test_depths_tell_overlap_to_a_cell(one: list[XY], other: list[XY], dx: int, dy: int) -> None:
    """What overlaps by more than a cell all round is deep; what is a cell apart is not."""
    still, moving = Polygon(one), translate(Polygon(other), dx * CELL_MM, dy * CELL_MM)
    found = depths(rasterized(still, CELL_MM), rasterized(Polygon(other), CELL_MM))
    column, row = dx - found.x0, dy - found.y0
    inside = 0 <= column < found.values.shape[0] and 0 <= row < found.values.shape[1]
    deep = inside and found.values[column, row] > 0
    shared = still.buffer(-CELL_MM).intersection(moving.buffer(-CELL_MM))
    if not shared.is_empty and shared.buffer(-CELL_MM).area > 0:
        assert deep
    if still.distance(moving) > 2 * CELL_MM:
        assert not deep


@given(outlines())
def test_convex_parts_are_convex_and_fill_the_shape(outline: list[XY]) -> None:
    shape = Polygon(outline)
    parts = [Polygon(part) for part in convex_parts(shape)]
    for part in parts:
        assert part.convex_hull.area == pytest.approx(part.area, rel=1e-6)
    assert sum(part.area for part in parts) == pytest.approx(shape.area, rel=1e-6)
    assert unary_union(parts).symmetric_difference(shape).area < 1e-3


@settings(max_examples=40)
@given(outlines(), outlines(), st.floats(-400, 400), st.floats(-400, 400))
def test_what_all_half_planes_allow_does_not_overlap(
    one: list[XY], other: list[XY], dx: float, dy: float
) -> None:
    """Moved out along the line that parts each pair of parts best, two shapes are apart."""
    still, moving = Polygon(one), Polygon(other)
    parting = partings(convex_shape(convex_parts(still)), convex_shape(convex_parts(moving)))
    apart = np.array([dx, dy])
    normals, least = parting.nearest(apart, np.inf)
    is_apart = bool((normals @ apart >= least - 1e-9).all())
    shared = still.intersection(translate(moving, dx, dy)).area
    assert is_apart == (shared < 1e-6) or shared < 1e-3
