"""Sleeves in a flat drawing: they hang from the armholes, half of each to be seen.

Width and length come from the pieces. What is gathered into the armhole rises above the line of
the shoulder; what is gathered into a cuff bags above it; a hem much wider than the upper arm falls
in folds, half of which are seen.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry import Polygon

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
)
from clothwise.pattern.graph import Run
from clothwise.pattern.piece import Piece
from clothwise.work.flat_collar_laid import frill
from clothwise.work.flat_garment import Garment, Half, is_for
from clothwise.work.flat_lines import inside_of
from clothwise.work.flat_sleeve_divided import Lines, SeenHalf
from clothwise.work.flat_sleeve_size import Cuff, SleeveSize, cap_seam, cuffs_of, sleeve_size
from clothwise.work.picture import Item, LineRole, Trace
from clothwise.work.shape import tidied
from clothwise.work.torso import Worn

SLEEVE_FALL_RAD = math.radians(50)
"""Angle of a hanging sleeve below the level."""

SLEEVE_HEAD = 0.35
"""How far the sleeve has turned from the line of the shoulder when it leaves the seam."""

PUFF_SHARE, LARGEST_PUFF_MM = 0.14, 34.0
"""How far a gathered cap rises, as a share of what is gathered."""

BAG_SHARE = 0.3
"""How far a sleeve bags above its cuff, as a share of the half width that is gathered."""

FOLD_STEP_MM = 13.0
"""Folds of gathers are drawn this far apart."""

FRILL_STEP_MM = 6.0
"""The free edge of a gathered strip is drawn through places this far apart."""

FLARED = 1.15
"""A hem cut wider than it is drawn by this factor falls in folds."""


def sleeve_items(of: Garment, half: Half, piece: Piece) -> list[Item]:
    """The visible half of the sleeve of one side."""
    size = sleeve_size(of.pattern, of.parts, piece, half.side)
    if size is None or not is_for(piece, half.side):
        return []
    armhole = armhole_of(half.torso, size.armhole)
    if armhole is None:
        return []
    if size.is_strip:
        return _frill(of, half, piece, armhole, size.length_mm)
    drawn = _Drawn.of(size, armhole, _slope_at(half.torso, armhole[-1]))
    edge = _lapped(armhole, size.lap_mm) if size.lap_mm else armhole
    ring = [*edge, *join(drawn.top, drawn.hem, drawn.under).flattened(0.3)]
    area = tidied(Polygon([(p.x, p.y) for p in ring]))
    items: list[Item] = [
        of.area(shape, part, half.side) for part, shape in _parts(of, half, piece, drawn, area)
    ]
    if size.hem_depth_mm:
        items += _hem_line(drawn, size.hem_depth_mm, area, piece)
    items += _folds(drawn, size, armhole, area, piece)
    for cuff in cuffs_of(of.pattern, of.parts, piece):
        items += _cuff(of, half, cuff, drawn)
    return items


def _parts(
    of: Garment,
    half: Half,
    piece: Piece,
    drawn: _Drawn,
    area: Polygon,
) -> list[tuple[Piece, Polygon]]:
    """The parts of a sleeve that was split, and what is seen of each; else the sleeve alone."""
    split = of.sleeve_parts.get(piece.name)
    if split is None:
        return [(piece, area)]
    lines = Lines(drawn.top, drawn.under.reversed())
    cap = cap_seam(of.pattern, of.parts, piece.name, half.side)
    seen = {worn.name for worn in half.torso}
    return SeenHalf.of(of.pattern, piece, cap, seen, lines).divided(area, split)


def _frill(
    of: Garment, half: Half, piece: Piece, armhole: Sequence[Point], depth_mm: float
) -> list[Item]:
    """A gathered strip around the armhole; it stands out less toward the underarm."""
    line = polyline(armhole)
    count = max(int(line.length / FRILL_STEP_MM), 6)
    places = []
    for number in range(count + 1):
        at_mm = number / count * line.length
        out = -line.tangent_at(at_mm).left
        way = (out + Vector(0.6, -0.5)).unit * min(1.0, 0.25 + 1.5 * number / count)
        places.append((line.point_at(at_mm), way))
    return frill(of, half, piece, places, depth_mm)


@dataclass(frozen=True)
class _Drawn:
    """The lines of a sleeve: over the arm, around its edge, back to the underarm."""

    top: Path
    hem: Path
    under: Path
    along: Vector

    @staticmethod
    def of(size: SleeveSize, armhole: Sequence[Point], slope: Vector) -> _Drawn:
        """The lines of a sleeve that hangs from an armhole, drawn from the underarm up."""
        tip, underarm = armhole[-1], armhole[0]
        along = polar(1.0, -SLEEVE_FALL_RAD)
        inward = polar(1.0, -SLEEVE_FALL_RAD - math.pi / 2)
        more = size.lower_half_mm - size.hem_half_mm
        bag = BAG_SHARE * more if size.is_hem_gathered else 0.0
        puff = min(PUFF_SHARE * size.gathered_mm, LARGEST_PUFF_MM)
        hem_outer = tip + along * size.length_mm + inward * -6.0
        hem_inner = hem_outer + inward * size.hem_half_mm
        head = slope.turned(SLEEVE_HEAD * angle_between(slope, along))
        if puff or bag:
            head = slope.turned(0.02 * puff)
            low = 0.45 if puff else 0.72
            peak = tip + along * (low * size.length_mm) + inward * (-6.0 - puff - bag)
            top = join(
                cubic_between(tip, head, peak, along.turned(0.05)),
                cubic_between(peak, along.turned(0.05), hem_outer, along.turned(-0.5)),
            )
        else:
            top = cubic_between(tip, head, hem_outer, along)
        hem = cubic_between(hem_outer, inward.turned(-0.06), hem_inner, inward.turned(0.06))
        back = (underarm - hem_inner).unit
        lean = 0.1 if not bag else -0.45
        under = cubic_between(hem_inner, back.turned(-lean), underarm, back.turned(lean))
        return _Drawn(top, hem, under, along)


def _lapped(armhole: Sequence[Point], lap_mm: float) -> list[Point]:
    """The edge of a sleeve that lies over the armhole, running into it under the arm."""
    low, high = armhole[0].y, armhole[-1].y
    found = []
    for point in armhole:
        share = min(max((point.y - low) / (0.6 * (high - low)), 0.0), 1.0)
        found.append(point - Vector(lap_mm * share, 0.0))
    return found


def _hem_line(drawn: _Drawn, depth_mm: float, area: Polygon, piece: Piece) -> list[Item]:
    step = -drawn.along * depth_mm
    inner = drawn.hem.transformed(Transform.shift(step.x, step.y))
    longer = inner.extended(start_mm=30.0, end_mm=30.0)
    return [Trace(part, LineRole.TOPSTITCHING, piece.name) for part in inside_of(longer, area)]


def _folds(
    drawn: _Drawn, size: SleeveSize, armhole: Sequence[Point], area: Polygon, piece: Piece
) -> list[Item]:
    """Folds that spring from a gathered cap or hem."""
    lines: list[tuple[Point, Vector]] = []
    if size.gathered_mm > 0:
        cap = polyline(armhole)
        count = int(0.45 * cap.length / FOLD_STEP_MM)
        for number in range(1, count):
            at = cap.length - number * FOLD_STEP_MM
            start = cap.point_at(at)
            away = (drawn.along + Vector(0.5, 0.15) * (1 - number / count)).unit
            lines.append((start + away * 3.0, away))
    if size.is_hem_gathered:
        count = int(drawn.hem.length / FOLD_STEP_MM)
        for number in range(1, count):
            start = drawn.hem.point_at(number * FOLD_STEP_MM)
            lines.append((start - drawn.along * 3.0, -drawn.along))
    elif size.lower_half_mm > FLARED * size.hem_half_mm:
        count = int(drawn.hem.length / (3 * FOLD_STEP_MM))
        for number in range(1, count):
            start = drawn.hem.point_at((number + 0.1) * 3 * FOLD_STEP_MM)
            lines.append((start, -drawn.along.turned(0.25 * (number / count - 0.5))))
    shares = (0.26, 0.12, 0.2, 0.08, 0.3, 0.14)
    found: list[Item] = []
    for number, (start, away) in enumerate(lines):
        end = start + away * max(shares[number % len(shares)] * size.length_mm, 8.0)
        found += [
            Trace(part, LineRole.DRAPE, piece.name)
            for part in inside_of(polyline([start, end]), area.buffer(-1.0))
        ]
    return found


def _cuff(of: Garment, half: Half, cuff: Cuff, drawn: _Drawn) -> list[Item]:
    """The half of a cuff that is seen below a sleeve."""
    step = drawn.along * cuff.depth_mm
    lower = drawn.hem.transformed(Transform.shift(step.x, step.y))
    ring = [*drawn.hem.flattened(0.3), *reversed(lower.flattened(0.3))]
    area = tidied(Polygon([(p.x, p.y) for p in ring]))
    return [of.area(area, of.pattern.piece(cuff.piece), half.side)]


def armhole_of(torso: Sequence[Worn], run: Run) -> list[Point] | None:
    """The armhole in this view, from the underarm up to the shoulder, over all its pieces."""
    points: list[Point] = []
    for ref in run.edges:
        for worn in torso:
            if worn.name == ref.piece and worn.has(ref.edge):
                line = worn.edge(ref.edge)
                points += reversed(line) if ref.reverse else line
    if len(points) < 2:
        return None
    return points if points[0].y < points[-1].y else points[::-1]


def _slope_at(torso: Sequence[Worn], tip: Point) -> Vector:
    """Direction of the shoulder at its outer end."""
    for worn in torso:
        for edge in worn.shape.edges:
            points = worn.edge(edge)
            if len(points) < 2:
                continue
            for end, before in ((points[0], points[1]), (points[-1], points[-2])):
                if end.is_close(tip, 1.0) and end.x > before.x + 1e-6 and end.y < before.y:
                    return (end - before).unit
    return polar(1.0, math.radians(-20))
