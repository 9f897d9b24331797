"""Off-shoulder sleeves in a flat drawing: from the upper edge of a strapless top around the arm.

Half of each is seen: from where it is fastened out to the outside of the arm, and down to its hem.
Drawing habits, all our own choice.
"""

from __future__ import annotations

import math

from shapely.geometry import Polygon

from clothwise.geometry import Path, Point, Transform, cubic_between, join, polar, polyline
from clothwise.pattern.mark import BUTTON_LOOP, TIE, MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece
from clothwise.work.flat_garment import Garment, Half, is_for
from clothwise.work.flat_lines import inside_of
from clothwise.work.picture import Item, LineRole, Trace
from clothwise.work.shape import tidied
from clothwise.work.viewing import View
from clothwise.work.wearing import hems

FALL_RAD = math.radians(75)
"""Angle of the hanging sleeve below the level."""

ARM_RISE_MM = 14.0
"""The top is drawn so much higher outside than where the side seam ends."""

GATHERED = 1.5
"""What elastic draws in is taken to be cut so many times as long."""

SHOWN_SHARE = 0.5
"""Of a hem wider than the top, the share of the more that is seen."""

FOLD_STEP_MM, FOLD_MM = 11.0, 34.0
"""Folds under elastic are drawn this far apart, and about so long."""


def off_shoulder_items(of: Garment, half: Half, piece: Piece) -> list[Item]:
    """The visible half of the sleeve of one side; nothing for any other piece."""
    top_run = of.pattern.runs.get("top")
    if top_run is None or "top" not in piece.edge_names or not is_for(piece, half.side):
        return []
    held = _held_mm(piece, of.view)
    upper = sorted(
        (
            point
            for ref in top_run.edges
            for worn in half.torso
            if worn.name == ref.piece
            for point in worn.edge(ref.edge)
            if point.x > 0.0
        ),
        key=lambda point: point.x,
    )
    if held is None or len(upper) < 2:
        return []
    bodice = polyline(upper)
    start, side = bodice.point_at(max(bodice.length - held, 1.0)), bodice.end
    gathered = any(mark.name == "casing" for mark in piece.marks)
    over = (piece.edge("top").length - _flat_mm(piece)) / (GATHERED if gathered else 1.0)
    wide = over / 2
    outer = Point(start.x + 0.94 * wide, side.y + ARM_RISE_MM)
    lower, depth = _hem(of.pattern, piece)
    seen = wide + SHOWN_SHARE * max(lower.length / 2 - wide, 0.0)
    along, inward = polar(1.0, -FALL_RAD), polar(1.0, -FALL_RAD - math.pi / 2)
    high, low = piece.edge("top"), lower.point_at(lower.length / 2)
    long = high.point_at(high.length / 2).y - low.y
    hem_outer = outer + along * long
    hem_inner = hem_outer + inward * seen
    top = cubic_between(start, polar(1.0, -0.12), outer, polar(1.0, 0.12))
    down = cubic_between(outer, polar(1.0, -1.35), hem_outer, along)
    hem = cubic_between(hem_outer, inward.turned(-0.06), hem_inner, inward.turned(0.06))
    back = (start - hem_inner).unit
    crease = cubic_between(hem_inner, back.turned(-0.06), start, back.turned(0.06))
    ring = join(top, down, hem, crease).flattened(0.3)
    area = tidied(Polygon([(p.x, p.y) for p in ring]))
    items: list[Item] = [of.area(area, piece, half.side)]
    if depth:
        shift = Transform.shift(-along.x * depth, -along.y * depth)
        longer = hem.transformed(shift).extended(start_mm=30.0, end_mm=30.0)
        items += [
            Trace(part, LineRole.TOPSTITCHING, piece.name) for part in inside_of(longer, area)
        ]
    return [*items, *(_folds(top, area, piece) if gathered else ())]


def _held_mm(piece: Piece, view: View) -> float | None:
    """How far from the side seam the outermost fastening in front, or behind, lies."""
    line = piece.edge("top")  # from the seam at the back to the seam at the front
    places = [
        line.nearest(mark.at)
        for mark in piece.marks
        if mark.kind is MarkKind.DOT and mark.name in (BUTTON_LOOP, TIE) and mark.at
    ]
    half = line.length / 2
    if view is View.FRONT:
        return max((line.length - at for at in places if at > half), default=None)
    return max((at for at in places if at <= half), default=None)


def _flat_mm(piece: Piece) -> float:
    """What of the top lies under the arm, between the outermost fastenings."""
    return sum(_held_mm(piece, view) or 0.0 for view in View)


def _hem(pattern: Pattern, piece: Piece) -> tuple[Path, float]:
    """The lower edge, and how deep its hem is."""
    for finish, name, edge in hems(pattern):
        if name == piece.name:
            return piece.edge(edge), finish.depth_mm
    return piece.edge(piece.edge_names[0]), 0.0


def _folds(top: Path, area: Polygon, piece: Piece) -> list[Item]:
    """Folds that spring from the elastic."""
    lines = []
    count = int(top.length / FOLD_STEP_MM)
    for number in range(1, count):
        start = top.point_at(number * FOLD_STEP_MM)
        lean = -math.pi / 2 + 0.5 * (number / count - 0.3)
        long = FOLD_MM * (0.7 if number % 2 else 1.0)
        lines.append(polyline([start + polar(3.0, lean), start + polar(long, lean)]))
    return [
        Trace(part, LineRole.DRAPE, piece.name)
        for line in lines
        for part in inside_of(line, area.buffer(-1.0))
    ]
