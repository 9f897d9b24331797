"""What several checks need of one pattern, worked out once and kept.

Nothing here is stored with the pattern; make a new `Derived` for each pattern.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Place

from clothwise.errors import GeometryError
from clothwise.geometry import Path, Point, Vector, angle_between, straight
from clothwise.pattern import (
    Body,
    Corner,
    CuttingLine,
    EdgeRef,
    Junction,
    MarkKind,
    Pattern,
    Piece,
    Ply,
    Run,
    Seam,
    SeamCorners,
    Side,
    Sides,
    Use,
    cutting_line,
    runs_of,
)
from clothwise.pattern.junctions import end_corner, start_corner

BAND_EDGE, BAND_CENTER = "band-edge", ("center line top", "center line foot")
"""A front ends at the edge of this name if the center lies beyond it on a band, and has there the
places of these names."""

_ON_CENTER_MM = 0.1
"""A path whose end lies no further across the center line does not cross it."""


@dataclass(frozen=True)
class CenterLine:
    """The center of the body on a piece: a fold edge or a marked center line."""

    start: Point
    along: Vector

    def distance(self, point: Point) -> float:
        """Signed distance of a point, mm; positive to the left of the line."""
        return self.along.cross(point - self.start)


@dataclass(frozen=True)
class RunJunction:
    """A junction together with the run it lies in, the seam or finish, and the corners passed.

    `corners` are all corners that come together here, in order; empty if nothing joins them.
    """

    use: Use
    run: Run
    junction: Junction
    corners: tuple[Corner, ...]


class Derived:
    """A pattern, the body it is for, and what follows from them."""

    def __init__(self, pattern: Pattern, body: Body | None = None) -> None:
        """Nothing is worked out before it is asked for."""
        self.pattern, self.body = pattern, body
        self._cutting: dict[str, CuttingLine | GeometryError] = {}
        self._angles: dict[Corner, float] = {}
        self._lines: dict[tuple[str, str], LineString] = {}

    @cached_property
    def corners(self) -> SeamCorners:
        """The corner graph."""
        return SeamCorners(self.pattern)

    @cached_property
    def junctions(self) -> tuple[RunJunction, ...]:
        """The junctions of all runs of all seams, finishes and placements."""
        return tuple(self._find_junctions())

    def _find_junctions(self) -> Iterator[RunJunction]:
        for use in self.pattern.all_uses():
            for run in dict.fromkeys(runs_of(use)):
                for junction in self.corners.junctions(run, use.name):
                    yield RunJunction(use, run, junction, self._passed(junction))

    def _passed(self, junction: Junction) -> tuple[Corner, ...]:
        """All corners from the one a run leaves to the one it enters."""
        leave = end_corner(self.pattern, junction.before)
        enter = start_corner(self.pattern, junction.after)
        if junction.seams is None:
            return ()
        return self._way(leave, enter, junction.seams) or ()

    def _way(
        self, corner: Corner, goal: Corner, seams: tuple[str, ...]
    ) -> tuple[Corner, ...] | None:
        if not seams:
            return (corner,) if corner == goal else None
        for other in self._joined_by(corner, self.pattern.seams[seams[0]]):
            rest = self._way(other, goal, seams[1:])
            if rest is not None:
                return (corner, *rest)
        return None

    def _joined_by(self, corner: Corner, seam: Seam) -> list[Corner]:
        full = [layer.run for layer in seam.layers if layer.span is None]
        starts = [start_corner(self.pattern, run.edges[0]) for run in full]
        ends = [end_corner(self.pattern, run.edges[-1]) for run in full]
        groups = [group for group in (starts, ends) if corner in group]
        return [other for group in groups for other in group if other != corner]

    def interior_angle(self, corner: Corner) -> float:
        """Angle inside the piece at a corner, radians in (0, 2 pi)."""
        if corner not in self._angles:
            piece = self.pattern.piece(corner.piece)
            before = self.edge_before(corner)
            turn = angle_between(
                piece.edge(before).end_tangent, piece.edge(corner.edge).start_tangent
            )
            self._angles[corner] = math.pi - turn
        return self._angles[corner]

    def edge_before(self, corner: Corner) -> str:
        """The edge that ends at a corner."""
        return self.pattern.piece(corner.piece).edge_before(corner.edge)

    def corner_point(self, corner: Corner) -> Point:
        """Where a corner lies."""
        return self.pattern.piece(corner.piece).edge(corner.edge).start

    def polygon(self, piece: str) -> Polygon:
        """The stitching line of a piece as a polygon."""
        return self.pattern.piece(piece).outline.polygon

    def line(self, piece: str, edge: str) -> LineString:
        """An edge as a polyline nowhere further from it than the flattening tolerance."""
        key = (piece, edge)
        if key not in self._lines:
            points = self.pattern.piece(piece).edge(edge).flattened()
            self._lines[key] = LineString([(point.x, point.y) for point in points])
        return self._lines[key]

    def distance_to_edge(self, piece: str, edge: str, point: Point) -> float:
        """Distance of a point from an edge, mm, within the flattening tolerance."""
        return float(self.line(piece, edge).distance(Place(point.x, point.y)))

    @cached_property
    def _rooms(self) -> dict[str, Polygon]:
        return {}

    def room(self, piece: str) -> Polygon:
        """The stitching line of a piece, widened by half a millimeter for rounding."""
        if piece not in self._rooms:
            self._rooms[piece] = self.polygon(piece).buffer(0.5, join_style="mitre")
            shapely.prepare(self._rooms[piece])
        return self._rooms[piece]

    def dart_wedges(self, piece: str) -> dict[str, Polygon]:
        """What each dart takes out of a piece, by the dart's name."""
        found = self.pattern.piece(piece)
        return {
            dart.name: Polygon(
                [
                    (point.x, point.y)
                    for leg in (dart.leg_in, dart.leg_out)
                    for point in found.edge(leg).flattened()
                ]
            ).buffer(0)
            for dart in found.darts
        }

    def cutting_line(self, piece: str) -> CuttingLine | GeometryError:
        """The cutting line of a piece, or why there is none."""
        if piece not in self._cutting:
            try:
                self._cutting[piece] = cutting_line(self.pattern, piece, self.corners)
            except GeometryError as error:
                self._cutting[piece] = error
        return self._cutting[piece]

    @cached_property
    def _sides(self) -> dict[str, frozenset[Side]]:
        return {name: _sides_of(piece) for name, piece in self.pattern.pieces.items()}

    def sides(self, piece: str) -> frozenset[Side]:
        """The sides of the wearer that a piece is cut for; on the fold it counts for both."""
        return self._sides[piece]

    def times(self, piece: str) -> int:
        """How often the drawn shape occurs in the shell of the garment."""
        found = self.pattern.piece(piece)
        copies = sum(copy.ply is Ply.SHELL for copy in found.copies)
        return copies * (2 if found.fold_edge else 1)

    def is_unfolded(self, piece: str) -> bool:
        """Whether a piece has both its sides: cut once, not on the fold, its center marked."""
        found = self.pattern.piece(piece)
        return (
            not found.fold_edge
            and Side.CENTER in self.sides(piece)
            and any(mark.kind is MarkKind.CENTER_LINE for mark in found.marks)
        )

    def is_of_split(self, seam: Seam) -> bool:
        """Whether a seam joins the parts of what was one piece."""
        wholes = {
            self.pattern.piece(edge.piece).part_of
            for layer in seam.layers
            for edge in layer.run.edges
        }
        return len(wholes) == 1 and "" not in wholes

    def center_line(self, piece: str) -> CenterLine | None:
        """The center of the body on a piece, if it reaches there."""
        path = self.center_path(piece)
        if path is None or path.start.is_close(path.end, 1e-6):
            return None
        return CenterLine(path.start, (path.end - path.start).unit)

    def shared_center_line(self, piece: str) -> CenterLine | None:
        """The center of the body on a piece, or on the whole that it is a part of."""
        lines = (self.center_line(name) for name in (piece, *self.pattern.parts_with(piece)))
        return next((line for line in lines if line is not None), None)

    def center_path(self, piece: str) -> Path | None:
        """The fold edge of a piece, its marked center line, or that of the band sewn to it."""
        found = self.pattern.piece(piece)
        if found.fold_edge:
            return found.edge(found.fold_edge)
        lines = (mark.path for mark in found.marks if mark.kind is MarkKind.CENTER_LINE)
        return next(lines, None) or _beyond_band(found)

    def length_to_center(self, edge: EdgeRef) -> float:
        """Length of an edge as far as the center line, without what laps over it, mm."""
        path = self.pattern.piece(edge.piece).edge(edge.edge)
        center = self.center_line(edge.piece)
        if center is None:
            return path.length
        start, end = center.distance(path.start), center.distance(path.end)
        if start * end >= 0 or min(abs(start), abs(end)) <= _ON_CENTER_MM:
            return path.length
        at_mm = path.nearest(_crossing(path, center))
        middle = self.polygon(edge.piece).centroid
        inside = center.distance(Point(middle.x, middle.y))
        return at_mm if start * inside > 0 else path.length - at_mm

    def girth(self, run: Run) -> float:
        """What a run measures all round the garment, closed at the center, mm."""
        whole = sum(self.length_to_center(edge) * self.times(edge.piece) for edge in run.edges)
        first = run.edges[0]
        return whole + self.band_mm(first.piece, self.pattern.path(first).start) * self.times(
            first.piece
        )

    def band_mm(self, piece: str, at: Point) -> float:
        """How far beyond a front the center lies on its band, for a line that ends there."""
        found = self.pattern.piece(piece)
        path = _beyond_band(found)
        if path is None or BAND_EDGE not in found.edge_names:
            return 0.0
        if self.distance_to_edge(piece, BAND_EDGE, at) > _ON_CENTER_MM:
            return 0.0
        return abs(CenterLine(path.start, (path.end - path.start).unit).distance(at))


def _beyond_band(piece: Piece) -> Path | None:
    """The center line of a front that ends at a band, by the places it has there."""
    ends = [piece.points.get(name) for name in BAND_CENTER]
    return straight(ends[0], ends[1]) if ends[0] is not None and ends[1] is not None else None


def _crossing(path: Path, center: CenterLine) -> Point:
    """About where a path crosses the center line; `Path.nearest` does the rest."""
    points = path.flattened()
    for first, last in pairwise(points):
        a, b = center.distance(first), center.distance(last)
        if a * b <= 0 and a != b:
            return first.toward(last, a / (a - b))
    return path.start


def _sides_of(piece: Piece) -> frozenset[Side]:
    copies = [copy for copy in piece.copies if copy.ply is Ply.SHELL] or list(piece.copies)
    sides = {copy.side for copy in copies}
    if piece.fold_edge and Side.CENTER in sides:
        return frozenset((Side.LEFT, Side.RIGHT))
    return frozenset(sides)


def sides_covered(asked: Sides, there: frozenset[Side]) -> frozenset[Side]:
    """The sides of a piece that a use with these sides takes."""
    wanted = {
        Sides.LEFT: {Side.LEFT, Side.CENTER},
        Sides.RIGHT: {Side.RIGHT, Side.CENTER},
    }.get(asked, set(Side))
    return there & wanted
