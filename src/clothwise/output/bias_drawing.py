"""A block of cloth that is cut up into bias strips, as a drawing: where its lines are marked."""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.cutting import BiasBlock, BiasPart, along_grain_mm
from clothwise.geometry import Path, Point, polyline
from clothwise.output.drawing import (
    Anchor,
    Baseline,
    Color,
    Drawing,
    Group,
    Item,
    Layer,
    Shape,
    Text,
    Weight,
)
from clothwise.output.fonts import text_width
from clothwise.output.layout_frame import set_fraction
from clothwise.output.layout_marks import EDGE, HATCH, HATCH_MM, PIECE, TICK, TYPE_MM, arrow, mixed
from clothwise.output.scene_drawing import CLOTHS, INK, PAPER, hatching
from clothwise.units import LengthUnit, format_cm, format_inches, uses_yards

LARGEST_FACTOR = 0.25
"""A block is drawn no larger than 1:4, so that a small one stays a small picture."""

TALLEST_MM = 62.0
"""Room down the page; our own choice."""

_SIDE_MM = 12.0  # room at the left, for the breadth
_BELOW_MM = 11.0  # for the places of the lines and the grain
_ABOVE_MM = 6.0  # for the length
_TICK_MM = 1.2
_LEAST_WASTE_MM2 = 400.0  # of cloth; less is no corner


@dataclass(frozen=True)
class _Frame:
    block: BiasBlock
    unit: LengthUnit
    factor: float

    def at(self, x_mm: float, y_mm: float) -> Point:
        return Point(_SIDE_MM + x_mm * self.factor, _BELOW_MM + y_mm * self.factor)

    def said(self, length_mm: float) -> str:
        if uses_yards(self.unit):
            return set_fraction(format_inches(length_mm, denominator=8))
        return format_cm(length_mm)

    def box(self) -> Path:
        long, broad = self.block.length_mm, self.block.breadth_mm
        corners = [(0.0, 0.0), (long, 0.0), (long, broad), (0.0, broad), (0.0, 0.0)]
        return polyline(self.at(x, y) for x, y in corners)


def bias_drawing(
    block: BiasBlock,
    *,
    width_mm: float,
    unit: LengthUnit = LengthUnit.CENTIMETER,
    cloth: Color = CLOTHS[0],
    tallest_mm: float = TALLEST_MM,
) -> Drawing:
    """The block as large as it can be, its lower left corner at (0, 0), the warp along the page.

    Args:
        block: with the strips it is cut into.
        width_mm: room along the page.
        unit: inches, feet or yards are shown in inches, anything else in centimeters.
        cloth: color of the right side.
        tallest_mm: room down the page.
    """
    factor = min(
        (width_mm - _SIDE_MM - 2.0) / block.length_mm,
        (tallest_mm - _BELOW_MM - _ABOVE_MM) / block.breadth_mm,
        LARGEST_FACTOR,
    )
    on = _Frame(block, unit, factor)
    box = on.box()
    waste: list[Item] = [
        Shape((box,), None, mixed(cloth, 0.5), closed=True),
        Group((Shape(tuple(hatching(box, HATCH_MM, math.radians(-45))), HATCH),), clip=box),
    ]
    strips = [item for n, part in enumerate(block.parts, 1) for item in _strip(on, part, n)]
    about = [*_measures(on), *_lines(on), *_grain(on)]
    layers = (
        Layer("cloth", (*waste, *strips, Shape((box,), EDGE, closed=True))),
        Layer("measures", tuple(about)),
    )
    return Drawing(layers, "Block for bias strips")


def _strip(on: _Frame, part: BiasPart, number: int) -> list[Item]:
    corners = [on.at(x, y) for x, y in part.outline]
    path = polyline([*corners, corners[0]])
    middle = corners[0].toward(corners[2], 0.5)
    size = min(3.2, 0.6 * on.block.width_mm * on.factor)
    word = Text(
        str(number),
        middle,
        size,
        INK,
        math.pi / 4,
        Anchor.CENTER,
        Baseline.MIDDLE,
        Weight.BOLD,
    )
    return [Shape((path,), PIECE, PAPER, closed=True), word]


def _measures(on: _Frame) -> list[Item]:
    """Length above, breadth at the left."""
    block = on.block
    top = on.at(0.0, block.breadth_mm).y + 2.0
    left, right = on.at(0.0, 0.0).x, on.at(block.length_mm, 0.0).x
    low, high = on.at(0.0, 0.0).y, on.at(0.0, block.breadth_mm).y
    x, middle = left - 2.2, Point((left + right) / 2, (low + high) / 2)
    return [
        arrow(Point(middle.x, top), Point(left, top)),
        arrow(Point(middle.x, top), Point(right, top)),
        Text(on.said(block.length_mm), Point(middle.x, top + 0.9), TYPE_MM, INK, 0.0, _CENTER),
        arrow(Point(x, middle.y), Point(x, low)),
        arrow(Point(x, middle.y), Point(x, high)),
        Text(
            on.said(block.breadth_mm), Point(x - 1.0, middle.y), TYPE_MM, INK, math.pi / 2, _CENTER
        ),
    ]


_CENTER, _MIDDLE = Anchor.CENTER, Baseline.MIDDLE


def _lines(on: _Frame) -> list[Item]:
    """Where lines meet the lower edge, told from its left corner as often as there is room."""
    block = on.block
    step = along_grain_mm(block.width_mm)
    first = block.parts[0].outline
    start = first[0][0] - first[0][1]
    number = len(block.parts)
    places = [start + each * step for each in range(number + 1)]
    places = [x for x in places if -1e-6 <= x <= block.length_mm + 1e-6]
    ticks, words = [], []
    free = -math.inf
    for x in places:
        at = on.at(x, 0.0)
        ticks.append(polyline([at, Point(at.x, at.y - _TICK_MM)]))
        said = on.said(max(0.0, x))
        half = text_width(said, TYPE_MM) / 2
        if x > 1.0 and at.x - half > free:
            words.append(Text(said, Point(at.x, at.y - 4.0), TYPE_MM, INK, 0.0, _CENTER))
            free = at.x + half + 1.5
    return [Shape(tuple(ticks), TICK), *words] if ticks else []


def _grain(on: _Frame) -> list[Item]:
    low = 2.0
    left, right = on.at(0.0, 0.0).x, on.at(on.block.length_mm, 0.0).x
    middle = (left + right) / 2
    reach = min(12.0, (right - left) / 2)
    beside = middle + reach + 1.5 + text_width("grain", TYPE_MM) + 5.0
    return [
        arrow(Point(middle, low), Point(middle - reach, low)),
        arrow(Point(middle, low), Point(middle + reach, low)),
        Text("grain", Point(middle + reach + 1.5, low), TYPE_MM, INK, baseline=_MIDDLE),
        Text(f"scale 1:{1 / on.factor:.3g}", Point(beside, low), TYPE_MM, INK, baseline=_MIDDLE),
    ]
