"""A garment as it is seen from one side: both halves of it, each with its pieces in place."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from shapely.geometry import Polygon

from clothwise.pattern.graph import Sides
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Copy, Piece, Ply, Side
from clothwise.work.flat_lines import MIRROR
from clothwise.work.flat_sleeve_whole import SleeveParts, with_whole_sleeves
from clothwise.work.picture import Area, Face, Item, moved_item
from clothwise.work.shape import polygon_path
from clothwise.work.torso import Worn, worn_halves
from clothwise.work.viewing import View
from clothwise.work.wearing import Part, parts


@dataclass(frozen=True)
class Half:
    """What is worn on one side, worked out as if it were at the right of the drawing.

    `behind` is the torso of the same side in the other view.
    """

    side: Side
    is_mirrored: bool
    torso: tuple[Worn, ...]
    behind: tuple[Worn, ...]

    def put(self, items: Iterable[Item]) -> list[Item]:
        """Items of this half where they are in the drawing."""
        if not self.is_mirrored:
            return list(items)
        return [moved_item(item, MIRROR) for item in items]

    def has(self, sides: Sides) -> bool:
        """True if what occurs on these sides occurs on this one."""
        return sides in (Sides.BOTH, Sides.CENTER) or sides.value == self.side.value

    def worn(self, piece: str) -> Worn | None:
        """A torso piece of this half, if it is seen."""
        return next((worn for worn in self.torso if worn.name == piece), None)


@dataclass(frozen=True)
class Garment:
    """A garment in one view; the first half is the one at the right of the drawing.

    Sleeves that were split are one piece of `pattern`; what they consist of says `sleeve_parts`.
    """

    pattern: Pattern
    view: View
    parts: Mapping[str, Part]
    halves: tuple[Half, Half]
    sleeve_parts: SleeveParts

    def named(self, part: Part) -> list[str]:
        """The pieces that are this to the garment."""
        return [name for name, its in self.parts.items() if its is part]

    @cached_property
    def from_below(self) -> tuple[Half, Half]:
        """The halves, the one that laps over the other last: that with the buttonholes."""
        upper = self._lap_side()
        first, second = self.halves
        return (second, first) if first.side is upper else (first, second)

    def _lap_side(self) -> Side:
        for half in self.halves:
            for worn in half.torso:
                for mark in worn.shape.piece.marks:
                    if mark.kind is MarkKind.BUTTONHOLE and mark.only_side:
                        return Side(mark.only_side)
        return Side.RIGHT

    def area(self, polygon: Polygon, piece: Piece, side: Side, face: Face = Face.RIGHT) -> Area:
        """Cloth of the copy of a piece for a side."""
        copy = copy_for(piece, side)
        role, name = (copy.role, copy.name) if copy else ("", "")
        return Area(polygon_path(polygon), face, piece.name, role, copy=name)


def garments(pattern: Pattern) -> dict[View, Garment]:
    """The garment seen from both sides."""
    pattern, sleeve_parts = with_whole_sleeves(pattern)
    its_parts = parts(pattern)
    torso = {view: worn_halves(pattern, view) for view in View}
    at_right = {View.FRONT: Side.LEFT, View.BACK: Side.RIGHT}
    return {
        view: Garment(
            pattern,
            view,
            its_parts,
            (
                _half(view, torso, at_right[view], False),
                _half(view, torso, at_right[view.other], True),
            ),
            sleeve_parts,
        )
        for view in View
    }


def _half(
    view: View,
    torso: Mapping[View, Mapping[Side, tuple[Worn, ...]]],
    side: Side,
    is_mirrored: bool,
) -> Half:
    return Half(side, is_mirrored, torso[view][side], torso[view.other][side])


def copy_for(piece: Piece, side: Side) -> Copy | None:
    """The outermost copy of a piece for a side of the wearer."""
    outer = [copy for copy in piece.copies if copy.ply is Ply.SHELL]
    for wanted in (side, Side.CENTER):
        for copy in outer:
            if copy.side is wanted:
                return copy
    return outer[0] if outer else None


def is_for(piece: Piece, side: Side) -> bool:
    """True if a copy of the piece is worn on this side, or across the center."""
    return any(copy.ply is Ply.SHELL and copy.side in (side, Side.CENTER) for copy in piece.copies)
