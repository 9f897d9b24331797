"""A strip along the lower edge of a piece, with the piece's own lines: what a hem facing is."""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.errors import ComponentError
from clothwise.geometry import (
    Path,
    Vector,
    angle_between,
    crossings,
    cubic_between,
    join,
    offset_path,
    straight,
)
from clothwise.pattern.graph import EdgeRef
from clothwise.pattern.piece import Piece

REACH_MM = 60.0
"""How far the upper edge is drawn on, straight, to find where it meets the sides."""

SLIVER_MM = 1e-4
"""A stretch this short is rounding; the corner it ends at moves by no more."""


SQUARE_RAD = math.radians(1)
"""Where a parallel upper edge would meet a side further than this from square (a seam may bend
above the lower edge), it is drawn from as far up both sides, square to them: so strips are as long
as each other at their seam, and the edge runs on smoothly across it."""


@dataclass(frozen=True)
class Strip:
    """A strip along some neighboring edges of a piece, in the direction of the outline.

    `start` and `end` are the piece's edges at the ends of the lower edge; None where the strip
    begins within the piece.
    """

    edges: dict[str, Path]
    start: str | None
    end: str | None


def strip_along(
    piece: Piece, edges: tuple[EdgeRef, ...], depth_mm: float, from_mm: float, where: str
) -> Strip:
    """The strip of a depth along edges of one piece, in the order of a run.

    It begins `from_mm` along the run; there its end is square to the lower edge.

    Raises:
        ComponentError: a side of the piece is shorter than the strip is deep.
    """
    backward = edges[0].reverse
    names = [edge.edge for edge in (reversed(edges) if backward else edges)]
    lower = join(*(piece.edge(name) for name in names))
    order = piece.edge_names
    start: str | None = order[order.index(names[0]) - 1]
    end: str | None = order[(order.index(names[-1]) + 1) % len(order)]
    if from_mm and backward:
        lower, end = lower.part(0.0, lower.length - from_mm), None
    elif from_mm:
        lower, start = lower.part(from_mm, lower.length), None
    top = offset_path(lower, depth_mm).extended(start_mm=REACH_MM, end_mm=REACH_MM)
    left = _side(piece, start, lower, depth_mm, at_end=False)
    right = _side(piece, end, lower, depth_mm, at_end=True)
    up, down = _met(top, right, where, depth_mm), _met(top, left, where, depth_mm)
    sides = left.part(0.0, down[1]), right.part(0.0, up[1])
    inner = _between(top, down[0], up[0])
    if not _is_square(inner, *(side.end_tangent for side in sides)):
        if min(left.length, right.length) < depth_mm:
            raise _too_deep(where, depth_mm, min(left.length, right.length))
        sides = left.part(0.0, depth_mm), right.part(0.0, depth_mm)
        inner = _square_to(*sides)
    return Strip(
        {"hem": lower, "end": sides[1], "inner": inner.reversed(), "start": sides[0].reversed()},
        start,
        end,
    )


def _is_square(inner: Path, at_start: Vector, at_end: Vector) -> bool:
    """Tell whether the upper edge is nearly square to the sides that lead up to its ends."""
    wanted = -at_start.left, -at_end.left
    given = inner.start_tangent, inner.end_tangent
    return all(abs(angle_between(*pair)) <= SQUARE_RAD for pair in zip(given, wanted, strict=True))


def _square_to(left: Path, right: Path) -> Path:
    """An upper edge from the end of one side to the end of the other, square to both."""
    return cubic_between(left.end, -left.end_tangent.left, right.end, -right.end_tangent.left)


def _between(top: Path, from_mm: float, to_mm: float) -> Path:
    """The upper edge between two places; no sliver of what was drawn on is left at its ends."""
    whole = top.part(from_mm, to_mm)
    segments = list(whole.segments)
    if len(segments) > 1 and segments[0].length < SLIVER_MM:
        segments = segments[1:]
    if len(segments) > 1 and segments[-1].length < SLIVER_MM:
        segments = segments[:-1]
    return Path(tuple(segments))


def _side(piece: Piece, edge: str | None, lower: Path, depth_mm: float, *, at_end: bool) -> Path:
    """The line that goes up from an end of the lower edge."""
    if edge is not None:
        return piece.edge(edge) if at_end else piece.edge(edge).reversed()
    corner = lower.end if at_end else lower.start
    along = lower.end_tangent if at_end else lower.start_tangent
    return straight(corner, corner + along.left * (depth_mm + REACH_MM))


def _met(top: Path, side: Path, where: str, depth_mm: float) -> tuple[float, float]:
    """Where the upper edge meets a side: how far along each."""
    met = crossings(top, side)
    if not met:
        raise _too_deep(where, depth_mm, side.length)
    lowest = min(met, key=lambda crossing: crossing.second_mm)
    return lowest.first_mm, lowest.second_mm


def _too_deep(where: str, depth_mm: float, side_mm: float) -> ComponentError:
    return ComponentError(
        "the hem facing is deeper than a side of the piece is long",
        where=where,
        how_much=f"depth {depth_mm:.0f} mm, side {side_mm:.0f} mm",
        what_to_do="Lower depth.",
    )
