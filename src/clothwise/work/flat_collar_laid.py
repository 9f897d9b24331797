"""Collars that lie on the garment: flat ones, ruffles, and those that go on where a lapel ends."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from shapely.geometry import Polygon

from clothwise.geometry import Point, Transform, Vector, polyline
from clothwise.pattern.piece import Piece, Side
from clothwise.work.fitting import best_move
from clothwise.work.flat_collar_rolled import LARGEST_STAND_MM, STAND_SHARE, back_of_collar
from clothwise.work.flat_collar_sewn import Held, held_places
from clothwise.work.flat_garment import Garment, Half
from clothwise.work.flat_lapel import Lapel, facing_of, lapel_of
from clothwise.work.flat_lines import mirrored_polygon
from clothwise.work.flat_neck import Neck
from clothwise.work.meeting import meetings
from clothwise.work.picture import Item, LineRole, Trace
from clothwise.work.settling import LooseCloth, Pin, settled
from clothwise.work.shape import fine_points, one_polygon, tidied, union_of
from clothwise.work.torso import Worn
from clothwise.work.torso_standing import side_of
from clothwise.work.viewing import View

FOLD_STEP_MM = 12.0
"""Folds of a ruffle are drawn this far apart."""

DIRECTION_MM = 30.0
"""A direction counts like a place this far away in it."""

WAVE_SHARE = 0.06
"""Height of the waves of a ruffle's edge over its depth; our own choice."""


def flat_collar(of: Garment, piece: Piece) -> list[Item]:
    """A collar that lies flat: its piece, brought to the neckline."""
    leaves = [(half, _leaf(half, piece, held_places(of, piece.name, half))) for half in of.halves]
    whole = piece.fold_edge is not None and of.view is View.BACK
    if whole and all(leaf is not None for _, leaf in leaves):
        both = [
            leaf if not half.is_mirrored else mirrored_polygon(leaf)
            for half, leaf in leaves
            if leaf is not None
        ]
        joined = union_of([each.buffer(0.6) for each in both]).buffer(-0.5)
        return [of.area(tidied(joined), piece, Side.CENTER)]
    order = {half.side: leaf for half, leaf in leaves}
    return [
        item
        for half in of.from_below
        if (leaf := order[half.side]) is not None
        for item in half.put([of.area(leaf, piece, half.side)])
    ]


def _leaf(half: Half, piece: Piece, held: Sequence[Held]) -> Polygon | None:
    """The part of a flat collar that lies on one half, in the view."""
    seen = [(place, worn) for place in held if (worn := half.worn(place.host)) is not None]
    if len(seen) < 2:
        return None
    area = _seen_part(piece, held, [place for place, _ in seen])
    targets = [(place.at, place.inward, *_on(worn, place)) for place, worn in seen]
    to = fitted(targets)
    ring = [to.point(p) for p in fine_points(polyline(_ring(area)))]
    cloth = LooseCloth(tidied(Polygon([(p.x, p.y) for p in ring])), lambda point: point)
    pins = [Pin(0, to.point(at), goal.x, goal.y) for at, _, goal, _ in targets]
    if piece.fold_edge is not None and held[-1] in (place for place, _ in seen):
        fold = fine_points(piece.edge(piece.fold_edge))
        pins += [Pin(0, to.point(point), x=0.0) for point in fold]
    (move,) = settled([cloth], [], pins)
    return tidied(Polygon([(q.x, q.y) for q in map(move, ring)]))


def _ring(area: Polygon) -> list[Point]:
    return [Point(x, y) for x, y in area.exterior.coords]


def _on(worn: Worn, place: Held) -> tuple[Point, Vector]:
    """Where a host's place is in the view, and the direction into its cloth there."""
    at = worn.through(place.host_at)
    return at, (worn.through(place.host_at + place.host_inward * 5.0) - at).unit


def _seen_part(piece: Piece, held: Sequence[Held], seen: Sequence[Held]) -> Polygon:
    """The part of a collar up to where its neckline leaves the view."""
    area = one_polygon(piece.outline.polygon)
    for end, inner in ((seen[0], seen[1]), (seen[-1], seen[-2])):
        if end in (held[0], held[-1]):
            continue
        area = side_of(area, end.at, end.inward, inner.at)
    return area


def fitted(targets: Sequence[tuple[Point, Vector, Point, Vector]]) -> Transform:
    """The move, perhaps mirroring, that brings places with directions best onto others."""
    points = [p for at, way, _, _ in targets for p in (at, at + way * DIRECTION_MM)]
    goals = [p for _, _, at, way in targets for p in (at, at + way * DIRECTION_MM)]
    return best_move(points, goals)


def ruffle(of: Garment, piece: Piece) -> list[Item]:
    """A gathered strip that falls from the neckline, its lower edge in waves."""
    _, low, _, high = piece.outline.polygon.bounds
    depth = high - low
    items: list[Item] = []
    for half in of.from_below:
        held = held_places(of, piece.name, half)
        seen = [(worn, place) for place in held if (worn := half.worn(place.host)) is not None]
        if len(seen) < 2:
            continue
        line = [_on(worn, place) for worn, place in seen]
        cloth = frill(of, half, piece, line, depth)
        items += half.put(cloth)
    return items


def frill(
    of: Garment, half: Half, piece: Piece, line: Sequence[tuple[Point, Vector]], depth_mm: float
) -> list[Item]:
    """A gathered strip along a line of places with directions, its free edge in waves."""
    outer = [
        at + way * (depth_mm * (1 + WAVE_SHARE * math.cos(number * math.pi / 3)))
        for number, (at, way) in enumerate(line)
    ]
    inner = [at for at, _ in line]
    area = tidied(Polygon([(p.x, p.y) for p in (*inner, *reversed(outer))]))
    cloth: list[Item] = [of.area(area, piece, half.side)]
    for number, (at, way) in enumerate(line[::3]):
        long = depth_mm * (0.75 if number % 2 else 0.4)
        fold = polyline([at + way * 2.0, at + way * long])
        cloth.append(Trace(fold, LineRole.DRAPE, piece.name))
    return cloth


def lapel_collar(of: Garment, piece: Piece, neck: Neck) -> list[Item]:
    """A collar that goes on from the lapels along their upper seams."""
    _, low, _, high = piece.outline.polygon.bounds
    width = piece.edge(piece.fold_edge).length if piece.fold_edge else high - low
    stand = min(STAND_SHARE * width, LARGEST_STAND_MM)
    if of.view is View.BACK:
        return back_of_collar(of, piece, neck, width, stand)
    items: list[Item] = [_inside(of, piece, neck, stand)]
    for half in of.from_below:
        for worn in half.torso:
            lapel = lapel_of(worn)
            area = _on_lapel(of, piece, lapel, neck, stand) if lapel else None
            if area is not None:
                items += half.put([of.area(area, piece, half.side)])
    return items


def _on_lapel(of: Garment, piece: Piece, lapel: Lapel, neck: Neck, stand: float) -> Polygon | None:
    """The front part of the collar beyond the gorge, on the outer side of the roll line."""
    facing = facing_of(of, lapel)
    targets = []
    for seam in of.pattern.seams.values():
        for place in meetings(of.pattern, seam):
            for m in (place, place.swapped):
                if m.piece == piece.name and m.other == facing and lapel.holds(m.other_at):
                    at = lapel.through(m.other_at)
                    way = at - lapel.through(m.other_at + m.other_inward * 5.0)
                    targets.append((m.at, m.inward, at, way.unit))
    if len(targets) < 2:
        return None
    to = fitted(targets)
    ring = [to.point(point) for point in piece.outline.flattened(0.3)]
    area = one_polygon(Polygon([(p.x, p.y) for p in ring]))
    start, end = (lapel.worn.move(point) for point in (lapel.start, lapel.end))
    along = (end - start).unit
    area = side_of(area, start, along, neck.shoulder[-1])
    top = neck.side + Vector(-2.0, 0.72 * stand)
    across = (neck.shoulder[-1] - neck.side).unit
    return tidied(side_of(area, top, across, start))


def _inside(of: Garment, piece: Piece, neck: Neck, stand: float) -> Item:
    """The inside of the collar behind the neck."""
    top = neck.side + Vector(-2.0, 0.72 * stand)
    ring = [
        neck.side + Vector(4.0, -4.0),
        top,
        Point(0.0, top.y - 0.1 * stand),
        Point(0.0, neck.side.y - 0.5 * stand),
    ]
    half = Polygon([(p.x, p.y) for p in ring])
    area = tidied(union_of((half.buffer(0.2), mirrored_polygon(half.buffer(0.2)))))
    return replace(of.area(area, piece, Side.CENTER), inside=True)
