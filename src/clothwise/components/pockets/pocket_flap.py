"""The flap over a pocket: an outer and an under layer, sewn on above the pocket and folded down.

Drawn with the middle of its seam at the origin, hanging down.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import Enum

from clothwise.components.closings.buttonhole import buttonhole_mm
from clothwise.components.component import Drafting
from clothwise.components.parameter import choice, length
from clothwise.components.pockets.pocket_placing import Placed, PlacedPocket
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Path, Point, Transform, fillet, join, straight
from clothwise.pattern.graph import (
    EdgeCare,
    Layer,
    Match,
    Placement,
    Pressing,
    Seam,
    run,
)
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import (
    Caution,
    Highlight,
    Notion,
    NotionUnit,
    Operation,
)
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Copy, Grainline, Piece, Ply, Side

__all__ = ["Flap", "FlapKind", "FlappedPocket"]

ALLOWANCE_MM = 8.0
"""Allowance round a flap, and of its seam to the host; our own choice."""

TURN_OF_CLOTH_MM = 1.5
"""The under layer is smaller by this, so that the seam rolls under; our own choice."""

WIDER_MM = 3.0
"""A flap is wider than its pocket by this on each side; our own choice."""

ABOVE_MM = 14.0
"""The seam of the flap lies this far above the pocket; our own choice."""

TOPSTITCHED_MM = 8.0
"""The folded flap is stitched this far below its fold, over what was trimmed; our own choice."""

TRIMMED_MM = 5.0
"""What is left of the allowance under that stitching."""

HOLE_CLEAR_MM = 3.0
"""A buttonhole ends this far inside the allowance of the edge below it; our own choice."""

FROM_HOLE_END_MM = 3.0
"""A button lies this far from the lower end of an upright buttonhole; the flap pulls it there."""

LEAST_BUTTON_SHARE = 1.0
"""A button lies at least its diameter below the edge of the pocket; our own choice."""

MOST_OF_POCKET = 0.6
"""A flap covers at most this share of its pocket; our own choice."""


STEEPEST_SIDE = 0.04
"""The under flap draws in toward its lower edge by this share of its side at most, so that its top
stays square (2.3 degrees)."""


class FlapKind(Enum):
    """How a pocket is covered."""

    NONE = "none"
    PLAIN = "plain"
    BUTTONED = "buttoned"


@dataclass(frozen=True)
class Flap:
    """What is asked of the flap of a pocket that is `pocket_width_mm` wide when sewn on."""

    kind: FlapKind
    pocket_width_mm: float
    pocket_height_mm: float
    height_mm: float
    point_mm: float
    corner_mm: float
    diameter_mm: float
    thickness_mm: float

    @property
    def is_there(self) -> bool:
        """True if there is a flap."""
        return self.kind is not FlapKind.NONE

    @property
    def width_mm(self) -> float:
        """Finished width."""
        return self.pocket_width_mm + (2 * WIDER_MM if self.is_there else 0.0)

    @property
    def above_mm(self) -> float:
        """How far it reaches above the pocket."""
        return ABOVE_MM if self.is_there else 0.0

    @property
    def drop_mm(self) -> float:
        """From its seam to its lowest point."""
        most = ABOVE_MM + MOST_OF_POCKET * self.pocket_height_mm
        return min(self.height_mm, most)

    @property
    def _point(self) -> float:
        return min(self.point_mm, 0.5 * self.drop_mm, 0.4 * self.width_mm)

    def contribution(self, drafting: Drafting, placed: Placed) -> Contribution:
        """The flap on its host; nothing if there is none.

        Raises:
            ComponentError: there is no room for the button.
        """
        if not self.is_there:
            return Contribution()
        name = drafting.name
        called = placed.host.pocket.capitalize()
        upper = self._piece(drafting, placed, f"{name}-flap", f"{called} flap", 0.0)
        under = self._piece(
            drafting, placed, f"{name}-flap-under", f"{called} under flap", TURN_OF_CLOTH_MM
        )
        edge = _edge_seam(drafting, upper, under)
        placements: list[Placement] = []
        marks: dict[str, tuple[Mark, ...]] = {}
        for spot in placed.spots:
            onto = Transform.shift(spot.top.x, spot.top.y + ABOVE_MM)
            placements.append(
                Placement(
                    name=f"{name}-flap-placement{spot.suffix}",
                    title=f"flap of the pocket on the {placed.host.value}",
                    piece=upper.name,
                    host=spot.host,
                    onto=onto,
                    stitched=run(f"{upper.name}.top", f"-{under.name}.top"),
                    allowance_mm=ALLOWANCE_MM,
                    sides=spot.sides,
                    component=name,
                    along=("top",),
                )
            )
            marks[spot.host] = (
                *marks.get(spot.host, ()),
                Mark(
                    MarkKind.PLACEMENT_LINE,
                    "pocket flap",
                    path=upper.edge("top").transformed(onto),
                    only_side=spot.only_side,
                ),
            )
        return Contribution(
            pieces=(upper, under),
            seams=(edge,),
            placements=tuple(placements),
            marks=marks,
            operations=self._operations(drafting, edge, placed, tuple(placements)),
            notions=(self._notion(name, placed),) if self.kind is FlapKind.BUTTONED else (),
        )

    def button_mark(self, drafting: Drafting) -> tuple[Mark, ...]:
        """The button on the pocket, whose top middle is the origin.

        Raises:
            ComponentError: the flap reaches down too little for it.
        """
        if self.kind is not FlapKind.BUTTONED:
            return ()
        y = ABOVE_MM + self._button_y()
        least = LEAST_BUTTON_SHARE * self.diameter_mm
        if -y < least - 1e-6:
            raise ComponentError(
                "the flap hangs too little over its pocket for the button",
                where=drafting.name,
                how_much=f"the button lies {-y:.0f} mm below the edge of the pocket, at least "
                f"{least:.0f} mm are needed",
                what_to_do="Make the flap or the pocket higher, or take a smaller button.",
            )
        return (
            Mark(
                MarkKind.BUTTON,
                f"{drafting.name} flap",
                at=Point(0.0, y),
                size_mm=self.diameter_mm,
            ),
        )

    @property
    def _hole_mm(self) -> float:
        """Length of the buttonhole."""
        return buttonhole_mm(self.diameter_mm, self.thickness_mm)

    def _hole(self) -> Path:
        """The buttonhole: upright, or level where the flap is too low for that."""
        low = self._low_y()
        high = low + self._hole_mm
        if high <= -(TOPSTITCHED_MM + HOLE_CLEAR_MM):
            return straight(Point(0.0, low), Point(0.0, high))
        y = self._level_y()
        half = self._hole_mm / 2
        return straight(Point(-half, y), Point(half, y))

    def _low_y(self) -> float:
        """Where the lowest end of the hole may lie."""
        return -self.drop_mm + (ALLOWANCE_MM + HOLE_CLEAR_MM) / self._slope_share()

    def _level_y(self) -> float:
        return (
            -self.drop_mm
            + max(0.75 * self.diameter_mm, (ALLOWANCE_MM + HOLE_CLEAR_MM) / self._slope_share())
            + self._point * min(1.0, self._hole_mm / self.width_mm)
        )

    def _slope_share(self) -> float:
        """Distance from the slanted edge, for each mm of height above the point."""
        half = self.width_mm / 2
        return half / math.hypot(half, self._point)

    def _button_y(self) -> float:
        hole = self._hole()
        is_upright = abs(hole.start.x - hole.end.x) < 1e-6
        return hole.start.y + FROM_HOLE_END_MM if is_upright else hole.start.y

    def _piece(
        self, drafting: Drafting, placed: Placed, name: str, title: str, smaller: float
    ) -> Piece:
        half, low = self.width_mm / 2, -self.drop_mm
        side_mm = self.drop_mm - self._point
        inner = half - min(smaller, STEEPEST_SIDE * side_mm)
        corner_y, tip_y = low + self._point + smaller, low + smaller
        top_left, top_right = Point(-half, 0.0), Point(half, 0.0)
        left = straight(top_left, Point(-inner, corner_y))
        right = straight(Point(inner, corner_y), top_right)
        if self._point > 1.0:
            tip = Point(0.0, tip_y)
            lower = (straight(left.end, tip), straight(tip, right.start))
        else:
            middle = Point(0.0, corner_y)
            lower = (straight(left.end, middle), straight(middle, right.start))
        left, first = _rounded(left, lower[0], self.corner_mm)
        right_reversed, second = _rounded(right.reversed(), lower[1].reversed(), self.corner_mm)
        edges = {
            "left": left,
            "lower-left": first,
            "lower-right": second.reversed(),
            "right": right_reversed.reversed(),
            "top": straight(top_right, top_left),
        }
        is_upper = smaller == 0.0
        copies: tuple[Copy, ...] = placed.copies(drafting.role)
        if is_upper:
            copies = (*copies, *placed.copies(drafting.interfacing_role, Ply.INTERFACING))
        hole = (
            (Mark(MarkKind.BUTTONHOLE, f"{drafting.name} flap", path=self._hole()),)
            if is_upper and self.kind is FlapKind.BUTTONED
            else ()
        )
        return Piece(
            name=name,
            title=title,
            outline=Outline(edges),
            grain=Grainline(
                Point(0.3 * half, 0.85 * low + 0.5 * self._point), Point(0.3 * half, 0.15 * low)
            ),
            copies=copies,
            component=drafting.name,
            drawn_side=Side.LEFT,
            marks=hole,
        )

    def _notion(self, name: str, placed: Placed) -> Notion:
        detail = f"{self.diameter_mm:.0f} mm across, for the {placed.host.pocket} flaps"
        return Notion("buttons", placed.number, NotionUnit.PIECES, detail, name)

    def _operations(
        self, drafting: Drafting, edge: Seam, placed: Placed, placements: tuple[Placement, ...]
    ) -> tuple[Operation, ...]:
        name, copies, called = drafting.name, placed.number, placed.host.pocket
        many = copies > 1
        s = "s" if many else ""
        flaps = f"flap{s}"
        upper = f"{name}-flap"
        make = Operation(
            name=f"{name}-flap-make",
            title=f"Make the {called} {flaps}",
            text=("Lay each flap" if many else "Lay the flap")
            + " on its under flap, right sides together, and sew sides and lower edge with "
            "{allowance} allowance, from raw edge to raw edge[, easing in the upper layer, which "
            "is {ease} longer]. Trim the allowances to half, cut the corners off close to the "
            "stitching and snip the curves. Turn, work out the corners, press so that the seam "
            "rolls a little to the under side, and topstitch {topstitch} from the edge.",
            does=(edge.name,),
            minutes=14.0 * copies,
            cautions=(Caution.IRON, Caution.BLADE),
            values=(("topstitch", 5.0),),
            component=name,
        )
        hole = Operation(
            name=f"{name}-flap-hole",
            title=f"Work the buttonhole{s} of the {called} {flaps}",
            text="Work a buttonhole, {hole} long, in the middle of "
            + ("each flap" if many else "the flap")
            + " where it is marked, after a trial on a scrap of the same layers. Cut it open from "
            "both ends toward the middle.",
            after=(edge.name,),
            shows=(upper,),
            minutes=7.0 * copies,
            cautions=(Caution.NEEDLE, Caution.BLADE),
            highlight=Highlight.MARKS,
            values=(("hole", self._hole_mm),),
            component=name,
        )
        is_buttoned = self.kind is FlapKind.BUTTONED
        sew_on = Operation(
            name=f"{name}-flap-sew-on",
            title=f"Sew on the {called} {flaps}",
            text=("Lay each flap" if many else "Lay the flap")
            + " above its pocket with the point upward, right side down, its seam line on the "
            "placement line and the raw edge toward the pocket. Stitch with {allowance} allowance "
            "and backstitch both ends. Trim the allowance to {trimmed}, fold the flap down over "
            "it, press, and stitch {topstitch} below the fold, so that the raw edge is enclosed.",
            does=tuple(placement.name for placement in placements),
            after=(f"{name}-flap-hole",) if is_buttoned else (),
            minutes=9.0 * copies,
            cautions=(Caution.IRON, Caution.BLADE),
            values=(("trimmed", TRIMMED_MM), ("topstitch", TOPSTITCHED_MM)),
            component=name,
        )
        if self._point <= 1.0:
            sew_on = _with_text(sew_on, "with the point upward, ", "upside down, ")
        if not is_buttoned:
            return (make, sew_on)
        button = Operation(
            name=f"{name}-flap-button",
            title=f"Sew on the button{s} of the {called}{s}",
            text="Close "
            + ("each flap" if many else "the flap")
            + " and check the mark through the buttonhole. Sew the button to the pocket, through "
            "its layers only and not through the garment behind it.",
            after=(*(placement.name for placement in placements), f"{name}-sew-on"),
            shows=(name,),
            minutes=6.0 * copies,
            cautions=(Caution.NEEDLE,),
            highlight=Highlight.MARKS,
            component=name,
        )
        return (make, hole, sew_on, button)


@dataclass(frozen=True)
class FlappedPocket(PlacedPocket):
    """A pocket that a flap may cover."""

    flap: FlapKind = choice(FlapKind.NONE, "Whether a flap covers the opening, and how.")
    flap_height_mm: float = length(60, 50, 140, "Height of the flap in its middle.")
    flap_point_mm: float = length(0, 0, 60, "How much deeper its middle is than its sides.")
    flap_corner_mm: float = length(15, 0, 40, "Radius of its lower corners; 0: not rounded.")
    diameter_mm: float = length(18, 8, 30, "Diameter of the button of a flap.")
    thickness_mm: float = length(4, 1, 10, "Thickness of the button.")

    @property
    def flap_asked(self) -> Flap:
        """What is asked of its flap."""
        return Flap(
            self.flap,
            self.width_mm,
            self.height_mm,
            self.flap_height_mm,
            self.flap_point_mm,
            self.flap_corner_mm,
            self.diameter_mm,
            self.thickness_mm,
        )


def _with_text(operation: Operation, old: str, new: str) -> Operation:
    return replace(operation, text=operation.text.replace(old, new))


def _rounded(side: Path, lower: Path, radius: float) -> tuple[Path, Path]:
    """The corner between a side and the lower edge rounded; the rounding goes to the lower edge."""
    radius = min(radius, 0.45 * side.length, 0.45 * lower.length)
    if radius < 1.0:
        return side, lower
    before, bend, after = fillet(side, lower, radius)
    return before, join(bend, after)


def _edge_seam(drafting: Drafting, upper: Piece, under: Piece) -> Seam:
    names = ("left", "lower-left", "lower-right", "right")
    lengths = [sum(piece.edge(edge).length for edge in names) for piece in (under, upper)]
    tips = tuple(sum(piece.edge(edge).length for edge in names[:2]) for piece in (under, upper))
    return Seam(
        name=f"{upper.name}-edge",
        title="edge of the pocket flap",
        layers=(
            Layer(run(*(f"{under.name}.{edge}" for edge in names))),
            Layer(
                run(*(f"{upper.name}.{edge}" for edge in names)), ease_mm=lengths[1] - lengths[0]
            ),
        ),
        allowance_mm=ALLOWANCE_MM,
        pressing=Pressing.TURNED,
        care=EdgeCare.NONE,
        matches=(Match("middle of the flap", tips, NotchKind.NONE),),
        component=drafting.name,
    )
