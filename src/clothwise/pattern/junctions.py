"""What the seam graph says about order: a run of several edges exists only once they are joined.

Corners of pieces are the vertices of a graph; a seam joins the corners its layers start at, and
those they end at. Two edges that follow each other in a run but meet at different corners are
brought together by the seams on the shortest way between these corners. Those seams come first.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

from clothwise.pattern.graph import EdgeRef, Run, Seam, Sides
from clothwise.pattern.pattern import Pattern, Use, runs_of


@dataclass(frozen=True, order=True)
class Corner:
    """A corner of a piece: the one where its edge `edge` starts, in order of travel."""

    piece: str
    edge: str


def start_corner(pattern: Pattern, edge: EdgeRef) -> Corner:
    """The corner a run enters an edge at."""
    return _corner_after(pattern, edge) if edge.reverse else Corner(edge.piece, edge.edge)


def end_corner(pattern: Pattern, edge: EdgeRef) -> Corner:
    """The corner a run leaves an edge at."""
    return Corner(edge.piece, edge.edge) if edge.reverse else _corner_after(pattern, edge)


def _corner_after(pattern: Pattern, edge: EdgeRef) -> Corner:
    return Corner(edge.piece, pattern.piece(edge.piece).edge_after(edge.edge))


def is_at_center(pattern: Pattern, corner: Corner) -> bool:
    """True if a corner lies on a fold, or at an end of a seam across the center."""
    piece = pattern.piece(corner.piece)
    edges = (corner.edge, piece.edge_before(corner.edge))
    return piece.fold_edge in edges or any(
        isinstance(use, Seam) and use.sides is Sides.CENTER
        for edge in edges
        for use in pattern.uses_of(piece.name, edge)
    )


@dataclass(frozen=True)
class Junction:
    """Two edges that follow each other in a run, and the seams that bring them together.

    `seams` is empty where they are neighbors on one piece; None means nothing joins them.
    """

    before: EdgeRef
    after: EdgeRef
    seams: tuple[str, ...] | None

    @property
    def crosses_seam(self) -> bool:
        """True if the run runs on across at least one seam here."""
        return bool(self.seams)


class SeamCorners:
    """The corner graph of a pattern, built once and asked often."""

    def __init__(self, pattern: Pattern) -> None:
        """Join the corners of all seams of `pattern`."""
        self._pattern = pattern
        self._joined: dict[Corner, list[tuple[Corner, str]]] = {}
        for seam in pattern.seams.values():
            self._add(seam)

    def _add(self, seam: Seam) -> None:
        full = [layer.run for layer in seam.layers if layer.span is None]
        for ends in (
            [start_corner(self._pattern, run.edges[0]) for run in full],
            [end_corner(self._pattern, run.edges[-1]) for run in full],
        ):
            for other in ends[1:]:
                if other != ends[0]:
                    self._joined.setdefault(ends[0], []).append((other, seam.name))
                    self._joined.setdefault(other, []).append((ends[0], seam.name))

    def joining(self, first: Corner, last: Corner, without: str) -> tuple[str, ...] | None:
        """Names of the seams on the shortest way between two corners; None if there is no way."""
        if first == last:
            return ()
        came: dict[Corner, tuple[Corner, str]] = {}
        queue = deque([first])
        while queue:
            corner = queue.popleft()
            for other, seam in self._joined.get(corner, ()):
                if seam == without or other in came or other == first:
                    continue
                came[other] = (corner, seam)
                if other == last:
                    return _way(came, first, last)
                queue.append(other)
        return None

    def junctions(self, run: Run, of: str) -> tuple[Junction, ...]:
        """The junctions inside a run that belongs to the seam, finish or placement `of`."""
        pairs = list(zip(run.edges, run.edges[1:], strict=False))
        if run.closed:
            pairs.append((run.edges[-1], run.edges[0]))
        found = []
        for before, after in pairs:
            leave = end_corner(self._pattern, before)
            enter = start_corner(self._pattern, after)
            found.append(Junction(before, after, self.joining(leave, enter, of)))
        return tuple(found)

    def needed_before(self, use: Use) -> frozenset[str]:
        """Names of the seams that must be sewn before every run of `use` is one run."""
        names: set[str] = set()
        for run in runs_of(use):
            for junction in self.junctions(run, use.name):
                names.update(junction.seams or ())
        return frozenset(names)


def _way(came: dict[Corner, tuple[Corner, str]], first: Corner, last: Corner) -> tuple[str, ...]:
    names = []
    corner = last
    while corner != first:
        corner, seam = came[corner]
        names.append(seam)
    return tuple(reversed(names))
