"""Turning the open end of a dart moves it; dragging its point makes it longer or shorter."""

from __future__ import annotations

from clothwise.components.edits.darts import place_of_dart
from clothwise.components.edits.places import dart_key, dart_named, piece_named
from clothwise.components.pointing.pointed import FAR_MM, Pointed, meetings, pointless
from clothwise.components.pointing.writing import (
    is_plain_length,
    kept_share,
    length_in_mm,
    mm_text,
    place_called,
    share_text,
    stepped,
)
from clothwise.geometry import Point, straight
from clothwise.pattern.document.design import Design
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Dart, Piece
from clothwise.pattern.plain_names import edge_called, piece_called
from clothwise.units import LengthUnit, format_length

__all__ = ["dart_moved_by", "dart_point_moved_by"]

CLEAR_OF_CORNER_MM = 8.5
"""A dart is opened at least so far from a corner, which `move-dart` wants; a little more."""


def dart_moved_by(
    pattern: Pattern,
    piece_name: str,
    dart_name: str,
    to: Point,
    *,
    unit: LengthUnit = LengthUnit.CENTIMETER,
) -> Pointed:
    """The move that turning the open end of a dart about its point means.

    The dart opens where the way from its point through the place that was dragged to leaves the
    piece.

    Raises:
        ComponentError: there is no such dart, or it would open on a dart or on the fold.
    """
    piece = piece_named(pattern, piece_name)
    dart = dart_named(piece, dart_name)
    apex = piece.apex(dart)
    if apex.distance(to) < 1.0:
        raise pointless(piece, "the dart has no direction", "Drag its open end to an edge.")
    if _is_between_legs(piece, dart, to):
        raise pointless(piece, "the dart opens there already", "Drag its open end to another edge.")
    ray = straight(apex, apex + (to - apex).unit * FAR_MM)
    met = [each for each in meetings(piece, ray) if each[0] > 1.0]
    if not met:
        raise pointless(piece, "no edge lies that way", "Drag the end of the dart to an edge.")
    _, edge, at_mm = met[0]
    other = piece.dart_of_leg(edge)
    if other is not None:
        raise pointless(piece, f"the {other.name} lies there", "Drag its open end to another edge.")
    if edge == piece.fold_edge:
        raise pointless(
            piece,
            f"the {edge_called(piece, edge)} lies on the fold, where no dart can open",
            "Drag it to another edge, or open the piece out first: Edits, Add an edit, Open out a "
            "piece cut on the fold.",
        )
    length = piece.edge(edge).length
    clear = min(CLEAR_OF_CORNER_MM, length / 2)
    at_mm = min(max(at_mm, clear), length - clear)
    share = kept_share(at_mm / length)
    at = share_text(share)
    where = f"{place_called(piece, edge, share * length, unit)} (kept as {at})"
    way = f"from the {place_of_dart(piece, dart)} to {where}"
    words = f"Moves the {dart.name} of the {piece_called(piece)} {way}"
    parameters = {"piece": piece.name, "dart": dart_key(dart), "to": edge, "to_at": at}
    return Pointed("move-dart", parameters, words=words)


def _is_between_legs(piece: Piece, dart: Dart, at: Point) -> bool:
    """True if a place lies in the opening of a dart, or beyond it."""
    apex = piece.apex(dart)
    first = piece.edge(dart.leg_in).start - apex
    last = piece.edge(dart.leg_out).end - apex
    way = at - apex
    turn = first.cross(last)
    return (
        way.dot(first + last) > 0
        and first.cross(way) * turn >= -1e-6 * turn**2
        and way.cross(last) * turn >= -1e-6 * turn**2
    )


def dart_point_moved_by(
    design: Design,
    pattern: Pattern,
    piece_name: str,
    dart_name: str,
    to: Point,
    *,
    unit: LengthUnit = LengthUnit.CENTIMETER,
) -> Pointed:
    """How much longer or shorter a dart becomes when its point is dragged along its middle.

    Raises:
        ComponentError: there is no such dart, or it would hardly be left.
    """
    piece = piece_named(pattern, piece_name)
    dart = dart_named(piece, dart_name)
    apex = piece.apex(dart)
    mouth = piece.edge(dart.leg_in).start.toward(piece.edge(dart.leg_out).end, 0.5)
    by_mm = stepped((to - apex).dot((apex - mouth).unit))
    before = _lengthening(design, piece_name, (dart_key(dart), dart.name))
    if before is not None:
        by_mm += length_in_mm(str(before.parameters["by"]))
    name = before.name if before else ""
    how = "longer" if by_mm >= 0 else "shorter"
    by = format_length(abs(by_mm), unit)
    words = f"Makes the {dart.name} of the {piece_called(piece)} {by} {how}"
    parameters = {"piece": piece.name, "dart": dart_key(dart), "by": mm_text(by_mm)}
    return Pointed("dart-point", parameters, name, words)


def _lengthening(design: Design, piece: str, darts: tuple[str, str]) -> EditEntry | None:
    for entry in reversed(design.edits):
        values = entry.parameters
        is_same = values.get("piece") == piece and values.get("dart") in darts
        if entry.kind == "dart-point" and is_same and is_plain_length(values.get("by")):
            return entry
    return None
