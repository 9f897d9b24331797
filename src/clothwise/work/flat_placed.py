"""What lies on a garment drawn flat: pockets and their flaps, buttons, loops for a belt."""

from __future__ import annotations

from collections.abc import Iterator

from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Place

from clothwise.geometry import Point, polyline
from clothwise.pattern.graph import Placement
from clothwise.pattern.mark import SHOW_BUTTON, Mark, MarkKind
from clothwise.work.fitting import best_move
from clothwise.work.flat_garment import Garment, Half, is_for
from clothwise.work.flat_lines import inset, inside_of
from clothwise.work.picture import Button, Item, LineRole, Trace
from clothwise.work.shape import Move, shape_of, tidied
from clothwise.work.torso import Worn
from clothwise.work.wearing import Part, hems

TOPSTITCHED_MM = 4.0
"""How far inside a placed edge its stitching is drawn."""

SAME_PLACE_MM = 16.0
"""A button nearer than this to a buttonhole is seen in it."""

LOOP = "belt loop"
"""The name of the dots at the ends of a loop."""

LOOP_REACH_MM = 160.0
"""Dots further apart belong to different loops."""

LOOP_SHARE = 0.08
"""Width of a belt loop over its length, where the strip it is cut from does not say."""


def placed(of: Garment) -> list[Item]:
    """Every piece that is laid onto another one seen in this view."""
    return [
        item
        for placement in of.pattern.placements.values()
        for half in of.halves
        for worn in half.torso
        if worn.name == placement.host
        and half.has(placement.sides)
        and is_for(of.pattern.piece(placement.piece), half.side)
        for item in half.put(_placed_on(of, half, worn, placement))
    ]


def _placed_on(of: Garment, half: Half, worn: Worn, placement: Placement) -> list[Item]:
    piece = of.pattern.laid_piece(placement)

    shape = shape_of(piece)
    corners = [point for points in shape.edges.values() for point in points]
    goals = [worn.through(placement.onto.point(point)) for point in corners]
    through = best_move(corners, goals).point  # it keeps its shape where its host is gathered
    ring = [through(point) for point in corners]
    area = tidied(Polygon([(p.x, p.y) for p in ring]))
    inner = [(shape.run(of.pattern.laid_run(placement)), TOPSTITCHED_MM)]
    inner += [
        (list(points), _hem_depth(of, piece.name, edge)) for edge, points in shape.edges.items()
    ]
    found: list[Item] = [of.area(area, piece, half.side)]
    for points, depth in inner:
        if depth and len(points) > 1:
            found += [
                Trace(polyline(map(through, path.flattened())), LineRole.TOPSTITCHING)
                for path in inside_of(polyline(inset(points, depth)), shape.polygon)
            ]
    found += [
        Trace(polyline([through(p) for p in mark.path.flattened()]), LineRole.EDGE, piece.name)
        for mark in of.pattern.piece(placement.piece).marks
        if mark.kind is MarkKind.FOLD_LINE
        and mark.path is not None
        and placement.shape is None
        and _is_outer_fold(mark)
    ]
    return [*found, *_closing(of, placement, through)]


def _is_outer_fold(mark: Mark) -> bool:
    return "inner" not in mark.name


def _closing(of: Garment, placement: Placement, through: Move) -> list[Item]:
    """The buttons seen in the buttonholes of a placed piece: in its flap."""
    piece = of.pattern.piece(placement.piece)
    holes = [mark for mark in piece.marks if mark.kind is MarkKind.BUTTONHOLE and mark.middle]
    sizes = {
        mark.name: mark.size_mm
        for other in of.pattern.pieces.values()
        for mark in other.marks
        if mark.kind is MarkKind.BUTTON
    }
    return [
        Button(through(mark.middle), sizes[mark.name])
        for mark in holes
        if mark.middle and mark.name in sizes
    ]


def _hem_depth(of: Garment, piece: str, edge: str) -> float:
    return next(
        (f.depth_mm for f, name, its in hems(of.pattern) if (name, its) == (piece, edge)),
        0.0,
    )


def buttons(of: Garment) -> list[Item]:
    """The buttons on the torso that are seen: not those on the inside of the side that laps over.

    A button of the side below is seen where the side above has a buttonhole for it, or leaves it
    bare.
    """
    below, above = of.from_below
    over = [worn.polygon for worn in above.torso]
    holes = [at for at, _ in _marked(above, MarkKind.BUTTONHOLE)]
    inner = list(_marked(below, MarkKind.BUTTONHOLE))
    names = {mark.name for _, mark in inner}
    found: list[Item] = []
    for at, mark in _marked(below, MarkKind.BUTTON):
        crossed = Point(-at.x, at.y)
        is_covered = any(area.contains(Place(crossed.x, crossed.y)) for area in over)
        if not is_covered or any(hole.is_close(crossed, SAME_PLACE_MM) for hole in holes):
            found += below.put([_button(at, mark)])
    for at, mark in _marked(above, MarkKind.BUTTON):
        if mark.only_side and mark.name in names and mark.name != SHOW_BUTTON:
            continue  # it closes from inside
        crossed = Point(-at.x, at.y)
        if any(m.name == mark.name and hole.is_close(crossed, SAME_PLACE_MM) for hole, m in inner):
            continue  # so does this one, at the side
        if mark.only_side or abs(at.x) >= 1.0:
            found += above.put([_button(at, mark)])
    return found


def _marked(half: Half, kind: MarkKind) -> Iterator[tuple[Point, Mark]]:
    """Marks of one side, where they are on it."""
    for worn in half.torso:
        for mark in worn.shape.piece.marks:
            middle = mark.middle
            if mark.kind is kind and middle and mark.only_side in ("", half.side.value):
                yield worn.through(middle), mark


def _button(at: Point, mark: Mark) -> Button:
    return Button(Point(0.0, at.y) if abs(at.x) < 1.0 else at, mark.size_mm)


def belt_loops(of: Garment) -> list[Item]:
    """Loops, each between a dot above and one below, cut from a strip that is cut up."""
    strips = [of.pattern.piece(name) for name in of.named(Part.LOOSE) if is_cut_up(of, name)]
    found: list[Item] = []
    for half in of.halves:
        for upper, lower in _loop_ends(half):
            width = LOOP_SHARE * upper.distance(lower)
            if strips:
                _, low, _, high = strips[0].outline.polygon.bounds
                width = (high - low) / 2
            band = LineString([(p.x, p.y) for p in (upper, lower)])
            owner = strips[0] if strips else half.torso[0].shape.piece
            is_center = abs(upper.x) < 1.0
            if not (is_center and half is of.halves[1]):
                area = band.buffer(width / 2, cap_style="flat")
                found += half.put([of.area(area, owner, half.side)])
    return found


def is_cut_up(of: Garment, name: str) -> bool:
    """True for a strip with lines along which it is cut."""
    marks = of.pattern.piece(name).marks
    return any(mark.kind is MarkKind.PLACEMENT_LINE for mark in marks)


def _loop_ends(half: Half) -> Iterator[tuple[Point, Point]]:
    dots = [at for at, mark in _marked(half, MarkKind.DOT) if mark.name == LOOP]
    while dots:
        upper = max(dots, key=lambda at: at.y)
        dots.remove(upper)
        below = [at for at in dots if abs(at.x - upper.x) < LOOP_REACH_MM / 4]
        if below:
            lower = min(below, key=upper.distance)
            if upper.distance(lower) < LOOP_REACH_MM:
                dots.remove(lower)
                yield upper, lower
