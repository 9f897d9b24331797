"""The order of pieces on the board: as they lie on the body, then what goes with them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

from clothwise.components.family import Family
from clothwise.pattern import Pattern, Piece
from clothwise.pattern.piece import Side

__all__ = ["BodyOrder", "Group", "on_the_body"]

LEVEL_MM = 50.0
"""Parts of a split piece whose tops differ by less lie beside each other; our own choice."""

_SLEEVES = 2
"""Fronts are 0 and backs 1; collars come after the sleeves."""

Group: TypeAlias = tuple[str, ...]
"""Names of pieces that may lie below each other, from the top and from the left."""


@dataclass(frozen=True)
class BodyOrder:
    """Groups of pieces, from left to right.

    Attributes:
        upper: of the trunk above the waist, fronts and backs; then sleeves and collar.
        lower: of what hangs below, fronts and backs.
        beside: facings, pockets, bands and all that lies on no place of its own.
    """

    upper: tuple[Group, ...] = ()
    lower: tuple[Group, ...] = ()
    beside: tuple[Group, ...] = ()


def on_the_body(pattern: Pattern, families: Mapping[str, Family]) -> BodyOrder:
    """How the pieces of a pattern are laid out.

    Args:
        pattern: whose pieces they are.
        families: of the components, by their names; what is not named lies beside.
    """
    first: dict[str, int] = {}
    for number, each in enumerate(pattern.pieces.values()):
        first.setdefault(each.part_of or each.name, number)

    def place(piece: Piece) -> tuple[float, ...]:
        """Pieces as drafted; parts of one from top to bottom, and from the center outward."""
        left, _, _, top = piece.outline.polygon.bounds
        return (first[piece.part_of or piece.name], -round(top / LEVEL_MM), left)

    rows: dict[str, dict[tuple[int, int], list[Piece]]] = {"upper": {}, "lower": {}, "beside": {}}
    for piece in sorted(pattern.pieces.values(), key=place):
        row, kind = _row(piece, families.get(piece.component, Family.OTHER))
        groups = rows[row]
        number = max((each[1] for each in groups if each[0] == kind), default=0)
        above = groups.get((kind, number), [])
        if row == "upper" and kind < _SLEEVES and above and not _is_below(piece, above[-1]):
            number += 1
        groups.setdefault((kind, number), []).append(piece)
    return BodyOrder(
        **{
            row: tuple(tuple(piece.name for piece in groups[each]) for each in sorted(groups))
            for row, groups in rows.items()
        }
    )


def _row(piece: Piece, family: Family) -> tuple[str, int]:
    """The row that a piece belongs to, and which of its kinds stands first there."""
    is_back = piece.drawn_side is Side.RIGHT
    if "facing" in piece.title.lower().split():
        return "beside", 1
    if family in (Family.BODICE, Family.FRONT):
        return "upper", int(is_back)
    if family in (Family.ARMHOLE, Family.COLLAR):
        return "upper", _SLEEVES if family is Family.ARMHOLE else _SLEEVES + 1
    if family is Family.SKIRT:
        return "lower", int(is_back)
    return "beside", 2 if family is Family.POCKET else 0


def _is_below(piece: Piece, other: Piece) -> bool:
    """Whether a piece of the trunk begins where another one ends, as a back below its yoke."""
    top, bottom = piece.outline.polygon.bounds[3], other.outline.polygon.bounds[1]
    return bool(top < bottom + LEVEL_MM)
