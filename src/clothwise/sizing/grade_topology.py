"""What only some sizes of a pattern have: pieces, darts, edges, points, notches.

Nested sizes can be compared line by line only if all have the same lines. What stops once, as a
dart that has become too small to sew, is told; what comes and goes, or a whole piece, wants a look.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeVar

from clothwise.pattern import Finding, NotchKind, Pattern, Piece, Seam, Severity
from clothwise.pattern.enumerated import enumerated

_Owner = TypeVar("_Owner", Piece, Seam)


@dataclass(frozen=True)
class _Feature:
    """Something of a pattern, where it is, and for each size whether it has it."""

    words: str
    piece: str
    edge: str
    has: tuple[bool, ...]
    is_piece: bool = False


def topology(patterns: Sequence[Pattern]) -> Iterator[Finding]:
    """Return a finding for each thing that some sizes have and others have not."""
    sizes = [pattern.size for pattern in patterns]
    for feature in (*_of_pieces(patterns), *_of_seams(patterns)):
        if not all(feature.has):
            yield _finding(feature, sizes)


def words_of(name: str) -> str:
    """The name of an edge as words: `waist side`."""
    return name.replace("-", " ")


def _of_pieces(patterns: Sequence[Pattern]) -> Iterator[_Feature]:
    for name in dict.fromkeys(name for each in patterns for name in each.pieces):
        owned = [each.pieces.get(name) for each in patterns]
        there = [piece for piece in owned if piece is not None]
        if len(there) < len(owned):
            has = tuple(piece is not None for piece in owned)
            yield _Feature(f"the piece {there[0].title}", name, "", has, is_piece=True)
            continue
        yield from _of_piece(there)


def _of_piece(owned: Sequence[Piece]) -> Iterator[_Feature]:
    """Darts, edges and points of one piece; a dart that is missing takes its edges along."""
    name, title = owned[0].name, owned[0].title
    darts = _having(owned, lambda piece: {dart.name: dart.leg_in for dart in piece.darts})
    for has, found in _told_once(darts).items():
        words = " and ".join(f"the {words_of(dart)}" for dart in found)
        yield _Feature(f"{words} of {title}", name, darts[found[0]][0], has)
    if all(all(has) for _, has in darts.values()):
        edges = _having(owned, lambda piece: {edge: edge for edge in piece.edge_names})
        for edge, (_, has) in edges.items():
            yield _Feature(f"the edge “{words_of(edge)}” of {title}", name, edge, has)
    points = _having(owned, lambda piece: dict.fromkeys(piece.points, ""))
    for point, (_, has) in points.items():
        yield _Feature(f"the point “{point}” of {title}", name, "", has)


def _told_once(
    darts: dict[str, tuple[str, tuple[bool, ...]]],
) -> dict[tuple[bool, ...], list[str]]:
    """Darts by the sizes that have them; where two stand for one, only the two are told."""
    found: dict[tuple[bool, ...], list[str]] = {}
    for dart, (_, has) in darts.items():
        found.setdefault(has, []).append(dart)
    return {
        has: named
        for has, named in found.items()
        if len(named) > len(found.get(tuple(not each for each in has), ()))
    }


def _of_seams(patterns: Sequence[Pattern]) -> Iterator[_Feature]:
    """Notches of seams that all sizes have; a seam that is missing belongs to a piece or dart."""
    for name in dict.fromkeys(name for each in patterns for name in each.seams):
        seams = [each.seams[name] for each in patterns if name in each.seams]
        if len(seams) < len(patterns):
            continue
        first = seams[0].layers[0].run.edges[0]
        marked = _having(seams, _notched)
        for notch, (_, has) in marked.items():
            words = f"the notch “{notch}” of the {seams[0].title}"
            yield _Feature(words, first.piece, first.edge, has)


def _notched(seam: Seam) -> dict[str, str]:
    return {match.name: "" for match in seam.matches if match.notch is not NotchKind.NONE}


def _having(
    owners: Sequence[_Owner], of: Callable[[_Owner], dict[str, str]]
) -> dict[str, tuple[str, tuple[bool, ...]]]:
    """For each name that any owner has: what goes with it, and which owners have it."""
    named = [of(owner) for owner in owners]
    edges: dict[str, str] = {}
    for each in named:
        edges = {**each, **edges}
    return {name: (edge, tuple(name in each for each in named)) for name, edge in edges.items()}


def _finding(feature: _Feature, sizes: Sequence[str]) -> Finding:
    lacking = [size for size, has in zip(sizes, feature.has, strict=True) if not has]
    having = [size for size, has in zip(sizes, feature.has, strict=True) if has]
    rare = having if len(having) < len(lacking) else lacking
    changes = sum(before != after for before, after in pairwise(feature.has))
    comes_and_goes = changes > 1
    only = "Only" if rare is having else "All but"
    plural = "s" if len(rare) > 1 else ""
    return Finding(
        code="GRADE-TOPOLOGY",
        severity=Severity.WARNING if comes_and_goes or feature.is_piece else Severity.NOTE,
        message=f"{only} size{plural} {enumerated(rare)} "
        f"{'has' if only == 'Only' and not plural else 'have'} {feature.words}. Nested sizes do "
        "not show it side by side.",
        remedy="If it is meant to end there, say so on the cover sheet; otherwise look for the "
        f"parameter or measurement that takes it away in size {lacking[0]}.",
        piece=feature.piece,
        edge=feature.edge,
        size=rare[0],
        measured=f"in {len(having)} of {len(sizes)} sizes",
        allowed="in all sizes or none",
    )
