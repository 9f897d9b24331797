"""The cloth of a cutting layout: its layers, edges, folds, selvages and flaws."""

from __future__ import annotations

import math

from clothwise.cutting.layers import flaws_on
from clothwise.cutting.layout import LayerPlan, Layers, Layout, Section
from clothwise.cutting.shrinkage import after_washing_mm
from clothwise.geometry import Path, Point, polyline
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import Color, Group, Item, Shape
from clothwise.output.layout_frame import LayoutFrame
from clothwise.output.layout_marks import (
    EDGE,
    END_OF_CLOTH,
    FLAW,
    FLAW_HATCH,
    FLAW_HATCH_MM,
    FOLD,
    SELVAGE,
    mixed,
)
from clothwise.output.scene_drawing import PAPER, hatching

_THINNEST_MM = 0.15
"""A selvage drawn thinner than this would only thicken the edge."""

_ENOUGH_MM = 0.1
_DARKEST_GROUND, _PALEST = 145.0, 0.5
"""Brightness that lines still stand out from; how pale a dark cloth may become for it. Our own."""


def ground(on: LayoutFrame, section: Section) -> list[Item]:
    """The cloth of a stretch, its edges, folds and selvages."""
    box = on.box(section)
    # Cloth in two layers lies right sides together.
    single = section.layers in (Layers.SINGLE, Layers.PARTLY)
    tint = right_side(on.cloth) if single else wrong_side(on.cloth)
    found: list[Item] = [Shape((box.path,), None, tint, closed=True)]
    if section.layers is Layers.PARTLY:
        found.append(Shape((on.flap(section).path,), None, wrong_side(on.cloth), closed=True))
    selvages = _selvages(on, section, box)
    if selvages:
        found.append(Shape(tuple(selvages), SELVAGE))
    sides = _sides(box)
    folded = _folded_sides(on.layout.plan, section.layers)
    edges = [line for name, line in sides.items() if name not in folded]
    if section.layers is Layers.TO_MIDDLE:
        edges.append(_across_at(box, (box.bottom + box.top) / 2))
    if section.layers is Layers.PARTLY:
        edges.append(_across_at(box, on.flap(section).top))
    found += [Shape((sides[name],), FOLD) for name in folded]
    return [*found, Shape(tuple(edges), EDGE)]


def right_side(cloth: Color) -> Color:
    """The ground of cloth that lies right side up: light enough for lines and words on it."""
    share = 0.8
    while share > _PALEST and _brightness(mixed(cloth, share)) < _DARKEST_GROUND:
        share -= 0.05
    return mixed(cloth, share)


def wrong_side(cloth: Color) -> Color:
    """The ground of cloth that lies wrong side up, which is paler."""
    return mixed(cloth, 0.3)


def _brightness(color: Color) -> float:
    """From 0 to 255, weighed as the eye does. Source: ITU-R BT.601, luma."""
    return 0.299 * color.red + 0.587 * color.green + 0.114 * color.blue


def has_fold_elsewhere(on_plan: LayerPlan) -> bool:
    """True if a fold lies where no word can stand beside it, so that the key has to tell."""
    return on_plan in (LayerPlan.TO_MIDDLE, LayerPlan.CROSSWISE)


def end_of_cloth_mm(layout: Layout) -> float | None:
    """Where along the table the length at hand ends, after washing, if the layout is longer.

    None where two lengths lie on each other: it then depends on where they are cut.
    """
    at_hand = after_washing_mm(layout.fabric.length_mm, layout.fabric.shrinkage_along)
    doubled = any(section.layers is Layers.FACED for section in layout.sections)
    return None if doubled or at_hand >= layout.length_mm - _ENOUGH_MM else at_hand


def end_of_cloth(on: LayoutFrame) -> list[Item]:
    """A line across the cloth where the length at hand ends."""
    at = end_of_cloth_mm(on.layout)
    if at is None:
        return []
    low, high = on.reach_mm
    beyond = 1.0 / on.factor
    line = polyline([on.at(at, low - beyond), on.at(at, high)])
    return [Shape((line,), END_OF_CLOTH)]


def flaws(on: LayoutFrame) -> list[Item]:
    """What may not be covered, in whichever layer it is."""
    found: list[Item] = []
    for number, section in enumerate(on.layout.sections):
        for outline in flaws_on(on.layout, number):
            corners = [on.place(section, x, y) for x, y in outline]
            found += flaw_items(polyline([*corners, corners[0]]))
    return found


def flaw_items(path: Path) -> list[Item]:
    """A flaw or hole: crossed lines in a closed path."""
    lines = [
        line
        for angle in (math.radians(45), math.radians(-45))
        for line in hatching(path, FLAW_HATCH_MM, angle)
    ]
    return [
        Shape((path,), None, PAPER, closed=True),
        Group((Shape(tuple(lines), FLAW_HATCH),), clip=path),
        Shape((path,), FLAW, closed=True),
    ]


def _sides(box: Bounds) -> dict[str, Path]:
    left, right = box.left, box.right
    return {
        "top": _across_at(box, box.top),
        "left": polyline([Point(left, box.bottom), Point(left, box.top)]),
        "right": polyline([Point(right, box.bottom), Point(right, box.top)]),
        "bottom": _across_at(box, box.bottom),
    }


def _folded_sides(plan: LayerPlan, layers: Layers) -> tuple[str, ...]:
    if layers in (Layers.DOUBLE, Layers.PARTLY):
        return ("bottom",)
    if layers is Layers.TO_MIDDLE:
        return ("bottom", "top")
    if layers is Layers.FACED and plan is LayerPlan.CROSSWISE:
        return ("right",)
    return ()


def _selvages(on: LayoutFrame, section: Section, box: Bounds) -> list[Path]:
    band = on.selvage_mm * on.factor
    if band <= _THINNEST_MM:
        return []
    if section.layers is Layers.DOUBLE:
        levels = [box.top - band]
    elif section.layers is Layers.TO_MIDDLE:
        middle = (box.bottom + box.top) / 2
        levels = [middle - band, middle + band]
    elif section.layers is Layers.PARTLY:
        levels = [box.top - band, on.flap(section).top - band]
    else:
        levels = [box.top - band, box.bottom + band]
    return [_across_at(box, level) for level in levels]


def _across_at(box: Bounds, level: float) -> Path:
    return polyline([Point(box.left, level), Point(box.right, level)])
