"""What is cut from each remnant, as a page of its own."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from clothwise.cutting import CutItem
from clothwise.cutting.remnant import usable_cloth, washed_cloth
from clothwise.cutting.remnant_layout import RemnantLayout
from clothwise.output import Drawing
from clothwise.output.layout_page import LayoutText, layout_page
from clothwise.output.remnant_drawing import remnant_drawing
from clothwise.packet.booklet import color_of
from clothwise.packet.cloth_facts import tied
from clothwise.packet.layout_pictures import (
    KINDS,
    LARGEST_ON_PAGE,
    picture_names,
    sheet_for,
    write_pages,
)
from clothwise.packet.making import Making
from clothwise.packet.packing import Written
from clothwise.units import LengthUnit, format_length

__all__ = ["remnant_page", "write_remnant_pictures"]


def remnant_page(making: Making, laid: RemnantLayout, items: Sequence[CutItem]) -> Drawing:
    """A page with one remnant and the copies that are cut from it.

    Args:
        making: of the garment.
        laid: where the copies lie.
        items: the copies, at least those that are laid.
    """
    tint = color_of(laid.remnant.fabric.color)
    left, low, right, high = washed_cloth(laid.remnant).bounds
    text = LayoutText(
        title=laid.remnant.name,
        subtitle=f"{making.title}, {making.fit}",
        tint=tint,
        facts=_facts(laid, making.unit),
        sentences=tied(_sentences(laid)),
    )

    def draw(width_mm: float, height_mm: float) -> Drawing:
        return remnant_drawing(
            laid.remnant,
            laid.placements,
            items,
            width_mm=width_mm,
            unit=making.unit,
            cloth=tint,
            tallest_mm=height_mm,
            largest=LARGEST_ON_PAGE,
        )

    return layout_page(text, draw, paper=sheet_for(making, right - left, high - low))


def write_remnant_pictures(
    making: Making,
    layouts: Sequence[RemnantLayout],
    items: Sequence[CutItem],
    folder: Path,
    *,
    kinds: Sequence[str] = tuple(KINDS),
) -> tuple[Written, ...]:
    """Write the page of each remnant in each kind; each file appears whole or not at all.

    Args:
        making: of the garment.
        layouts: one for each remnant that is used.
        items: the copies, at least those that are laid.
        folder: made if it is not there.
        kinds: endings out of `KINDS`.

    Raises:
        OutputError: the folder or a file cannot be written.
    """
    names = picture_names([laid.remnant.name for laid in layouts], "remnant")
    pages = [
        (name, f"what is cut from {laid.remnant.name}", remnant_page(making, laid, items))
        for name, laid in zip(names, layouts, strict=True)
    ]
    return write_pages(pages, folder, kinds)


def _facts(laid: RemnantLayout, unit: LengthUnit) -> tuple[tuple[str, str], ...]:
    left, low, right, high = washed_cloth(laid.remnant).bounds
    used = round(100 * laid.used_share)
    return (
        ("Pieces", str(len(laid.placements))),
        ("Along the grain", format_length(right - left, unit)),
        ("Across", format_length(high - low, unit)),
        ("In the pieces", f"{used} %"),
        ("Left over", f"{100 - used} %"),
    )


def _sentences(laid: RemnantLayout) -> tuple[str, ...]:
    spoiled = washed_cloth(laid.remnant).area - usable_cloth(laid.remnant).area
    share = round(100 * spoiled / washed_cloth(laid.remnant).area)
    said = ["Lay it right side up, its grain along the page."]
    if laid.remnant.holes or laid.remnant.flaws:
        said.append(
            f"Holes and places that may not be used take {share} % of it."
            if share
            else "Keep clear of its holes and of what is marked as not to be used."
        )
    return tuple(said)
