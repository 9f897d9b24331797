"""Lines that collars have in common: an edge that bends evenly, the outer edge, the outer seam."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from clothwise.components.component import Drafting
from clothwise.geometry import Path, Point, Vector, cubic_between, polar
from clothwise.pattern.graph import EdgeCare, Layer, Match, Pressing, Run, Seam, run
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece

MOST_RISE_SHARE = 0.4
"""An edge rises or falls by at most this share of its length; our own choice."""


def bent_edge(length_mm: float, rise_mm: float) -> Path:
    """From center back at the origin, level there, to a place `rise_mm` higher; exactly this long.

    It bends evenly; a negative rise falls.
    """
    rise = math.copysign(min(abs(rise_mm), MOST_RISE_SHARE * length_mm), rise_mm)
    low, high = 0.5 * length_mm, length_mm
    for _ in range(50):
        middle = (low + high) / 2
        if _bend(middle, rise).length < length_mm:
            low = middle
        else:
            high = middle
    return _bend((low + high) / 2, rise)


def _bend(x: float, rise: float) -> Path:
    lean = 2 * math.atan2(rise, x)
    return cubic_between(Point(0.0, 0.0), Vector(1.0, 0.0), Point(x, rise), polar(1.0, lean))


def outer_edge(tip: Point, top: Point) -> Path:
    """From the point of a collar to center back, square to it, with an even bend."""
    leaving = polar(1.0, 2 * (top - tip).angle - math.pi)
    return cubic_between(tip, leaving, top, Vector(-1.0, 0.0))


def outer_seam(drafting: Drafting, upper: Piece, under: Piece) -> Seam:
    """The turned seam of an under and an upper collar, along the edges `end` and `outer`."""
    lengths = [(piece.edge("end").length, piece.edge("outer").length) for piece in (under, upper)]
    ease = sum(lengths[1]) - sum(lengths[0])
    return Seam(
        name=f"{drafting.name}-outer",
        title="outer edge of the collar",
        layers=(
            Layer(run(f"{under.name}.end", f"{under.name}.outer")),
            Layer(run(f"{upper.name}.end", f"{upper.name}.outer"), ease_mm=ease),
        ),
        allowance_mm=drafting.neck_allowance_mm,
        pressing=Pressing.TURNED,
        care=EdgeCare.NONE,
        matches=(Match("collar point", (lengths[0][0], lengths[1][0]), NotchKind.NONE),),
        component=drafting.name,
    )


def seams_across(pattern: Pattern, along: Run) -> Iterator[float]:
    """Where a run goes on from one piece to another, mm from its start."""
    at_mm = 0.0
    for before, after in pairwise(along.edges):
        at_mm += pattern.edge_length(before)
        if before.piece != after.piece:
            yield at_mm
