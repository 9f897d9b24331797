"""The shipped survey against statistics computed by others from the same rows.

Check values B02 to B22: mean, standard deviation (n - 1), percentiles, correlations, regressions
of the 1,595 women of ANSUR II, computed from the public file with another program when the data
was collected (kind: independent program). Whoever mixed up columns, units or rows here would miss
them. Lengths in cm; each figure holds to the rounding of its last digit.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from clothwise.sizing.survey import field, women

MEANS = (  # check value, column, mean, sd
    ("B02", "height", 162.92, 6.44),
    ("B03", "bust_girth", 94.73, 8.25),
    ("B04", "hip_girth", 102.18, 7.60),
    ("B05", "neck_base_girth", 37.15, 1.98),
    ("B06", "shoulder_length", 13.54, 1.04),
)
PERCENTILES = (  # check value, column, 1st and 99th percentile
    ("B03", "bust_girth", 78.6, 115.9),
    ("B04", "hip_girth", 86.6, 120.6),
    ("B05", "neck_base_girth", 32.9, 42.3),
    ("B06", "shoulder_length", 11.4, 16.0),
)
CORRELATIONS = (  # B08
    ("bust_girth", "hip_girth", 0.73),
    ("bust_girth", "waist_girth_omphalion", 0.84),
    ("height", "bust_girth", 0.26),
    ("height", "crotch_height", 0.85),
)
REGRESSIONS = (  # check value, of, on, slope, level in cm, residual sd in cm
    ("B10", "neck_base_girth", "bust_girth", 0.160, 21.96, 1.48),
    ("B11", "upper_arm_girth_flexed", "bust_girth", 0.277, 4.27, 2.03),
    ("B12", "hip_girth", "bust_girth", 0.675, 38.24, 5.17),
    ("B13", "crotch_height", "height", 0.590, -17.82, 2.39),
)
RATIOS = (  # check value, column over height, mean, sd
    ("B14", "cervicale_height", 0.857, 0.007),
    ("B15", "crotch_height", 0.480, 0.015),
    ("B16", "knee_height", 0.276, 0.009),
)
ROWS = 1595
LAST_DIGIT = 0.5000001  # of the last digit shown


def cm(name: str) -> NDArray[np.float64]:
    return field(name) / 10


def test_every_woman_is_there_and_is_a_body() -> None:
    assert {len(field(name)) for name in ("bust_girth", "hip_girth", "age_years")} == {ROWS}
    assert len(women()) == ROWS
    assert women()[0].name == "survey woman 1"
    assert women()[-1].name == f"survey woman {ROWS}"


@pytest.mark.parametrize(("_id", "column", "mean", "sd"), MEANS)
def test_means(_id: str, column: str, mean: float, sd: float) -> None:
    assert cm(column).mean() == pytest.approx(mean, abs=0.01 * LAST_DIGIT)
    assert cm(column).std(ddof=1) == pytest.approx(sd, abs=0.01 * LAST_DIGIT)


@pytest.mark.parametrize(("_id", "column", "low", "high"), PERCENTILES)
def test_percentiles(_id: str, column: str, low: float, high: float) -> None:
    """Within the millimeter by which rules for percentiles differ."""
    assert np.percentile(cm(column), (1, 99)) == pytest.approx([low, high], abs=0.1)


def test_hip_minus_bust() -> None:
    """B07: mean 7.5, sd 5.8, 1st to 99th percentile -6.8 to 21.1 cm."""
    drop = cm("hip_girth") - cm("bust_girth")
    assert drop.mean() == pytest.approx(7.5, abs=0.1 * LAST_DIGIT)
    assert drop.std(ddof=1) == pytest.approx(5.8, abs=0.1 * LAST_DIGIT)
    assert np.percentile(drop, (1, 99)) == pytest.approx([-6.8, 21.1], abs=0.1)


@pytest.mark.parametrize(("one", "other", "correlation"), CORRELATIONS)
def test_correlations(one: str, other: str, correlation: float) -> None:
    found = np.corrcoef(field(one), field(other))[0, 1]
    assert found == pytest.approx(correlation, abs=0.01 * LAST_DIGIT)


@pytest.mark.parametrize(("_id", "of", "on", "slope", "level", "residual"), REGRESSIONS)
def test_regressions(
    _id: str, of: str, on: str, slope: float, level: float, residual: float
) -> None:
    found_slope, found_level = np.polyfit(cm(on), cm(of), 1)
    left = cm(of) - found_slope * cm(on) - found_level
    assert found_slope == pytest.approx(slope, abs=0.001 * LAST_DIGIT)
    assert found_level == pytest.approx(level, abs=0.01 * LAST_DIGIT)
    assert left.std(ddof=2) == pytest.approx(residual, abs=0.01 * LAST_DIGIT)


@pytest.mark.parametrize(("_id", "column", "mean", "sd"), RATIOS)
def test_shares_of_the_height(_id: str, column: str, mean: float, sd: float) -> None:
    ratio = field(column) / field("height")
    assert ratio.mean() == pytest.approx(mean, abs=0.001 * LAST_DIGIT)
    assert ratio.std(ddof=1) == pytest.approx(sd, abs=0.001 * LAST_DIGIT)


def test_levels_of_the_trunk() -> None:
    """B17 to B20: back neck to armpit; waist above the navel, below the neck, above the hip."""
    waist = (cm("tenth_rib_height") + cm("iliac_crest_height")) / 2
    drops = (  # drop, mean, sd
        (cm("cervicale_height") - cm("axilla_height"), 15.7, 1.5),
        (waist - cm("waist_height_omphalion"), 4.6, 1.7),
        (cm("cervicale_height") - waist, 37.0, 2.0),
        (waist - cm("hip_height"), 19.2, 1.9),
    )
    for drop, mean, sd in drops:
        assert drop.mean() == pytest.approx(mean, abs=0.1 * LAST_DIGIT)
        assert drop.std(ddof=1) == pytest.approx(sd, abs=0.1 * LAST_DIGIT)


def test_orders_that_hold_for_every_row() -> None:
    """B21."""
    waist = (field("tenth_rib_height") + field("iliac_crest_height")) / 2
    assert (field("neck_girth") < field("neck_base_girth")).all()
    assert (field("lower_thigh_girth") < field("thigh_girth")).all()
    assert (field("crotch_height") < waist).all()
    assert (field("acromion_height") < field("cervicale_height")).all()


def test_their_age() -> None:
    """Mean age 28.9 years, as the caveat beside the data says."""
    assert field("age_years").mean() == pytest.approx(28.9, abs=0.1 * LAST_DIGIT)
