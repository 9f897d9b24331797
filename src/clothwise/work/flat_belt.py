"""A loose belt in a flat drawing, tied at the waist."""

from __future__ import annotations

import math
from collections.abc import Sequence

from shapely.geometry import LineString, Polygon, box

from clothwise.geometry import (
    Point,
    Vector,
    cubic_between,
    polar,
    polyline,
)
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.piece import Piece, Side
from clothwise.work.flat_garment import Garment, copy_for
from clothwise.work.flat_lines import MIRROR
from clothwise.work.flat_placed import is_cut_up
from clothwise.work.picture import Item
from clothwise.work.shape import tidied
from clothwise.work.torso import Worn
from clothwise.work.viewing import View

KNOT_WIDTHS = 1.15
"""Size of the knot of a tied belt, in belt widths."""
TAIL_SPREAD_RAD = math.radians(7)
"""How far the ends of a tied belt swing apart."""
TIE_LEFT_SHARE = 0.3
"""Of a tie that goes around the waist first, the share that hangs; our own choice."""

KNOT_MM = 140.0
"""Length of belt that the knot takes up at each end."""


def belt_items(of: Garment, piece: Piece) -> list[Item]:
    """A loose strip around the waist, tied in front."""
    left, bottom, right, top = piece.outline.polygon.bounds
    length = right - left
    is_folded = any(mark.kind is MarkKind.FOLD_LINE for mark in piece.marks)
    width = (top - bottom) / (2 if is_folded else 1)
    if length < 5 * width or is_cut_up(of, piece.name):
        return []
    half = of.halves[0]
    waist, behind = _waist(of, half.torso), _waist(of, half.behind)
    if not waist:
        return []
    middle = polyline([*(MIRROR.point(p) for p in reversed(waist[1:])), *waist])
    band = LineString([(p.x, p.y) for p in middle.flattened()]).buffer(width / 2, cap_style="flat")
    items: list[Item] = [
        of.area(tidied(part), piece, side) for part, side in _by_copy(of, piece, band)
    ]
    if of.view is View.BACK:
        return items
    around = 2 * sum(polyline(line).length for line in (waist, behind) if len(line) > 1)
    tail = max(length - around / 2 - KNOT_MM, 2 * width)
    sides = (of.halves[0].side, of.halves[1].side)
    return [*items, *tied(of, piece, Point(0.0, waist[0].y), width, tail, sides)]


def _by_copy(of: Garment, piece: Piece, band: Polygon) -> list[tuple[Polygon, Side]]:
    """A band as it is cut: in one, or parted at the center where left and right are copies."""
    right, left = of.halves
    if copy_for(piece, right.side) == copy_for(piece, left.side):
        return [(band, right.side)]
    low_x, low_y, high_x, high_y = band.bounds
    return [
        (band.intersection(box(low_x, low_y, 0.0, high_y)), left.side),
        (band.intersection(box(0.0, low_y, high_x, high_y)), right.side),
    ]


def tied_bands(of: Garment) -> list[Item]:
    """The ties of a band, knotted where the side that laps over ends."""
    if of.view is View.BACK:
        return []
    upper = of.from_below[1]
    items: list[Item] = []
    for worn in upper.torso:
        if worn.tie is not None:
            inside = worn.move(worn.tie.at)
            middle = Point(inside.x, inside.y + worn.tie.width_mm / 2)
            tail = worn.tie.length_mm * TIE_LEFT_SHARE
            knot = tied(of, worn.shape.piece, middle, worn.tie.width_mm, tail)
            items += upper.put(knot)
    return items


def tied(
    of: Garment,
    piece: Piece,
    knot: Point,
    width_mm: float,
    tail_mm: float,
    sides: tuple[Side, Side] | None = None,
) -> list[Item]:
    """A knot of a strip with its two ends hanging, not below the garment.

    Args:
        of: the garment.
        piece: the strip.
        knot: its middle.
        width_mm: of the strip.
        tail_mm: what hangs of each end, if there is room for it.
        sides: whose copies the end at the right and the end at the left are, the knot being of the
            first; if None, all of it is of the copy of the half at the right.
    """
    tail = min(tail_mm, 0.8 * _drop_below(of, knot.y))
    items: list[Item] = []
    sides = sides or (of.halves[0].side, of.halves[0].side)
    swings = (TAIL_SPREAD_RAD, -1.5 * TAIL_SPREAD_RAD)
    for swing, side in zip(swings, sides, strict=True):
        down = polar(1.0, -math.pi / 2 + swing)
        end = knot + down * tail
        across = down.left * (width_mm / 2)
        slim = down.left * (0.36 * width_mm)
        corners = [knot - slim, end - across, end + across, knot + slim]
        items.append(of.area(Polygon([(p.x, p.y) for p in corners]), piece, side))
    size = KNOT_WIDTHS * width_mm / 2
    corners = [
        knot + Vector(-0.8 * size, -size),
        knot + Vector(0.8 * size, -size),
        knot + Vector(0.95 * size, size),
        knot + Vector(-0.95 * size, size),
    ]
    round_mm = min(3.0, 0.3 * size)
    core = Polygon([(p.x, p.y) for p in corners]).buffer(-round_mm).buffer(round_mm)
    return [*items, of.area(tidied(core), piece, sides[0])]


def _waist(of: Garment, torso: Sequence[Worn]) -> list[Point]:
    """The run named `waist` on some pieces, from the center outward."""
    run = of.pattern.runs.get("waist")
    if run is None:
        return []
    points = [
        point
        for worn in torso
        for ref in run.edges
        if ref.piece == worn.name and worn.has(ref.edge)
        for point in worn.edge(ref.edge)
        if point.x > -1e-6
    ]
    if len(points) < 2:
        return []
    points.sort(key=lambda point: point.x)
    first, last = points[0], points[-1]
    bend = cubic_between(Point(0.0, first.y), Vector(1.0, 0.0), last, (last - first).unit)
    return bend.flattened(0.5)


def _drop_below(of: Garment, y: float) -> float:
    return y - min(float(worn.polygon.bounds[1]) for worn in of.halves[0].torso)
