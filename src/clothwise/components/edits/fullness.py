"""Fullness added by slashing a piece from one edge to another and spreading the strips."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import ClassVar

from shapely.geometry import Point as Spot
from shapely.geometry import Polygon

from clothwise.components.edits.edit import Edit, Editing, cannot
from clothwise.components.edits.exchange import carried, exchanged, taken_in
from clothwise.components.edits.places import (
    edge_named,
    edges_between,
    lapped_at,
    piece_named,
    region,
    staying_place,
)
from clothwise.components.parameter import count, length, ratio, text
from clothwise.geometry import Outline, Path, Point, Transform, join, smooth_through
from clothwise.pattern.graph import Seam
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece
from clothwise.pattern.plain_names import edge_of

SAMPLE_MM = 30.0
"""Edges are drawn anew through points of their strips about so far from each other."""

WIDEST_TURN_RAD = 1.0
"""One cut opens by at most this angle; our own choice, far beyond what is worn."""

SETTLING, SETTLED_MM = 6, 0.01
"""The strips are parted anew so often, or until both edges are as long as asked."""


@dataclass(frozen=True)
class Spread(Edit):
    """Slashes a piece from one edge to another in even steps, and spreads the strips.

    With `hinge_by` left at 0 the strips stay together at the hinge, which keeps its length, and the
    other edge flares. With both amounts the piece becomes wider all along; what the hinge has
    become longer is gathered into its seam. The strip at the fold, or with the grain, stays. What
    laps over the center is not slashed: the center line stays straight and square to both edges.
    """

    kind: ClassVar[str] = "spread"

    piece: str = text("", "The piece.")
    open: str = text("", "The edge that becomes longer, such as hem.")
    hinge: str = text("", "The edge from which the slashes come, such as waist.")
    by_mm: float = length(60, 0, 1500, "How much longer the open edge becomes.")
    hinge_by_mm: float = length(0, 0, 1500, "How much longer the hinge becomes, to be gathered.")
    lines: int = count(4, 1, 24, "How many slashes.")
    from_share: float = ratio(0, 0, 1, "The first slash comes after this share of both edges.")
    to_share: float = ratio(1, 0, 1, "The last slash comes before this share of both edges.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Spread the strips and draw both edges anew."""
        piece = piece_named(pattern, self.piece)
        if edge_named(piece, self.open) == edge_named(piece, self.hinge):
            raise cannot("a slash must lead to another edge", what_to_do="Name two edges.")
        for edge in (self.open, self.hinge):
            if edge == piece.fold_edge or piece.dart_of_leg(edge):
                raise cannot(
                    f"the {edge_of(piece, edge)} lies on the fold, or is a leg of a dart",
                    what_to_do="Name an edge that is sewn or hemmed.",
                )
        if self.from_share >= self.to_share:
            raise cannot(
                "there is no room for the slashes",
                how_much=f"from {self.from_share:.0%} to {self.to_share:.0%}",
                what_to_do="Write a to_share greater than from_share.",
            )
        spread = _Spread(piece, self).piece()
        changed = exchanged(pattern, spread)
        for edge in (self.hinge, self.open):
            by = spread.edge(edge).length - piece.edge(edge).length
            is_sewn = any(isinstance(use, Seam) for use in pattern.uses_of(piece.name, edge))
            if by > 1.0 and is_sewn:
                changed = taken_in(changed, piece.name, edge, by, is_gathered=True, is_new=False)
        return changed


class _Spread:
    """Strips in the order in which the outline passes their ends on the hinge."""

    def __init__(self, piece: Piece, asked: Spread) -> None:
        self._piece, self._asked = piece, asked
        self._hinge, self._open = piece.edge(asked.hinge), piece.edge(asked.open)
        self._slashed_hinge = _beside_lap(piece, self._hinge)
        self._slashed_open = _beside_lap(piece, self._open)
        step = (asked.to_share - asked.from_share) / asked.lines
        shares = [asked.from_share + step * (number + 0.5) for number in range(asked.lines)]
        # The outline passes the open edge the other way: its share counts from its end.
        self._cuts_hinge = [_at_share(self._slashed_hinge, share) for share in shares]
        self._cuts_open = [_at_share(self._slashed_open, 1 - share) for share in shares]
        self._slashes = [
            (self._hinge.point_at(top), self._open.point_at(bottom))
            for top, bottom in zip(self._cuts_hinge, self._cuts_open, strict=True)
        ]
        self._before = edges_between(piece, asked.open, asked.hinge)
        self._regions = self._cut()
        self._staying = self._staying_strip()
        self._moves, self._lines = self._settled()

    def _staying_strip(self) -> int:
        """The strip with what laps over the center; else that with the fold or the grain."""
        if self._laps_first():
            return 0
        if self._laps_last():
            return len(self._slashes)
        return self._number_of(staying_place(self._piece))

    def _laps_first(self) -> bool:
        return self._slashed_hinge[0] > 0.0 or self._slashed_open[1] < self._open.length

    def _laps_last(self) -> bool:
        return self._slashed_hinge[1] < self._hinge.length or self._slashed_open[0] > 0.0

    def _settled(self) -> tuple[list[Transform], dict[str, Path]]:
        """The moves, and both edges drawn anew, as long as they are asked to become.

        A fair line through the strips is a little longer or shorter than they are; by so much less
        or more they are parted.
        """
        asked = (self._asked.hinge_by_mm, self._asked.by_mm)
        wanted = (self._hinge.length + asked[0], self._open.length + asked[1])
        hinge_by, open_by = asked
        for _ in range(SETTLING):
            moves = self._transforms(hinge_by, open_by)
            lines = {
                self._asked.hinge: self._anew(self._hinge, moves),
                self._asked.open: self._anew(self._open, moves[::-1]),
            }
            off = [
                lines[name].length - length
                for name, length in zip((self._asked.hinge, self._asked.open), wanted, strict=True)
            ]
            if max(map(abs, off)) < SETTLED_MM:
                break
            hinge_by, open_by = hinge_by - off[0], open_by - off[1]
        return moves, lines

    def _number_of(self, place: Point) -> int:
        """The strip that a place lies in, or nearest to."""
        spot = Spot(place.x, place.y)
        numbers = range(len(self._regions))
        return min(numbers, key=lambda number: float(self._regions[number].distance(spot)))

    def _transforms(self, hinge_by_mm: float, open_by_mm: float) -> list[Transform]:
        """How each strip moves: one stays, the strips on both its sides turn on with each other."""
        moves = [Transform()]
        each_open = open_by_mm / self._asked.lines
        each_hinge = hinge_by_mm / self._asked.lines
        along = self._hinge.end - self._hinge.start
        for top, bottom in self._slashes:
            slash = bottom - top
            # Along the hinge the next strips lie to this side of the slash.
            side = 1.0 if slash.cross(along) > 0 else -1.0
            across = slash.unit.left * side
            turn = -side * 2.0 * _half_angle(each_open - each_hinge, slash.length)
            own = Transform.turn(-turn, top).then(
                Transform.shift(across.x * each_hinge, across.y * each_hinge)
            )
            moves.append(own.then(moves[-1]))
        back = moves[self._staying].inverse()
        return [move.then(back) for move in moves]

    def _cut(self) -> list[Polygon]:
        """The piece cut by the slashes, from the start of the hinge to its end."""
        found = []
        after = edges_between(self._piece, self._asked.hinge, self._asked.open)
        cuts = [0.0, *self._cuts_hinge, self._hinge.length]
        ends = [self._open.length, *self._cuts_open, 0.0]
        for number in range(len(cuts) - 1):
            points: list[Point] = []
            if number == 0:
                for name in self._before:
                    points += self._piece.edge(name).flattened()
            points += self._hinge.part(cuts[number], cuts[number + 1]).flattened()
            if number == len(cuts) - 2:
                for name in after:
                    points += self._piece.edge(name).flattened()
            points += self._open.part(ends[number + 1], ends[number]).flattened()
            found.append(region(points))
        return found

    def piece(self) -> Piece:
        """The piece with its strips spread; its grainline stays beside the center line."""
        spread = carried(
            self._piece,
            Outline(dict(self._edges())),
            lambda place: self._moves[self._number_of(place)],
        )
        laps = self._laps_first() or self._laps_last()
        return replace(spread, grain=self._piece.grain) if laps else spread

    def _edges(self) -> Iterator[tuple[str, Path]]:
        first, last = self._moves[0], self._moves[-1]
        for name, path in self._piece.outline.edges.items():
            if name in self._lines:
                yield name, self._lines[name]
            else:
                yield name, path.transformed(first if name in self._before else last)

    def _anew(self, path: Path, moves: list[Transform]) -> Path:
        """An edge drawn through points of its strips, ending as its outer strips do.

        Only points well inside strips count, so that the line is even over the cuts. What laps over
        the center keeps its line.
        """
        is_hinge = path is self._hinge
        start, end = self._slashed_hinge if is_hinge else self._slashed_open
        inner = self._cuts_hinge if is_hinge else self._cuts_open[::-1]
        cuts = [start, *inner, end]
        points = [moves[0].point(path.point_at(start))]
        last = len(moves) - 1
        for number, move in enumerate(moves):
            for at_mm in _inside(cuts[number], cuts[number + 1], number == 0, number == last):
                points.append(move.point(path.point_at(at_mm)))
        points.append(moves[-1].point(path.point_at(end)))
        slashed = path.part(start, end)
        line = smooth_through(
            points,
            start_tangent=moves[0].vector(slashed.start_tangent),
            end_tangent=moves[-1].vector(slashed.end_tangent),
        )
        if start > 0.0:
            return join(path.part(0.0, start).transformed(moves[0]), line)
        if end < path.length:
            return join(line, path.part(end, path.length).transformed(moves[-1]))
        return line


def _beside_lap(piece: Piece, path: Path) -> tuple[float, float]:
    """From where to where an edge is slashed, in mm along it: to the center, if it laps over it."""
    center = lapped_at(piece, path)
    if center is None:
        return 0.0, path.length
    return (center, path.length) if center < path.length / 2 else (0.0, center)


def _at_share(part: tuple[float, float], share: float) -> float:
    start, end = part
    return start + share * (end - start)


def _inside(start: float, end: float, is_first: bool, is_last: bool) -> list[float]:
    """Places inside a strip: its middle, and further ones toward the end of the edge."""
    middle, outer = (start + end) / 2, (end - start) / 2
    steps = [(number + 1) * SAMPLE_MM for number in range(int(outer / SAMPLE_MM - 0.5))]
    before = [middle - step for step in reversed(steps)] if is_first else []
    after = [middle + step for step in steps] if is_last else []
    return [*before, middle, *after]


def _half_angle(opening_mm: float, slash_mm: float) -> float:
    """Half the angle by which a cut of this length opens so far at its end."""
    sine = opening_mm / (2 * slash_mm)
    if abs(sine) > WIDEST_TURN_RAD / 2:
        raise cannot(
            "one slash would open too far",
            how_much=f"{opening_mm:.0f} mm on a slash of {slash_mm:.0f} mm",
            what_to_do="Make more slashes, or spread less.",
        )
    return math.asin(sine)
