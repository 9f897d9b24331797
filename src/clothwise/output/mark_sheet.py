"""The sheet of four marks that are laid around a remnant to take its shape from a photo."""

from __future__ import annotations

from clothwise.cutting.corner_marks import CARD_MM, MARK_CELLS, MARK_MM, mark_cells
from clothwise.geometry import Point, Vector, polyline
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import (
    Anchor,
    Baseline,
    Color,
    Drawing,
    Item,
    Layer,
    Shape,
    Stroke,
    Text,
    Weight,
)
from clothwise.output.paper import A4, Margins, Paper, printable
from clothwise.output.text_block import Sentence, set_column

__all__ = ["mark_sheet"]

_BLACK = Color(0, 0, 0)
_GRAY = Color(110, 110, 110)
_CUT = Stroke(0.2, _GRAY, (2.0, 1.5))
_SIGHT = Stroke(0.3, _BLACK)
_SIGHT_MM = 8.0
_GAP_MM = 4.0
_SENTENCES = (
    "Print at full size, not fitted to the page: each black square must measure "
    f"{MARK_MM:g} mm. Cut the four cards out along the dashed lines; their white edge belongs to "
    "them.",
    "Lay the remnant flat, right side up, on plain ground of another color. Lay the cards around "
    "it at the corners of a rectangle: 1, 2, 3 and 4 anticlockwise as you look down, from 1 to 2 "
    "along the warp. Leave ground between cloth and cards. Which way up a card lies does not "
    "matter.",
    "Measure from the middle of 1 to the middle of 2, and from 2 to 3: the short lines at the "
    "edges of the cards point to the middle. Both diagonals should be equal.",
    "Take the photo from straight above and from as far as you can, in even light without hard "
    "shadows.",
)


def mark_sheet(paper: Paper = A4) -> Drawing:
    """A page with the four marks and how to use them, its lower left corner at (0, 0)."""
    room = printable(paper, Margins())
    left = room.left + (room.width - 2 * CARD_MM - _GAP_MM) / 2
    column = set_column(
        [
            Sentence("Marks for a photo of a remnant", 5.0, Weight.BOLD, color=_BLACK),
            *(Sentence(each, 3.4, lead_mm=1.2, color=_BLACK) for each in _SENTENCES),
        ],
        left=room.left,
        top=room.top,
        width_mm=room.width,
    )
    top = column.bottom - _GAP_MM
    items: list[Item] = list(column.texts)
    for number in (1, 2, 3, 4):
        row, place = divmod(number - 1, 2)
        x = left + place * (CARD_MM + _GAP_MM)
        y = top - (row + 1) * CARD_MM - row * _GAP_MM
        items += _card(number, Point(x, y))
    edge = Bounds(0.0, 0.0, paper.width_mm, paper.height_mm)
    page = Shape((edge.path,), None, None, closed=True, solid=True)
    return Drawing((Layer("marks", (page, *items)),), "Marks for a photo of a remnant")


def _card(number: int, at: Point) -> list[Item]:
    card = Bounds(at.x, at.y, at.x + CARD_MM, at.y + CARD_MM)
    inset, cell = (CARD_MM - MARK_MM) / 2, MARK_MM / MARK_CELLS
    black = [
        Bounds(
            at.x + inset + column * cell,
            at.y + inset + MARK_MM - (row + 1) * cell,
            at.x + inset + (column + 1) * cell,
            at.y + inset + MARK_MM - row * cell,
        ).path
        for row, cells in enumerate(mark_cells(number))
        for column, is_black in enumerate(cells)
        if is_black
    ]
    middle = Point(at.x + CARD_MM / 2, at.y + CARD_MM / 2)
    half = CARD_MM / 2
    sights = [
        polyline([middle + step * (half - _SIGHT_MM), middle + step * half])
        for step in (Vector(1, 0), Vector(0, 1), Vector(-1, 0), Vector(0, -1))
    ]
    name = Text(
        str(number),
        Point(at.x + inset / 2, at.y + CARD_MM - inset / 2),
        7.0,
        _BLACK,
        anchor=Anchor.CENTER,
        baseline=Baseline.MIDDLE,
        weight=Weight.BOLD,
    )
    cut = Shape((card.path,), _CUT, None, closed=True)
    cells = Shape(tuple(black), None, _BLACK, closed=True)
    return [cut, cells, Shape(tuple(sights), _SIGHT), name]
