"""How fair lines are: bumps, spikes and bends, measured on the directions of many lines at once.

Only the direction of travel counts, so that lines that will be sewn together can be judged as one:
their directions are laid end to end.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from clothwise.geometry import Comb

BUMP_LOBES = (2, 3, 4, 5, 6, 7, 8)
"""Quarters of the widths of bumps that are looked for, in samples: bumps 20 to 80 mm wide. A wider
one is shape: looked for up to 100 mm, sound necklines of a quarter of all women have one."""

SPIKE_STEPS, BESIDE_STEPS = 3, 4
"""A turn within 7.5 mm is at one place; it is compared with 10 mm of the line on both sides."""

ARCH_SHARE = 0.15
"""A line that rises by this share of its chord or more is an arch (a sleeve cap): judged in two
halves, from its ends to its crown; our own choice."""

LEVEL_END_RAD = math.radians(4)
"""An end that leaves the chord at a smaller angle may do so on either side; our own choice."""

_NO_TURN_RAD = 1e-9
"""A turn from sample to sample smaller than this is rounding."""


@dataclass(frozen=True)
class Bump:
    """A bump of a line: which line, where, how high and how wide, mm."""

    line: int
    sample: int
    height_mm: float
    width_mm: float


@dataclass(frozen=True)
class Spike:
    """A turn at one place: which line, where, and by how much more than the line beside it."""

    line: int
    sample: int
    excess_rad: float


class Lines:
    """The directions of several lines in one array, so that each question is asked once."""

    def __init__(self, angles: Sequence[NDArray[np.float64]], steps_mm: Sequence[float]) -> None:
        """Lay the lines end to end.

        Args:
            angles: of each line, (n,) directions of travel at even steps, without jumps.
            steps_mm: of each line, the length from sample to sample.
        """
        self._angles = np.concatenate([np.zeros(0), *angles])
        self._counts = np.array([len(each) for each in angles], dtype=int)
        self._firsts = np.cumsum(self._counts) - self._counts
        self._owner = np.repeat(np.arange(len(angles)), self._counts)
        self._steps = np.array(steps_mm, dtype=float)
        self._left = np.repeat(self._firsts + self._counts, self._counts) - np.arange(
            len(self._angles)
        )

    def _fitting(self, steps: int) -> NDArray[np.int64]:
        """Samples that have at least so many steps of their line behind them."""
        return np.flatnonzero(self._left > steps)

    def bumps(self, least_mm: float, least_share: float = 0.0) -> list[Bump]:
        """The highest bump of each line, if higher than `least_mm` and that share of its width.

        A bump of height A and width w, y = A/2 (1 + cos 2 pi x / w), bends one way over its middle
        half and the other way over the quarters beside it, by m = 4 pi A / w^2 on the average.
        So along five lobes (beside, quarter, middle half, quarter, beside) the mean bend goes up
        and down in turns, by m, 2m, 2m and m. The least of these, and nothing where they do not
        take turns, tells how much of a bump is there, whatever the line does besides. At the ends
        of a line the lobe beside the bump may be missing.

        Source: derived from the cosine; our own choice of measure (decision 0017).
        """
        best: dict[int, Bump] = {}
        for lobe in BUMP_LOBES:
            long_enough = np.flatnonzero(self._counts > 5 * lobe)
            firsts = self._firsts[long_enough]
            lasts = firsts + self._counts[long_enough] - 1 - 5 * lobe
            for starts, lobes, weights in (
                (self._fitting(6 * lobe), (1, 1, 2, 1, 1), (2.0, 1.0, 1.0, 2.0)),
                (firsts, (1, 2, 1, 1), (1.0, 1.0, 2.0)),
                (lasts, (1, 1, 2, 1), (2.0, 1.0, 1.0)),
            ):
                heights = self._heights(starts, lobe, lobes, weights)
                widths = 4 * lobe * self._steps[self._owner[starts]]
                for number in np.flatnonzero(heights > np.maximum(least_mm, least_share * widths)):
                    self._keep(best, starts[number], lobe, lobes, float(heights[number]))
        return list(best.values())

    def _heights(
        self,
        starts: NDArray[np.int64],
        lobe: int,
        lobes: tuple[int, ...],
        weights: tuple[float, ...],
    ) -> NDArray[np.float64]:
        widths = np.array(lobes)[:, None] * lobe
        bounds = np.concatenate([np.zeros((1, 1), dtype=int), np.cumsum(widths, axis=0)])
        bends = np.diff(self._angles[starts + bounds], axis=0) / widths
        signs = np.array([(-1.0) ** number for number in range(len(weights))])
        rises = np.diff(bends, axis=0) * (np.array(weights) * signs)[:, None]
        least = np.maximum(rises.min(axis=0), -rises.max(axis=0))
        found: NDArray[np.float64] = (
            least * (4 * lobe) ** 2 * self._steps[self._owner[starts]] / (8 * math.pi)
        )
        return found

    def _keep(
        self, best: dict[int, Bump], start: int, lobe: int, lobes: tuple[int, ...], height: float
    ) -> None:
        line = int(self._owner[start])
        if line in best and best[line].height_mm >= height:
            return
        middle = lobe * (sum(lobes[: lobes.index(2)]) + 1)
        sample = int(start - self._firsts[line]) + middle
        best[line] = Bump(line, sample, height, float(4 * lobe * self._steps[line]))

    def spikes(self, least_rad: float, rounded_rad: float) -> list[Spike]:
        """The sharpest turn of each line, of those that turn by more than `least_rad` at one place.

        What the line turns beside it, on the side where it turns more, is taken off. A rounding
        that turns by `rounded_rad` or more altogether is a rounded corner and left out.
        """
        inner, beside = SPIKE_STEPS, BESIDE_STEPS
        starts = self._fitting(inner + 2 * beside)
        bounds = np.array([0, beside, beside + inner, 2 * beside + inner])[:, None]
        before, turn, after = np.diff(self._angles[starts + bounds], axis=0)
        sign = np.where(turn < 0, -1.0, 1.0)
        near = np.maximum(np.maximum(before * sign, after * sign), 0.0) * (inner / beside)
        excess = turn * sign - near
        best: dict[int, Spike] = {}
        for number in np.flatnonzero(excess > least_rad):
            middle = int(starts[number]) + beside + inner // 2
            line = int(self._owner[middle])
            known = best.get(line)
            if known and known.excess_rad >= excess[number]:
                continue
            if abs(self._turn_around(middle)) < rounded_rad:
                sample = middle - int(self._firsts[line])
                best[line] = Spike(line, sample, float(excess[number]))
        return list(best.values())

    def _turn_around(self, sample: int) -> float:
        """What the line turns where it bends at least half as much as at a sample."""
        line = self._owner[sample]
        first, last = self._firsts[line], self._firsts[line] + self._counts[line] - 1
        turns = np.diff(self._angles[first : last + 1])
        here = sample - first
        enough = turns * np.sign(turns[here]) >= abs(turns[here]) / 2
        low, high = here, here
        while low > 0 and enough[low - 1]:
            low -= 1
        while high < len(turns) - 1 and enough[high + 1]:
            high += 1
        return float(turns[low : high + 1].sum())

    def bends_back(self, swing_rad: float) -> list[int]:
        """How often each line changes the side it bends to; swings below `swing_rad` do not count.

        Swings are counted as a hysteresis does: the direction must go back by so much.
        """
        turns = np.diff(self._angles)
        inside = self._owner[1:] == self._owner[:-1]
        real = np.flatnonzero(inside & (np.abs(turns) > _NO_TURN_RAD))
        if not len(real):
            return [0] * len(self._counts)
        changes = np.flatnonzero(np.diff(np.sign(turns[real])) != 0)
        peaks: dict[int, list[float]] = {}
        for place in real[changes] + 1:
            peaks.setdefault(int(self._owner[place]), []).append(float(self._angles[place]))
        found = [0] * len(self._counts)
        for line, inner in peaks.items():
            first = self._firsts[line]
            last = first + self._counts[line] - 1
            directions = [float(self._angles[first]), *inner, float(self._angles[last])]
            found[line] = _swings(directions, swing_rad) - 1
        return [max(count, 0) for count in found]


def _swings(directions: list[float], least: float) -> int:
    """Number of swings of at least this much, up and down in turns."""
    low = high = directions[0]
    rising: bool | None = None
    count = 0
    for angle in directions[1:]:
        low, high = min(low, angle), max(high, angle)
        if rising is not True and angle - low >= least:
            rising, count, high = True, count + 1, angle
        elif rising is not False and high - angle >= least:
            rising, count, low = False, count + 1, angle
        elif rising is True and angle >= high:
            low = angle
        elif rising is False and angle <= low:
            high = angle
    return count


def needed_bends(comb: Comb) -> int:
    """How often a fair line with these ends changes the side it bends to.

    A line that leaves and meets its chord on the same side must be an S; else it bends one way. An
    arch is judged in two halves, from its ends to its crown.
    """
    start, end = comb.points[0], comb.points[-1]
    chord = end - start
    length = float(np.hypot(*chord))
    if length < 1e-9:
        return 2
    away = comb.points - start
    heights = np.abs(chord[0] * away[:, 1] - chord[1] * away[:, 0]) / length
    crown = int(heights.argmax())
    if heights[crown] < ARCH_SHARE * length or not 0 < crown < len(heights) - 1:
        return _is_s(comb, 0, len(heights) - 1)
    return _is_s(comb, 0, crown) + _is_s(comb, crown, len(heights) - 1)


def _is_s(comb: Comb, first: int, last: int) -> int:
    x, y = comb.points[last] - comb.points[first]
    leaves, meets = (
        math.atan2(x * direction[1] - y * direction[0], x * direction[0] + y * direction[1])
        for direction in (comb.directions[first], comb.directions[last])
    )
    level = min(abs(leaves), abs(meets)) < LEVEL_END_RAD
    return int(level or (leaves > 0) == (meets > 0))
