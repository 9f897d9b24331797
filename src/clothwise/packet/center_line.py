"""Center front and center back, followed from the top of a garment to its lower edge.

The line goes through every piece at the center: across the waist seam, across the seams that a
split made, from tier to tier. Which piece comes next is asked of the seam graph: the one that is
sewn on where the line ends.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from clothwise.checks import Derived
from clothwise.geometry import Path, Point
from clothwise.pattern import EdgeRef, Pattern, Run, Seam, SeamKind

_NEAR_MM = 40.0
"""A line ends this near to the seam it crosses: the center of a front with a button band lies on
the band, half its width away. Our own choice."""
_ALONG = 0.985
"""Cosine of the angle (10 degrees) within which an edge runs along the line: it is not crossed."""


@dataclass(frozen=True)
class CenterStretch:
    """The line on one piece: its length, mm, and how it ends there.

    Attributes:
        piece: which one.
        length_mm: from its upper end to its lower end.
        edge: of this piece, that the line meets at its lower end; None if there is none.
        goes_on: whether another piece is sewn on there.
    """

    piece: str
    length_mm: float
    edge: EdgeRef | None
    goes_on: bool


def center_stretches(
    derived: Derived, top: EdgeRef, pieces: Collection[str]
) -> tuple[CenterStretch, ...]:
    """The line at the center, piece by piece, from the top on; empty if the top has no center.

    Args:
        derived: of the pattern.
        top: the edge it begins at.
        pieces: those of the outside; facings and what is laid on do not count.
    """
    return tuple(_Line(derived, pieces).follow(top))


@dataclass(frozen=True)
class CenterLength:
    """Center front or center back of a garment, from its upper edge down.

    Attributes:
        side: `front` or `back`.
        begins: where it begins, as in `from the neck seam`.
        start: the same in a word.
        stretches: piece by piece.
        to_waist_mm: how long it is as far as the waist seam; None if it crosses none.
        is_whole: whether it ends at the lower edge.
    """

    side: str
    begins: str
    start: str
    stretches: tuple[CenterStretch, ...]
    to_waist_mm: float | None
    is_whole: bool

    @property
    def length_mm(self) -> float:
        """As far as it goes."""
        return sum(each.length_mm for each in self.stretches)


_FROM = {
    "neck": ("the neck seam", "neck"),
    "top": ("the upper edge", "upper edge"),
    "waist": ("the waist seam", "waist"),
}
"""Runs that lengths at the center are measured from, the first that is there; and their words."""


def center_lengths(derived: Derived, outside: Collection[str]) -> Iterator[CenterLength]:
    """Center back and center front, as far as there is a line; of one piece around, only its fold.

    Args:
        derived: of the pattern.
        outside: pieces of the outside.
    """
    runs = derived.pattern.runs
    start = next((name for name in _FROM if name in runs), None)
    if start is None:
        return
    top, (begins, words) = runs[start], _FROM[start]
    for side, edge in (("back", top.edges[-1]), ("front", top.edges[0])):
        fold = derived.pattern.piece(edge.piece).fold_edge or ""
        other = "front" if side == "back" else "back"
        if other in fold:  # one piece reaches from center to center
            continue
        line = center_stretches(derived, edge, outside)
        if line:
            upper = _to_waist(derived.pattern, line) if start != "waist" else None
            whole = _is_at(derived.pattern, line[-1], "hem")
            yield CenterLength(side, begins, words, line, upper, whole)


def _to_waist(pattern: Pattern, line: Sequence[CenterStretch]) -> float | None:
    """How far it is along a center line to the waist seam; None if it does not cross it."""
    if "waist" not in pattern.runs:
        return None
    for number, each in enumerate(line, start=1):
        if each.goes_on and _is_at(pattern, each, "waist"):
            return sum(upper.length_mm for upper in line[:number])
    return None


def _is_at(pattern: Pattern, stretch: CenterStretch, name: str) -> bool:
    """Whether a stretch ends at the run of this name; True if the garment has no such run."""
    run, edge = pattern.runs.get(name), stretch.edge
    if run is None:
        return True
    return edge is not None and any((e.piece, e.edge) == (edge.piece, edge.edge) for e in run.edges)


class _Line:
    def __init__(self, derived: Derived, pieces: Collection[str]) -> None:
        self._derived, self._pattern, self._pieces = derived, derived.pattern, pieces

    def follow(self, top: EdgeRef) -> Iterator[CenterStretch]:
        piece, edge, seen = top.piece, top, {top.piece}
        while True:
            path = self._down_from(piece, edge)
            if path is None:
                return
            meets = self._met(piece, path)
            below = self._below(meets, path.end, seen) if meets else None
            yield CenterStretch(piece, path.length, meets, below is not None)
            if below is None:
                return
            edge, piece = below, below.piece
            seen.add(piece)

    def _down_from(self, piece: str, edge: EdgeRef) -> Path | None:
        """The center line of a piece, from the end nearer to an edge of it."""
        path = self._center(piece)
        if path is None:
            return None
        start, end = self._off(edge, path.start), self._off(edge, path.end)
        is_seam = self._derived.center_path(piece) is None
        if is_seam and min(start, end) > _NEAR_MM:  # it begins below an opening
            return None
        return path if start <= end else path.reversed()

    def _center(self, piece: str) -> Path | None:
        """A fold, a marked line, or a seam that joins the two copies of a piece."""
        path = self._derived.center_path(piece)
        if path is not None:
            return path
        for seam in self._pattern.seams.values():
            runs = [layer.run for layer in seam.layers]
            if len(runs) == 2 and runs[0] == runs[1] and runs[0].pieces == (piece,):
                return self._pattern.path(runs[0].edges[0]) if len(runs[0].edges) == 1 else None
        return None

    def _off(self, edge: EdgeRef, point: Point) -> float:
        return self._derived.distance_to_edge(edge.piece, edge.edge, point)

    def _met(self, piece: str, path: Path) -> EdgeRef | None:
        """The edge that the line ends at: the nearest that does not run along it."""
        found = self._pattern.piece(piece)
        edges = [EdgeRef(piece, name) for name in found.edge_names]
        across = [edge for edge in edges if not self._runs_along(edge, path)]
        nearest = min(across, key=lambda edge: self._off(edge, path.end), default=None)
        near = nearest is not None and self._off(nearest, path.end) <= _NEAR_MM
        return nearest if near else None

    def _runs_along(self, edge: EdgeRef, line: Path) -> bool:
        path = self._pattern.path(edge)
        at_mm = path.nearest(line.end)
        return bool(abs(path.tangent_at(at_mm).unit.dot(line.end_tangent.unit)) > _ALONG)

    def _below(self, meets: EdgeRef, end: Point, seen: Collection[str]) -> EdgeRef | None:
        """The edge of the next piece that is sewn on where the line ends.

        Front and back of a tier are in one run: the place along it tells them apart.
        """
        found: list[tuple[float, EdgeRef]] = []
        for seam in self._pattern.seams.values():
            for run, other in self._sewn(seam, meets):
                place = self._share(run, meets, end)
                for edge in other.edges:
                    path = self._center(edge.piece) if edge.piece not in seen else None
                    if path is None or edge.piece not in self._pieces:
                        continue
                    point = min(path.start, path.end, key=partial(self._off, edge))
                    if self._off(edge, point) <= _NEAR_MM:
                        found.append((abs(self._share(other, edge, point) - place), edge))
        return min(found)[1] if found else None

    def _share(self, run: Run, edge: EdgeRef, point: Point) -> float:
        """How far along a run the place of an edge nearest to a point is, from 0 to 1."""
        at_mm = 0.0
        for each in run.edges:
            path = self._pattern.path(each)
            if (each.piece, each.edge) == (edge.piece, edge.edge):
                return (at_mm + path.nearest(point)) / self._pattern.run_length(run)
            at_mm += path.length
        raise AssertionError("the edge is one of the run")

    def _sewn(self, seam: Seam, edge: EdgeRef) -> Iterator[tuple[Run, Run]]:
        """The run of a seam that an edge is in, with each of the others; none of a dart."""
        if seam.kind is SeamKind.DART:
            return
        key = (edge.piece, edge.edge)
        runs = [layer.run for layer in seam.layers]
        own = [run for run in runs if any((each.piece, each.edge) == key for each in run.edges)]
        for run in own:
            for other in runs:
                if other not in own:
                    yield run, other
