"""The wrap front: both fronts lap far over center front and part in a slanting neckline.

It is flat as far as the bust, or reaches along the waist to a point of the other side.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.bindings.tape import straight_tape
from clothwise.components.bodices.front_shape import OpenFront, open_front
from clothwise.components.bodices.wrap_reach import lap_over
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import length, ratio
from clothwise.geometry import Path, Point, cubic_between, first_crossing, straight
from clothwise.pattern.graph import EdgeRef, run
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.operation import Operation
from clothwise.pattern.pattern import Contribution

REACH_POINT = "wrap end"
"""The name of the point of the waist that such a front reaches to."""

HOLLOW_SHARE = 0.5
"""How far the neckline, square to the shoulder, turns toward its chord and beyond; our choice."""


@dataclass(frozen=True)
class WrapFront(Component):
    """Makes the front of a bodice wrap: it laps over to any point, with a slanting neckline."""

    kind: ClassVar[str] = "wrap-front"
    family: ClassVar[Family] = Family.FRONT

    overlap_mm: float = length(70, 20, 100, "From center front to the front edge.")
    break_above_bust_mm: float = length(
        -70, -160, 60, "From the bust up to the point where the fronts part; negative is below."
    )
    reach: float = ratio(
        0.0,
        0.0,
        1.0,
        "How far along the waist from center front to the side seam the front laps over, as a "
        "share; 1 is to the side seam. 0 goes by overlap and break_above_bust.",
    )
    edge_mm: float = length(
        65, 35, 90, "With reach: height of the front edge at its end, for ties or buttons."
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Redraw the front whose neckline and front edge the runs `neck` and `front-edge` name."""
        front = open_front(drafting)
        name = front.piece.name
        lap, corner = self._lap(drafting, front)
        start = front.neck_point
        down = front.piece.edge("neck").start_tangent
        chord = (corner - start).unit
        bend = down.cross(chord) / max(down.dot(chord), 1e-6) * HOLLOW_SHARE
        slant = cubic_between(start, down, corner, (chord + chord.left * bend).unit)
        center = first_crossing(slant, straight(Point(0.0, front.foot_y), Point(0.0, start.y)))
        neck, stand = slant.split(center.first_mm)
        piece = front.redrawn(
            lap,
            {"neck": neck, "neck-stand": stand, "front-edge": straight(corner, lap.start)},
            (),
            {
                "center front neck": neck.end,
                "break point": corner,
                **({REACH_POINT: lap.start} if self.reach else {}),
            },
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

    def _lap(self, drafting: Drafting, front: OpenFront) -> tuple[Path, Point]:
        """The lower edge of what laps over, and the point where the fronts part."""
        if not self.reach:
            corner = front.break_point(self.break_above_bust_mm, self.overlap_mm, drafting.name)
            return front.level_lap(self.overlap_mm), corner
        lap = lap_over(drafting, front, self.reach)
        return lap, lap.start + lap.start_tangent.left * self.edge_mm
