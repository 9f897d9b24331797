"""Each layout of a make as a file of its own: PDF to print, SVG to draw on, PNG to send."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from clothwise.cutting import Layout
from clothwise.output import Drawing, Paper, paper_named, to_pdf, to_svg
from clothwise.output.layout_drawing import layout_drawing
from clothwise.output.layout_frame import reach, table_length_mm
from clothwise.output.layout_page import LayoutText, layout_page
from clothwise.output.png import to_png
from clothwise.packet.booklet import color_of
from clothwise.packet.cloth_facts import cloth_facts, limiting_sentences, tied
from clothwise.packet.making import ClothPlan, Making
from clothwise.packet.packing import Written, make_folder
from clothwise.pattern.saving import write_atomically

__all__ = ["KINDS", "cloth_page", "picture_names", "write_layout_pictures"]

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
        sentences=tied((*limiting_sentences(cloth, making.unit), *layout.notes)),
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

    name = making.file.make.paper
    paper = paper_named(name if name in _HOME_PAPERS else "a4")
    sheet = max((paper.landscape, paper), key=lambda each: _room(each, layout))
    return layout_page(text, draw, paper=sheet)


def _room(paper: Paper, layout: Layout) -> float:
    """The scale that a sheet has room for, about; what is written takes a part of its height."""
    low, high = reach(layout)
    return min(
        paper.width_mm / table_length_mm(layout),
        (paper.height_mm - _WRITTEN_MM) / (high - low),
        LARGEST_ON_PAGE,
    )


def write_layout_pictures(
    making: Making,
    cloths: Sequence[ClothPlan],
    folder: Path,
    *,
    kinds: Sequence[str] = tuple(KINDS),
) -> tuple[Written, ...]:
    """Write the page of each fabric in each kind; each file appears whole or not at all.

    Args:
        making: of the fabrics.
        cloths: laid out.
        folder: made if it is not there.
        kinds: endings out of `KINDS`.

    Raises:
        OutputError: the folder or a file cannot be written.
    """
    make_folder(folder)
    written = []
    for cloth, name in zip(cloths, picture_names([c.entry.name for c in cloths]), strict=True):
        page = cloth_page(making, cloth)
        for kind in kinds:
            content = KINDS[kind](page)
            path = folder / f"{name}.{kind}"
            write_atomically(path, content)
            pages = 1 if kind == "pdf" else 0
            written.append(Written(path, f"layout of {cloth.title}", pages, len(content)))
    return tuple(written)


def picture_names(fabrics: Sequence[str]) -> tuple[str, ...]:
    """Names for files, without their endings, all different.

    >>> picture_names(["linen", "wool & silk", "wool, silk"])
    ('layout-linen', 'layout-wool-silk', 'layout-wool-silk-2')
    """
    names: list[str] = []
    for fabric in fabrics:
        plain = re.sub(r"[^a-z0-9]+", "-", fabric.lower()).strip("-") or "fabric"
        name, times = f"layout-{plain}", 1
        while name in names:
            times += 1
            name = f"layout-{plain}-{times}"
        names.append(name)
    return tuple(names)
