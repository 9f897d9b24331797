"""A flaw drawn on a layout comes to lie there when the cloth that has it is laid the same way."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box, union_all

from clothwise.cutting import LayerPlan, Layers, Layout, Section
from clothwise.cutting.layers import flaws_on
from clothwise.cutting.shrunk import shrunk_outline
from clothwise.errors import Misuse
from clothwise.output.layout_frame import reach, shift_of, table_length_mm
from clothwise.packet.pointed_flaw import SMALLEST_MM, spot_on_cloth
from layout_samples import LINEN, SAMPLES, SLEEVES, layout_of

SHRINKING = replace(LINEN, shrinkage_along=0.05)
FOLDED = layout_of(
    LayerPlan.FOLDED,
    (
        Section(Layers.DOUBLE, 0.0, 900.0, SHRINKING.washed_width_mm / 2, ()),
        Section(Layers.SINGLE, 900.0, 500.0, SHRINKING.washed_width_mm, ()),
    ),
    SLEEVES,
    SHRINKING,
)
"""Folded lengthwise, with a stretch that is opened out."""
LAYOUTS = {"folded": FOLDED} | {name: sample().layout for name, sample in SAMPLES.items()}


def _seen_again(layout: Layout, flaw: tuple[float, float, float, float]) -> box:
    """What of a flaw is seen on the table, from the lower left corner of what is drawn."""
    along, across, length, width = flaw
    corners = tuple(box(along, across, along + length, across + width).exterior.coords[:-1])
    laid = replace(layout, fabric=replace(layout.fabric, flaws=(corners,)))
    shapes, table = [], 0.0
    for number, section in enumerate(layout.sections):
        x, y = table - section.start_mm, shift_of(layout, section) - reach(layout)[0]
        for outline in flaws_on(laid, number):
            xs, ys = [p[0] + x for p in outline], [p[1] + y for p in outline]
            shapes.append(box(min(xs), min(ys), max(xs), max(ys)))
        table += section.length_mm
    return union_all(shapes)


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(sorted(LAYOUTS)),
    st.floats(0.02, 0.95),
    st.floats(0.1, 0.85),
    st.sampled_from([(30.0, 20.0), (12.0, 70.0)]),
    st.booleans(),
)
def test_what_was_drawn_is_seen_again(
    name: str, far: float, up: float, size: tuple[float, float], upper: bool
) -> None:
    layout = LAYOUTS[name]
    low, high = reach(layout)
    x, y = far * table_length_mm(layout), up * (high - low)
    drawn = box(x, y, x + size[0], y + size[1])
    try:
        spot = spot_on_cloth(layout, (x, y), (x + size[0], y + size[1]), upper=upper)
    except Misuse:  # between a part that is doubled and one that is opened out
        return
    flaw = (spot.along_mm, spot.across_mm, spot.length_mm, spot.width_mm)
    again = _seen_again(layout, flaw).intersection(drawn)
    bought = box(flaw[0], flaw[1], flaw[0] + flaw[2], flaw[1] + flaw[3])
    washed = shrunk_outline(tuple(bought.exterior.coords[:-1]), layout.fabric)
    assert again.area == pytest.approx(washed.area, rel=1e-6)  # all of it where it was drawn
    low_edge, high_edge = bought.bounds[1], bought.bounds[3]
    assert low_edge > -1e-6
    assert high_edge < layout.fabric.usable_width_mm + 1e-6


def test_a_touch_is_a_small_spot_and_beside_the_cloth_is_none() -> None:
    layout = LAYOUTS["checked"]
    spot = spot_on_cloth(layout, (300.0, 300.0), (300.0, 300.0))
    assert spot.length_mm * (1 - layout.fabric.shrinkage_along) == pytest.approx(SMALLEST_MM)
    with pytest.raises(Misuse, match="no cloth where you drew"):
        spot_on_cloth(layout, (300.0, 9000.0), (320.0, 9020.0))
