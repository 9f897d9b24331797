"""The grade table: where every named point of a piece lies in each size, and how it moves.

Each piece has an origin that does not move: the point at which its draft begins, such as center
front at the waist, or else a corner. Across is x, to the right as drafted; up is y.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from clothwise.geometry import Point, Vector
from clothwise.pattern import Pattern, Piece
from clothwise.sizing.grade_topology import words_of

_AT_MM = 0.01
"""Points nearer than this are the same."""
_START = Point(0.0, 0.0)


@dataclass(frozen=True)
class PointGrade:
    """A named point of a piece; `places` tells for each size where, from the origin of the piece.

    None where a size does not have it.
    """

    name: str
    places: tuple[Point | None, ...]

    @property
    def moves(self) -> tuple[Vector | None, ...]:
        """How it moves from each size to the next."""
        return tuple(
            None if before is None or after is None else after - before
            for before, after in pairwise(self.places)
        )


@dataclass(frozen=True)
class PieceGrade:
    """The named points of a piece over the sizes; `origin` says in words what does not move."""

    piece: str
    title: str
    origin: str
    points: tuple[PointGrade, ...]

    def point(self, name: str) -> PointGrade:
        """The point of that name.

        Raises:
            KeyError: the piece has none.
        """
        for each in self.points:
            if each.name == name:
                return each
        raise KeyError(name)


@dataclass(frozen=True)
class GradeTable:
    """The movements of all points of one view."""

    sizes: tuple[str, ...]
    pieces: tuple[PieceGrade, ...]

    def piece(self, name: str) -> PieceGrade:
        """The points of one piece.

        Raises:
            KeyError: there is no such piece.
        """
        for each in self.pieces:
            if each.piece == name:
                return each
        raise KeyError(name)


def grade_table(patterns: Sequence[Pattern]) -> GradeTable:
    """Return how every corner and every point with a name moves from size to size.

    Args:
        patterns: the sizes of one view, in order.
    """
    names = list(dict.fromkeys(name for each in patterns for name in each.pieces))
    return GradeTable(
        tuple(pattern.size for pattern in patterns),
        tuple(_piece_grade([each.pieces.get(name) for each in patterns]) for name in names),
    )


def _piece_grade(owned: Sequence[Piece | None]) -> PieceGrade:
    there = [piece for piece in owned if piece is not None]
    placed = [dict(_named_points(piece)) if piece else {} for piece in owned]
    names = list(dict.fromkeys(name for each in placed for name in each))
    origin = _origin(there, [each for each in placed if each], names)
    starts = [each.get(origin, _START) for each in placed]
    if origin and all(_at_start(each[origin]) for each in placed if origin in each):
        starts = [_START for _ in placed]
    points = tuple(
        PointGrade(
            name,
            tuple(
                Point(each[name].x - start.x, each[name].y - start.y) if name in each else None
                for each, start in zip(placed, starts, strict=True)
            ),
        )
        for name in names
    )
    return PieceGrade(there[0].name, there[0].title, origin or "the zero of its draft", points)


def _origin(
    owned: Sequence[Piece], placed: Sequence[dict[str, Point]], names: Sequence[str]
) -> str:
    """The point at which the draft begins in every size, or one that all sizes have.

    That is a corner on the fold, a point with a name of its own, or the first corner; empty if
    the sizes have nothing in common.
    """
    common = [name for name in names if all(name in each for each in placed)]
    for name in common:
        if all(_at_start(each[name]) for each in placed):
            return name
    first = owned[0]
    on_fold = {first.fold_edge, _after(first, first.fold_edge)} if first.fold_edge else set()
    folds = [name for name, edge in _corners(first) if edge in on_fold and name in common]
    own = [name for name in first.points if name in common]
    return next(iter((*folds, *own, *common)), "")


def _at_start(point: Point) -> bool:
    return point.distance(_START) < _AT_MM


def _after(piece: Piece, edge: str) -> str:
    names = piece.edge_names
    return names[(names.index(edge) + 1) % len(names)]


def _named_points(piece: Piece) -> Iterator[tuple[str, Point]]:
    """Corners in order of travel, then points that lie at no corner."""
    at_corners = set()
    for name, edge in _corners(piece):
        place = piece.edge(edge).start
        at_corners |= {each for each, point in piece.points.items() if _close(point, place)}
        yield name, place
    for name, point in piece.points.items():
        if name not in at_corners:
            yield name, point


def _corners(piece: Piece) -> Iterator[tuple[str, str]]:
    """What each corner is called, and the edge that starts there."""
    names = piece.edge_names
    for before, edge in zip((names[-1], *names[:-1]), names, strict=True):
        yield _corner_name(piece, before, edge), edge


def _corner_name(piece: Piece, before: str, edge: str) -> str:
    for dart in piece.darts:
        if edge == dart.leg_out:
            return f"{dart.name}, tip"
        if edge == dart.leg_in:
            return f"{dart.name}, at {words_of(before)}"
        if before == dart.leg_out:
            return f"{dart.name}, at {words_of(edge)}"
    words = f"{words_of(before)} / {words_of(edge)}"
    place = piece.edge(edge).start
    known = ", ".join(name for name, point in piece.points.items() if _close(point, place))
    return f"{known} ({words})" if known else words


def _close(one: Point, other: Point) -> bool:
    return one.distance(other) < _AT_MM
