"""Print files: pieces on tiled pages, on large sheets, or on a roll."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace

from clothwise.errors import OutputError
from clothwise.geometry import Point
from clothwise.output.arranging import Arrangement, arrange, arrange_for_tiles
from clothwise.output.bare_pages import bare_tiles, without_bare
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import Drawing, merged, moved, placed
from clothwise.output.front_page import (
    PrintTitle,
    check_block,
    front_pages,
    page_of_words,
)
from clothwise.output.ink import Ink, ink_of
from clothwise.output.map_of_pages import end_tiles
from clothwise.output.off_joints import diamond_shares, off_joints
from clothwise.output.paper import EITHER, LARGEST_PAGE_MM, Margins, Paper, printable
from clothwise.output.pdf import Page, View, pages_to_pdf
from clothwise.output.tile_pages import tile_page
from clothwise.output.tiling import OVERLAP_MM, InkedTiling, Tile, Tiling, inked, tile

ROLL_MARGIN_MM = 10.0
"""Left free on each side of a large sheet or roll."""

DEFAULT_MARGINS = Margins()
_NONE: Mapping[str, str] = {}


@dataclass(frozen=True)
class PrintFile:
    """A finished file and what is in it.

    Attributes:
        pdf: the bytes of the file.
        pages: how many pages it has.
        sheet: the arranged sheet that its pages show; of several, the first.
        tiles: for tiled files, the tiles in page order; else empty.
        pages_of: for tiled files, page numbers by piece.
    """

    pdf: bytes
    pages: int
    sheet: Drawing
    tiles: tuple[Tile, ...] = ()
    pages_of: tuple[tuple[str, tuple[int, ...]], ...] = ()


@dataclass(frozen=True)
class PrintPages:
    """Pages that are ready to be looked at, or to become a file.

    Attributes:
        title: of the document.
        pages: in the order in which they are printed.
        names: of the pages: `first page`, then the labels of the tiles; or `sheet 1` and so on.
        sheets: the arranged sheets that the pages show.
        tiling: how the one sheet is cut into pages; None if no page is to be joined to another.
        ink: what the sheet of a tiling covers.
        pages_of: page numbers by piece; empty if no page is to be joined to another.
        ends: numbers of the pages that hold nothing but the very end of a piece.
        blank: numbers of the pages that hold no line, but keep the pages around them in line.
        rectangles: by title, how large the plain rectangles are that are printed.
        measured_out: sentences on pieces that are not printed.
    """

    title: PrintTitle
    pages: tuple[Page, ...]
    names: tuple[str, ...]
    sheets: tuple[Drawing, ...]
    tiling: Tiling | None = None
    ink: tuple[Ink, ...] = ()
    pages_of: tuple[tuple[str, tuple[int, ...]], ...] = ()
    ends: tuple[int, ...] = ()
    blank: tuple[int, ...] = ()
    rectangles: Mapping[str, str] = field(default_factory=dict)
    measured_out: tuple[str, ...] = ()

    def file(self, language: str = "en") -> PrintFile:
        """The file of these pages; `language` is a BCP 47 tag."""
        pdf = pages_to_pdf(
            self.pages, title=_document_title(self.title), subject="Pattern", language=language
        )
        tiles = self.tiling.tiles if self.tiling else ()
        return PrintFile(pdf, len(self.pages), self.sheets[0], tiles, self.pages_of)


def tiled_pdf(
    pieces: Sequence[Drawing],
    title: PrintTitle,
    *,
    paper: Paper = EITHER,
    margins: Margins = DEFAULT_MARGINS,
    overlap_mm: float = OVERLAP_MM,
    sizes: Sequence[str] = (),
    caution: str = "",
    language: str = "en",
) -> PrintFile:
    """The pieces on pages for a home printer, with a first page that tells how to join them.

    Args:
        pieces: drawings of pieces, of one size or nested.
        title: for the first page, and below each page.
        paper: of the pages; the default prints at full size on A4 and on Letter.
        margins: what the printer leaves blank.
        overlap_mm: width of the strip that neighbors share.
        sizes: the sizes of nested pieces, for the key to their lines.
        caution: what to mind with this print, for the first page.
        language: of the document, as a BCP 47 tag.

    Raises:
        OutputError: there are no pieces.
        Misuse: margins or overlap do not suit the paper.
    """
    pages = tiled_pages(
        pieces,
        title,
        paper=paper,
        margins=margins,
        overlap_mm=overlap_mm,
        sizes=sizes,
        caution=caution,
    )
    return pages.file(language)


def tiled_pages(
    pieces: Sequence[Drawing],
    title: PrintTitle,
    *,
    paper: Paper = EITHER,
    margins: Margins = DEFAULT_MARGINS,
    overlap_mm: float = OVERLAP_MM,
    sizes: Sequence[str] = (),
    caution: str = "",
    rectangles: Mapping[str, str] = _NONE,
    measured_out: Sequence[str] = (),
) -> PrintPages:
    """The pages of `tiled_pdf`, to be looked at before they are written.

    Args:
        pieces, title, paper, margins, overlap_mm, sizes, caution: as there.
        rectangles: by title of a piece, how large it is; for the list of pieces.
        measured_out: sentences on pieces that are not printed, for the first page. If there are
            some, there may be no pieces at all.

    Raises:
        OutputError: there are no pieces.
        Misuse: margins or overlap do not suit the paper.
    """
    title = replace(title, notes=(*title.notes, *measured_out))
    if not pieces and measured_out:
        page = page_of_words(title, paper, margins)
        sheet = Drawing((), title.title)
        return PrintPages(
            title, (page,), ("first page",), (sheet,), measured_out=tuple(measured_out)
        )
    _refuse_none(pieces)
    tiled = _tiled(pieces, title, paper, margins, overlap_mm)
    front = front_pages(
        tiled.ink,
        tiled.found.tiling,
        tiled.found.pages_of,
        title=title,
        paper=paper,
        margins=margins,
        sizes=sizes,
        caution=caution,
        rectangles=rectangles,
    )
    total = len(front) + len(tiled.found.tiling.tiles)
    shown = tiled.shown(front, tiled.pages(first=len(front) + 1, total=total))
    return replace(shown, rectangles=rectangles, measured_out=tuple(measured_out))


@dataclass(frozen=True)
class _Tiled:
    """A sheet cut into tiles, before it becomes pages."""

    sheet: Drawing
    ink: Sequence[Ink]
    found: InkedTiling
    title: PrintTitle
    paper: Paper
    margins: Margins

    def pages(self, *, first: int, total: int) -> list[Page]:
        """The pages of the tiles, numbered from `first` of `total`."""
        diamonds = diamond_shares(self.found.tiling, self.ink)
        return [
            tile_page(
                self.sheet,
                self.found.tiling,
                each,
                paper=self.paper,
                margins=self.margins,
                footer=_footer(self.title, each, number, total),
                diamonds=diamonds,
            )
            for number, each in enumerate(self.found.tiling.tiles, start=first)
        ]

    def shown(self, front: Sequence[Page], pages: Sequence[Page]) -> PrintPages:
        """These pages, after those that tell how to join them."""
        tiling = self.found.tiling
        heads = ("first page", "second page")[: len(front)]
        ends = end_tiles(tiling, self.ink, self.found.pages_of)
        blank = bare_tiles(tiling, self.ink)

        def numbers(some: Collection[Tile]) -> tuple[int, ...]:
            return tuple(sorted(tiling.page_number(each, len(front) + 1) for each in some))

        return PrintPages(
            self.title,
            (*front, *pages),
            (*heads, *(each.label for each in tiling.tiles)),
            (self.sheet,),
            tiling,
            tuple(self.ink),
            _numbers(self.found, len(front)),
            ends=numbers(ends),
            blank=numbers(blank),
        )


def _tiled(
    drawings: Sequence[Drawing],
    title: PrintTitle,
    paper: Paper,
    margins: Margins,
    overlap_mm: float = OVERLAP_MM,
) -> _Tiled:
    area = printable(paper, margins)
    arrangement = arrange_for_tiles(
        drawings, tile_width_mm=area.width, tile_height_mm=area.height, overlap_mm=overlap_mm
    )
    sheet = _sheets(drawings, arrangement, title)[0]
    ink = ink_of(sheet)
    found = inked(tile(arrangement.sheets[0], area, overlap_mm), ink)
    sheet, clear = off_joints(sheet, found.tiling, ink)
    return _Tiled(sheet, clear, _printed(found, clear), title, paper, margins)


def _printed(found: InkedTiling, ink: Sequence[Ink]) -> InkedTiling:
    """What is left once pages are left out on which nothing is drawn."""
    tiling = without_bare(found.tiling, bare_tiles(found.tiling, ink))
    out = set(tiling.left_out)
    pages_of = {
        name: tuple(each for each in tiles if each not in out)
        for name, tiles in found.pages_of.items()
    }
    return InkedTiling(tiling, pages_of)


def sheet_pdf(
    pieces: Sequence[Drawing],
    title: PrintTitle,
    *,
    paper: Paper,
    margin_mm: float = ROLL_MARGIN_MM,
    sizes: Sequence[str] = (),
    caution: str = "",
    language: str = "en",
) -> PrintFile:
    """The pieces on as few large sheets as we find, upright or lying, whichever takes fewer.

    If a piece is larger than a sheet, the sheets are tiles of a larger one, with the marks to
    join them; `tiles` then tells so.

    Raises:
        OutputError: there are no pieces.
    """
    pages = sheet_pages(
        pieces, title, paper=paper, margin_mm=margin_mm, sizes=sizes, caution=caution
    )
    return pages.file(language)


def sheet_pages(
    pieces: Sequence[Drawing],
    title: PrintTitle,
    *,
    paper: Paper,
    margin_mm: float = ROLL_MARGIN_MM,
    sizes: Sequence[str] = (),
    caution: str = "",
    measured_out: Sequence[str] = (),
) -> PrintPages:
    """The sheets of `sheet_pdf`, to be looked at before they are written.

    Args:
        pieces, title, paper, margin_mm, sizes, caution: as there.
        measured_out: sentences on pieces that are not printed, for the head of the print. If there
            are some, there may be no pieces at all.

    Raises:
        OutputError: there are no pieces.
    """
    if not measured_out:
        _refuse_none(pieces)
    title = replace(title, notes=(*title.notes, *measured_out))
    drawings = [check_block(title, sizes, caution), *pieces]
    found: list[tuple[int, Paper, list[Drawing]]] = []
    for way in (paper, paper.landscape):
        area = printable(way, Margins(margin_mm, margin_mm))
        try:
            arrangement = arrange(drawings, area.width, height_mm=area.height)
        except OutputError:
            continue
        lifted = [
            moved(sheet, margin_mm, way.height_mm - margin_mm - box.height)
            for sheet, box in zip(
                _sheets(drawings, arrangement, title), arrangement.sheets, strict=True
            )
        ]
        found.append((len(lifted), way, lifted))
    if not found:
        return _joined_sheets(drawings, title, paper, margin_mm)
    _, way, sheets = min(found, key=lambda entry: entry[0])
    size = Bounds(0.0, 0.0, way.width_mm, way.height_mm)
    return _whole(sheets, [size] * len(sheets), title)


def _joined_sheets(
    drawings: Sequence[Drawing], title: PrintTitle, paper: Paper, margin_mm: float
) -> PrintPages:
    """Large sheets that are joined like tiles; upright or lying, whichever takes fewer."""
    margins = Margins(margin_mm, margin_mm)
    tiled = [_tiled(drawings, title, way, margins) for way in (paper, paper.landscape)]
    best = min(tiled, key=lambda each: len(each.found.tiling.tiles))
    return best.shown((), best.pages(first=1, total=len(best.found.tiling.tiles)))


def _sheets(
    drawings: Sequence[Drawing], arrangement: Arrangement, title: PrintTitle
) -> list[Drawing]:
    """The drawings as they are arranged, one drawing for each sheet."""
    laid = [
        (spot.sheet, placed(drawing, spot.transform))
        for drawing, spot in zip(drawings, arrangement.placed, strict=True)
    ]
    return [
        merged((drawing for at, drawing in laid if at == number), title=title.title)
        for number in range(len(arrangement.sheets))
    ]


def roll_pdf(
    pieces: Sequence[Drawing],
    title: PrintTitle,
    *,
    width_mm: float,
    margin_mm: float = ROLL_MARGIN_MM,
    sizes: Sequence[str] = (),
    caution: str = "",
    language: str = "en",
) -> PrintFile:
    """The pieces on a roll of a width; as long as needed, in several lengths if one is too long.

    Raises:
        OutputError: there are no pieces, or one is wider than the roll.
    """
    _refuse_none(pieces)
    drawings = [check_block(title, sizes, caution), *pieces]
    longest = LARGEST_PAGE_MM - 2 * margin_mm
    arrangement = arrange(drawings, width_mm - 2 * margin_mm, height_mm=longest)
    sheets = [moved(sheet, margin_mm, margin_mm) for sheet in _sheets(drawings, arrangement, title)]
    sizes_mm = [
        Bounds(0.0, 0.0, width_mm, box.height + 2 * margin_mm) for box in arrangement.sheets
    ]
    return _whole(sheets, sizes_mm, title).file(language)


def _whole(sheets: Sequence[Drawing], sizes: Sequence[Bounds], title: PrintTitle) -> PrintPages:
    pages = tuple(
        Page(size.width, size.height, (View(sheet, size, Point(0.0, 0.0)),))
        for sheet, size in zip(sheets, sizes, strict=True)
    )
    names = tuple(f"sheet {number}" for number in range(1, len(pages) + 1))
    return PrintPages(title, pages, names, tuple(sheets))


def _refuse_none(pieces: Sequence[Drawing]) -> None:
    if not pieces:
        raise OutputError(
            "there is nothing to print",
            how_much="no pieces",
            what_to_do="Choose a design that has pieces.",
        )


def _footer(title: PrintTitle, each: Tile, page: int, total: int) -> str:
    parts = (title.title, title.subtitle, each.label, f"page {page} of {total}", title.edition)
    return "   ".join(part for part in parts if part)


def _document_title(title: PrintTitle) -> str:
    return ", ".join(part for part in (title.title, title.subtitle) if part)


def _numbers(found: InkedTiling, front: int) -> tuple[tuple[str, tuple[int, ...]], ...]:
    return tuple(
        (name, tuple(found.tiling.page_number(each, front + 1) for each in tiles))
        for name, tiles in found.pages_of.items()
    )
