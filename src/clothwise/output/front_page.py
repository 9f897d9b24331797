"""The first page of a tiled file: check the scale, see where each page goes, read how to join.

The squares are 5 cm and 2 in to the middle of their lines.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from clothwise.geometry import Point, polyline
from clothwise.output.bare_pages import bare_tiles
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import (
    Anchor,
    Baseline,
    Drawing,
    Group,
    Item,
    Layer,
    Shape,
    Stroke,
    Text,
    Weight,
)
from clothwise.output.ink import Ink
from clothwise.output.map_of_pages import (
    NO_LINE,
    ONLY_AN_END,
    end_tiles,
    map_factor,
    map_of_pages,
)
from clothwise.output.nest import size_key, size_key_height
from clothwise.output.paper import INCH_MM, Margins, Paper, printable
from clothwise.output.pdf import Page
from clothwise.output.pens import (
    CUTTING,
    FOLD,
    GRAPHITE,
    INK,
    STITCHING,
)
from clothwise.output.text_block import Sentence, set_column
from clothwise.output.tiling import Tile, Tiling
from clothwise.pattern.enumerated import enumerated
from clothwise.units import LengthUnit, format_inches

CM_SQUARE_MM = 50.0
INCH_SQUARE_MM = 2 * INCH_MM
SHRUNK_MM = CM_SQUARE_MM * 279.4 / 297.0
"""The square after `fit to page` has squeezed A4 onto Letter (check value P15)."""
SHRUNK_INCHES_MM = INCH_SQUARE_MM * 279.4 / 297.0
"""The other one then."""

_GAP_MM = 8.0
_LEAST_MAP_MM = 60.0
_NOTE_MM = 3.5
_BELOW_HEAD_MM = 6.5  # from the last words of the head to the squares
_SQUARE = Stroke(0.2, INK)
_NONE: Mapping[str, str] = {}


@dataclass(frozen=True)
class PrintTitle:
    """What stands at the head of a print file: the design, and the size, view or maker.

    Attributes:
        title: of the garment.
        subtitle: which one it is.
        notes: sentences below that, such as the measurements that it was drawn for.
        edition: which printing it is, so that two can be told apart, also at the foot of each page.
        unit: of the lengths that are told; the squares are there in both.
    """

    title: str
    subtitle: str = ""
    notes: tuple[str, ...] = ()
    edition: str = ""
    unit: LengthUnit = LengthUnit.CENTIMETER


def squares(left: float, top: float, unit: LengthUnit = LengthUnit.CENTIMETER) -> tuple[Item, ...]:
    """The two test squares side by side, from their top left corner; that of the reader first."""
    items: list[Item] = []
    two = [(CM_SQUARE_MM, "5 cm"), (INCH_SQUARE_MM, "2 in")]
    if unit is LengthUnit.INCH:
        two.reverse()
    for x, (side, words) in zip((left, left + two[0][0] + _GAP_MM), two, strict=True):
        box = Bounds(x, top - side, x + side, top)
        items.append(Shape((box.path,), _SQUARE, closed=True))
        middle = box.center
        items.append(
            Text(words, middle, 9.0, INK, 0.0, Anchor.CENTER, Baseline.MIDDLE, Weight.BOLD)
        )
        items.append(
            Text(
                "each side, middle of line",
                Point(middle.x, box.bottom + 4.0),
                2.8,
                GRAPHITE,
                anchor=Anchor.CENTER,
            )
        )
    return tuple(items)


SQUARES_WIDTH_MM = CM_SQUARE_MM + _GAP_MM + INCH_SQUARE_MM


def scale_words(unit: LengthUnit = LengthUnit.CENTIMETER) -> tuple[Sentence, ...]:
    """How to check the scale, by the square and in the lengths of the reader's unit."""
    if unit is LengthUnit.INCH:
        shrunk = f"the left one measures about {format_inches(SHRUNK_INCHES_MM)}"
        still_good = "1/64 in"
    else:
        shrunk = f"the left one measures about {SHRUNK_MM:.0f} mm"
        still_good = "Half a millimeter"
    return (
        Sentence("First check the scale", 4.6, Weight.BOLD),
        Sentence(
            "Print this page alone, at 100 % (“actual size”), with fitting or scaling to the page "
            "switched off. Then measure both squares.",
            3.5,
            lead_mm=1.0,
        ),
        Sentence(
            f"If {shrunk}, the page has been shrunk to fit: change that setting. {still_good} too "
            "much or too little is still good.",
            3.5,
            lead_mm=1.0,
        ),
    )


def joining_words(
    overlap_mm: float, caution: str = "", *, has_blank: bool = False, left_out: Sequence[str] = ()
) -> tuple[Sentence, ...]:
    """How to put the pages together, and what to mind with this print.

    Args:
        overlap_mm: width of the strip that neighbors share.
        caution: what to mind; may be empty.
        has_blank: whether pages are marked that hold no line.
        left_out: names of the places in the middle of a piece that nothing is printed for.
    """
    if overlap_mm >= 4.0:
        second = (
            "Cut each page along its thin solid lines, left and top. Leave the other sides as they "
            "are: their strips lie underneath."
        )
        third = (
            "Lay it onto the strip of its neighbor, up to the dotted line, until every diamond is "
            "whole and bears the names of both pages. Glue or tape."
        )
    else:
        second = "Cut each page along its thin solid lines, and its neighbor along the dotted ones."
        third = "Put them edge to edge, until every diamond is whole. Tape."
    return (
        Sentence("Then put the pages together", 4.6, Weight.BOLD),
        Sentence("1  Spread the pages out as on the map, row by row.", 3.5, lead_mm=1.0),
        Sentence(f"2  {second}", 3.5, lead_mm=0.6),
        Sentence(f"3  {third}", 3.5, lead_mm=0.6),
        Sentence(
            "4  Join the pages of each row, then the rows. Cut the pieces out.", 3.5, lead_mm=0.6
        ),
        *(Sentence(words, 3.5, lead_mm=0.6) for words in _bare_words(has_blank, left_out)),
        *((Sentence(caution, 3.5, Weight.BOLD, lead_mm=1.6),) if caution else ()),
    )


def _bare_words(has_blank: bool, left_out: Sequence[str]) -> Iterator[str]:
    if left_out:
        is_one = len(left_out) == 1
        yield (
            f"{enumerated(left_out)} {'is' if is_one else 'are'} left out: no line of the pattern "
            f"lies there. Leave {'that place' if is_one else 'those places'} open and join the "
            "pages around; a sheet of plain paper behind keeps the piece flat."
        )
    if has_blank:
        yield (
            f"Pages marked “{NO_LINE}” are the inside of a piece too, but are needed: they join "
            "the pages around them, or keep them in line."
        )


def front_pages(
    ink: Sequence[Ink],
    tiling: Tiling,
    pages_of: Mapping[str, Sequence[Tile]],
    *,
    title: PrintTitle,
    paper: Paper,
    margins: Margins,
    sizes: Sequence[str] = (),
    caution: str = "",
    rectangles: Mapping[str, str] = _NONE,
) -> tuple[Page, ...]:
    """The first page, and a second one if there are too many pieces for one list.

    `caution` is a sentence on what to mind with this print; `rectangles` tells by piece how large
    the plain rectangles are.
    """
    area = printable(paper, margins)
    entries = [(name, tiles) for name, tiles in pages_of.items() if tiles]
    ends = end_tiles(tiling, ink, pages_of)
    marks = {
        **dict.fromkeys(bare_tiles(tiling, ink), NO_LINE),
        **dict.fromkeys(ends, ONLY_AN_END),
    }

    def numbered(front: int) -> list[tuple[str, str]]:
        return [
            (
                name,
                _page_list(tiling, tiles, front)
                + _ends_told(tiling, tiles, ends, front)
                + _size_told(rectangles.get(name, "")),
            )
            for name, tiles in entries
        ]

    head, below = _head(title, area)
    items: list[Item] = list(head)
    top = below - _BELOW_HEAD_MM
    items.extend(squares(area.left, top, title.unit))
    words_left = area.left + SQUARES_WIDTH_MM + _GAP_MM
    beside = set_column(
        scale_words(title.unit), left=words_left, top=top + 1.0, width_mm=area.right - words_left
    )
    items.extend(beside.texts)
    level = min(top - INCH_SQUARE_MM, beside.bottom) - _GAP_MM

    half = (area.width - _GAP_MM) / 2
    joining = set_column(
        joining_words(
            tiling.overlap_mm,
            caution,
            has_blank=NO_LINE in marks.values(),
            left_out=[each.label for each in tiling.left_out],
        ),
        left=area.left,
        top=level + 3.0,
        width_mm=half,
    )
    items.extend(joining.texts)
    right = area.left + half + _GAP_MM
    key_bottom = level
    heading = set_column(
        [Sentence("Lines", 4.6, Weight.BOLD)], left=right, top=level + 3.0, width_mm=half
    )
    items.extend(heading.texts)
    if sizes:
        items.extend(size_key(sizes, left=right, top=heading.bottom, width_mm=half))
        key_bottom = heading.bottom - size_key_height(sizes, half)
    else:
        items.extend(_line_key(right, heading.bottom))
        key_bottom = heading.bottom - 18.0
    level = min(joining.bottom, key_bottom) - _GAP_MM

    map_and_list = _map_and_list(ink, tiling, numbered(1), area, level, marks)
    if map_and_list:
        items.extend(map_and_list)
        return (Page(paper.width_mm, paper.height_mm, (_as_drawing(items),)),)
    box = Bounds(area.left, area.bottom, area.right, level)
    items.extend(map_of_pages(ink, tiling, box, 2, marks))
    rest = _piece_list(numbered(2), Bounds(area.left, area.bottom, area.right, area.top), 2)
    return (
        Page(paper.width_mm, paper.height_mm, (_as_drawing(items),)),
        Page(paper.width_mm, paper.height_mm, (_as_drawing(rest.items),)),
    )


def page_of_words(title: PrintTitle, paper: Paper, margins: Margins) -> Page:
    """A page that only bears the head of a print, with its sentences."""
    items, _ = _head(title, printable(paper, margins))
    return Page(paper.width_mm, paper.height_mm, (_as_drawing(items),))


def _map_and_list(
    ink: Sequence[Ink],
    tiling: Tiling,
    entries: Sequence[tuple[str, str]],
    area: Bounds,
    top: float,
    marks: Mapping[Tile, str],
) -> tuple[Item, ...]:
    """The map with the list above or beside it, whichever leaves a larger map; empty if none."""
    half = (area.width - _GAP_MM) / 2
    above = _piece_list(entries, Bounds(area.left, area.bottom, area.right, top), 2)
    beside = _piece_list(entries, Bounds(area.right - half * 0.8, area.bottom, area.right, top), 1)
    under_list = Bounds(area.left, area.bottom, area.right, top - above.height)
    by_list = Bounds(area.left, area.bottom, area.right - half * 0.8 - _GAP_MM, top)
    choices = []
    if under_list.height >= _LEAST_MAP_MM:
        choices.append((map_factor(tiling, under_list), above, under_list))
    if beside.height <= by_list.height:
        choices.append((map_factor(tiling, by_list), beside, by_list))
    if not choices:
        return ()
    _, lists, box = max(choices, key=lambda choice: choice[0])
    return (*lists.items, *map_of_pages(ink, tiling, box, 1, marks))


def _as_drawing(items: Sequence[Item]) -> Drawing:
    return Drawing((Layer("front page", tuple(items)),))


def _head(title: PrintTitle, area: Bounds) -> tuple[tuple[Item, ...], float]:
    """Title and what stands below it, from the top left of an area, and how far down it reaches."""
    left, y = area.left, area.top - 15.5
    items: list[Item] = [
        Text(title.title, Point(left, area.top - 9.0), 11.0, INK, weight=Weight.BOLD)
    ]
    if title.subtitle:
        items.append(Text(title.subtitle, Point(left, y), 4.6, INK))
    below = [*title.notes, *([title.edition] if title.edition else [])]
    if not below:
        return tuple(items), y
    sentences = [Sentence(words, _NOTE_MM, lead_mm=0.4) for words in below]
    column = set_column(sentences, left=left, top=y - 1.2, width_mm=area.width)
    return (*items, *column.texts), column.bottom


def _line_key(left: float, top: float) -> Iterator[Item]:
    for number, (words, stroke) in enumerate(
        (("cut", CUTTING), ("stitch", STITCHING), ("fold", FOLD))
    ):
        y = top - 3.0 - number * 5.5
        yield Shape((polyline([Point(left, y), Point(left + 24.0, y)]),), stroke)
        yield Text(words, Point(left + 26.0, y), 3.6, INK, baseline=Baseline.MIDDLE)


@dataclass(frozen=True)
class _List:
    items: tuple[Item, ...]
    height: float


def _piece_list(entries: Sequence[tuple[str, str]], area: Bounds, columns: int) -> _List:
    """Each piece with its pages, from the top of an area, the first column filled first."""
    if not entries:
        return _List((), 0.0)
    width = (area.width - (columns - 1) * _GAP_MM) / columns
    heading = Sentence("Pages of each piece", 4.6, Weight.BOLD)
    head = set_column([heading], left=area.left, top=area.top + 3.0, width_mm=area.width)
    texts: list[Item] = list(head.texts)
    share = -(-len(entries) // columns)
    bottoms = [head.bottom]
    for number in range(columns):
        part = entries[number * share : (number + 1) * share]
        left = area.left + number * (width + _GAP_MM)
        rows = [Sentence(f"{name}: {pages}", 3.2, lead_mm=0.5) for name, pages in part]
        column = set_column(rows, left=left, top=head.bottom, width_mm=width)
        texts.extend(column.texts)
        bottoms.append(column.bottom)
    return _List(tuple(texts), area.top - min(bottoms) + _GAP_MM)


def _page_list(tiling: Tiling, tiles: Sequence[Tile], front: int) -> str:
    """Page numbers as a print dialog takes them: `2-4, 7`."""
    numbers = sorted(tiling.page_number(tile, front + 1) for tile in tiles)
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{r[0]}-{r[-1]}" if len(r) > 1 else str(r[0]) for r in runs)


def _ends_told(tiling: Tiling, tiles: Sequence[Tile], ends: Collection[Tile], front: int) -> str:
    own = [tile for tile in tiles if tile in ends]
    return only_its_end(_page_list(tiling, own, front)) if own else ""


def _size_told(size: str) -> str:
    return f"; a rectangle, {size}" if size else ""


def only_its_end(pages: str) -> str:
    """What follows the pages of a piece, of which these hold nothing but its end.

    >>> only_its_end("7, 9")
    '; only its end on 7, 9'
    """
    return f"; only its end on {pages}"


def check_block(title: PrintTitle, sizes: Sequence[str] = (), caution: str = "") -> Drawing:
    """Title, test squares and key as one drawing, to lie among the pieces on a large sheet."""
    head, below = _head(title, Bounds(0.0, -1000.0, SQUARES_WIDTH_MM, 0.0))
    top = below - 4.5
    items: list[Item] = [*head, *squares(0.0, top, title.unit)]
    bottom = top - INCH_SQUARE_MM - 4.0
    words = set_column(
        [
            Sentence("Print at 100 % (“actual size”) and measure the squares before you cut.", 3.5),
            *((Sentence(caution, 3.5, Weight.BOLD, lead_mm=1.6),) if caution else ()),
        ],
        left=0.0,
        top=bottom,
        width_mm=SQUARES_WIDTH_MM,
    )
    items.extend(words.texts)
    if sizes:
        items.extend(size_key(sizes, left=0.0, top=words.bottom - 3.0, width_mm=SQUARES_WIDTH_MM))
    return Drawing((Layer("check", (Group(tuple(items)),)),), title.title)
