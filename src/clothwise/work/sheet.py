"""Pieces lying in a picture: one of them, and several joined along a run.

A sheet knows which face of it is seen and for which side of the wearer it lies there. What moves a
sheet or a strip returns another one.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from shapely.affinity import affine_transform
from shapely.geometry import Polygon

from clothwise.geometry import Point, Transform, Vector
from clothwise.pattern.graph import EdgeRef, Run
from clothwise.pattern.piece import Copy, Ply, Side
from clothwise.work.cloth import LEAP_MM, Cloth
from clothwise.work.picture import Face
from clothwise.work.shape import Shape, union_of
from clothwise.work.two_sided import is_two_sided


@dataclass(frozen=True)
class Sheet:
    """A piece lying in a picture: its shape, the move that brings it there, the face seen.

    `axis` is the edge in which it may be mirrored. `folded` is a strip of it turned up or in: it
    shows its other face, but is still the cloth of the same side of the wearer.
    """

    shape: Shape
    cut: Polygon
    to: Transform = Transform()
    face: Face = Face.RIGHT
    axis: str | None = None
    folded: bool = False

    @property
    def name(self) -> str:
        """The piece's name."""
        return self.shape.piece.name

    @cached_property
    def polygon(self) -> Polygon:
        """The cloth in the picture, allowances included."""
        return moved_polygon(self.cut, self.to)

    def points(self, points: Iterable[Point]) -> list[Point]:
        """Points of the piece's flat shape in the picture."""
        return [self.to.point(point) for point in points]

    def run(self, run: Run) -> list[Point]:
        """What lies on this piece of a run, in the picture."""
        return self.points(self.shape.run(run))

    def moved(self, transform: Transform) -> Sheet:
        """The sheet moved; a mirroring shows the same face of the other copy."""
        return replace(self, to=self.to.then(transform))

    def turned_over(self) -> Sheet:
        """The sheet in the same place, its other face seen."""
        face = Face.WRONG if self.face is Face.RIGHT else Face.RIGHT
        return replace(self, face=face)

    @property
    def fold(self) -> tuple[Point, Point] | None:
        """The line in which it may be mirrored, in the picture, from start to end of its edge."""
        if self.axis is None:
            return None
        points = self.shape.edges[self.axis]
        return self.to.point(points[0]), self.to.point(points[-1])

    @property
    def is_on_fold(self) -> bool:
        """True if the piece goes on beyond the line, uncut."""
        return self.axis is not None and self.axis == self.shape.piece.fold_edge

    @property
    def is_once(self) -> bool:
        """True if the piece is for one side of the wearer alone, or has both sides already."""
        if is_two_sided(self.shape.piece):
            return True
        outer = [c for c in self.shape.piece.copies if c.ply is not Ply.INTERFACING]
        return {copy.side for copy in outer} in ({Side.LEFT}, {Side.RIGHT})

    @property
    def side(self) -> Side:
        """The side of the wearer for which it lies there: that it was drawn for, or the other."""
        drawn = self.shape.piece.drawn_side
        if self.to.is_mirroring == ((self.face is Face.WRONG) != self.folded):
            return drawn
        return {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}.get(drawn, drawn)

    @property
    def copy(self) -> Copy | None:
        """The copy that is seen: that across the center, or that of a side of the wearer."""
        outer = [c for c in self.shape.piece.copies if c.ply is not Ply.INTERFACING]
        by_side = {copy.side: copy for copy in reversed(outer)}
        return by_side.get(self.side) or by_side.get(Side.CENTER) or (outer[0] if outer else None)


@dataclass(frozen=True)
class Strip:
    """Sheets joined along a run, opened flat. `points` is the run in the picture."""

    sheets: tuple[Sheet, ...]
    run: Run
    points: tuple[Point, ...]
    interior_left: bool

    def moved(self, transform: Transform) -> Strip:
        """The strip moved as a whole."""
        return Strip(
            tuple(sheet.moved(transform) for sheet in self.sheets),
            self.run,
            tuple(transform.point(point) for point in self.points),
            self.interior_left != transform.is_mirroring,
        )

    def turned_over(self) -> Strip:
        """The same place, the other face."""
        return replace(self, sheets=tuple(sheet.turned_over() for sheet in self.sheets))

    @property
    def polygon(self) -> Polygon:
        """All its cloth."""
        return union_of(sheet.polygon for sheet in self.sheets)

    @property
    def stretches(self) -> tuple[tuple[Point, ...], ...]:
        """The run in the picture, in parts where it leaps from one edge of a tube to the other."""
        found: list[list[Point]] = [[self.points[0]]]
        for point in self.points[1:]:
            if point.distance(found[-1][-1]) > LEAP_MM:
                found.append([])
            found[-1].append(point)
        return tuple(tuple(each) for each in found if len(each) > 1)

    @property
    def chord(self) -> tuple[Point, Point]:
        """First and last point of the run; of one that goes around a tube, where that was cut."""
        stretches = self.stretches
        if len(stretches) == 2 and stretches[0][0].is_close(stretches[1][-1], LEAP_MM):
            return stretches[1][0], stretches[0][-1]
        return self.points[0], self.points[-1]

    @property
    def outward(self) -> Vector:
        """Square to the chord, away from the cloth, 1 mm long."""
        along = self.chord[1] - self.chord[0]
        if along.length < 1e-6:
            along = self.points[len(self.points) // 2] - self.points[0]
        return -along.unit.left if self.interior_left else along.unit.left

    @property
    def fold_end(self) -> tuple[Point, Vector] | None:
        """Where the run ends on a fold, and the direction of the fold into the cloth from there."""
        for sheet in self.sheets:
            if sheet.fold is None:
                continue
            for one, other in (sheet.fold, tuple(reversed(sheet.fold))):
                if any(point.is_close(one, 0.5) for point in self.chord):
                    return one, (other - one).unit
        return None


def sheet(cloth: Cloth, piece: str) -> Sheet:
    """A piece as it was drafted, right side up; one that is only cut face down, mirrored."""
    outer = [copy for copy in cloth.pattern.piece(piece).copies if copy.ply is not Ply.INTERFACING]
    is_mirrored = bool(outer) and all(copy.mirrored for copy in outer)
    to = Transform.mirror() if is_mirrored else Transform()
    return Sheet(cloth.shape(piece), cloth.cut(piece), to, axis=cloth.axis(piece))


def is_left(edge: EdgeRef, of: Sheet) -> bool:
    """True if the cloth lies to the left of an edge as a run travels it in the picture."""
    return edge.reverse == of.to.is_mirroring


def moved_polygon(polygon: Polygon, transform: Transform) -> Polygon:
    """A polygon after a move of the plane."""
    t = transform
    return affine_transform(polygon, (t.a, t.c, t.b, t.d, t.e, t.f))
