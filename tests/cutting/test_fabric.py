from __future__ import annotations

import math
from typing import Any

import pytest

from clothwise.cutting import Fabric, cloth_limits
from clothwise.cutting.repeat import Repeat
from clothwise.errors import CuttingError
from clothwise.pattern.document import fabric_entry


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


@pytest.mark.parametrize(
    ("stated", "said"),
    [
        ({"length_mm": 0.0}, "has no length"),
        ({"length_mm": -5.0}, "has no length"),
        ({"length_mm": math.nan}, "has no length"),
        ({"repeat": Repeat(along_mm=-1.0)}, "no pattern comes again"),
        ({"repeat": Repeat(across_mm=math.nan)}, "no pattern comes again"),
        ({"repeat": Repeat(across_mm=1500.0)}, "repeat across is larger than the fabric"),
        ({"length_mm": 500.0, "repeat": Repeat(along_mm=640.0)}, "repeat along is larger"),
        ({"thickness_mm": -0.1}, "no fabric has this thickness"),
        ({"thickness_mm": 30.0}, "no fabric has this thickness"),
        ({"off_grain_rad": 0.5}, "so far off the grain"),
        ({"off_grain_rad": -0.1}, "so far off the grain"),
        ({"flaws": (((0.0, 0.0), (9.0, 9.0), (9.0, 0.0), (0.0, 9.0)),)}, "crosses itself"),
        ({"flaws": (((0.0, 0.0), (9.0, 9.0)),)}, "crosses itself"),
    ],
)
def test_what_no_cloth_has_is_refused_in_four_parts(stated: dict[str, Any], said: str) -> None:
    with pytest.raises(CuttingError, match=said) as caught:
        Fabric("odd", 1400, **stated)
    assert caught.value.where == "odd"
    assert caught.value.how_much
    assert caught.value.what_to_do


def test_limits_are_those_of_documents() -> None:
    assert cloth_limits.THICKEST_MM == fabric_entry.THICKEST_MM
    assert cloth_limits.LARGEST_OFF_GRAIN_RAD == fabric_entry.LARGEST_OFF_GRAIN_RAD
