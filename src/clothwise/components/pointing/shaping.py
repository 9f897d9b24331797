"""Dragging a place of an edge, or an end of it, is a reshaping."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from clothwise.components.edits.places import edge_named, piece_named
from clothwise.components.pointing.pointed import Drafted, Pointed, pointless
from clothwise.components.pointing.writing import (
    is_plain_length,
    length_in_mm,
    mm_text,
    place_called,
    share_text,
    stepped,
)
from clothwise.geometry import Path, Point, Vector
from clothwise.pattern.document.design import Design
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.piece import Piece
from clothwise.pattern.plain_names import edge_called, edge_of, piece_called
from clothwise.units import LengthUnit, format_length

__all__ = ["end_slid_by", "reshaped_by"]

HELD_SHARES = (0.25, 0.5, 0.75)
"""An edge that is dragged at one of these places is held at the others; our own choice."""

SAME_PLACE_SHARE = 0.08
"""Places of an edge nearer to each other than this share of it are one place; our own choice."""

MOST_SLIDE_MM = 300.0
"""What `reshape` allows an end to slide."""

_SLIDES = ("start_slides", "end_slides")
_PLAINLY = {"piece", "edge", "through", "partner", *_SLIDES}


def reshaped_by(
    design: Design,
    drafted: Drafted,
    piece_name: str,
    edge: str,
    share: float,
    to: Point,
    *,
    unit: LengthUnit = LengthUnit.CENTIMETER,
) -> Pointed:
    """The reshaping that dragging a place of an edge means.

    An edge that was reshaped before is not reshaped a second time: its places are moved. Those
    at a quarter, half and three quarters are held unless they are dragged.

    Args:
        design: as it is.
        drafted: drafts a design as it is shown.
        piece_name: the piece.
        edge: the edge.
        share: which place of the edge was dragged, from its start.
        to: where to.
        unit: in which lengths are told.

    Raises:
        ComponentError: the piece has no such edge, or it cannot be dragged there.
    """
    before, piece = _unshaped(design, drafted, piece_name, edge)
    path = piece.edge(edge)
    moves = _moves_of(before) or dict.fromkeys(HELD_SHARES, 0.0)
    place = min(moves, key=lambda each: abs(each - share))
    if abs(place - share) > SAME_PLACE_SHARE:
        place = round(min(max(share, 0.02), 0.98), 3)
    at = path.point_at(place * path.length) + _carried(piece, edge, before, place)
    outward = -path.tangent_at(place * path.length).left
    by_mm = stepped((to - at).dot(outward))
    moves[place] = by_mm
    through = ", ".join(f"{share_text(each)} {mm_text(by)}" for each, by in sorted(moves.items()))
    side = "outward" if by_mm >= 0 else "inward"
    where = place_called(piece, edge, place * path.length, unit)
    by = format_length(abs(by_mm), unit)
    words = f"Draws an edge of the {piece_called(piece)} anew: {where}, {by} {side}"
    return _reshape(piece, edge, before, {"through": through}, words)


def end_slid_by(
    design: Design,
    drafted: Drafted,
    piece_name: str,
    edge: str,
    end: str,
    to: Point,
    *,
    unit: LengthUnit = LengthUnit.CENTIMETER,
) -> Pointed:
    """The reshaping that dragging an end of an edge means: it slides along the neighboring edge.

    Args:
        design: as it is.
        drafted: drafts a design as it is shown.
        piece_name: the piece.
        edge: the edge.
        end: `start` or `end`.
        to: where it was dragged to.
        unit: in which lengths are told.

    Raises:
        ComponentError: the piece has no such edge, or its end cannot slide.
    """
    before, piece = _unshaped(design, drafted, piece_name, edge)
    is_start = end == "start"
    neighbor = piece.edge_before(edge) if is_start else piece.edge_after(edge)
    if piece.dart_of_leg(neighbor):
        raise pointless(
            piece, "this end lies at a dart, along which it cannot slide", "Move the dart instead."
        )
    way = _away(piece, edge, is_start=is_start)
    at_mm = way.nearest(to)
    if at_mm <= 0.0:
        at_mm = min((to - way.start).dot(way.start_tangent), 0.0)
    by_mm = stepped(min(max(at_mm, -MOST_SLIDE_MM), MOST_SLIDE_MM))
    words = (
        f"Slides an end of the {edge_of(piece, edge)} {format_length(abs(by_mm), unit)} "
        f"{'along' if by_mm >= 0 else 'beyond'} the {edge_called(piece, neighbor)}"
    )
    return _reshape(piece, edge, before, {f"{end}_slides": mm_text(by_mm)}, words)


def _unshaped(
    design: Design, drafted: Drafted, piece_name: str, edge: str
) -> tuple[EditEntry | None, Piece]:
    """The reshaping of an edge that can be changed, and the piece as it is without it.

    Raises:
        ComponentError: there is no such edge, or none that can be drawn anew.
    """
    before = _reshaping(design, piece_name, edge)
    of = replace(design, edits=tuple(e for e in design.edits if e is not before))
    piece = piece_named(drafted(of), piece_name)
    if edge_named(piece, edge) == piece.fold_edge:
        raise pointless(
            piece,
            f"the {edge_called(piece, edge)} lies on the fold, which is straight",
            "Open the piece out first: Edits, Add an edit, Open out a piece cut on the fold.",
        )
    if piece.dart_of_leg(edge):
        raise pointless(piece, f"this is the {edge_called(piece, edge)}", "Drag the dart's point.")
    return before, piece


def _reshape(
    piece: Piece, edge: str, before: EditEntry | None, values: Mapping[str, str], words: str
) -> Pointed:
    """A new reshaping, or a change of the one that is there."""
    stated = before.parameters if before else {"piece": piece.name, "edge": edge}
    kept = {key: text for key, text in stated.items() if isinstance(text, str)}
    return Pointed("reshape", {**kept, **values}, before.name if before else "", words)


def _away(piece: Piece, edge: str, *, is_start: bool) -> Path:
    """The neighboring edge, as it leads away from an end of an edge."""
    if is_start:
        return piece.edge(piece.edge_before(edge)).reversed()
    return piece.edge(piece.edge_after(edge))


def _carried(piece: Piece, edge: str, before: EditEntry | None, share: float) -> Vector:
    """How far a place of an edge is carried along by the ends that slide, as `reshape` does it."""
    carried = Vector(0.0, 0.0)
    for end, part in (("start", 1 - share), ("end", share)):
        by = before.parameters.get(f"{end}_slides") if before else None
        if by is None:
            continue
        way, by_mm = _away(piece, edge, is_start=end == "start"), length_in_mm(str(by))
        slid = way.point_at(by_mm) if by_mm > 0 else way.start + way.start_tangent * by_mm
        carried = carried + (slid - way.start) * part
    return carried


def _reshaping(design: Design, piece: str, edge: str) -> EditEntry | None:
    """The last reshaping of an edge that is written plainly, so that it can be changed."""
    for entry in reversed(design.edits):
        values = entry.parameters
        if entry.kind != "reshape" or (values.get("piece"), values.get("edge")) != (piece, edge):
            continue
        slides = [values[key] for key in _SLIDES if key in values]
        is_plain = set(values) <= _PLAINLY and all(map(is_plain_length, slides))
        return entry if is_plain and (not values.get("through") or _moves_of(entry)) else None
    return None


def _moves_of(entry: EditEntry | None) -> dict[float, float]:
    """Shares and moves of a reshaping as we write it; nothing if it is written otherwise."""
    moves: dict[float, float] = {}
    through = entry.parameters.get("through", "") if entry else ""
    for each in through.split(",") if isinstance(through, str) else ():
        words = each.split()
        try:
            share, by = words
            moves[float(share.removesuffix("%")) / 100] = length_in_mm(by)
        except ValueError:
            return {}
    return moves
