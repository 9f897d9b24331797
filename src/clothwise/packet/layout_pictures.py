"""Each layout of a make as a file of its own: PDF to print, SVG to draw on, PNG to send."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from clothwise.output import Drawing, Paper, paper_named, to_pdf, to_svg
from clothwise.output.layout_drawing import layout_drawing
from clothwise.output.layout_frame import reach, table_length_mm
from clothwise.output.layout_page import LayoutText, layout_page
from clothwise.output.png import to_png
from clothwise.packet.bias_pages import block_pages
from clothwise.packet.booklet import color_of
from clothwise.packet.both_units import all_unit_first
from clothwise.packet.cloth_facts import cloth_facts, limiting_sentences, tied
from clothwise.packet.making import ClothPlan, Making
from clothwise.packet.packing import Written, make_folder
from clothwise.pattern.saving import write_atomically

__all__ = [
    "KINDS",
    "cloth_page",
    "picture_names",
    "sheet_for",
    "write_layout_pictures",
    "write_pages",
]

LARGEST_ON_PAGE = 0.25
"""A layout on a page of its own is drawn no larger than 1:4; our own choice."""
_WRITTEN_MM = 75.0
_HOME_PAPERS = ("a4", "letter", "a4-or-letter")

KINDS: Mapping[str, Callable[[Drawing], bytes]] = {
    "pdf": to_pdf,
    "svg": lambda page: to_svg(page).encode(),
    "png": to_png,
}
"""Kinds of files by their ending, and how each is made."""


def cloth_page(making: Making, cloth: ClothPlan) -> Drawing:
    """A page with the layout of one fabric, upright or on its side as suits it."""
    layout = cloth.layout
    tint = color_of(cloth.entry.color)
    text = LayoutText(
        title=cloth.title,
        subtitle=f"{making.title}, {making.fit}",
        tint=tint,
        facts=cloth_facts(cloth, making.unit),
        sentences=tied(
            all_unit_first((*limiting_sentences(cloth, making.unit), *layout.notes), making.unit)
        ),
    )

    def draw(width_mm: float, height_mm: float) -> Drawing:
        return layout_drawing(
            layout,
            cloth.items,
            width_mm=width_mm,
            unit=making.unit,
            cloth=tint,
            tallest_mm=height_mm,
            largest=LARGEST_ON_PAGE,
            pinned=cloth.pinned,
            matches=cloth.matches,
        )

    low, high = reach(layout)
    sheet = sheet_for(making, table_length_mm(layout), high - low)
    return layout_page(text, draw, paper=sheet)


def sheet_for(making: Making, length_mm: float, width_mm: float) -> Paper:
    """The maker's paper, upright or on its side, whichever gives cloth the larger scale."""
    name = making.file.make.paper
    paper = paper_named(name if name in _HOME_PAPERS else "a4")

    def scale(sheet: Paper) -> float:
        high = (sheet.height_mm - _WRITTEN_MM) / width_mm
        return min(sheet.width_mm / length_mm, high, LARGEST_ON_PAGE)

    return max((paper.landscape, paper), key=scale)


def write_layout_pictures(
    making: Making,
    cloths: Sequence[ClothPlan],
    folder: Path,
    *,
    kinds: Sequence[str] = tuple(KINDS),
) -> tuple[Written, ...]:
    """Write a page of each fabric, and of each block for bias strips, in each kind.

    Each file appears whole or not at all.

    Args:
        making: of the fabrics.
        cloths: laid out.
        folder: made if it is not there.
        kinds: endings out of `KINDS`.

    Raises:
        OutputError: the folder or a file cannot be written.
    """
    names = picture_names([cloth.entry.name for cloth in cloths])
    pages = [
        (name, f"layout of {cloth.title}", cloth_page(making, cloth))
        for name, cloth in zip(names, cloths, strict=True)
    ]
    blocks = block_pages(making, cloths)
    block_names = picture_names([fabric for fabric, _, _ in blocks], "bias-block")
    pages += [(name, what, page) for name, (_, what, page) in zip(block_names, blocks, strict=True)]
    return write_pages(pages, folder, kinds)


def write_pages(
    pages: Sequence[tuple[str, str, Drawing]], folder: Path, kinds: Sequence[str] = tuple(KINDS)
) -> tuple[Written, ...]:
    """Write pages in each kind; each file appears whole or not at all.

    Args:
        pages: the name of each file without its ending, what it is, and the page.
        folder: made if it is not there.
        kinds: endings out of `KINDS`.

    Raises:
        OutputError: the folder or a file cannot be written.
    """
    make_folder(folder)
    written = []
    for name, what, page in pages:
        for kind in kinds:
            content = KINDS[kind](page)
            path = folder / f"{name}.{kind}"
            write_atomically(path, content)
            written.append(Written(path, what, 1 if kind == "pdf" else 0, len(content)))
    return tuple(written)


def picture_names(fabrics: Sequence[str], kind: str = "layout") -> tuple[str, ...]:
    """Names for files, without their endings, all different.

    Args:
        fabrics: as they are called.
        kind: what the names begin with.

    >>> picture_names(["linen", "wool & silk", "wool, silk"])
    ('layout-linen', 'layout-wool-silk', 'layout-wool-silk-2')
    """
    names: list[str] = []
    for fabric in fabrics:
        plain = re.sub(r"[^a-z0-9]+", "-", fabric.lower()).strip("-") or "fabric"
        name, times = f"{kind}-{plain}", 1
        while name in names:
            times += 1
            name = f"{kind}-{plain}-{times}"
        names.append(name)
    return tuple(names)
