"""Suggestions: changes to a chart that fit more bodies, and how many more they really fit.

Three kinds are tried, each by looking at every candidate of a small grid:

- the *same number of sizes* with another start and another growth of the hip;
- *more sizes* at the ends of the range;
- a *second hip* for a run of neighboring sizes.

Sizes reach no further than before, so that nothing is gained by calling a looser fit a fit. The
search sees one half of the bodies (every second row); what a suggestion gains is counted on the
other half, which had no part in choosing it. Only a gain that chance alone would hardly give is
suggested. There is no random number: the same chart gets the same suggestions.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from itertools import pairwise

import numpy as np

from clothwise.pattern.enumerated import enumerated
from clothwise.pattern.size_chart import SizeChart
from clothwise.pattern.vocabulary import MEASUREMENTS
from clothwise.sizing.coverage import (
    Coverage,
    Flags,
    Girths,
    Reach,
    Share,
    SizeReach,
    fits,
    reaches,
    some,
    survey_girths,
)
from clothwise.units import LengthUnit, format_cm, format_inches, format_length

__all__ = ["Kind", "Suggestion", "explained", "suggestions"]


class Kind(Enum):
    """What is changed."""

    REGRADED = "same number of sizes"
    MORE_SIZES = "more sizes"
    SECOND_HIP = "second hip"


@dataclass(frozen=True)
class Suggestion:
    """A change to a chart, with what it does to bodies that had no part in choosing it.

    Attributes:
        kind: what is changed.
        sizes: the whole new chart, bust and hip only to be looked at.
        added: the sizes that are new, in order; empty if sizes are changed.
        before: bodies held back that the chart fits as it is.
        after: bodies held back that the new chart fits.
        low: least gain as a share of bodies that chance leaves plausible (95 %).
        high: most gain, likewise.
        words: the change in a phrase that ends in "would", without the gain.
    """

    kind: Kind
    sizes: tuple[SizeReach, ...]
    added: tuple[SizeReach, ...]
    before: Share
    after: Share
    low: float
    high: float
    words: str

    @property
    def gain(self) -> float:
        """How much larger the share becomes, 0 to 1."""
        return self.after.share - self.before.share

    @property
    def gain_per_hundred(self) -> int:
        """More bodies of a hundred, rounded down so that no more is said than was counted."""
        return math.floor(100 * self.gain + 1e-9)


ADDED_SIZES = 2
"""How many sizes are added at the ends of the range."""
MOST_SECOND_HIPS = 6
"""A second hip is tried in at most half of the sizes and at most so many; our own choice: every
size more is a size to test and to print."""

_LONGEST_CHART = 60
"""Charts beyond are long enough; a regrade of all their sizes is not tried."""
_BUST_MOVES = range(5)  # in steps of the grid: 1 cm or 1/2 in
_HIP_MOVES = range(-3, 7)
_SECOND_HIPS = (-10, -9, -8, -7, -6, -5, -4, 4, 5, 6, 7, 8, 9, 10)
_GROWTHS = (0.5, 0.625, 0.75, 0.875, 1.0)
"""Hip per bust over the range; in the survey it is 0.675 on average (check value B12)."""
_Z95 = 1.959963984540054


def suggestions(
    chart: SizeChart,
    *,
    tolerance_mm: float | None = None,
    bodies: Girths | None = None,
    shown_in: LengthUnit | None = None,
) -> tuple[Suggestion, ...]:
    """Return the best change of each kind that helps, the fewest new sizes first.

    Args:
        chart: of women's sizes; people in it are left out.
        tolerance_mm: as for `coverage`.
        bodies: at least two; by default the women of the survey.
        shown_in: unit of the words; by default that of the chart, in which changes are sought.

    Raises:
        Misuse: as for `reaches`.
    """
    people = bodies or survey_girths()
    seen, held_back = people.part(0, 2), people.part(1, 2)
    grid = _Grid(shown_in or chart.unit, 12.7 if chart.unit is LengthUnit.INCH else 10.0)
    old = reaches(chart.range, tolerance_mm=tolerance_mm)
    best = (
        _regraded(old, seen, grid),
        _more_sizes(old, seen, grid),
        _second_hip(old, seen, grid),
    )
    told = (_counted(old, change, held_back) for change in best if change is not None)
    return tuple(each for each in told if each.low > 0.0 and each.gain_per_hundred >= 1)


def explained(found: Coverage, changes: Sequence[Suggestion], unit: LengthUnit) -> tuple[str, str]:
    """Return two sentences for the designer: what the chart fits, and what would fit more.

    Args:
        found: of the chart as it is.
        changes: from `suggestions`, for the same chart and tolerance.
        unit: of the sentences.
    """
    several = len(found.sizes) > 1
    sizes = f"{_spelled(len(found.sizes))} sizes fit" if several else "one size fits"
    within = ""
    if found.tolerance_mm is not None:
        within = f", give or take {format_length(found.tolerance_mm, unit)}"
    first = (
        f"Your {sizes} {found.fits.per_hundred} of 100 women of the survey at bust and hip{within}."
    )
    if not changes:
        return first, "None of the changes that were tried would fit clearly more of them."
    told = "; ".join(f"{each.words} fit {each.gain_per_hundred} more" for each in changes)
    second = (
        f"{told[0].upper()}{told[1:]} (of 100, counted on the half of the women that had no part "
        "in the search)."
    )
    return first, second


# Candidates ---------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Grid:
    """Lengths that a designer would write, in steps of 1 cm or 1/2 in; told in a unit."""

    unit: LengthUnit
    step_mm: float

    def rounded(self, length_mm: float) -> float:
        """To half of a step: 0.5 cm or 1/4 in."""
        half = self.step_mm / 2
        return math.floor(length_mm / half + 0.5) * half

    def shown(self, length_mm: float) -> str:
        if self.unit is LengthUnit.INCH:
            return format_inches(length_mm)
        return format_cm(length_mm)


@dataclass(frozen=True)
class _Change:
    kind: Kind
    sizes: tuple[SizeReach, ...]
    added: tuple[SizeReach, ...]
    words: str


def _regraded(old: Sequence[SizeReach], seen: Girths, grid: _Grid) -> _Change | None:
    """The range moved as a whole, its hip moved and growing at another rate.

    Steps of the bust, and how far sizes reach, stay as they are. The largest bust is never
    lowered: that the survey has few large women is no reason to leave them out.
    """
    if not 2 <= len(old) <= _LONGEST_CHART:
        return None
    best: tuple[int, tuple[SizeReach, ...]] | None = None
    for hips in _hip_lines(old, grid):
        in_hip = np.array([hip.holds(seen.hip) for hip in hips])
        for steps in _BUST_MOVES:
            busts = [_shifted(size.bust, steps * grid.step_mm) for size in old]
            in_bust = np.array([bust.holds(seen.bust) for bust in busts])
            count = int(np.count_nonzero(some(in_bust & in_hip)))
            if best is None or count > best[0]:
                sizes = tuple(map(_moved, old, busts, hips))
                if _is_plausible(sizes):
                    best = count, sizes
    if best is None:
        return None
    sizes = best[1]
    first, last = sizes[0], sizes[-1]
    words = (
        f"the same {_spelled(len(sizes))} sizes with bust {grid.shown(first.bust.girth_mm)} to "
        f"{grid.shown(last.bust.girth_mm)} and hip {grid.shown(first.hip.girth_mm)} to "
        f"{grid.shown(last.hip.girth_mm)} would"
    )
    return _Change(Kind.REGRADED, sizes, (), words)


def _hip_lines(old: Sequence[SizeReach], grid: _Grid) -> Iterator[list[Reach]]:
    """Hips for all sizes: as the chart has them or in proportion to the bust, and moved."""
    mean_bust = sum(size.bust.girth_mm for size in old) / len(old)
    mean_hip = sum(size.hip.girth_mm for size in old) / len(old)
    lines = [[size.hip.girth_mm for size in old]]
    for growth in _GROWTHS:
        lines.append([mean_hip + growth * (size.bust.girth_mm - mean_bust) for size in old])
    for line in lines:
        for steps in _HIP_MOVES:
            moved = (grid.rounded(hip + steps * grid.step_mm) for hip in line)
            yield [replace(size.hip, girth_mm=hip) for size, hip in zip(old, moved, strict=True)]


def _more_sizes(old: Sequence[SizeReach], seen: Girths, grid: _Grid) -> _Change | None:
    """`ADDED_SIZES` more, shared between the ends in the best way, in the steps of the ends."""
    ranked = sorted(old, key=lambda size: (size.bust.girth_mm, size.hip.girth_mm))
    best: tuple[int, tuple[SizeReach, ...], tuple[SizeReach, ...]] | None = None
    for at_top in range(ADDED_SIZES, -1, -1):
        below = _beyond(ranked, ADDED_SIZES - at_top, -1)
        above = _beyond(ranked, at_top, 1)
        if not _is_plausible((*below, *above)):
            continue
        count = int(np.count_nonzero(some(fits((*below, *old, *above), seen))))
        if best is None or count > best[0]:
            best = count, below, above
    if best is None:
        return None
    _, below, above = best
    ends = [
        f"at the {end} (bust {enumerated(grid.shown(size.bust.girth_mm) for size in new)})"
        for end, new in (("bottom", below), ("top", above))
        if new
    ]
    words = f"{_spelled(ADDED_SIZES)} more sizes {' and '.join(ends)} would"
    if len(ends) > 1:
        words = f"one more size {ends[0]} and one {ends[1]} would"
    return _Change(Kind.MORE_SIZES, (*below, *old, *above), (*below, *above), words)


def _beyond(ranked: Sequence[SizeReach], number: int, sign: int) -> tuple[SizeReach, ...]:
    """Sizes that go on beyond an end of the range, in order of the range."""
    end = ranked[-1] if sign > 0 else ranked[0]
    new = []
    for nth in range(1, number + 1):
        bust, waist, hip = (
            _shifted(reach, sign * nth * (reach.down_mm + reach.up_mm))
            for reach in (end.bust, end.waist, end.hip)
        )
        new.append(SizeReach(f"{end.name}{'+' if sign > 0 else '-'}{nth}", bust, waist, hip))
    return tuple(new if sign > 0 else reversed(new))


def _second_hip(old: Sequence[SizeReach], seen: Girths, grid: _Grid) -> _Change | None:
    """Another hip, so much fuller or slimmer, for a run of neighboring sizes.

    Every size of the run is made a second time with that hip.
    """
    most = min(MOST_SECOND_HIPS, max(1, len(old) // 2))
    missing = ~some(fits(old, seen))
    best: tuple[int, int, int, int] | None = None  # bodies, first size, number of sizes, steps
    for steps in _SECOND_HIPS:
        others = [_with_hip(size, steps * grid.step_mm, grid) for size in old]
        plausible = [_is_plausible((size,)) for size in others]
        gained: Flags = fits(others, seen) & missing
        for first in range(len(old)):
            union = np.zeros(len(missing), dtype=np.bool_)
            for number in range(1, min(most, len(old) - first) + 1):
                if not plausible[first + number - 1]:
                    break
                union = union | gained[first + number - 1]
                count = int(np.count_nonzero(union))
                if best is None or count > best[0]:
                    best = count, first, number, steps
    if best is None or not best[0]:
        return None
    _, first, number, steps = best
    run = old[first : first + number]
    by_mm = steps * grid.step_mm
    added = tuple(_with_hip(size, by_mm, grid) for size in run)
    where = f"size {run[0].name}" if number == 1 else f"sizes {run[0].name} to {run[-1].name}"
    sign = "plus" if steps > 0 else "minus"
    more = f"{_spelled(number)} more {'size' if number == 1 else 'sizes'}"
    words = f"{more}, a second hip ({sign} {grid.shown(abs(by_mm))}) in {where}, would"
    return _Change(Kind.SECOND_HIP, (*old, *added), added, words)


def _with_hip(size: SizeReach, by_mm: float, grid: _Grid) -> SizeReach:
    name = f"{size.name} hip {'+' if by_mm > 0 else '-'}{grid.shown(abs(by_mm))}"
    return replace(size, name=name, hip=_shifted(size.hip, by_mm))


def _shifted(reach: Reach, by_mm: float) -> Reach:
    return replace(reach, girth_mm=reach.girth_mm + by_mm)


def _moved(size: SizeReach, bust: Reach, hip: Reach) -> SizeReach:
    """With another bust and hip; the waist keeps its place below the bust."""
    return SizeReach(size.name, bust, _shifted(size.waist, bust.girth_mm - size.bust.girth_mm), hip)


def _is_plausible(sizes: Iterable[SizeReach]) -> bool:
    """Tell whether these can be the girths of adults, a larger bust with a larger hip."""
    rows = sorted(sizes, key=lambda size: size.bust.girth_mm)
    inside = all(
        MEASUREMENTS[name].smallest <= reach.girth_mm <= MEASUREMENTS[name].largest
        for size in rows
        for name, reach in (("bust_girth", size.bust), ("hip_girth", size.hip))
    )
    return inside and all(
        one.hip.girth_mm < other.hip.girth_mm or one.bust.girth_mm == other.bust.girth_mm
        for one, other in pairwise(rows)
    )


# What they gain -----------------------------------------------------------------------------------


def _counted(old: Sequence[SizeReach], change: _Change, held_back: Girths) -> Suggestion:
    """Count on bodies that the search did not see.

    The interval is that of a difference of paired shares, from those who are won and lost.

    Source: R. G. Newcombe, Improved confidence intervals for the difference between binomial
    proportions based on paired data, Stat. Med. 17 (1998), method 1 (Wald).
    """
    before, after = some(fits(old, held_back)), some(fits(change.sizes, held_back))
    won, lost = int((after & ~before).sum()), int((before & ~after).sum())
    n = len(held_back)
    gain = (won - lost) / n
    half = _Z95 * math.sqrt(won + lost - (won - lost) ** 2 / n) / n
    return Suggestion(
        change.kind,
        change.sizes,
        change.added,
        Share(int(before.sum()), n),
        Share(int(after.sum()), n),
        gain - half,
        gain + half,
        change.words,
    )


_WORDS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def _spelled(number: int) -> str:
    return _WORDS[number] if number < len(_WORDS) else str(number)
