"""A cutting layout as a drawing: the cloth lying on the table, its length along the page.

The fold runs through the whole length at one height, so that a stretch that is opened out is seen
to open across it. Above the cloth it says how the cloth lies and how long it is; pieces that lie
with the drawn side down are hatched, as the wrong side of cloth is in the pictures of the work.
"""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.cutting.item import CutItem
from clothwise.cutting.layout import Layers, Layout, Section
from clothwise.geometry import Point, polyline
from clothwise.output.drawing import (
    Color,
    Drawing,
    Item,
    Layer,
    Shape,
)
from clothwise.output.layout_frame import LayoutFrame, reach, selvage_of
from clothwise.output.layout_key import Key, key_places, legend
from clothwise.output.layout_marks import (
    EDGE,
    FOLD,
    SELVAGE,
    mixed,
)
from clothwise.output.layout_measures import across, changes, heads, ruler
from clothwise.output.layout_pieces import label_items, laid_on, piece_items
from clothwise.output.scene_drawing import CLOTHS
from clothwise.units import LengthUnit

TALLEST_MM = 105.0
"""A layout is drawn smaller than the page is wide rather than taller than this."""

LARGEST_FACTOR = 0.125
"""Nothing is drawn larger than 1:8, so that a small layout stays a small picture."""

RULER_MM = 9.0
"""Room above the cloth for the ruler and what is said of each stretch."""

SIDE_MM = 11.0
"""Room at the left for the width."""


def layout_drawing(
    layout: Layout,
    items: Sequence[CutItem],
    *,
    width_mm: float,
    unit: LengthUnit = LengthUnit.CENTIMETER,
    cloth: Color = CLOTHS[0],
    tallest_mm: float = TALLEST_MM,
) -> Drawing:
    """The layout as large as it can be, its lower left corner at (0, 0).

    Args:
        layout: where everything lies.
        items: the copies, as they were given to `lay`.
        width_mm: room along the page.
        unit: inches, feet or yards give a ruler in 1/8 yd, anything else one in 10 cm.
        cloth: color of the right side.
        tallest_mm: room down the page.
    """
    by_id = {item.id: item for item in items}
    low, high = reach(layout)
    key = Key(layout, by_id, selvage_of(layout), SIDE_MM, width_mm)
    bottom = 9.0 + max(at.y for at in key_places(key))
    factor = min(
        (width_mm - SIDE_MM - 2.0) / layout.length_mm,
        (tallest_mm - RULER_MM - 3.0 - bottom) / (high - low),
        LARGEST_FACTOR,
    )
    on = LayoutFrame(layout, by_id, unit, cloth, SIDE_MM, bottom, factor)
    cut = [item for section in layout.sections for item in ground(on, section)]
    laid = [one for section in layout.sections for one in laid_on(on, section)]
    pieces = [item for one in laid for item in piece_items(on, one)]
    words = [item for one in laid for item in label_items(on, one)]
    about = [*ruler(on), *across(on), *heads(on), *changes(on), *legend(key)]
    layers = (
        Layer("cloth", tuple(cut)),
        Layer("pieces", tuple(pieces)),
        Layer("measures", tuple(about)),
        Layer("names", tuple(words)),
    )
    return Drawing(layers, f"Cutting layout, {layout.fabric.name}")


def ground(on: LayoutFrame, section: Section) -> list[Item]:
    """The cloth of a stretch, its edges, fold and selvages."""
    box = on.box(section)
    double = section.layers is Layers.DOUBLE
    tint = mixed(on.cloth, 0.3) if double else mixed(on.cloth, 0.8)
    found: list[Item] = [Shape((box.path,), None, tint, closed=True)]
    band = on.selvage_mm * on.factor
    tops = [box.top - band] if double else [box.top - band, box.bottom + band]
    if band > 0.15:
        found += [
            Shape((polyline([Point(box.left, y), Point(box.right, y)]),), SELVAGE) for y in tops
        ]
    edges = [
        polyline([Point(box.left, box.top), Point(box.right, box.top)]),
        *(polyline([Point(x, box.bottom), Point(x, box.top)]) for x in (box.left, box.right)),
    ]
    low = polyline([Point(box.left, box.bottom), Point(box.right, box.bottom)])
    if double:
        found.append(Shape((low,), FOLD))
    else:
        edges.append(low)
    return [*found, Shape(tuple(edges), EDGE)]
