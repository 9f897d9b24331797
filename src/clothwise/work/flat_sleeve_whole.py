"""Sleeves in several parts, as a split leaves them, joined again: they are drawn as one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from shapely.geometry import LineString

from clothwise.components.edits.joining import APART_MM, apart_mm, closed_on_paper
from clothwise.errors import ComponentError
from clothwise.pattern.graph import Seam
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Piece
from clothwise.work.wearing import Part, parts


@dataclass(frozen=True)
class SplitSleeve:
    """What a sleeve that is drawn as one consists of.

    Attributes:
        parts: where they lie in it.
        lines: along which it was split.
    """

    parts: tuple[Piece, ...]
    lines: tuple[LineString, ...] = ()


SleeveParts = Mapping[str, SplitSleeve]
"""By the name of the sleeve."""


def with_whole_sleeves(pattern: Pattern) -> tuple[Pattern, SleeveParts]:
    """The pattern with the parts of its sleeves joined, and those parts, where they lie in them.

    Only what was split is joined: parts whose edges still lie on each other as they are drawn.
    """
    found: dict[str, SplitSleeve] = {}
    while True:
        sleeves = {name for name, part in parts(pattern).items() if part is Part.SLEEVE}
        for seam in pattern.seams.values():
            names = _split_along(pattern, seam)
            if names is None or sleeves.isdisjoint(names):
                continue
            try:
                joined = closed_on_paper(pattern, seam)
            except ComponentError:
                continue  # it cannot be one piece: each part is drawn for itself
            one, other = (found.pop(name, SplitSleeve((pattern.piece(name),))) for name in names)
            line = [(p.x, p.y) for p in pattern.path(seam.layers[0].run.edges[0]).flattened()]
            found[names[0]] = SplitSleeve(
                one.parts + other.parts, (*one.lines, *other.lines, LineString(line))
            )
            pattern = joined
            break
        else:
            return pattern, found


def _split_along(pattern: Pattern, seam: Seam) -> tuple[str, str] | None:
    """The two pieces that a seam parts along one line, if they are still drawn as one."""
    if len(seam.layers) != 2 or any(len(layer.run.edges) != 1 for layer in seam.layers):
        return None
    one, other = (layer.run.edges[0] for layer in seam.layers)
    if one.piece == other.piece or one.reverse == other.reverse:
        return None
    is_one_line = apart_mm(pattern.path(one), pattern.path(other)) <= APART_MM
    return (one.piece, other.piece) if is_one_line else None
