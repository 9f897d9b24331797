"""Pieces made longer or shorter at a line across them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import ClassVar

from clothwise.components.edits.edit import Edit, Editing, cannot
from clothwise.components.edits.exchange import evenly_matched, exchanged
from clothwise.components.edits.places import at_edge, piece_named
from clothwise.components.parameter import Along, along, length, text
from clothwise.errors import ComponentError
from clothwise.geometry import Cubic, Line, Outline, Path, Point, Vector
from clothwise.pattern.graph import EdgeRef
from clothwise.pattern.mark import Mark
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Grainline, Piece
from clothwise.pattern.plain_names import edge_of, piece_called

MOST_SHORTER = 0.8
"""At most this share of an edge's length across the line is taken out; our own choice."""

LEAST_ACROSS_MM = 5.0
"""An edge that goes up by less lies along the line, and cannot be drawn out at it: own choice."""


@dataclass(frozen=True)
class Lengthen(Edit):
    """Makes pieces longer or shorter at a line square to their grain.

    What lies below the line moves down along the grain; of a piece with a waist below the line,
    what lies above it moves up, so that the waist stays where other parts look for it. Edges that
    cross the line are drawn anew between their ends, so that they stay as fair as they were. For
    several pieces, the line on each further one lies where the edge of the first is sewn to it.
    """

    kind: ClassVar[str] = "lengthen"

    pieces: str = text("", "The pieces, with commas between them.")
    edge: str = text("", "The edge of the first piece on which the line is found.")
    at: Along = along(0.5, "Where along that edge the line lies.")
    by_mm: float = length(20, -400, 600, "How much longer; shorter if negative.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Move what lies below the line."""
        first = piece_named(pattern, self.concerns[0])
        at_mm = at_edge(first, self.edge, self.at)
        changed = pattern
        for name in self.concerns:
            piece = piece_named(pattern, name)
            place = (
                first.edge(self.edge).point_at(at_mm)
                if piece is first
                else _across_seam(pattern, first, self.edge, at_mm, piece)
            )
            changed = exchanged(changed, _Longer(piece, place, self.by_mm).piece())
        return evenly_matched(pattern, changed)


def _across_seam(pattern: Pattern, first: Piece, edge: str, at_mm: float, other: Piece) -> Point:
    """The place on another piece that is sewn to a place on an edge of the first."""
    own = EdgeRef(first.name, edge)
    for seam in pattern.seams.values():
        for layer in seam.layers:
            along_run = pattern.along(layer.run, own, at_mm)
            if along_run is None:
                continue
            for partner in seam.layers:
                spot = pattern.spot(partner.run, along_run)
                if spot.edge.piece == other.name:
                    return spot.point
    raise cannot(
        f"the {edge_of(first, edge)} is not sewn to the {piece_called(other)} there",
        what_to_do="Name an edge that is sewn to all the pieces, such as the side; or make an "
        "edit for each piece.",
    )


class _Longer:
    """A piece of which everything below a line moves down, or everything above it up."""

    def __init__(self, piece: Piece, line: Point, by_mm: float) -> None:
        self._piece = piece
        self._up = (piece.grain.end - piece.grain.start).unit
        if self._up.y < 0:
            self._up = -self._up
        self._line = line
        self._by_mm = by_mm
        # The part that stays is above the line, `kept` pointing to it, or below it with the waist.
        self._kept = self._up
        if any(name.startswith("waist") and self._is_low(name) for name in piece.edge_names):
            self._kept = -self._up
        self._shift = self._kept * -by_mm

    def _is_low(self, edge: str) -> bool:
        path = self._piece.edge(edge)
        return self._up.dot(path.point_at(path.length / 2) - self._line) < 0

    def piece(self) -> Piece:
        piece = self._piece
        return replace(
            piece,
            outline=Outline({name: self._edge(path) for name, path in self._edges()}),
            grain=Grainline(self._point(piece.grain.start), self._point(piece.grain.end)),
            marks=tuple(self._mark(mark) for mark in piece.marks),
            points={key: self._point(point) for key, point in piece.points.items()},
            part_of="",
        )

    def _edges(self) -> list[tuple[str, Path]]:
        return list(self._piece.outline.edges.items())

    def _moves(self, point: Point) -> bool:
        """Whether a point lies on the side of the line that moves."""
        return self._kept.dot(point - self._line) < -1e-6

    def _point(self, point: Point) -> Point:
        return point + self._shift if self._moves(point) else point

    def _edge(self, path: Path) -> Path:
        below = self._moves(path.start), self._moves(path.end)
        if below == (False, False):
            return path
        if below == (True, True):
            return _shifted(path, lambda _: self._shift)
        low, high = sorted(self._kept.dot(end - self._line) for end in (path.start, path.end))
        if high - low < LEAST_ACROSS_MM:
            raise cannot(
                f"the line runs along an edge of the {piece_called(self._piece)} instead of "
                "across it",
                how_much=f"that edge goes {high - low:.1f} mm up, at least "
                f"{LEAST_ACROSS_MM:.0f} mm",
                what_to_do="Move the line up or down; name an edge such as the side.",
            )
        if -self._by_mm > MOST_SHORTER * (high - low):
            raise self._too_short(high - low)

        def share(point: Point) -> Vector:
            """All of the shift at the lower end, none at the upper one, and evenly between."""
            return self._shift * ((high - self._kept.dot(point - self._line)) / (high - low))

        return _shifted(path, share)

    def _too_short(self, there_mm: float) -> ComponentError:
        return cannot(
            f"the {piece_called(self._piece)} is too short there to be shortened so much",
            how_much=f"{-self._by_mm:.0f} mm of {there_mm:.0f} mm, at most "
            f"{100 * MOST_SHORTER:.0f} % of it",
            what_to_do="Shorten it less, or at another place.",
        )

    def _mark(self, mark: Mark) -> Mark:
        if mark.path is None:
            return replace(mark, at=self._point(mark.at) if mark.at else None)
        heights = [self._kept.dot(end - self._line) for end in (mark.path.start, mark.path.end)]
        if abs(heights[0] - heights[1]) < LEAST_ACROSS_MM:
            middle = mark.middle or mark.path.start
            shift = self._shift if self._moves(middle) else Vector(0.0, 0.0)
            return replace(mark, path=_shifted(mark.path, lambda _: shift))
        return replace(mark, path=self._edge(mark.path))


def _shifted(path: Path, shift: Callable[[Point], Vector]) -> Path:
    """A path whose points are shifted, each by its own; straight pieces stay straight."""

    def there(point: Point) -> Point:
        return point + shift(point)

    return Path(
        tuple(
            Line(there(each.start), there(each.end))
            if isinstance(each, Line)
            else Cubic(
                there(each.start), there(each.control1), there(each.control2), there(each.end)
            )
            for each in path.segments
        )
    )
