"""The cloth of each piece in the state it has when some of what is sewn is done.

Everything follows from the seam graph and the outlines.
"""

from __future__ import annotations

from collections.abc import Collection

from shapely.geometry import Polygon

from clothwise.geometry import Point
from clothwise.pattern.cutting_line import cutting_line
from clothwise.pattern.graph import Seam, SeamKind, Sides
from clothwise.pattern.junctions import SeamCorners
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Dart
from clothwise.work.folded_band import outer_half
from clothwise.work.shape import (
    Shape,
    fine_points,
    outside_strip,
    shape_of,
    tidied,
)

STRAIGHT_MM, BEYOND_AXIS_MM = 1.0, 70.0
"""A piece is mirrored in a seam that strays no more, and beyond which no more of it lies."""

OVER_CORNER = 1.2
"""An allowance reaches this many times its width over a corner, where that is no right angle."""

LEAP_MM = 16.0
"""Points of an edge lie closer together; further apart they are those of two edges."""


class Cloth:
    """The pieces of a pattern in the state they have when some of its uses are done."""

    def __init__(
        self, pattern: Pattern, done: Collection[str], corners: SeamCorners | None = None
    ) -> None:
        """Take `done` as names of seams, finishes and placements that are carried out."""
        self.pattern = pattern
        self.done = frozenset(done)
        self.corners = corners or SeamCorners(pattern)
        self._shapes: dict[str, Shape] = {}
        self._cuts: dict[str, Polygon] = {}

    def shape(self, piece: str) -> Shape:
        """A piece with the darts closed that are sewn; of a folded band the outer half."""
        if piece not in self._shapes:
            whole = self.pattern.piece(piece)
            closed = [dart for dart in whole.darts if self._is_sewn(piece, dart)]
            half = outer_half(self.pattern, piece, self.done)
            self._shapes[piece] = shape_of(whole, closed, half)
        return self._shapes[piece]

    def _is_sewn(self, piece: str, dart: Dart) -> bool:
        return any(
            use.name in self.done
            for use in self.pattern.uses_of(piece, dart.leg_in)
            if isinstance(use, Seam) and use.kind is SeamKind.DART
        )

    def cut(self, piece: str) -> Polygon:
        """The area of a piece with its allowances, but without those that are sewn or turned."""
        if piece not in self._cuts:
            shape = self.shape(piece)
            line = cutting_line(self.pattern, piece, self.corners)
            points = [shape.move(point) for point in fine_points(line.path)]
            area = tidied(Polygon([(p.x, p.y) for p in points]))
            for edge, edge_points in shape.edges.items():
                width = self.pattern.allowance(piece, edge)
                if width > 0 and self.is_done(piece, edge):
                    beyond = self._beyond(shape, edge, width + 1.0)
                    strip = outside_strip(list(edge_points), width + 1.0, beyond)
                    area = area.difference(strip)
            if shape.half is not None:
                area = area.intersection(shape.half)
            area = tidied(area)
            self._cuts[piece] = area
        return self._cuts[piece]

    def _beyond(self, shape: Shape, edge: str, least_mm: float) -> tuple[float, float]:
        """How far the allowance of an edge reaches beyond its ends: over that of its neighbors.

        Only at corners that point outward: at others, cloth lies there.
        """
        names = list(shape.edges)
        at = names.index(edge)
        found = []
        for before, after in ((at - 1, at), (at, (at + 1) % len(names))):
            arriving, leaving = shape.edges[names[before]], shape.edges[names[after]]
            turn = (arriving[-1] - arriving[-2]).cross(leaving[1] - leaving[0])
            neighbor = names[before] if names[after] == edge else names[after]
            reach = OVER_CORNER * self.pattern.allowance(shape.piece.name, neighbor)
            is_corner = turn > 0 and arriving[-1].is_close(leaving[0], LEAP_MM)
            found.append(max(least_mm, reach) if is_corner else least_mm)
        return found[0], found[1]

    def axis(self, piece: str) -> str | None:
        """The edge in which a piece may be mirrored: its fold, or a straight seam at its center.

        A seam counts once it is sewn, and if hardly more than an allowance lies beyond it.
        """
        whole = self.pattern.piece(piece)
        if whole.fold_edge is not None:
            return whole.fold_edge
        for seam in self.pattern.seams.values():
            runs = {layer.run for layer in seam.layers}
            if seam.name not in self.done or seam.sides is not Sides.CENTER or len(runs) != 1:
                continue
            edges = [ref.edge for ref in seam.layers[0].run.edges if ref.piece == piece]
            for edge in sorted(edges, key=lambda edge: -whole.edge(edge).length):
                if self._is_axis(piece, edge):
                    return edge
        return None

    def _is_axis(self, piece: str, edge: str) -> bool:
        points = self.shape(piece).edges.get(edge, ())
        if len(points) < 2 or points[0].is_close(points[-1], 1.0):
            return False
        along = (points[-1] - points[0]).unit
        if any(abs(along.cross(point - points[0])) > STRAIGHT_MM for point in points):
            return False
        ring = [Point(x, y) for x, y in self.cut(piece).exterior.coords]
        return all(along.cross(point - points[0]) > -BEYOND_AXIS_MM for point in ring)

    def is_done(self, piece: str, edge: str) -> bool:
        """True if something is sewn along an edge."""
        return any(use.name in self.done for use in self.pattern.uses_of(piece, edge))
