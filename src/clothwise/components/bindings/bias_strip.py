"""Bias strips cut from the fabric: their pieces, how they are joined and pressed.

A strip is drawn as it is cut, its ends along the straight grain, so that any two of them are joined
in a slanted seam.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

from clothwise.components.component import Drafting
from clothwise.geometry import ORIGIN, Outline, Point, Vector, straight
from clothwise.pattern.graph import (
    EdgeCare,
    Finish,
    FinishKind,
    Layer,
    Seam,
    Sides,
    run,
)
from clothwise.pattern.operation import Caution, Notion, NotionUnit, Operation, Station
from clothwise.pattern.piece import Copy, Grainline, Piece, Side, pair, single

DOUBLE_FOLD_WIDTHS = 4
"""Double-fold tape is cut four times its finished width (I08)."""

JOIN_ALLOWANCE_MM = 6.0
"""Strips are joined with 1/4 in of allowance (I03, hobby pages on bias length)."""

TURNED_IN_MM = 10.0
"""An end that meets no other is turned in by this; common practice, no source."""

GRAIN_SHARE = 0.7
"""The grainline spans this share of the width of a strip; our own choice."""


@dataclass(frozen=True)
class BiasStrip:
    """A strip for one edge: the length it needs, its finished width, the longest cut in one.

    `sides` tells whether there is one for each side of the wearer or one in all. A ring is joined
    end to end; the ends of another are turned in.
    """

    of: str
    length_mm: float
    width_mm: float
    longest_mm: float
    sides: Sides = Sides.BOTH
    is_ring: bool = True

    @property
    def _words(self) -> str:
        return "bias strip" if self.sides is Sides.CENTER else "bias strips"

    @property
    def cut_width_mm(self) -> float:
        """As it is cut (I08)."""
        return DOUBLE_FOLD_WIDTHS * self.width_mm

    @property
    def number(self) -> int:
        """How many parts it is pieced of."""
        return max(1, math.ceil(self.length_mm / self.longest_mm - 1e-9))

    def with_square_ends(self, edge_mm: float) -> BiasStrip:
        """Long enough that its slanted ends can be cut square, and turned in beyond the edge."""
        least = edge_mm + self.cut_width_mm + 2 * TURNED_IN_MM
        return replace(self, length_mm=max(self.length_mm, least))

    def pieces(self, drafting: Drafting) -> tuple[Piece, ...]:
        """Its parts, all of one length."""
        return tuple(self._piece(drafting, name) for name in self._names(drafting.name))

    def _names(self, name: str) -> tuple[str, ...]:
        if self.number == 1:
            return (f"{name}-strip",)
        return tuple(f"{name}-strip-{part}" for part in range(1, self.number + 1))

    def _piece(self, drafting: Drafting, name: str) -> Piece:
        long, wide = self.length_mm / self.number, self.cut_width_mm
        slant = Vector(wide, wide)
        corners = (Point(0.0, 0.0), Point(long, 0.0), Point(long, 0.0) + slant, ORIGIN + slant)
        middle = corners[0].toward(corners[2], 0.5)
        along = Vector(wide, wide) * (GRAIN_SHARE / 2)
        return Piece(
            name=name,
            title=f"Bias strip for the {self.of}",
            outline=Outline(
                {
                    "edge": straight(corners[0], corners[1]),
                    "end": straight(corners[1], corners[2]),
                    "fold": straight(corners[2], corners[3]),
                    "start": straight(corners[3], corners[0]),
                }
            ),
            grain=Grainline(middle - along, middle + along),
            copies=self._copies(drafting.role),
            component=drafting.name,
            drawn_side=Side.LEFT,
        )

    def _copies(self, role: str) -> tuple[Copy, ...]:
        return single(role) if self.sides is Sides.CENTER else pair(role, drawn_side=Side.LEFT)

    def seams(self, drafting: Drafting) -> tuple[Seam, ...]:
        """The joins between its parts, if there are several; then that of the ends of a ring."""
        names = self._names(drafting.name)
        closing = ((names[-1], names[0]),) if self.is_ring else ()
        pairs = (*pairwise(names), *closing)
        return tuple(
            Seam(
                name=join_name(drafting.name, number, len(names)),
                title=f"join of the bias strip for the {self.of}",
                layers=(Layer(run(f"{before}.end")), Layer(run(f"-{after}.start"))),
                allowance_mm=JOIN_ALLOWANCE_MM,
                care=EdgeCare.NONE,
                sides=self.sides,
                component=drafting.name,
            )
            for number, (before, after) in enumerate(pairs, start=1)
        )

    def bound_with(self, drafting: Drafting) -> tuple[str, ...]:
        """Seams and finishes of the strip that are made when it is sewn on."""
        names = self._names(drafting.name)
        if self.is_ring:
            return (join_name(drafting.name, len(names), len(names)),)
        return tuple(finish.name for finish in self._ends(drafting, names))

    def finishes(self, drafting: Drafting) -> tuple[Finish, ...]:
        """Its long edges, which are folded to the middle; and ends that are turned in."""
        names = self._names(drafting.name)
        return (*self._ends(drafting, names), *self._long_edges(drafting, names))

    def _ends(self, drafting: Drafting, names: tuple[str, ...]) -> tuple[Finish, ...]:
        """The ends of a strip that is no ring; what is turned in is part of its length."""
        if self.is_ring:
            return ()
        return tuple(
            Finish(
                f"{drafting.name}-strip-{edge}",
                f"{edge} of the bias strip for the {self.of}",
                run(f"{part}.{edge}"),
                FinishKind.BOUND,
                sides=self.sides,
                component=drafting.name,
            )
            for edge, part in (("start", names[0]), ("end", names[-1]))
        )

    def _long_edges(self, drafting: Drafting, names: tuple[str, ...]) -> tuple[Finish, ...]:
        return tuple(
            Finish(
                f"{drafting.name}-strip-{edge}",
                f"long edges of the bias strip for the {self.of}",
                along,
                FinishKind.BOUND,
                sides=self.sides,
                component=drafting.name,
            )
            for edge, along in (
                ("edge", run(*(f"{part}.edge" for part in names))),
                ("fold", run(*(f"-{part}.fold" for part in names))),
            )
        )

    def operations(self, name: str) -> tuple[Operation, ...]:
        """Joining its parts, if there are several, and pressing it to double-fold tape."""
        joins = tuple(join_name(name, part, self.number) for part in range(1, self.number))
        return (
            *(
                (
                    Operation(
                        name=f"{name}-piece",
                        title=f"Join the bias strips for the {self.of}",
                        text="Lay the slanted ends of two strips on each other, right sides "
                        "together, at a right angle, so that their seam lines meet at the edges. "
                        "Sew with {allowance} allowance, press open, and cut off the corners that "
                        "stand out. Join all strips of one edge like this.",
                        does=joins,
                        minutes=4.0 * len(joins),
                        cautions=(Caution.IRON, Caution.BLADE),
                        component=name,
                    ),
                )
                if joins
                else ()
            ),
            Operation(
                name=f"{name}-press",
                title=f"Press the {self._words} for the {self.of}",
                text=f"Fold {'the' if self.sides is Sides.CENTER else 'each'} strip lengthwise, "
                "wrong sides together, and press without stretching it. Open it, fold both long "
                "edges to the crease and press, then fold it again: it is now {width} wide.",
                does=(f"{name}-strip-edge", f"{name}-strip-fold"),
                station=Station.IRON,
                minutes=10,
                cautions=(Caution.IRON,),
                values=(("width", self.width_mm),),
                component=name,
            ),
        )


def bias_tape(name: str, length_mm: float, width_mm: float, purpose: str) -> Notion:
    """Tape that is bought, already folded; `purpose` as in `to bind both armholes`."""
    return Notion(
        "bias tape, double fold",
        length_mm,
        NotionUnit.LENGTH_MM,
        f"{width_mm:.0f} mm finished ({DOUBLE_FOLD_WIDTHS * width_mm:.0f} mm unfolded), {purpose}",
        name,
    )


def join_name(name: str, number: int, of: int) -> str:
    """The name of a join; the last one closes the strip around its edge."""
    return f"{name}-join" if number == of else f"{name}-join-{number}"
