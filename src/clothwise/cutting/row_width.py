"""The least width that several pieces take side by side across the cloth."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations, product

import numpy as np
from numpy.typing import NDArray

from clothwise.cutting.item import Polyline

__all__ = ["row_width_mm"]

COLUMN_MM = 2.0
"""Pieces are compared in columns across the cloth, one each 2 mm. Our own choice."""
_PLACES = {2: 13, 3: 7, 4: 4}
"""Places tried along the longest piece, by how many pieces there are. Our own choice."""
MOST_PIECES = max(_PLACES)

_Columns = NDArray[np.float64]


@dataclass(frozen=True)
class _Profile:
    """One piece in one way of lying: where it begins and ends across the cloth, by columns."""

    low: _Columns
    high: _Columns

    @property
    def columns(self) -> int:
        return len(self.low)


def row_width_mm(pieces: Sequence[Sequence[Polyline]]) -> float:
    """Return the least width found for pieces side by side, the shorter within the longest.

    A piece counts as solid between its lowest and its highest point in every column, so that what
    would reach round another is not seen. Orders, ways and places are tried out; between the places
    along the cloth a slightly narrower row may exist.

    Args:
        pieces: two to four, each in every way in which it may lie, x along the cloth, with half of
            the spacing round it if some is to be kept.

    Returns:
        The width from edge to edge of what was given.
    """
    ways = [[_profile(outline) for outline in each] for each in pieces]
    longest = max(range(len(ways)), key=lambda at: ways[at][0].columns)
    return min(
        _stacked(profiles, shifts, order)
        for profiles in _without_half_turns_of_all(ways)
        for shifts in _shifts(profiles, longest)
        for order in permutations(range(len(ways)))
    )


def _profile(outline: Polyline) -> _Profile:
    points = np.asarray(outline)
    points = points - points.min(axis=0)
    count = max(1, math.ceil(points[:, 0].max() / COLUMN_MM))
    at = (np.arange(count) + 0.5) * points[:, 0].max() / count
    x0, y0 = points[:, 0, None], points[:, 1, None]
    x1, y1 = np.roll(points, -1, axis=0)[:, 0, None], np.roll(points, -1, axis=0)[:, 1, None]
    crosses = (np.minimum(x0, x1) <= at) & (at <= np.maximum(x0, x1)) & (x0 != x1)
    share = (at - x0) / np.where(x0 == x1, 1.0, x1 - x0)
    y = y0 + share * (y1 - y0)
    low = np.where(crosses, y, np.inf).min(axis=0)
    high = np.where(crosses, y, -np.inf).max(axis=0)
    return _Profile(low, high)


def _without_half_turns_of_all(ways: Sequence[Sequence[_Profile]]) -> Iterator[list[_Profile]]:
    """Every way of all pieces; the first of the first is enough, as all may be turned together."""
    first = ways[0][: max(1, (len(ways[0]) + 1) // 2)]
    for profiles in product(first, *ways[1:]):
        yield list(profiles)


def _shifts(profiles: Sequence[_Profile], longest: int) -> Iterator[tuple[int, ...]]:
    places = _PLACES[len(profiles)]
    rooms = [profiles[longest].columns - profile.columns for profile in profiles]
    yield from product(*(_places(max(0, room), places) for room in rooms))


def _places(room: int, places: int) -> list[int]:
    return sorted({round(room * number / (places - 1)) for number in range(places)})


def _stacked(profiles: Sequence[_Profile], shifts: Sequence[int], order: Sequence[int]) -> float:
    """The width of pieces let down one on the other in an order, from the edge of the cloth."""
    columns = max(profile.columns + shift for profile, shift in zip(profiles, shifts, strict=True))
    top = np.zeros(columns)
    for at in order:
        profile = profiles[at]
        under = top[shifts[at] : shifts[at] + profile.columns]
        up = float((under - profile.low).max())
        np.maximum(under, profile.high + up, out=under)
    return float(top.max())
