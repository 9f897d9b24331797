"""What holds a detachable sleeve: buttons or ties, at like places of armhole and sleeve."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from itertools import accumulate, pairwise

from clothwise.components.closings.buttonhole import SMALL_BUTTON_THICKNESS_MM, buttonhole_mm
from clothwise.components.component import Drafting
from clothwise.components.sleeves.sleeve_cap import Armhole, Cap
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

CLEAR_OF_SEAM_MM = 16.0
"""Buttons and ties stay this far off the seams that cross the armhole; our own choice."""

LOWEST_SHARE = 0.55
"""The lowest button lies this far up each half of the armhole; the sleeve hangs free below; own."""

TIE_INSIDE_MM = 6.0
"""Ties are sewn on this far inside the edge; our own choice."""

CLOSES = "sleeve closing"
"""Name of the buttons and buttonholes, by which they are paired."""


class Closing(Enum):
    """What holds a detachable sleeve."""

    BUTTONS = "buttons"
    TIES = "ties"


@dataclass(frozen=True)
class Fastening:
    """What holds the sleeve: how many on each side of the shoulder, how far it laps over."""

    closing: Closing
    number: int
    lap_mm: float
    diameter_mm: float
    tie_mm: float

    def places(self, drafting: Drafting, armhole: Armhole) -> tuple[float, ...]:
        """Lengths along the armhole from the front underarm, clear of the seams that cross it.

        Raises:
            ComponentError: there is no room for so many.
        """
        pattern = drafting.pattern
        seams = [0.0, *accumulate(pattern.edge_length(edge) for edge in armhole.run.edges)]
        halves = (
            (LOWEST_SHARE * armhole.front_mm, armhole.front_mm - CLEAR_OF_SEAM_MM),
            (
                armhole.front_mm + CLEAR_OF_SEAM_MM,
                armhole.whole_mm - LOWEST_SHARE * armhole.back_mm,
            ),
        )
        found = [
            _clear_of(low + (high - low) * step / (self.number - 1), seams)
            for low, high in halves
            for step in range(self.number)
        ]
        least = min(after - before for before, after in pairwise(found))
        needed = self.diameter_mm + SMALL_BUTTON_THICKNESS_MM + 4.0
        if self.closing is Closing.BUTTONS and least < needed:
            raise ComponentError(
                "the buttons of the detachable sleeve have no room along the armhole",
                where=drafting.name,
                how_much=f"{least:.0f} mm from one to the next, {needed:.0f} mm needed",
                what_to_do="Take fewer or smaller buttons.",
            )
        return tuple(found)

    def on_garment(
        self, drafting: Drafting, armhole: Armhole, places: tuple[float, ...]
    ) -> dict[str, tuple[Mark, ...]]:
        """Buttons, or dots for ties, by the piece they lie on."""
        marks: dict[str, tuple[Mark, ...]] = {}
        for at_mm in places:
            spot = drafting.pattern.spot(armhole.run, at_mm)
            at = spot.point + spot.inward * self._inside_mm
            if self.closing is Closing.BUTTONS:
                mark = Mark(MarkKind.BUTTON, CLOSES, at=at, size_mm=self.diameter_mm)
            else:
                mark = Mark(MarkKind.DOT, "tie", at=at)
            marks[spot.edge.piece] = (*marks.get(spot.edge.piece, ()), mark)
        return marks

    def on_sleeve(self, cap: Cap, places: tuple[float, ...]) -> tuple[Mark, ...]:
        """Buttonholes along the top, or dots for ties, as far from the shoulder as on the armhole.

        What the cap is longer lies under the arm.
        """
        edge = cap.path()
        shoulder = edge.nearest(cap.top)
        marks = []
        for at_mm in places:
            along = shoulder + cap.armhole.front_mm - at_mm
            point, heading = edge.point_at(along), edge.tangent_at(along)
            if self.closing is Closing.BUTTONS:
                middle = point - heading.left * self._inside_mm
                half = heading * (self.hole_mm / 2)
                hole = straight(middle - half, middle + half)
                marks.append(Mark(MarkKind.BUTTONHOLE, CLOSES, path=hole))
            else:
                at = point + heading.left * self._inside_mm
                marks.append(Mark(MarkKind.DOT, "tie", at=at))
        return tuple(marks)

    @property
    def _inside_mm(self) -> float:
        """From the edge of the armhole: the middle of the lap, or where a tie is sewn on."""
        return self.lap_mm / 2 if self.closing is Closing.BUTTONS else TIE_INSIDE_MM

    @property
    def hole_mm(self) -> float:
        """Length of a buttonhole."""
        return buttonhole_mm(self.diameter_mm, SMALL_BUTTON_THICKNESS_MM)

    def notions(self, name: str, places: int) -> tuple[Notion, ...]:
        """For both sleeves."""
        if self.closing is Closing.BUTTONS:
            detail = f"{self.diameter_mm:.0f} mm across, for the detachable sleeves"
            return (Notion("buttons", 2 * places, NotionUnit.PIECES, detail, name),)
        return (
            Notion(
                "ribbon or cord",
                4 * places * self.tie_mm,
                NotionUnit.LENGTH_MM,
                f"{4 * places} ties, for the detachable sleeves",
                name,
            ),
        )

    def steps(self, drafting: Drafting) -> tuple[Operation, ...]:
        """Making what holds the sleeves, last of all."""
        name, pattern = drafting.name, drafting.pattern
        armhole = pattern.named_run("armhole", name)
        edges = dict.fromkeys(
            use.name for edge in armhole.edges for use in pattern.uses_of(edge.piece, edge.edge)
        )
        base = Operation(
            name=f"{name}-hold",
            title="Sew on what holds the sleeves",
            text="",
            after=(f"{name}-top", *edges),
            shows=(name, *armhole.pieces),
            highlight=Highlight.MARKS,
            component=name,
        )
        if self.closing is Closing.BUTTONS:
            return (
                replace(
                    base,
                    title="Make the buttonholes of the sleeves and sew on their buttons",
                    text="Work the buttonholes, {hole} long, along the top of each sleeve, after "
                    "a trial on a scrap of the same layers; cut them open from both ends toward "
                    "the middle. Button by button, lay the sleeve over the armhole by {lap}, "
                    "single notch to the front, check the marks, and sew the buttons to the "
                    "garment beside the armhole. Under the arm the sleeve hangs free.",
                    station=Station.MACHINE,
                    minutes=70,
                    cautions=(Caution.NEEDLE, Caution.BLADE),
                    values=(("hole", self.hole_mm), ("lap", self.lap_mm)),
                ),
            )
        return (
            replace(
                base,
                title="Sew on the ties of the sleeves",
                text="Cut the ribbon or cord into ties of {tie} and keep their ends from fraying. "
                "At each dot sew one tie to the inside of the sleeve's top and one to the inside "
                "of the armhole, with a few stitches through the facing or binding only. Tie the "
                "sleeves in, single notch to the front; under the arm they hang free. On clothes "
                "for children follow the local rules for cords, or take buttons.",
                station=Station.HAND,
                minutes=60,
                cautions=(Caution.NEEDLE,),
                values=(("tie", self.tie_mm),),
            ),
        )


def _clear_of(at_mm: float, seams: list[float]) -> float:
    """The place moved off a seam that it lies on or too near to."""
    for seam in seams:
        if abs(at_mm - seam) < CLEAR_OF_SEAM_MM:
            return seam + (CLEAR_OF_SEAM_MM if at_mm >= seam else -CLEAR_OF_SEAM_MM)
    return at_mm
