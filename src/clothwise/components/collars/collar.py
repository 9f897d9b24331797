"""The two-piece collar: upper and under collar, rolled, sewn between neckline and facing.

Drawn as half, center back on the fold at x = 0, neck edge below, outer edge above. Where the
neckline opens at center back it is in two halves that part there.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.collars.collar_lines import (
    GRAIN_SHARE,
    bent_edge,
    caught_at_neck,
    make_collar,
    neck_without_lapels,
    outer_edge,
    outer_seam,
    parts_at_back,
)
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.finishes.fusing import fuse, interfaced_pair, interfaced_single
from clothwise.components.parameter import angle, length
from clothwise.geometry import Outline, Point, straight
from clothwise.pattern.operation import Operation
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side


@dataclass(frozen=True)
class TwoPieceCollar(Component):
    """Collar of an upper and an under piece with points at the front."""

    kind: ClassVar[str] = "two-piece-collar"
    family: ClassVar[Family] = Family.COLLAR

    width_mm: float = length(75, 40, 130, "Height at center back, stand and fall together.")
    lift_mm: float = length(14, 0, 60, "How far the neck edge rises toward center front.")
    point_mm: float = length(78, 40, 140, "Length of the front edge.")
    spread_rad: float = angle(
        math.radians(18), math.radians(-10), math.radians(50), "How far the points lean forward."
    )
    turn_of_cloth_mm: float = length(2, 0, 5, "What the upper collar is larger, to roll over.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft both pieces to the run named `neck` and catch them in the seam `neck`."""
        name = drafting.name
        neck = neck_without_lapels(drafting)
        neck_mm = drafting.pattern.run_length(neck)
        under = self._piece(drafting, "under", "Under collar", neck_mm, 0.0)
        upper = self._piece(drafting, "upper", "Upper collar", neck_mm, self.turn_of_cloth_mm)
        return Contribution(
            pieces=(upper, under),
            seams=(outer_seam(drafting, upper, under),),
            catches={"neck": caught_at_neck(drafting, neck, (under, upper))},
            operations=_operations(name, upper, under),
        )

    def _piece(
        self, drafting: Drafting, word: str, title: str, neck_mm: float, larger_mm: float
    ) -> Piece:
        halved = parts_at_back(drafting.pattern, drafting.pattern.named_run("neck", drafting.name))
        grain_x = GRAIN_SHARE * neck_mm if halved else 0.0
        neck = bent_edge(neck_mm, self.lift_mm)
        heading = neck.end_tangent
        out = heading.left.turned(-self.spread_rad)
        tip = neck.end + out * (self.point_mm + larger_mm) + heading * larger_mm
        top = Point(0.0, self.width_mm + larger_mm)
        edges = {
            "neck": neck,
            "end": straight(neck.end, tip),
            "outer": outer_edge(tip, top),
            "center": straight(top, Point(0.0, 0.0)),
        }
        return Piece(
            name=f"{drafting.name}-{word}",
            title=title,
            outline=Outline(edges),
            grain=Grainline(Point(grain_x, 0.9 * top.y), Point(grain_x, 0.1 * top.y)),
            copies=interfaced_pair(drafting, Side.RIGHT) if halved else interfaced_single(drafting),
            component=drafting.name,
            drawn_side=Side.RIGHT,
            fold_edge=None if halved else "center",
        )


def _operations(name: str, upper: Piece, under: Piece) -> tuple[Operation, ...]:
    return (
        fuse(
            name,
            "Fuse the collar interfacing",
            "Iron the interfacing onto the wrong sides of upper and under collar.",
            (upper.name, under.name),
            8,
        ),
        make_collar(name),
    )
