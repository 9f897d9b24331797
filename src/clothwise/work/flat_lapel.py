"""Lapels in a flat drawing: what lies beyond a roll line is turned over, its facing in sight."""

from __future__ import annotations

from dataclasses import dataclass

from shapely import ops
from shapely.geometry import LineString, Polygon

from clothwise.geometry import Point, Transform
from clothwise.pattern.graph import Pressing
from clothwise.work.flat_garment import Garment, Half
from clothwise.work.picture import Item
from clothwise.work.shape import tidied
from clothwise.work.torso import Worn
from clothwise.work.torso_standing import is_roll_line

DRAWN_ON_MM = 30.0
"""A roll line is drawn on this far, so that it crosses the edges."""


@dataclass(frozen=True)
class Lapel:
    """The part of a front that rolls over, in the coordinates of its shape, and the line."""

    worn: Worn
    area: Polygon
    start: Point
    end: Point

    @property
    def over(self) -> Transform:
        """The turn over the roll line."""
        return Transform.mirror(self.start, self.end - self.start)

    def through(self, drafted: Point) -> Point:
        """A point of the piece as drafted, turned over, in the view."""
        return self.worn.move(self.over.point(self.worn.shape.move(drafted)))

    def holds(self, drafted: Point) -> bool:
        """True if a point of the piece rolls over."""
        point = self.worn.shape.move(drafted)
        along = self.end - self.start
        middle = self.area.centroid
        mine = along.cross(point - self.start)
        return mine * along.cross(Point(middle.x, middle.y) - self.start) > 0

    @property
    def polygon(self) -> Polygon:
        """The lapel turned over, in the view."""
        ring = [Point(x, y) for x, y in self.area.segmentize(8.0).exterior.coords]
        moved = [self.worn.move(self.over.point(point)) for point in ring]
        return tidied(Polygon([(p.x, p.y) for p in moved]))


def lapel_of(worn: Worn) -> Lapel | None:
    """The lapel of a piece, if it has a roll line."""
    for mark in worn.shape.piece.marks:
        if not is_roll_line(mark) or mark.path is None:
            continue
        line = worn.shape.moved_path(mark.path)
        start, end = (line.start, line.end) if line.start.y < line.end.y else (line.end, line.start)
        on = (end - start).unit * DRAWN_ON_MM
        cut = LineString([(p.x, p.y) for p in (start - on, end + on)])
        parts = [each for each in ops.split(worn.area, cut).geoms if isinstance(each, Polygon)]
        if len(parts) > 1:
            body = max(parts, key=lambda each: float(each.area))
            turned = max((p for p in parts if p is not body), key=lambda each: float(each.area))
            return Lapel(worn, turned, start, end)
    return None


def without_lapel(worn: Worn) -> Polygon:
    """What is seen of a piece, in the view, without the part that rolls over."""
    lapel = lapel_of(worn)
    if lapel is None:
        return worn.polygon
    area = tidied(worn.area.difference(lapel.area))
    ring = [worn.move(Point(x, y)) for x, y in area.segmentize(8.0).exterior.coords]
    return tidied(Polygon([(p.x, p.y) for p in ring]))


def lapels(of: Garment, half: Half, worn: Worn) -> list[Item]:
    """The lapel of a front, in the cloth of what faces it."""
    lapel = lapel_of(worn)
    if lapel is None:
        return []
    facing = facing_of(of, lapel) or worn.name
    return [of.area(lapel.polygon, of.pattern.piece(facing), half.side)]


def facing_of(of: Garment, lapel: Lapel) -> str | None:
    """The piece that is turned with the lapel's edges."""
    for seam in of.pattern.seams.values():
        first = seam.layers[0].run.edges
        if seam.pressing is Pressing.TURNED and any(
            ref.piece == lapel.worn.name
            and lapel.holds(of.pattern.path(ref).point_at(of.pattern.edge_length(ref) / 2))
            for ref in first
        ):
            return seam.layers[-1].run.pieces[0]
    return None
