"""The garment drawn flat, front and back, made of its own pieces.

Torso pieces stand as in `torso`; sleeves hang from the armholes, half of each to be seen; a collar
lies around the neck, its size taken from its piece; pockets sit where they are placed; a loose belt
is tied at the waist. Where cloth bends in space, the drawing follows the habits of fashion flats:
`Drawing habits` below, all our own choice.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from shapely.geometry import LineString, Polygon

from clothwise.geometry import (
    Path,
    Point,
    Transform,
    Vector,
    angle_between,
    cubic_between,
    join,
    polar,
    polyline,
    straight,
)
from clothwise.pattern.graph import FinishKind, Layer, Placement, Run, Seam, Sides, run
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Copy, Piece, Ply, Side
from clothwise.work.picture import Area, Button, Face, Item, LineRole, Picture, Trace, moved_item
from clothwise.work.shape import polygon_path, shape_of, tidied, union_of
from clothwise.work.torso import Worn, worn_torso
from clothwise.work.wearing import Part, View, hems, meetings, parts

# Drawing habits
SLEEVE_FALL_RAD = math.radians(50)
"""Angle of a hanging sleeve below the level."""
SLEEVE_HEAD = 0.35
"""How far the sleeve has turned from the line of the shoulder when it leaves the seam."""
STAND_SHARE, LARGEST_STAND_MM = 0.4, 34.0
"""The part of a rolled collar's width that stands up at center back."""
COLLAR_FALL_RAD = math.radians(37)
"""Angle below the level of the front edge of a collar whose points do not lean forward."""
KNOT_WIDTHS = 1.15
"""Size of the knot of a tied belt, in belt widths."""
TAIL_SPREAD_RAD = math.radians(7)
"""How far the ends of a tied belt swing apart."""
KNOT_MM = 140.0
"""Length of belt that the knot takes up at each end."""

TOPSTITCHED_MM = 4.0
"""How far inside a placed edge its stitching is drawn."""

MIRROR = Transform.mirror()


def flats(pattern: Pattern) -> tuple[Picture, Picture]:
    """The front and the back of the garment."""
    return flat(pattern, View.FRONT), flat(pattern, View.BACK)


def flat(pattern: Pattern, view: View) -> Picture:
    """The garment seen from one side."""
    return _Flat(pattern, view).picture()


@dataclass(frozen=True)
class _Neck:
    """The neckline in the view: from the center to the shoulder, and on along the shoulder."""

    piece: str
    line: tuple[Point, ...]
    shoulder: tuple[Point, ...]

    @property
    def center(self) -> Point:
        return self.line[0]

    @property
    def side(self) -> Point:
        return self.line[-1]

    def on_shoulder(self, at_mm: float) -> Point:
        """The point this far down the shoulder."""
        path = polyline(self.shoulder)
        return path.point_at(min(max(at_mm, 0.0), path.length))


class _Flat:
    def __init__(self, pattern: Pattern, view: View) -> None:
        self._pattern, self._view = pattern, view
        self._parts = parts(pattern)
        self._torso = worn_torso(pattern, view)
        self._right_side = Side.LEFT if view is View.FRONT else Side.RIGHT

    def picture(self) -> Picture:
        items: list[Item] = []
        neck = self._neck(self._torso)
        if self._view is View.FRONT and neck:
            items += self._inside_of_neck(neck)
        for name in self._of(Part.SLEEVE):
            items += _both(self._sleeve(self._pattern.piece(name)))
        items += self._torso_items()
        items += self._bindings()
        items += self._placed()
        items += self._tabs()
        items += self._buttons()
        for name in self._of(Part.LOOSE):
            items += self._belt(self._pattern.piece(name))
        if neck:
            for name in self._outer_collars():
                items += self._collar(self._pattern.piece(name), neck)
        return Picture((*items, *_silhouette(items)), self._view.value)

    def _of(self, part: Part) -> list[str]:
        return [name for name, its in self._parts.items() if its is part]

    # -- torso

    def _torso_items(self) -> list[Item]:
        """Pieces of the side that lies below, then those of the side above, then whole ones."""
        upper_is_mirrored = self._lap_side() is not self._right_side
        first, second = (False, True) if upper_is_mirrored else (True, False)
        items: list[Item] = []
        for mirrored in (first, second):
            for worn in self._torso:
                if not self._is_whole(worn):
                    items += self._worn_items(worn, mirrored=mirrored)
        for worn in self._torso:
            if self._is_whole(worn):
                items += self._whole_items(worn)
        return items

    def _lap_side(self) -> Side:
        """The side that lies on top at an opening: the one with the buttonholes."""
        for worn in self._torso:
            for mark in worn.shape.piece.marks:
                if mark.kind is MarkKind.BUTTONHOLE and mark.only_side:
                    return Side(mark.only_side)
        return Side.RIGHT

    def _is_whole(self, worn: Worn) -> bool:
        """True if the piece goes across the center of this view without a seam."""
        fold = worn.shape.piece.fold_edge
        if fold is None:
            return False
        points = worn.edge(fold)
        return all(abs(point.x) < 1.0 for point in points)

    def _worn_items(self, worn: Worn, *, mirrored: bool) -> list[Item]:
        side = self._side(mirrored)
        items: list[Item] = [self._area(worn.polygon, worn.shape.piece, side)]
        items += self._details(worn)
        return [moved_item(item, MIRROR) for item in items] if mirrored else items

    def _whole_items(self, worn: Worn) -> list[Item]:
        half = worn.polygon
        other = Polygon([(-x, y) for x, y in half.exterior.coords])
        whole = tidied(union_of((half, other)))
        return [
            self._area(whole, worn.shape.piece, Side.CENTER),
            *_both(self._details(worn)),
        ]

    def _side(self, mirrored: bool) -> Side:
        if not mirrored:
            return self._right_side
        return Side.RIGHT if self._right_side is Side.LEFT else Side.LEFT

    def _area(self, polygon: Polygon, piece: Piece, side: Side, face: Face = Face.RIGHT) -> Area:
        copy = _copy_for(piece, side)
        role, name = (copy.role, copy.name) if copy else ("", "")
        return Area(polygon_path(polygon), face, piece.name, role, copy=name)

    def _details(self, worn: Worn) -> list[Item]:
        """Darts and hems of a piece."""
        lines: list[Item] = []
        for dart in worn.shape.darts:
            lines += [
                Trace(polyline(points), LineRole.SEWN, worn.name) for points in worn.line(dart)
            ]
        for finish, name, edge in hems(self._pattern):
            if name == worn.name and edge in worn.shape.edges:
                inner = _inset(list(worn.shape.edges[edge]), finish.depth_mm)
                lines += [
                    Trace(polyline(points), LineRole.TOPSTITCHING, name)
                    for points in worn.line(inner)
                ]
        return lines

    def _bindings(self) -> list[Item]:
        found: list[Item] = []
        for finish in self._pattern.finishes.values():
            if finish.kind is not FinishKind.BOUND:
                continue
            for worn in self._torso:
                for ref in finish.run.edges:
                    if ref.piece == worn.name and ref.edge in worn.shape.edges:
                        inner = _inset(list(worn.shape.edges[ref.edge]), 8.0)
                        found += _both(
                            [
                                Trace(polyline(points), LineRole.TOPSTITCHING, worn.name)
                                for points in worn.line(inner)
                            ]
                        )
        return found

    def _tabs(self) -> list[Item]:
        """What is caught by an end in a seam, lying on the garment; of several layers the last.

        Loops, half of which is drawn, hang inside.
        """
        found: list[Item] = []
        for seam in self._pattern.seams.values():
            caught = [
                layer
                for layer in seam.layers
                if layer.span is not None
                and self._parts.get(layer.run.pieces[0]) is Part.TAB
                and self._pattern.piece(layer.run.pieces[0]).fold_edge is None
            ]
            for layer in caught[-1:]:
                for worn in self._torso:
                    area = self._caught_on(worn, seam, layer)
                    if area is not None:
                        piece = self._pattern.piece(layer.run.pieces[0])
                        found += _both([self._area(area, piece, self._right_side)])
        return found

    def _caught_on(self, worn: Worn, seam: Seam, layer: Layer) -> Polygon | None:
        """The part of a tab that lies on one piece, as it is worn."""
        assert layer.span is not None
        middle = sum(layer.span) / 2
        for at_mm in (middle, middle + 1e-2):
            foot = self._pattern.spot(seam.layers[0].run, at_mm)
            if foot.edge.piece == worn.name:
                break
        else:
            return None
        piece = self._pattern.piece(layer.run.pieces[0])
        held = self._pattern.spot(layer.run, self._pattern.run_length(layer.run) / 2)
        along, own = (-spot.along if spot.edge.reverse else spot.along for spot in (foot, held))
        ring = []
        for path in piece.outline.edges.values():
            for point in path.flattened(0.3)[:-1]:
                away = point - held.point
                on = along.left * away.dot(own.left) - along * away.dot(own)
                ring.append(foot.point + on)
        laid = Polygon([(p.x, p.y) for p in ring]).intersection(worn.shape.piece.outline.polygon)
        parts_of = [part for part in getattr(laid, "geoms", (laid,)) if part.area > 1.0]
        if not parts_of or laid.area < LAID_SHARE * piece.outline.area:
            return None
        largest = max(parts_of, key=lambda part: part.area)
        points = [worn.through(Point(x, y)) for x, y in largest.exterior.coords]
        return tidied(Polygon([(p.x, p.y) for p in points]))

    # -- what is placed and buttoned

    def _placed(self) -> list[Item]:
        found: list[Item] = []
        for placement in self._pattern.placements.values():
            for worn in self._torso:
                if worn.name == placement.host:
                    found += self._placed_on(worn, placement)
        return found

    def _placed_on(self, worn: Worn, placement: Placement) -> list[Item]:
        piece = self._pattern.laid_piece(placement)

        def through(point: Point) -> Point:
            return worn.through(placement.onto.point(point))

        shape = shape_of(piece)
        ring = [through(point) for points in shape.edges.values() for point in points]
        area = tidied(Polygon([(p.x, p.y) for p in ring]))
        inner = [(shape.run(self._pattern.laid_run(placement)), TOPSTITCHED_MM)]
        inner += [
            (list(points), self._hem_depth(piece.name, edge))
            for edge, points in shape.edges.items()
        ]
        lines: list[Item] = []
        for points, depth in inner:
            if depth and len(points) > 1:
                lines += [
                    Trace(polyline(map(through, path.flattened())), LineRole.TOPSTITCHING)
                    for path in _inside_of(polyline(_inset(points, depth)), shape.polygon)
                ]
        found: list[Item] = []
        for mirrored in (False, True):
            side = self._side(mirrored)
            if placement.sides in (Sides.BOTH, Sides.CENTER) or placement.sides.value == side.value:
                one: list[Item] = [self._area(area, piece, side), *lines]
                found += [moved_item(item, MIRROR) for item in one] if mirrored else one
        return found

    def _hem_depth(self, piece: str, edge: str) -> float:
        return next(
            (f.depth_mm for f, name, its in hems(self._pattern) if (name, its) == (piece, edge)),
            0.0,
        )

    def _buttons(self) -> list[Item]:
        return [
            Button(Point(0.0, at.y) if abs(at.x) < 1.0 else at, mark.size_mm)
            for worn in self._torso
            for mark in worn.shape.piece.marks
            if mark.kind is MarkKind.BUTTON and mark.at
            for at in _on_both_sides(worn.through(mark.at), mark.only_side)
        ]

    # -- neck and collar

    def _neck(self, torso: Sequence[Worn]) -> _Neck | None:
        """The neckline: the run named `neck`, from the center up, and the shoulder beside it."""
        run = self._pattern.runs.get("neck")
        if run is None:
            return None
        for worn in torso:
            refs = [ref for ref in run.edges if ref.piece == worn.name]
            points = [point for ref in refs for point in worn.edge(ref.edge)]
            if len(points) < 2:
                continue
            points.sort(key=lambda point: abs(point.x))
            side = points[-1]
            shoulder = self._shoulder(worn, side, {ref.edge for ref in refs})
            return _Neck(worn.name, tuple(points), shoulder)
        return None

    def _shoulder(self, worn: Worn, side: Point, neck: set[str]) -> tuple[Point, ...]:
        """The edge beside the neck, from the neck outward."""
        for edge in worn.shape.edges:
            points = worn.edge(edge)
            if edge not in neck and points[-1].is_close(side, 1.0):
                return tuple(reversed(points))
            if edge not in neck and points[0].is_close(side, 1.0):
                return tuple(points)
        return (side, side + Vector(100.0, -35.0))

    def _inside_of_neck(self, neck: _Neck) -> list[Item]:
        """The inside of the back that is seen above the front neckline."""
        back = worn_torso(self._pattern, View.BACK)
        behind = self._neck(back)
        if behind is None:
            return []
        lift = Transform.shift(0.0, neck.side.y - behind.side.y)
        upper = [lift.point(point) for point in behind.line]
        ring = [*neck.line, *reversed(upper)]
        half = Polygon([(p.x, p.y) for p in ring])
        other = Polygon([(-p.x, p.y) for p in ring])
        area = tidied(union_of((half.buffer(0.5), other.buffer(0.5))).buffer(-0.4))
        owner, face = self._lining_of_neck(behind)
        return [replace(self._area(area, owner, Side.CENTER, face), inside=True)]

    def _lining_of_neck(self, behind: _Neck) -> tuple[Piece, Face]:
        """What is seen inside the back of the neck: a facing, or the back's own wrong side."""
        for seam in self._pattern.seams.values():
            for place in meetings(self._pattern, seam, 8):
                if place.piece == behind.piece and self._parts.get(place.other) is Part.INSIDE:
                    return self._pattern.piece(place.other), Face.RIGHT
        return self._pattern.piece(behind.piece), Face.WRONG

    def _outer_collars(self) -> list[str]:
        """Collar pieces that are seen: of those caught in one seam, the last; not their stand."""
        found: list[str] = []
        stands: set[str] = set()
        for seam in self._pattern.seams.values():
            caught = [
                layer
                for layer in seam.layers
                if layer.span is not None and self._parts.get(layer.run.pieces[0]) is not Part.TAB
            ]
            if caught:
                found.append(caught[-1].run.pieces[0])
                hosts = [layer for layer in seam.layers if layer.span is None]
                stands.update(name for layer in hosts for name in layer.run.pieces)
        collars = [name for name in found if self._parts.get(name) is Part.COLLAR]
        return [name for name in collars if name not in stands]

    def _collar(self, piece: Piece, neck: _Neck) -> list[Item]:
        size = _collar_size(self._pattern, piece)
        stand = min(STAND_SHARE * size.width_mm, LARGEST_STAND_MM)
        roll = neck.side + Vector(-4.0, 0.72 * stand)
        outer = neck.on_shoulder(size.width_mm - stand - 0.72 * stand + 5.0) + Vector(2.0, 3.0)
        if self._view is View.BACK:
            return self._collar_back(piece, neck, roll, outer, size.width_mm, stand)
        start = self._collar_start(piece, neck)
        tip = start + polar(size.end_mm, -(COLLAR_FALL_RAD + size.lean_rad))
        over = cubic_between(
            start, polar(1.0, math.radians(58)), roll, polar(1.0, math.radians(80))
        )
        down = cubic_between(roll, polar(1.0, math.radians(-10)), outer, polar(1.0, -1.0))
        edge = cubic_between(
            outer,
            (tip - outer).unit.turned(0.16),
            tip,
            (tip - outer).unit.turned(-0.16),
        )
        front = join(over, down, edge, straight(tip, start))
        top = Point(0.0, roll.y - 0.12 * stand)
        inside = [
            *over.flattened(0.3),
            *cubic_between(roll, Vector(-1.0, 0.1), top, Vector(-1.0, 0.0)).flattened(0.3),
        ]
        half = Polygon([(p.x, p.y) for p in (*inside, Point(0.0, start.y))])
        behind = tidied(union_of((half, _mirrored(half))))
        seam = cubic_between(
            roll + Vector(-2.0, -0.55 * stand),
            polar(1.0, math.radians(205)),
            Point(0.0, top.y - stand),
            Vector(-1.0, 0.0),
        )
        items: list[Item] = [replace(self._area(behind, piece, Side.CENTER), inside=True)]
        items += _both([Trace(part, LineRole.SEWN) for part in _inside_of(seam, behind)])
        points = front.flattened(0.2)
        area = tidied(Polygon([(p.x, p.y) for p in points]))
        for mirrored in (False, True):
            one = self._area(area, piece, Side.CENTER)
            items.append(moved_item(one, MIRROR) if mirrored else one)
        return items

    def _collar_start(self, piece: Piece, neck: _Neck) -> Point:
        """Where the neck edge of a collar begins, at center front."""
        for seam in self._pattern.seams.values():
            for layer in seam.layers:
                if layer.span is None or piece.name not in layer.run.pieces:
                    continue
                spot = self._pattern.spot(seam.layers[0].run, layer.span[0] + 1e-3)
                for worn in self._torso:
                    if worn.name == spot.edge.piece:
                        return worn.through(spot.point)
        return neck.center

    def _collar_back(
        self, piece: Piece, neck: _Neck, roll: Point, outer: Point, width: float, stand: float
    ) -> list[Item]:
        top = Point(0.0, neck.center.y + stand)
        low = Point(0.0, neck.center.y + stand - (width - stand))
        right = join(
            cubic_between(top, Vector(1.0, 0.0), roll, polar(1.0, math.radians(35))),
            cubic_between(roll, polar(1.0, math.radians(-10)), outer, polar(1.0, -1.0)),
            cubic_between(outer, polar(1.0, math.radians(205)), low, Vector(-1.0, 0.0)),
        )
        half = Polygon([(p.x, p.y) for p in right.flattened(0.2)])
        whole = tidied(union_of((half, _mirrored(half))))
        return [self._area(whole, piece, Side.CENTER)]

    # -- sleeves

    def _sleeve(self, piece: Piece) -> list[Item]:
        """The visible half of the sleeve at the right of the view."""
        seam, layer = _cap_seam(self._pattern, piece.name, set(self._of(Part.CUFF)))
        armhole = self._armhole(seam.layers[0].run)
        if armhole is None:
            return []
        tip, underarm = armhole[-1], armhole[0]
        size = _sleeve_size(self._pattern, piece, layer)
        along = polar(1.0, -SLEEVE_FALL_RAD)
        inward = polar(1.0, -SLEEVE_FALL_RAD - math.pi / 2)
        hem_outer = tip + along * size.length_mm + inward * -6.0
        hem_inner = hem_outer + inward * size.hem_half_mm
        slope = self._slope_at(tip)
        head = slope.turned(SLEEVE_HEAD * angle_between(slope, along))
        top = cubic_between(tip, head, hem_outer, along)
        hem = cubic_between(hem_outer, inward.turned(-0.06), hem_inner, inward.turned(0.06))
        under = cubic_between(
            hem_inner,
            (underarm - hem_inner).unit.turned(-0.10),
            underarm,
            (underarm - hem_inner).unit.turned(0.10),
        )
        ring = [*armhole, *join(top, hem, under).flattened(0.3)]
        area = tidied(Polygon([(p.x, p.y) for p in ring]))
        items: list[Item] = [self._area(area, piece, self._right_side)]
        if size.hem_depth_mm:
            inner = hem.transformed(Transform.shift(*_xy(-along * size.hem_depth_mm)))
            longer = inner.extended(start_mm=30.0, end_mm=30.0)
            items += [
                Trace(part, LineRole.TOPSTITCHING, piece.name) for part in _inside_of(longer, area)
            ]
        return [*items, *self._cuff(piece, hem, along)]

    def _cuff(self, sleeve: Piece, hem: Path, along: Vector) -> list[Item]:
        """The half of a cuff that is seen below a sleeve, in the middle of its edge."""
        items: list[Item] = []
        for name in self._of(Part.CUFF):
            piece = self._pattern.piece(name)
            if piece.component != sleeve.component:
                continue
            left, bottom, right, top = piece.outline.polygon.bounds
            folded = any(mark.kind is MarkKind.FOLD_LINE for mark in piece.marks)
            depth = (top - bottom) / (2 if folded else 1)
            share = min((right - left) / 2 / hem.length, 1.0) / 2
            ends = (
                hem.point_at((0.5 - share) * hem.length),
                hem.point_at((0.5 + share) * hem.length),
            )
            ring = [ends[0], ends[1], ends[1] + along * depth, ends[0] + along * depth]
            area = tidied(Polygon([(p.x, p.y) for p in ring]))
            items.append(self._area(area, piece, self._right_side))
        return items

    def _armhole(self, run: Run) -> list[Point] | None:
        """The armhole of this view, from the underarm up to the shoulder."""
        for worn in self._torso:
            points = [
                point
                for ref in run.edges
                if ref.piece == worn.name
                for point in (reversed(worn.edge(ref.edge)) if ref.reverse else worn.edge(ref.edge))
            ]
            if len(points) > 1:
                return points if points[0].y < points[-1].y else points[::-1]
        return None

    def _slope_at(self, tip: Point) -> Vector:
        """Direction of the shoulder at its outer end."""
        for worn in self._torso:
            for edge in worn.shape.edges:
                points = worn.edge(edge)
                if len(points) < 2:
                    continue
                for end, before in ((points[0], points[1]), (points[-1], points[-2])):
                    if end.is_close(tip, 1.0) and end.x > before.x + 1e-6 and end.y < before.y:
                        return (end - before).unit
        return polar(1.0, math.radians(-20))

    # -- belt

    def _belt(self, piece: Piece) -> list[Item]:
        """A loose strip around the waist, tied in front."""
        left, bottom, right, top = piece.outline.polygon.bounds
        length = right - left
        is_folded = any(mark.kind is MarkKind.FOLD_LINE for mark in piece.marks)
        width = (top - bottom) / (2 if is_folded else 1)
        cut_up = any(mark.kind is MarkKind.PLACEMENT_LINE for mark in piece.marks)
        if length < 5 * width or cut_up:  # a strip that is cut up for loops is no belt
            return []
        waist = self._waist()
        if not waist:
            return []
        middle = polyline([*(MIRROR.point(p) for p in reversed(waist[1:])), *waist])
        band = LineString([(p.x, p.y) for p in middle.flattened()]).buffer(
            width / 2, cap_style="flat"
        )
        items: list[Item] = [self._area(tidied(band), piece, self._right_side)]
        if self._view is View.BACK:
            return items
        around = 2 * sum(
            polyline(line).length for line in (waist, self._waist_of(View.BACK)) if len(line) > 1
        )
        tail = max(length - around / 2 - KNOT_MM, 2 * width)
        tail = min(tail, 0.8 * self._drop_below(waist[0].y))
        knot = Point(0.0, waist[0].y)
        for swing in (TAIL_SPREAD_RAD, -1.5 * TAIL_SPREAD_RAD):
            down = polar(1.0, -math.pi / 2 + swing)
            end = knot + down * tail
            across = down.left * (width / 2)
            slim = down.left * (0.36 * width)
            corners = [knot - slim, end - across, end + across, knot + slim]
            ring = Polygon([(p.x, p.y) for p in corners])
            items.append(self._area(ring, piece, self._right_side))
        size = KNOT_WIDTHS * width / 2
        corners = [
            knot + Vector(-0.8 * size, -size),
            knot + Vector(0.8 * size, -size),
            knot + Vector(0.95 * size, size),
            knot + Vector(-0.95 * size, size),
        ]
        core = Polygon([(p.x, p.y) for p in corners]).buffer(-3.0).buffer(3.0)
        items.append(self._area(tidied(core), piece, self._right_side))
        return items

    def _waist(self) -> list[Point]:
        return self._waist_of(self._view)

    def _waist_of(self, view: View) -> list[Point]:
        """The run named `waist` in a view, from the center outward."""
        run = self._pattern.runs.get("waist")
        if run is None:
            return []
        torso = self._torso if view is self._view else worn_torso(self._pattern, view)
        for worn in torso:
            points = [
                point
                for ref in run.edges
                if ref.piece == worn.name
                for point in worn.edge(ref.edge)
                if point.x > -1e-6
            ]
            if len(points) > 1:
                points.sort(key=lambda point: point.x)
                first, last = points[0], points[-1]
                bend = cubic_between(
                    Point(0.0, first.y), Vector(1.0, 0.0), last, (last - first).unit
                )
                return bend.flattened(0.5)
        return []

    def _drop_below(self, y: float) -> float:
        return y - min(float(worn.polygon.bounds[1]) for worn in self._torso)


@dataclass(frozen=True)
class _CollarSize:
    """Width at center back, length of the front edge, and how far that leans forward."""

    width_mm: float
    end_mm: float
    lean_rad: float


def _collar_size(pattern: Pattern, piece: Piece) -> _CollarSize:
    """What the flat collar piece says."""
    neck = next(
        ref.edge
        for seam in pattern.seams.values()
        for layer in seam.layers
        if layer.span is not None
        for ref in layer.run.edges
        if ref.piece == piece.name
    )
    names = piece.edge_names
    number = names.index(neck)
    following, before = names[(number + 1) % len(names)], names[number - 1]
    end, at_end = (following, True) if before == piece.fold_edge else (before, False)
    neck_path, end_path = piece.edge(neck), piece.edge(end)
    forward = neck_path.end_tangent if at_end else -neck_path.start_tangent
    away = end_path.start_tangent if at_end else -end_path.end_tangent
    lean = math.asin(max(-1.0, min(1.0, forward.dot(away))))
    width = piece.edge(piece.fold_edge).length if piece.fold_edge else end_path.length
    return _CollarSize(width, end_path.length, lean)


@dataclass(frozen=True)
class _SleeveSize:
    """From the top of the cap to the hem, half of the hem, and the hem's depth."""

    length_mm: float
    hem_half_mm: float
    hem_depth_mm: float


LAID_SHARE = 0.4
"""Ties, of which less than this share would lie on the piece, hang elsewhere; our own choice."""


def _on_both_sides(at: Point, only_side: str) -> tuple[Point, ...]:
    """A button that is not for one side alone, and is off the center, is on both."""
    return (at,) if only_side or abs(at.x) < 1.0 else (at, Point(-at.x, at.y))


def _cap_seam(pattern: Pattern, piece: str, cuffs: set[str]) -> tuple[Seam, Layer]:
    """The seam that sets a sleeve in; that to its cuff may be a ring too."""
    return next(
        (seam, layer)
        for seam in pattern.seams.values()
        for layer in seam.layers[1:]
        if layer.run.closed
        and piece in layer.run.pieces
        and not cuffs.intersection(seam.layers[0].run.pieces)
    )


def _sleeve_size(pattern: Pattern, piece: Piece, layer: Layer) -> _SleeveSize:
    cap = {ref.edge for ref in layer.run.edges if ref.piece == piece.name}
    top = max(point.y for edge in cap for point in piece.edge(edge).flattened())
    depth, lower = 0.0, [layer.run for layer in _cuff_layers(pattern, piece.name, cap)]
    for finish, name, edge in hems(pattern):
        if name == piece.name:
            depth, lower = finish.depth_mm, [run(f"{name}.{edge}")]
    if not lower:
        edge = min(piece.edge_names, key=lambda edge: piece.edge(edge).point_at(0.0).y)
        lower = [run(f"{piece.name}.{edge}")]
    around = pattern.run_length(lower[0])
    low = pattern.spot(lower[0], around / 2).point.y
    return _SleeveSize(top - low, around / 2, depth)


def _cuff_layers(pattern: Pattern, piece: str, cap: set[str]) -> list[Layer]:
    """The lower edge of a sleeve where it is sewn to a cuff: a later layer that is not the cap."""
    return [
        layer
        for seam in pattern.seams.values()
        for layer in seam.layers[1:]
        if layer.run.pieces == (piece,)
        and piece not in seam.layers[0].run.pieces
        and not cap.intersection(ref.edge for ref in layer.run.edges)
    ]


def _copy_for(piece: Piece, side: Side) -> Copy | None:
    """The outermost copy of a piece for a side of the wearer."""
    outer = [copy for copy in piece.copies if copy.ply is Ply.SHELL]
    for wanted in (side, Side.CENTER):
        for copy in outer:
            if copy.side is wanted:
                return copy
    return outer[0] if outer else None


def _both(items: Sequence[Item]) -> list[Item]:
    """Items and their mirror images."""
    return [*items, *(moved_item(item, MIRROR) for item in items)]


def _silhouette(items: Sequence[Item]) -> list[Item]:
    """The outer line around everything, in one heavier stroke."""
    areas = [
        Polygon([(p.x, p.y) for p in item.path.flattened(0.2)]).buffer(0.1)
        for item in items
        if isinstance(item, Area)
    ]
    whole = union_of(areas).buffer(-0.1)
    outer = [whole] if isinstance(whole, Polygon) else list(getattr(whole, "geoms", ()))
    return [
        Trace(polygon_path(one), LineRole.SILHOUETTE)
        for one in outer
        if isinstance(one, Polygon) and not one.is_empty
    ]


def _mirrored(polygon: Polygon) -> Polygon:
    return Polygon([(-x, y) for x, y in polygon.exterior.coords])


def _inset(points: list[Point], depth_mm: float) -> list[Point]:
    """The line at a depth to the left of an edge, which is inside an outline."""
    line = LineString([(p.x, p.y) for p in points]).offset_curve(depth_mm)
    coords = (
        line.coords
        if isinstance(line, LineString)
        else max(line.geoms, key=lambda part: float(part.length)).coords
    )
    inner = [Point(x, y) for x, y in coords]
    head = inner[0] + (inner[0] - inner[1]).unit * 40.0
    tail = inner[-1] + (inner[-1] - inner[-2]).unit * 40.0
    return [head, *inner, tail]


def _inside_of(path: Path, area: Polygon) -> list[Path]:
    line = LineString([(p.x, p.y) for p in path.flattened(0.3)]).intersection(area)
    strips = [line] if isinstance(line, LineString) else list(getattr(line, "geoms", ()))
    return [
        polyline(Point(x, y) for x, y in strip.coords)
        for strip in strips
        if isinstance(strip, LineString) and strip.length > 1.0
    ]


def _xy(vector: Vector) -> tuple[float, float]:
    return vector.x, vector.y
