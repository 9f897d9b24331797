"""Layers of the cloth: what is marked on it must come out where hands would lay it."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from shapely import Point, Polygon, box

from clothwise.cutting import (
    Effort,
    Fabric,
    LayerPlan,
    Layers,
    Layout,
    LayoutFaultCode,
    LowerBound,
    Section,
)
from clothwise.cutting.layers import cloth_starts_mm, flaws_on, layers_of
from clothwise.cutting.layout import Spacing

FABRIC = Fabric("twill", 1000, 1000)
SPOT = ((100.0, 50.0), (120.0, 50.0), (120.0, 80.0), (100.0, 80.0))
"""Near the cut end and the lower selvage."""


def layout_of(plan: LayerPlan, *sections: Section, fabric: Fabric = FABRIC) -> Layout:
    return Layout(
        fabric, plan, Spacing(), Effort(0, 0), 0, sections, 1.0, LowerBound(1.0, 1.0), "by hand"
    )


def boxes(layout: Layout, number: int = 0) -> list[tuple[float, ...]]:
    found = (Polygon(one).bounds for one in flaws_on(layout, number))
    return [tuple(round(value, 6) for value in bounds) for bounds in found]


def test_a_single_layer_is_the_cloth_itself() -> None:
    fabric = replace(FABRIC, flaws=(SPOT,))
    layout = layout_of(LayerPlan.SINGLE, Section(Layers.SINGLE, 0, 500, 1000, ()), fabric=fabric)
    assert boxes(layout) == [(100, 50, 120, 80)]


def test_the_lower_half_of_folded_cloth_is_seen_from_the_fold() -> None:
    fabric = replace(FABRIC, flaws=(SPOT, ((10.0, 980.0), (20.0, 980.0), (20.0, 990.0))))
    layout = layout_of(LayerPlan.FOLDED, Section(Layers.DOUBLE, 0, 500, 500, ()), fabric=fabric)
    # 50 mm from the lower selvage are 450 mm from the fold; 20 mm from the upper one, 480 mm.
    assert boxes(layout) == [(100, 420, 120, 450), (10, 480, 20, 490)]


def test_a_flaw_over_the_fold_lies_in_both_layers() -> None:
    fabric = replace(FABRIC, flaws=(((10.0, 490.0), (20.0, 490.0), (20.0, 530.0), (10.0, 530.0)),))
    layout = layout_of(LayerPlan.FOLDED, Section(Layers.DOUBLE, 0, 500, 500, ()), fabric=fabric)
    assert sorted(boxes(layout)) == [(10, 0, 20, 10), (10, 0, 20, 30)]


def test_selvages_folded_to_the_middle_bring_their_flaws_there() -> None:
    fabric = replace(FABRIC, flaws=(SPOT, ((10.0, 980.0), (20.0, 980.0), (20.0, 990.0))))
    layout = layout_of(
        LayerPlan.TO_MIDDLE, Section(Layers.TO_MIDDLE, 0, 500, 500, ()), fabric=fabric
    )
    # The fold is 250 mm from the selvage: what lay 50 to 80 mm from it comes to lie 170 to 200 mm
    # from the fold; the selvages meet at 250 mm.
    assert boxes(layout) == [(100, 170, 120, 200), (10, 260, 20, 270)]


def test_the_second_length_is_turned_around_and_over() -> None:
    fabric = replace(FABRIC, flaws=(((610.0, 50.0), (620.0, 50.0), (620.0, 80.0)),))
    layout = layout_of(LayerPlan.FACED, Section(Layers.FACED, 0, 500, 1000, ()), fabric=fabric)
    assert boxes(layout) == [(110, 920, 120, 950)]


def test_crosswise_the_far_end_is_folded_back() -> None:
    fabric = replace(FABRIC, flaws=(((910.0, 50.0), (920.0, 50.0), (920.0, 80.0)),))
    layout = layout_of(LayerPlan.CROSSWISE, Section(Layers.FACED, 0, 500, 1000, ()), fabric=fabric)
    assert boxes(layout) == [(80, 50, 90, 80)]


def test_a_stretch_after_two_lengths_begins_where_both_end() -> None:
    fabric = replace(FABRIC, flaws=(((1010.0, 50.0), (1020.0, 50.0), (1020.0, 80.0)),))
    sections = (Section(Layers.FACED, 0, 500, 1000, ()), Section(Layers.SINGLE, 500, 300, 1000, ()))
    layout = layout_of(LayerPlan.FACED, *sections, fabric=fabric)
    assert cloth_starts_mm(sections) == (0.0, 1000.0)
    assert boxes(layout) == []
    assert boxes(layout, 1) == [(510, 50, 520, 80)]


def test_flaws_shrink_with_the_cloth() -> None:
    fabric = replace(FABRIC, shrinkage_along=0.1, shrinkage_across=0.05, flaws=(SPOT,))
    layout = layout_of(LayerPlan.SINGLE, Section(Layers.SINGLE, 0, 500, 950, ()), fabric=fabric)
    assert boxes(layout) == [(90, 47.5, 108, 76)]


@pytest.mark.parametrize(
    ("plan", "layers", "width_mm"),
    [
        (LayerPlan.SINGLE, Layers.SINGLE, 1000.0),
        (LayerPlan.FOLDED, Layers.DOUBLE, 500.0),
        (LayerPlan.TO_MIDDLE, Layers.TO_MIDDLE, 500.0),
        (LayerPlan.TO_MIDDLE, Layers.TO_MIDDLE, 470.0),
        (LayerPlan.FACED, Layers.FACED, 1000.0),
        (LayerPlan.CROSSWISE, Layers.FACED, 1000.0),
    ],
)
def test_layers_are_all_of_the_cloth_once_and_lie_in_the_stretch(
    plan: LayerPlan, layers: Layers, width_mm: float
) -> None:
    section = Section(layers, 300.0, 500.0, width_mm, ())
    found = layers_of(section, plan, 1000.0, starts_mm=300.0)
    parts = [box(*layer.part) for layer in found]
    length_mm = 1000.0 if layers is Layers.FACED else 500.0
    assert sum(part.area for part in parts) == pytest.approx(1000.0 * length_mm)
    for at, part in enumerate(parts):
        assert not any(part.intersection(other).area for other in parts[at + 1 :])
    room = box(300.0, 0.0, 800.0, max(width_mm, 500.0)).buffer(1e-6)
    for layer, part in zip(found, parts, strict=True):
        assert room.contains(layer.laid(part))
        assert layer.laid(Point(*part.centroid.coords[0])).within(room)


def test_the_page_on_layouts_explains_every_code_of_a_fault() -> None:
    page = (Path(__file__).parents[2] / "docs" / "reference" / "layouts.md").read_text("utf-8")
    explained = set(re.findall(r"LAYOUT-[A-Z]+", page))
    assert explained == {code.value for code in LayoutFaultCode}
