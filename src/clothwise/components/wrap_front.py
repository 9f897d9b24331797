"""The wrap front: both fronts lap far over center front and part in a slanting neckline."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.front_shape import open_front
from clothwise.components.parameter import length
from clothwise.components.tape import straight_tape
from clothwise.geometry import Point, cubic_between, first_crossing, straight
from clothwise.pattern.graph import EdgeRef, run
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.operation import Operation
from clothwise.pattern.pattern import Contribution

HOLLOW_SHARE = 0.5
"""How far the neckline, square to the shoulder, turns toward its chord and beyond; our choice."""


@dataclass(frozen=True)
class WrapFront(Component):
    """Makes the front of a bodice wrap: it laps over, with a slanting neckline."""

    kind: ClassVar[str] = "wrap-front"

    overlap_mm: float = length(70, 20, 100, "From center front to the front edge.")
    break_above_bust_mm: float = length(
        -70, -160, 60, "From the bust up to the point where the fronts part; negative is below."
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Redraw the front whose neckline and front edge the runs `neck` and `front-edge` name."""
        front = open_front(drafting)
        name = front.piece.name
        foot = Point(-self.overlap_mm, front.foot_y)
        corner = front.break_point(self.break_above_bust_mm, self.overlap_mm, drafting.name)
        start = front.neck_point
        down = front.piece.edge("neck").start_tangent
        chord = (corner - start).unit
        bend = down.cross(chord) / max(down.dot(chord), 1e-6) * HOLLOW_SHARE
        slant = cubic_between(start, down, corner, (chord + chord.left * bend).unit)
        center = first_crossing(slant, straight(Point(0.0, front.foot_y), Point(0.0, start.y)))
        neck, stand = slant.split(center.first_mm)
        piece = front.redrawn(
            self.overlap_mm,
            {"neck": neck, "neck-stand": stand, "front-edge": straight(corner, foot)},
            (),
            {"center front neck": neck.end, "break point": corner},
        )
        return Contribution(
            reshaped=(piece,),
            notions=(straight_tape(drafting.name, slant.length, "slanting neckline"),),
            operations=(
                Operation(
                    name=f"{drafting.name}-stay",
                    title="Stay the slanting neckline",
                    text="The slanting edge lies on the bias and stretches. Baste a strip of "
                    "straight tape, as long as the edge on the pattern, {slant}, along the seam "
                    "line of each front, on the wrong side, from the shoulder to the break.",
                    prepares=(name, f"{name}.neck", f"{name}.neck-stand"),
                    shows=(name,),
                    minutes=8,
                    values=(("slant", slant.length),),
                    component=drafting.name,
                ),
            ),
            intended_corners=(
                IntendedCorner(
                    EdgeRef(name, "neck"),
                    "slanting neckline, which goes on over center front",
                    component=drafting.name,
                ),
            ),
            runs={
                "neck-edge": run(f"-{name}.neck-stand").then(front.neck),
                "front-edge": run(f"{name}.front-edge"),
            },
        )
