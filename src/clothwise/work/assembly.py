"""Pieces laid out flat as far as they are sewn: which touch, which way up, and where a run goes.

Everything follows from the seam graph and the outlines. Sewn pieces are opened flat, so their
insides lie on opposite sides of the seam; where that needs the other copy of a pair, the piece is
turned over.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from shapely.affinity import affine_transform
from shapely.geometry import Polygon

from clothwise.geometry import Point, Transform, Vector, angle_between, polyline
from clothwise.pattern.cutting_line import cutting_line
from clothwise.pattern.graph import EdgeRef, Run, Seam, SeamKind, Sides
from clothwise.pattern.junctions import Junction, SeamCorners
from clothwise.pattern.pattern import Pattern, Use
from clothwise.pattern.piece import Copy, Dart, Ply, Side
from clothwise.work.folded_band import outer_half
from clothwise.work.picture import Face
from clothwise.work.shape import (
    Shape,
    fine_points,
    outside_strip,
    shape_of,
    tidied,
    union_of,
)
from clothwise.work.two_sided import is_two_sided

STRAIGHT_MM, BEYOND_AXIS_MM = 1.0, 70.0
"""A piece is mirrored in a seam that strays no more, and beyond which no more of it lies."""

LEAP_MM = 16.0
"""Points of an edge lie closer together; further apart they are those of two edges."""

BENT_SHARE = 0.1
"""Edges that stray this far from each other, as a share of their length, cannot be laid flat on
each other; our own choice."""

OVER_CORNER = 1.2
"""An allowance reaches this many times its width over a corner, where that is no right angle."""

BEHIND_MM = 0.5
"""A run goes on behind a piece from where it ends within this; rounding."""

UPRIGHT_TURN_RAD = math.radians(15)
"""Pieces joined by a level seam stay upright, though their edges then gape a little."""


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


def strip(cloth: Cloth, use: Use, run: Run) -> Strip:
    """The pieces of a run of `use`, joined where seams bring them together.

    The piece on the fold, else the first, stays as it was drafted.
    """
    names = run.pieces
    start = next((n for n, name in enumerate(names) if cloth.axis(name) is not None), 0)
    placed = {names[start]: sheet(cloth, names[start])}
    joints = {
        (joint.before.piece, joint.after.piece): joint
        for joint in cloth.corners.junctions(run, use.name)
    }
    order = [*range(start - 1, -1, -1), *range(start + 1, len(names))]
    for number in order:
        neighbor = names[number + 1] if number < start else names[number - 1]
        key = (names[number], neighbor) if number < start else (neighbor, names[number])
        placed[names[number]] = _beside(cloth, placed[neighbor], names[number], joints.get(key))
    behind = [joint.after.piece for joint in joints.values() if _lie_as_drawn(cloth.pattern, joint)]
    sheets = tuple(placed[name] for name in sorted(names, key=lambda name: name not in behind))
    points = [point for ref in run.edges for point in placed[ref.piece].run(Run((ref,)))]
    first = run.edges[0]
    left = is_left(first, placed[first.piece])
    return Strip(sheets, run, tuple(points), left)


def is_left(edge: EdgeRef, of: Sheet) -> bool:
    """True if the cloth lies to the left of an edge as a run travels it in the picture."""
    return edge.reverse == of.to.is_mirroring


def joined_sheets(cloth: Cloth, names: Sequence[str]) -> list[Sheet]:
    """Pieces opened flat where seams that are done join them; the others side by side."""
    placed: dict[str, Sheet] = {}
    waiting = list(names)
    while waiting:
        joined = ((name, _joined_to_any(cloth, name, placed)) for name in waiting)
        name, new = next(((name, new) for name, new in joined if new), (waiting[0], None))
        waiting.remove(name)
        placed[name] = new or _to_the_right(sheet(cloth, name), list(placed.values()))
    return [placed[name] for name in dict.fromkeys(names)]


def _joined_to_any(cloth: Cloth, name: str, placed: Mapping[str, Sheet]) -> Sheet | None:
    """A piece opened flat beside one that a seam joins it to."""
    for seam in cloth.pattern.seams.values():
        if seam.name not in cloth.done:
            continue
        for neighbor in placed.values():
            mine = _layer_on(seam, neighbor.name)
            other = _layer_on(seam, name, other_than=mine)
            if mine and other:
                return _joined(neighbor, mine, sheet(cloth, name), other, None)
    return None


def _to_the_right(new: Sheet, placed: list[Sheet]) -> Sheet:
    if not placed:
        return new
    left, _, right, _ = union_of(one.polygon for one in placed).bounds
    shift = right - new.polygon.bounds[0] + 0.15 * (right - left)
    return new.moved(Transform.shift(shift, 0.0))


def _beside(cloth: Cloth, placed: Sheet, name: str, joint: Junction | None) -> Sheet:
    """A further piece, opened flat beside a placed one along the seam that joins them."""
    new = sheet(cloth, name)
    for seam_name in (joint.seams or ()) if joint else ():
        seam = cloth.pattern.seams[seam_name]
        mine = _layer_on(seam, placed.name)
        other = _layer_on(seam, name, other_than=mine)
        if mine and other:
            at = _corner(joint, placed) if joint else None
            return _joined(placed, mine, new, other, at)
    if joint is not None and _lie_as_drawn(cloth.pattern, joint):
        return replace(new.moved(placed.to), face=placed.face)
    return _to_the_right(new, [placed])


def _lie_as_drawn(pattern: Pattern, joint: Junction) -> bool:
    """True if a run goes on from a piece to one that lies behind it, joined by what is between.

    So does the side piece of a slant pocket. Both are drawn where they lie.
    """
    if len(joint.seams or ()) < 2:
        return False
    end, start = pattern.path(joint.before).end, pattern.path(joint.after).start
    drawn = (pattern.piece(edge.piece).drawn_side for edge in (joint.before, joint.after))
    return end.is_close(start, BEHIND_MM) and len(set(drawn)) == 1


def _corner(joint: Junction, placed: Sheet) -> Point | None:
    """Where the run leaves the placed piece; None where that is folded away."""
    ref = joint.before if joint.before.piece == placed.name else joint.after
    points = placed.run(Run((ref,)))
    if not points:
        return None
    return points[-1] if ref is joint.before else points[0]


def _layer_on(seam: Seam, piece: str, other_than: Run | None = None) -> Run | None:
    """The first layer's run that has edges on a piece."""
    for layer in seam.layers:
        if layer.run != other_than and piece in layer.run.pieces:
            return layer.run
    return None


def _joined(placed: Sheet, mine: Run, new: Sheet, other: Run, at: Point | None) -> Sheet:
    """`new` moved so that its run lies on that of `placed`, its cloth beyond it."""
    fixed = placed.run(mine)
    my_first = next(ref for ref in mine.edges if ref.piece == placed.name)
    its_first = next(ref for ref in other.edges if ref.piece == new.name)
    if is_left(my_first, placed) == is_left(its_first, new):
        new = new.moved(Transform.mirror())
    moving = new.run(other)
    if at is not None and fixed[-1].distance(at) < fixed[0].distance(at):
        fixed.reverse()
        moving.reverse()
    if stray(fixed, moving) > BENT_SHARE:  # only the ends can meet, edges side by side there
        return new.moved(Transform.carry((moving[0], moving[1]), (fixed[0], fixed[1])))
    one, other_ray = (moving[0], moving[-1]), (fixed[0], fixed[-1])
    turn = angle_between(one[1] - one[0], other_ray[1] - other_ray[0])
    if _is_level(fixed) and _is_level(moving) and abs(turn) < UPRIGHT_TURN_RAD:
        return new.moved(_shift(fixed[0] - moving[0]))
    return new.moved(Transform.carry(one, other_ray))


def stray(one: Sequence[Point], other: Sequence[Point]) -> float:
    """How much the shapes of two lines differ: the greatest distance over the length.

    Both are compared from their starts along their chords.
    """
    moved = Transform.carry((other[0], other[-1]), (one[0], one[-1]))
    first, second = polyline(one), polyline(moved.point(point) for point in other)
    if first.end.is_close(first.start) or second.end.is_close(second.start):
        return 1.0
    tenths = [number / 10 for number in range(11)]
    distances = [
        first.point_at(part * first.length).distance(second.point_at(part * second.length))
        for part in tenths
    ]
    return max(distances) / max(first.length, second.length)


def _is_level(points: list[Point]) -> bool:
    chord = points[-1] - points[0]
    return abs(chord.y) < abs(chord.x) * math.tan(UPRIGHT_TURN_RAD)


def aligned(still: Strip, other: Strip, *, on_top: bool) -> Strip:
    """`other` brought to the run of `still`: laid on it, or opened flat on its far side.

    Two runs that end on folds get their folds in line; others meet in the middle of their chords.
    """
    if (still.interior_left == other.interior_left) != on_top:
        other = other.moved(Transform.mirror())
    mine, its = still.fold_end, other.fold_end
    if mine and its:
        heading = mine[1] if on_top else -mine[1]
        target = (mine[0], mine[0] + heading)
        return other.moved(Transform.carry((its[0], its[0] + its[1]), target))
    moved = other.moved(Transform.carry(_ray(other), _ray(still)))
    return moved.moved(_shift(_middle(still) - _middle(moved)))


def _ray(of: Strip) -> tuple[Point, Point]:
    start, end = of.chord
    return (start, end) if start.distance(end) > 1e-6 else (start, start + of.outward.left)


def _middle(of: Strip) -> Point:
    start, end = of.chord
    return start.toward(end, 0.5)


def _shift(step: Vector) -> Transform:
    return Transform.shift(step.x, step.y)


def apart(still: Strip, other: Strip, gap_mm: float) -> Strip:
    """`other` moved straight away from `still` until this much lies between them."""
    fold = still.fold_end
    away = -fold[1] if fold and other.fold_end else still.outward
    base, moving = still.polygon, other.polygon

    def is_clear(step: float) -> bool:
        shifted = moved_polygon(moving, _shift(away * step))
        return bool(base.distance(shifted) >= gap_mm)

    low, high = 0.0, gap_mm
    while not is_clear(high):
        low, high = high, high * 2
        if high > 1e5:
            break
    for _ in range(12):
        middle = (low + high) / 2
        low, high = (low, middle) if is_clear(middle) else (middle, high)
    return other.moved(_shift(away * high))


def moved_polygon(polygon: Polygon, transform: Transform) -> Polygon:
    """A polygon after a move of the plane."""
    t = transform
    return affine_transform(polygon, (t.a, t.c, t.b, t.d, t.e, t.f))
