"""The detachable sleeve: its top edge is faced, and buttoned or tied to a finished armhole.

Buttoned, it lies over the armhole's edge by `lap`: its top is drawn that far outside a cap for this
armhole, and runs into the cap under the arm, where it hangs free. Tied, it ends at the cap.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.hems.hem import double_hem
from clothwise.components.parameter import angle, choice, count, length, ratio
from clothwise.components.sleeves.detachable_closing import Closing, Fastening
from clothwise.components.sleeves.sleeve_cap import (
    NOTCH_SHARE,
    Armhole,
    Cap,
    CapAsked,
    armhole_of,
    fitted_cap,
)
from clothwise.components.sleeves.sleeve_facing import (
    closing_steps,
    facing_seam,
    fusing_step,
    lower_finish,
    top_seam,
)
from clothwise.components.sleeves.sleeve_shape import (
    arc_edge,
    constant_lean,
    flared_seam_height,
    seam_step,
    underarm_seam,
)
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, smooth_through, straight
from clothwise.pattern.graph import (
    Match,
    Pressing,
    Seam,
    run,
)
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import Caution, Operation
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Grainline, Piece, Ply, Side, pair

FACING_INSIDE_MM = 22.0
"""The facing reaches this far below the edge of the armhole; our own choice."""


@dataclass(frozen=True)
class DetachableSleeve(Component):
    """Sleeve with a faced top edge, to be buttoned or tied to a bound or faced armhole."""

    kind: ClassVar[str] = "detachable-sleeve"
    family: ClassVar[Family] = Family.ARMHOLE

    length_mm: float = length(300, 240, 700, "From the armhole's edge at the shoulder to the hem.")
    flare_rad: float = angle(math.radians(10), 0.0, math.radians(25), "Spread of each seam edge.")
    cap_height: float = ratio(0.28, 0.2, 0.34, "Height of the cap as a share of the armhole.")
    upper_arm_ease_mm: float = length(40, 0, 120, "Room beyond the upper arm, at least.")
    loose_mm: float = length(
        24, 0, 60, "What its top is longer than the armhole, all of it under the arm."
    )
    closing: Closing = choice(Closing.BUTTONS, "What holds it: buttons or ties.")
    number: int = count(2, 2, 4, "Buttons or ties on each side of the shoulder seam.")
    lap_mm: float = length(26, 24, 40, "How far it lies over the armhole's edge, if buttoned.")
    diameter_mm: float = length(12, 9, 18, "Diameter of a button.")
    tie_mm: float = length(200, 120, 300, "Length of one tie; two are knotted at each place.")
    hem_depth_mm: float = length(10, 5, 40, "Height of the finished hem; less, the more it flares.")
    hem_turn_mm: float = length(6, 4, 20, "What is turned in first.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the sleeve to the run named `armhole`, and mark what holds it on both."""
        name = drafting.name
        _refuse_strapless(drafting)
        armhole = armhole_of(drafting, is_sewn_in=False)
        _refuse_sewn_in(drafting, armhole)
        asked = CapAsked(
            self.loose_mm,
            self.cap_height,
            drafting.body["upper_arm_girth"] + self.upper_arm_ease_mm,
        )
        cap = fitted_cap(drafting, armhole, asked, constant_lean(-self.flare_rad))
        fastening = Fastening(
            self.closing, self.number, self._lap_mm, self.diameter_mm, self.tie_mm
        )
        places = fastening.places(drafting, armhole)
        sleeve = self._sleeve(drafting, cap, fastening.on_sleeve(cap, places))
        facing = self._facing(drafting, cap, sleeve)
        hem, hem_work = double_hem(
            f"{name}-hem",
            "sleeves",
            run(f"{name}.hem", closed=True),
            self.hem_depth_mm,
            self.hem_turn_mm,
            component=name,
        )
        return Contribution(
            pieces=(sleeve, facing),
            seams=(
                underarm_seam(drafting, sleeve),
                facing_seam(drafting, facing),
                _top_seam(drafting, armhole, sleeve, facing),
            ),
            finishes=(lower_finish(name, facing), hem),
            marks=fastening.on_garment(drafting, armhole, places),
            notions=fastening.notions(name, len(places)),
            operations=(*_operations(name, facing), hem_work, *fastening.steps(drafting)),
        )

    @property
    def _lap_mm(self) -> float:
        """Ties hold edge to edge."""
        return self.lap_mm if self.closing is Closing.BUTTONS else 0.0

    def _sleeve(self, drafting: Drafting, cap: Cap, marks: tuple[Mark, ...]) -> Piece:
        """The sleeve, its seam edges running on to the top."""
        top = _beside_cap(cap, self._lap_mm, 0.0) if self._lap_mm else cap.path()
        hem = arc_edge(cap, flared_seam_height(drafting, cap, self.length_mm))
        low = hem.point_at(hem.length / 2)
        high = cap.height_mm
        edge = Mark(MarkKind.PLACEMENT_LINE, "edge of the armhole", path=cap.path())
        return Piece(
            name=drafting.name,
            title="Detachable sleeve",
            outline=Outline(
                {
                    "hem": hem,
                    "underarm-back": straight(hem.end, top.start),
                    "top": top,
                    "underarm-front": straight(top.end, hem.start),
                }
            ),
            grain=Grainline(
                Point(0.0, low.y + 0.15 * (high - low.y)), Point(0.0, low.y + 0.7 * (high - low.y))
            ),
            copies=pair(drafting.role, drawn_side=Side.LEFT),
            component=drafting.name,
            drawn_side=Side.LEFT,
            marks=(edge, *marks) if self._lap_mm else marks,
            points={"cap top": cap.top},
        )

    def _facing(self, drafting: Drafting, cap: Cap, sleeve: Piece) -> Piece:
        """A band along the top, closed under the arm as the sleeve is."""
        top = sleeve.edge("top")
        inner = _facing_edge(cap)
        middle = _middle(top).toward(_middle(inner), 0.5)
        reach = 0.3 * (FACING_INSIDE_MM + self._lap_mm)
        return Piece(
            name=f"{drafting.name}-facing",
            title="Facing of the sleeve top",
            outline=Outline(
                {
                    "end-back": straight(inner.start, top.start),
                    "top": top,
                    "end-front": straight(top.end, inner.end),
                    "inner": inner.reversed(),
                }
            ),
            grain=Grainline(Point(middle.x, middle.y - reach), Point(middle.x, middle.y + reach)),
            copies=(
                *pair(drafting.role, drawn_side=Side.LEFT),
                *pair(drafting.interfacing_role, drawn_side=Side.LEFT, ply=Ply.INTERFACING),
            ),
            component=drafting.name,
            drawn_side=Side.LEFT,
        )


def _beside_cap(cap: Cap, outside_mm: float, at_ends_mm: float) -> Path:
    """A line outside the cap by a width over the shoulder and by another under the arm."""
    line = cap.path()
    segments = [Path((segment,)) for segment in line.segments]
    between = [part.start - part.start_tangent.left * outside_mm for part in segments[1:]]
    return smooth_through(
        [
            line.start - line.start_tangent.left * at_ends_mm,
            *between,
            line.end - line.end_tangent.left * at_ends_mm,
        ],
        start_tangent=line.start_tangent,
        end_tangent=line.end_tangent,
    )


def _facing_edge(cap: Cap) -> Path:
    """The lower edge of the facing: a bell inside the cap, as far from it at its ends and top."""
    line, top = cap.path(), Point(0.0, cap.height_mm - FACING_INSIDE_MM)
    return smooth_through(
        [
            line.start + line.start_tangent.left * FACING_INSIDE_MM,
            top,
            line.end + line.end_tangent.left * FACING_INSIDE_MM,
        ],
        start_tangent=line.start_tangent,
        end_tangent=line.end_tangent,
    )


def _middle(path: Path) -> Point:
    return path.point_at(path.length / 2)


def _refuse_strapless(drafting: Drafting) -> None:
    runs = drafting.pattern.runs
    if "armhole" not in runs and "top" in runs:
        raise ComponentError(
            "a detachable sleeve is held by an armhole, and this bodice is strapless",
            where=drafting.name,
            how_much=f"its upper edge runs over {', '.join(runs['top'].pieces)}",
            what_to_do="Take an off-shoulder-sleeve, which is held by the upper edge.",
        )


def _refuse_sewn_in(drafting: Drafting, armhole: Armhole) -> None:
    pattern: Pattern = drafting.pattern
    for edge in armhole.run.edges:
        for use in pattern.uses_of(edge.piece, edge.edge):
            if isinstance(use, Seam) and use.pressing is not Pressing.TURNED:
                raise ComponentError(
                    "a detachable sleeve is held by an armhole that is finished by itself, but "
                    "something is sewn into this one",
                    where=drafting.name,
                    how_much=f"the {use.title} of {use.component}",
                    what_to_do="Bind or face the armhole and leave the other sleeve out.",
                )


def _top_seam(drafting: Drafting, armhole: Armhole, sleeve: Piece, facing: Piece) -> Seam:
    """Sleeve and facing, travelled from the front as an armhole is."""
    whole = sleeve.edge("top").length
    front = whole * armhole.front_mm / armhole.whole_mm
    places = NOTCH_SHARE * front, whole - NOTCH_SHARE * (whole - front)
    matches = (
        Match("front notch", (places[0],) * 2, NotchKind.SINGLE),
        Match("back notch", (places[1],) * 2, NotchKind.DOUBLE),
    )
    return top_seam(drafting, "top edge of the detachable sleeve", sleeve, facing, matches)


def _operations(name: str, facing: Piece) -> tuple[Operation, ...]:
    return (
        fusing_step(name, facing.name),
        seam_step(name),
        *closing_steps(name, facing.name),
        Operation(
            name=f"{name}-top",
            title="Face the top of the sleeves",
            text="Lay each facing on the top of its sleeve, right sides together, {notches} and "
            "seams matched. Sew all round with {allowance} allowance, without stretching the "
            "edge. Grade the allowances, clip the hollows and notch the rounds, turn the facing "
            "inside and press. Topstitch close to the edge, and catch the facing by hand on the "
            "allowances of the sleeve seam.",
            does=(f"{name}-top",),
            minutes=35,
            cautions=(Caution.IRON, Caution.BLADE, Caution.NEEDLE),
            component=name,
        ),
    )
