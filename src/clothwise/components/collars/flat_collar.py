"""The flat collar: it lies on the shoulders, drawn along the neckline of the sewn garment.

Center back lies at x = 0, the neckline bends around the neck above it, the collar lies outside.
Where the neckline opens at center back it is in two halves that part there.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum
from typing import ClassVar

from clothwise.components.collars.collar_lines import (
    GRAIN_SHARE,
    caught_at_neck,
    make_collar,
    neck_without_lapels,
    outer_seam,
    parts_at_back,
)
from clothwise.components.collars.laid_neckline import laid_neckline
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.finishes.fusing import fuse, interfaced_pair, interfaced_single
from clothwise.components.parameter import choice, length
from clothwise.geometry import (
    Outline,
    Path,
    Point,
    Vector,
    cubic_between,
    join,
    offset_path,
    smooth_through,
    straight,
)
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Side, pair, single

ROUND_SHARE = 0.75
"""A round front end begins to bend at this share of the width; our own choice."""

MOST_FORWARD_RAD = math.radians(3)
"""The front edge of the upper collar leans forward by no more than this for the turn of cloth, or
its corner would not lie on that of the under collar; our own choice."""

FAIRED_SHARES, MOST_STRAY_MM = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0), 2.5
"""The outer edge is drawn through these shares of the line at one distance from the neckline, which
bends unevenly where the shoulders meet, unless it would stray from it by more; our own choice."""


class Ends(Enum):
    """How a flat collar ends at center front."""

    ROUND = "round"
    POINTED = "pointed"


@dataclass(frozen=True)
class FlatCollar(Component):
    """Collar that lies flat on the shoulders, with round or pointed ends at center front."""

    kind: ClassVar[str] = "flat-collar"
    family: ClassVar[Family] = Family.COLLAR

    width_mm: float = length(65, 30, 130, "From the neckline to the outer edge.")
    ends: Ends = choice(Ends.ROUND, "Round or pointed at center front.")
    point_mm: float = length(20, 0, 60, "How far points reach forward beyond the square.")
    overlap_mm: float = length(
        15, 0, 45, "How far the shoulders overlap at their ends: more, and it rolls higher."
    )
    turn_of_cloth_mm: float = length(2, 0, 5, "What the upper collar is larger, to roll over.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft both pieces along the run named `neck` and catch them in the seam `neck`."""
        name, pattern = drafting.name, drafting.pattern
        neck = neck_without_lapels(drafting)
        straighter = 2 * math.asin(self.overlap_mm / 2 / drafting.body["shoulder_length"])
        laid = laid_neckline(pattern, neck, straighter, name)
        under = self._piece(drafting, "under", "Under collar", laid, 0.0)
        upper = self._piece(drafting, "upper", "Upper collar", laid, self.turn_of_cloth_mm)
        return Contribution(
            pieces=(upper, under),
            seams=(outer_seam(drafting, upper, under),),
            catches={"neck": caught_at_neck(drafting, neck, (under, upper))},
            operations=(
                fuse(
                    name,
                    "Fuse the collar interfacing",
                    "Iron the interfacing onto the wrong side of the upper collar.",
                    (upper.name,),
                    6,
                ),
                make_collar(name, rounded=self.ends is Ends.ROUND),
            ),
        )

    def _piece(
        self, drafting: Drafting, word: str, title: str, neck: Path, larger_mm: float
    ) -> Piece:
        width = self.width_mm + larger_mm
        outer, end = self._outer_and_end(neck, width, larger_mm)
        low, top = Point(0.0, -width), Point(0.0, 0.0)
        halved = parts_at_back(drafting.pattern, drafting.pattern.named_run("neck", drafting.name))
        beside = Vector(GRAIN_SHARE * neck.length if halved else 0.0, 0.0)
        role, fused = drafting.role, word == "upper"
        if halved:
            side = Side.RIGHT
            copies = interfaced_pair(drafting, side) if fused else pair(role, drawn_side=side)
        else:
            copies = interfaced_single(drafting) if fused else single(role)
        return Piece(
            name=f"{drafting.name}-{word}",
            title=title,
            outline=Outline(
                {
                    "outer": outer,
                    "end": end,
                    "neck": neck.reversed(),
                    "center": straight(top, low),
                }
            ),
            grain=Grainline(low.toward(top, 0.1) + beside, low.toward(top, 0.9) + beside),
            copies=copies,
            component=drafting.name,
            drawn_side=Side.RIGHT,
            fold_edge=None if halved else "center",
        )

    def _outer_and_end(self, neck: Path, width: float, larger_mm: float) -> tuple[Path, Path]:
        """The outer edge from center back, along the neckline in one sweep, and the front end."""
        beside = _faired(offset_path(neck, -width))
        forward = min(larger_mm, width * math.tan(MOST_FORWARD_RAD))
        if self.ends is Ends.ROUND:
            bend = ROUND_SHARE * width
            corner = beside.end + beside.end_tangent * forward
            outer = beside.part(0.0, beside.length - (bend - forward))
            inner = corner.toward(neck.end, bend / corner.distance(neck.end))
            turn = cubic_between(outer.end, outer.end_tangent, inner, (neck.end - corner).unit)
            return outer, join(turn, straight(inner, neck.end))
        tip = beside.end + beside.end_tangent * (self.point_mm + forward)
        kept = beside.part(0.0, beside.length - width)
        leaving = kept.end_tangent
        chord = tip - kept.end
        arriving = chord.unit * (2 * chord.unit.dot(leaving)) - leaving
        return (
            join(kept, cubic_between(kept.end, leaving, tip, arriving)),
            straight(tip, neck.end),
        )


def _faired(edge: Path) -> Path:
    """The same edge in one sweep; as it is if it has corners, as along a square neckline."""
    points = [edge.point_at(edge.length * share) for share in FAIRED_SHARES]
    fair = smooth_through(points, start_tangent=edge.start_tangent, end_tangent=edge.end_tangent)
    strays = max(spot.distance(edge.point_at(edge.nearest(spot))) for spot in fair.flattened())
    return fair if strays <= MOST_STRAY_MM else edge
