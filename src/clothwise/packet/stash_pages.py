"""Pages of what is cut from each remnant, and of what is still laid on bought fabric."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from clothwise.cutting.remnant_layout import RemnantLayout
from clothwise.cutting.stash_plan import Bought
from clothwise.output import Drawing
from clothwise.output.layout_page import LayoutText, layout_page
from clothwise.output.remnant_drawing import remnant_drawing
from clothwise.packet.booklet import color_of
from clothwise.packet.cloth_facts import tied
from clothwise.packet.from_stash import FromStash
from clothwise.packet.layout_pictures import (
    KINDS,
    LARGEST_ON_PAGE,
    cloth_page,
    picture_names,
    sheet_for,
    write_pages,
)
from clothwise.packet.making import ClothPlan, Making
from clothwise.packet.packing import Written
from clothwise.packet.stash_words import lines_of, remnant_facts, remnant_notes

__all__ = ["remnant_page", "write_stash_pictures"]


def remnant_page(making: Making, found: FromStash, layout: RemnantLayout) -> Drawing:
    """A page with what is cut from one remnant, upright or on its side as suits it."""
    fabric = layout.remnant.fabric
    tint = color_of(fabric.color)
    ids = [item_id for each in layout.placements for item_id in each.item_ids]
    lines = lines_of(making, ids, opened=True)
    text = LayoutText(
        title=found.titles[layout.remnant.name],
        subtitle=f"{making.title}, {making.fit}",
        tint=tint,
        facts=remnant_facts(layout, making.unit),
        sentences=tied(
            (
                "; ".join(f"{line.number} {line.title}: {line.amount}" for line in lines) + ".",
                *remnant_notes(lines, layout),
            )
        ),
    )

    def draw(width_mm: float, height_mm: float) -> Drawing:
        return remnant_drawing(
            layout.remnant,
            layout.placements,
            tuple(found.items.values()),
            width_mm=width_mm,
            unit=making.unit,
            cloth=tint,
            tallest_mm=height_mm,
            largest=LARGEST_ON_PAGE,
        )

    sheet = sheet_for(making, fabric.length_mm, fabric.usable_width_mm)
    return layout_page(text, draw, paper=sheet)


def write_stash_pictures(
    making: Making, found: FromStash, folder: Path, *, kinds: Sequence[str] = tuple(KINDS)
) -> tuple[Written, ...]:
    """Write a page of each cloth that something is cut from, in each kind.

    Args:
        making: the make.
        found: what is cut from what.
        folder: made if it is not there.
        kinds: endings out of `KINDS`.

    Raises:
        OutputError: the folder or a file cannot be written.
    """
    pages: list[tuple[str, str, Drawing]] = []
    if found.plan is not None:
        for layout in found.plan.remnants:
            name = layout.remnant.name
            pages.append((name, found.titles[name], remnant_page(making, found, layout)))
        for each in found.plan.bought:
            plan = _cloth_plan(making, each)
            if plan is not None:
                pages.append((each.bolt.name, plan.title, cloth_page(making, plan)))
    names = picture_names([name for name, _, _ in pages])
    named = [
        (stem, f"what is cut from {title}", page)
        for (_, title, page), stem in zip(pages, names, strict=True)
    ]
    return write_pages(named, folder, kinds)


def _cloth_plan(making: Making, bought: Bought) -> ClothPlan | None:
    if bought.layout is None or bought.needed is None:
        return None
    question = making.question(bought.bolt.name)
    ids = [item.id for item in bought.items]
    return ClothPlan(
        making.file.make.fabric(bought.bolt.name),
        lines_of(making, ids, opened=False),
        bought.items,
        bought.layout,
        bought.needed,
        pinned=tuple(item_id for pin in question.pins for item_id in pin.item_ids),
        matches=tuple(match for match in question.matches if match.item_id in ids),
    )
