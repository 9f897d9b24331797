"""The shoulder tab: a strip with a point, caught at one end, buttoned down at the other.

Drawn with its caught end on x = 0 and its point toward greater x.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum
from typing import ClassVar

from shapely.geometry import Polygon

from clothwise.components.closings.buttonhole import BEYOND_BUTTON_MM, HOLE_CLEAR_MM, buttonhole_mm
from clothwise.components.component import Component, Drafting
from clothwise.components.details.caught import CaughtEnds, ShoulderLine, catch_ends, shoulder_line
from clothwise.components.family import Family
from clothwise.components.finishes.fusing import fuse
from clothwise.components.parameter import choice, length, ratio
from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Point, straight
from clothwise.pattern.graph import EdgeCare, Layer, Match, Pressing, Seam, run
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.operation import (
    Caution,
    Highlight,
    Notion,
    NotionUnit,
    Operation,
    Station,
)
from clothwise.pattern.pattern import Contribution, Spot
from clothwise.pattern.piece import Grainline, Piece, Ply, Side, pair

BUTTON_EDGE_SHARE = 0.75
"""From the middle of the button to the edge, of its diameter (F07, as at a front edge)."""

TAB_NECK_CLEAR_MM = 10.0
"""The point ends this far before the neck seam; our own choice."""

SHORTEST_TAB_MM = 50.0
"""A tab that would be shorter is refused; our own choice."""

TAB_EDGE_CLEAR_MM = 15.0
"""A tab on the front stays this far from the edges that it is not caught in; our own choice."""


class CaughtIn(Enum):
    """The seam that holds the end of a tab."""

    ARMHOLE = "armhole"
    SHOULDER = "shoulder"


@dataclass(frozen=True)
class ShoulderTab(Component):
    """Tab along the shoulder, caught in the armhole, or from the shoulder seam onto the front."""

    kind: ClassVar[str] = "shoulder-tab"
    family: ClassVar[Family] = Family.TRIMMING

    caught_in: CaughtIn = choice(CaughtIn.ARMHOLE, "The seam that holds its end.")
    length_mm: float = length(
        105, 50, 180, "From that seam to the point; along the shoulder at most as far as its room."
    )
    width_mm: float = length(48, 30, 80, "Width at the seam.")
    end_width_mm: float = length(38, 25, 80, "Width before the point.")
    point_mm: float = length(16, 0, 40, "How far the point stands out; 0 makes a square end.")
    across: float = ratio(
        0.5, 0.0, 1.0, "Its place on the shoulder seam: 0 toward the armhole, 1 toward the neck."
    )
    button_mm: float = length(15, 10, 23, "Diameter of its button.")
    thickness_mm: float = length(3, 1, 8, "Thickness of its button.")
    allowance_mm: float = length(7, 5, 12, "Allowance around it, inside once it is turned.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft the tab and catch it in the armhole or in the shoulder seam."""
        name = drafting.name
        shoulder = shoulder_line(drafting)
        along_shoulder = self.caught_in is CaughtIn.ARMHOLE
        long = self._length(drafting, shoulder)
        upper = self._piece(drafting, "upper", "Upper tab", long)
        under = self._piece(drafting, "under", "Under tab", long)
        ends = tuple(run(f"-{piece.name}.end") for piece in (under, upper))
        half = self.width_mm / 2
        if along_shoulder:
            edge, middle = shoulder.armhole, shoulder.at_mm
        else:
            edge = shoulder.front
            middle = self._middle(drafting, shoulder)
        caught = catch_ends(drafting, edge, (middle - half, middle + half), ends, "end of the tab")
        button = self._button(drafting, shoulder, middle, long)
        return Contribution(
            pieces=(upper, under),
            seams=(self._edge_seam(name, upper, under),),
            finishes=caught.finishes,
            catches=caught.catches,
            marks={
                button.edge.piece: (
                    Mark(
                        MarkKind.BUTTON, f"{name} closing", at=button.point, size_mm=self.button_mm
                    ),
                    *(() if along_shoulder else self._foot(drafting, shoulder, middle)),
                )
            },
            notions=(
                Notion(
                    "buttons",
                    2,
                    NotionUnit.PIECES,
                    f"{self.button_mm:.0f} mm across, for the shoulder tabs",
                    name,
                ),
            ),
            operations=self._operations(name, upper, shoulder, caught, button.edge.piece),
        )

    def _length(self, drafting: Drafting, shoulder: ShoulderLine) -> float:
        """What is asked for; along the shoulder no more than leaves the neck seam free."""
        if self.caught_in is CaughtIn.SHOULDER:
            return self.length_mm
        room = shoulder.length_mm(drafting.pattern) - TAB_NECK_CLEAR_MM
        if room < SHORTEST_TAB_MM:
            raise ComponentError(
                "the shoulder is too short for a tab",
                where=drafting.name,
                how_much=f"{room:.0f} mm of room, at least {SHORTEST_TAB_MM:.0f} mm needed",
                what_to_do="Leave the tab out, or lower neck_ease of the bodice.",
            )
        return min(self.length_mm, room)

    def _middle(self, drafting: Drafting, shoulder: ShoulderLine) -> float:
        """Where the middle of the tab lies on the shoulder seam, mm from the armhole."""
        whole = shoulder.length_mm(drafting.pattern)
        first = drafting.seam_allowance_mm + self.width_mm / 2
        last = whole - TAB_NECK_CLEAR_MM - self.width_mm / 2
        if last < first:
            raise ComponentError(
                "the tab is wider than the shoulder seam has room for",
                where=drafting.name,
                how_much=f"{self.width_mm:.0f} mm wide, "
                f"{last - first + self.width_mm:.0f} mm of room",
                what_to_do="Lower width.",
            )
        return first + self.across * (last - first)

    @property
    def _end_half_mm(self) -> float:
        return min(self.end_width_mm, self.width_mm) / 2

    @property
    def _button_from_tip_mm(self) -> float:
        """The button's middle from the point: clear of the edge, and its hole of the allowance."""
        half, point = self._end_half_mm, self.point_mm
        slant = math.sin(math.atan2(half, point)) if point else 1.0
        clear = (self.allowance_mm + HOLE_CLEAR_MM) / slant + BEYOND_BUTTON_MM
        return max(clear, BUTTON_EDGE_SHARE * self.button_mm / slant)

    def _piece(self, drafting: Drafting, word: str, title: str, long: float) -> Piece:
        width, end, tip = self.width_mm / 2, self._end_half_mm, long - self.point_mm
        corners = [Point(0.0, -width), Point(tip, -end), Point(tip, end), Point(0.0, width)]
        edges = {"lower": straight(corners[0], corners[1])}
        if self.point_mm:
            point = Point(long, 0.0)
            edges["tip-lower"] = straight(corners[1], point)
            edges["tip-upper"] = straight(point, corners[2])
        else:
            edges["tip"] = straight(corners[1], corners[2])
        edges["upper"] = straight(corners[2], corners[3])
        edges["end"] = straight(corners[3], corners[0])
        is_upper = word == "upper"
        interfacing = pair(drafting.interfacing_role, ply=Ply.INTERFACING) if is_upper else ()
        return Piece(
            name=f"{drafting.name}-{word}",
            title=title,
            outline=Outline(edges),
            grain=Grainline(Point(0.15 * long, -width / 3), Point(0.7 * long, -width / 3)),
            copies=(*pair(drafting.role), *interfacing),
            component=drafting.name,
            drawn_side=Side.LEFT,
            marks=self._hole(drafting.name, long) if is_upper else (),
        )

    def _hole(self, name: str, long: float) -> tuple[Mark, ...]:
        start = long - self._button_from_tip_mm + BEYOND_BUTTON_MM
        path = straight(Point(start, 0.0), Point(start - self._hole_mm, 0.0))
        return (Mark(MarkKind.BUTTONHOLE, f"{name} closing", path=path),)

    @property
    def _hole_mm(self) -> float:
        """Length of a buttonhole."""
        return buttonhole_mm(self.button_mm, self.thickness_mm)

    def _edge_seam(self, name: str, upper: Piece, under: Piece) -> Seam:
        edges = [edge for edge in upper.edge_names if edge != "end"]
        half = sum(upper.edge(edge).length for edge in edges) / 2
        return Seam(
            name=f"{name}-edge",
            title="edge of the tab",
            layers=tuple(
                Layer(run(*(f"{piece.name}.{edge}" for edge in edges))) for piece in (upper, under)
            ),
            allowance_mm=self.allowance_mm,
            pressing=Pressing.TURNED,
            care=EdgeCare.NONE,
            matches=(Match("point", (half, half), NotchKind.NONE),),
            component=name,
        )

    def _button(
        self, drafting: Drafting, shoulder: ShoulderLine, middle: float, long: float
    ) -> Spot:
        """On the shoulder seam, or on the front below it."""
        pattern, reach = drafting.pattern, long - self._button_from_tip_mm
        if self.caught_in is CaughtIn.ARMHOLE:
            return shoulder.spot(pattern, reach)
        foot = shoulder.spot(pattern, middle)
        piece = pattern.piece(foot.edge.piece)
        half = self.width_mm / 2
        sides = [foot.point + foot.along * side for side in (-half, half)]
        tips = [point + foot.inward * (long + TAB_EDGE_CLEAR_MM) for point in reversed(sides)]
        laid = Polygon([(point.x, point.y) for point in (*sides, *tips)])
        outside = laid.difference(piece.outline.polygon.buffer(0.5)).area
        if outside > 1.0:
            raise ComponentError(
                "the tab reaches beyond the front",
                where=drafting.name,
                how_much=f"{long:.0f} mm long, {outside / 100:.0f} cm² of it and of the "
                f"{TAB_EDGE_CLEAR_MM:.0f} mm around it outside",
                what_to_do="Make it shorter, or move it with across.",
            )
        return Spot(foot.edge, foot.point + foot.inward * reach, foot.along)

    def _foot(self, drafting: Drafting, shoulder: ShoulderLine, middle: float) -> tuple[Mark, ...]:
        """Where the end lies on the shoulder edge of the front."""
        half = self.width_mm / 2
        ends = [shoulder.spot(drafting.pattern, middle + side).point for side in (-half, half)]
        return (Mark(MarkKind.PLACEMENT_LINE, "tab", path=straight(*ends)),)

    def _operations(
        self, name: str, upper: Piece, shoulder: ShoulderLine, caught: CaughtEnds, on: str
    ) -> tuple[Operation, ...]:
        along_shoulder = self.caught_in is CaughtIn.ARMHOLE
        return (
            fuse(
                name,
                "Fuse the shoulder tabs",
                "Iron the interfacing onto the wrong sides of the upper tabs.",
                (upper.name,),
                5,
            ),
            Operation(
                name=f"{name}-make",
                title="Make the shoulder tabs",
                text="Lay upper and under tab right sides together, and sew around the long edges "
                "and the "
                + ("point" if self.point_mm else "end")
                + " with {allowance} allowance; the end that will be caught stays open. Cut the "
                "corners off, turn, work out the "
                + ("point" if self.point_mm else "corners")
                + ", press, and topstitch close to the edge.",
                does=(f"{name}-edge",),
                minutes=20,
                cautions=(Caution.IRON, Caution.BLADE),
                component=name,
            ),
            Operation(
                name=f"{name}-holes",
                title="Make the buttonholes of the shoulder tabs",
                text="Work a buttonhole, {hole} long, along the middle of each tab, after a trial "
                "on a scrap of the same layers; cut it open from both ends toward the middle.",
                after=(f"{name}-edge",),
                shows=(upper.name,),
                minutes=12,
                cautions=(Caution.NEEDLE, Caution.BLADE),
                highlight=Highlight.MARKS,
                values=(("hole", self._hole_mm),),
                component=name,
            ),
            self._baste(name, upper, shoulder, caught),
            Operation(
                name=f"{name}-buttons",
                title="Sew on the buttons of the shoulder tabs",
                text="Try the garment on, lay each tab "
                + ("along the shoulder" if along_shoulder else "onto the front")
                + ", and check the mark. Sew the button "
                + ("onto the shoulder seam" if along_shoulder else "on there")
                + ", with a thread shank as high as the tab is thick.",
                after=(caught.by, f"{name}-holes"),
                shows=(on, upper.name),
                station=Station.HAND,
                minutes=10,
                cautions=(Caution.NEEDLE,),
                component=name,
            ),
        )

    def _baste(
        self, name: str, upper: Piece, shoulder: ShoulderLine, caught: CaughtEnds
    ) -> Operation:
        if self.caught_in is CaughtIn.ARMHOLE:
            title = "Baste the shoulder tabs to the armholes"
            text = (
                "Lay each tab on the right side of the garment along the shoulder, under tab "
                "below, its open end level with the edge of the armhole and its middle on the "
                "shoulder seam. Baste it within the allowance[ of {held}], so that what is sewn "
                "to the armhole takes it in."
            )
        else:
            title = "Baste the shoulder tabs to the shoulder edges of the front"
            text = (
                "Lay each tab on the right side of the front, under tab below, its open end "
                "level with the shoulder edge, on its placement line. Baste it within the "
                "allowance[ of {held}]; the shoulder seam takes it in. Press that seam, once it "
                "is sewn, toward the back."
            )
        return Operation(
            name=f"{name}-baste",
            title=title,
            text=text,
            does=caught.done_here,
            prepares=caught.edges,
            after=(
                f"{name}-edge",
                f"{name}-holes",
                *(shoulder.seams if self.caught_in is CaughtIn.ARMHOLE else ()),
            ),
            shows=(upper.name,),
            minutes=8,
            values=(("held", caught.allowance_mm),),
            component=name,
        )
