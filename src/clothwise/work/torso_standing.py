"""How a torso piece stands in a view before it is joined to others: upright, center on x = 0.

Of a piece that is turned in along a fold line, the part that is sewn on is seen; of one that
reaches from center front to center back, the part up to where its neighbors leave the view.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely import ops
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Place
from shapely.geometry.base import BaseGeometry

from clothwise.geometry import Path, Point, Transform, Vector
from clothwise.pattern.graph import SeamKind
from clothwise.pattern.mark import VENT_LAP, Mark, MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece, Side
from clothwise.work.fitting import best_move
from clothwise.work.meeting import Meeting
from clothwise.work.shape import Shape, center_x, one_polygon, shape_of
from clothwise.work.two_sided import middle_x
from clothwise.work.viewing import View

TIE_MM = 150.0
"""A band that goes on by more than this beyond its sewn edge ends in a tie."""

FAR_MM = 5000.0
"""Further than any garment reaches."""

SEEN_MM = 1.0
"""A place this close to what is seen of a piece is seen."""


@dataclass(frozen=True)
class Tie:
    """The end of a band that ties it: where it begins, in the coordinates of the shape."""

    at: Point
    length_mm: float
    width_mm: float


@dataclass(frozen=True)
class Standing:
    """What is seen of a piece, in the coordinates of its shape, and the move into the view."""

    shape: Shape
    area: Polygon
    to: Transform
    tie: Tie | None = None

    def shows(self, drafted: Point) -> bool:
        """True if a point of the piece is seen."""
        return self.sees(self.shape.move(drafted))

    def sees(self, point: Point) -> bool:
        """True if a point of the shape is seen."""
        return bool(self.area.distance(Place(point.x, point.y)) < SEEN_MM)


def standing(pattern: Pattern, name: str, side: Side) -> Standing:
    """A piece that is seen from one side: as drafted, its cloth to the right of the center."""
    piece = pattern.piece(name)
    shape = shape_of(piece)
    area = _outer_part(pattern, shape)
    middle = middle_x(piece)
    if middle is not None:
        to = Transform.shift(-middle, 0.0)
        along = Vector(0.0, 1.0)
        away = 1.0 if side is piece.drawn_side else -1.0
        at = Point(middle, 0.0)
        area = side_of(area, shape.move(at), along, at + Vector(away, 0.0))
        return Standing(shape, area, to if away > 0 else to.then(Transform.mirror()))
    to = Transform.shift(-center_x(shape.piece), 0.0)
    if to.point(Point(area.centroid.x, area.centroid.y)).x < 0:
        to = to.then(Transform.mirror())
    return Standing(shape, area, to)


def _outer_part(pattern: Pattern, shape: Shape) -> Polygon:
    """What is seen of a piece with fold lines along which a part of it is turned in."""
    area = shape.polygon
    sewn = _sewn_place(pattern, shape.piece)
    for mark in shape.piece.marks:
        if mark.path is None or sewn is None or not is_turned_in(pattern, shape, mark):
            continue
        line = shape.moved_path(mark.path).extended(start_mm=12.0, end_mm=12.0)
        cut = LineString([(p.x, p.y) for p in line.flattened()])
        kept = [each for each in ops.split(area, cut).geoms if isinstance(each, Polygon)]
        if len(kept) == 2:  # a line that does not go all the way across turns nothing in
            area = min(kept, key=lambda each: float(each.distance(Place(sewn.x, sewn.y))))
    return area


def _sewn_place(pattern: Pattern, piece: Piece) -> Point | None:
    """The middle of the first long edge that is sewn; the top of a vent is no long one."""
    sewn = [
        piece.edge(edge)
        for edge in piece.edge_names
        if any(use.name in pattern.seams for use in pattern.uses_of(piece.name, edge))
    ]
    long = max((path.length for path in sewn), default=0.0)
    return next((p.point_at(p.length / 2) for p in sewn if p.length >= long / 2), None)


def is_turned_in(pattern: Pattern, shape: Shape, mark: Mark) -> bool:
    """True for a line beyond which the cloth lies inside: the fold of a band, a vent or its lap."""
    if mark.name == VENT_LAP and mark.path is not None:
        return True
    if mark.kind is not MarkKind.FOLD_LINE or mark.path is None or is_roll_line(mark):
        return False
    return not is_pleat(pattern, shape.piece, mark.path)


def is_roll_line(mark: Mark) -> bool:
    """True for the line along which a lapel rolls outward; what lies beyond it stays in sight."""
    return mark.kind is MarkKind.FOLD_LINE and mark.name.startswith("roll")


def is_pleat(pattern: Pattern, piece: Piece, path: Path) -> bool:
    """True if a fold line starts or ends at a seam that pleats are folded for, or inside."""
    for end in (path.start, path.end):
        for edge in piece.edge_names:
            outline = piece.edge(edge)
            line = LineString([(p.x, p.y) for p in outline.flattened()])
            if line.distance(Place(end.x, end.y)) < SEEN_MM and any(
                use.name in pattern.seams and pattern.seams[use.name].kind is SeamKind.PLEATED
                for use in pattern.uses_of(piece.name, edge)
            ):
                return True
    return False


def standing_around(
    pattern: Pattern,
    name: str,
    view: View,
    placed: dict[str, Standing],
    touching: Sequence[Meeting],
) -> Standing:
    """The part that is seen of a piece that reaches around, brought to its placed neighbors.

    `touching` is what it meets in seams, the piece itself first. Without neighbors it is parted
    in the middle, and its center line stands upright.
    """
    shape = shape_of(pattern.piece(name))
    area = _outer_part(pattern, shape)
    seen = [
        place
        for place in touching
        if place.other in placed and placed[place.other].shows(place.other_at)
    ]
    if not seen:
        return _half(shape, area, view)
    for one, other in pairwise(touching):
        if (one in seen) == (other in seen):
            continue
        at = one.at.toward(other.at, 0.5)
        inside = one if one in seen else other
        area = side_of(area, shape.move(at), inside.inward, shape.move(inside.at))
    area, tie = _without_tie(shape, area, touching)
    return Standing(shape, area, _fitted(seen, shape, placed), tie)


def _without_tie(
    shape: Shape, area: Polygon, touching: Sequence[Meeting]
) -> tuple[Polygon, Tie | None]:
    """A band without what goes on far beyond the end of its sewn edge: a tie."""
    for end, inner in ((touching[0], touching[1]), (touching[-1], touching[-2])):
        at = shape.move(end.at)
        kept = side_of(area, at, end.inward, shape.move(inner.at))
        beyond = area.difference(kept.buffer(1.0))
        if not beyond.is_empty and beyond.distance(Place(at.x, at.y)) < TIE_MM:
            reach = max(Place(x, y).distance(Place(at.x, at.y)) for x, y in _corners(beyond))
            if reach > TIE_MM:
                return kept, Tie(at, float(reach), float(beyond.area / reach))
    return area, None


def _corners(geometry: BaseGeometry) -> list[tuple[float, float]]:
    return [(x, y) for x, y in one_polygon(geometry).exterior.coords]


def side_of(area: Polygon, at: Point, along: Vector, toward: Point) -> Polygon:
    """The part of an area on the side of a line on which a point lies."""
    side = along.left if (toward - at).dot(along.left) > 0 else -along.left
    corners = (at - along * FAR_MM, at + along * FAR_MM)
    half = [*corners, corners[1] + side * FAR_MM, corners[0] + side * FAR_MM]
    return one_polygon(area.intersection(Polygon([(p.x, p.y) for p in half])))


def _fitted(seen: Sequence[Meeting], shape: Shape, placed: dict[str, Standing]) -> Transform:
    """The move, perhaps mirroring, that brings a sewn edge best to what it is sewn to."""
    mine: list[Point] = []
    its: list[Point] = []
    for place in seen:
        other = placed[place.other]
        at, other_at = shape.move(place.at), other.to.point(other.shape.move(place.other_at))
        away = other.to.vector(place.other_inward)
        mine += [at, at + place.inward * 40.0]
        its += [other_at, other_at - away * 40.0]
    return best_move(mine, its)


def _half(shape: Shape, area: Polygon, view: View) -> Standing:
    """The front or back part of a piece that reaches around, its center line upright."""
    piece = shape.piece
    upper, lower = _across(piece)
    fold = piece.edge(piece.fold_edge or "")
    middle = [piece.edge(edge).point_at(piece.edge(edge).length / 2) for edge in (upper, lower)]
    at_fold = fold.point_at(fold.length / 2)
    near = side_of(area, middle[0], (middle[1] - middle[0]).unit, at_fold)
    if _fold_view(piece) is view:
        turn = Transform.shift(-at_fold.x, 0.0)
        seen = near
    else:
        far_upper, far_lower = (_far_end(piece, edge, fold.start) for edge in (upper, lower))
        down = far_upper + Vector(0.0, -far_upper.distance(far_lower))
        turn = Transform.carry((far_upper, far_lower), (far_upper, down))
        turn = turn.then(Transform.shift(-far_upper.x, 0.0))
        seen = one_polygon(area.difference(near.buffer(1e-3)))
    if turn.point(Point(seen.centroid.x, seen.centroid.y)).x < 0:
        turn = turn.then(Transform.mirror())
    return Standing(shape, seen, turn)


def _fold_view(piece: Piece) -> View:
    """The side on which the fold of a piece lies that reaches around."""
    return View.BACK if (piece.fold_edge or "").startswith("center-back") else View.FRONT


def _across(piece: Piece) -> tuple[str, str]:
    """The edges that leave the fold at its upper and lower end."""
    name = piece.fold_edge or ""
    before, after, fold = piece.edge_before(name), piece.edge_after(name), piece.edge(name)
    return (before, after) if fold.start.y >= fold.end.y else (after, before)


def _far_end(piece: Piece, edge: str, fold_end: Point) -> Point:
    """The end of an edge away from the fold."""
    path = piece.edge(edge)
    fold = piece.edge(piece.fold_edge or "")
    at_fold = path.start.is_close(fold.start) or path.start.is_close(fold.end)
    return path.end if at_fold else path.start
