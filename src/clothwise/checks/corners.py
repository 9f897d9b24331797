"""Lines that run on across a seam, a dart or the center have no corner there."""

from __future__ import annotations

import math
from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.texts import degrees, edge_words, listed
from clothwise.geometry import Path, Point, Vector, angle_between
from clothwise.pattern import (
    Corner,
    EdgeRef,
    Finding,
    MarkKind,
    Piece,
    Seam,
    Severity,
    Sides,
)
from clothwise.pattern.junctions import end_corner, start_corner

CORNER_TOLERANCE_RAD = math.radians(3)
"""Joined angles add to 180 degrees within this (G07, common practice)."""

CENTER_TOLERANCE_RAD = math.radians(1)
"""Lines meet the center at right angles within this (G08, common practice)."""

RUNS_ON_RAD = math.radians(135)
"""Where the next edge turns off by less than 45 degrees, a seam runs on into it (an opening above
a center back seam) and nothing crosses it there; our own choice."""

ON_EDGE_MM = 0.5
"""A center line that ends no further from an edge ends on it."""

_STEP_MM = 1e-3
"""How far beside a point its two tangents are taken."""


def corners_across_seams(derived: Derived) -> Iterator[Finding]:
    """Runs that cross a seam or a dart with a corner."""
    pattern = derived.pattern
    for each in derived.junctions:
        junction = each.junction
        if not junction.seams or not each.corners:
            continue
        total = sum(derived.interior_angle(corner) for corner in each.corners)
        if abs(total - math.pi) <= CORNER_TOLERANCE_RAD:
            continue
        crossed = listed(pattern.seams[name].title for name in junction.seams)
        angles = " + ".join(degrees(derived.interior_angle(corner)) for corner in each.corners)
        yield _corner(
            derived,
            each.corners[0],
            junction.before,
            each.use.name,
            f"{each.use.title}: where {edge_words(pattern, junction.before)} runs on into "
            f"{edge_words(pattern, junction.after)} across the {crossed}, it has a corner: "
            f"{angles} = {degrees(total)}.",
            total,
        )


def corners_at_center_seams(derived: Derived) -> Iterator[Finding]:
    """Seams that join the left copy to the right one, where what crosses them has a corner."""
    for seam in derived.pattern.seams.values():
        runs = {layer.run for layer in seam.layers}
        if seam.sides is not Sides.CENTER or len(runs) != 1 or len(seam.layers) != 2:
            continue
        for corner, edge in _ends(derived, seam):
            angle = derived.interior_angle(corner)
            runs_on = angle > RUNS_ON_RAD
            if runs_on or abs(2 * angle - math.pi) <= CORNER_TOLERANCE_RAD:
                continue
            yield _corner(
                derived,
                corner,
                edge,
                seam.name,
                f"{seam.title}: what crosses it at the end of "
                f"{edge_words(derived.pattern, edge)} has a corner: twice {degrees(angle)} = "
                f"{degrees(2 * angle)}.",
                2 * angle,
            )


def _ends(derived: Derived, seam: Seam) -> list[tuple[Corner, EdgeRef]]:
    edges = seam.layers[0].run.edges
    return [
        (start_corner(derived.pattern, edges[0]), edges[0]),
        (end_corner(derived.pattern, edges[-1]), edges[-1]),
    ]


def _corner(
    derived: Derived, corner: Corner, edge: EdgeRef, seam: str, message: str, total: float
) -> Finding:
    return Finding(
        code="CORNER-ANGLE",
        severity=Severity.ERROR,
        message=message,
        remedy="Draw both lines square to the seam where they meet it, or blend them across it.",
        piece=edge.piece,
        edge=edge.edge,
        seam=seam,
        measured=degrees(total),
        allowed=f"180° ± {degrees(CORNER_TOLERANCE_RAD)}",
        at=derived.corner_point(corner),
    )


def right_angles_at_center(derived: Derived) -> Iterator[Finding]:
    """Lines that do not meet a fold or a marked center line at right angles."""
    for piece in derived.pattern.pieces.values():
        if piece.fold_edge:
            yield from _at_fold(derived, piece, piece.fold_edge)
        for mark in piece.marks:
            if mark.kind is not MarkKind.CENTER_LINE or mark.path is None:
                continue
            along = mark.path.end - mark.path.start
            for end in (mark.path.start, mark.path.end):
                yield from _at_line(derived, piece, along, end)


def _at_fold(derived: Derived, piece: Piece, fold: str) -> Iterator[Finding]:
    names = piece.edge_names
    number = names.index(fold)
    before, after = names[number - 1], names[(number + 1) % len(names)]
    for corner, edge in ((fold, before), (after, after)):
        place = Corner(piece.name, corner)
        angle = derived.interior_angle(place)
        if abs(angle - math.pi / 2) > CENTER_TOLERANCE_RAD:
            yield _slanted(piece, edge, "the fold", angle, derived.corner_point(place))


def _at_line(derived: Derived, piece: Piece, along: Vector, end: Point) -> Iterator[Finding]:
    """Both sides of a center line where it meets the outline."""
    for name, path in piece.outline.edges.items():
        if derived.distance_to_edge(piece.name, name, end) > ON_EDGE_MM:
            continue
        at_mm = path.nearest(end)
        off = max(_slants(path, at_mm, along), key=abs)
        if abs(off) > CENTER_TOLERANCE_RAD:
            angle = math.pi / 2 - off
            yield _slanted(piece, name, "the center line", angle, end)


def _slants(path: Path, at_mm: float, along: Vector) -> list[float]:
    """How far the tangents just before and after a place are from square to a direction."""
    found = []
    for place in (at_mm - _STEP_MM, at_mm + _STEP_MM):
        if 0 <= place <= path.length:
            turn = abs(angle_between(along, path.tangent_at(place)))
            found.append(math.pi / 2 - turn)
    return found or [0.0]


def _slanted(piece: Piece, edge: str, center: str, angle: float, at: Point) -> Finding:
    return Finding(
        code="CENTER-ANGLE",
        severity=Severity.ERROR,
        message=f"{edge} of {piece.title} meets {center} at {degrees(angle)}: opened out, it has "
        "a point or a dip there.",
        remedy="Draw it square to the center.",
        piece=piece.name,
        edge=edge,
        measured=degrees(angle),
        allowed=f"90° ± {degrees(CENTER_TOLERANCE_RAD)}",
        at=at,
    )


CHECKS = (
    Check(("CORNER-ANGLE",), corners_across_seams),
    Check(("CORNER-ANGLE",), corners_at_center_seams),
    Check(("CENTER-ANGLE",), right_angles_at_center),
)
