"""A loose belt in a flat drawing, tied at the waist."""

from __future__ import annotations

import math

from shapely.geometry import LineString, Polygon

from clothwise.geometry import (
    Point,
    Vector,
    cubic_between,
    polar,
    polyline,
)
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.piece import Piece
from clothwise.work.flat_garment import Garment
from clothwise.work.flat_lines import MIRROR
from clothwise.work.picture import Item
from clothwise.work.shape import tidied
from clothwise.work.torso import worn_torso
from clothwise.work.wearing import View

KNOT_WIDTHS = 1.15
"""Size of the knot of a tied belt, in belt widths."""
TAIL_SPREAD_RAD = math.radians(7)
"""How far the ends of a tied belt swing apart."""
KNOT_MM = 140.0
"""Length of belt that the knot takes up at each end."""


def belt_items(of: Garment, piece: Piece) -> list[Item]:
    """A loose strip around the waist, tied in front."""
    left, bottom, right, top = piece.outline.polygon.bounds
    length = right - left
    is_folded = any(mark.kind is MarkKind.FOLD_LINE for mark in piece.marks)
    width = (top - bottom) / (2 if is_folded else 1)
    cut_up = any(mark.kind is MarkKind.PLACEMENT_LINE for mark in piece.marks)
    if length < 5 * width or cut_up:  # a strip that is cut up for loops is no belt
        return []
    waist = _waist(of)
    if not waist:
        return []
    middle = polyline([*(MIRROR.point(p) for p in reversed(waist[1:])), *waist])
    band = LineString([(p.x, p.y) for p in middle.flattened()]).buffer(width / 2, cap_style="flat")
    items: list[Item] = [of.area(tidied(band), piece, of.right_side)]
    if of.view is View.BACK:
        return items
    around = 2 * sum(
        polyline(line).length for line in (waist, _waist_of(of, View.BACK)) if len(line) > 1
    )
    tail = max(length - around / 2 - KNOT_MM, 2 * width)
    tail = min(tail, 0.8 * _drop_below(of, waist[0].y))
    knot = Point(0.0, waist[0].y)
    for swing in (TAIL_SPREAD_RAD, -1.5 * TAIL_SPREAD_RAD):
        down = polar(1.0, -math.pi / 2 + swing)
        end = knot + down * tail
        across = down.left * (width / 2)
        slim = down.left * (0.36 * width)
        corners = [knot - slim, end - across, end + across, knot + slim]
        ring = Polygon([(p.x, p.y) for p in corners])
        items.append(of.area(ring, piece, of.right_side))
    size = KNOT_WIDTHS * width / 2
    corners = [
        knot + Vector(-0.8 * size, -size),
        knot + Vector(0.8 * size, -size),
        knot + Vector(0.95 * size, size),
        knot + Vector(-0.95 * size, size),
    ]
    core = Polygon([(p.x, p.y) for p in corners]).buffer(-3.0).buffer(3.0)
    items.append(of.area(tidied(core), piece, of.right_side))
    return items


def _waist(of: Garment) -> list[Point]:
    return _waist_of(of, of.view)


def _waist_of(of: Garment, view: View) -> list[Point]:
    """The run named `waist` in a view, from the center outward."""
    run = of.pattern.runs.get("waist")
    if run is None:
        return []
    torso = of.torso if view is of.view else worn_torso(of.pattern, view)
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
            bend = cubic_between(Point(0.0, first.y), Vector(1.0, 0.0), last, (last - first).unit)
            return bend.flattened(0.5)
    return []


def _drop_below(of: Garment, y: float) -> float:
    return y - min(float(worn.polygon.bounds[1]) for worn in of.torso)
