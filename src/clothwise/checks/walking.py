"""A seam walked: both sides laid along each other, stop by stop, as one walks paper patterns.

One side lies still and the other is rolled along it, stitching line on stitching line. The walk
stops at both ends, where notches meet, where one edge of a run passes into the next, and every
few centimeters between. Where a side is eased in, it is walked a little faster: between two places
that meet, both sides are covered by the same share.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise

from clothwise.checks.derived import Derived
from clothwise.checks.lengths import LENGTH_TOLERANCE_MM, wanted_length
from clothwise.checks.texts import titles
from clothwise.errors import Misuse, did_you_mean
from clothwise.pattern import NotchKind, Pattern, Run, Seam, Spot
from clothwise.pattern.plain_names import edge_of

STEP_MM = 25.0
"""The longest way between two stops; our own choice: about two fingers."""

SAME_STOP_MM = 2.0
"""Two stops this near to each other are one; our own choice."""


class StopKind(Enum):
    """Why the walk stops there."""

    START = "start"
    NOTCH = "notch"
    MEETING = "meeting"
    JOINT = "joint"
    STEP = "step"
    END = "end"


@dataclass(frozen=True)
class WalkedSide:
    """One side of the seam: its run, the titles of its pieces, its length and where it begins.

    `begins_mm` is where the walk starts on it: more than nothing if the other side is short.
    """

    run: Run
    words: str
    begins_mm: float
    length_mm: float


@dataclass(frozen=True)
class Stop:
    """A place where both sides lie on each other.

    Attributes:
        kind: why the walk stops.
        name: of the notch, or of the edge that begins; empty for a plain step.
        gone_mm: the way from the start, along each side.
        spots: the place on each side.
        is_off: what meets here does not lie where the ease of the seam explains it.
    """

    kind: StopKind
    name: str
    gone_mm: tuple[float, float]
    spots: tuple[Spot, Spot]
    is_off: bool = False

    @property
    def ahead_mm(self) -> float:
        """How much further the way along the second side is than along the first."""
        return self.gone_mm[1] - self.gone_mm[0]


@dataclass(frozen=True)
class SeamWalk:
    """A seam walked from its start to its end.

    `ease_mm` is how much longer the second side is meant to be; `excess_mm` how much longer than
    that it is.
    """

    seam: str
    title: str
    sides: tuple[WalkedSide, WalkedSide]
    ease_mm: float
    excess_mm: float
    stops: tuple[Stop, ...]

    @property
    def is_off(self) -> bool:
        """Whether the lengths, or what meets on the way, do not agree."""
        return any(stop.is_off for stop in self.stops)


def walked_pairs(seam: Seam) -> tuple[int, ...]:
    """The layers that can be walked along the first one."""
    return tuple(range(1, len(seam.layers)))


def seam_walk(derived: Derived, seam_name: str, *, layer: int = 1) -> SeamWalk:
    """Walk a layer of a seam along its first layer.

    Raises:
        Misuse: there is no such seam, or no such layer.
    """
    pattern = derived.pattern
    seam = pattern.seams.get(seam_name)
    if seam is None:
        raise Misuse(
            f"there is no seam {seam_name[:60]!r} to walk",
            where=f"size {pattern.size}" if pattern.size else "",
            what_to_do=did_you_mean(seam_name, pattern.seams, of_what="seams"),
        )
    if layer not in walked_pairs(seam):
        raise Misuse(
            f"the seam has no layer {layer} to walk along its first",
            where=seam.title,
            how_much=f"{len(seam.layers)} layers",
            what_to_do=f"Choose a layer from 1 to {len(seam.layers) - 1}.",
        )
    first, second = seam.layers[0], seam.layers[layer]
    start, end = second.span or (0.0, pattern.run_length(first.run))
    sides = (
        WalkedSide(first.run, titles(pattern, first.run), start, end - start),
        WalkedSide(second.run, titles(pattern, second.run), 0.0, pattern.run_length(second.run)),
    )
    excess = sides[1].length_mm - wanted_length(derived, seam, second)
    anchors = tuple(_anchors(seam, layer, sides, excess))
    pairs = [(each.first_mm, each.second_mm) for each in anchors]
    joints = _joints(pattern, sides, pairs)
    stops = tuple(
        _stop(pattern, sides, each) for each in _with_steps(_merged(anchors, joints), pairs)
    )
    return SeamWalk(seam.name, seam.title, sides, second.ease_mm, excess, stops)


@dataclass(frozen=True)
class _Place:
    """A stop before its spots are known: the way from the start along each side."""

    kind: StopKind
    name: str
    first_mm: float
    second_mm: float
    is_off: bool = False


def _anchors(
    seam: Seam, layer: int, sides: tuple[WalkedSide, WalkedSide], excess_mm: float
) -> Iterator[_Place]:
    """Both ends and what meets between them, in order on both sides."""
    first, second = sides
    ease = seam.layers[layer].ease_mm
    least, most = min(0.0, ease) - LENGTH_TOLERANCE_MM, max(0.0, ease) + LENGTH_TOLERANCE_MM
    yield _Place(StopKind.START, "", 0.0, 0.0)
    last = (0.0, 0.0)
    for match in sorted(seam.matches, key=lambda each: each.at_mm[0] or 0.0):
        if len(match.at_mm) <= layer:
            continue
        base, at_mm = match.at_mm[0], match.at_mm[layer]
        if base is None or at_mm is None:
            continue
        here = (base - first.begins_mm, at_mm)
        inside = here[0] < first.length_mm and here[1] < second.length_mm
        if not (inside and here[0] > last[0] and here[1] > last[1]):
            continue
        kind = StopKind.MEETING if match.notch is NotchKind.NONE else StopKind.NOTCH
        yield _Place(kind, match.name, *here, not least <= here[1] - here[0] <= most)
        last = here
    off = abs(excess_mm) > LENGTH_TOLERANCE_MM
    yield _Place(StopKind.END, "", first.length_mm, second.length_mm, off)


def _joints(
    pattern: Pattern, sides: tuple[WalkedSide, WalkedSide], pairs: list[tuple[float, float]]
) -> Iterator[_Place]:
    """Where a run of either side passes from one edge into the next."""
    for number, side in enumerate(sides):
        at = -side.begins_mm
        for before, after in pairwise(side.run.edges):
            at += pattern.edge_length(before)
            if not 0 < at < side.length_mm:
                continue
            other = _carried(at, pairs, number)
            words = edge_of(pattern.piece(after.piece), after.edge)
            here = (at, other) if number == 0 else (other, at)
            yield _Place(StopKind.JOINT, words, *here)


def _carried(at_mm: float, pairs: list[tuple[float, float]], side: int) -> float:
    """The way along the other side that belongs to a way along one: even between anchors."""
    ways = [pair[side] for pair in pairs]
    after = min(max(bisect_right(ways, at_mm), 1), len(pairs) - 1)
    low, high = pairs[after - 1], pairs[after]
    length = high[side] - low[side]
    share = (at_mm - low[side]) / length if length > 0 else 0.0
    return low[1 - side] + (high[1 - side] - low[1 - side]) * share


def _merged(anchors: tuple[_Place, ...], joints: Iterator[_Place]) -> list[_Place]:
    """The stops that have a reason, in order; a joint at an anchor or at another joint is one."""
    known = list(anchors)
    for joint in joints:
        if all(abs(joint.first_mm - each.first_mm) > SAME_STOP_MM for each in known):
            known.append(joint)
    return sorted(known, key=lambda each: each.first_mm)


def _with_steps(places: list[_Place], pairs: list[tuple[float, float]]) -> Iterator[_Place]:
    """The stops and, between them, steps of the same length."""
    for before, after in pairwise(places):
        yield before
        way = after.first_mm - before.first_mm
        count = max(1, math.ceil(way / STEP_MM - 1e-9))
        for number in range(1, count):
            at = before.first_mm + way * number / count
            yield _Place(StopKind.STEP, "", at, _carried(at, pairs, 0))
    yield places[-1]


def _stop(pattern: Pattern, sides: tuple[WalkedSide, WalkedSide], place: _Place) -> Stop:
    gone = (place.first_mm, place.second_mm)
    spots = (
        pattern.spot(sides[0].run, sides[0].begins_mm + gone[0]),
        pattern.spot(sides[1].run, sides[1].begins_mm + gone[1]),
    )
    return Stop(place.kind, place.name, gone, spots, place.is_off)
