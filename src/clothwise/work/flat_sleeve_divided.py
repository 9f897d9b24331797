"""A sleeve that is drawn as one, divided along the seams between its parts.

What is seen of a sleeve is half of its piece, from the fold over the arm to the seam under it. Each
place on that half has a place in the drawing: as far down, and at the same share of the way across;
above the underarm, as far from the line over the arm as it would be there.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import polygonize

from clothwise.geometry import Path, Point, polyline
from clothwise.pattern.graph import Layer, Seam
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece
from clothwise.work.flat_sleeve_whole import SplitSleeve
from clothwise.work.shape import tidied

STEP_MM = 8.0
"""Outlines are divided this finely before they are bent."""

FAR_MM = 1e4
"""Further than any piece reaches."""

BEYOND_MM = 40.0
"""A line between two parts goes on so far at its ends, to meet hem and armhole as they are drawn.
"""

LEAST_MM = 1.0
"""A shorter end of a line on this half is not seen."""

GAP_MM = 0.01
"""So far inside, the width of a piece is measured."""


@dataclass(frozen=True)
class Lines:
    """A sleeve as it is drawn.

    Attributes:
        over: from the shoulder over the arm to the hem.
        under: from the underarm to the hem.
    """

    over: Path
    under: Path


@dataclass(frozen=True)
class SeenHalf:
    """The half of a sleeve piece that is seen, and where each place on it is in the drawing.

    Attributes:
        piece: the whole sleeve.
        top: highest place of its cap.
        sign: 1 if the half to the right of that place is seen, -1 for the other.
        underarm_y, low_y: where the cap ends on that side, and where the piece does.
        lines: of the sleeve as it is drawn.
    """

    piece: Piece
    top: Point
    sign: float
    underarm_y: float
    low_y: float
    lines: Lines

    @staticmethod
    def of(
        pattern: Pattern, piece: Piece, cap: tuple[Seam, Layer], seen: Collection[str], lines: Lines
    ) -> SeenHalf:
        """The half that is sewn to those pieces around the armhole that are seen."""
        seam, layer = cap
        armhole = seam.layers[0].run
        at_mm, middles = 0.0, []
        for ref in armhole.edges:
            if ref.piece in seen:
                middles.append(at_mm + pattern.edge_length(ref) / 2)
            at_mm += pattern.edge_length(ref)
        share = sum(middles) / len(middles) / at_mm
        paths = [pattern.path(ref) for ref in layer.run.edges if ref.piece == piece.name]
        points = [point for path in paths for point in path.flattened()]
        top = max(points, key=lambda point: point.y)
        middle = pattern.spot(layer.run, share * pattern.run_length(layer.run)).point
        sign = 1.0 if middle.x > top.x else -1.0
        underarm = max(points, key=lambda point: sign * point.x)
        seen_part = piece.outline.polygon.intersection(_half_plane(top, sign))
        return SeenHalf(piece, top, sign, underarm.y, seen_part.bounds[1], lines)

    def divided(self, area: Polygon, sleeve: SplitSleeve) -> list[tuple[Piece, Polygon]]:
        """What of the area of the whole is of each part; parts that are not seen are left out."""
        seen = _half_plane(self.top, self.sign)
        cuts = [self._cut(line.intersection(seen)) for line in sleeve.lines]
        split = polygonize(shapely.union_all([area.boundary, *cuts]))
        bent = [self._drawn(part.outline.polygon.intersection(seen)) for part in sleeve.parts]
        of_part: dict[int, list[Polygon]] = {}
        for shape in split:
            if area.contains(shape.representative_point()):
                most = max(range(len(bent)), key=lambda n: _shared_mm2(bent[n], shape))
                of_part.setdefault(most, []).append(shape)
        return [
            (part, tidied(shapely.union_all(of_part[number])))
            for number, part in enumerate(sleeve.parts)
            if number in of_part
        ]

    def _cut(self, line: BaseGeometry) -> BaseGeometry:
        """A line between two parts as it is drawn, going on straight beyond its ends."""
        lines = [each for each in shapely.get_parts(line) if each.length > LEAST_MM]
        return shapely.union_all([_longer(self._drawn(each)) for each in lines])

    def _drawn(self, shape: BaseGeometry) -> BaseGeometry:
        fine = shapely.segmentize(shape, STEP_MM)
        bent = shapely.transform(fine, lambda xy: [self._place(x, y) for x, y in xy])
        return shapely.make_valid(bent)

    def _place(self, x: float, y: float) -> tuple[float, float]:
        over, under = self.lines.over, self.lines.under
        level = min(y, self.underarm_y)  # above it, as far from the line over the arm as there
        outer = _along(over, (self.top.y - level) / (self.top.y - self.low_y))
        inner = _along(under, (self.underarm_y - level) / max(self.underarm_y - self.low_y, 1e-9))
        wide = max(self._half_width(level + GAP_MM), GAP_MM)
        at = _along(over, (self.top.y - y) / (self.top.y - self.low_y))
        at += (inner - outer) * (self.sign * (x - self.top.x) / wide)
        return at.x, at.y

    def _half_width(self, y: float) -> float:
        level = LineString([(self.top.x, y), (self.top.x + self.sign * FAR_MM, y)])
        met = level.intersection(self.piece.outline.polygon)
        if met.is_empty:
            return 0.0
        left, _, right, _ = met.bounds
        return max(self.sign * (float(left) - self.top.x), self.sign * (float(right) - self.top.x))


def _along(path: Path, share: float) -> Point:
    return path.point_at(min(max(share, 0.0), 1.0) * path.length)


def _half_plane(top: Point, sign: float) -> Polygon:
    """What lies on one side of the fold over the arm."""
    far = top.x + sign * FAR_MM
    return box(min(top.x, far), -FAR_MM, max(top.x, far), FAR_MM)


def _longer(line: BaseGeometry) -> LineString:
    points = [Point(float(x), float(y)) for x, y in shapely.get_coordinates(line)]
    longer = polyline(points).extended(start_mm=BEYOND_MM, end_mm=BEYOND_MM)
    return LineString([(point.x, point.y) for point in longer.flattened()])


def _shared_mm2(one: BaseGeometry, other: BaseGeometry) -> float:
    return float(one.intersection(other).area)
