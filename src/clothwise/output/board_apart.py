"""Pieces that come to lie on one another on the board: moved apart, each as little as it takes.

People remember where pieces lie. So the piece that has the shortest way to a free place goes
there, one at a time, and all others stay.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from itertools import combinations

from shapely.affinity import translate
from shapely.geometry import Polygon

from clothwise.geometry import Point, Vector

__all__ = ["lying_pairs", "moved_apart"]

LEAST_OVERLAP_MM2 = 100.0
"""Pieces that lie on one another by less do not hide each other's lines; our own choice."""

CLEAR_MM = 20.0
"""So far from all others lies a piece that was moved; our own choice."""

STEP_MM, LONGER = 10.0, 1.06
"""Places are tried so far away, and further off in longer steps; our own choice."""

WAYS = tuple(
    Vector(math.cos(turn), math.sin(turn))
    for turn in (math.pi / 4 * n for n in (0, 4, 6, 2, 1, 3, 5, 7))
)
"""Right, left, down, up, then aslant."""

_Box = tuple[float, float, float, float]


def lying_pairs(
    shapes: Mapping[str, Polygon], places: Mapping[str, Point]
) -> list[tuple[str, str]]:
    """The pieces that lie on one another, in pairs.

    Args:
        shapes: the cutting lines, each in the coordinates of its piece, mm.
        places: where the origin of each piece lies, y upward.
    """
    laid = _laid(shapes, places)
    return [pair for pair in combinations(laid, 2) if _lie(*(laid[name] for name in pair))]


def moved_apart(shapes: Mapping[str, Polygon], places: Mapping[str, Point]) -> dict[str, Point]:
    """Places in which no piece lies on another; those in nobody's way keep theirs.

    Of the pieces that lie on others, the one with the shortest way goes; where two have the same,
    the one that was drafted later.

    Args:
        shapes: as `lying_pairs`.
        places: likewise, in the order of drafting.
    """
    found, order = dict(places), list(places)
    while pairs := lying_pairs(shapes, found):
        laid = _laid(shapes, found)
        lying = sorted({name for pair in pairs for name in pair}, key=order.index, reverse=True)
        best, name = Vector(math.inf, 0.0), ""
        for each in lying:
            others = [shape for other, shape in laid.items() if other != each]
            step = _way_out(laid[each], others, best.length)
            if step is not None:
                best, name = step, each
        found[name] += best
    return found


def _way_out(shape: Polygon, others: list[Polygon], shorter_than_mm: float) -> Vector | None:
    """The shortest step to where a shape lies clear of others; None if it is not that short."""
    for distance in _distances(shorter_than_mm):
        for way in WAYS:
            if _is_clear(shape, way * distance, others):
                return way * distance
    return None


def _distances(shorter_than_mm: float) -> Iterator[float]:
    distance, step = STEP_MM, STEP_MM
    while distance < shorter_than_mm:
        yield distance
        step *= LONGER
        distance += step


def _is_clear(shape: Polygon, step: Vector, others: list[Polygon]) -> bool:
    left, bottom, right, top = shape.bounds
    box = (left + step.x, bottom + step.y, right + step.x, top + step.y)
    near = [other for other in others if _meet(box, other.bounds, CLEAR_MM)]
    if not near:
        return True
    moved = translate(shape, step.x, step.y)
    return all(moved.distance(other) >= CLEAR_MM for other in near)


def _laid(shapes: Mapping[str, Polygon], places: Mapping[str, Point]) -> dict[str, Polygon]:
    return {name: translate(shapes[name], at.x, at.y) for name, at in places.items()}


def _lie(one: Polygon, other: Polygon) -> bool:
    is_near = _meet(one.bounds, other.bounds, 0.0)
    return is_near and one.intersection(other).area > LEAST_OVERLAP_MM2


def _meet(one: _Box, other: _Box, aside_mm: float) -> bool:
    return (
        one[0] < other[2] + aside_mm
        and other[0] < one[2] + aside_mm
        and one[1] < other[3] + aside_mm
        and other[1] < one[3] + aside_mm
    )
