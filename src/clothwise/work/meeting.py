"""What meets what along a seam: between two matched places, lengths share evenly."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from clothwise.geometry import Point, Vector
from clothwise.pattern.graph import Run, Seam
from clothwise.pattern.pattern import Pattern
from clothwise.work.two_sided import is_on_far_half

SAMPLES = 40
"""Places along a seam at which it is asked what meets what."""


@dataclass(frozen=True)
class Meeting:
    """A place of a seam, on both layers: the piece, the point, the direction into the cloth.

    `edge` and `other_edge` are the edges it falls on.
    """

    piece: str
    at: Point
    inward: Vector
    other: str
    other_at: Point
    other_inward: Vector
    edge: str = ""
    other_edge: str = ""

    @property
    def swapped(self) -> Meeting:
        """The same place, the other layer first."""
        return Meeting(
            self.other,
            self.other_at,
            self.other_inward,
            self.piece,
            self.at,
            self.inward,
            self.other_edge,
            self.edge,
        )


def meetings(pattern: Pattern, seam: Seam, samples: int = SAMPLES) -> Iterator[Meeting]:
    """What meets what along a seam, at even distances; only layers that reach all along it."""
    numbers = [number for number, layer in enumerate(seam.layers) if layer.span is None]
    if len(numbers) < 2:
        return
    first, second = (seam.layers[number].run for number in numbers[:2])
    lengths = pattern.run_length(first), pattern.run_length(second)
    matched = _matched(seam, (numbers[0], numbers[1]), lengths)
    for number in range(samples + 1):
        at_mm = number / samples * lengths[0]
        one, edge = _place(pattern, first, at_mm)
        two, other_edge = _place(pattern, second, _along_other(matched, at_mm))
        yield Meeting(*one, *two, edge, other_edge)


def _matched(
    seam: Seam, layers: tuple[int, int], lengths: tuple[float, float]
) -> list[tuple[float, float]]:
    """Lengths along both layers that meet, in order, from the starts to the ends."""
    found = [(0.0, 0.0)]
    given = []
    for match in seam.matches:
        at = [match.at_mm[n] if n < len(match.at_mm) else None for n in layers]
        if at[0] is not None and at[1] is not None:
            given.append((at[0], at[1]))
    for one, other in sorted(given):
        last = found[-1]
        if last[0] + 1.0 < one < lengths[0] - 1.0 and last[1] + 1.0 < other < lengths[1] - 1.0:
            found.append((one, other))
    return [*found, lengths]


def _along_other(matched: Sequence[tuple[float, float]], at_mm: float) -> float:
    for (low, its_low), (high, its_high) in pairwise(matched):
        if at_mm <= high + 1e-6:
            share = (at_mm - low) / (high - low) if high > low else 0.0
            return its_low + (its_high - its_low) * share
    return matched[-1][1]


def _place(pattern: Pattern, run: Run, at_mm: float) -> tuple[tuple[str, Point, Vector], str]:
    spot = pattern.spot(run, at_mm)
    return (spot.edge.piece, spot.point, spot.inward), spot.edge.edge


def opposed(pattern: Pattern, seam: Seam) -> Mapping[tuple[str, str], bool]:
    """For each two pieces that meet in a seam: True if their insides lie on opposite sides of it.

    Edge to edge they are then seen from the same side, as at a waist.
    """
    totals: dict[tuple[str, str], float] = {}
    for place in meetings(pattern, seam):
        key = (place.piece, place.other)
        one = _as_drawn(pattern, place.piece, place.at, place.inward)
        other = _as_drawn(pattern, place.other, place.other_at, place.other_inward)
        totals[key] = totals.get(key, 0.0) + one.dot(other)
    return {key: total < 0 for key, total in totals.items()}


def _as_drawn(pattern: Pattern, piece: str, at: Point, way: Vector) -> Vector:
    """A direction on a piece as it would be on the half that pieces are drawn for."""
    return Vector(-way.x, way.y) if is_on_far_half(pattern.piece(piece), at) else way
