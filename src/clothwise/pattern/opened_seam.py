"""Opens a stretch of a seam, so that something can be let in there: a pocket, a slit.

Each layer's edge becomes three; the seam becomes two, one on each side of the opening. The middle
edges are left to whoever opened the seam.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from clothwise.errors import ComponentError
from clothwise.pattern.graph import EdgeRef, Layer, Match, Run, Seam
from clothwise.pattern.operation import Operation
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece
from clothwise.pattern.rewiring import Rewiring, divided, rewired

__all__ = ["Opening", "open_seam", "opened_edges"]

SHORTEST_REST_MM = 10.0
"""What is left of an edge on both sides of an opening is at least this long; our own choice."""


@dataclass(frozen=True)
class Opening:
    """A stretch of a seam, in mm along its first layer.

    `words` are added to the step that sews the seam.
    """

    name: str
    seam: str
    from_mm: float
    to_mm: float
    words: str


def opened_edges(pattern: Pattern, name: str, seam: str) -> tuple[EdgeRef, ...]:
    """The open edges in the order of the layers of the opened seam, travelled as it is."""
    found = []
    for layer in pattern.seams[seam].layers:
        last = layer.run.edges[-1]
        edge = last.edge.removesuffix(f"-beyond-{name}")
        found.append(EdgeRef(last.piece, f"{edge}-{name}", last.reverse))
    return tuple(found)


def open_seam(pattern: Pattern, opening: Opening) -> Pattern:
    """The pattern with the seam opened.

    Raises:
        ComponentError: the seam is eased or of several layers, or the stretch does not lie within
            one edge of each layer.
    """
    seam = pattern.seams[opening.seam]
    if any(layer.span is not None or layer.ease_mm for layer in seam.layers):
        raise ComponentError(
            f"the {seam.title} is eased or catches something, and cannot be opened",
            where=opening.name,
            how_much=f"{len(seam.layers)} layers",
            what_to_do="List the pocket before what is caught in that seam.",
        )
    pieces: dict[str, Piece] = {}
    edges: dict[tuple[str, str], tuple[EdgeRef, ...]] = {}
    for layer in seam.layers:
        edge, start, end = _place(pattern, layer, opening)
        piece, parts = _divided(
            pieces.get(edge.piece) or pattern.piece(edge.piece), edge, start, end, opening.name
        )
        pieces[piece.name] = piece
        edges[(edge.piece, edge.edge)] = parts
    changed = rewired(pattern, Rewiring({name: (piece,) for name, piece in pieces.items()}, edges))
    return _parted(changed, opening)


def _place(pattern: Pattern, layer: Layer, opening: Opening) -> tuple[EdgeRef, float, float]:
    """The edge of a layer that holds the opening, and where, as the layer travels it."""
    before = 0.0
    for edge in layer.run.edges:
        length = pattern.edge_length(edge)
        start, end = opening.from_mm - before, opening.to_mm - before
        if start >= SHORTEST_REST_MM and end <= length - SHORTEST_REST_MM:
            return edge, start, end
        before += length
    raise ComponentError(
        "a seam is too short for an opening, or another seam runs into it there",
        where=f"{opening.name} in {pattern.seams[opening.seam].title}",
        how_much=f"from {opening.from_mm:.0f} to {opening.to_mm:.0f} mm of {before:.0f} mm",
        what_to_do="Make the opening shorter, or move it.",
    )


def _divided(
    piece: Piece, edge: EdgeRef, start: float, end: float, name: str
) -> tuple[Piece, tuple[EdgeRef, ...]]:
    """The piece with an edge in three, and these in the order of the outline."""
    length = piece.edge(edge.edge).length
    if edge.reverse:
        start, end = length - end, length - start
    names = (edge.edge, f"{edge.edge}-{name}", f"{edge.edge}-beyond-{name}")
    parts = tuple(EdgeRef(piece.name, each) for each in names)
    return divided(piece, edge.edge, (start, end), names), parts


def _parted(pattern: Pattern, opening: Opening) -> Pattern:
    """The seam on both sides of the opening, and the step that sews it."""
    seam = pattern.seams[opening.seam]
    middle = f"-{opening.name}"
    before, after = [], []
    for layer in seam.layers:
        at = next(
            number
            for number, edge in enumerate(layer.run.edges)
            if edge.edge.endswith(middle) and not edge.edge.endswith(f"-beyond{middle}")
        )
        before.append(Layer(Run(layer.run.edges[:at])))
        after.append(Layer(Run(layer.run.edges[at + 1 :])))
    first = replace(seam, layers=tuple(before), matches=tuple(_kept(seam, 0.0, opening.from_mm)))
    second = replace(
        seam,
        name=f"{seam.name}-beyond-{opening.name}",
        layers=tuple(after),
        matches=tuple(_kept(seam, opening.to_mm, float("inf"))),
    )
    seams: dict[str, Seam] = {}
    for name, each in pattern.seams.items():
        seams[name] = first if name == seam.name else each
        if name == seam.name:
            seams[second.name] = second
    operations = tuple(_told(each, first, second, opening) for each in pattern.operations)
    return replace(pattern, seams=seams, operations=operations)


def _kept(seam: Seam, start: float, end: float) -> Iterator[Match]:
    for match in seam.matches:
        if all(at is not None and start <= at <= end for at in match.at_mm):
            yield replace(match, at_mm=tuple(at - start for at in match.at_mm if at is not None))


def _told(operation: Operation, first: Seam, second: Seam, opening: Opening) -> Operation:
    if first.name not in operation.does:
        return operation
    at = operation.does.index(first.name) + 1
    return replace(
        operation,
        does=(*operation.does[:at], second.name, *operation.does[at:]),
        text=f"{operation.text} {opening.words}",
    )
