"""A remnant with the pieces that are cut from it, as a drawing in the look of a layout."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwise.cutting.item import CutItem, Polyline
from clothwise.cutting.layout import (
    Effort,
    LayerPlan,
    Layers,
    Layout,
    LowerBound,
    Placement,
    Section,
    Spacing,
)
from clothwise.cutting.remnant import Remnant
from clothwise.cutting.shrunk import shrunk_outline
from clothwise.geometry import Path, polyline
from clothwise.output.drawing import Color, Drawing, Item, Shape
from clothwise.output.layout_cloth import flaw_items, right_side
from clothwise.output.layout_drawing import (
    LARGEST_FACTOR,
    SIDE_MM,
    TALLEST_MM,
    layers_over,
    with_numbers_told,
)
from clothwise.output.layout_frame import LayoutFrame, round_scale
from clothwise.output.layout_key import Key, key_places, legend
from clothwise.output.layout_marks import EDGE, HOLE
from clothwise.output.layout_measures import across, heads, heads_room_mm, ruler
from clothwise.output.scene_drawing import CLOTHS, PAPER
from clothwise.units import LengthUnit

_SMALLEST_FACTOR = 1 / 888
_BELOW_MM = 9.0


def remnant_drawing(
    remnant: Remnant,
    placements: Sequence[Placement],
    items: Sequence[CutItem],
    *,
    width_mm: float,
    unit: LengthUnit = LengthUnit.CENTIMETER,
    cloth: Color = CLOTHS[0],
    tallest_mm: float = TALLEST_MM,
    largest: float = LARGEST_FACTOR,
) -> Drawing:
    """The remnant as large as it can be, right side up, its lower left corner at (0, 0).

    Args:
        remnant: drawn as it is after the wash that is still to come.
        placements: of the copies that are cut from it, on washed cloth; may be none.
        items: the copies, at least those that are laid.
        width_mm: room along the page.
        unit: inches, feet or yards give a ruler in 1/8 yd, anything else one in 10 cm.
        cloth: color of the right side.
        tallest_mm: room down the page.
        largest: scale that it is not drawn larger than.
    """
    layout = _as_layout(remnant, placements)
    by_id = {item.id: item for item in items}
    frame = LayoutFrame(layout, by_id, unit, cloth, SIDE_MM, 0.0, _SMALLEST_FACTOR)

    def drawn(numbered: tuple[str, ...]) -> Drawing:
        on = replace(frame, numbered=numbered)
        key = Key(on, width_mm, holes=bool(remnant.holes))
        bottom = _BELOW_MM + max(at.y for at in key_places(key))
        section = layout.sections[0]
        factor = min(
            (width_mm - SIDE_MM - 2.0) / section.length_mm,
            (tallest_mm - heads_room_mm(on, width_mm) - bottom) / section.width_mm,
            largest,
        )
        on = replace(on, bottom_mm=bottom, factor=round_scale(factor))
        return _drawing(remnant, replace(key, on=on))

    return with_numbers_told(drawn)


def _drawing(remnant: Remnant, key: Key) -> Drawing:
    """The remnant where the frame of its key says."""
    on, width_mm = key.on, key.width_mm
    about = [*ruler(on), *across(on), *heads(on, width_mm), *legend(key)]
    holes = [
        Shape((_drawn(on, hole, remnant),), HOLE, PAPER, closed=True) for hole in remnant.holes
    ]
    spoiled = [item for flaw in remnant.flaws for item in flaw_items(_drawn(on, flaw, remnant))]
    ground: list[Item] = [
        Shape((_drawn(on, remnant.outline, remnant),), EDGE, right_side(on.cloth), closed=True),
        *holes,
    ]
    return Drawing(
        layers_over(on, ground, spoiled, about), f"What is cut from the remnant {remnant.name}"
    )


def _as_layout(remnant: Remnant, placements: Sequence[Placement]) -> Layout:
    """The box of the remnant as a layout in one layer, whose ground is then drawn otherwise."""
    fabric = replace(remnant.fabric, flaws=remnant.flaws)
    left, low, right, high = shrunk_outline(remnant.outline, remnant.fabric).bounds
    section = Section(Layers.SINGLE, left, right - left, high - low, tuple(placements))
    return Layout(
        fabric,
        LayerPlan.SINGLE,
        Spacing(),
        Effort(0, 0),
        0,
        (section,),
        0.0,
        LowerBound(0.0, 0.0),
        "",
    )


def _drawn(on: LayoutFrame, outline: Polyline, remnant: Remnant) -> Path:
    section = on.layout.sections[0]
    corners = shrunk_outline(outline, remnant.fabric).exterior.coords
    return polyline(on.place(section, x, y) for x, y in corners)
