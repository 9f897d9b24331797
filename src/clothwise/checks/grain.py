"""Grainlines and marks lie on their piece; the grain runs with the fold."""

from __future__ import annotations

import math
from collections.abc import Iterator

from shapely.geometry import LineString
from shapely.geometry import Point as Place
from shapely.ops import unary_union

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.texts import degrees, mm
from clothwise.geometry import Point, Vector, angle_between
from clothwise.pattern import Finding, Mark, MarkKind, Piece, Severity

PARALLEL_TOLERANCE_RAD = 5e-4
"""A grainline this near to the fold runs with it: 0.5 mm over a meter; our own choice."""

MEANT_RAD = math.radians(3)
"""A grainline further off is meant so: the piece is opened out and cut whole, as a half circle with
its straight edge on the selvage (C07) or a piece on the bias (I13). Our own choice."""


def grainlines(derived: Derived) -> Iterator[Finding]:
    """Grainlines that leave the piece, or do not run with its fold."""
    for piece in derived.pattern.pieces.values():
        start, end = piece.grain.start, piece.grain.end
        outside = _outside(derived, piece.name, [start, end])
        if start.is_close(end, 1.0):
            yield _grain_finding(
                piece, "GRAIN-OUTSIDE", "has no length", "Draw it along the warp.", "0 mm", start
            )
        elif outside is not None:
            yield _grain_finding(
                piece,
                "GRAIN-OUTSIDE",
                f"leaves the piece by {mm(outside[0])}",
                "Move it to the inside of the piece.",
                f"{mm(outside[0])} outside",
                outside[1],
            )
        elif piece.fold_edge:
            fold = piece.edge(piece.fold_edge)
            off = _angle_between_lines(end - start, fold.end - fold.start)
            if PARALLEL_TOLERANCE_RAD < off < MEANT_RAD:
                yield _grain_finding(
                    piece,
                    "GRAIN-FOLD",
                    f"lies at {degrees(off)} to the fold",
                    "Draw it parallel to the fold, or the piece cannot be cut on the fold.",
                    degrees(off),
                    start.toward(end, 0.5),
                )


def _grain_finding(
    piece: Piece, code: str, what: str, remedy: str, measured: str, at: Point
) -> Finding:
    return Finding(
        code=code,
        severity=Severity.ERROR,
        message=f"The grainline of {piece.title} {what}.",
        remedy=remedy,
        piece=piece.name,
        measured=measured,
        allowed=f"along the fold, or {degrees(MEANT_RAD)} off it and more"
        if code == "GRAIN-FOLD"
        else "inside the piece",
        at=at,
    )


def marks_inside(derived: Derived) -> Iterator[Finding]:
    """Marks that lie beside their piece; cutting lines go on over its allowances."""
    for piece in derived.pattern.pieces.values():
        for mark in piece.marks:
            if mark.kind is MarkKind.CUTTING_LINE:
                continue
            points = _points(mark)
            outside = _outside(derived, piece.name, points) if points else None
            if outside is None or _only_across_darts(derived, piece, mark):
                continue
            yield Finding(
                code="MARK-OUTSIDE",
                severity=Severity.ERROR,
                message=f"The {mark.kind.value} {mark.name} of {piece.title} lies "
                f"{mm(outside[0])} outside the stitching line.",
                remedy="Move the mark onto the piece.",
                piece=piece.name,
                measured=f"{mm(outside[0])} outside",
                allowed="inside the piece",
                at=outside[1],
            )


def _only_across_darts(derived: Derived, piece: Piece, mark: Mark) -> bool:
    """True for a placement line that leaves the piece in darts alone; `placements` tells of it."""
    if mark.kind is not MarkKind.PLACEMENT_LINE or mark.path is None:
        return False
    line = LineString([(point.x, point.y) for point in mark.path.flattened()])
    closed = unary_union([derived.room(piece.name), *derived.dart_wedges(piece.name).values()])
    return bool(closed.covers(line))


def _points(mark: Mark) -> list[Point]:
    points = [mark.at] if mark.at is not None else []
    return points + (mark.path.flattened() if mark.path is not None else [])


def _outside(derived: Derived, piece: str, points: list[Point]) -> tuple[float, Point] | None:
    """How far a line through the points leaves the piece, and where; None if it stays inside."""
    room = derived.room(piece)
    places = [(point.x, point.y) for point in points]
    shape = LineString(places) if len(places) > 1 else Place(places[0])
    if room.covers(shape):
        return None
    away = [(derived.polygon(piece).distance(Place(*place)), place) for place in places]
    lost = shape.difference(room)
    middle = lost.representative_point() if not lost.is_empty else Place(places[0])
    away.append((derived.polygon(piece).distance(middle), (middle.x, middle.y)))
    distance, place = max(away)
    return distance, Point(*place)


def _angle_between_lines(one: Vector, two: Vector) -> float:
    """The smaller angle between two directions, whichever way they are drawn."""
    turn = abs(angle_between(one, two))
    return min(turn, math.pi - turn)


CHECKS = (
    Check(("GRAIN-OUTSIDE", "GRAIN-FOLD"), grainlines),
    Check(("MARK-OUTSIDE",), marks_inside),
)
