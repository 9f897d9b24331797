"""Stitching that is seen on the torso of a garment drawn flat: hems, bindings, topstitching."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from clothwise.geometry import polyline
from clothwise.pattern.graph import EdgeRef, FinishKind, Pressing, Seam
from clothwise.pattern.pattern import Pattern
from clothwise.work.flat_garment import Garment, Half
from clothwise.work.flat_lines import inset
from clothwise.work.picture import Item, LineRole, Trace
from clothwise.work.torso import Worn
from clothwise.work.wearing import hems

BOUND_MM = 8.0
"""Width of a bound edge as it is drawn; our own choice."""


def stitching(of: Garment, half: Half, worn: Worn) -> list[Item]:
    """The lines on one piece."""
    found: list[Item] = []
    for edge, depth in _lines(of.pattern, half, worn.name):
        points = worn.shape.edges.get(edge)
        if points and depth > 0:
            found += [
                Trace(polyline(line), LineRole.TOPSTITCHING, worn.name)
                for line in worn.line(inset(list(points), depth))
            ]
    return found


def _lines(pattern: Pattern, half: Half, piece: str) -> Iterator[tuple[str, float]]:
    """Edges of a piece and the distances from them at which stitching runs."""
    for finish, name, edge in hems(pattern):
        if name == piece and half.has(finish.sides):
            yield edge, finish.depth_mm
    for finish in pattern.finishes.values():
        if finish.kind is FinishKind.BOUND and half.has(finish.sides):
            yield from ((ref.edge, BOUND_MM) for ref in finish.run.edges if ref.piece == piece)
    for name, distances in topstitched(pattern).items():
        seam = pattern.seams[name]
        if half.has(seam.sides):
            for ref in _outer_edges(seam):
                if ref.piece == piece:
                    yield from ((ref.edge, distance) for distance in distances)


def topstitched(pattern: Pattern) -> Mapping[str, tuple[float, ...]]:
    """Distances of the rows beside each seam, as the operations that sew them say."""
    found: dict[str, tuple[float, ...]] = {}
    for operation in pattern.operations:
        values = dict(operation.values)
        if "topstitched" not in values:
            continue
        rows = [values["topstitched"]]
        if "apart" in values:
            rows.append(rows[0] + values["apart"])
        seams = [name for name in operation.does if name in pattern.seams]
        turned = [n for n in seams if pattern.seams[n].pressing is Pressing.TURNED]
        found.update(dict.fromkeys(turned or seams, tuple(rows)))
    return found


def _outer_edges(seam: Seam) -> tuple[EdgeRef, ...]:
    """The edges beside which a seam is stitched again: the side it is pressed to, or both."""
    first, last = seam.layers[0].run.edges, seam.layers[-1].run.edges
    if seam.pressing is Pressing.TOWARD_LAST:
        return last
    return (*first, *last) if seam.pressing is Pressing.OPEN else first
