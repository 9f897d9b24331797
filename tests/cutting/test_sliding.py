"""An outline slid to another one touches it, and does not overlap it further on."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon
from shapely.affinity import translate

from clothwise.cutting.sliding import slide_distance
from cutting_strategies import outlines
from invented_dress import XY


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
