"""A line drawn across a piece is a split."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

import shapely

from clothwise.components.edits.places import dart_key, piece_named
from clothwise.components.pointing.halves import titles_of_halves
from clothwise.components.pointing.pointed import (
    FAR_MM,
    REACH_MM,
    Meeting,
    Pointed,
    meetings,
    pointless,
)
from clothwise.components.pointing.writing import CORNER_MM, kept_share, place_called, share_text
from clothwise.geometry import Path, Point, straight
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Dart, Piece
from clothwise.pattern.plain_names import piece_called
from clothwise.units import LengthUnit

__all__ = ["split_by"]


def split_by(
    pattern: Pattern,
    piece_name: str,
    start: Point,
    end: Point,
    *,
    reach_mm: float = REACH_MM,
    unit: LengthUnit = LengthUnit.CENTIMETER,
) -> Pointed:
    """The split that a line drawn across a piece means.

    An end inside the piece is the point of a dart if one is near; else the line runs on to the
    edge. Of a line that leaves the piece and enters it again, the longest stretch counts. The
    parts get titles where a dressmaker would know what to call them.

    Raises:
        ComponentError: the line does not cross the piece, or it crosses a dart.
    """
    piece = piece_named(pattern, piece_name)
    ends = _line_ends(piece, start, end, reach_mm)
    first, last = (
        replace(each, words=each.said(piece, other.name, unit))
        for each, other in zip(ends, reversed(ends), strict=True)
    )
    if first == last:
        raise pointless(piece, "the line ends where it begins", "Draw it from edge to edge.")
    words = f"Splits the {piece_called(piece)} from {first.words} to "
    words += last.words
    parameters = {"piece": piece.name, "from": first.name, "to": last.name}
    if first.at:
        parameters["from_at"] = first.at
    if last.at:
        parameters["to_at"] = last.at
    order = ("piece", "from", "from_at", "to", "to_at")
    titles = titles_of_halves(pattern, piece, first.point, last.point)
    return Pointed(
        "split",
        {key: parameters[key] for key in order if key in parameters} | titles,
        words=words,
        line=straight(first.point, last.point) if first.point != last.point else None,
    )


@dataclass(frozen=True)
class _End:
    """An end of a line: an edge and where on it, or a dart."""

    name: str
    at: str
    point: Point
    words: str = ""
    at_mm: float = 0.0

    def said(self, piece: Piece, beside: str, unit: LengthUnit) -> str:
        """Where it is, in words; `beside` is the edge of the other end."""
        if self.words:
            return self.words
        where = place_called(piece, self.name, self.at_mm, unit, beside=beside)
        return f"{where} (kept as {self.at})"


def _line_ends(piece: Piece, start: Point, end: Point, reach_mm: float) -> tuple[_End, _End]:
    if start.distance(end) < 1.0:
        raise pointless(piece, "the line has no length", "Draw it from one edge to another.")
    darts = (_dart_at(piece, start, reach_mm), _dart_at(piece, end, reach_mm))
    way = (end - start).unit
    is_inside = piece.outline.polygon.contains
    begin = start - way * FAR_MM if not darts[0] and is_inside(_spot(start)) else start
    finish = end + way * FAR_MM if not darts[1] and is_inside(_spot(end)) else end
    if not darts[0] and not darts[1] and begin == start and finish == end:
        # Drawn from beside the piece to beside it, maybe not quite far enough.
        begin, finish = start - way * reach_mm, end + way * reach_mm
    met = meetings(piece, straight(begin, finish))
    if darts[0] and darts[1]:
        return _dart_end(piece, darts[0]), _dart_end(piece, darts[1])
    if darts[0] or darts[1]:
        dart = darts[0] or darts[1]
        assert dart is not None
        legs = (dart.leg_in, dart.leg_out)
        away = [each for each in met if each[1] not in legs]
        if not away:
            raise pointless(piece, "the line does not reach an edge", "Draw it on to an edge.")
        edge = away[0] if darts[0] else away[-1]
        ends = (_dart_end(piece, dart), _edge_end(piece, edge[1], edge[2]))
        return ends if darts[0] else (ends[1], ends[0])
    return _longest_stretch(piece, met, straight(begin, finish))


def _longest_stretch(piece: Piece, met: list[Meeting], line: Path) -> tuple[_End, _End]:
    polygon = piece.outline.polygon
    stretches = [
        (last[0] - first[0], first, last)
        for first, last in pairwise(met)
        if polygon.contains(_spot(line.point_at((first[0] + last[0]) / 2)))
    ]
    if not stretches:
        raise pointless(
            piece, "the line does not cross it", "Draw it from one edge of the piece to another."
        )
    _, first, last = max(stretches)
    return _edge_end(piece, first[1], first[2]), _edge_end(piece, last[1], last[2])


def _edge_end(piece: Piece, edge: str, at_mm: float) -> _End:
    dart = piece.dart_of_leg(edge)
    if dart is not None:
        raise pointless(
            piece,
            f"the line crosses the {dart.name}",
            "Let it end at the point of the dart, which then goes into the new seam, or lead it "
            "past the dart.",
        )
    path = piece.edge(edge)
    if at_mm < CORNER_MM:
        at_mm = 0.0
    elif at_mm > path.length - CORNER_MM:
        at_mm = path.length
    share = kept_share(at_mm / path.length)
    at_mm = share * path.length  # what is told and drawn is what is kept
    return _End(edge, share_text(share), path.point_at(at_mm), at_mm=at_mm)


def _dart_end(piece: Piece, dart: Dart) -> _End:
    return _End(dart_key(dart), "", piece.apex(dart), f"the point of the {dart.name}")


def _dart_at(piece: Piece, point: Point, reach_mm: float) -> Dart | None:
    """The dart whose point is near, if one is."""
    near = [dart for dart in piece.darts if piece.apex(dart).distance(point) <= reach_mm]
    return min(near, key=lambda dart: piece.apex(dart).distance(point), default=None)


def _spot(point: Point) -> shapely.Point:
    return shapely.Point(point.x, point.y)
