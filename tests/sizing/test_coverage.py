"""Coverage: counted again in another way, held against published statistics, and its laws."""

from __future__ import annotations

import csv
import math
from importlib import resources
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import binomtest, multivariate_normal

from chart_strategies import CM, chart_of, charts, kiln
from clothwise.errors import Misuse
from clothwise.pattern.size_chart import SizeChart
from clothwise.sizing.coverage import (
    LARGEST_HALF_STEP_MM,
    Coverage,
    Girths,
    Outcome,
    Region,
    Share,
    coverage,
    fits,
    reaches,
    survey_girths,
)


def people(*rows: tuple[float, float]) -> Girths:
    """Bodies from bust and hip in cm."""
    bust, hip = (np.array(column) * CM for column in zip(*rows, strict=True))
    return Girths(bust, bust - 180.0, hip)


# Counted again, and against published statistics --------------------------------------------------


def counted_by_hand(ranges: list[tuple[float, float, float, float]]) -> int:
    """Women in some of these ranges of bust and hip in mm, row by row from the file itself."""
    text = (resources.files("clothwise") / "data/survey/women.csv").read_text("utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    return sum(
        any(
            low <= int(row["bust_girth"]) <= high and hip_low <= int(row["hip_girth"]) <= hip_high
            for low, high, hip_low, hip_high in ranges
        )
        for row in rows
    )


def test_the_dress_is_counted_as_by_hand() -> None:
    """Ten sizes in steps of 4, then 6 cm at bust and hip: halfway is 2, then 3 cm."""
    edges = [(78, 84), (82, 88), (86, 92), (90, 96), (94, 100), (98, 104), (102, 108), (107, 113)]
    edges += [(113, 119), (119, 125), (125, 131)]
    ranges = [
        (bust * CM, next_bust * CM, hip * CM, next_hip * CM)
        for (bust, hip), (next_bust, next_hip) in pairwise(edges)
    ]
    found = coverage(kiln())
    assert found.fits.of == 1595
    assert found.fits.count == counted_by_hand(ranges)
    assert [(each.bust.low_mm, each.bust.high_mm) for each in found.sizes] == [
        (low, high) for low, high, _, _ in ranges
    ]


def test_a_stated_tolerance_is_counted_as_by_hand() -> None:
    ranges = [
        (
            size["bust_girth"] - 30,
            size["bust_girth"] + 30,
            size["hip_girth"] - 30,
            size["hip_girth"] + 30,
        )
        for size in kiln()
    ]
    assert coverage(kiln(), tolerance_mm=30.0).fits.count == counted_by_hand(ranges)


BUST, HIP = (94.73, 8.25), (102.18, 7.60)
"""Mean and sd of the women, cm. Check values B03 and B04, ANSUR II."""
BUST_HIP = 0.73
"""Their correlation. Check value B08."""


def normal_share(low: float, high: float, hip_low: float, hip_high: float) -> float:
    """Share of a bivariate normal with the published mean, sd and correlation in a box, cm."""
    covariance = BUST_HIP * BUST[1] * HIP[1]
    normal = multivariate_normal(
        [BUST[0], HIP[0]], [[BUST[1] ** 2, covariance], [covariance, HIP[1] ** 2]]
    )
    return float(normal.cdf([high, hip_high], lower_limit=[low, hip_low]))


def test_the_share_is_that_of_a_normal_with_the_published_figures() -> None:
    """Within 3 points: girths are not quite normal, they lean to the large side."""
    found = coverage(kiln())
    expected = sum(
        normal_share(
            size.bust.low_mm / CM,
            size.bust.high_mm / CM,
            size.hip.low_mm / CM,
            size.hip.high_mm / CM,
        )
        for size in found.sizes
    )
    assert found.fits.share == pytest.approx(expected, abs=0.03)


def test_one_size_of_the_average_woman_fits_as_many_as_published_figures_say() -> None:
    average = chart_of((BUST[0], 80.0, HIP[0]))
    for tolerance_cm in (2.0, 4.0, 8.0):
        box = [mean + sign * tolerance_cm for mean in (BUST[0], HIP[0]) for sign in (-1, 1)]
        found = coverage(average, tolerance_mm=tolerance_cm * CM)
        assert found.fits.share == pytest.approx(normal_share(*box), abs=0.03)


def test_a_chart_that_follows_the_average_hip_fits_no_more_than_the_residual_allows() -> None:
    """B12: hip = 0.675 x bust + 38.24 cm, residual sd 5.17. So +/-2 cm at the hip hold 30 %."""
    chart = chart_of(*((bust, bust - 18, 0.675 * bust + 38.24) for bust in range(70, 128)))
    share = coverage(chart, tolerance_mm=20.0).fits.share
    within = math.erf(2.0 / 5.17 / math.sqrt(2))
    assert within == pytest.approx(0.30, abs=0.005)
    # A hip may be held against any of the five busts within 2 cm, which shifts it by 0.675 cm each.
    wider = math.erf((2.0 + 2 * 0.675) / 5.17 / math.sqrt(2))
    assert within < share < wider + 0.03


def test_one_hip_to_a_bust_leaves_most_between_sizes() -> None:
    """B07: hip minus bust has an sd of 5.8 cm, three half steps of the dress."""
    found = coverage(kiln())
    assert found.outcomes[Outcome.BETWEEN].share > 0.5
    assert found.region(Region.BUST).within.share > 0.99
    assert found.region(Region.HIP).within.share > 0.99


def test_regions_agree_with_published_percentiles() -> None:
    """B03: 98 % of busts are 78.6 to 115.9 cm. B04: 98 % of hips are 86.6 to 120.6 cm."""
    middle = chart_of(((78.6 + 115.9) / 2, 80.0, (86.6 + 120.6) / 2))
    bust = coverage(middle, tolerance_mm=(115.9 - 78.6) / 2 * CM).region(Region.BUST)
    hip = coverage(middle, tolerance_mm=(120.6 - 86.6) / 2 * CM).region(Region.HIP)
    for region in (bust, hip):
        assert region.within.share == pytest.approx(0.98, abs=0.003)
        assert region.below.share == pytest.approx(0.01, abs=0.002)
        assert region.above.share == pytest.approx(0.01, abs=0.002)


@given(of=st.integers(1, 2000), share=st.floats(0, 1))
def test_the_interval_is_that_of_another_program(of: int, share: float) -> None:
    count = round(of * share)
    low, high = Share(count, of).interval
    other = binomtest(count, of).proportion_ci(0.95, method="wilson")
    assert (low, high) == pytest.approx((other.low, other.high), abs=1e-9)


# Laws ---------------------------------------------------------------------------------------------


def test_a_chart_that_covers_everything_fits_everybody() -> None:
    """Every bust and hip of the survey is within 20 cm of some of these sizes."""
    grid = [(bust, 70.0, hip) for bust in (80.0, 100.0, 120.0) for hip in (90.0, 110.0, 130.0)]
    found = coverage(chart_of(*grid), tolerance_mm=200.0)
    assert found.fits == Share(1595, 1595)
    assert found.outcomes[Outcome.FITS].share == 1.0
    assert found.apart == ()
    assert found.fits.interval[1] == 1.0


def test_a_chart_for_nobody_fits_nobody() -> None:
    found = coverage(chart_of((150, 140, 150), (154, 144, 154)))
    assert found.fits.count == 0
    assert found.outcomes[Outcome.NEITHER].count == 1595
    assert found.region(Region.BUST).below.count == 1595
    assert found.navel is None


@settings(deadline=None, max_examples=40)
@given(chart=charts(), tolerances=st.tuples(st.floats(1, 100), st.floats(1, 100)))
def test_a_larger_tolerance_never_fits_fewer(
    chart: SizeChart, tolerances: tuple[float, float]
) -> None:
    small, large = (coverage(chart, tolerance_mm=each) for each in sorted(tolerances))
    assert small.fits.count <= large.fits.count
    for region in Region:
        assert small.region(region).within.count <= large.region(region).within.count
    for one, other in zip(small.by_size, large.by_size, strict=True):
        assert one.fits.count <= other.fits.count


@settings(deadline=None, max_examples=40)
@given(chart=charts(), tolerance_mm=st.floats(1, 60), data=st.data())
def test_another_size_never_fits_fewer(
    chart: SizeChart, tolerance_mm: float, data: st.DataObject
) -> None:
    number = data.draw(st.integers(0, len(chart) - 1))
    without = tuple(size for at, size in enumerate(chart) if at != number)
    less = coverage(SizeChart(without), tolerance_mm=tolerance_mm)
    more = coverage(chart, tolerance_mm=tolerance_mm)
    assert less.fits.count <= more.fits.count
    assert more.fits.count - less.fits.count == more.by_size[number].only.count


@settings(deadline=None, max_examples=40)
@given(chart=charts(), tolerance_mm=st.none() | st.floats(1, 60))
def test_every_body_has_one_outcome_and_counts_agree(
    chart: SizeChart, tolerance_mm: float | None
) -> None:
    found = coverage(chart, tolerance_mm=tolerance_mm)
    assert sum(share.count for share in found.outcomes.values()) == 1595
    assert found.outcomes[Outcome.FITS] == found.fits
    assert sum(each.bodies.count for each in found.apart) == found.outcomes[Outcome.BETWEEN].count
    for region in found.by_region:
        parts = (region.within, region.below, region.above, region.in_gap)
        assert sum(share.count for share in parts) == 1595
    assert found.fits.count <= min(region.within.count for region in found.by_region)
    assert found.navel_too.count <= found.fits.count
    assert found.fits.interval[0] <= found.fits.share <= found.fits.interval[1]


@settings(deadline=None, max_examples=20)
@given(chart=charts(), order=st.randoms(use_true_random=False))
def test_the_order_of_the_sizes_does_not_matter(chart: SizeChart, order: object) -> None:
    sizes = list(chart)
    order.shuffle(sizes)  # type: ignore[attr-defined]
    one, other = coverage(chart), coverage(SizeChart(tuple(sizes)))
    assert (one.fits, one.outcomes, one.apart) == (other.fits, other.outcomes, other.apart)


def test_the_same_chart_always_gets_the_same_figures() -> None:
    assert coverage(kiln()) == coverage(kiln())


# Reach --------------------------------------------------------------------------------------------


def test_sizes_reach_halfway_and_meet_without_gap() -> None:
    sizes = reaches(kiln())
    for one, other in pairwise(sizes):
        assert one.bust.high_mm == other.bust.low_mm
        assert one.hip.high_mm == other.hip.low_mm
    assert (sizes[0].bust.down_mm, sizes[-1].bust.up_mm) == (20.0, 30.0)


def test_a_second_hip_does_not_shorten_the_reach_of_the_first() -> None:
    rows = [(88.0, 70.0, 94.0), (92.0, 74.0, 98.0), (96.0, 78.0, 102.0)]
    full = [(bust, waist, hip + 6) for bust, waist, hip in rows]
    sizes = reaches(chart_of(*rows, *full))
    assert {(size.hip.down_mm, size.hip.up_mm) for size in sizes} == {(20.0, 20.0)}
    assert {(size.bust.down_mm, size.bust.up_mm) for size in sizes} == {(20.0, 20.0)}


def test_a_second_hip_in_a_few_sizes_reaches_no_further_where_it_ends() -> None:
    """Below 92 full there is only 88, whose hip belongs to 92."""
    rows = [(88.0, 70.0, 94.0), (92.0, 74.0, 98.0), (96.0, 78.0, 102.0), (100.0, 82.0, 106.0)]
    sizes = reaches(chart_of(*rows, (92, 74, 104), (96, 78, 108)))
    assert {(size.hip.down_mm, size.hip.up_mm) for size in sizes} == {(20.0, 20.0)}
    alone = reaches(chart_of(*rows, (92, 74, 104)))[-1]
    assert (alone.hip.down_mm, alone.hip.up_mm) == (20.0, 20.0)


def test_wide_steps_leave_gaps_instead_of_a_loose_fit() -> None:
    found = coverage(chart_of((80, 62, 88), (110, 92, 118)))
    assert found.shortened
    assert {size.bust.up_mm for size in found.sizes} == {LARGEST_HALF_STEP_MM}
    assert found.region(Region.BUST).in_gap.count > 0
    assert not coverage(kiln()).shortened


def test_a_hip_that_does_not_grow_takes_the_step_of_the_bust() -> None:
    sizes = reaches(chart_of((88, 70, 98), (92, 74, 98), (96, 78, 97)))
    assert {(size.hip.down_mm, size.hip.up_mm) for size in sizes} == {(20.0, 20.0)}


@pytest.mark.parametrize("rows", [[(88, 70, 94)], [(88, 70, 94), (88, 70, 100)]])
def test_a_chart_without_steps_asks_for_a_tolerance(rows: list[tuple[float, float, float]]) -> None:
    with pytest.raises(Misuse, match="no steps"):
        coverage(chart_of(*rows))
    assert coverage(chart_of(*rows), tolerance_mm=40.0).fits.count > 0


@pytest.mark.parametrize("tolerance_mm", [0.0, -1.0, 200.1, math.inf, math.nan])
def test_a_tolerance_that_is_none_is_refused(tolerance_mm: float) -> None:
    with pytest.raises(Misuse, match="tolerance"):
        coverage(kiln(), tolerance_mm=tolerance_mm)


def test_both_ends_of_a_reach_count_in_inches_too() -> None:
    chart = chart_of((33.5 * 2.54, 66, 36.1 * 2.54), (35.5 * 2.54, 71, 38.1 * 2.54))
    bodies = people((34.5 * 2.54, 37.1 * 2.54))
    assert fits(reaches(chart), bodies).tolist() == [[True], [True]]


# Between sizes ------------------------------------------------------------------------------------


def between() -> Coverage:
    """Bodies beside a chart of four sizes with 4 cm steps and a hip 6 cm larger than the bust."""
    chart = chart_of(*((bust, bust - 18, bust + 6) for bust in (88, 92, 96, 100)))
    return coverage(
        chart,
        bodies=people(
            (88, 94),  # fits
            (88, 99),  # hip one size larger
            (88, 107),  # three larger
            (101, 93),  # three smaller
            (88, 120),  # hip above all
            (70, 94),  # bust below all
            (70, 120),
        ),
    )


def test_how_many_sizes_apart_bust_and_hip_are() -> None:
    assert [(each.sizes, each.bodies.count) for each in between().apart] == [
        (-3, 1),
        (1, 1),
        (3, 1),
    ]


def test_outcomes_and_regions_of_single_bodies() -> None:
    found = between()
    assert {outcome: share.count for outcome, share in found.outcomes.items()} == {
        Outcome.FITS: 1,
        Outcome.BETWEEN: 3,
        Outcome.BUST_ONLY: 1,
        Outcome.HIP_ONLY: 1,
        Outcome.NEITHER: 1,
    }
    assert (found.region(Region.HIP).above.count, found.region(Region.BUST).below.count) == (2, 2)
    assert found.navel is not None
    assert found.navel.median_mm == pytest.approx(0.0)


def test_the_navel_takes_no_part_in_the_headline() -> None:
    """The survey's waist is at the navel, mostly larger: with it, hardly anybody would fit."""
    found = coverage(kiln())
    assert found.navel is not None
    assert found.navel.median_mm > 0
    assert found.navel_too.count < found.fits.count / 5
    moved = Girths(survey_girths().bust, survey_girths().navel + 500, survey_girths().hip)
    assert coverage(kiln(), bodies=moved).fits == found.fits


def test_shares_in_words() -> None:
    assert Share(463, 1595).per_hundred == 29
    assert (Share(1, 200).per_hundred, Share(0, 0).share) == (1, 0.0)
    assert Share(0, 0).interval == (0.0, 1.0)
