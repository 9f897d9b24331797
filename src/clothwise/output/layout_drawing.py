"""A cutting layout as a drawing: the cloth lying on the table, its length along the page.

The fold runs through the whole length at one height, so that a stretch that is opened out is seen
to open across it. Above the cloth it says how the cloth lies and how long it is; pieces that lie
with the drawn side down are hatched, as the wrong side of cloth is in the pictures of the work.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import replace

from clothwise.cutting.fabric import Nap
from clothwise.cutting.item import CutItem
from clothwise.cutting.layout import Layout
from clothwise.cutting.repeat import MatchPoint
from clothwise.output.drawing import Color, Drawing, Item, Layer, Text
from clothwise.output.layout_cloth import end_of_cloth, flaws, ground
from clothwise.output.layout_frame import LayoutFrame, reach, round_scale, table_length_mm
from clothwise.output.layout_key import Key, key_places, legend
from clothwise.output.layout_measures import across, changes, heads, heads_room_mm, ruler
from clothwise.output.layout_names import grain_items, label_items, numbers_alone
from clothwise.output.layout_pieces import laid_on, piece_items, pin_items
from clothwise.output.layout_repeat import match_items, match_spots, pattern_lines
from clothwise.output.scene_drawing import CLOTHS
from clothwise.units import LengthUnit

TALLEST_MM = 105.0
"""A layout is drawn smaller than the page is wide rather than taller than this."""

LARGEST_FACTOR = 0.125
"""Nothing is drawn larger than 1:8, so that a small layout stays a small picture."""

SIDE_MM = 11.0
"""Room at the left for the width."""

_SMALLEST_FACTOR = 1 / 888
_BELOW_MM = 9.0  # between the cloth and the key


def layout_drawing(
    layout: Layout,
    items: Sequence[CutItem],
    *,
    width_mm: float,
    unit: LengthUnit = LengthUnit.CENTIMETER,
    cloth: Color = CLOTHS[0],
    tallest_mm: float = TALLEST_MM,
    largest: float = LARGEST_FACTOR,
    pinned: Collection[str] = (),
    matches: Sequence[MatchPoint] = (),
) -> Drawing:
    """The layout as large as it can be, its lower left corner at (0, 0).

    Args:
        layout: where everything lies.
        items: the copies, as they were given to `lay`.
        width_mm: room along the page.
        unit: inches, feet or yards give a ruler in 1/8 yd, anything else one in 10 cm.
        cloth: color of the right side.
        tallest_mm: room down the page.
        largest: scale that it is not drawn larger than.
        pinned: ids of copies that lie where somebody pinned them.
        matches: points that meet on the pattern of the cloth.
    """
    frame = LayoutFrame(
        layout,
        {item.id: item for item in items},
        unit,
        cloth,
        SIDE_MM,
        0.0,
        _SMALLEST_FACTOR,
        frozenset(pinned),
        tuple(matches),
    )
    low, high = reach(layout)

    def drawn(numbered: tuple[str, ...]) -> Drawing:
        on = replace(frame, numbered=numbered)
        # The key is told before the scale is known; at the smallest one its words are longest.
        bottom = _BELOW_MM + max(at.y for at in key_places(Key(on, width_mm)))
        above = heads_room_mm(on, width_mm)
        factor = min(
            (width_mm - SIDE_MM - 2.0) / table_length_mm(layout),
            (tallest_mm - above - bottom) / (high - low),
            largest,
        )
        on = replace(on, bottom_mm=bottom, factor=round_scale(factor))
        return Drawing(_layers(on, width_mm), f"Cutting layout, {layout.fabric.name}")

    return with_numbers_told(drawn)


def with_numbers_told(drawn: Callable[[tuple[str, ...]], Drawing]) -> Drawing:
    """The drawing whose key names every piece that finds room for its number only.

    Args:
        drawn: draws, with the numbers that the key tells; the more it tells, the less room is left
            for the cloth, so that more pieces may lose their names.
    """
    numbered: tuple[str, ...] = ()
    while True:
        drawing = drawn(numbered)
        names = [item for layer in drawing.layers if layer.name == "names" for item in layer.items]
        lacking = numbers_alone(names).difference(numbered)
        if not lacking:
            return drawing
        numbered = tuple(sorted({*numbered, *lacking}, key=int))


def _layers(on: LayoutFrame, width_mm: float) -> tuple[Layer, ...]:
    sections = on.layout.sections
    cloth = [item for section in sections for item in ground(on, section)]
    about = [
        *ruler(on),
        *across(on),
        *heads(on, width_mm),
        *changes(on),
        *legend(Key(on, width_mm)),
    ]
    return layers_over(on, cloth, flaws(on), [*about, *end_of_cloth(on)])


def layers_over(
    on: LayoutFrame, cloth: Sequence[Item], spoiled: Sequence[Item], about: Sequence[Item]
) -> tuple[Layer, ...]:
    """The layers of a drawing: pieces, their names and marks over a cloth that is drawn already.

    Args:
        on: where the cloth lies.
        cloth: its ground and edges.
        spoiled: its holes and flaws.
        about: words and measures beside it.
    """
    laid = [one for section in on.layout.sections for one in laid_on(on, section)]
    one_way = on.layout.fabric.nap is Nap.ONE_WAY
    pattern = pattern_lines(on)
    spots = match_spots(on)
    taken = [spot.room for spot in spots]
    names: list[Item] = []
    grains: list[Item] = []
    for one in laid:
        words = label_items(one, pale=bool(pattern), taken=taken)
        names += words
        texts = [word for word in words if isinstance(word, Text)]
        grains += grain_items(one, texts, one_way=one_way, pale=bool(pattern), taken=taken)
    marks = [item for spot in spots for item in match_items(spot)]
    marks += [item for one in laid for item in pin_items(one)]
    layers = (
        Layer("cloth", tuple(cloth)),
        Layer("flaws", tuple(spoiled)),
        Layer("pieces", tuple(item for one in laid for item in piece_items(one))),
        Layer("pattern", tuple(pattern)),
        Layer("measures", tuple(about)),
        Layer("names", tuple(names)),
        Layer("grain", tuple(grains)),
        Layer("marks", tuple(marks)),
    )
    return tuple(layer for layer in layers if layer.items)
