"""The off-shoulder sleeve: flared, its own top edge around the upper arm, held by a strapless top.

Under the arm its top bends as the upper edge of the bodice does, to which it is fastened in front
and behind; from there it runs on in one bend around the outside of the arm. Drawn for the wearer's
left arm, right side up: front toward smaller x, the ends of the top on y = 0.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum
from functools import cached_property
from typing import ClassVar

from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.hems.hem import double_hem
from clothwise.components.parameter import angle, choice, count, length, ratio
from clothwise.components.sleeves.detachable_closing import Closing
from clothwise.components.sleeves.off_shoulder_holding import Holding, TopEdge, top_edge_of
from clothwise.components.sleeves.off_shoulder_sewing import making_steps
from clothwise.components.sleeves.sleeve_facing import facing_seam, lower_finish, top_seam
from clothwise.components.sleeves.sleeve_shape import underarm_seam
from clothwise.errors import ComponentError
from clothwise.geometry import (
    Outline,
    Path,
    Point,
    angle_between,
    arc,
    cubic_between,
    join,
    offset_path,
    polar,
    straight,
)
from clothwise.pattern.graph import (
    Match,
    Seam,
    run,
)
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import Notion, NotionUnit
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Grainline, Piece, Ply, Side, pair

FACING_MM = 30.0
"""Depth of the facing of the top edge: room for a casing; our own choice."""

HEADER_MM = 4.0
"""The casing of the elastic begins this far below the edge; our own choice."""

CASING_EASE_MM = 3.0
"""A casing is this much wider than its elastic, or it cannot be drawn through; our own choice."""

ELASTIC_ENDS_MM = 20.0
"""Elastic that is caught at both ends beyond the casing; our own choice."""

END_CLEAR_MM = 12.0
"""The elastic ends this far beyond the outermost fastening; our own choice."""

LEAST_OVER_SHARE = 0.4
"""At least this share of the finished top goes over the arm, or it would not hold; our own."""

LEAST_SEAM_MM = 60.0
"""The sleeve seam is at least this long; our own choice."""

STRAIGHT_RAD = 1e-4
"""What bends by less is drawn straight; rounding."""

RADIUS_ROUNDS = 50
"""Halvings in which the width of a length is found: far below rounding."""


class TopFinish(Enum):
    """How the top edge of the sleeve is held to the arm."""

    ELASTIC = "elastic"
    FACED = "faced"


@dataclass(frozen=True)
class OffShoulderSleeve(Component):
    """Flared sleeve around the upper arm, fastened to the upper edge of a strapless bodice."""

    kind: ClassVar[str] = "off-shoulder-sleeve"
    family: ClassVar[Family] = Family.ARMHOLE

    length_mm: float = length(
        260, 140, 620, "From its top to the finished hem, on the outside of the arm."
    )
    flare_rad: float = angle(
        math.radians(12), math.radians(3), math.radians(25), "Spread of each seam edge."
    )
    upper_arm_ease_mm: float = length(
        40, 10, 80, "Finished top beyond the upper arm girth; 38 mm and more in wovens."
    )
    top: TopFinish = choice(
        TopFinish.ELASTIC, "What holds the top to the arm: elastic over the arm, or a firm facing."
    )
    fullness: float = ratio(
        1.5, 1.2, 2.0, "Cut top over the arm, as a multiple of the finished, with elastic."
    )
    elastic_mm: float = length(10, 6, 18, "Width of the elastic.")
    shorter: float = ratio(
        0.1, 0.0, 0.2, "By what share the elastic is shorter than what it shall hold."
    )
    closing: Closing = choice(Closing.BUTTONS, "What holds it to the bodice: buttons or ties.")
    number: int = count(2, 1, 3, "Buttons or ties in front, and as many behind.")
    spacing_mm: float = length(26, 20, 40, "From one button or tie to the next.")
    diameter_mm: float = length(12, 9, 18, "Diameter of a button.")
    tie_mm: float = length(220, 120, 300, "Length of one tie; two are knotted at each place.")
    hem_depth_mm: float = length(10, 5, 40, "Height of the finished hem; less, the more it flares.")
    hem_turn_mm: float = length(6, 4, 20, "What is turned in first.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the sleeve for the run named `top`, and mark what holds it on both."""
        name = drafting.name
        edge = top_edge_of(drafting)
        around = drafting.body["upper_arm_girth"] + self.upper_arm_ease_mm
        holding = Holding(self.closing, self.number, self.spacing_mm, self.diameter_mm, self.tie_mm)
        clear = END_CLEAR_MM if self.top is TopFinish.ELASTIC else 0.0
        held = holding.held(drafting, edge, around, clear)
        top = self._top(drafting, edge, (held[0] - clear, held[-1] + clear), around)
        line = top.path()
        sleeve = self._sleeve(drafting, top, holding.on_sleeve(line, edge, held))
        facing = self._facing(drafting, line)
        hem, hem_work = double_hem(
            f"{name}-hem",
            "sleeves",
            run(f"{name}.hem", closed=True),
            self.hem_depth_mm,
            self.hem_turn_mm,
            component=name,
        )
        on_bodice = holding.on_garment(drafting, edge, held)
        elastic = self._elastic(top) if self.top is TopFinish.ELASTIC else 0.0
        return Contribution(
            pieces=(sleeve, facing),
            seams=(
                underarm_seam(drafting, sleeve),
                facing_seam(drafting, facing),
                _top_seam(drafting, line, sleeve, facing, edge, held),
            ),
            finishes=(lower_finish(name, facing), hem),
            marks=on_bodice,
            notions=(*holding.notions(name), *self._elastic_notion(name, elastic)),
            operations=(
                *making_steps(name, facing.name, elastic, self._casing_mm),
                hem_work,
                *holding.steps(drafting, edge, on_bodice),
            ),
        )

    @property
    def _casing_mm(self) -> tuple[float, float]:
        """Where the casing is stitched, from the top edge."""
        return HEADER_MM, HEADER_MM + self.elastic_mm + CASING_EASE_MM

    def _top(
        self, drafting: Drafting, edge: TopEdge, ends: tuple[float, float], around: float
    ) -> Top:
        """The top: under the arm as the bodice's edge is, over the arm as wide as asked.

        Raises:
            ComponentError: next to nothing is left for the arm's outside.
        """
        front, back = edge.side_mm - ends[0], ends[1] - edge.side_mm
        over = around - front - back
        if over < LEAST_OVER_SHARE * around:
            raise ComponentError(
                "the top of the sleeve would lie under the arm with most of its length",
                where=drafting.name,
                how_much=f"{front + back:.0f} mm of {around:.0f} mm",
                what_to_do="Give more upper_arm_ease, or take fewer buttons or ties or less "
                "spacing.",
            )
        full = self.fullness if self.top is TopFinish.ELASTIC else 1.0
        turns = _turn_rad(edge.front, front, -1.0), _turn_rad(edge.back, back, 1.0)
        share = min(1.0, self.flare_rad / sum(turns)) if sum(turns) else 1.0
        return Top(
            Under(front, share * turns[0]),
            Under(back, share * turns[1]),
            over,
            full * over,
            self.flare_rad,
        )

    def _elastic(self, top: Top) -> float:
        """Length of one piece, with its ends."""
        return (1.0 - self.shorter) * top.over_mm + ELASTIC_ENDS_MM

    def _elastic_notion(self, name: str, elastic: float) -> tuple[Notion, ...]:
        if not elastic:
            return ()
        return (
            Notion(
                "elastic",
                2 * elastic,
                NotionUnit.LENGTH_MM,
                f"{self.elastic_mm:.0f} mm wide, for both sleeves",
                name,
            ),
        )

    def _sleeve(self, drafting: Drafting, top: Top, marks: tuple[Mark, ...]) -> Piece:
        line = top.path()
        middle = line.point_at(line.length / 2)
        seam = self.length_mm - (middle.y - top.level_y)
        if seam < LEAST_SEAM_MM:
            raise ComponentError(
                "the sleeve has too short a seam under the arm",
                where=drafting.name,
                how_much=f"{seam:.0f} mm, at least {LEAST_SEAM_MM:.0f} mm needed",
                what_to_do=f"Make length {self.length_mm + LEAST_SEAM_MM - seam:.0f} mm or more.",
            )
        hem = top.hem(seam)
        low, high = hem.point_at(hem.length / 2).y, middle.y - FACING_MM
        casing = self._casing(top) if self.top is TopFinish.ELASTIC else ()
        return Piece(
            name=drafting.name,
            title="Off-shoulder sleeve",
            outline=Outline(
                {
                    "hem": hem,
                    "underarm-back": straight(hem.end, line.start),
                    "top": line,
                    "underarm-front": straight(line.end, hem.start),
                }
            ),
            grain=Grainline(
                Point(0.0, low + 0.15 * (high - low)), Point(0.0, low + 0.8 * (high - low))
            ),
            copies=pair(drafting.role, drawn_side=Side.LEFT),
            component=drafting.name,
            drawn_side=Side.LEFT,
            marks=(*marks, *casing),
            points={"cap top": middle},
        )

    def _casing(self, top: Top) -> tuple[Mark, ...]:
        """The stitching of the casing over the arm, and across it where the elastic ends."""
        low = self._casing_mm[1]
        over = top.over()
        along = tuple(
            Mark(MarkKind.STITCHING_LINE, "casing", path=offset_path(over, inside))
            for inside in self._casing_mm
        )
        ends = tuple(
            Mark(
                MarkKind.STITCHING_LINE,
                "end of the elastic",
                path=straight(point, point + heading.left * low),
            )
            for point, heading in (
                (over.start, over.start_tangent),
                (over.end, over.end_tangent),
            )
        )
        return (*along, *ends)

    def _facing(self, drafting: Drafting, line: Path) -> Piece:
        """A band along the top, closed under the arm as the sleeve is; fused if it is firm."""
        inner = offset_path(line, FACING_MM)
        middle = line.point_at(line.length / 2)
        fused = (
            pair(drafting.interfacing_role, drawn_side=Side.LEFT, ply=Ply.INTERFACING)
            if self.top is TopFinish.FACED
            else ()
        )
        return Piece(
            name=f"{drafting.name}-facing",
            title="Facing of the sleeve top",
            outline=Outline(
                {
                    "end-back": straight(inner.start, line.start),
                    "top": line,
                    "end-front": straight(line.end, inner.end),
                    "inner": inner.reversed(),
                }
            ),
            grain=Grainline(
                Point(middle.x, middle.y - 0.8 * FACING_MM),
                Point(middle.x, middle.y - 0.2 * FACING_MM),
            ),
            copies=(*pair(drafting.role, drawn_side=Side.LEFT), *fused),
            component=drafting.name,
            drawn_side=Side.LEFT,
        )


@dataclass(frozen=True)
class Under:
    """A stretch of the top under the arm, from the seam: how long it is, how far it bends up."""

    length_mm: float
    turn_rad: float


def _turn_rad(edge: Path, until_mm: float, way: float) -> float:
    """How far the edge of the bodice bends up from the side seam to a place; never down.

    `way` is 1 if the cloth lies to the right of travel, below an edge that leads to greater x.
    """
    return max(way * angle_between(edge.start_tangent, edge.tangent_at(until_mm)), 0.0)


@dataclass(frozen=True)
class Top:
    """The top edge, flat: what lies along the bodice at both ends, and what goes over the arm.

    `front` and `back` bend as the edge of the bodice does, but evenly, and together by no more than
    `flare_rad`, so that the whole bends one way. `over_mm` is finished, `cut_mm` as it is cut. The
    seam edges spread by `flare_rad`, and both ends are square to them.
    """

    front: Under
    back: Under
    over_mm: float
    cut_mm: float
    flare_rad: float

    def path(self) -> Path:
        """From the seam at the back over the arm to the seam at the front."""
        return join(*self._parts(self._radius_mm))

    def over(self) -> Path:
        """The middle part of it, over the arm."""
        return self._parts(self._radius_mm)[1]

    @property
    def level_y(self) -> float:
        """How high the middle of an arc lies that is square to both seam edges."""
        radius = self._radius_mm
        return self._center(radius).y - radius

    def hem(self, seam_mm: float) -> Path:
        """The hem, from the front to the back, square to both seam edges."""
        radius = self._radius_mm
        down = -math.pi / 2
        return arc(
            self._center(radius), radius + seam_mm, down - self.flare_rad, down + self.flare_rad
        )

    @cached_property
    def _radius_mm(self) -> float:
        """The radius of the arc at which the top has its length."""
        wanted = self.front.length_mm + self.back.length_mm + self.cut_mm
        low, high = 0.3 * wanted / self.flare_rad, 0.5 * wanted / self.flare_rad
        for _ in range(RADIUS_ROUNDS):
            middle = (low + high) / 2
            if sum(part.length for part in self._parts(middle)) < wanted:
                low = middle
            else:
                high = middle
        return (low + high) / 2

    def _center(self, radius: float) -> Point:
        return Point(0.0, radius * math.cos(self.flare_rad))

    def _parts(self, radius: float) -> tuple[Path, Path, Path]:
        back = self._under(self.back, radius, 1.0)
        front = self._under(self.front, radius, -1.0).reversed()
        over = cubic_between(back.end, back.end_tangent, front.start, front.start_tangent)
        return back, over, front

    def _under(self, stretch: Under, radius: float, way: float) -> Path:
        """From the end of the seam, square to it: at the back with `way` 1, in front with -1."""
        foot = self._center(radius) + polar(radius, -math.pi / 2 + way * self.flare_rad)
        inward = polar(1.0, math.pi / 2 + way * (math.pi / 2 + self.flare_rad))
        if stretch.turn_rad < STRAIGHT_RAD:
            return straight(foot, foot + inward * stretch.length_mm)
        bend = stretch.length_mm / stretch.turn_rad
        up = inward.left * -way
        start = (-up).angle
        return arc(foot + up * bend, bend, start, start - way * stretch.turn_rad)


def _top_seam(
    drafting: Drafting,
    line: Path,
    sleeve: Piece,
    facing: Piece,
    edge: TopEdge,
    held: tuple[float, ...],
) -> Seam:
    """Sleeve and facing, from the seam under the arm along the front; notched where it is held."""
    front, back = edge.side_mm - held[0], line.length - (held[-1] - edge.side_mm)
    matches = (
        Match("front", (front, front), NotchKind.SINGLE),
        Match("back", (back, back), NotchKind.DOUBLE),
    )
    return top_seam(drafting, "top edge of the off-shoulder sleeve", sleeve, facing, matches)
