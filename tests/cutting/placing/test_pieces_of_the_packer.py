"""Cells and depths, convex parts and what parts them: judged by shapely."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box, unary_union
from shapely.affinity import translate

from clothwise.cutting.placing import kernels, maps
from clothwise.cutting.placing.compiling import state_of
from clothwise.cutting.placing.convex import convex_parts, convex_shape, partings
from clothwise.cutting.placing.depth_table import COST_UNITS, DepthTable, penalty
from clothwise.cutting.placing.raster import depths, rasterized
from clothwise.cutting.placing.shape import Shape
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


def depth_between_cells(one: Polygon, other: Polygon, dx_mm: float, dy_mm: float) -> float:
    """How deep the second lies in the first, mm, as the search sees it."""
    table = DepthTable([Shape(one, CELL_MM), Shape(other, CELL_MM)], CELL_MM)
    table.know(np.array([0]), 1)
    found = kernels.depths_of(
        1,
        dx_mm / CELL_MM,
        dy_mm / CELL_MM,
        np.array([0]),
        np.zeros((1, 2)),
        table.depths,
        table.table,
    )
    return float(found[0]) * CELL_MM


@pytest.mark.parametrize("dx_mm", [97.0, 98.4, 99.5])
def test_depths_of_straight_edges_are_exact_between_cells(dx_mm: float) -> None:
    """Two squares of 100 mm that overlap by 3, 1.6 and 0.5 mm, on cells of 10 mm."""
    square = box(0, 0, 100, 100)
    assert depth_between_cells(square, square, dx_mm, 13.0) == pytest.approx(100 - dx_mm, abs=1e-3)
    assert depth_between_cells(square, square, 100.0, 13.0) == 0


def test_what_is_narrower_than_a_cell_is_not_missed() -> None:
    """A spike of 4 mm on cells of 10 mm: as cells it is not there."""
    spike = Polygon([(0, 0), (100, 48), (100, 52), (0, 100)])
    assert depth_between_cells(spike, box(0, 0, 80, 100), 60.0, 0.0) > 1.0


@settings(max_examples=40, deadline=None)
@given(outlines(), outlines(), st.floats(-400, 400), st.floats(-400, 400))
def test_depths_between_cells_agree_with_shapely(
    one: list[XY], other: list[XY], dx: float, dy: float
) -> None:
    """Shapes that are half a cell apart have no depth; shapes that share a disk of a cell do."""
    still, moving = Polygon(one), Polygon(other)
    moved = translate(moving, dx, dy)
    depth = depth_between_cells(still, moving, dx, dy)
    if still.distance(moved) > CELL_MM / 2:
        assert depth == 0
    if still.buffer(-CELL_MM).intersects(moved.buffer(-CELL_MM)):
        assert depth > 0


def penalties_by_hand(
    table: DepthTable, moving: int, others: list[int], at: np.ndarray, weights: np.ndarray
) -> dict[tuple[int, int], float]:
    """What each whole place of a grid of 60 by 40 costs, added up one by one."""
    found = {}
    for column, row in np.ndindex(60, 40):
        cost = 0.0
        for number, still in enumerate(others):
            start, wide, high, x0, y0, stride = table.table[still, moving]
            i = column - int(np.rint(at[number, 0])) - x0
            j = row - int(np.rint(at[number, 1])) - y0
            if 0 <= i < wide and 0 <= j < high:
                cost += weights[number] * table.costs[start + i * stride + j] / COST_UNITS
        found[column, row] = cost
    return found


SHAPES = (box(0, 0, 95, 63), Polygon([(0, 0), (210, 30), (40, 180)]), box(-40, -20, 50, 130))


def kept_over(count: int) -> maps.Kept:
    """Kept maps that reach beyond a grid of 60 by 40."""
    frames = {n: maps.Frame(-3, 70, -5, 56) for n in range(3)}
    return maps.kept_maps(frames, 3, count)


@pytest.mark.parametrize("is_kept", [False, True])
@pytest.mark.parametrize("rows", [range(40), range(3, 38, 5)])
def test_the_lowest_place_is_that_of_plain_sums(rows: range, is_kept: bool) -> None:
    """Maps are added eight numbers at a time, over margins: nothing is lost at any side.

    A kept map follows things that move, come and go, few of them and many.
    """
    table = DepthTable([Shape(shape, CELL_MM) for shape in SHAPES], CELL_MM)
    random = np.random.default_rng(7)
    columns = np.arange(60)
    count = 30
    kept = kept_over(count) if is_kept else maps.kept_maps({}, 3, count)
    others = random.integers(0, 3, count)
    at = random.uniform(-8, [68, 48], (count, 2))
    for moved in (0, 1, 3, count, 2, 20):
        changed = random.permutation(count)[:moved]
        others[changed] = random.integers(-1, 3, moved)
        at[changed] = random.uniform(-8, [68, 48], (moved, 2))
        for moving in range(3):
            table.know(others, moving)
            weights = np.maximum(random.uniform(-3, 9, count), 1).astype(np.float32)
            least, column, row, _ = maps.lowest_place(
                *(moving, columns, np.array(rows), 0.5, others, at, weights),
                *(kept, table.costs, table.table),
            )
            laid = others >= 0
            plain = penalties_by_hand(table, moving, others[laid].tolist(), at[laid], weights[laid])
            allowed = {place: cost for place, cost in plain.items() if place[1] in rows}
            assert least == pytest.approx(min(allowed.values()), rel=1e-5)
            assert plain[column, rows[row]] == pytest.approx(least, rel=1e-5)


def test_a_kept_map_adds_little_where_little_moved() -> None:
    table = DepthTable([Shape(shape, CELL_MM) for shape in SHAPES], CELL_MM)
    random = np.random.default_rng(3)
    count = 30
    others, at = random.integers(0, 3, count), random.uniform(0, [60, 40], (count, 2))
    table.know(others, 1)
    work = []
    for kept in (kept_over(count), maps.kept_maps({}, 3, count)):
        for _ in range(2):
            *_, added = maps.lowest_place(
                *(1, np.arange(60), np.arange(40), 0.5, others, at),
                *(np.ones(count, dtype=np.float32), kept, table.costs, table.table),
            )
            work.append(added)
            at[4] += 2.0
    _, after_a_move, plain, _ = work
    assert after_a_move < plain / 2


def test_of_equal_places_the_first_along_the_strip_is_taken_without_chance() -> None:
    table = DepthTable([Shape(box(0, 0, 100, 400), CELL_MM)], CELL_MM)
    table.know(np.array([0]), 0)
    place = maps.lowest_place(
        *(0, np.arange(60), np.arange(40), 0.0, np.array([0]), np.zeros((1, 2))),
        *(np.ones(1, dtype=np.float32), maps.kept_maps({}, 1, 1), table.costs, table.table),
    )
    assert place[:3] == (0.0, 10, 0)


def test_what_was_compiled_is_not_used_after_a_change_in_what_it_calls(tmp_path: Path) -> None:
    """Loops of one file hold the code of others, compiled: all files count."""
    one, other = tmp_path / "loops.py", tmp_path / "called.py"
    one.write_text("a = 1", encoding="utf-8")
    other.write_text("b = 1", encoding="utf-8")
    before = state_of([one, other])
    assert state_of([other, one]) == before
    other.write_text("b = 2", encoding="utf-8")
    assert state_of([one, other]) != before
    folder = Path(kernels.__file__).parent
    kept = kernels.improved.stats.cache_path  # type: ignore[attr-defined]
    assert state_of(folder.glob("*.py")) in kept


def test_compiled_loops_and_tables_have_the_same_penalty() -> None:
    """A compiled loop cannot read what is not its own: the figures stand in both places."""
    assert maps._COST_UNITS == COST_UNITS
    assert penalty(np.array([2.0], dtype=np.float32))[0] == 2 * (1 + kernels._STEEP * 2)
    assert penalty(np.array([-1.0], dtype=np.float32))[0] == 0
