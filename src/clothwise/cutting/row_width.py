"""The least width that several pieces take side by side across the cloth.

Of two pieces `abreast` says the same; here up to four rest one on the other, by the same sliding of
their outlines.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cache
from itertools import permutations, product

from clothwise.cutting.abreast import extent_mm, resting_mm
from clothwise.cutting.item import Polyline

__all__ = ["MOST_PIECES", "row_width_mm"]

_PLACES = {2: 13, 3: 7, 4: 4}
"""Places tried along the longest piece, by how many pieces there are. Our own choice."""
MOST_PIECES = max(_PLACES)

_Laid = tuple[int, int]
"""Which piece, and in which of its ways."""
_Rests = Callable[[_Laid, _Laid, float], float]
"""How high the second lies that rests on the first, so far further along."""


def row_width_mm(pieces: Sequence[Sequence[Polyline]]) -> float:
    """Return the least width found for pieces side by side, the shorter within the longest.

    Orders, ways and places are tried out; between the places along the cloth a slightly narrower
    row may exist.

    Args:
        pieces: two to four, each in every way in which it may lie, x along the cloth, with half of
            the spacing round it if some is to be kept.

    Returns:
        The width from edge to edge of what was given.
    """
    outlines = [[_at_origin(outline) for outline in ways] for ways in pieces]
    tops = [[extent_mm(outline, 1)[1] for outline in ways] for ways in outlines]
    lengths = [extent_mm(ways[0], 0)[1] for ways in outlines]

    @cache
    def rests(under: _Laid, over: _Laid, further_mm: float) -> float:
        moved = tuple((x + further_mm, y) for x, y in outlines[over[0]][over[1]])
        return resting_mm(outlines[under[0]][under[1]], moved)

    return min(
        _stacked(order, shifts, rests, tops)
        for row in _without_half_turns_of_all([len(ways) for ways in outlines])
        for shifts in _shifts(lengths)
        for order in permutations(row)
    )


def _at_origin(outline: Polyline) -> Polyline:
    left, low = extent_mm(outline, 0)[0], extent_mm(outline, 1)[0]
    return tuple((x - left, y - low) for x, y in outline)


def _without_half_turns_of_all(ways: Sequence[int]) -> Iterator[list[_Laid]]:
    """Every way of all pieces; the first of the first is enough, as all may be turned together."""
    first = range(max(1, (ways[0] + 1) // 2))
    for chosen in product(first, *(range(count) for count in ways[1:])):
        yield list(enumerate(chosen))


def _shifts(lengths_mm: Sequence[float]) -> Iterator[tuple[float, ...]]:
    """How far along each piece begins, the longest at 0."""
    longest, places = max(lengths_mm), _PLACES[len(lengths_mm)]
    yield from product(*(_places(longest - length, places) for length in lengths_mm))


def _places(room_mm: float, places: int) -> list[float]:
    return sorted({round(room_mm * number / (places - 1), 3) for number in range(places)})


def _stacked(
    order: Sequence[_Laid],
    shifts: Sequence[float],
    rests: _Rests,
    tops: Sequence[Sequence[float]],
) -> float:
    """The width of pieces that rest one on the other in an order, from the edge of the cloth."""
    lows: dict[_Laid, float] = {}
    for one in order:
        on_others = (
            low + rests(under, one, round(shifts[one[0]] - shifts[under[0]], 3))
            for under, low in lows.items()
        )
        lows[one] = max((0.0, *on_others))
    return max(low + tops[one[0]][one[1]] for one, low in lows.items())
