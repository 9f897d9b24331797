"""A page for each block of a make that is cut up into bias strips."""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.cutting import BiasBlock, StripPlan, strip_notes
from clothwise.output import Drawing, Paper, paper_named
from clothwise.output.bias_drawing import bias_drawing
from clothwise.output.layout_page import LayoutText, layout_page
from clothwise.packet.booklet import color_of
from clothwise.packet.both_units import all_unit_first
from clothwise.packet.cloth_facts import tied
from clothwise.packet.making import ClothPlan, Making
from clothwise.units import format_length

__all__ = ["block_page", "block_pages"]

_HOME_PAPERS = ("a4", "letter", "a4-or-letter")


def block_pages(making: Making, cloths: Sequence[ClothPlan]) -> list[tuple[str, str, Drawing]]:
    """Name of the fabric, what it is, and the page, for each block."""
    return [
        (
            cloth.entry.name,
            f"block for bias strips of {cloth.title}",
            block_page(making, cloth, plan, plan.block),
        )
        for cloth in cloths
        for plan in cloth.strips
        if plan.block is not None
    ]


def block_page(making: Making, cloth: ClothPlan, plan: StripPlan, block: BiasBlock) -> Drawing:
    """How one block is cut up, with what is to be joined and cut off."""
    tint = color_of(cloth.entry.color)
    text = LayoutText(
        title=f"{cloth.title}: block for bias strips",
        subtitle=f"{making.title}, {making.fit}",
        tint=tint,
        facts=(
            ("Blocks", str(plan.blocks)),
            ("Along the grain", format_length(block.length_mm, making.unit)),
            ("Across", format_length(block.breadth_mm, making.unit)),
            ("Strips in each", str(len(block.parts))),
            ("Joined", format_length(block.joined_mm, making.unit)),
            ("In the strips", f"{100 * block.used_share:.0f} %"),
        ),
        sentences=tied(all_unit_first(strip_notes(plan), making.unit)),
    )

    def draw(width_mm: float, height_mm: float) -> Drawing:
        return bias_drawing(
            block, width_mm=width_mm, unit=making.unit, cloth=tint, tallest_mm=height_mm
        )

    return layout_page(text, draw, paper=_sheet(making))


def _sheet(making: Making) -> Paper:
    name = making.file.make.paper
    return paper_named(name if name in _HOME_PAPERS else "a4")
