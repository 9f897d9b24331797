"""Buttons of fronts that lap far over: a row at the edge, and a second one beside it for show.

A place at x beyond center front on one front lies on -x of the other when both are lapped: the
buttonholes near one edge come to lie over buttons at the same distance on the other side of the
center.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import ClassVar

from clothwise.components.closings.buttonhole import BEYOND_BUTTON_MM, buttonhole_mm
from clothwise.components.closings.buttons import Lap
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import choice, count, length
from clothwise.errors import ComponentError
from clothwise.geometry import Point, crossings, straight
from clothwise.pattern.mark import SHOW_BUTTON, Mark, MarkKind
from clothwise.pattern.operation import (
    Caution,
    Highlight,
    Notion,
    NotionUnit,
    Operation,
    Station,
)
from clothwise.pattern.pattern import Contribution
from clothwise.pattern.piece import Piece

ROW_BUTTON = "button of the row"
"""Button and buttonhole that close the row at the edge."""

INNER_BUTTON = "inner button"
"""Button and buttonhole that hold the front that lies under."""

BELOW_BREAK_MM = 12.0
"""The top button lies this far below the break; our own choice."""

LOWEST_ABOVE_WAIST_MM = 28.0
"""The lowest button of the bodice keeps so far off the waist seam; our own choice."""

FROM_EDGE_SHARE = 0.9
"""From the middle of a button or the end of its buttonhole to the front edge: this share of its
diameter (F07 asks for 3/4 at least)."""


INNER_DIAMETER_MM = 15.0
"""A flat button for the inside; our own choice."""


BUTTON_CLEAR_SHARE = 0.6
"""From the middle of a button to a dart or seam beside it, of its diameter (F08: half of it)."""

_FAR_MM = 5000.0
"""Further than any piece reaches."""

USUAL_SPACING_MM = 95.0
"""Distance of the buttons below the waist where only one lies above it; our own choice."""

LARGEST_SPACING_MM = 160.0
"""Buttons below the waist lie no further apart; our own choice."""

LEAST_SPACING_SHARE = 1.5
"""From button to button at least this share of the diameter; our own choice."""

ABOVE_BUST_MM = 20.0
"""A top button this far above the bust leaves the bust without one (F11); our own choice."""


class Rows(Enum):
    """Whether the front that lies on top shows one row of buttons or two."""

    ONE = "one"
    TWO = "two"


class Inside(Enum):
    """What holds the front that lies under."""

    BUTTON = "button"
    NOTHING = "nothing"


@dataclass(frozen=True)
class DoubleBreastedButtons(Component):
    """Buttons at the edge of lapped fronts, in one row or double-breasted in two."""

    kind: ClassVar[str] = "double-breasted-buttons"
    family: ClassVar[Family] = Family.CLOSING

    rows: Rows = choice(Rows.TWO, "Two rows, or only the one that closes.")
    number: int = count(2, 1, 4, "Buttons of one row from break to waist; fewer if no room.")
    below_waist: int = count(1, 0, 6, "Buttons of one row below the waist, on the skirt.")
    below_waist_spacing_mm: float = length(
        0, 0, LARGEST_SPACING_MM, "Distance of the buttons below the waist; 0: as those above it."
    )
    diameter_mm: float = length(22, 10, 40, "Diameter of a button.")
    thickness_mm: float = length(4, 1, 15, "Thickness of a button.")
    lap: Lap = choice(Lap.RIGHT_OVER_LEFT, "Which front lies on top.")
    inside: Inside = choice(Inside.BUTTON, "What holds the front that lies under, at the waist.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Mark buttons and buttonholes on the pieces of the run named `front-edge`."""
        name = drafting.name
        edge = drafting.pattern.named_run("front-edge", name)
        pieces = [drafting.pattern.piece(piece) for piece in edge.pieces]
        bodice = pieces[0]
        if not {"break point", "bust point"} <= bodice.points.keys():
            raise ComponentError(
                "these buttons need fronts that lap over",
                where=name,
                how_much=f"{bodice.name} has no point where the fronts part",
                what_to_do="List a wrap-front or lapel-front after the bodice, or take buttons.",
            )
        heights = self._heights(bodice)
        levels = [(bodice, heights), *self._below(pieces[1:], heights)]
        at = self._from_center(name, bodice, levels)
        marks = {
            piece.name: (
                *(mark for y in ys for mark in self._row(at, y)),
                *(self._inner(at, heights[-1]) if piece is bodice and self._holds else ()),
            )
            for piece, ys in levels
            if ys
        }
        number = sum(len(ys) for _, ys in levels)
        shown = number * (2 if self.rows is Rows.TWO else 1)
        return Contribution(
            marks=marks,
            notions=self._notions(name, shown),
            operations=(self._work(drafting, tuple(marks), number, shown),),
        )

    def _notions(self, name: str, shown: int) -> tuple[Notion, ...]:
        found = [
            Notion(
                "buttons",
                shown,
                NotionUnit.PIECES,
                f"{self.diameter_mm:.0f} mm across, for the fronts",
                name,
            )
        ]
        if self._holds:
            across = f"about {INNER_DIAMETER_MM:.0f} mm across"
            found.append(Notion("flat inner button", 1, NotionUnit.PIECES, across, name))
        return tuple(found)

    @property
    def _holds(self) -> bool:
        return self.inside is Inside.BUTTON

    @property
    def _hole_mm(self) -> float:
        """Length of a buttonhole."""
        return buttonhole_mm(self.diameter_mm, self.thickness_mm)

    def _from_center(
        self, name: str, bodice: Piece, levels: list[tuple[Piece, list[float]]]
    ) -> float:
        """How far from center front each row lies: near the edge, but clear of darts and seams."""
        overlap = -bodice.edge("front-edge").end.x
        at = overlap - FROM_EDGE_SHARE * self.diameter_mm - BEYOND_BUTTON_MM
        clear = BUTTON_CLEAR_SHARE * self.diameter_mm
        for piece, heights in levels:
            for y in heights:
                at = min(at, _free_mm(piece, y) - clear)
        least = self._hole_mm / 2
        if at < least:
            raise ComponentError(
                "the fronts lap over too little for a row of buttons beside the center",
                where=name,
                how_much=f"the row would lie {at:.0f} mm from center front, at least "
                f"{least:.0f} mm are needed",
                what_to_do="Raise overlap, take smaller buttons, or the component buttons.",
            )
        return at

    def _heights(self, bodice: Piece) -> list[float]:
        """Heights on the bodice, from the break down to the waist, evenly spaced (F10).

        Where the break lies well above the bust, one more lies there (F11), or the edge would gape.
        """
        top = bodice.points["break point"].y - BELOW_BREAK_MM
        low = bodice.edge("front-edge").end.y + LOWEST_ABOVE_WAIST_MM
        bust = bodice.points["bust point"].y
        least = LEAST_SPACING_SHARE * self.diameter_mm
        if top - bust > ABOVE_BUST_MM and bust - low > least:
            return [*([top] if top - bust > least else []), *_even(bust, low, self.number, least)]
        return _even(top, low, self.number, least)

    def _below(self, pieces: list[Piece], above: list[float]) -> list[tuple[Piece, list[float]]]:
        """Heights on the first piece below the waist, as many as there is room for.

        They go on from those above, at the same distance if none is asked for and the waist seam
        stays clear.
        """
        if not pieces or not self.below_waist:
            return []
        piece = pieces[0]
        edge = piece.edge("front-edge")
        top, foot = max(edge.start.y, edge.end.y), min(edge.start.y, edge.end.y)
        usual = above[-2] - above[-1] if len(above) > 1 else USUAL_SPACING_MM
        usual = min(usual, LARGEST_SPACING_MM)
        spacing = max(self.below_waist_spacing_mm or usual, LEAST_SPACING_SHARE * self.diameter_mm)
        first = min(top + LOWEST_ABOVE_WAIST_MM - spacing, top - LOWEST_ABOVE_WAIST_MM)
        heights = [first - spacing * place for place in range(self.below_waist)]
        return [(piece, [y for y in heights if y > foot + 2 * self.diameter_mm])]

    def _row(self, at: float, y: float) -> tuple[Mark, ...]:
        above, below = self._sides
        found = [
            self._hole(ROW_BUTTON, -at, y, above, self._hole_mm),
            Mark(MarkKind.BUTTON, ROW_BUTTON, Point(at, y), None, self.diameter_mm, below),
        ]
        if self.rows is Rows.TWO:
            found.append(
                Mark(MarkKind.BUTTON, SHOW_BUTTON, Point(at, y), None, self.diameter_mm, above)
            )
        return tuple(found)

    def _inner(self, at: float, y: float) -> tuple[Mark, Mark]:
        """The front that lies under is held by a flat button inside the other one."""
        above, below = self._sides
        return (
            self._hole(INNER_BUTTON, -at, y, below, INNER_DIAMETER_MM + self.thickness_mm),
            Mark(MarkKind.BUTTON, INNER_BUTTON, Point(at, y), None, INNER_DIAMETER_MM, above),
        )

    @property
    def _sides(self) -> tuple[str, str]:
        return ("right", "left") if self.lap is Lap.RIGHT_OVER_LEFT else ("left", "right")

    def _hole(self, name: str, x: float, y: float, side: str, long_mm: float) -> Mark:
        start = Point(x - BEYOND_BUTTON_MM, y)
        hole = straight(start, Point(start.x + long_mm, y))
        return Mark(MarkKind.BUTTONHOLE, name, path=hole, only_side=side)

    def _work(
        self, drafting: Drafting, shows: tuple[str, ...], holes: int, shown: int
    ) -> Operation:
        above, below = self._sides
        edge = drafting.pattern.named_run("front-edge", drafting.name)
        before = (
            use.name for ref in edge.edges for use in drafting.pattern.uses_of(ref.piece, ref.edge)
        )
        second = (
            f" Sew the second row onto the {above} front, as far from center front on the other "
            "side."
            if self.rows is Rows.TWO
            else ""
        )
        inner_hole = (
            f", and one at the waist near the edge of the {below} front" if self._holds else ""
        )
        inner_button = (
            f" Sew the flat button inside the {above} front, where the buttonhole of the {below} "
            "front meets it."
            if self._holds
            else ""
        )
        return Operation(
            name=f"{drafting.name}-sew",
            title="Make the buttonholes and sew on the buttons",
            text="Try the garment on, center front on center front, and check the marks. Work the "
            f"buttonholes, {{hole}} long, along the edge of the {above} front, after a trial on a "
            f"scrap of the same layers{inner_hole}; cut them open from both ends toward the "
            f"middle. Lap the fronts and sew the buttons that close to the {below} front, through "
            f"the ends of the buttonholes.{second}{inner_button}",
            after=tuple(dict.fromkeys(before)),
            shows=shows,
            minutes=8.0 * (holes + self._holds) + 3.0 * (shown - holes),
            cautions=(Caution.NEEDLE, Caution.BLADE),
            station=Station.MACHINE,
            highlight=Highlight.MARKS,
            values=(("hole", self._hole_mm),),
            component=drafting.name,
        )


def _even(top: float, low: float, number: int, least: float) -> list[float]:
    """Evenly spaced heights from `top` to `low`: fewer where they would be nearer than `least`."""
    while number > 1 and (top - low) / (number - 1) < least:
        number -= 1
    if number == 1:
        return [low]
    return [top - (top - low) * place / (number - 1) for place in range(number)]


def _free_mm(piece: Piece, y: float) -> float:
    """From center front to the nearest edge or dart leg at a height."""
    across = straight(Point(1.0, y), Point(_FAR_MM, y))
    met = (
        crossing.point.x
        for edge in piece.outline.edges.values()
        for crossing in crossings(across, edge)
    )
    return min(met, default=_FAR_MM)
