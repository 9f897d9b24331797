"""Bands that are folded lengthwise and closed at their ends: only their outer half is seen."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Place

from clothwise.geometry import Point, Transform
from clothwise.pattern.graph import Finish, FinishKind, Run, Seam
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.pattern import Pattern, runs_of

FAR_MM = 5000.0
"""Further than any band reaches."""

ON_FOLD_MM = 1.0
"""What lies no further beyond the fold is on it; rounding."""


def outer_half(pattern: Pattern, piece: str, done: Collection[str]) -> Polygon | None:
    """The half plane of the outer side of a band that is folded; None while it is not, or is none.

    Folded is what has a fold line and is sewn to something else on one side of it, once its ends
    are sewn, or taken in by a zip.
    """
    fold = _fold(pattern, piece)
    if fold is None or not _ends_are_closed(pattern, piece, fold, done):
        return None
    along = (fold[1] - fold[0]).unit
    on_left = _on_left(pattern, piece, fold, done)
    if on_left is None:
        return None
    side = along.left if on_left else -along.left
    start, end = fold[0] - along * FAR_MM, fold[1] + along * FAR_MM
    corners = (start, end, end + side * FAR_MM, start + side * FAR_MM)
    return Polygon([(p.x, p.y) for p in corners])


def within(half: Polygon, points: tuple[Point, ...]) -> tuple[Point, ...]:
    """The stretch of an edge on the outer half, in its order; none if it only touches the fold."""
    line = LineString([(p.x, p.y) for p in points]).intersection(half)
    if not isinstance(line, LineString) or line.length <= ON_FOLD_MM:
        return ()
    return tuple(Point(x, y) for x, y in line.coords)


def is_within(half: Polygon, at: Point) -> bool:
    """True for a place on the outer half, not on the fold."""
    return bool(
        half.contains(Place(at.x, at.y)) and half.exterior.distance(Place(at.x, at.y)) > ON_FOLD_MM
    )


def _fold(pattern: Pattern, piece: str) -> tuple[Point, Point] | None:
    marks = pattern.piece(piece).marks
    lines = [mark.path for mark in marks if mark.kind is MarkKind.FOLD_LINE and mark.path]
    return (lines[0].start, lines[0].end) if len(lines) == 1 else None


def _ends_are_closed(
    pattern: Pattern, piece: str, fold: tuple[Point, Point], done: Collection[str]
) -> bool:
    """True if edges that fall on each other when it is folded are sewn, or closed by a zip."""
    for name in done:
        use = pattern.use(name)
        is_seam = isinstance(use, Seam) and len(use.layers) == 2
        is_closure = isinstance(use, Finish) and use.kind is FinishKind.CLOSURE
        if (is_seam or is_closure) and _fall_on_each_other(pattern, piece, fold, runs_of(use)):
            return True
    return False


def _fall_on_each_other(
    pattern: Pattern, piece: str, fold: tuple[Point, Point], runs: Iterable[Run]
) -> bool:
    mirror = Transform.mirror(fold[0], fold[1] - fold[0])
    edges = dict.fromkeys(edge for run in runs for edge in _edges(run, piece))
    paths = [pattern.piece(piece).edge(edge) for edge in edges]
    middles = [path.point_at(path.length / 2) for path in paths]
    return any(
        mirror.point(one).is_close(other, ON_FOLD_MM)
        for number, one in enumerate(middles)
        for other in middles[number + 1 :]
    )


def _on_left(
    pattern: Pattern, piece: str, fold: tuple[Point, Point], done: Collection[str]
) -> bool | None:
    """Whether what is sewn to something else lies to the left of the fold; None if on both."""
    along = (fold[1] - fold[0]).unit
    sides = set()
    for name in done:
        use = pattern.use(name)
        others = {other for run in runs_of(use) for other in run.pieces} - {piece}
        if not isinstance(use, Seam) or not others:
            continue
        for run in runs_of(use):
            for edge in _edges(run, piece):
                path = pattern.piece(piece).edge(edge)
                sides.add(along.cross(path.point_at(path.length / 2) - fold[0]) > 0)
    return sides.pop() if len(sides) == 1 else None


def _edges(run: Run, piece: str) -> list[str]:
    return [edge.edge for edge in run.edges if edge.piece == piece]
