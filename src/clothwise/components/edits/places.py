"""Places on the outline of a piece, as a designer names them."""

from __future__ import annotations

from collections.abc import Iterable

from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Spot

from clothwise.components.edits.edit import cannot
from clothwise.components.parameter import Along
from clothwise.errors import did_you_mean
from clothwise.geometry import Path, Point, Vector
from clothwise.pattern.graph import Seam
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Dart, Piece, Side
from clothwise.pattern.plain_names import edge_called, edge_of, piece_called
from clothwise.units import LengthUnit, format_length

BESIDE_CHORD_MM = 0.5
"""A bent edge lies nowhere further from its flattened line; our own choice, on the safe side."""

BEYOND_MM = 0.05
"""A place may lie beyond the end of its edge by this: lengths round."""

ON_EDGE_MM = 0.5
"""A line that ends this near to an edge ends on it."""

LAP_MM = 1.0
"""A center line nearer than this to the end of an edge has no lap beyond it."""


def piece_named(pattern: Pattern, name: str) -> Piece:
    """A piece of the pattern.

    Raises:
        ComponentError: there is none; suggests the ones that were probably meant.
    """
    if name not in pattern.pieces:
        raise cannot(
            f"there is no piece {name[:60]!r}",
            what_to_do=did_you_mean(name, pattern.pieces, of_what="pieces"),
        )
    return pattern.piece(name)


def edge_named(piece: Piece, name: str) -> str:
    """The name of an edge, after looking whether the piece has it.

    Raises:
        ComponentError: it has not; suggests the ones that were probably meant.
    """
    if name not in piece.edge_names:
        raise cannot(
            f"the {piece_called(piece)} has no edge {name[:60]!r}",
            what_to_do=did_you_mean(name, piece.edge_names, of_what="edges"),
        )
    return name


def dart_named(piece: Piece, name: str) -> Dart:
    """A dart by its name; `waist dart` may be written `waist-dart`.

    Raises:
        ComponentError: the piece has none of that name.
    """
    for dart in piece.darts:
        if name in (dart.name, dart_key(dart)):
            return dart
    known = [dart_key(dart) for dart in piece.darts]
    raise cannot(
        f"the {piece_called(piece)} has no dart {name[:60]!r}",
        what_to_do=did_you_mean(name, known, of_what="darts")
        if known
        else "It has no darts at this size; say for which sizes or options the edit is meant.",
    )


def dart_key(dart: Dart) -> str:
    """How a design writes a dart.

    >>> from clothwise.pattern.piece import PressedToward
    >>> dart_key(Dart("waist dart", "waist-dart-in", "waist-dart-out", PressedToward.AFTER))
    'waist-dart'
    """
    return dart.leg_in.removesuffix("-in")


def at_edge(piece: Piece, edge: str, along: Along) -> float:
    """The mm from the start of an edge at which a place lies.

    Raises:
        ComponentError: there is no such edge, or the place lies beyond its ends.
    """
    length = piece.edge(edge_named(piece, edge)).length
    at_mm = along.on(length)
    if not -BEYOND_MM <= at_mm <= length + BEYOND_MM:
        raise cannot(
            f"the place lies beyond the end of the {edge_of(piece, edge)}",
            how_much=f"{format_length(at_mm, LengthUnit.CENTIMETER)} from its start, it is "
            f"{format_length(length, LengthUnit.CENTIMETER)} long",
            what_to_do="Write a share such as 40%, which every size has.",
        )
    return min(max(at_mm, 0.0), length)


def inside_of(piece: Piece, edge: str, along: Along, inside_mm: float) -> tuple[Point, Vector]:
    """A place so far inside an edge, and the direction in which the edge runs there.

    Raises:
        ComponentError: there is no such edge, or the place lies outside the piece.
    """
    path = piece.edge(edge_named(piece, edge))
    at_mm = at_edge(piece, edge, along)
    tangent = path.tangent_at(at_mm)
    found = path.point_at(at_mm) + tangent.left * inside_mm
    off = piece.outline.polygon.distance(Spot(found.x, found.y))
    if off > BEYOND_MM:
        raise cannot(
            f"the place lies outside the {piece_called(piece)}",
            how_much=f"{off:.0f} mm beyond its outline, {inside_mm:.0f} mm from the "
            f"{edge_called(piece, edge)}",
            what_to_do="Lower the distance from the edge, or start from another edge.",
        )
    return found, tangent


def refuse_outside(piece: Piece, path: Path) -> None:
    """Refuse a line that leaves a piece.

    Raises:
        ComponentError: it does, or it crosses a dart.
    """
    line = LineString([(point.x, point.y) for point in path.flattened()])
    outside = line.difference(piece.outline.polygon.buffer(BEYOND_MM)).length
    if outside > BEYOND_MM:
        raise cannot(
            f"the line leaves the {piece_called(piece)}",
            how_much=f"{outside:.0f} mm of it lie outside, or in a dart",
            what_to_do="Move its ends inward, or to other edges.",
        )


def place(piece: Piece, edge_or_dart: str, along: Along) -> Point:
    """A place on an edge, or the point of a dart if a dart is named.

    Raises:
        ComponentError: the piece has neither, or the place lies beyond the edge.
    """
    for dart in piece.darts:
        if edge_or_dart in (dart.name, dart_key(dart)):
            return piece.apex(dart)
    at_mm = at_edge(piece, edge_or_dart, along)
    return piece.edge(edge_or_dart).point_at(at_mm)


def seam_named(pattern: Pattern, name: str) -> Seam:
    """A seam of the pattern.

    Raises:
        ComponentError: there is none; suggests the ones that were probably meant.
    """
    if name not in pattern.seams:
        raise cannot(
            f"there is no seam {name[:60]!r}",
            what_to_do=did_you_mean(name, pattern.seams, of_what="seams"),
        )
    return pattern.seams[name]


def edges_between(piece: Piece, first: str, last: str) -> tuple[str, ...]:
    """The edges after one and before another, in the order of the outline.

    All others if both are the same.
    """
    names = piece.edge_names
    start = names.index(first) + 1
    around = [names[(start + step) % len(names)] for step in range(len(names))]
    return tuple(around[: around.index(last)])


def staying_place(piece: Piece) -> Point:
    """What stays where it is when parts of a piece are turned: its fold, else its grainline."""
    if piece.fold_edge is not None:
        fold = piece.edge(piece.fold_edge)
        return fold.point_at(fold.length / 2)
    return piece.grain.start.toward(piece.grain.end, 0.5)


def lapped_at(piece: Piece, path: Path) -> float | None:
    """The length along an edge at which it crosses the center line and laps over it; None if not.

    A piece for both sides of the wearer laps over nothing.
    """
    if any(copy.side is Side.CENTER for copy in piece.copies):
        return None
    for mark in piece.marks:
        if mark.kind is not MarkKind.CENTER_LINE or mark.path is None:
            continue
        for end in (mark.path.start, mark.path.end):
            at_mm = path.nearest(end)
            if path.point_at(at_mm).distance(end) <= ON_EDGE_MM:
                return at_mm if LAP_MM < at_mm < path.length - LAP_MM else None
    return None


def region(points: Iterable[Point]) -> Polygon:
    """The part of a piece inside these points, with what lies on its border.

    A mark on a bent edge lies a little beside the chords of its flattened line.
    """
    return Polygon([(point.x, point.y) for point in points]).buffer(BESIDE_CHORD_MM)
