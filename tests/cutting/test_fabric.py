from __future__ import annotations

import math

import pytest

from clothwise.cutting import Fabric
from clothwise.errors import CuttingError


def test_two_selvages_are_lost_unless_stated() -> None:
    """Check value Y16: about 1 cm at each side (common practice, no source)."""
    assert Fabric("linen", 1400).usable_width_mm == 1380
    assert Fabric("linen", 1400, usable_width_mm=1400).usable_width_mm == 1400


def test_width_and_length_shrink_apart() -> None:
    """Check value K10: the width by the weft's share, whatever the warp's is."""
    cotton = Fabric("cotton", 1520, shrinkage_along=0.06, shrinkage_across=0.025)
    assert cotton.washed_width_mm == pytest.approx(1500 * 0.975)


def test_equal_fabrics_are_equal() -> None:
    assert Fabric("linen", 1400) == Fabric("linen", 1400)


@pytest.mark.parametrize(
    "wrong",
    [
        {"nominal_width_mm": 0},
        {"nominal_width_mm": -1400},
        {"nominal_width_mm": math.nan},
        {"nominal_width_mm": 14_000_000},
        {"nominal_width_mm": 15},
        {"nominal_width_mm": 1400, "usable_width_mm": 1401},
        {"nominal_width_mm": 1400, "usable_width_mm": 0},
        {"nominal_width_mm": 1400, "shrinkage_along": -0.01},
        {"nominal_width_mm": 1400, "shrinkage_across": 0.3},
        {"nominal_width_mm": 1400, "price_per_meter": -1},
        {"nominal_width_mm": 1400, "price_per_meter": math.nan},
    ],
)
def test_impossible_fabrics_are_refused_with_a_remedy(wrong: dict[str, float]) -> None:
    with pytest.raises(CuttingError) as caught:
        Fabric("linen", **wrong)
    assert caught.value.where.startswith("linen")
    assert caught.value.how_much
    assert caught.value.what_to_do
