"""Which bias strips a pattern asks for: found by what they are, and how long each is when sewn."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from clothwise.cutting.bias_yield import JOIN_ALLOWANCE_MM, join_length_mm
from clothwise.cutting.item import CutItem
from clothwise.geometry import Path, Vector
from clothwise.pattern import Pattern, Piece, Seam

__all__ = ["BiasNeed", "bias_needs", "is_bias_strip", "strip_needed_mm"]

_EDGES = ("edge", "end", "fold", "start")  # of a strip, in order of travel
_SAME = 1e-6


@dataclass(frozen=True, slots=True)
class BiasNeed:
    """A strip that is sewn on in one: its parts as drafted, and what they come to.

    Attributes:
        component: what it is drafted by.
        title: what its parts are called.
        number: of its first part on the pattern sheets, as it stands in the label.
        item_ids: the copies of its parts.
        mirrored: whether these are mirror images of the drafted ones.
        length_mm: of the joined strip, without what the joins take.
        width_mm: as it is cut.
        allowance_mm: of the joins.
    """

    component: str
    title: str
    number: str
    item_ids: tuple[str, ...]
    mirrored: bool
    length_mm: float
    width_mm: float
    allowance_mm: float


def bias_needs(pattern: Pattern, items: Iterable[CutItem]) -> tuple[BiasNeed, ...]:
    """Return the strips that are cut from one fabric, each with the parts it was drafted in.

    Args:
        pattern: as drafted.
        items: the copies that are cut from the fabric; ids are `piece/copy`.
    """
    strips: dict[tuple[str, str], list[CutItem]] = {}
    for item in items:
        name, _, copy = item.id.partition("/")
        piece = pattern.pieces.get(name)
        if piece is not None and is_bias_strip(piece):
            strips.setdefault((piece.component, copy), []).append(item)
    return tuple(_need(pattern, component, parts) for (component, _), parts in strips.items())


def is_bias_strip(piece: Piece) -> bool:
    """Whether a piece is a strip on the true bias, its edges straight and its ends on the grain.

    One that an edit has bent, or made wider at one end, is cut as it is drawn.
    """
    if piece.edge_names != _EDGES or piece.fold_edge is not None:
        return False
    edge, end, fold, start = (piece.edge(name) for name in _EDGES)
    if not all(_is_straight(path) for path in (edge, end, fold, start)):
        return False
    along, across = edge.end - edge.start, end.end - end.start
    grain = (piece.grain.end - piece.grain.start).unit
    return (
        _is_same(along, fold.start - fold.end)
        and _is_same(across, start.start - start.end)
        and abs(along.unit.cross(grain)) - math.sqrt(0.5) < _SAME
        and math.sqrt(0.5) - abs(along.unit.cross(grain)) < _SAME
        and abs(across.unit.cross(grain)) < _SAME
    )


def strip_needed_mm(needs: Iterable[BiasNeed]) -> float:
    """Return the length of one joined strip from which several are cut off.

    Each of them ends in two seams, or is turned in; where the joined strip is cut apart, both
    new ends need their allowance.
    """
    lengths = [(need.length_mm, need.allowance_mm) for need in needs]
    cuts = sum(join_length_mm(allowance) for _, allowance in lengths[1:])
    return sum(length for length, _ in lengths) + cuts


def _need(pattern: Pattern, component: str, parts: list[CutItem]) -> BiasNeed:
    pieces = [pattern.piece(part.id.partition("/")[0]) for part in parts]
    first = pieces[0]
    edge, fold = first.edge("edge"), first.edge("fold")
    sides = sum(pattern.allowance(first.name, name) for name in ("edge", "fold"))
    joins = [
        use.allowance_mm for use in pattern.uses_of(first.name, "end") if isinstance(use, Seam)
    ]
    return BiasNeed(
        component=component,
        title=first.title,
        number=parts[0].label.partition(" ")[0],
        item_ids=tuple(part.id for part in parts),
        mirrored=parts[0].mirrored,
        length_mm=sum(piece.edge("edge").length for piece in pieces),
        width_mm=_distance(edge, fold) + sides,
        allowance_mm=joins[0] if joins else JOIN_ALLOWANCE_MM,
    )


def _distance(edge: Path, fold: Path) -> float:
    along = (edge.end - edge.start).unit
    return abs(along.cross(fold.start - edge.start))


def _is_straight(path: Path) -> bool:
    return abs(path.length - (path.end - path.start).length) < _SAME


def _is_same(one: Vector, other: Vector) -> bool:
    return (one - other).length < _SAME
