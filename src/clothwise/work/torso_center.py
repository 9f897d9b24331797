"""What of a torso piece lies on the center line of the wearer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from clothwise.geometry import Point
from clothwise.pattern.graph import FinishKind, Sides
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.work.torso_standing import Standing, is_turned_in


def central_places(pattern: Pattern, stood: Standing) -> Iterator[tuple[Point, float]]:
    """Places of a piece, in the coordinates of its shape, and how far off the center line, mm.

    They are on its fold, its seam to the other side, the opening there, the line marked center
    front or back, the fold of a vent, and at points named so: all on the center line but the edges
    of an opening that is laced apart.
    """
    shape = stood.shape
    for edge in shape.piece.edge_names:
        if edge == shape.piece.fold_edge or _joins_the_sides(pattern, shape.piece.name, edge):
            points = [point for point in shape.edges.get(edge, ()) if stood.sees(point)]
            if len(points) > 1 and _is_central(stood, points):
                off = half_gap_mm(pattern, shape.piece.name, edge)
                yield from ((point, off) for point in points)
    for mark in shape.piece.marks:
        if mark.path is None or mark.kind not in (MarkKind.CENTER_LINE, MarkKind.FOLD_LINE):
            continue
        if mark.kind is MarkKind.FOLD_LINE and not is_turned_in(pattern, stood.shape, mark):
            continue
        points = [p for p in shape.moved_path(mark.path).flattened() if stood.sees(p)]
        if mark.kind is MarkKind.CENTER_LINE or (len(points) > 1 and _is_central(stood, points)):
            yield from ((point, 0.0) for point in points)
    for name, point in shape.piece.points.items():
        if name.startswith(("center front", "center back")) and stood.shows(point):
            yield shape.move(point), 0.0


def half_gap_mm(pattern: Pattern, piece: str, edge: str) -> float:
    """How far off the center line an edge lies that is laced to that of the other side."""
    for use in pattern.uses_of(piece, edge):
        finish = pattern.finishes.get(use.name)
        if finish:
            return finish.gap_mm / 2
    return 0.0


def _joins_the_sides(pattern: Pattern, piece: str, edge: str) -> bool:
    """True for an edge that is sewn or closed to the same edge of the other side."""
    opening = pattern.runs.get("opening")
    if opening and any((ref.piece, ref.edge) == (piece, edge) for ref in opening.edges):
        return True
    for use in pattern.uses_of(piece, edge):
        seam, finish = pattern.seams.get(use.name), pattern.finishes.get(use.name)
        if seam and seam.sides is Sides.CENTER and len({lay.run for lay in seam.layers}) == 1:
            return True
        if finish and finish.kind is FinishKind.CLOSURE:
            return True
    return False


def _is_central(stood: Standing, points: Sequence[Point]) -> bool:
    """True for an upright line on the side of the center."""
    line = [stood.to.point(point) for point in points]
    across, along = abs(line[-1].x - line[0].x), abs(line[-1].y - line[0].y)
    middle = stood.to.point(Point(stood.area.centroid.x, stood.area.centroid.y))
    return along > across and (line[0].x + line[-1].x) / 2 < middle.x
