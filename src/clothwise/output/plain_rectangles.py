"""Pieces that are plain rectangles: they can be measured out on the cloth instead of printed.

What is told of one is all that its paper would show: how long it is along and across the grain with
its allowances, and where its notches and fold lines are. A piece with other marks, or one whose
corners are cut, is no plain rectangle.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwise.geometry import Point, Vector
from clothwise.geometry.point import ORIGIN
from clothwise.pattern import Pattern, Piece, SeamCorners, cutting_line
from clothwise.pattern.mark import MarkKind, NotchKind
from clothwise.pattern.notches import notches
from clothwise.units import LengthUnit, format_length

_OFF_MM = 0.6
"""No point of the cutting line may lie further from the rectangle: about the width of a line."""
_ALONG = 0.999
"""Cosine of the angle below which two directions count as the same."""


@dataclass(frozen=True)
class Place:
    """Where a notch or a fold line is: on which side, and how far along it from where, mm.

    Sides are those of the rectangle with its grain upright; `start` is what is measured from.
    """

    what: str
    side: str
    at_mm: float
    start: str

    def words(self, unit: LengthUnit) -> str:
        """As a maker reads it: `double notch, right side, 12 cm from the top`."""
        on = f", {self.side}" if self.side else ""
        return f"{self.what}{on}, {format_length(self.at_mm, unit)} from {self.start}"


@dataclass(frozen=True)
class PlainRectangle:
    """A rectangle to be cut; lengths with allowances, a piece on the fold opened out.

    Attributes:
        title: of the piece.
        along_mm, across_mm: along the grain and across it.
        places: its notches and fold lines.
    """

    title: str
    along_mm: float
    across_mm: float
    places: tuple[Place, ...] = ()

    def size_words(self, unit: LengthUnit) -> str:
        """Length and width: `77 cm along the grain, 10 cm across`."""
        along, across = (format_length(each, unit) for each in (self.along_mm, self.across_mm))
        return f"{along} along the grain, {across} across"

    def marks_words(self, unit: LengthUnit) -> str:
        """What is marked on it, with the grain upright; empty if nothing is."""
        return "; ".join(dict.fromkeys(place.words(unit) for place in self.places))


def plain_rectangle(
    pattern: Pattern, name: str, corners: SeamCorners | None = None
) -> PlainRectangle | None:
    """The piece as a rectangle; None if it is none, or needs its paper for other marks."""
    piece = pattern.piece(name)
    if piece.darts or any(
        mark.kind is not MarkKind.FOLD_LINE or mark.only_side for mark in piece.marks
    ):
        return None
    frame = _frame(piece, cutting_line(pattern, name, corners).points())
    if frame is None:
        return None
    places = [*_notches(pattern, piece, frame), *_fold_lines(piece, frame)]
    if None in places:
        return None
    height, width = frame.top - frame.bottom, frame.right - frame.left
    return PlainRectangle(
        piece.title,
        height * (2 if frame.fold in ("top", "bottom") else 1),
        width * (2 if frame.fold in ("left", "right") else 1),
        tuple(place for place in places if place),
    )


@dataclass(frozen=True)
class _Frame:
    """The rectangle with the grain upright: its sides, mm, and which of them is a fold."""

    up: Vector
    left: float
    right: float
    bottom: float
    top: float
    fold: str = ""

    def at(self, point: Point) -> tuple[float, float]:
        """How far right and how far up a point lies."""
        from_zero = point - ORIGIN
        return -from_zero.dot(self.up.left), from_zero.dot(self.up)

    def side_toward(self, way: Vector) -> str:
        """The side that a direction leads to."""
        right, up = -way.dot(self.up.left), way.dot(self.up)
        if abs(right) > abs(up):
            return "right" if right > 0 else "left"
        return "top" if up > 0 else "bottom"

    def place(self, what: str, side: str, point: Point) -> Place:
        """A place on a side, from the top or from the left, or from a fold both ways."""
        right, up = self.at(point)
        if side in ("left", "right"):
            both = self.fold in ("left", "right")
            named = "both sides" if both else f"{side} side"
            if self.fold in ("top", "bottom"):
                return Place(what, named, abs(up - getattr(self, self.fold)), _MIDDLE)
            return Place(what, named, self.top - up, "the top")
        named = "top and bottom" if self.fold in ("top", "bottom") else side
        if self.fold in ("left", "right"):
            return Place(what, named, abs(right - getattr(self, self.fold)), _MIDDLE)
        return Place(what, named, right - self.left, "the left")


_MIDDLE = "the middle each way"


def _frame(piece: Piece, ring: list[Point]) -> _Frame | None:
    """The rectangle around a cutting line, if the line is one."""
    up = (piece.grain.end - piece.grain.start).unit
    frame = _Frame(up, 0.0, 0.0, 0.0, 0.0)
    spots = [frame.at(point) for point in ring]
    rights, ups = [right for right, _ in spots], [up for _, up in spots]
    left, right, bottom, top = min(rights), max(rights), min(ups), max(ups)
    area = (
        abs(
            sum(
                a[0] * b[1] - b[0] * a[1]
                for a, b in zip(spots, [*spots[1:], spots[0]], strict=True)
            )
        )
        / 2
    )
    around = (right - left) * (top - bottom)
    off = (min(x - left, right - x, y - bottom, top - y) for x, y in spots)
    if max(off) > _OFF_MM or around - area > _OFF_MM * (right - left + top - bottom):
        return None
    fold = ""
    if piece.fold_edge:
        edge = piece.edge(piece.fold_edge)
        way = (edge.end - edge.start).unit
        if max(abs(way.dot(up)), abs(way.cross(up))) < _ALONG:
            return None
        fold = frame.side_toward(-way.left)  # outlines run anticlockwise: outward is to the right
    return _Frame(up, left, right, bottom, top, fold)


def _notches(pattern: Pattern, piece: Piece, frame: _Frame) -> Iterator[Place | None]:
    for notch in notches(pattern, piece.name):
        if notch.edge == piece.fold_edge:
            yield None
            continue
        words = "double notch" if notch.kind is NotchKind.DOUBLE else "notch"
        yield frame.place(words, frame.side_toward(notch.outward), notch.at)


def _fold_lines(piece: Piece, frame: _Frame) -> Iterator[Place | None]:
    for mark in piece.marks:
        way = (mark.path.end - mark.path.start).unit if mark.path else None
        if (
            mark.path is None
            or way is None
            or max(abs(way.dot(frame.up)), abs(way.cross(frame.up))) < _ALONG
        ):
            yield None
            continue
        middle = mark.path.point_at(mark.path.length / 2)
        if abs(way.dot(frame.up)) > 0.5:  # upright: told by how far it is from the left
            found = frame.place("fold line along the grain", "top", middle)
        else:
            found = frame.place("fold line across the grain", "left", middle)
        yield Place(found.what, "", found.at_mm, found.start)
