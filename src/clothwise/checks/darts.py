"""Darts: legs of one length, a point inside the piece, and short of the bust point."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.checks.check_type import Check
from clothwise.checks.derived import Derived
from clothwise.checks.texts import mm
from clothwise.geometry import Point
from clothwise.pattern import Dart, Finding, Piece, Severity
from clothwise.pattern.plain_names import edge_called, piece_called

LEG_TOLERANCE_MM = 0.5
"""Dart legs agree within this (D06; the tolerance is our own choice)."""

LEAST_FROM_EDGE_MM = 10.0
"""A dart must end this far inside the piece, or its point lies in a seam; our own choice."""

BUST_DART_SHORT_MM = (15.0, 30.0)
"""How far a bust dart ends before the bust point: D08 says 20-25 mm; 5 mm either way are ours."""

WAIST_DART_SHORT_MM = (5.0, 30.0)
"""The same for a dart from the waist: D08 says 10-25 mm; 5 mm either way are ours."""


def dart_legs(derived: Derived) -> Iterator[Finding]:
    """Darts whose legs differ in length, or do not follow each other on the outline."""
    for piece, dart in _all_darts(derived):
        one, two = piece.edge(dart.leg_in), piece.edge(dart.leg_out)
        if not one.end.is_close(two.start, 1e-3):
            yield _finding(
                piece,
                dart,
                "DART-LEGS",
                Severity.ERROR,
                f"The legs of the {dart.name} of {piece.title} do not meet in a point.",
                "Name two edges that follow each other, from the mouth to the point and back.",
                "no common point",
                "one point",
                one.end,
            )
            continue
        gap = two.length - one.length
        if abs(gap) > LEG_TOLERANCE_MM:
            longer = dart.leg_out if gap > 0 else dart.leg_in
            yield _finding(
                piece,
                dart,
                "DART-LEGS",
                Severity.ERROR,
                f"One leg of the {dart.name} of {piece.title} is {mm(abs(gap))} longer than the "
                f"other: {mm(one.length)} and {mm(two.length)}.",
                f"Shorten the {edge_called(piece, longer)}, or true the mouth of the dart.",
                mm(abs(gap)),
                f"at most {mm(LEG_TOLERANCE_MM)}",
                piece.edge(longer).start if gap < 0 else piece.edge(longer).end,
                longer,
            )


def dart_points(derived: Derived) -> Iterator[Finding]:
    """Darts that point outward, or end too near another edge."""
    for piece, dart in _all_darts(derived):
        apex = piece.apex(dart)
        one, two = piece.edge(dart.leg_in), piece.edge(dart.leg_out)
        if one.end_tangent.cross(two.start_tangent) >= 0:
            yield _finding(
                piece,
                dart,
                "DART-POINT",
                Severity.ERROR,
                f"The {dart.name} of {piece.title} points out of the piece.",
                "Move its point to the inside.",
                "outside",
                "inside the piece",
                apex,
            )
            continue
        legs = {dart.leg_in, dart.leg_out}
        near = [
            (derived.distance_to_edge(piece.name, name, apex), name)
            for name in piece.edge_names
            if name not in legs and piece.dart_of_leg(name) is None
        ]
        distance, edge = min(near, default=(LEAST_FROM_EDGE_MM, ""))
        if distance < LEAST_FROM_EDGE_MM - 1e-6:
            yield _finding(
                piece,
                dart,
                "DART-POINT",
                Severity.ERROR,
                f"The {dart.name} of the {piece_called(piece)} ends {mm(distance)} from the "
                f"{edge_called(piece, edge)}.",
                "Shorten the dart, or move its point inward.",
                mm(distance),
                f"at least {mm(LEAST_FROM_EDGE_MM)}",
                apex,
            )


def bust_darts(derived: Derived) -> Iterator[Finding]:
    """Darts of a front that end on the bust point, beyond it, or far before it."""
    for piece, dart in _all_darts(derived):
        bust = piece.points.get("bust point")
        if bust is None:
            continue
        apex, mouth = piece.apex(dart), _mouth(piece, dart)
        short = bust.distance(apex)
        if (bust - apex).dot(apex - mouth) < 0:
            short = -short
        least, most = (
            WAIST_DART_SHORT_MM if _is_waist_dart(derived, piece, dart) else (BUST_DART_SHORT_MM)
        )
        if least - 1e-6 <= short <= most + 1e-6:
            continue
        where = "before" if short > 0 else "beyond"
        yield _finding(
            piece,
            dart,
            "DART-BUST",
            Severity.WARNING,
            f"The {dart.name} of {piece.title} ends {mm(abs(short))} {where} the bust point.",
            f"Let it end {mm(least)} to {mm(most)} before the bust point.",
            mm(short),
            f"{mm(least)} to {mm(most)} before it",
            apex,
        )


def _all_darts(derived: Derived) -> Iterator[tuple[Piece, Dart]]:
    for piece in derived.pattern.pieces.values():
        for dart in piece.darts:
            yield piece, dart


def _mouth(piece: Piece, dart: Dart) -> Point:
    return piece.edge(dart.leg_in).start.toward(piece.edge(dart.leg_out).end, 0.5)


def _is_waist_dart(derived: Derived, piece: Piece, dart: Dart) -> bool:
    waist = derived.pattern.runs.get("waist")
    before = piece.edge_before(dart.leg_in)
    return waist is not None and any(
        edge.piece == piece.name and edge.edge == before for edge in waist.edges
    )


def _finding(
    piece: Piece,
    dart: Dart,
    code: str,
    severity: Severity,
    message: str,
    remedy: str,
    measured: str,
    allowed: str,
    at: Point,
    edge: str = "",
) -> Finding:
    return Finding(
        code=code,
        severity=severity,
        message=message,
        remedy=remedy,
        piece=piece.name,
        edge=edge or dart.leg_in,
        measured=measured,
        allowed=allowed,
        at=at,
    )


CHECKS = (
    Check(("DART-LEGS",), dart_legs),
    Check(("DART-POINT",), dart_points),
    Check(("DART-BUST",), bust_darts),
)
