"""A piece as it is seen in a picture: closed darts taken out, its outline smooth again.

A sewn dart makes the cloth bulge, so no flat shape is exact. Here everything on one side of the
dart is moved over by what the dart takes in at that height, fading out beyond its point: the
sewn edges keep their places relative to each other and no corner appears. For pictures only.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

import shapely
from shapely.geometry import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.validation import make_valid

from clothwise.geometry import Path, Point, Vector, polyline
from clothwise.pattern.graph import Run
from clothwise.pattern.piece import Dart, Piece
from clothwise.work.folded_band import within
from clothwise.work.two_sided import middle_x

PICTURE_TOLERANCE_MM = 0.3
"""How far a drawn polyline may stray from its curve: below a tenth of a mm at the scale of print.
"""

_STEP_MM = 12.0  # straight lines are divided this finely before they are bent
_BLEND_MM = 60.0  # from the legs outward, how far the straight shift turns into the soft one
_SLIVER_MM = 0.05  # half the width of what is thrown away
_BEYOND = 0.5  # the soft shift begins this share of the dart's length beyond its point

Move: TypeAlias = Callable[[Point], Point]
"""A bending of the plane."""


@dataclass(frozen=True)
class Shape:
    """A piece with some of its darts closed.

    `edges` are the edges that are left, as points in order of travel; `darts` are lines from the
    mouth to the point of each closed dart. `move` brings any point of the piece to its place.
    `half` is the half plane that is seen of a band that is folded.
    """

    piece: Piece
    edges: Mapping[str, tuple[Point, ...]]
    darts: tuple[tuple[Point, Point], ...]
    move: Move
    half: Polygon | None = None

    @property
    def polygon(self) -> Polygon:
        """The area inside the stitching line."""
        return one_polygon(Polygon([(p.x, p.y) for points in self.edges.values() for p in points]))

    def run(self, run: Run) -> list[Point]:
        """The points of those edges of a run that lie on this piece, in order of the run."""
        found: list[Point] = []
        for ref in run.edges:
            if ref.piece == self.piece.name and ref.edge in self.edges:
                points = self.edges[ref.edge]
                found.extend(reversed(points) if ref.reverse else points)
        return found

    def moved_path(self, path: Path) -> Path:
        """A line on the piece, in its place."""
        return polyline(self.move(point) for point in fine_points(path))


def shape_of(
    piece: Piece, closed: Collection[Dart] | None = None, half: Polygon | None = None
) -> Shape:
    """A piece with its darts closed: all of them, or the ones given; folded to a half plane."""
    darts = [dart for dart in piece.darts if closed is None or dart in closed]
    move = closing(piece, darts)
    legs = {leg for dart in darts for leg in (dart.leg_in, dart.leg_out)}
    edges = {
        name: tuple(move(point) for point in fine_points(path))
        for name, path in piece.outline.edges.items()
        if name not in legs
    }
    lines = tuple((move(piece.edge(dart.leg_in).start), move(piece.apex(dart))) for dart in darts)
    if half is not None:
        seen = {name: within(half, points) for name, points in edges.items()}
        edges = {name: points for name, points in seen.items() if points}
    return Shape(piece, edges, lines, move, half)


def fine_points(path: Path) -> list[Point]:
    """Points close enough together that the path may be bent."""
    flat = path.flattened(PICTURE_TOLERANCE_MM)
    points = [flat[0]]
    for start, end in pairwise(flat):
        parts = max(1, math.ceil(start.distance(end) / _STEP_MM))
        points.extend(start.toward(end, part / parts) for part in range(1, parts + 1))
    return points


def closing(piece: Piece, darts: Iterable[Dart]) -> Move:
    """The bending that closes these darts, one after the other.

    Those that open toward the side come first: closing an upright one bends their legs.
    """
    move: Move = _stay
    for dart in sorted(darts, key=lambda dart: _is_upright(_axis(piece, dart, _stay))):
        move = _then(move, _close(piece, dart, move))
    return move


def _stay(point: Point) -> Point:
    return point


def _then(first: Move, second: Move) -> Move:
    return lambda point: second(first(point))


@dataclass(frozen=True)
class _Closing:
    """Closes one dart: `along` leads from its point to its mouth, `over` to the side that moves.

    `fades_mm` is the distance over which the move dies away; None if the far edge moves as well.
    """

    apex: Point
    along: Vector
    over: Vector
    length_mm: float
    spread: float
    fades_mm: float | None

    def __call__(self, point: Point) -> Point:
        step = point - self.apex
        down, out = step.dot(self.along), step.dot(self.over)
        half = max(down, 0.0) * self.spread
        if out < -half or (out < half and down <= 0):
            return point
        if out < half:
            return self.apex + self.along * down - self.over * half
        beyond = out - half
        near = 2 * half
        far = 2 * self.spread * self.length_mm * self._soft(down)
        blend = min(beyond / _BLEND_MM, 1.0)
        shift = near + (far - near) * blend
        if self.fades_mm is not None:
            shift = near * max(0.0, 1.0 - beyond / self.fades_mm)
        return point - self.over * shift

    def _soft(self, down: float) -> float:
        """Share of the move far from the legs: nothing well beyond the point, all at the mouth."""
        share = (down / self.length_mm + _BEYOND) / (1 + _BEYOND)
        share = max(share, 0.0)
        return share * share


def _axis(piece: Piece, dart: Dart, before: Move) -> Vector:
    """From the point of a dart to the middle of its mouth."""
    mouth_in = before(piece.edge(dart.leg_in).start)
    mouth_out = before(piece.edge(dart.leg_out).end)
    return mouth_in.toward(mouth_out, 0.5) - before(piece.apex(dart))


def _is_upright(axis: Vector) -> bool:
    return abs(axis.y) >= abs(axis.x)


def _close(piece: Piece, dart: Dart, before: Move) -> _Closing:
    apex, axis = before(piece.apex(dart)), _axis(piece, dart, before)
    mouth_in = before(piece.edge(dart.leg_in).start)
    mouth_out = before(piece.edge(dart.leg_out).end)
    along, length = axis.unit, axis.length
    over, fades = along.left, None
    if _is_upright(axis):
        if over.x * (center_x(piece) - apex.x) > 0:
            over = -over
    else:
        over = over if over.y > 0 else -over
        outline = [before(point) for point in piece.outline.flattened(1.0)]
        fades = max((point - apex).dot(over) for point in outline)
    spread = mouth_in.distance(mouth_out) / 2 / length
    return _Closing(apex, along, over, length, spread, fades)


def center_x(piece: Piece) -> float:
    """Where the center of the wearer lies on a piece that is drafted upright, as x."""
    if piece.fold_edge is not None:
        return piece.edge(piece.fold_edge).start.x
    middle = middle_x(piece)
    if middle is not None:
        return middle
    for name, point in piece.points.items():
        if name.startswith("center"):
            return point.x
    return float(piece.outline.polygon.bounds[0])


def one_polygon(geometry: BaseGeometry) -> Polygon:
    """The largest polygon of what an operation left over, made valid."""
    valid = geometry if geometry.is_valid else make_valid(geometry)
    if isinstance(valid, Polygon):
        return valid
    polygons = [part for part in getattr(valid, "geoms", ()) if isinstance(part, Polygon)]
    polygons += [
        inner
        for part in getattr(valid, "geoms", ())
        if isinstance(part, MultiPolygon)
        for inner in part.geoms
    ]
    return max(polygons, key=lambda part: float(part.area), default=Polygon())


def outside_strip(points: list[Point], width_mm: float, beyond_mm: tuple[float, float]) -> Polygon:
    """What lies to the right of a line, up to a distance, the line drawn on beyond its ends.

    To the right of an edge lies its allowance, for outlines run anticlockwise.
    """
    first, last = points[0], points[-1]
    head = first + (first - points[1]).unit * beyond_mm[0]
    tail = last + (last - points[-2]).unit * beyond_mm[1]
    line = LineString([(p.x, p.y) for p in (head, *points, tail)])
    return line.buffer(-width_mm, single_sided=True)


def polygon_path(polygon: Polygon) -> Path:
    """The outer ring of a polygon as a closed path, on a grid of a thousandth of a mm."""
    on_grid = one_polygon(shapely.set_precision(polygon, 1e-3))
    return polyline(Point(x, y) for x, y in on_grid.exterior.coords)


def union_of(polygons: Iterable[Polygon]) -> BaseGeometry:
    """Everything that some polygons cover, on a grid of a thousandth of a mm."""
    valid = [each if each.is_valid else shapely.make_valid(each) for each in polygons]
    return shapely.union_all(valid, grid_size=1e-3)


def tidied(geometry: BaseGeometry) -> Polygon:
    """The largest polygon without spikes, slits and slivers that no pen could draw.

    Corners stay sharp.
    """
    valid = geometry if geometry.is_valid else make_valid(geometry)
    for step in (-_SLIVER_MM, 2 * _SLIVER_MM, -_SLIVER_MM):
        valid = valid.buffer(step, join_style="mitre", mitre_limit=8.0)
    return one_polygon(valid)
