"""The torso pieces of a garment in place, as a flat front or back drawing shows them.

The right half of the drawing is worked out, center on x = 0; the left half is its mirror image.
Darts are closed and gathers drawn up; sewn edges are brought together, the pieces bent no more
than that takes (`settling`). What is on the center line of the wearer stays on x = 0, and what is
laced apart there half of the gap beside it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Place

from clothwise.geometry import Path, Point, polyline
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Copy, Piece, Ply, Side
from clothwise.work.meeting import Meeting, meetings
from clothwise.work.settling import Joint, LooseCloth, Pin, settled
from clothwise.work.shape import Move, Shape, fine_points, tidied
from clothwise.work.torso_center import central_places
from clothwise.work.torso_fullness import NO_FULLNESS, Fullness, falling, fullnesses
from clothwise.work.torso_pleats import evenly_sewn, folded_x
from clothwise.work.torso_standing import SEEN_MM, Standing, Tie, standing, standing_around
from clothwise.work.two_sided import is_two_sided
from clothwise.work.viewing import View, views, wraps_around
from clothwise.work.wearing import Part, parts

SEWN_STEP_MM = 12.0
"""Sewn edges are joined at places this far apart."""

SAME_LINE_MM = 1.0
"""Lines of two pieces drafted over each other that differ by less are one."""

RUN_END_TIMES = 3
"""The ends of two edges that follow each other count as much as so many of those places."""


@dataclass(frozen=True)
class Worn:
    """A torso piece in one view.

    `area` is what is seen of it, in the coordinates of its shape; `move` brings these into the
    view. `through` goes all the way from the piece as drafted. `tie` is what of a band goes on
    beyond the garment.
    """

    shape: Shape
    view: View
    area: Polygon
    move: Move
    fullness: Fullness = NO_FULLNESS
    tie: Tie | None = None

    @property
    def name(self) -> str:
        """The piece's name."""
        return self.shape.piece.name

    @cached_property
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

    def has(self, edge: str) -> bool:
        """True if an edge is seen: the piece may have others on the other side of the wearer."""
        points = self.shape.edges.get(edge, ())
        if not points:
            return False
        middle = points[len(points) // 2]
        return bool(self.area.distance(Place(middle.x, middle.y)) < SEEN_MM)

    def edge(self, name: str) -> list[Point]:
        """An edge in the view, whole."""
        return [self.move(point) for point in self.shape.edges.get(name, ())]


def worn_halves(pattern: Pattern, view: View) -> dict[Side, tuple[Worn, ...]]:
    """The torso pieces of each side of the wearer, seen from one side of the garment."""
    right = worn_torso(pattern, view, Side.RIGHT)
    if _is_symmetric(pattern):
        return {Side.RIGHT: right, Side.LEFT: right}
    return {Side.RIGHT: right, Side.LEFT: worn_torso(pattern, view, Side.LEFT)}


def _is_symmetric(pattern: Pattern) -> bool:
    return not any(
        is_two_sided(piece) or {copy.side for copy in _shell(piece)} in ({Side.LEFT}, {Side.RIGHT})
        for piece in pattern.pieces.values()
    )


def _shell(piece: Piece) -> list[Copy]:
    return [copy for copy in piece.copies if copy.ply is Ply.SHELL]


def worn_torso(pattern: Pattern, view: View, side: Side = Side.RIGHT) -> tuple[Worn, ...]:
    """The torso pieces of one side of the wearer, each in its place, from the first drafted on."""
    torso = [
        name
        for name, part in parts(pattern).items()
        if part is Part.TORSO
        and any(copy.side in (side, Side.CENTER) for copy in _shell(pattern.piece(name)))
    ]
    seen_from, around = views(pattern, torso), wraps_around(pattern, torso)
    names = [name for name in torso if name in around or seen_from[name] is view]
    everywhere = _touching(pattern, side)
    touching = {name: places for name, places in everywhere.items() if _within(places, torso)}
    stood = _stood(pattern, names, view, side, around, touching)
    full = fullnesses(pattern, names, everywhere)
    cloths = [_loose(stood[name], full[name]) for name in names]
    numbers = {name: number for number, name in enumerate(names)}
    met = [
        (m.piece, _sewn(m.piece, m.at, full), m.other, _sewn(m.other, m.other_at, full))
        for places in touching.values()
        for m in places
    ]
    joints = [
        Joint(
            numbers[one],
            _at(stood[one], at, full[one]),
            numbers[other],
            _at(stood[other], other_at, full[other]),
        )
        for one, at, other, other_at in (
            *met,
            *_run_ends(pattern, side),
            *_laid_under(pattern, names),
        )
        if one != other
        and {one, other} <= stood.keys()
        and stood[one].shows(at)
        and stood[other].shows(other_at)
    ]
    pins = [
        Pin(numbers[name], stood[name].to.point(point), x=off)
        for name in names
        for point, off in central_places(pattern, stood[name])
    ]
    moves = settled(cloths, joints, [*pins, *_level(numbers, stood, names)])
    return tuple(
        Worn(
            stood[name].shape,
            view,
            stood[name].area,
            _then(stood[name], full[name], move),
            full[name],
            stood[name].tie,
        )
        for name, move in zip(names, moves, strict=True)
    )


def _touching(pattern: Pattern, side: Side) -> dict[str, list[Meeting]]:
    """What meets what on a side of the wearer, by the name of the seam, close together."""
    found = {}
    for name, seam in pattern.seams.items():
        if seam.sides.value not in ("both", "center", side.value):
            continue
        length = pattern.run_length(seam.layers[0].run)
        found[name] = list(meetings(pattern, seam, max(math.ceil(length / SEWN_STEP_MM), 6)))
    return found


def _within(places: Sequence[Meeting], torso: Sequence[str]) -> bool:
    return any(place.piece in torso and place.other in torso for place in places)


def _stood(
    pattern: Pattern,
    names: Sequence[str],
    view: View,
    side: Side,
    around: set[str],
    touching: Mapping[str, Sequence[Meeting]],
) -> dict[str, Standing]:
    """Each piece before it is joined; those that reach around wait for their neighbors."""
    found = {name: standing(pattern, name, side) for name in names if name not in around}
    waiting = [name for name in names if name in around]
    while waiting:
        ready = [n for n in waiting if _beside(n, touching) & set(found)] or [
            n for n in waiting if pattern.piece(n).fold_edge
        ]
        name = (ready or waiting)[0]
        waiting.remove(name)
        if not ready:
            found[name] = standing(pattern, name, side)
            continue
        mine = [
            m if m.piece == name else m.swapped
            for places in touching.values()
            for m in places
            if name in (m.piece, m.other) and m.piece != m.other
        ]
        found[name] = standing_around(pattern, name, view, found, mine)
    return found


def _beside(name: str, touching: Mapping[str, Sequence[Meeting]]) -> set[str]:
    return {
        other
        for places in touching.values()
        for m in places
        for other in (m.piece, m.other)
        if name in (m.piece, m.other)
    } - {name}


def _at(stood: Standing, drafted: Point, fullness: Fullness) -> Point:
    return _folded(stood, fullness)(stood.shape.move(drafted))


def _folded(stood: Standing, fullness: Fullness) -> Move:
    """Where the points of a shape stand, its pleats folded."""
    ends = [[stood.to.point(Point(x, 0.0)).x for x in each] for each in fullness.hidden]
    hidden = sorted((min(each), max(each)) for each in ends)

    def move(point: Point) -> Point:
        at = stood.to.point(point)
        return Point(folded_x(at.x, hidden), at.y) if hidden and at.x > 0 else at

    return move


def _loose(stood: Standing, fullness: Fullness) -> LooseCloth:
    points = [_folded(stood, fullness)(point) for point in _fine_ring(stood.area)]
    area = tidied(Polygon([(p.x, p.y) for p in points]))
    _, low, _, high = area.bounds
    hung = falling(fullness, high, low) if fullness.is_drawn_up else _stay
    return LooseCloth(area, hung)


def _stay(point: Point) -> Point:
    return point


def _then(stood: Standing, fullness: Fullness, move: Move) -> Move:
    folded = _folded(stood, fullness)
    return lambda point: move(folded(point))


def _sewn(name: str, at: Point, full: Mapping[str, Fullness]) -> Point:
    """A place of a seam on a piece; pleats shift it along the level edge they are folded at."""
    fullness = full.get(name, NO_FULLNESS)
    if not fullness.hidden or at.x <= 0 or not 0 <= at.x <= fullness.length_above:
        return at
    return Point(evenly_sewn(at.x, fullness.length_above, fullness.hidden), at.y)


def _laid_under(pattern: Pattern, names: Sequence[str]) -> Iterator[tuple[str, Point, str, Point]]:
    """Where an edge of one piece lies on the line that is marked for it on another, under it."""
    for name in names:
        for mark in pattern.piece(name).marks:
            if mark.kind is not MarkKind.PLACEMENT_LINE or mark.path is None:
                continue
            for other in names:
                for path in pattern.piece(other).outline.edges.values():
                    if other != name and _is_same_line(path, mark.path):
                        yield from (
                            (
                                name,
                                path.point_at(part * path.length / 8),
                                other,
                                path.point_at(part * path.length / 8),
                            )
                            for part in range(9)
                        )


def _is_same_line(one: Path, other: Path) -> bool:
    if abs(one.length - other.length) > SAME_LINE_MM:
        return False
    ends = {True: (other.start, other.end), False: (other.end, other.start)}
    return any(
        one.start.is_close(start, SAME_LINE_MM) and one.end.is_close(end, SAME_LINE_MM)
        for start, end in ends.values()
    )


def _run_ends(pattern: Pattern, side: Side) -> Iterator[tuple[str, Point, str, Point]]:
    """Where an edge of one piece follows one of another in a run: they meet end to end."""
    for seam in pattern.seams.values():
        if seam.sides.value in ("both", "center", side.value):
            for layer in seam.layers:
                for one, other in pairwise(layer.run.edges):
                    if one.piece != other.piece:
                        ends = pattern.path(one).end, pattern.path(other).start
                        yield from [(one.piece, ends[0], other.piece, ends[1])] * RUN_END_TIMES


def _level(
    numbers: Mapping[str, int], stood: Mapping[str, Standing], names: Sequence[str]
) -> Iterator[Pin]:
    """One place of the first piece keeps its height."""
    if names:
        first = stood[names[0]]
        at = first.to.point(_fine_ring(first.area)[0])
        yield Pin(numbers[names[0]], at, y=at.y)


def _fine_ring(area: Polygon) -> list[Point]:
    ring = polyline(Point(x, y) for x, y in area.exterior.coords)
    return fine_points(ring)
