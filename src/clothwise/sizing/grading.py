"""Grades: how long every edge, run and seam is in each size, and so by how much it grows.

The patterns are those of one view, in the order of the size chart. Nothing here is judged; that
is `grade_checks`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias, TypeVar

from clothwise.pattern import Pattern, Run

Lengths: TypeAlias = tuple[float | None, ...]
"""A length for each size, mm; None where the size does not have it."""

_Item = TypeVar("_Item")


@dataclass(frozen=True)
class GradedEdge:
    """An edge of a piece over the sizes."""

    piece: str
    edge: str
    lengths_mm: Lengths

    @property
    def steps_mm(self) -> Lengths:
        """By how much it grows from each size to the next."""
        return steps(self.lengths_mm)


@dataclass(frozen=True)
class GradedRun:
    """A run over the sizes: one that has a name ("armhole"), or a layer of a seam.

    `layer` counts from 0; it is None for a run with a name of its own.
    """

    name: str
    title: str
    layer: int | None
    lengths_mm: Lengths

    @property
    def steps_mm(self) -> Lengths:
        """By how much it grows from each size to the next."""
        return steps(self.lengths_mm)


@dataclass(frozen=True)
class Grades:
    """Every length over the sizes. Edges come piece by piece, in order of travel."""

    sizes: tuple[str, ...]
    edges: tuple[GradedEdge, ...]
    runs: tuple[GradedRun, ...]

    def edge(self, piece: str, edge: str) -> GradedEdge:
        """The grades of one edge.

        Raises:
            KeyError: no size has such an edge.
        """
        for each in self.edges:
            if (each.piece, each.edge) == (piece, edge):
                return each
        raise KeyError(f"{piece}.{edge}")

    def run(self, name: str, layer: int | None = None) -> GradedRun:
        """The grades of a run with a name, or of a layer of the seam of that name.

        Raises:
            KeyError: no size has such a run.
        """
        for each in self.runs:
            if (each.name, each.layer) == (name, layer):
                return each
        raise KeyError(name)


def steps(lengths_mm: Lengths) -> Lengths:
    """Differences from each size to the next; None where one of the two has no length."""
    return tuple(
        None if before is None or after is None else after - before
        for before, after in pairwise(lengths_mm)
    )


def grades(patterns: Sequence[Pattern]) -> Grades:
    """Measure every edge and run of the sizes of one view on the stitching line (G06)."""
    edges = _ordered(
        ((piece.name, edge) for edge in piece.edge_names)
        for pattern in patterns
        for piece in pattern.pieces.values()
    )
    by_piece: dict[str, list[str]] = {}
    for piece, edge in edges:
        by_piece.setdefault(piece, []).append(edge)
    return Grades(
        tuple(pattern.size for pattern in patterns),
        tuple(
            GradedEdge(piece, edge, tuple(_edge_mm(each, piece, edge) for each in patterns))
            for piece, names in by_piece.items()
            for edge in names
        ),
        tuple(_runs(patterns)),
    )


def _runs(patterns: Sequence[Pattern]) -> Iterable[GradedRun]:
    for name in _ordered(pattern.runs for pattern in patterns):
        lengths = tuple(_run_mm(each, each.runs.get(name)) for each in patterns)
        yield GradedRun(name, name.replace("-", " "), None, lengths)
    layers = _ordered(
        ((seam.name, seam.title, layer) for layer in range(len(seam.layers)))
        for pattern in patterns
        for seam in pattern.seams.values()
    )
    for name, title, layer in layers:
        lengths = tuple(_run_mm(each, _layer(each, name, layer)) for each in patterns)
        yield GradedRun(name, title, layer, lengths)


def _ordered(groups: Iterable[Iterable[_Item]]) -> list[_Item]:
    """Everything in the groups, each once, in order of first appearance."""
    return list(dict.fromkeys(item for group in groups for item in group))


def _edge_mm(pattern: Pattern, piece: str, edge: str) -> float | None:
    found = pattern.pieces.get(piece)
    path = found.outline.edges.get(edge) if found else None
    return path.length if path else None


def _layer(pattern: Pattern, seam: str, layer: int) -> Run | None:
    found = pattern.seams.get(seam)
    return found.layers[layer].run if found and layer < len(found.layers) else None


def _run_mm(pattern: Pattern, run: Run | None) -> float | None:
    if run is None or any(_edge_mm(pattern, each.piece, each.edge) is None for each in run.edges):
        return None
    return pattern.run_length(run)
