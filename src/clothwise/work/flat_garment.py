"""A garment as it is seen from one side: its pieces in place, its sides, its cloth."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from shapely.geometry import Polygon

from clothwise.pattern.pattern import Pattern
from clothwise.pattern.piece import Copy, Piece, Ply, Side
from clothwise.work.picture import Area, Face
from clothwise.work.shape import polygon_path
from clothwise.work.torso import Worn, worn_torso
from clothwise.work.wearing import Part, View, parts


@dataclass(frozen=True)
class Garment:
    """A garment in one view. `right_side` is the wearer's side at the right of the drawing."""

    pattern: Pattern
    view: View
    parts: Mapping[str, Part]
    torso: tuple[Worn, ...]
    right_side: Side

    def named(self, part: Part) -> list[str]:
        """The pieces that are this to the garment."""
        return [name for name, its in self.parts.items() if its is part]

    def side(self, mirrored: bool) -> Side:
        """The wearer's side on the drawn half, or on the mirrored one."""
        if not mirrored:
            return self.right_side
        return Side.RIGHT if self.right_side is Side.LEFT else Side.LEFT

    def area(self, polygon: Polygon, piece: Piece, side: Side, face: Face = Face.RIGHT) -> Area:
        """Cloth of the copy of a piece for a side."""
        copy = _copy_for(piece, side)
        role, name = (copy.role, copy.name) if copy else ("", "")
        return Area(polygon_path(polygon), face, piece.name, role, copy=name)


def garment(pattern: Pattern, view: View) -> Garment:
    """The garment seen from one side."""
    right_side = Side.LEFT if view is View.FRONT else Side.RIGHT
    return Garment(pattern, view, parts(pattern), worn_torso(pattern, view), right_side)


def _copy_for(piece: Piece, side: Side) -> Copy | None:
    """The outermost copy of a piece for a side of the wearer."""
    outer = [copy for copy in piece.copies if copy.ply is Ply.SHELL]
    for wanted in (side, Side.CENTER):
        for copy in outer:
            if copy.side is wanted:
                return copy
    return outer[0] if outer else None
