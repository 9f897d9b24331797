"""The lines of a piece, told apart: what is cut, what lies on the fold, what is sewn or turned."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

import shapely

from clothwise.geometry import Line, Path, Point, Segment, Vector
from clothwise.pattern import (
    CuttingLine,
    Dart,
    Finish,
    FinishKind,
    Notch,
    NotchKind,
    Pattern,
    Piece,
    SeamCorners,
    cutting_line,
    notches,
)

ON_FOLD_MM = 0.02
"""A segment this near to the fold lies on it."""

PAIR_APART_MM = 5.0
"""Distance between the two triangles of a double notch."""


class EdgeKind(Enum):
    """What the line of an edge is for the person who sews."""

    SEWN = "sewn"
    TURNED = "turned"
    CUT = "cut"
    FOLD = "fold"
    DART_LEG = "dart leg"


@dataclass(frozen=True)
class NotchMark:
    """One triangle of a notch: its base is on the cutting line, its point shows inward."""

    on_cut: Point
    inward: Vector
    on_stitching: Point


@dataclass(frozen=True)
class DartLines:
    """A dart: its legs and its middle, each from the cutting line to the apex."""

    name: str
    legs: tuple[Path, Path]
    middle: Path
    apex: Point


@dataclass(frozen=True)
class PieceLines:
    """Everything of a piece that follows from its outline and the seam graph."""

    piece: Piece
    outline: CuttingLine
    cut: tuple[Path, ...]
    fold: Path | None
    edges: tuple[tuple[str, EdgeKind, Path], ...]
    darts: tuple[DartLines, ...]
    notches: tuple[NotchMark, ...]

    def edges_of(self, kind: EdgeKind) -> tuple[Path, ...]:
        """The edges of one kind, in order of travel."""
        return tuple(path for _, its_kind, path in self.edges if its_kind is kind)


def piece_lines(
    pattern: Pattern, piece_name: str, corners: SeamCorners | None = None
) -> PieceLines:
    """The lines of a piece. Pass `corners` when many pieces of one pattern are asked for.

    Raises:
        OffsetCollapsed: an edge curves more tightly than its allowance.
    """
    piece = pattern.piece(piece_name)
    outline = cutting_line(pattern, piece_name, corners)
    cut, fold = _parted(piece, outline.path)
    edges = tuple(
        (name, _kind(pattern, piece, name), piece.edge(name)) for name in piece.edge_names
    )
    ring = shapely.LinearRing([(p.x, p.y) for p in outline.points()])
    return PieceLines(
        piece,
        outline,
        cut,
        fold,
        edges,
        tuple(_dart(piece, dart, outline.path) for dart in piece.darts),
        tuple(mark for notch in notches(pattern, piece_name) for mark in _triangles(notch, ring)),
    )


def _kind(pattern: Pattern, piece: Piece, edge: str) -> EdgeKind:
    if piece.dart_of_leg(edge):
        return EdgeKind.DART_LEG
    if edge == piece.fold_edge:
        return EdgeKind.FOLD
    if pattern.allowance(piece.name, edge) <= 0:
        return EdgeKind.CUT
    hems = (FinishKind.SINGLE_HEM, FinishKind.DOUBLE_HEM)
    for use in pattern.uses_of(piece.name, edge):
        if isinstance(use, Finish) and use.kind in hems:
            return EdgeKind.TURNED
    return EdgeKind.SEWN


def _parted(piece: Piece, cut: Path) -> tuple[tuple[Path, ...], Path | None]:
    """The cutting line without, and the part of it on, the fold."""
    if piece.fold_edge is None:
        return (cut,), None
    fold = piece.edge(piece.fold_edge)
    along = (fold.end - fold.start).unit

    def is_on_fold(segment: Segment) -> bool:
        ends = (segment.start, segment.end)
        return isinstance(segment, Line) and all(
            abs((end - fold.start).cross(along)) < ON_FOLD_MM for end in ends
        )

    runs: list[list[Segment]] = []
    on_fold: list[Segment] = []
    open_run = False
    for segment in cut.segments:
        if is_on_fold(segment):
            on_fold.append(segment)
            open_run = False
        elif open_run:
            runs[-1].append(segment)
        else:
            runs.append([segment])
            open_run = True
    if len(runs) > 1 and not is_on_fold(cut.segments[0]) and open_run:
        runs[0] = runs.pop() + runs[0]  # the line starts in the middle of a run
    if not on_fold:
        return tuple(Path(tuple(run)) for run in runs), None
    spots = [point for segment in on_fold for point in (segment.start, segment.end)]
    first = min(spots, key=lambda point: (point - fold.start).dot(along))
    last = max(spots, key=lambda point: (point - fold.start).dot(along))
    return tuple(Path(tuple(run)) for run in runs), Path((Line(first, last),))


def _dart(piece: Piece, dart: Dart, cut: Path) -> DartLines:
    """Legs and middle drawn on beyond the mouth to the corners of the dart's cap."""
    apex = piece.apex(dart)
    first, last = piece.edge(dart.leg_in), piece.edge(dart.leg_out).reversed()
    corners = [segment.end for segment in cut.segments]
    legs = tuple(_drawn_on(leg, apex, corners) for leg in (first, last))
    heading = (first.start - apex).unit + (last.start - apex).unit
    peak = _furthest_along(apex, heading, corners)
    middle = Path((Line(peak or first.start.toward(last.start, 0.5), apex),))
    return DartLines(dart.name, (legs[0], legs[1]), middle, apex)


def _drawn_on(leg: Path, apex: Point, corners: list[Point]) -> Path:
    """The leg from the corner of the cutting line that lies on its continuation."""
    corner = _furthest_along(apex, leg.start - apex, corners)
    if corner is None or corner.is_close(leg.start, 1e-3):
        return leg
    return Path((Line(corner, leg.start), *leg.segments))


def _furthest_along(apex: Point, heading: Vector, corners: list[Point]) -> Point | None:
    """The corner that lies straight in a direction from the apex, if one does."""
    unit = heading.unit
    on_line = [
        corner
        for corner in corners
        if abs((corner - apex).cross(unit)) < 0.05 and (corner - apex).dot(unit) > 0
    ]
    return min(on_line, key=lambda corner: (corner - apex).length, default=None)


def _triangles(notch: Notch, ring: shapely.LinearRing) -> list[NotchMark]:
    """The triangles of a notch, where the lines across the allowance meet the cutting line."""
    double = notch.kind is NotchKind.DOUBLE
    shifts = (-PAIR_APART_MM / 2, PAIR_APART_MM / 2) if double else (0.0,)
    marks = []
    for shift in shifts:
        inner = notch.at + notch.outward.left * shift
        on_cut = _hit(inner, notch.outward, ring)
        marks.append(NotchMark(on_cut, -notch.outward, inner))
    return marks


def _hit(start: Point, heading: Vector, ring: shapely.LinearRing) -> Point:
    """Where a line from the stitching line first meets the cutting line; the start if nowhere."""
    near, far = start - heading * 2.0, start + heading * 150.0
    met = shapely.LineString([(near.x, near.y), (far.x, far.y)]).intersection(ring)
    spots = [Point(float(x), float(y)) for x, y in shapely.get_coordinates(met)]
    return min(spots, key=start.distance, default=start)
