"""How deep a hem may be on an edge that flares: the wider it flares, the less can be eased in."""

from __future__ import annotations

import math

from clothwise.geometry import Cubic, Path, Segment, angle_between
from clothwise.pattern.graph import Run
from clothwise.pattern.pattern import Pattern

INCH_MM = 25.4

DEPTH_BY_FLARE = (
    (0.10, 2.5 * INCH_MM),
    (0.35, 2.0 * INCH_MM),
    (0.75, 1.5 * INCH_MM),
    (math.inf, 0.25 * INCH_MM),
)
"""Up to this share of a full circle, a hem is this deep.

Source of the depths: Texas Agricultural Extension Service L-359, The Hem of Your Dress or Skirt:
straight 2 1/2 in, gored with 60 to 70 in round 2 in (H01, H02); T. Johnson, It's Fun to Sew a
Cotton School Dress, 4-H bulletin: flared 1 1/2 in, circle 1/4 in (H04). A gored skirt of 65 in
round that leaves a hip of 40 in is, 20 in below the hip, a fifth of a circle. The bounds halfway
between straight, a fifth, half and whole circle are our own choice.
"""

MOST_FULLNESS = 0.08
"""Share of its length that the raw edge may be longer than the line it lies on; as the check
HEM-DEEP has it (own)."""

MOST_TIGHTNESS = 0.04
"""Share that it may be shorter where an edge narrows; as the check HEM-DEEP has it (own)."""

STEP_MM = 5.0
"""A depth that is less than that of its class is a multiple of this, so that sizes agree (own)."""

STRAIGHT_RAD = 1e-6


def circle_share(pattern: Pattern, edge: Run) -> float:
    """The share of a full circle that both sides of a lower edge together turn through.

    The run is one side of the garment; 0 for a straight skirt, 1 for a full circle.
    """
    return 2 * sum(_turning(path) for path in _outlines(pattern, edge)) / (2 * math.pi)


def depth_by_flare(pattern: Pattern, edge: Run) -> float:
    """How deep the hem of a lower edge is usually made, mm."""
    share = circle_share(pattern, edge)
    usual = next(depth for most, depth in DEPTH_BY_FLARE if share <= most)
    deepest = min(
        (
            _deepest(segment)
            for path in _outlines(pattern, edge)
            for segment in path.segments
            if isinstance(segment, Cubic)
        ),
        default=math.inf,
    )
    if deepest >= usual:
        return usual
    return max(STEP_MM * math.floor(deepest / STEP_MM), DEPTH_BY_FLARE[-1][1])


def extra_length(pattern: Pattern, edge: Run, depth_mm: float) -> float:
    """What the raw edge is longer than the line it lies on, mm, on one side of the garment (H08).

    Nothing for an edge that narrows.
    """
    turned = sum(_turning(path) for path in _outlines(pattern, edge))
    return max(2 * depth_mm * turned, 0.0)


def shell_part(pattern: Pattern, edge: Run) -> Run:
    """The lower edge without the facings that hang on the front edges, or on the back edges."""
    edges = edge.edges
    front, back = pattern.runs.get("front-edge"), pattern.runs.get("back-edge")
    if front is not None:
        below = front.edges[-1].piece
        first = next((at for at, each in enumerate(edges) if each.piece == below), 0)
        return Run(edges[first:], edge.closed)
    if back is not None:
        below = back.edges[-1].piece
        ends = [at for at, each in enumerate(edges) if each.piece == below]
        return Run(edges[: ends[-1] + 1] if ends else edges, edge.closed)
    return edge


def from_opening(pattern: Pattern, edge: Run) -> tuple[Run, Run]:
    """The lower edge of the shell, from where it opens, and that of the facings that hang there.

    Both begin at the front edge, or at the back edge; the second has no edges without facings.
    """
    shell = shell_part(pattern, edge)
    before = edge.edges.index(shell.edges[0])
    if before:
        return shell, Run(edge.edges[:before]).reversed
    after = edge.edges[len(shell.edges) :]
    return (shell.reversed, Run(after)) if after else (shell, Run(()))


def _outlines(pattern: Pattern, edge: Run) -> list[Path]:
    """The edges as their outlines travel them, anticlockwise: a left turn bulges outward."""
    return [pattern.piece(each.piece).edge(each.edge) for each in shell_part(pattern, edge).edges]


def _turning(path: Path) -> float:
    return sum(_bend(segment) for segment in path.segments)


def _bend(segment: Segment) -> float:
    """The angle a segment turns by, radians; in two halves, for it may be more than half a turn."""
    if not isinstance(segment, Cubic):
        return 0.0
    middle = segment.derivative(0.5)
    return angle_between(segment.derivative(0.0), middle) + angle_between(
        middle, segment.derivative(1.0)
    )


def _deepest(segment: Cubic) -> float:
    """The depth at which the raw edge is as much longer or shorter as it may be.

    Of a depth d the edge is 2 d x bend longer than the line it lies on, which is d x bend shorter
    than the hem line.
    """
    bend = _bend(segment)
    if abs(bend) < STRAIGHT_RAD:
        return math.inf
    most = MOST_FULLNESS if bend > 0 else -MOST_TIGHTNESS
    return most * segment.length / (bend * (2 + most))
