"""Coverage: how many real bodies some size of a chart fits at bust and hip.

A body *fits a size* if its bust and its hip both lie within the size's reach: no further from the
size's girth than a stated tolerance, or, without one, than halfway to the neighboring size. The
waist takes no part, because the survey measured it at the navel; what that girth says about the
chart is given apart from all else. Nothing here is estimated: every figure is a count of rows.

Decision 0016 says why; `docs/reference/coverage.md` says it to designers.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cache
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from clothwise.errors import Misuse
from clothwise.pattern.measurements import Body
from clothwise.pattern.size_chart import SizeChart
from clothwise.sizing.survey import field
from clothwise.units import LengthUnit, format_length

__all__ = [
    "LARGEST_HALF_STEP_MM",
    "LARGEST_TOLERANCE_MM",
    "Apart",
    "Coverage",
    "Girths",
    "NavelGap",
    "Outcome",
    "Reach",
    "Region",
    "RegionShare",
    "Share",
    "SizeReach",
    "SizeShare",
    "coverage",
    "fits",
    "reaches",
    "some",
    "survey_girths",
]

LARGEST_HALF_STEP_MM = 40.0
"""However wide a chart's steps, a size reaches no further. Half of an 8 cm step, which is wide even
for sizes by letters; our own choice (decision 0016)."""
LARGEST_TOLERANCE_MM = 200.0
"""The largest tolerance that may be stated. Our own choice: more than any garment gives way."""

_SLACK_MM = 1e-6  # so that a body exactly at the end of a reach is inside whatever the unit
_Z95 = 1.959963984540054
"""Two-sided 95 % of the normal distribution."""

Flags: TypeAlias = NDArray[np.bool_]
Lengths: TypeAlias = NDArray[np.float64]


class Region(Enum):
    """Where a body is held against a size."""

    BUST = "bust"
    HIP = "hip"


class Outcome(Enum):
    """What becomes of a body. Every body has exactly one."""

    FITS = "fits a size at bust and hip"
    BETWEEN = "bust in one size, hip in another"
    BUST_ONLY = "bust in a size, hip in none"
    HIP_ONLY = "hip in a size, bust in none"
    NEITHER = "bust and hip in no size"


@dataclass(frozen=True)
class Reach:
    """The girths a size is for at one region, mm: from `girth - down` to `girth + up`."""

    girth_mm: float
    down_mm: float
    up_mm: float

    @property
    def low_mm(self) -> float:
        """The smallest girth of a body that fits."""
        return self.girth_mm - self.down_mm

    @property
    def high_mm(self) -> float:
        """The largest girth of a body that fits."""
        return self.girth_mm + self.up_mm

    def holds(self, girths: Lengths) -> Flags:
        """Tell of each girth whether it lies within; both ends count."""
        return (girths >= self.low_mm - _SLACK_MM) & (girths <= self.high_mm + _SLACK_MM)


@dataclass(frozen=True)
class SizeReach:
    """A size and the bodies it is for."""

    name: str
    bust: Reach
    waist: Reach
    hip: Reach

    def at(self, region: Region) -> Reach:
        """The reach at a region."""
        return self.bust if region is Region.BUST else self.hip


@dataclass(frozen=True, eq=False)
class Girths:
    """Girths of the same bodies, each (n,), mm. The waist is at the navel."""

    bust: Lengths
    navel: Lengths
    hip: Lengths

    def __len__(self) -> int:
        return len(self.bust)

    def at(self, region: Region) -> Lengths:
        """The girths at a region."""
        return self.bust if region is Region.BUST else self.hip

    def part(self, first: int, stride: int) -> Girths:
        """Every so many-th body."""
        cut = slice(first, None, stride)
        return Girths(self.bust[cut], self.navel[cut], self.hip[cut])


@dataclass(frozen=True)
class Share:
    """So many bodies of so many."""

    count: int
    of: int

    @property
    def share(self) -> float:
        """From 0 to 1; 0 of none is 0."""
        return self.count / self.of if self.of else 0.0

    @property
    def per_hundred(self) -> int:
        """Of a hundred bodies, to the nearest whole one, halves up."""
        return math.floor(100 * self.share + 0.5)

    @property
    def interval(self) -> tuple[float, float]:
        """The 95 % interval of the share that chance alone allows, if bodies were drawn at random.

        It says nothing about whom the survey stands for.

        Source: E. B. Wilson, Probable inference, the law of succession, and statistical inference,
        J. Am. Stat. Assoc. 22 (1927), the score interval.
        """
        if not self.of:
            return 0.0, 1.0
        n, p, zz = self.of, self.share, _Z95**2
        middle = (p + zz / (2 * n)) / (1 + zz / n)
        half = _Z95 / (1 + zz / n) * math.sqrt(p * (1 - p) / n + zz / (4 * n * n))
        return max(0.0, middle - half), min(1.0, middle + half)


@dataclass(frozen=True)
class SizeShare:
    """A size: whom it fits at bust and hip, and whom no other size fits."""

    name: str
    fits: Share
    only: Share


@dataclass(frozen=True)
class RegionShare:
    """One region by itself: bodies within some size, below all, above all, and in a gap between."""

    region: Region
    within: Share
    below: Share
    above: Share
    in_gap: Share


@dataclass(frozen=True)
class Apart:
    """Bodies whose hip is in a size so many sizes above the one their bust is in.

    Negative: below. Sizes with one bust count as one size here.
    """

    sizes: int
    bodies: Share


@dataclass(frozen=True)
class NavelGap:
    """How far the navel girth of those who fit exceeds the waist of their size, mm.

    A tenth of them lie below `low_mm`, a tenth above `high_mm`.
    """

    low_mm: float
    median_mm: float
    high_mm: float


@dataclass(frozen=True)
class Coverage:
    """Whom a chart fits.

    Attributes:
        sizes: with the reach that was asked about.
        tolerance_mm: the one stated; None if each size reaches halfway to its neighbors.
        fits: the headline: bodies that some size fits at bust and hip.
        by_size: in the order of the chart.
        by_region: bust, then hip.
        outcomes: one count for each outcome; together all bodies.
        apart: of those between sizes, in order.
        navel: None if no body fits.
        navel_too: bodies that fit if their navel girth is taken for the waist; says little.
        shortened: whether a size would have reached further than `LARGEST_HALF_STEP_MM`.
    """

    sizes: tuple[SizeReach, ...]
    tolerance_mm: float | None
    fits: Share
    by_size: tuple[SizeShare, ...]
    by_region: tuple[RegionShare, ...]
    outcomes: dict[Outcome, Share]
    apart: tuple[Apart, ...]
    navel: NavelGap | None
    navel_too: Share
    shortened: bool

    def region(self, region: Region) -> RegionShare:
        """One region."""
        return next(each for each in self.by_region if each.region is region)


@cache
def survey_girths() -> Girths:
    """The girths of the women of the survey."""
    return Girths(field("bust_girth"), field("waist_girth_omphalion"), field("hip_girth"))


def coverage(
    chart: SizeChart, *, tolerance_mm: float | None = None, bodies: Girths | None = None
) -> Coverage:
    """Count whom a chart fits.

    Args:
        chart: of women's sizes; people in it are left out.
        tolerance_mm: how far from a size's girth a body may be; by default each size reaches
            halfway to its neighbors (see `reaches`).
        bodies: at least one; by default the women of the survey.

    Raises:
        Misuse: as for `reaches`.
    """
    chart = chart.range
    sizes = reaches(chart, tolerance_mm=tolerance_mm)
    people = bodies or survey_girths()
    fit = fits(sizes, people)
    any_fit = some(fit)
    within = {region: _within(sizes, people, region) for region in Region}
    in_bust, in_hip = (some(within[region]) for region in Region)
    outcomes = {
        Outcome.FITS: any_fit,
        Outcome.BETWEEN: in_bust & in_hip & ~any_fit,
        Outcome.BUST_ONLY: in_bust & ~in_hip,
        Outcome.HIP_ONLY: ~in_bust & in_hip,
        Outcome.NEITHER: ~in_bust & ~in_hip,
    }
    waists = np.array([size.waist.holds(people.navel) for size in sizes])
    return Coverage(
        sizes=sizes,
        tolerance_mm=tolerance_mm,
        fits=_share(any_fit),
        by_size=_by_size(sizes, fit),
        by_region=tuple(_region_share(sizes, people, region) for region in Region),
        outcomes={outcome: _share(flags) for outcome, flags in outcomes.items()},
        apart=_apart(sizes, within[Region.BUST], within[Region.HIP], outcomes[Outcome.BETWEEN]),
        navel=_navel_gap(sizes, fit, people),
        navel_too=_share(some(fit & waists)),
        shortened=tolerance_mm is None and _is_shortened(chart),
    )


def fits(sizes: Sequence[SizeReach], bodies: Girths) -> Flags:
    """Tell of each size and body whether it fits at bust and hip: (sizes, bodies)."""
    return _within(sizes, bodies, Region.BUST) & _within(sizes, bodies, Region.HIP)


def some(fit: Flags) -> Flags:
    """Tell of each body whether any size fits: (sizes, bodies) to (bodies,)."""
    return np.asarray(fit.any(axis=0))


# Reach --------------------------------------------------------------------------------------------


def reaches(chart: SizeChart, *, tolerance_mm: float | None = None) -> tuple[SizeReach, ...]:
    """Return how far each size of a chart reaches.

    Without a tolerance a size reaches halfway to the next size down and up. The next one is that
    of the next bust, and among several with that bust the one whose hip is most like its own
    beside the bust. An end of the range, or of a second hip, reaches outward as far as inward. No
    size reaches further than `LARGEST_HALF_STEP_MM`; where hip or waist do not grow, the step of
    the bust is taken.

    Raises:
        Misuse: a tolerance that is not above 0 and at most `LARGEST_TOLERANCE_MM`; or none, and a
            chart with one bust only, which has no steps.
    """
    if tolerance_mm is not None:
        _refuse_tolerance(tolerance_mm, chart.unit)
        return tuple(_evenly(size, tolerance_mm) for size in chart)
    if len(_busts(chart)) < 2:
        raise Misuse(
            "the chart has no steps that say how far a size reaches",
            where=chart.title or "size chart",
            how_much="all sizes have the same bust" if len(chart) > 1 else "one size",
            what_to_do="State a tolerance, such as --tolerance 3cm.",
        )
    return tuple(
        SizeReach(size.name, *(_halfway(chart, size, girth) for girth in _GIRTHS)) for size in chart
    )


_GIRTHS = ("bust_girth", "waist_girth", "hip_girth")


def _refuse_tolerance(tolerance_mm: float, unit: LengthUnit) -> None:
    if not 0.0 < tolerance_mm <= LARGEST_TOLERANCE_MM:  # false for a number that is none, too
        shown = format_length(tolerance_mm, unit) if math.isfinite(tolerance_mm) else "no length"
        raise Misuse(
            "no size can be held to this tolerance",
            where="tolerance",
            how_much=f"{shown}; above 0, at most {format_length(LARGEST_TOLERANCE_MM, unit)}",
            what_to_do="State how far from a size's girth a body may be, such as 3cm.",
        )


def _evenly(size: Body, tolerance_mm: float) -> SizeReach:
    return SizeReach(
        size.name, *(Reach(size[girth], tolerance_mm, tolerance_mm) for girth in _GIRTHS)
    )


def _busts(chart: SizeChart) -> list[float]:
    return sorted({size["bust_girth"] for size in chart})


def _halfway(chart: SizeChart, size: Body, girth: str) -> Reach:
    steps = _steps(chart, size, girth)
    if steps == (None, None):  # the only size of its hip
        steps = _steps(chart, size, "bust_girth")
    down, up = (None if step is None else min(step / 2, LARGEST_HALF_STEP_MM) for step in steps)
    return Reach(
        size[girth],
        down if down is not None else up if up is not None else 0.0,
        up if up is not None else down if down is not None else 0.0,
    )


def _steps(chart: SizeChart, size: Body, girth: str) -> tuple[float | None, float | None]:
    """How far it is to the next size down and up; None at an end of the range."""
    busts = _busts(chart)
    rank = busts.index(size["bust_girth"])
    own = _level(chart, busts[rank])
    found: list[float | None] = []
    for next_rank, sign in ((rank - 1, -1.0), (rank + 1, 1.0)):
        if not 0 <= next_rank < len(busts):
            found.append(None)
            continue
        bust_step = abs(busts[next_rank] - busts[rank])
        nearest = _most_alike(_level(chart, busts[next_rank]), size)
        if girth == "bust_girth":
            found.append(bust_step)
        elif _drop(_most_alike(own, nearest)) != _drop(size):
            found.append(None)  # a second hip ends here, where the first goes on
        else:
            step = sign * (nearest[girth] - size[girth])
            found.append(step if step > 0.0 else bust_step)
    return found[0], found[1]


def _level(chart: SizeChart, bust_mm: float) -> list[Body]:
    return [size for size in chart if size["bust_girth"] == bust_mm]


def _most_alike(level: Iterable[Body], size: Body) -> Body:
    """The one whose hip beside the bust is most like a size's; never told by their order."""
    return min(
        level,
        key=lambda each: (
            abs(_drop(each) - _drop(size)),
            each["hip_girth"],
            each["waist_girth"],
        ),
    )


def _drop(size: Body) -> float:
    return size["hip_girth"] - size["bust_girth"]


def _is_shortened(chart: SizeChart) -> bool:
    steps = (
        step for size in chart for girth in _GIRTHS for step in _steps(chart, size, girth) if step
    )
    return any(step / 2 > LARGEST_HALF_STEP_MM + _SLACK_MM for step in steps)


# Counts -------------------------------------------------------------------------------------------


def _share(flags: Flags) -> Share:
    return Share(int(np.count_nonzero(flags)), len(flags))


def _within(sizes: Sequence[SizeReach], bodies: Girths, region: Region) -> Flags:
    return np.array([size.at(region).holds(bodies.at(region)) for size in sizes])


def _by_size(sizes: Sequence[SizeReach], fit: Flags) -> tuple[SizeShare, ...]:
    alone = fit.sum(axis=0) == 1
    return tuple(
        SizeShare(size.name, _share(row), _share(row & alone))
        for size, row in zip(sizes, fit, strict=True)
    )


def _region_share(sizes: Sequence[SizeReach], bodies: Girths, region: Region) -> RegionShare:
    girths = bodies.at(region)
    within = some(_within(sizes, bodies, region))
    below = ~within & (girths < min(size.at(region).low_mm for size in sizes))
    above = ~within & (girths > max(size.at(region).high_mm for size in sizes))
    return RegionShare(
        region, _share(within), _share(below), _share(above), _share(~(within | below | above))
    )


def _apart(
    sizes: Sequence[SizeReach], in_bust: Flags, in_hip: Flags, between: Flags
) -> tuple[Apart, ...]:
    """Count those between sizes by the least number of sizes from bust to hip."""
    ranks = _ranks(size.bust.girth_mm for size in sizes)
    counts: dict[int, int] = {}
    for body in np.flatnonzero(between):
        ways = (
            hip - bust
            for bust in {ranks[at] for at in np.flatnonzero(in_bust[:, body])}
            for hip in {ranks[at] for at in np.flatnonzero(in_hip[:, body])}
        )
        least = min(ways, key=lambda way: (abs(way), way))
        counts[least] = counts.get(least, 0) + 1
    return tuple(Apart(way, Share(counts[way], len(between))) for way in sorted(counts))


def _ranks(girths: Iterable[float]) -> list[int]:
    found = list(girths)
    order = {girth: rank for rank, girth in enumerate(sorted(set(found)))}
    return [order[girth] for girth in found]


def _navel_gap(sizes: Sequence[SizeReach], fit: Flags, bodies: Girths) -> NavelGap | None:
    """Those whom several sizes fit count with the first of them."""
    fitted = some(fit)
    if not fitted.any():
        return None
    waists = np.array([size.waist.girth_mm for size in sizes])[fit.argmax(axis=0)]
    low, median, high = np.percentile((bodies.navel - waists)[fitted], (10, 50, 90))
    return NavelGap(float(low), float(median), float(high))
