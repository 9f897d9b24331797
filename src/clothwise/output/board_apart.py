"""Pieces that come to lie on one another on the board: moved apart, as little as it takes.

People remember where pieces lie. So of all ways to part two of them the one is taken that moves
least: one piece goes to the nearest free place, or it moves on and pushes what lies behind it.
All others stay.
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

PUSHED_PAIRS = 6
"""Of more pairs than these each piece goes to a free place, for pushing takes long; our own."""

STRAIGHT = (Vector(1.0, 0.0), Vector(-1.0, 0.0), Vector(0.0, -1.0), Vector(0.0, 1.0))
ASLANT = tuple(
    Vector(x, y) * math.sqrt(0.5) for x, y in ((1.0, -1.0), (-1.0, -1.0), (1.0, 1.0), (-1.0, 1.0))
)

_Box = tuple[float, float, float, float]
_Steps = dict[str, Vector]


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

    Where two ways take the same, the piece moves that was drafted later.

    Args:
        shapes: as `lying_pairs`.
        places: likewise, in the order of drafting.
    """
    found = dict(places)
    while pairs := lying_pairs(shapes, found):
        laid = _laid(shapes, found)
        best: _Steps = {}
        for steps in _ways_apart(laid, pairs):
            if not best or _moved(steps) < _moved(best):
                best = steps
        found |= {name: found[name] + step for name, step in best.items()}
    return found


def _ways_apart(laid: Mapping[str, Polygon], pairs: list[tuple[str, str]]) -> Iterator[_Steps]:
    """What each of the pieces that lie on others may do; at least one of them finds a place."""
    order = list(laid)
    lying = {name for pair in pairs for name in pair}
    shortest = math.inf
    for name in sorted(lying, key=order.index, reverse=True):
        step = _to_free_place(laid, name, shortest)
        if step is not None:
            shortest = step.length
            yield {name: step}
    for one, other in pairs if len(pairs) <= PUSHED_PAIRS else ():
        for way in STRAIGHT:
            yield from filter(None, (_pushed(laid, one, other, way, shortest),))
            yield from filter(None, (_pushed(laid, other, one, way, shortest),))


def _moved(steps: _Steps) -> float:
    return sum(step.length for step in steps.values())


def _to_free_place(laid: Mapping[str, Polygon], name: str, shorter_than_mm: float) -> Vector | None:
    """The shortest step to where a piece lies clear of all others; None if it is not so short."""
    others = [shape for other, shape in laid.items() if other != name]
    for distance in _distances(shorter_than_mm):
        for way in (*STRAIGHT, *ASLANT):
            if all(_is_clear(laid[name], way * distance, other) for other in others):
                return way * distance
    return None


def _distances(shorter_than_mm: float) -> Iterator[float]:
    distance, step = STEP_MM, STEP_MM
    while distance < shorter_than_mm:
        yield distance
        step *= LONGER
        distance += step


def _pushed(
    laid: Mapping[str, Polygon], stays: str, goes: str, way: Vector, shorter_than_mm: float
) -> _Steps | None:
    """How far each piece moves if one moves off another and pushes what it comes too near to.

    None if that takes more than it may, or would push the one that stays.
    """
    steps: _Steps = {}
    pushing = [(stays, goes)]
    while pushing:
        pusher, name = pushing.pop()
        if name == stays:
            return None
        against = _stepped(laid[pusher], steps.get(pusher))
        step = steps.get(name, Vector(0.0, 0.0))
        while not _is_clear(laid[name], step, against):
            step += way * STEP_MM
        steps[name] = step
        if _moved(steps) >= shorter_than_mm:
            return None
        pushing += [
            (name, other)
            for other in laid
            if other != name
            and (name, other) != (goes, stays)
            and _is_pushed(laid, name, other, steps)
        ]
    return steps


def _is_pushed(laid: Mapping[str, Polygon], one: str, other: str, steps: _Steps) -> bool:
    """Whether a piece has come too near to another, and nearer than it was."""
    moved, its = (_stepped(laid[name], steps.get(name)) for name in (one, other))
    if not _meet(moved.bounds, its.bounds, CLEAR_MM):
        return False
    now = moved.distance(its)
    return _lie(moved, its) or (now < CLEAR_MM and now < laid[one].distance(laid[other]) - 1e-6)


def _stepped(shape: Polygon, step: Vector | None) -> Polygon:
    return translate(shape, step.x, step.y) if step else shape


def _is_clear(shape: Polygon, step: Vector, other: Polygon) -> bool:
    left, bottom, right, top = shape.bounds
    box = (left + step.x, bottom + step.y, right + step.x, top + step.y)
    if not _meet(box, other.bounds, CLEAR_MM):
        return True
    return bool(_stepped(shape, step).distance(other) >= CLEAR_MM)


def _laid(shapes: Mapping[str, Polygon], places: Mapping[str, Point]) -> dict[str, Polygon]:
    return {name: translate(shapes[name], at.x, at.y) for name, at in places.items()}


def _lie(one: Polygon, other: Polygon) -> bool:
    is_near = _meet(one.bounds, other.bounds, 0.0)
    return is_near and bool(one.intersection(other).area > LEAST_OVERLAP_MM2)


def _meet(one: _Box, other: _Box, aside_mm: float) -> bool:
    return (
        one[0] < other[2] + aside_mm
        and other[0] < one[2] + aside_mm
        and one[1] < other[3] + aside_mm
        and other[1] < one[3] + aside_mm
    )
