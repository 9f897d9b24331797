"""Half pieces in a row, and the comb that is made of them."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon
from shapely.affinity import translate

from clothwise.cutting import Cut, Nap, on_fabric
from clothwise.cutting.fold import (
    Start,
    comb_attempt,
    row_placements,
    row_positions,
    shortest_row,
    slide_distance,
    starts,
)
from clothwise.cutting.parts import paired
from clothwise.cutting.strip import OutlineCache, drafted_poses
from cutting_strategies import outlines
from invented_dress import XY, dress

FOLD_PARTS = [part for part in paired(dress(), Nap.NONE)[0] if part.cut is Cut.ON_FOLD]
FREE_PARTS = [part for part in paired(dress(), Nap.NONE)[0] if part.cut is not Cut.ON_FOLD]
OUTLINES = OutlineCache(3.0)


@given(outlines(), outlines(), st.floats(-100, 100))
def test_a_slid_outline_touches_and_does_not_overlap(
    fixed: list[XY], moving: list[XY], across_mm: float
) -> None:
    one = Polygon(fixed)
    other = translate(Polygon(moving), 0, across_mm)
    far = slide_distance(tuple(fixed), tuple((x, y + across_mm) for x, y in moving))
    if far == float("-inf"):
        assert one.bounds[1] > other.bounds[3] or other.bounds[1] > one.bounds[3]
        return
    touching = translate(other, far, 0)
    assert touching.distance(one) < 1e-6
    assert touching.intersection(one).area < 1e-3
    for further in (1, 10, 1000):
        assert translate(other, far + further, 0).intersection(one).area < 1e-3


@given(st.integers(0, 10_000))
def test_a_row_keeps_its_distance_and_stands_on_the_fold(seed: int) -> None:
    chance = random.Random(seed)
    start = next(starts(FOLD_PARTS, FREE_PARTS, OUTLINES, chance, lambda: None, fresh=1))
    positions = row_positions(start.row, FOLD_PARTS, OUTLINES)
    placements = row_placements(start.row, positions, FOLD_PARTS)
    shapes = []
    for place, placement in zip(start.row, placements, strict=True):
        part = FOLD_PARTS[place.part]
        assert part.item.fold_edge is not None
        assert all(y == 0 for _, y in on_fabric(placement, part.item.fold_edge))
        shapes.append(Polygon(on_fabric(placement, part.item.outline)))
        assert shapes[-1].bounds[1] >= 0
    for i, shape in enumerate(shapes):
        assert all(shape.distance(other) >= 2.99 for other in shapes[:i])


@given(st.integers(0, 10_000))
def test_changed_starts_stay_complete(seed: int) -> None:
    """Whatever is swapped, turned or spaced: each part is there once, in a pose it may have."""
    latest: list[Start] = []
    source = starts(
        FOLD_PARTS,
        FREE_PARTS,
        OUTLINES,
        random.Random(seed),
        lambda: latest[-1] if latest else None,
        fresh=2,
    )
    for _ in range(8):
        start = next(source)
        latest.append(start)
        assert sorted(place.part for place in start.row) == list(range(len(FOLD_PARTS)))
        assert all(place.pose in FOLD_PARTS[place.part].poses for place in start.row)
        assert all(place.gap_mm >= 0 for place in start.row)
        assert all(pose in part.poses for pose, part in zip(start.poses, FREE_PARTS, strict=True))


def test_the_comb_is_one_simple_shape_as_wide_as_the_strip() -> None:
    row = shortest_row(FOLD_PARTS, OUTLINES, random.Random(1))
    attempt = comb_attempt(
        Start(row, drafted_poses(FREE_PARTS)),
        FOLD_PARTS,
        FREE_PARTS,
        565.0,
        OUTLINES,
        seconds=1,
        seed=1,
    )
    comb = attempt.job.shapes[0]
    polygon = Polygon(comb.outline)
    assert polygon.is_valid
    assert not comb.may_turn
    height = polygon.bounds[3] - polygon.bounds[1]
    assert height < attempt.job.width_mm
    assert height == pytest.approx(attempt.job.width_mm, abs=0.002)
    assert polygon.area > sum(Polygon(part.item.outline).area for part in FOLD_PARTS)
