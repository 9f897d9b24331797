"""The cutting line: the stitching line moved outward by each edge's allowance.

What happens at a corner follows from the seam graph:

- a hem is turned up along its stitching line, so the allowance beyond it mirrors what lies above
  it (twice for a double turn): turned, it lies flat;
- where another seam or finish runs on across a seam, the seam is sewn and pressed first; the end
  of its folded-back allowance takes the shape of the cutting line it will lie on;
- a dart ends in a cap that, folded the way the dart is pressed, follows the cutting line;
- where a seam ends and its edge runs on as a hem (a slit), the cutting line steps at most;
- everywhere else the two cutting lines run on until they cross.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

from clothwise.geometry import (
    Line,
    NoIntersection,
    Path,
    Point,
    Segment,
    Transform,
    angle_between,
    crossings,
    line_crossing,
    offset_path,
    straight,
)
from clothwise.pattern.graph import Finish, FinishKind, Pressing, Seam
from clothwise.pattern.junctions import Corner, SeamCorners, end_corner, start_corner
from clothwise.pattern.pattern import Pattern, runs_of
from clothwise.pattern.piece import Dart, Piece, PressedToward

REACH_MM = 120.0
"""How far cutting lines are drawn on, straight, to find where they cross."""

STEP_MM = 1.0
"""Where an edge hardly turns and the cutting lines end nearer to each other, they meet between."""

RUNS_ON_RAD = math.radians(3)
"""Edges that turn by less run on as one line (G07, common practice)."""

MITRE_LIMIT = 3.0
"""A corner further away than this many allowances is cut off square; our own choice."""


MOST_KEPT = 1000
"""Cutting lines that are kept: those of some twenty garments, about 10 MB."""

CLOSED_MM = 2e-3
"""A line that ends this near to its start is closed there: a shorter stretch would be a rounding
error that may lead back."""


@dataclass(frozen=True)
class CuttingLine:
    """The closed line a piece is cut along; the first point is repeated at the end."""

    path: Path

    def points(self, tolerance_mm: float = 0.05) -> list[Point]:
        """Vertices of the flattened line, the first not repeated."""
        return self.path.flattened(tolerance_mm)[:-1]


def cutting_line(
    pattern: Pattern, piece_name: str, corners: SeamCorners | None = None
) -> CuttingLine:
    """The cutting line of a piece.

    Pass `corners` to save work when many pieces of one pattern are asked for.

    Raises:
        OffsetCollapsed: an edge curves more tightly than its allowance.
    """
    piece = pattern.piece(piece_name)
    rules = _rules(pattern, piece, corners or SeamCorners(pattern))
    key = (piece.name, tuple(rules.items()))
    if (kept := _kept.get(key)) is not None and kept[0] == piece:
        return kept[1]
    line = _drawn(piece, rules)
    _kept[key] = (piece, line)
    while len(_kept) > MOST_KEPT:
        del _kept[next(iter(_kept))]
    return line


@dataclass(frozen=True)
class _EdgeRules:
    """What the graph says about one edge.

    Attributes:
        allowance_mm: of it.
        hem_mm: how deep it is hemmed and turned under; None if it has no hem.
        folds_at_start, folds_at_end: whether another run crosses its seam there and finds it
            sewn and folded back.
    """

    allowance_mm: float
    hem_mm: tuple[float, float] | None
    folds_at_start: bool
    folds_at_end: bool


_Rules: TypeAlias = Mapping[str, _EdgeRules]

_kept: dict[tuple[str, tuple[tuple[str, _EdgeRules], ...]], tuple[Piece, CuttingLine]] = {}
# A cutting line follows from its piece and these rules alone, so most changes of a design leave
# most lines as they are; lines are also asked for several times, by checks, layouts and drawings.


def _drawn(piece: Piece, rules: _Rules) -> CuttingLine:
    edges = [name for name in piece.edge_names if not piece.dart_of_leg(name)]
    offsets = {name: _offset(piece, name, rules[name].allowance_mm) for name in edges}
    bends = [
        _corner(rules, piece, before, after, offsets)
        for before, after in zip(edges, edges[1:] + edges[:1], strict=True)
    ]
    segments: list[Segment] = []
    for number, name in enumerate(edges):
        start, end = bends[number - 1], bends[number]
        body = _between(offsets[name], start.leaves, end.arrives)
        _extend(segments, body)
        _extend(segments, [Line(a, b) for a, b in zip(end.points, end.points[1:], strict=False)])
    if segments[-1].end.is_close(segments[0].start, CLOSED_MM):
        segments[0] = _restarted(segments[0], segments[-1].end)
    else:
        segments.append(Line(segments[-1].end, segments[0].start))
    return CuttingLine(Path(tuple(segments)))


@dataclass(frozen=True)
class _Bend:
    """How the cutting line gets from one edge to the next.

    `points` are walked in order; the first lies on the cutting line of the edge before (or its
    straight continuation), the last on that of the edge after.
    """

    points: tuple[Point, ...]

    @property
    def arrives(self) -> Point:
        return self.points[0]

    @property
    def leaves(self) -> Point:
        return self.points[-1]


def _rules(pattern: Pattern, piece: Piece, corners: SeamCorners) -> dict[str, _EdgeRules]:
    """What the graph says about the edges of one piece."""
    crossed = _crossings(pattern, piece, corners)
    found = {}
    for edge in piece.edge_names:
        if piece.dart_of_leg(edge):
            continue
        starts, ends = Corner(piece.name, edge), Corner(piece.name, piece.edge_after(edge))
        found[edge] = _EdgeRules(
            pattern.allowance(piece.name, edge),
            _hem(pattern, piece, edge),
            _is_sewn_first(pattern, piece, edge, crossed.get(starts, set())),
            _is_sewn_first(pattern, piece, edge, crossed.get(ends, set())),
        )
    return found


def _crossings(pattern: Pattern, piece: Piece, corners: SeamCorners) -> dict[Corner, set[str]]:
    """For each corner of the piece, the seams that another run crosses there."""
    table: dict[Corner, set[str]] = {}
    for edge in piece.edge_names:
        for use in pattern.uses_of(piece.name, edge):
            for run in runs_of(use):
                for junction in corners.junctions(run, use.name):
                    for ref, corner in (
                        (junction.before, end_corner(pattern, junction.before)),
                        (junction.after, start_corner(pattern, junction.after)),
                    ):
                        if ref.piece == piece.name:
                            table.setdefault(corner, set()).update(junction.seams or ())
    return table


def _hem(pattern: Pattern, piece: Piece, edge: str) -> tuple[float, float] | None:
    for use in pattern.uses_of(piece.name, edge):
        if isinstance(use, Finish) and use.kind in (FinishKind.SINGLE_HEM, FinishKind.DOUBLE_HEM):
            return use.depth_mm, use.turn_mm
    return None


def _is_sewn_first(pattern: Pattern, piece: Piece, edge: str, crossed: set[str]) -> bool:
    """True if another run crosses the seam of an edge at a corner and finds it folded back."""
    for use in pattern.uses_of(piece.name, edge):
        if isinstance(use, Seam) and use.name in crossed:
            return _folds_back(use, piece, edge)
    return False


def _folds_back(seam: Seam, piece: Piece, edge: str) -> bool:
    if seam.pressing is Pressing.OPEN:
        return True
    number = {Pressing.TOWARD_FIRST: 0, Pressing.TOWARD_LAST: -1}.get(seam.pressing)
    if number is None:
        return False
    return any(
        ref.piece == piece.name and ref.edge == edge for ref in seam.layers[number].run.edges
    )


def _offset(piece: Piece, edge: str, allowance_mm: float) -> Path:
    return offset_path(piece.edge(edge), -allowance_mm)


def _corner(
    rules: _Rules, piece: Piece, before: str, after: str, offsets: dict[str, Path]
) -> _Bend:
    dart = _dart_between(piece, before)
    if dart:
        return _dart_cap(piece, dart, offsets[before], offsets[after])
    hem_before, hem_after = rules[before].hem_mm, rules[after].hem_mm
    if _runs_on(piece, before, after) and (hem_before is None) != (hem_after is None):
        ends = (offsets[before].end, offsets[after].start)
        return _Bend(ends[:1] if ends[0].is_close(ends[1], 1e-3) else ends)
    if hem_after is not None and hem_before is None:
        return _hem_corner(piece, before, after, offsets, hem_after)
    if hem_before is not None and hem_after is None:
        bend = _hem_corner(piece, after, before, offsets, hem_before)
        return _Bend(tuple(reversed(bend.points)))
    if rules[before].folds_at_end:
        return _folded_corner(piece, before, after, offsets, rules)
    if rules[after].folds_at_start:
        bend = _folded_corner(piece, after, before, offsets, rules)
        return _Bend(tuple(reversed(bend.points)))
    if piece.fold_edge in (before, after):
        return _at_fold(piece, before, after, offsets, rules)
    return _mitre(offsets[before], offsets[after], piece.edge(before).end, rules, before, after)


def _at_fold(
    piece: Piece, before: str, after: str, offsets: dict[str, Path], rules: _Rules
) -> _Bend:
    """The bend at an end of the fold: whatever its angle, nothing reaches beyond the fold.

    An edge that comes in at a slant would run out into a spike; it is cut off square to the fold.
    """
    is_before = piece.fold_edge == before
    fold = piece.edge(before) if is_before else piece.edge(after).reversed()
    edge = after if is_before else before
    cut = offsets[edge] if is_before else offsets[edge].reversed()
    corner, along = fold.end, fold.end_tangent
    heading = cut.start_tangent
    try:
        met = line_crossing(corner, along, cut.start, heading)
    except NoIntersection:
        return _Bend((corner, cut.start) if is_before else (cut.start, corner))
    limit = corner + along * (MITRE_LIMIT * rules[edge].allowance_mm)
    points: tuple[Point, ...] = (met,)
    if heading.dot(along) < 0 and (met - limit).dot(along) > 0:
        points = (limit, line_crossing(limit, along.left, cut.start, heading))
    return _Bend(points if is_before else tuple(reversed(points)))


def _runs_on(piece: Piece, before: str, after: str) -> bool:
    """Whether an edge runs on as another, as where a seam ends at a slit."""
    turn = angle_between(piece.edge(before).end_tangent, piece.edge(after).start_tangent)
    return abs(turn) < RUNS_ON_RAD


def _dart_between(piece: Piece, before: str) -> Dart | None:
    return piece.dart_of_leg(piece.edge_after(before))


def _mitre(
    before: Path, after: Path, corner: Point, rules: _Rules, first: str, second: str
) -> _Bend:
    widest = max(rules[first].allowance_mm, rules[second].allowance_mm)
    turn = angle_between(before.end_tangent, after.start_tangent)
    if before.end.is_close(after.start, 1e-3):
        return _Bend((before.end,))
    if abs(turn) < math.radians(2):
        if before.end.distance(after.start) < STEP_MM:
            return _Bend((before.end.toward(after.start, 0.5),))
        return _Bend((before.end, after.start))
    if turn < 0 and (met := crossings(before, after)):
        return _Bend((met[-1].point,))  # inward, however far from the corner
    point = _meeting(before, after)
    if point is None or point.distance(corner) > MITRE_LIMIT * max(widest, 1.0):
        return _Bend((before.end, after.start))
    return _Bend((point,))


def _meeting(before: Path, after: Path) -> Point | None:
    """Where two cutting lines cross, drawn on straight beyond the corner."""
    try:
        return line_crossing(before.end, before.end_tangent, after.start, after.start_tangent)
    except NoIntersection:
        return None


def _folded_corner(
    piece: Piece, sewn: str, across: str, offsets: dict[str, Path], rules: _Rules
) -> _Bend:
    """The bend from the edge sewn first to the edge of the run that crosses it.

    Where they lie so nearly along each other that it would run out into a spike, it is cut off.
    """
    at_end = piece.edge(sewn).end.is_close(_shared(piece, sewn, across), 1e-3)
    stitch = piece.edge(sewn) if at_end else piece.edge(sewn).reversed()
    sewn_cut = offsets[sewn] if at_end else offsets[sewn].reversed()
    across_cut = offsets[across] if at_end else offsets[across].reversed()
    corner, along = stitch.end, stitch.end_tangent
    mirror = Transform.mirror(corner, along)
    start, heading = across_cut.start, across_cut.start_tangent
    try:
        ridge = line_crossing(corner, along, start, heading)
        outer = line_crossing(
            sewn_cut.end, sewn_cut.end_tangent, mirror.point(start), mirror.vector(heading)
        )
    except NoIntersection:
        return _Bend((sewn_cut.end, across_cut.start))
    folded = across_cut.transformed(mirror)
    if _is_on_bend(across_cut, ridge) or _is_on_bend(folded, outer):
        # Where the allowance lies on a bent cutting line, that is followed as it is.
        there = across_cut.extended(start_mm=REACH_MM)
        met = (
            _first_met(straight(corner, corner + along * REACH_MM), there, start),
            _first_met(sewn_cut.extended(end_mm=REACH_MM), there.transformed(mirror), corner),
        )
        ridge, outer = met[0] or ridge, met[1] or outer
    limit = MITRE_LIMIT * max(rules[sewn].allowance_mm, rules[across].allowance_mm, 1.0)
    if max(ridge.distance(corner), outer.distance(corner)) > limit:
        return _Bend((sewn_cut.end, across_cut.start))
    return _Bend((outer, ridge))


def _is_on_bend(path: Path, point: Point) -> bool:
    """Whether a point on the line in which a path starts lies where the path bends away from it."""
    ahead = path.start_tangent.dot(point - path.start)
    first = path.segments[0]
    return ahead > 0 and not (isinstance(first, Line) and ahead <= first.length)


def _first_met(path: Path, other: Path, near: Point) -> Point | None:
    """Of the places where two paths cross, the one nearest to a point."""
    met = [crossing.point for crossing in crossings(path, other)]
    return min(met, key=near.distance, default=None)


def _shared(piece: Piece, first: str, second: str) -> Point:
    one, two = piece.edge(first), piece.edge(second)
    return one.end if one.end.is_close(two.start, 1e-3) else one.start


def _hem_corner(
    piece: Piece,
    side: str,
    hem: str,
    offsets: dict[str, Path],
    hem_mm: tuple[float, float],
) -> _Bend:
    """The bend from a side edge into a hem: the turned part mirrors what lies above the fold."""
    at_end = piece.edge(side).end.is_close(_shared(piece, side, hem), 1e-3)
    side_cut = offsets[side] if at_end else offsets[side].reversed()
    fold = piece.edge(hem) if at_end else piece.edge(hem).reversed()
    start, along = fold.start, fold.start_tangent
    down = offsets[hem].start - piece.edge(hem).start
    if not at_end:
        down = offsets[hem].end - piece.edge(hem).end
    outward = down.unit if down.length else along.left
    heading = side_cut.end_tangent
    point = line_crossing(side_cut.end, heading, start, along)
    points = [point]
    direction = Transform.mirror(start, along).vector(heading)
    direction = -direction
    level = 0.0
    for depth in hem_mm:
        if depth <= 0:
            continue
        level += depth
        base = start + outward * level
        corner = line_crossing(points[-1], direction, base, along)
        points.append(corner)
        direction = -Transform.mirror(base, along).vector(direction)
    return _Bend(tuple(points))


def _dart_cap(piece: Piece, dart: Dart, before: Path, after: Path) -> _Bend:
    """The cap of a dart: folded as it is pressed, it follows the cutting line."""
    apex = piece.apex(dart)
    mouth_in, mouth_out = piece.edge(dart.leg_in).start, piece.edge(dart.leg_out).end
    first = line_crossing(before.end, before.end_tangent, mouth_in, mouth_in - apex)
    last = line_crossing(after.start, after.start_tangent, mouth_out, mouth_out - apex)
    middle = (mouth_in - apex).unit + (mouth_out - apex).unit
    if dart.pressed is PressedToward.BEFORE:
        mirror, cut, end = Transform.mirror(apex, mouth_in - apex), before, before.end
        heading = before.end_tangent
    else:
        mirror, cut, end = Transform.mirror(apex, mouth_out - apex), after, after.start
        heading = after.start_tangent
    peak = line_crossing(mirror.point(end), mirror.vector(heading), apex, middle)
    ray = straight(apex, peak + middle.unit * REACH_MM)
    folded = cut.transformed(mirror).extended(start_mm=REACH_MM, end_mm=REACH_MM)
    met = [crossing.point for crossing in crossings(folded, ray)]
    return _Bend((first, min(met, key=peak.distance, default=peak), last))


def _between(offset: Path, start: Point, end: Point) -> list[Segment]:
    """The offset path cut, or drawn on straight, to begin at `start` and stop at `end`."""
    from_mm, head = _trim(offset, start, at_start=True)
    to_mm, tail = _trim(offset, end, at_start=False)
    segments: list[Segment] = []
    if head:
        segments.append(head)
    if to_mm - from_mm > 1e-6:
        segments.extend(offset.part(from_mm, to_mm).segments)
    if tail:
        segments.append(tail)
    if not segments:
        segments.append(Line(start, end))
    return segments


def _trim(offset: Path, point: Point, *, at_start: bool) -> tuple[float, Line | None]:
    end = offset.start if at_start else offset.end
    limit = 0.0 if at_start else offset.length
    if point.is_close(end, 1e-6):
        return limit, None
    tangent = offset.start_tangent if at_start else offset.end_tangent
    ahead = (point - end).dot(tangent)
    if (at_start and ahead < 0) or (not at_start and ahead > 0):
        return limit, Line(point, end) if at_start else Line(end, point)
    return offset.nearest(point), None


def _extend(segments: list[Segment], more: list[Segment]) -> None:
    """Append segments, bridging rounding errors and passing over empty ones."""
    for segment in more:
        if segment.start.is_close(segment.end, 1e-7):
            continue
        if segments and not segments[-1].end.is_close(segment.start, 1e-9):
            if not segments[-1].end.is_close(segment.start, 1e-3):
                segments.append(Line(segments[-1].end, segment.start))
            else:
                segment = _restarted(segment, segments[-1].end)
        segments.append(segment)


def _restarted(segment: Segment, start: Point) -> Segment:
    if isinstance(segment, Line):
        return Line(start, segment.end)
    return type(segment)(start, segment.control1, segment.control2, segment.end)
