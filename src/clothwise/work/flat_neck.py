"""The neckline of a garment drawn flat, and what is seen inside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from shapely.geometry import Polygon

from clothwise.geometry import (
    Point,
    Transform,
    Vector,
    polyline,
)
from clothwise.pattern.piece import Piece, Side
from clothwise.work.flat_garment import Garment, Half
from clothwise.work.flat_lapel import lapel_of
from clothwise.work.meeting import meetings
from clothwise.work.picture import Face, Item
from clothwise.work.shape import tidied, union_of
from clothwise.work.torso import Worn
from clothwise.work.wearing import Part


def neck_of(of: Garment, torso: Sequence[Worn]) -> Neck | None:
    """The neckline: the run named `neck`, from the center up, and the shoulder beside it."""
    run = of.pattern.runs.get("neck")
    if run is None:
        return None
    for worn in torso:
        refs = [ref for ref in run.edges if ref.piece == worn.name and worn.has(ref.edge)]
        points = [point for ref in refs for point in worn.edge(ref.edge)]
        if len(points) < 2:
            continue
        points.sort(key=lambda point: abs(point.x))
        side = points[-1]
        shoulder = _shoulder(of, worn, side, {ref.edge for ref in refs})
        return Neck(worn.name, tuple(points), shoulder)
    return None


def _shoulder(of: Garment, worn: Worn, side: Point, neck: set[str]) -> tuple[Point, ...]:
    """The edge beside the neck, from the neck outward."""
    for edge in worn.shape.edges:
        points = worn.edge(edge)
        if edge not in neck and points[-1].is_close(side, 1.0):
            return tuple(reversed(points))
        if edge not in neck and points[0].is_close(side, 1.0):
            return tuple(points)
    return (side, side + Vector(100.0, -35.0))


def inside_of_neck(of: Garment, neck: Neck) -> list[Item]:
    """The inside of the back that is seen above the front neckline."""
    behind = neck_of(of, of.halves[0].behind)
    if behind is None:
        return []
    lift = Transform.shift(0.0, neck.side.y - behind.side.y)
    upper = [lift.point(point) for point in behind.line]
    ring = [*_opening(of.halves[0], neck), *reversed(upper)]
    half = Polygon([(p.x, p.y) for p in ring])
    other = Polygon([(-p.x, p.y) for p in ring])
    area = tidied(union_of((half.buffer(0.5), other.buffer(0.5))).buffer(-0.4))
    owner, face = _lining_of_neck(of, behind)
    return [replace(of.area(area, owner, Side.CENTER, face), inside=True)]


def _opening(half: Half, neck: Neck) -> list[Point]:
    """The edge of the opening in front, from the center up: the neckline, or a roll line."""
    for worn in half.torso:
        lapel = lapel_of(worn)
        if lapel is None:
            continue
        low, high = worn.move(lapel.start), worn.move(lapel.end)
        if low.x < 0.0 < high.x:
            low = low.toward(high, -low.x / (high.x - low.x))
        return [low, high, neck.side]
    return list(neck.line)


def _lining_of_neck(of: Garment, behind: Neck) -> tuple[Piece, Face]:
    """What is seen inside the back of the neck: a facing, or the back's own wrong side."""
    for seam in of.pattern.seams.values():
        for place in meetings(of.pattern, seam, 8):
            if place.piece == behind.piece and of.parts.get(place.other) is Part.INSIDE:
                return of.pattern.piece(place.other), Face.RIGHT
    return of.pattern.piece(behind.piece), Face.WRONG


@dataclass(frozen=True)
class Neck:
    """The neckline in the view: from the center to the shoulder, and on along the shoulder."""

    piece: str
    line: tuple[Point, ...]
    shoulder: tuple[Point, ...]

    @property
    def center(self) -> Point:
        """The neckline at the center."""
        return self.line[0]

    @property
    def side(self) -> Point:
        """The neckline at the shoulder."""
        return self.line[-1]

    def on_shoulder(self, at_mm: float) -> Point:
        """The point this far down the shoulder."""
        path = polyline(self.shoulder)
        return path.point_at(min(max(at_mm, 0.0), path.length))
