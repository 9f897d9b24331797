"""A tape laid from one place to another."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwise.components.edits.places import piece_named
from clothwise.components.pointing.pointed import REACH_MM
from clothwise.geometry import Point
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece
from clothwise.pattern.plain_names import edge_called
from clothwise.units import LengthUnit, format_length

__all__ = ["Measured", "line_measured"]


@dataclass(frozen=True)
class Measured:
    """What a tape says that is laid from one place to another.

    Attributes:
        words: in whole sentences.
        straight_mm: the straight distance.
        along_mm: along the edge, if both places lie on one.
        start: the first place, on the line that it is near to.
        end: the last place, likewise.
    """

    words: str
    straight_mm: float
    along_mm: float | None
    start: Point
    end: Point


def line_measured(
    pattern: Pattern,
    piece_name: str,
    start: Point,
    end: Point,
    *,
    unit: LengthUnit = LengthUnit.CENTIMETER,
    reach_mm: float = REACH_MM,
) -> Measured:
    """What a tape says from one place to another; near a line of the piece, from that line.

    Raises:
        ComponentError: there is no such piece.
    """
    piece = piece_named(pattern, piece_name)
    held = (_nearest(piece, start, reach_mm), _nearest(piece, end, reach_mm))
    points = [each[2] if each else at for each, at in zip(held, (start, end), strict=True)]
    straight_mm = points[0].distance(points[1])
    words = f"{format_length(straight_mm, unit)} straight"
    along_mm = None
    first, last = held
    if first and last and first[0] == last[0]:
        along_mm = abs(first[1] - last[1])
        words = f"{format_length(along_mm, unit)} along the {edge_called(piece, first[0])}, {words}"
    else:
        named = [f"the {edge_called(piece, each[0])}" for each in held if each]
        if len(named) == 2:
            words += f", from {named[0]} to {named[1]}"
    return Measured(words, straight_mm, along_mm, points[0], points[1])


def _nearest(piece: Piece, point: Point, reach_mm: float) -> tuple[str, float, Point] | None:
    """The edge, mm along it and the place on it that are nearest, if near enough."""
    found = min(_feet(piece, point), key=lambda each: each[0])
    return found[1:] if found[0] <= reach_mm else None


def _feet(piece: Piece, point: Point) -> Iterator[tuple[float, str, float, Point]]:
    for name in piece.edge_names:
        path = piece.edge(name)
        at_mm = path.nearest(point)
        foot = path.point_at(at_mm)
        yield foot.distance(point), name, at_mm, foot
