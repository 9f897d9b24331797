"""Where the words of a piece stand on the board: the roomiest place, clear of marks and grain.

The words keep their size on the screen while the piece grows and shrinks, so that a place is
given with the room around it; whether the words go in is seen when they are shown.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from clothwise.geometry import Path, Point

LEVELS = 28
"""The room is looked for between so many levels; our own choice."""

TALLEST_SHARE = 0.34
"""A line of words is about so much as high as it is wide, with the line below it; our own."""

TURNED_GAIN = 1.7
"""Words are turned upright only if that gives so much more room; our own choice."""

CENTERED_GAIN = 0.25
"""How much more a place counts that lies in the middle of the piece; our own choice."""

CLEAR_MM = 2.0
"""Words keep so far off lines; our own choice."""

_Line = Sequence[tuple[float, float]]
_Span = tuple[float, float]
_Room = tuple[float, float, float, float]


@dataclass(frozen=True)
class LabelSpot:
    """A free rectangle: its middle, and how wide and high it is for words.

    `is_turned`: the words read from the bottom to the top, and the width is measured upward.
    """

    at: Point
    width_mm: float
    height_mm: float
    is_turned: bool = False


def label_spots(
    outline: Sequence[Point], lines: Iterable[Path], thin_lines: Iterable[Path] = ()
) -> tuple[LabelSpot, ...]:
    """Places for the words of a piece, the best first: level, turned, and level over thin lines.

    Args:
        outline: the points of its outline, the first not repeated.
        lines: that words must not touch.
        thin_lines: that they keep off if they can.
    """
    return _label_spots(tuple(outline), tuple(lines), tuple(thin_lines))


@lru_cache(maxsize=256)
def _label_spots(
    outline: tuple[Point, ...], lines: tuple[Path, ...], thin_lines: tuple[Path, ...]
) -> tuple[LabelSpot, ...]:
    """Kept, because most changes of a design leave most pieces as they are."""
    ring = [(point.x, point.y) for point in outline]
    firm = [[(p.x, p.y) for p in path.flattened(0.5)] for path in lines]
    thin = [[(p.x, p.y) for p in path.flattened(0.5)] for path in thin_lines]
    level = _roomiest(ring, [*firm, *thin])
    turned = _roomiest([(y, x) for x, y in ring], [_swapped(line) for line in (*firm, *thin)])
    found = [_level_spot(level), LabelSpot(Point(turned[1], turned[0]), *turned[2:], True)]
    if _worth(turned) > TURNED_GAIN * _worth(level):
        found.reverse()
    if thin:
        found.append(_level_spot(_roomiest(ring, firm)))
    return tuple(found)


def _level_spot(room: _Room) -> LabelSpot:
    return LabelSpot(Point(room[0], room[1]), room[2], room[3])


def _swapped(line: _Line) -> _Line:
    return [(y, x) for x, y in line]


def _worth(room: _Room) -> float:
    """How wide words of the usual proportions could be there."""
    _, _, width, height = room
    return min(width, height / TALLEST_SHARE)


def _roomiest(ring: _Line, lines: Sequence[_Line]) -> _Room:
    """Middle, width and height of the rectangle in which words could be largest."""
    low, high = min(y for _, y in ring), max(y for _, y in ring)
    step = (high - low) / LEVELS
    levels = [low + step * (number + 0.5) for number in range(LEVELS)]
    free = [_free_at(ring, lines, y, step / 2) for y in levels]
    best, best_worth = (ring[0][0], ring[0][1], 0.0, 0.0), -1.0
    for first in range(LEVELS):
        spans = free[first]
        for last in range(first, LEVELS):
            spans = _both(spans, free[last]) if last > first else spans
            if not spans:
                break
            height = step * (last - first + 0.5)
            start, end = max(spans, key=lambda span: span[1] - span[0])
            middle = (levels[first] + levels[last]) / 2
            off = abs(middle - (low + high) / 2) / (high - low)
            room = ((start + end) / 2, middle, end - start, height)
            worth = _worth(room) * (1 + CENTERED_GAIN * (1 - 2 * off))
            if worth > best_worth:
                best, best_worth = room, worth
            if height > (end - start) * TALLEST_SHARE:
                break  # higher is only narrower
    return best


def _free_at(ring: _Line, lines: Sequence[_Line], y: float, half: float) -> list[_Span]:
    """The stretches of a level that lie inside, without what lines cover in the band around it."""
    xs = sorted(_crossings([*ring, ring[0]], y))
    blocked = sorted(span for line in lines for span in _covered(line, y - half, y + half))
    spans: list[_Span] = []
    for start, end in zip(xs[::2], xs[1::2], strict=False):
        at = start
        for left, right in blocked:
            if left - CLEAR_MM > at:
                spans.append((at, min(left - CLEAR_MM, end)))
            at = max(at, right + CLEAR_MM)
            if at >= end:
                break
        if at < end:
            spans.append((at, end))
    return [span for span in spans if span[1] > span[0]]


def _crossings(line: _Line, y: float) -> list[float]:
    found = []
    for (x0, y0), (x1, y1) in pairwise(line):
        if (y0 <= y) != (y1 <= y):
            found.append(x0 + (x1 - x0) * (y - y0) / (y1 - y0))
    return found


def _covered(line: _Line, low: float, high: float) -> Iterator[_Span]:
    """Which stretches the parts of a line cover that lie between two levels."""
    for (x0, y0), (x1, y1) in pairwise(line):
        if max(y0, y1) < low or min(y0, y1) > high:
            continue
        ends = [x0, x1]
        for number, y in enumerate((y0, y1)):
            inside = min(max(y, low), high)
            if inside != y:
                ends[number] = x0 + (x1 - x0) * (inside - y0) / (y1 - y0)
        yield min(ends), max(ends)


def _both(one: Sequence[_Span], other: Sequence[_Span]) -> list[_Span]:
    met = [(max(a[0], b[0]), min(a[1], b[1])) for a in one for b in other]
    return [span for span in met if span[1] > span[0]]
