"""In a worker: what is printed of a make, arranged once for its pictures and its file."""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from clothwise.app.jobs._refused_size import named_size, worked_out
from clothwise.app.jobs.print_ import PrintShown, ShownMap, ShownTile
from clothwise.app.print_choices import states_paper
from clothwise.errors import ClothwiseError
from clothwise.output import (
    PAPERS,
    MapTile,
    PageMap,
    PagePictures,
    Paper,
    PrintLayer,
    PrintPages,
    page_map,
    paper_named,
)
from clothwise.output.front_page import only_its_end
from clothwise.output.map_of_pages import LEFT_OUT, NO_LINE, ONLY_AN_END
from clothwise.packet.nested_print import PrintChoice, chosen_pages
from clothwise.packet.printing import LARGE_PAPERS
from clothwise.pattern.document.make import DEFAULT_PAPER
from clothwise.units import LengthUnit, format_inches

if TYPE_CHECKING:
    from clothwise.app.jobs.print_ import PagesOf, PrintJob
    from clothwise.app.work.job import Tell
    from clothwise.packet.making import Making

__all__ = ["arranged", "paper_choices", "print_shown", "sides_in_words"]

_KEPT = 3
"""So many arranged prints are held ready; each takes a few megabytes. Our own choice."""
_prints: OrderedDict[str, PrintPages] = OrderedDict()

_STEPS = 5  # told before the pages are there, for one size; one more for each further size


def arranged(job: PrintJob, told: Tell, making: Making | None = None) -> PrintPages:
    """Return the pages of what a job prints.

    Raises:
        Misuse: no such paper or size.
        JobRefused: a size cannot be drafted.
    """
    key = _key(job)
    if key not in _prints:
        known = {layer.value: layer for layer in PrintLayer}
        layers = frozenset(layer for name, layer in known.items() if name not in job.without)
        heard = iter(range(1, 10_000))
        total = _STEPS + len(job.sizes)

        def tell(words: str) -> None:
            told(min(next(heard) / total, 0.95), words)

        choice = PrintChoice(job.paper, job.sizes, layers, job.no_rectangles)
        making = making or worked_out(job)
        try:
            _prints[key] = chosen_pages(making, choice, tell=tell)
        except ClothwiseError as error:
            instead = "Or take it out of the sizes that are printed."
            if not job.sizes:
                raise
            raise named_size(error, making, job.sizes, job.unit, instead) from error
        while len(_prints) > _KEPT:
            _prints.popitem(last=False)
    _prints.move_to_end(key)
    return _prints[key]


def print_shown(job: PagesOf, told: Tell) -> PrintShown:
    """Return the pages of what a job prints as pictures, with what is said about them.

    Raises:
        ClothwiseError: as `arranged`.
    """
    making = worked_out(job, "Or give the make another size.")
    of = making.file.of
    nearest = making.size if making.size in of.sizes else of.design.base_size
    if job.of_chart and not job.sizes:
        job = replace(job, sizes=(nearest,))
    pages = arranged(job, told, making)
    pictures = PagePictures(pages)
    first = pages.pages[0]
    tiling = pages.tiling
    usual = making.file.make.paper
    return PrintShown(
        title=pages.title.title,
        subtitle=pages.title.subtitle,
        own=making.fit,
        nearest=nearest,
        chosen=job.sizes,
        sizes=making.file.of.sizes,
        paper=_paper_key(job.paper or usual),
        papers=paper_choices(making.unit),
        stated=PAPERS[_paper_key(usual)].name if states_paper(job.documents[job.make]) else "",
        names=pages.names,
        page_mm=(first.width_mm, first.height_mm),
        page_size=sides_in_words(first.width_mm, first.height_mm, making.unit),
        across=tiling.columns if tiling else 0,
        down=tiling.rows if tiling else 0,
        shown_map=_light(page_map(pages)),
        pieces=pages.pages_of,
        piece_ends=tuple(_ends(pages, numbers) for _, numbers in pages.pages_of),
        rectangles=tuple(pages.rectangles.items()),
        measured_out=pages.measured_out,
        svgs=tuple(pictures.svg(number) for number in range(1, len(pages.pages) + 1)),
    )


def _ends(pages: PrintPages, numbers: Sequence[int]) -> str:
    own = [str(each) for each in numbers if each in pages.ends]
    return only_its_end(", ".join(own)) if own else ""


def _light(found: PageMap | None) -> ShownMap | None:
    if found is None:
        return None
    tiles = tuple(
        _light_tile(each, ONLY_AN_END if each.is_end else NO_LINE if each.is_blank else "")
        for each in found.tiles
    )
    left_out = tuple(_light_tile(each, LEFT_OUT) for each in found.left_out)
    return ShownMap(found.width_mm, found.height_mm, tiles, found.outlines, left_out)


def _light_tile(tile: MapTile, words: str) -> ShownTile:
    place = (tile.left_mm, tile.top_mm, tile.width_mm, tile.height_mm)
    return ShownTile(tile.name, tile.number, *place, words)


def _paper_key(name: str) -> str:
    known = paper_named(name)
    return next(key for key, each in PAPERS.items() if each == known)


def paper_choices(unit: LengthUnit, *, is_home_only: bool = False) -> tuple[tuple[str, str], ...]:
    """The papers by name, each with words for it and its sides in the reader's unit.

    `is_home_only` leaves those out that pieces are arranged on as on one large sheet.
    """
    return tuple(
        (name, _paper_words(name, unit))
        for name in PAPERS
        if not (is_home_only and name in LARGE_PAPERS)
    )


def _paper_words(name: str, unit: LengthUnit) -> str:
    paper: Paper = PAPERS[name]
    kind = "; a large sheet" if name in LARGE_PAPERS else ""
    kind = "; fits both" if name == DEFAULT_PAPER else kind
    return f"{paper.name}, {sides_in_words(paper.width_mm, paper.height_mm, unit)}{kind}"


def sides_in_words(width_mm: float, height_mm: float, unit: LengthUnit) -> str:
    """Width and height of a page: whole millimeters, or inches to an eighth.

    >>> sides_in_words(215.9, 279.4, LengthUnit.INCH)
    '8 1/2 × 11 in'
    """
    if unit is LengthUnit.INCH:
        return f"{format_inches(width_mm).removesuffix(' in')} × {format_inches(height_mm)}"
    return f"{width_mm:.0f} × {height_mm:.0f} mm"


def _key(job: PrintJob) -> str:
    choice = (job.paper, job.sizes, sorted(job.without), job.no_rectangles)
    digest = hashlib.sha256(repr((job.make, job.unit, *choice)).encode())
    for name in sorted(job.documents):
        digest.update(f"\0{name}\0{job.documents[name]}".encode())
    return digest.hexdigest()
