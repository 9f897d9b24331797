"""The shirt collar: a stand that closes with a button at the neck, and a fall sewn into it.

Both are drawn as halves: center back on the fold at x = 0, the edge toward the neck below. The
stand rises toward the front, the edge of the fall that is sewn to it drops: so the outer edge is
longer than the stand, and the collar turns down over it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.closings.buttonhole import (
    BEYOND_BUTTON_MM,
    HOLE_CLEAR_MM,
    SMALL_BUTTON_THICKNESS_MM,
    buttonhole_mm,
)
from clothwise.components.closings.buttons import Lap
from clothwise.components.collars.collar_lines import (
    bent_edge,
    make_collar,
    neck_without_lapels,
    outer_edge,
    outer_seam,
    seams_across,
)
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.finishes.fusing import fuse, interfaced_single
from clothwise.components.parameter import angle, choice, length
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, Vector, cubic_between, join, straight
from clothwise.pattern.graph import EdgeCare, Layer, Match, Pressing, Run, Seam, run
from clothwise.pattern.junctions import SeamCorners
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import (
    Caution,
    Highlight,
    Notion,
    NotionUnit,
    Operation,
    Station,
)
from clothwise.pattern.pattern import Contribution, Pattern
from clothwise.pattern.piece import Grainline, Piece, Side, single

COVERS_MM = 8.0
"""The fall is at least this much deeper than the stand, so that it covers the neck seam; own."""

ROUND_SHARE = 0.8
"""The front end of the stand is rounded over at most this share of its height; our own choice."""

CLOSES = "collar closing"
"""Name of the button and buttonhole of the stand, by which they are paired."""


@dataclass(frozen=True)
class ShirtCollar(Component):
    """Collar with points on a stand that buttons at the neck, for a front that opens."""

    kind: ClassVar[str] = "shirt-collar"
    family: ClassVar[Family] = Family.COLLAR

    stand_mm: float = length(30, 22, 36, "Height of the stand at center back.")
    stand_front_mm: float = length(26, 24, 36, "Height of the stand at center front.")
    rise_mm: float = length(14, 0, 40, "How far the stand's neck edge rises to center front.")
    width_mm: float = length(45, 38, 80, "Height of the fall at center back.")
    fall_mm: float = length(20, 0, 50, "How far the fall's inner edge drops to center front.")
    point_mm: float = length(66, 35, 120, "Length of the front edge of the fall.")
    spread_rad: float = angle(
        math.radians(20), math.radians(-10), math.radians(50), "How far the points lean forward."
    )
    turn_of_cloth_mm: float = length(2, 0, 5, "What the upper collar is larger, to roll over.")
    diameter_mm: float = length(11, 8, 14, "Diameter of the button of the stand.")
    lap: Lap = choice(Lap.RIGHT_OVER_LEFT, "Which end of the stand lies on top.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft stand and fall to the run named `neck-edge`, and sew or catch the stand in it."""
        name = drafting.name
        neck = drafting.pattern.run_length(neck_without_lapels(drafting))
        neck_edge = _open_neck(drafting)
        whole = drafting.pattern.run_length(neck_edge)
        if self.width_mm < self.stand_mm + COVERS_MM:
            raise ComponentError(
                "the collar does not cover its stand",
                where=name,
                how_much=f"{self.width_mm:.0f} mm deep over a stand of {self.stand_mm:.0f} mm",
                what_to_do=f"Make width {self.stand_mm + COVERS_MM:.0f} mm or more, "
                "or lower the stand.",
            )
        lines = self._stand_lines(neck, whole - neck)
        outer = self._stand(drafting, lines, "stand", "Collar stand, outer")
        inner = self._stand(drafting, lines, "stand-inner", "Collar stand, inner")
        along = outer.edge("upper").length
        under = self._fall(drafting, "under", "Under collar", along, 0.0)
        upper = self._fall(drafting, "upper", "Upper collar", along, self.turn_of_cloth_mm)
        stands = tuple(
            Layer(run(f"-{piece.name}.neck"), span=(0.0, whole)) for piece in (outer, inner)
        )
        is_faced = "neck" in drafting.pattern.seams
        seams = (outer_seam(drafting, upper, under), _stand_seam(drafting, outer, inner))
        return Contribution(
            pieces=(outer, inner, upper, under),
            seams=seams if is_faced else (*seams, _neck_seam(drafting, neck_edge, stands)),
            catches={"neck": stands} if is_faced else {},
            notions=(
                Notion(
                    "buttons",
                    1,
                    NotionUnit.PIECES,
                    f"{self.diameter_mm:.0f} mm across, for the collar stand",
                    name,
                ),
            ),
            operations=(
                *_making(name),
                _basting(drafting, neck_edge) if is_faced else _attaching(name),
                self._closing_step(name),
            ),
        )

    def _stand_lines(self, neck_mm: float, stand_mm: float) -> dict[str, Path]:
        """Edges of the stand; it goes on straight beyond center front, and is rounded there."""
        neck = bent_edge(neck_mm, self.rise_mm)
        heading, up = neck.end_tangent, neck.end_tangent.left
        foot = neck.end + heading * stand_mm
        top = neck.end + up * self.stand_front_mm
        bend = min(stand_mm, ROUND_SHARE * self.stand_front_mm)
        low = foot + up * (self.stand_front_mm - bend)
        high = top + heading * (stand_mm - bend)
        end = [straight(foot, low), cubic_between(low, up, high, -heading)]
        if stand_mm > bend:
            end.append(straight(high, top))
        back = Point(0.0, self.stand_mm)
        return {
            "neck": join(neck, straight(neck.end, foot)),
            "end": join(*end),
            "upper": cubic_between(top, -heading, back, Vector(-1.0, 0.0)),
            "center": straight(back, Point(0.0, 0.0)),
        }

    def _stand(self, drafting: Drafting, lines: dict[str, Path], word: str, title: str) -> Piece:
        is_outer = word == "stand"
        top = lines["upper"].start
        center = lines["neck"].point_at(lines["neck"].nearest(top))
        return Piece(
            name=f"{drafting.name}-{word}",
            title=title,
            outline=Outline(lines),
            grain=Grainline(Point(0.0, 0.9 * self.stand_mm), Point(0.0, 0.1 * self.stand_mm)),
            copies=interfaced_single(drafting) if is_outer else single(drafting.role),
            component=drafting.name,
            drawn_side=Side.RIGHT,
            fold_edge="center",
            marks=(
                Mark(MarkKind.DOT, "end of the collar", at=top),
                *(self._closing(drafting, lines, center, top) if is_outer else ()),
            ),
            points={"center front": center},
        )

    def _closing(
        self, drafting: Drafting, lines: dict[str, Path], center: Point, top: Point
    ) -> Iterator[Mark]:
        """The button on center front at half the height, the buttonhole over it."""
        above, below = ("right", "left") if self.lap is Lap.RIGHT_OVER_LEFT else ("left", "right")
        place = center.toward(top, 0.5)
        forward = (center - top).unit.left
        start = place + forward * BEYOND_BUTTON_MM
        hole = straight(start, start - forward * self._hole_mm)
        clear = min(
            end.distance(edge.point_at(edge.nearest(end)))
            for end in (hole.start, hole.end)
            for edge in (lines["neck"], lines["end"], lines["upper"])
        )
        needed = drafting.neck_allowance_mm + HOLE_CLEAR_MM
        if clear < needed:
            raise ComponentError(
                "the buttonhole of the collar stand has no room",
                where=drafting.name,
                how_much=f"{clear:.1f} mm from the seam around it, {needed:.1f} mm needed",
                what_to_do="Widen the button_stand of the front, make the stand higher at the "
                "front, or lower neck_allowance.",
            )
        yield Mark(MarkKind.BUTTON, CLOSES, at=place, size_mm=self.diameter_mm, only_side=below)
        yield Mark(MarkKind.BUTTONHOLE, CLOSES, path=hole, only_side=above)
        yield Mark(MarkKind.CENTER_LINE, "center front", path=straight(top, center))

    @property
    def _hole_mm(self) -> float:
        """Length of the buttonhole."""
        return buttonhole_mm(self.diameter_mm, SMALL_BUTTON_THICKNESS_MM)

    def _fall(
        self, drafting: Drafting, word: str, title: str, along_mm: float, larger_mm: float
    ) -> Piece:
        """A fall as long as the stand; larger at the outer edge and the front by what is asked."""
        edge = bent_edge(along_mm, -self.fall_mm)
        heading = edge.end_tangent
        out = heading.left.turned(-self.spread_rad)
        tip = edge.end + out * (self.point_mm + larger_mm) + heading * larger_mm
        top = Point(0.0, self.width_mm + larger_mm)
        return Piece(
            name=f"{drafting.name}-{word}",
            title=title,
            outline=Outline(
                {
                    "stand": edge,
                    "end": straight(edge.end, tip),
                    "outer": outer_edge(tip, top),
                    "center": straight(top, Point(0.0, 0.0)),
                }
            ),
            grain=Grainline(Point(0.0, 0.9 * top.y), Point(0.0, 0.1 * top.y)),
            copies=interfaced_single(drafting)
            if larger_mm or word == "upper"
            else single(drafting.role),
            component=drafting.name,
            drawn_side=Side.RIGHT,
            fold_edge="center",
        )

    def _closing_step(self, name: str) -> Operation:
        return Operation(
            name=f"{name}-button",
            title="Make the buttonhole of the collar stand and sew on its button",
            text="Work the buttonhole, {hole} long, along the middle of the end of the stand "
            "that lies on top, after a trial on a scrap of the same layers; cut it open from both "
            "ends toward the middle. Sew the button to the other end, on the center line.",
            after=("neck",),
            shows=(f"{name}-stand",),
            minutes=10,
            cautions=(Caution.NEEDLE, Caution.BLADE),
            station=Station.MACHINE,
            highlight=Highlight.MARKS,
            values=(("hole", self._hole_mm),),
            component=name,
        )


def _open_neck(drafting: Drafting) -> Run:
    """The neck edge of a front that opens, from the front edge to center back.

    Raises:
        ComponentError: the front is closed, or a facing covers less than the neck edge.
    """
    pattern = drafting.pattern
    edge = pattern.named_run("neck-edge", drafting.name)
    pattern.named_run("front-edge", drafting.name)
    if "neck" in pattern.seams:
        faced = pattern.run_length(pattern.seams["neck"].layers[0].run)
        if abs(faced - pattern.run_length(edge)) > 0.5:
            raise ComponentError(
                "the neck seam does not reach from the front edge to center back",
                where=drafting.name,
                how_much=f"{faced:.0f} mm of {pattern.run_length(edge):.0f} mm",
                what_to_do="Use a facing that covers the whole neck edge, or none at the neck.",
            )
    return edge


def _stand_seam(drafting: Drafting, outer: Piece, inner: Piece) -> Seam:
    """Front ends and upper edges of the stands, the collar between them from center front on."""
    name = drafting.name
    end = outer.edge("end").length
    span = (end, end + outer.edge("upper").length)
    return Seam(
        name=f"{name}-stand",
        title="upper edge of the collar stand",
        layers=(
            Layer(run(f"{outer.name}.end", f"{outer.name}.upper")),
            Layer(run(f"{inner.name}.end", f"{inner.name}.upper")),
            Layer(run(f"-{name}-under.stand"), span=span),
            Layer(run(f"-{name}-upper.stand"), span=span),
        ),
        allowance_mm=drafting.neck_allowance_mm,
        pressing=Pressing.TURNED,
        care=EdgeCare.NONE,
        matches=(Match("end of the collar", (end, end, 0.0, 0.0), NotchKind.NONE),),
        component=name,
    )


def _neck_seam(drafting: Drafting, neck_edge: Run, stands: tuple[Layer, ...]) -> Seam:
    """The neck edge between the stands, where no facing is sewn to it."""
    pattern = drafting.pattern
    front = pattern.run_length(neck_edge) - pattern.run_length(pattern.runs["neck"])
    reach, under = (Layer(neck_edge), *stands), _band_under(pattern)
    beyond = max([front, *(layer.span[1] for layer in under if layer.span)]) + 1.0
    joins = [at for at in seams_across(pattern, neck_edge) if at > beyond]
    return Seam(
        name="neck",
        title="neck seam",
        layers=(*reach, *under),
        allowance_mm=drafting.neck_allowance_mm,
        pressing=Pressing.TOWARD_LAST,
        care=EdgeCare.NONE,
        matches=(
            Match("center front", (front,) * (len(reach) + len(under)), NotchKind.SINGLE),
            *(
                Match("shoulder", (at,) * len(reach) + (None,) * len(under), NotchKind.AT_SEAM)
                for at in joins
            ),
        ),
        component=drafting.name,
    )


def _band_under(pattern: Pattern) -> tuple[Layer, ...]:
    """The inner half of a button band, which lies under the outer one at the neck edge."""
    if "neck-under" not in pattern.runs:
        return ()
    under = pattern.runs["neck-under"]
    return (Layer(under, span=(0.0, pattern.run_length(under))),)


def _making(name: str) -> tuple[Operation, ...]:
    return (
        fuse(
            name,
            "Fuse the collar and its stand",
            "Iron the interfacing onto the wrong sides of the upper collar and the outer stand.",
            (f"{name}-upper", f"{name}-stand"),
            8,
        ),
        make_collar(name),
        Operation(
            name=f"{name}-stand-on",
            title="Sew the collar between the stands",
            text="Put the collar between the stands, right sides together: the under collar on "
            "the outer stand, the upper collar on the inner one, the ends of the collar at "
            "the dots and center back on center back. Sew front ends and upper edge in one go "
            "with {allowance} allowance, beginning and ending {allowance} from the lower edges. "
            "Grade the allowances, notch the rounded ends, turn and press.",
            does=(f"{name}-stand",),
            after=(f"{name}-outer",),
            minutes=30,
            cautions=(Caution.IRON, Caution.BLADE),
            component=name,
        ),
    )


def _basting(drafting: Drafting, neck_edge: Run) -> Operation:
    """Before a facing is sewn on over it."""
    name = drafting.name
    shoulders = {
        seam
        for junction in SeamCorners(drafting.pattern).junctions(neck_edge, "neck")
        for seam in junction.seams or ()
    }
    return Operation(
        name=f"{name}-baste",
        title="Baste the collar stand to the neckline",
        text="Baste the lower edges of the stands together. Pin the outer stand to the right "
        "side of the neckline, center front, shoulder seams and center back matched, its ends "
        "exactly at the line on which the front edges will be sewn; clip the neckline where it is "
        "tight, and baste. The facing will go on top.",
        prepares=(f"{name}-stand.neck", f"{name}-stand-inner.neck"),
        after=(f"{name}-stand", *sorted(shoulders)),
        shows=tuple(f"{edge.piece}.{edge.edge}" for edge in neck_edge.edges),
        minutes=12,
        cautions=(Caution.NEEDLE, Caution.BLADE),
        station=Station.HAND,
        component=name,
    )


def _attaching(name: str) -> Operation:
    """Where no facing is sewn to the neckline: the inner stand is stitched down over the seam."""
    return Operation(
        name=f"{name}-attach",
        title="Sew on the collar stand",
        text="Pin the outer stand to the neckline, right sides together, {notches}, shoulder "
        "seams and center back matched, its ends flush with the finished front edges; clip "
        "the neckline where it is tight. Sew with {allowance} allowance and press the seam "
        "into the stand. Turn the edge of the inner stand under along its stitching line, "
        "lay it over the seam inside, pin, and stitch it down close to the fold.",
        does=("neck",),
        after=(f"{name}-stand",),
        minutes=35,
        cautions=(Caution.IRON, Caution.BLADE, Caution.NEEDLE),
        component=name,
    )
