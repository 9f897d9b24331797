"""Buttons that close a wrap front where it ends: outside on the front below, and inside."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.bodices.wrap_front import REACH_POINT
from clothwise.components.bodices.wrap_reach import ClosedWaist, closed_waist
from clothwise.components.closings.buttonhole import BEYOND_BUTTON_MM, buttonhole_mm
from clothwise.components.closings.buttons import Lap
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import choice, count, length
from clothwise.errors import ComponentError
from clothwise.geometry import straight
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import (
    Caution,
    Highlight,
    Notion,
    NotionUnit,
    Operation,
    Station,
)
from clothwise.pattern.pattern import Contribution

FROM_EDGE_SHARE, CLEAR_MM = 0.75, 5.0
"""The middle of a button lies this share of its diameter and so much inside the edge (F07)."""

ABOVE_SEAM_MM = 6.0
"""The rim of the lowest button keeps this far above the allowance of the waist; our own choice."""

OFF_SEAM_MM = 2.0
"""And the rim of a button this far off the allowances of side and panel seams and off darts; our
own choice."""


@dataclass(frozen=True)
class WrapButtons(Component):
    """Buttons and buttonholes at the end of a wrap front, outside and inside."""

    kind: ClassVar[str] = "wrap-buttons"
    family: ClassVar[Family] = Family.CLOSING

    number: int = count(1, 1, 3, "Buttons at each end, one above the other.")
    diameter_mm: float = length(15, 8, 25, "Diameter of a button.")
    thickness_mm: float = length(4, 1, 15, "Thickness of a button.")
    lap: Lap = choice(Lap.RIGHT_OVER_LEFT, "Which front lies on top.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Mark buttonholes at the end of the front, and buttons where that lies on the other."""
        name, pattern = drafting.name, drafting.pattern
        edge = pattern.named_run("front-edge", name).edges[0]
        front = pattern.piece(edge.piece)
        if REACH_POINT not in front.points:
            raise ComponentError(
                "these buttons close a front that wraps to a point of the waist",
                where=name,
                how_much=f"{front.name} has the points {', '.join(front.points)}",
                what_to_do="Give the wrap-front a reach, or take double-breasted-buttons.",
            )
        lap = front.edge(front.edge_after("front-edge"))
        reach = lap.nearest(front.points["center front waist"])
        closed = closed_waist(pattern, name)
        low = drafting.seam_allowance_mm + ABOVE_SEAM_MM + self.diameter_mm / 2
        heights = self._heights(front.edge("front-edge").length, low, name)
        inset = self._inset(drafting, closed, reach)
        inward = lap.tangent_at(inset).unit
        marks: dict[str, tuple[Mark, ...]] = {}
        for number, height in enumerate(heights, start=1):
            words = f"wrap {number}" if len(heights) > 1 else "wrap"
            at = lap.point_at(inset) + inward.left * height
            start = at - inward * BEYOND_BUTTON_MM
            hole = straight(start, start + inward * self._hole_mm)
            piece, place, _ = closed.place(reach - inset, height)
            for host, mark in (
                (front.name, Mark(MarkKind.BUTTONHOLE, words, path=hole)),
                (piece, Mark(MarkKind.BUTTON, words, at=place, size_mm=self.diameter_mm)),
            ):
                marks[host] = (*marks.get(host, ()), mark)
        return Contribution(
            marks=marks,
            notions=(
                Notion(
                    "buttons",
                    2 * len(heights),
                    NotionUnit.PIECES,
                    f"{self.diameter_mm:.0f} mm across, for the wrap",
                    name,
                ),
            ),
            operations=(self._operation(drafting, tuple(marks), len(heights)),),
        )

    @property
    def _hole_mm(self) -> float:
        """Length of a buttonhole."""
        return buttonhole_mm(self.diameter_mm, self.thickness_mm)

    def _inset(self, drafting: Drafting, closed: ClosedWaist, reach: float) -> float:
        """From the front edge in: clear of it, of the side seam, and of darts and panel seams."""
        clear = drafting.seam_allowance_mm + OFF_SEAM_MM + self.diameter_mm / 2
        at = min(reach - FROM_EDGE_SHARE * self.diameter_mm - CLEAR_MM, closed.length - clear)
        for seam in reversed(closed.seams_mm):
            if abs(at - seam) < clear:
                at = seam - clear
        if at < 0:
            raise ComponentError(
                "the buttons of the wrap have no place beside the seams",
                where=drafting.name,
                how_much=f"the front laps over by {reach:.0f} mm",
                what_to_do="Raise reach of the wrap-front, or close it with wrap-ties.",
            )
        return reach - at

    def _heights(self, edge_mm: float, low: float, name: str) -> tuple[float, ...]:
        """Evenly up the front edge, the rims clear of its corner and of each other."""
        high = edge_mm - self.diameter_mm / 2 - CLEAR_MM
        needed = low + (self.number - 1) * (self.diameter_mm + CLEAR_MM)
        if needed > high:
            raise ComponentError(
                "the front edge is too short for its buttons",
                where=name,
                how_much=f"{edge_mm:.0f} mm high, at least {edge_mm + needed - high:.0f} mm needed",
                what_to_do="Raise edge of the wrap-front, or lower number or diameter.",
            )
        if self.number == 1:
            return ((low + high) / 2,)
        step = (high - low) / (self.number - 1)
        return tuple(low + step * each for each in range(self.number))

    def _operation(self, drafting: Drafting, shows: tuple[str, ...], number: int) -> Operation:
        pattern, name = drafting.pattern, drafting.name
        over, under = ("right", "left") if self.lap is Lap.RIGHT_OVER_LEFT else ("left", "right")
        edges = pattern.named_run("front-edge", name).edges[:1]
        done = [use.name for each in edges for use in pattern.uses_of(each.piece, each.edge)]
        return Operation(
            name=f"{name}-sew",
            title="Make the buttonholes and sew on the buttons of the wrap",
            text="Try the garment on, wrapped, and check the marks. Work the buttonholes, {hole} "
            "long, at the end of both fronts, after a trial on a scrap of the same layers; cut "
            "them open from both ends toward the middle. Sew the buttons for the front on top to "
            f"the outside of the wearer's {under} front, those for the front below to the inside "
            f"of the {over} front, through a small piece of cloth laid behind, so that they do not "
            "pull.",
            after=tuple(dict.fromkeys(done)),
            shows=shows,
            minutes=16.0 * number,
            cautions=(Caution.NEEDLE, Caution.BLADE),
            station=Station.MACHINE,
            highlight=Highlight.MARKS,
            values=(("hole", self._hole_mm),),
            component=name,
        )
