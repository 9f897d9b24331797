"""Lines that run on across a seam, a dart or the center have no corner there, unless one is meant.

A component, or a design, declares the corners that it means (`IntendedCorner`); these must then be
there, with the declared angle.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived, RunJunction
from clothwise.checks.texts import degrees, edge_words, listed, mm
from clothwise.geometry import Path, Point, Vector, angle_between, kinks
from clothwise.pattern import (
    Corner,
    EdgeRef,
    Finding,
    IntendedCorner,
    MarkKind,
    Piece,
    Seam,
    Severity,
    Side,
    Sides,
)
from clothwise.pattern.first_letter import raised
from clothwise.pattern.junctions import end_corner, start_corner
from clothwise.pattern.plain_names import edge_of

CORNER_TOLERANCE_RAD = math.radians(3)
"""Joined angles add to 180 degrees within this (G07, common practice)."""

CENTER_TOLERANCE_RAD = math.radians(1)
"""Lines meet the center at right angles within this (G08, common practice)."""

RUNS_ON_RAD = math.radians(160)
"""Where the next edge turns off by less than 20 degrees, a seam runs on into it (an opening above
a center back seam) and nothing crosses it there; a V neck seldom comes down that steeply. Our own
choice."""

ON_EDGE_MM = 0.5
"""A center line that ends no further from an edge ends on it."""

_ANY_JOINT_RAD = -1.0
"""Less than any turn: every joint of a path is asked for."""

_STEP_MM = 1e-3
"""How far beside a point its two tangents are taken."""


KINK_TOLERANCE_RAD = math.radians(1)
"""Inside an edge a joint that turns by less is no corner."""

AT_CORNER_MM = 1.0
"""A corner declared inside an edge is found within this of where it is declared."""


@dataclass(frozen=True)
class _Crossing:
    """A place where a line crosses a seam, a fold or a center, and the angle it has there.

    `lines` are the edges that the line runs along, each with the corner of its piece where the
    place is; `inside` is the length along an edge if it is not at its end. `angle_rad` is that of
    the joined cloth, 180 degrees if the line runs straight on. `has_corner` is what is reported
    unless it is declared: a line that runs straight on may still cross the center at a slant.
    """

    lines: frozenset[tuple[str, str, Corner]]
    angle_rad: float
    has_corner: bool
    finding: Callable[[], Finding]
    inside: tuple[EdgeRef, float] | None = None

    def is_of(self, derived: Derived, intended: IntendedCorner) -> bool:
        line = intended.line
        if intended.at_mm is None:
            return (line.piece, line.edge, end_corner(derived.pattern, line)) in self.lines
        if self.inside is None:
            return False
        edge, at_mm = self.inside
        return edge.edge == line.edge and _is_at(derived, intended, edge, at_mm)


def undeclared_corners(derived: Derived) -> Iterator[Finding]:
    """Corners of lines that cross a seam, a dart, a fold or a center line, declared by nobody."""
    declared = derived.pattern.intended_corners
    for crossing in _crossings(derived):
        if crossing.has_corner and not any(crossing.is_of(derived, each) for each in declared):
            yield crossing.finding()


def declared_corners(derived: Derived) -> Iterator[Finding]:
    """Declared corners that are not there, or have another angle."""
    declared = derived.pattern.intended_corners
    crossings = tuple(_crossings(derived)) if declared else ()
    for intended in declared:
        found = [
            (each.angle_rad, each.has_corner) for each in crossings if each.is_of(derived, intended)
        ]
        if intended.at_mm is None:
            at = derived.corner_point(end_corner(derived.pattern, intended.line))
        else:
            at = _point_inside(derived, intended)
            found = found or _joints(derived, intended)
        if not found:
            yield _nowhere(derived, intended, at)
            continue
        angles = [angle for angle, _ in found]
        missed = [angle for angle in angles if not intended.is_met(angle)]
        if missed or not any(is_one for _, is_one in found):
            yield _missed(derived, intended, (missed or angles)[0], at)


def meant_across(derived: Derived, before: EdgeRef, after: EdgeRef) -> IntendedCorner | None:
    """The corner declared where a run goes on from one edge into another, if one is."""
    pattern = derived.pattern
    ends = {
        (before.piece, before.edge, end_corner(pattern, before)),
        (after.piece, after.edge, start_corner(pattern, after)),
    }
    for each in pattern.intended_corners:
        line = each.line
        if each.at_mm is None and (line.piece, line.edge, end_corner(pattern, line)) in ends:
            return each
    return None


def is_declared_inside(derived: Derived, edge: EdgeRef, at_mm: float) -> bool:
    """True if a corner inside an edge is declared there; `at_mm` from the edge's own start."""
    return any(_is_at(derived, each, edge, at_mm) for each in derived.pattern.intended_corners)


def _is_at(derived: Derived, intended: IntendedCorner, edge: EdgeRef, at_mm: float) -> bool:
    """True if a corner is declared at this length from an edge's own start."""
    if (intended.line.piece, intended.line.edge) != (edge.piece, edge.edge):
        return False
    place = _place_inside(derived, intended)
    return place is not None and abs(place - at_mm) <= AT_CORNER_MM


def _place_inside(derived: Derived, intended: IntendedCorner) -> float | None:
    """Where a corner inside an edge is declared, from the edge's own start."""
    if intended.at_mm is None:
        return None
    length = derived.pattern.edge_length(intended.line)
    return length - intended.at_mm if intended.line.reverse else intended.at_mm


def _point_inside(derived: Derived, intended: IntendedCorner) -> Point:
    """Where a corner inside an edge is declared; the nearest end if that lies beyond."""
    path = derived.pattern.piece(intended.line.piece).edge(intended.line.edge)
    return path.point_at(min(max(_place_inside(derived, intended) or 0.0, 0.0), path.length))


def _joints(derived: Derived, intended: IntendedCorner) -> list[tuple[float, bool]]:
    """The sharpest joint at a place inside an edge: its angle, and whether that is a corner."""
    path = derived.pattern.piece(intended.line.piece).edge(intended.line.edge)
    place = _place_inside(derived, intended) or 0.0
    turns = [
        kink.turn_rad
        for kink in kinks(path, _ANY_JOINT_RAD)
        if abs(kink.at_mm - place) <= AT_CORNER_MM
    ]
    if not turns:
        return []
    turn = max(turns, key=abs)
    return [(math.pi - turn, abs(turn) > KINK_TOLERANCE_RAD)]


def _crossings(derived: Derived) -> Iterator[_Crossing]:
    yield from _across_seams(derived)
    yield from _across_center_seams(derived)
    for piece in derived.pattern.pieces.values():
        if piece.fold_edge:
            yield from _across_fold(derived, piece, piece.fold_edge)
        for mark in piece.marks:
            if mark.kind is not MarkKind.CENTER_LINE or mark.path is None:
                continue
            yield from _across_line(derived, piece, mark.path.start, mark.path.end)
            yield from _across_line(derived, piece, mark.path.end, mark.path.start)


def _across_seams(derived: Derived) -> Iterator[_Crossing]:
    """Runs that cross a seam or a dart."""
    pattern = derived.pattern
    for each in derived.junctions:
        junction = each.junction
        if not junction.seams or not each.corners:
            continue
        total = sum(derived.interior_angle(corner) for corner in each.corners)
        before, after = junction.before, junction.after
        yield _Crossing(
            frozenset(
                (
                    (before.piece, before.edge, end_corner(pattern, before)),
                    (after.piece, after.edge, start_corner(pattern, after)),
                )
            ),
            total,
            abs(total - math.pi) > CORNER_TOLERANCE_RAD,
            partial(_corner_across, derived, each, total),
        )


def _corner_across(derived: Derived, each: RunJunction, total: float) -> Finding:
    pattern, junction = derived.pattern, each.junction
    crossed = listed(pattern.seams[name].title for name in junction.seams or ())
    angles = " + ".join(degrees(derived.interior_angle(corner)) for corner in each.corners)
    return _corner(
        derived,
        each.corners[0],
        junction.before,
        each.use.name,
        f"{each.use.title}: where {edge_words(pattern, junction.before)} runs on into "
        f"{edge_words(pattern, junction.after)} across the {crossed}, it has a corner: "
        f"{angles} = {degrees(total)}.",
        total,
    )


def _across_center_seams(derived: Derived) -> Iterator[_Crossing]:
    """Seams that join the left copy to the right one, and what crosses them."""
    for seam in derived.pattern.seams.values():
        runs = {layer.run for layer in seam.layers}
        if seam.sides is not Sides.CENTER or len(runs) != 1 or len(seam.layers) != 2:
            continue
        for corner, edge in _ends(derived, seam):
            angle = derived.interior_angle(corner)
            if angle > RUNS_ON_RAD and not _is_declared(derived, corner):
                continue
            yield _Crossing(
                _crossing_lines(derived, corner, edge.edge),
                2 * angle,
                abs(2 * angle - math.pi) > CORNER_TOLERANCE_RAD,
                partial(_corner_at_center, derived, seam, corner, edge, angle),
            )


def _corner_at_center(
    derived: Derived, seam: Seam, corner: Corner, edge: EdgeRef, angle: float
) -> Finding:
    return _corner(
        derived,
        corner,
        edge,
        seam.name,
        f"{seam.title}: what crosses it at the end of {edge_words(derived.pattern, edge)} has a "
        f"corner: twice {degrees(angle)} = {degrees(2 * angle)}.",
        2 * angle,
    )


def _is_declared(derived: Derived, corner: Corner) -> bool:
    return any(
        each.at_mm is None and end_corner(derived.pattern, each.line) == corner
        for each in derived.pattern.intended_corners
    )


def _crossing_lines(
    derived: Derived, corner: Corner, without: str
) -> frozenset[tuple[str, str, Corner]]:
    """The edges at a corner, but the one along the seam, the fold or the center."""
    edges = {derived.edge_before(corner), corner.edge} - {without}
    return frozenset((corner.piece, edge, corner) for edge in edges)


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
        remedy="Draw both lines square to the seam where they meet it, or blend them across it; if "
        "the corner is meant, declare it.",
        piece=edge.piece,
        edge=edge.edge,
        seam=seam,
        measured=degrees(total),
        allowed=f"180° ± {degrees(CORNER_TOLERANCE_RAD)}",
        at=derived.corner_point(corner),
    )


def _across_fold(derived: Derived, piece: Piece, fold: str) -> Iterator[_Crossing]:
    """Lines that meet the fold edge; they must do so at right angles."""
    names = piece.edge_names
    number = names.index(fold)
    before, after = names[number - 1], names[(number + 1) % len(names)]
    for corner, edge in ((fold, before), (after, after)):
        if _is_drawn_across(derived, piece.name, edge):
            continue
        place = Corner(piece.name, corner)
        angle = derived.interior_angle(place)
        yield _Crossing(
            frozenset({(piece.name, edge, place)}),
            2 * angle,
            abs(angle - math.pi / 2) > CENTER_TOLERANCE_RAD,
            partial(_slanted, piece, edge, "the fold", angle, derived.corner_point(place)),
        )


def _across_line(derived: Derived, piece: Piece, end: Point, other: Point) -> Iterator[_Crossing]:
    """Edges that meet an end of a marked center line; on both sides of it at right angles."""
    inward = other - end
    names = piece.edge_names
    for number, (name, path) in enumerate(piece.outline.edges.items()):
        if derived.distance_to_edge(piece.name, name, end) > ON_EDGE_MM:
            continue
        if _is_drawn_across(derived, piece.name, name):
            continue
        at_mm = path.nearest(end)
        own = [abs(angle_between(inward, way)) for way in _ways(path, at_mm)]
        angle = max(own, key=lambda each: abs(each - math.pi / 2), default=math.pi / 2)
        following = names[(number + 1) % len(names)]
        corners = [
            corner
            for corner in (Corner(piece.name, name), Corner(piece.name, following))
            if derived.corner_point(corner).distance(end) <= ON_EDGE_MM
        ]
        ways = _ways_at_corner(derived, corners[0]) if corners else _ways(path, at_mm)
        lines = [_crossing_lines(derived, corner, "") for corner in corners]
        yield _Crossing(
            frozenset().union(*lines),
            _joined(derived, piece, end, inward, ways),
            abs(angle - math.pi / 2) > CENTER_TOLERANCE_RAD,
            partial(_slanted, piece, name, "the center line", angle, end),
            None if corners else (EdgeRef(piece.name, name), at_mm),
        )


def _is_drawn_across(derived: Derived, piece: str, edge: str) -> bool:
    """Whether an edge is the line of a split, which meets the center as its designer drew it."""
    return any(
        isinstance(use, Seam) and derived.is_of_split(use)
        for use in derived.pattern.uses_of(piece, edge)
    )


def _ways(path: Path, at_mm: float) -> list[Vector]:
    """Directions in which a path leads away from a place on it."""
    return [
        path.tangent_at(place) * away
        for place, away in ((at_mm - _STEP_MM, -1.0), (at_mm + _STEP_MM, 1.0))
        if 0 <= place <= path.length
    ]


def _ways_at_corner(derived: Derived, corner: Corner) -> list[Vector]:
    """Directions in which the two edges at a corner lead away from it."""
    piece = derived.pattern.piece(corner.piece)
    return [
        piece.edge(derived.edge_before(corner)).end_tangent * -1.0,
        piece.edge(corner.edge).start_tangent,
    ]


def _joined(
    derived: Derived, piece: Piece, end: Point, inward: Vector, ways: list[Vector]
) -> float:
    """The angle of the cloth at a center line, with what lies on its other side.

    A piece for both sides of the wearer has both halves itself. Otherwise the half on the body's
    side is met by its like: what laps over the center lies below or above the other piece.
    """
    if derived.sides(piece.name) == {Side.CENTER}:
        return sum(abs(angle_between(inward, way)) for way in ways)
    middle = derived.polygon(piece.name).centroid
    body_side = inward.cross(Point(middle.x, middle.y) - end)
    halves = [way for way in ways if inward.cross(way) * body_side > 0]
    angles = [abs(angle_between(inward, way)) for way in halves or ways]
    return 2 * max(angles, key=lambda each: abs(each - math.pi / 2))


def _slanted(piece: Piece, edge: str, center: str, angle: float, at: Point) -> Finding:
    return Finding(
        code="CENTER-ANGLE",
        severity=Severity.ERROR,
        message=f"The {edge_of(piece, edge)} meets {center} at {degrees(angle)}: opened out, it "
        "has a point or a dip there.",
        remedy="Draw it square to the center; if the point is meant, declare it.",
        piece=piece.name,
        edge=edge,
        measured=degrees(angle),
        allowed=f"90° ± {degrees(CENTER_TOLERANCE_RAD)}",
        at=at,
    )


def _missed(derived: Derived, intended: IntendedCorner, angle: float, at: Point) -> Finding:
    words = raised(edge_words(derived.pattern, intended.line))
    return _declared(
        intended,
        f"{words} is meant to have a corner ({intended.why}), but has {degrees(angle)} there.",
        "Draw the corner as it is declared, or declare it as it is drawn.",
        degrees(angle),
        at,
    )


def _nowhere(derived: Derived, intended: IntendedCorner, at: Point) -> Finding:
    words = raised(edge_words(derived.pattern, intended.line))
    where = "at its end" if intended.at_mm is None else f"{mm(intended.at_mm)} along it"
    return _declared(
        intended,
        f"{words} is meant to have a corner {where} ({intended.why}), but no line crosses a seam "
        "or a center there, nor has it a joint.",
        "Name the edge along which the line comes, toward its corner, or remove the declaration.",
        "no corner",
        at,
    )


def _declared(
    intended: IntendedCorner, message: str, remedy: str, measured: str, at: Point
) -> Finding:
    if intended.angle_rad is None:
        allowed = "any corner"
    else:
        allowed = f"{degrees(intended.angle_rad)} ± {degrees(intended.tolerance_rad)}"
    return Finding(
        code="CORNER-DECLARED",
        severity=Severity.ERROR,
        message=message,
        remedy=remedy,
        piece=intended.line.piece,
        edge=intended.line.edge,
        measured=measured,
        allowed=allowed,
        at=at,
    )


CHECKS = (
    Check(("CORNER-ANGLE", "CENTER-ANGLE"), undeclared_corners),
    Check(("CORNER-DECLARED",), declared_corners),
)
