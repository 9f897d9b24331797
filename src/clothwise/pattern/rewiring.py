"""What an edit does to the seam graph: edges that became others are exchanged wherever they occur.

An edit makes new pieces of old ones and says what each old edge is now. Everything that names the
old ones follows from that: runs, seams, finishes, placements, corners, steps. Lengths along a run
stay what they were, because the parts of an edge are together as long as it was.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from clothwise.geometry import Outline, Path
from clothwise.pattern.graph import EdgeRef, Finish, Layer, Placement, Run, Seam
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.operation import Operation
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece


@dataclass(frozen=True)
class Rewiring:
    """What became of pieces and their edges.

    Attributes:
        pieces: for each piece that is gone, those that took its place.
        edges: for an old edge (piece, edge), what it is now, in the order in which the old outline
            travels it; edges of pieces that stay need no entry.
    """

    pieces: Mapping[str, tuple[Piece, ...]]
    edges: Mapping[tuple[str, str], tuple[EdgeRef, ...]] = field(default_factory=dict)

    def run(self, run: Run) -> Run:
        """A run with its edges exchanged."""
        return Run(tuple(now for edge in run.edges for now in self.edge(edge)), run.closed)

    def edge(self, edge: EdgeRef) -> tuple[EdgeRef, ...]:
        """What an edge is now, in the direction in which it is travelled."""
        now = self.edges.get((edge.piece, edge.edge))
        if now is None:
            return (edge,)
        return tuple(each.reversed for each in reversed(now)) if edge.reverse else now


def rewired(pattern: Pattern, change: Rewiring) -> Pattern:
    """The pattern after an edit; the steps stay in their order."""
    return replace(
        pattern,
        pieces=_pieces(pattern.pieces, change),
        seams={name: _seam(seam, change) for name, seam in pattern.seams.items()},
        finishes={name: _finish(finish, change) for name, finish in pattern.finishes.items()},
        placements={
            name: _placement(pattern, each, change) for name, each in pattern.placements.items()
        },
        runs={name: change.run(run) for name, run in pattern.runs.items()},
        operations=tuple(_operation(operation, change) for operation in pattern.operations),
        intended_corners=tuple(
            _corner(pattern, corner, change) for corner in pattern.intended_corners
        ),
    )


def _pieces(pieces: Mapping[str, Piece], change: Rewiring) -> dict[str, Piece]:
    """New pieces stand where the old one stood."""
    return {
        now.name: now for name, piece in pieces.items() for now in change.pieces.get(name, (piece,))
    }


def _seam(seam: Seam, change: Rewiring) -> Seam:
    return replace(seam, layers=tuple(_layer(layer, change) for layer in seam.layers))


def _layer(layer: Layer, change: Rewiring) -> Layer:
    return replace(layer, run=change.run(layer.run))


def _finish(finish: Finish, change: Rewiring) -> Finish:
    return replace(finish, run=change.run(finish.run))


def _placement(pattern: Pattern, placement: Placement, change: Rewiring) -> Placement:
    """On the part of its host that it covers most of; itself in parts, laid with its old outline.

    The parts of what is placed are sewn together before, so that it lies as it did.
    """
    parts = change.pieces.get(placement.host, ())
    if parts:
        placed = pattern.laid_piece(placement).outline.transformed(placement.onto).polygon
        host = max(parts, key=lambda part: part.outline.polygon.intersection(placed).area).name
        placement = replace(placement, host=host)
    parts = change.pieces.get(placement.piece, ())
    if len(parts) > 1:
        placement = replace(
            placement,
            piece=max(parts, key=lambda part: part.outline.polygon.area).name,
            shape=placement.shape or pattern.piece(placement.piece).outline,
            along=placement.along or tuple(edge.edge for edge in placement.stitched.edges),
        )
    return replace(placement, stitched=change.run(placement.stitched))


def _operation(operation: Operation, change: Rewiring) -> Operation:
    """Work on named edges of a piece is work on the parts that have them, not on all parts."""
    with_edges: dict[str, set[str]] = {}
    for name in operation.prepares:
        piece, _, edge = name.partition(".")
        if edge and piece in change.pieces:
            parts = {now.piece for now in change.edge(EdgeRef(piece, edge))}
            with_edges.setdefault(piece, set()).update(parts)

    def renamed(names: Iterable[str]) -> tuple[str, ...]:
        return tuple(
            now
            for name in names
            for now in _names(name, change)
            if now in with_edges.get(name, {now})
        )

    return replace(operation, prepares=renamed(operation.prepares), shows=renamed(operation.shows))


def _names(name: str, change: Rewiring) -> Iterator[str]:
    piece, dot, edge = name.partition(".")
    if dot:
        yield from (f"{now.piece}.{now.edge}" for now in change.edge(EdgeRef(piece, edge)))
    elif piece in change.pieces:
        yield from (now.name for now in change.pieces[piece])
    else:
        yield name


def _corner(pattern: Pattern, corner: IntendedCorner, change: Rewiring) -> IntendedCorner:
    """At the end of the last part of its line, or in the part that holds its place."""
    parts = change.edge(corner.line)
    if corner.at_mm is None:
        return replace(corner, line=parts[-1])
    pieces = {piece.name: piece for now in change.pieces.values() for piece in now}
    rest = corner.at_mm
    for part in parts:
        length = (pieces.get(part.piece) or pattern.piece(part.piece)).edge(part.edge).length
        if rest <= length or part is parts[-1]:
            return replace(corner, line=part, at_mm=rest)
        rest -= length
    raise AssertionError("an edge has at least one part")


def divided(piece: Piece, edge: str, cuts_mm: Sequence[float], names: Sequence[str]) -> Piece:
    """The piece with an edge in several, each with the allowance the edge had.

    Args:
        piece: that has the edge.
        edge: its name.
        cuts_mm: lengths along the edge, as its outline travels it.
        names: of the parts, one more than there are cuts.
    """
    path = piece.edge(edge)
    ends = pairwise((0.0, *cuts_mm, path.length))
    parts = {name: path.part(*each) for name, each in zip(names, ends, strict=True)}
    outline: dict[str, Path] = {}
    for name, whole in piece.outline.edges.items():
        outline.update(parts if name == edge else {name: whole})
    return replace(
        piece,
        outline=Outline(outline),
        allowances=allowances_of_parts(piece, edge, names),
    )


def allowances_of_parts(piece: Piece, edge: str, names: Sequence[str]) -> dict[str, float]:
    """The allowances a piece has of its own when an edge of it is several."""
    own: dict[str, float] = {}
    for name, allowance_mm in piece.allowances.items():
        own.update(dict.fromkeys(names if name == edge else (name,), allowance_mm))
    return own


def without_seams(pattern: Pattern, gone: set[str]) -> Pattern:
    """The pattern without some seams, and without the steps that did nothing else."""
    operations = []
    for operation in pattern.operations:
        does = tuple(name for name in operation.does if name not in gone)
        if does or not operation.does:
            after = tuple(name for name in operation.after if name not in gone)
            operations.append(replace(operation, does=does, after=after))
    seams = {name: seam for name, seam in pattern.seams.items() if name not in gone}
    return replace(pattern, seams=seams, operations=tuple(operations))
