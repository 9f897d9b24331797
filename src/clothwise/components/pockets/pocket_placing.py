"""What all pockets that are laid on a face have in common: how many, where, and on which copies."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import choice, count, length, ratio
from clothwise.components.pockets.pocket_face import PocketHost, faces, room_for
from clothwise.geometry import Path, Point, Transform
from clothwise.pattern.graph import Sides
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.piece import Copy, Ply, Side, pair

__all__ = ["Placed", "PlacedPocket", "PocketSide", "Spot"]


class PocketSide(Enum):
    """The side of the wearer on which a single pocket sits."""

    RIGHT = "right"
    LEFT = "left"


@dataclass(frozen=True)
class Spot:
    """Where a pocket lies: the middle of its top, on a piece, on these sides of the wearer.

    `suffix` tells apart the spots of a pair that lies on two different pieces.
    """

    host: str
    top: Point
    sides: Sides
    suffix: str = ""

    @property
    def only_side(self) -> str:
        """What limits a mark to these sides."""
        return "" if self.sides is Sides.BOTH else self.sides.value


@dataclass(frozen=True)
class Placed:
    """A pocket, or a pair, in its place."""

    host: PocketHost
    number: int
    alone: Side
    spots: tuple[Spot, ...]

    def copies(self, role: str, ply: Ply = Ply.SHELL) -> tuple[Copy, ...]:
        """One copy for each side that has a pocket; pieces are drawn for the left."""
        both = pair(role, drawn_side=Side.LEFT, ply=ply)
        return both if self.number == 2 else tuple(c for c in both if c.side is self.alone)

    def marks(
        self, line: Path, corners: tuple[Point, ...], more: Mapping[str, tuple[Mark, ...]]
    ) -> dict[str, tuple[Mark, ...]]:
        """Placement line and dots on the hosts, and `more` marks that are already there.

        Line and corners are given from the middle of the top.
        """
        found: dict[str, tuple[Mark, ...]] = {}
        for spot in self.spots:
            onto = spot_shift(spot)
            only = spot.only_side
            found[spot.host] = (
                *found.get(spot.host, ()),
                Mark(
                    MarkKind.PLACEMENT_LINE,
                    "pocket",
                    path=line.transformed(onto),
                    only_side=only,
                ),
                *(
                    Mark(MarkKind.DOT, "pocket corner", at=onto.point(corner), only_side=only)
                    for corner in corners
                ),
            )
        for host, marks in more.items():
            found[host] = (*found.get(host, ()), *marks)
        return found


def spot_shift(spot: Spot) -> Transform:
    """The move that brings the middle of a top at the origin to its spot."""
    return Transform.shift(spot.top.x, spot.top.y)


@dataclass(frozen=True)
class PlacedPocket(Component):
    """A pocket that is laid on the face of a piece."""

    family: ClassVar[Family] = Family.POCKET
    tried_with: ClassVar[tuple[Mapping[str, str], ...]] = (
        {
            "host": "bodice front",
            "width": "11cm",
            "height": "13cm",
            "from_center": "4cm",
            "from_side": "2cm",
            "below_top": "18cm",
        },
    )
    """Where there is no skirt: a breast pocket. Its size is common practice, no source."""

    number: int = count(2, 1, 2, "How many: one, or one on each side.")
    single_side: PocketSide = choice(PocketSide.RIGHT, "Where a single one sits.")
    host: PocketHost = choice(PocketHost.SKIRT_FRONT, "The face it sits on.")
    width_mm: float = length(140, 60, 260, "Finished width.")
    height_mm: float = length(170, 60, 320, "Finished height.")
    corner_mm: float = length(22, 0, 60, "Radius of the lower corners.")
    from_center_mm: float = length(60, 30, 250, "From the center to the pocket, at least.")
    from_side_mm: float = length(12, 5, 250, "From the side edge to the pocket, at least.")
    across: float = ratio(0.5, 0.0, 1.0, "Its place between: 0 toward center, 1 toward the side.")
    below_top_mm: float = length(
        115,
        0,
        500,
        "From the waist (shoulder point, top of the sleeve) to its top; where there is no room for "
        "it, it is moved up by 6 cm or down by 20 cm at most.",
    )

    @property
    def called(self) -> str:
        """The pocket, or the pockets, in a sentence."""
        return f"{self.host.pocket}{'s' if self.number == 2 else ''}"

    def place(self, drafting: Drafting, *, width_mm: float, above_mm: float = 0.0) -> Placed:
        """Find the place of a pocket that is this wide with its flap, which reaches above it.

        Raises:
            ComponentError: the host is not there, or has no room.
        """
        found = faces(drafting, self.host)
        alone = Side.RIGHT if self.single_side is PocketSide.RIGHT else Side.LEFT
        wanted = (Side.LEFT, Side.RIGHT) if self.number == 2 else (alone,)
        spots: list[Spot] = []
        for side in wanted:
            room = room_for(
                tuple(face for face in found if face.is_cut_for(side)) or found,
                (width_mm, self.height_mm + above_mm, max(self.below_top_mm - above_mm, 0.0)),
                from_center_mm=self.from_center_mm,
                from_side_mm=self.from_side_mm,
                where=drafting.name,
            )
            top = room.middle(width_mm, self.across)
            only = Sides.LEFT if side is Side.LEFT else Sides.RIGHT
            host = room.face.piece.name
            spots.append(Spot(host, Point(top.x, top.y - above_mm), only, f"-{side.value}"))
        if len(spots) == 2 and (spots[0].host, spots[0].top) == (spots[1].host, spots[1].top):
            spots = [Spot(spots[0].host, spots[0].top, Sides.BOTH)]
        elif len(spots) == 1:
            spots = [Spot(spots[0].host, spots[0].top, spots[0].sides)]
        return Placed(self.host, self.number, alone, tuple(spots))
