"""How a wrap front reaches to the other side: the other half of the waist, with its darts closed.

What laps over center front lies on the other front. Below the bust it is shaped as that is, so it
is drawn along the waist of that half, laid end to end with darts and panel seams closed, mirrored.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate

from clothwise.components.bodices.front_shape import OpenFront
from clothwise.components.component import Drafting
from clothwise.errors import ComponentError
from clothwise.geometry import Path, Point, Transform, Vector, join
from clothwise.pattern.graph import EdgeRef
from clothwise.pattern.pattern import Pattern

LEAST_REACH_MM = 25.0
"""A front laps over center front by at least this; our own choice."""

SIDE_CLEAR_MM = 1.0
"""To the side seam means to this far before it; rounding."""


@dataclass(frozen=True)
class ClosedWaist:
    """The front half of a waist from center front, laid out with darts and panel seams closed.

    `parts` are its edges with what carries each from its piece to where it is laid.
    """

    parts: tuple[tuple[EdgeRef, Path, Transform], ...]

    @property
    def path(self) -> Path:
        """All of it, from center front outward."""
        return join(*(path.transformed(laid) for _, path, laid in self.parts))

    @property
    def length(self) -> float:
        """What is sewn of it."""
        return sum(path.length for _, path, _ in self.parts)

    @property
    def seams_mm(self) -> tuple[float, ...]:
        """Where darts and panel seams meet it, from center front."""
        return tuple(accumulate(path.length for _, path, _ in self.parts))[:-1]

    def place(self, at_mm: float, up_mm: float) -> tuple[str, Point, Vector]:
        """A place above the waist, on its piece: this far along, this far up; and the way along."""
        before = 0.0
        for edge, path, _ in self.parts:
            if at_mm <= before + path.length or edge is self.parts[-1][0]:
                along = min(at_mm - before, path.length)
                heading = path.tangent_at(along).unit
                return edge.piece, path.point_at(along) + heading.left * up_mm, heading
            before += path.length
        raise AssertionError("a waist has at least one part")


def closed_waist(pattern: Pattern, name: str) -> ClosedWaist:
    """The front half of the waist of the bodice so far.

    Raises:
        ComponentError: it has none.
    """
    waist = pattern.named_run("waist", name)
    edges = [edge for edge in waist.edges if not edge.reverse]
    first = pattern.piece(edges[0].piece)
    start = pattern.path(edges[0]).nearest(first.points["center front waist"])
    at, heading = first.points["center front waist"], Vector(1.0, 0.0)
    parts = []
    for number, edge in enumerate(edges):
        path = pattern.path(edge)
        own = path.part(start, path.length) if number == 0 and start > 0 else path
        here, there = own.start, own.start + own.start_tangent.unit
        laid = Transform.carry((here, there), (at, at + heading))
        parts.append((edge, own, laid))
        end = own.transformed(laid)
        at, heading = end.end, end.end_tangent.unit
    return ClosedWaist(tuple(parts))


def lap_over(drafting: Drafting, front: OpenFront, share: float) -> Path:
    """The waist of what laps over, from its end to center front.

    `share` of the sewn way from center front to the side seam.

    Raises:
        ComponentError: there is no waist, or it reaches less than a front can lap.
    """
    if "waist" not in drafting.pattern.runs:
        raise ComponentError(
            "a front that reaches to a point of the waist needs a waist seam",
            where=drafting.name,
            how_much="the bodice has none",
            what_to_do="Leave reach at 0, or give the bodice a waist.",
        )
    closed = closed_waist(drafting.pattern, drafting.name)
    reach = min(share * closed.length, closed.length - SIDE_CLEAR_MM)
    if reach < LEAST_REACH_MM:
        raise ComponentError(
            "the front hardly reaches over center front",
            where=drafting.name,
            how_much=f"{reach:.0f} mm, at least {LEAST_REACH_MM:.0f} mm",
            what_to_do="Raise reach.",
        )
    across = Transform.mirror(Point(0.0, front.foot_y), Vector(0.0, 1.0))
    return closed.path.part(0.0, reach).transformed(across).reversed()
