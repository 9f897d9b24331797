"""The torso pieces of a garment in place, as a flat front or back drawing shows them.

The right half of the drawing is worked out, center on x = 0; the left half is its mirror image.
Darts are closed. A piece sewn to one above it is hung from it and bent, fading out downward, so
that the sewn edges meet. A piece that reaches from center front to center back is parted at the
side.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Place

from clothwise.geometry import Point, Transform, Vector, polyline
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece
from clothwise.work.shape import (
    Move,
    Shape,
    center_x,
    fine_points,
    one_polygon,
    shape_of,
    tidied,
)
from clothwise.work.wearing import Meeting, Part, View, meetings, parts, views, wraps_around

FADE_MM = 190.0
"""A small misfit between two edges is evened out over this distance; our own choice."""

SMALL_MISFIT_MM = 30.0
"""A larger misfit is evened out over the whole piece; our own choice."""


@dataclass(frozen=True)
class Worn:
    """A torso piece in one view.

    `area` is what is seen of it, in the coordinates of its shape; `move` brings these into the
    view. `through` goes all the way from the piece as drafted.
    """

    shape: Shape
    view: View
    area: Polygon
    move: Move

    @property
    def name(self) -> str:
        """The piece's name."""
        return self.shape.piece.name

    @property
    def polygon(self) -> Polygon:
        """What is seen, in the view."""
        points = _fine_ring(self.area)
        return tidied(Polygon([(q.x, q.y) for q in map(self.move, points)]))

    def through(self, point: Point) -> Point:
        """A point of the drafted piece in the view."""
        return self.move(self.shape.move(point))

    def line(self, points: Sequence[Point]) -> list[list[Point]]:
        """A line of the flat shape, as far as it is seen, in the view."""
        if len(points) < 2:
            return []
        seen = LineString([(p.x, p.y) for p in points]).intersection(self.area.buffer(0.2))
        strips = [seen] if isinstance(seen, LineString) else list(getattr(seen, "geoms", ()))
        return [
            [self.move(Point(x, y)) for x, y in strip.segmentize(12.0).coords]
            for strip in strips
            if isinstance(strip, LineString) and strip.length > 1.0
        ]

    def edge(self, name: str) -> list[Point]:
        """An edge in the view, whole."""
        return [self.move(point) for point in self.shape.edges.get(name, ())]


def worn_torso(pattern: Pattern, view: View) -> tuple[Worn, ...]:
    """The torso pieces seen from one side, each in its place, from the first drafted on."""
    torso = [name for name, part in parts(pattern).items() if part is Part.TORSO]
    seen_from = views(pattern, torso)
    wrapping = wraps_around(pattern, set(torso))
    names = [name for name in torso if seen_from[name] is view or name in wrapping]
    placed: dict[str, Worn] = {}
    below = _below_others(pattern, set(names))
    for name in sorted(names, key=lambda name: name in below):
        if name not in placed:
            placed[name] = _standing(pattern, name, view, name in wrapping)
        _hang_others(pattern, name, names, wrapping, placed)
    return tuple(placed[name] for name in names)


def _below_others(pattern: Pattern, names: set[str]) -> set[str]:
    """Pieces that hang from a seam with another one above it."""
    found = set()
    for seam in pattern.seams.values():
        for place in meetings(pattern, seam, 4):
            if {place.piece, place.other} <= names and place.inward.y * place.other_inward.y < 0:
                found.add(place.piece if place.inward.y < 0 else place.other)
    return found


def _hang_others(
    pattern: Pattern, name: str, names: list[str], wrapping: set[str], placed: dict[str, Worn]
) -> None:
    """Place everything that is sewn to a placed piece, and so on."""
    queue = [name]
    while queue:
        here = queue.pop(0)
        for seam in pattern.seams.values():
            touching = list(meetings(pattern, seam))
            for other in dict.fromkeys(_other(m, here) for m in touching):
                if other is None or other in placed or other not in names:
                    continue
                pairs = [_pair(m, here) for m in touching if _other(m, here) == other]
                view = placed[here].view
                still = placed[here]
                loose = _standing(pattern, other, view, other in wrapping)
                placed[other] = _hung(still, loose, pairs)
                queue.append(other)


def _other(meeting: Meeting, here: str) -> str | None:
    """The piece that meets `here`, if it is seen from the same side."""
    if here not in (meeting.piece, meeting.other) or meeting.piece == meeting.other:
        return None
    return meeting.other if meeting.piece == here else meeting.piece


def _pair(meeting: Meeting, here: str) -> tuple[Point, Point]:
    """A place on `here` and the one it meets, as drafted."""
    if meeting.piece == here:
        return meeting.at, meeting.other_at
    return meeting.other_at, meeting.at


def _standing(pattern: Pattern, name: str, view: View, wraps: bool) -> Worn:
    """A piece as it was drafted, its center on x = 0 and its cloth to the right."""
    shape = shape_of(pattern.piece(name))
    area = _outer_half(pattern, shape)
    if wraps:
        return _half_of_wrapping(shape, area, view)
    x = center_x(shape.piece)
    place = Transform.shift(-x, 0.0)
    if place.point(_center_of(area)).x < 0:
        place = place.then(Transform.mirror())
    return Worn(shape, view, area, place.point)


def _center_of(area: Polygon) -> Point:
    return Point(area.centroid.x, area.centroid.y)


def _outer_half(pattern: Pattern, shape: Shape) -> Polygon:
    """What is seen of a piece that is folded on a fold line: the half that is sewn on."""
    piece, area = shape.piece, shape.polygon
    fold = next((m.path for m in piece.marks if m.kind is MarkKind.FOLD_LINE and m.path), None)
    if fold is None:
        return area
    line = shape.moved_path(fold).extended(start_mm=200.0, end_mm=200.0)
    sewn = next(
        (
            piece.edge(edge).point_at(piece.edge(edge).length / 2)
            for edge in piece.edge_names
            if any(use.name in pattern.seams for use in pattern.uses_of(piece.name, edge))
        ),
        None,
    )
    return _side_of(area, line.start, line.end, sewn) if sewn else area


def _side_of(area: Polygon, start: Point, end: Point, toward: Point) -> Polygon:
    """The part of an area on the side of a line on which a point lies."""
    along = (end - start).unit
    side = along.left if (toward - start).dot(along.left) > 0 else -along.left
    reach = 5000.0
    corners = (start - along * reach, end + along * reach)
    half = [*corners, corners[1] + side * reach, corners[0] + side * reach]
    return one_polygon(area.intersection(Polygon([(p.x, p.y) for p in half])))


def _half_of_wrapping(shape: Shape, area: Polygon, view: View) -> Worn:
    """The front or back part of a piece that reaches around, its center line upright."""
    piece = shape.piece
    upper, lower = _across(piece)
    fold = piece.edge(piece.fold_edge or "")
    middle = [piece.edge(edge).point_at(piece.edge(edge).length / 2) for edge in (upper, lower)]
    at_fold = fold.point_at(fold.length / 2)
    is_front = _fold_view(piece) is view
    near = _side_of(area, middle[0], middle[1], at_fold)
    if is_front:
        turn = Transform.shift(-at_fold.x, 0.0)
        seen = near
    else:
        far_upper, far_lower = (_far_end(piece, edge, fold.start) for edge in (upper, lower))
        down = far_upper + Vector(0.0, -far_upper.distance(far_lower))
        turn = Transform.carry((far_upper, far_lower), (far_upper, down))
        turn = turn.then(Transform.shift(-far_upper.x, 0.0))
        seen = one_polygon(area.difference(near.buffer(1e-3)))
    if turn.point(_center_of(seen)).x < 0:
        turn = turn.then(Transform.mirror())
    return Worn(shape, view, seen, turn.point)


def _fold_view(piece: Piece) -> View:
    """The side on which the fold of a wrapping piece lies."""
    return View.BACK if (piece.fold_edge or "").startswith("center-back") else View.FRONT


def _across(piece: Piece) -> tuple[str, str]:
    """The edges that leave the fold at its upper and lower end."""
    names = piece.edge_names
    number = names.index(piece.fold_edge or "")
    before, after = names[number - 1], names[(number + 1) % len(names)]
    fold = piece.edge(piece.fold_edge or "")
    return (before, after) if fold.start.y >= fold.end.y else (after, before)


def _far_end(piece: Piece, edge: str, fold_end: Point) -> Point:
    """The end of an edge away from the fold."""
    path = piece.edge(edge)
    fold = piece.edge(piece.fold_edge or "")
    at_fold = path.start.is_close(fold.start) or path.start.is_close(fold.end)
    return path.end if at_fold else path.start


def _hung(still: Worn, loose: Worn, pairs: Sequence[tuple[Point, Point]]) -> Worn:
    """`loose` brought to `still` along the places where they meet, and bent to it."""
    wanted = [(still.through(one), loose.through(other)) for one, other in pairs]
    seen = [
        (target, source)
        for (target, source), (one, other) in zip(wanted, pairs, strict=True)
        if _is_seen(still, one) and _is_seen(loose, other)
    ] or wanted
    seen.sort(key=lambda pair: abs(pair[1].x))
    targets, sources = [pair[0] for pair in seen], [pair[1] for pair in seen]
    chord = sources[-1] - sources[0]
    if abs(chord.x) >= abs(chord.y):
        place = Transform.shift(0.0, targets[0].y - sources[0].y)
    else:
        targets.sort(key=lambda point: -point.y)
        sources.sort(key=lambda point: -point.y)
        place = Transform.carry((sources[0], sources[-1]), (targets[0], targets[-1]))
    settled = [place.point(point) for point in sources]
    bend = _bending(settled, targets, _depth(loose, place))
    move = loose.move
    return Worn(loose.shape, loose.view, loose.area, lambda p: bend(place.point(move(p))))


def _is_seen(worn: Worn, drafted: Point) -> bool:
    point = worn.shape.move(drafted)
    return bool(worn.area.distance(Place(point.x, point.y)) < 1.0)


def _depth(worn: Worn, place: Transform) -> float:
    ys = [place.point(worn.move(point)).y for point in _fine_ring(worn.area)]
    return max(ys) - min(ys)


def _bending(sources: list[Point], targets: list[Point], depth_mm: float) -> Move:
    """Moves the line of `sources` onto that of `targets`, and what is near it along with it."""
    if len(sources) < 2 or sources[0].is_close(sources[-1]):
        return lambda point: point
    line = LineString([(p.x, p.y) for p in sources])
    steps = [target - source for source, target in zip(sources, targets, strict=True)]
    at = [float(line.project(Place(p.x, p.y))) for p in sources]
    misfit = max(step.length for step in steps)
    fade = min(FADE_MM, depth_mm) if misfit < SMALL_MISFIT_MM else depth_mm

    def step_at(along: float) -> Vector:
        for (low, one), (high, other) in pairwise(zip(at, steps, strict=True)):
            if along <= high and high > low:
                share = max(0.0, (along - low) / (high - low))
                return one + (other - one) * share
        return steps[-1]

    def move(point: Point) -> Point:
        place = Place(point.x, point.y)
        share = max(0.0, 1.0 - float(line.distance(place)) / fade)
        return point + step_at(float(line.project(place))) * (share * share * (3 - 2 * share))

    return move


def _fine_ring(area: Polygon) -> list[Point]:
    ring = polyline(Point(x, y) for x, y in area.exterior.coords)
    return fine_points(ring)
