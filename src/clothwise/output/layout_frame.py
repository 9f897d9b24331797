"""Where the cloth of a cutting layout lies on the page."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from clothwise.cutting.item import CutItem
from clothwise.cutting.layers import cloth_starts_mm
from clothwise.cutting.layout import LayerPlan, Layers, Layout, Section
from clothwise.cutting.repeat import MatchPoint
from clothwise.cutting.shrinkage import after_washing_mm
from clothwise.geometry import Point
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import (
    Color,
)
from clothwise.units import LengthUnit, format_cm, format_inches, format_yards, uses_yards

_EIGHTHS = ("1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8")
_SCALE_STEPS = ((40, 1), (100, 2), (200, 5), (1000, 20))
"""Up to which scale (1:40 ...) it goes in steps of how much, so that it can be said in figures."""


@dataclass(frozen=True)
class LayoutFrame:
    """Where the cloth of a layout lies on the page: its lower left corner, and the scale.

    The table is what one sees: two lengths on each other take the table once and the cloth twice.

    Attributes:
        layout, items: what is drawn.
        unit: of what is written.
        cloth: color of its right side.
        left_mm, bottom_mm: where its lower left corner lies on the page.
        factor: the scale.
        pinned: ids of copies that lie where somebody pinned them.
        matches: points that meet on the pattern of the cloth.
        numbered: numbers of pieces that find no room for their names, which the key tells.
    """

    layout: Layout
    items: Mapping[str, CutItem]
    unit: LengthUnit
    cloth: Color
    left_mm: float
    bottom_mm: float
    factor: float
    pinned: frozenset[str] = frozenset()
    matches: tuple[MatchPoint, ...] = ()
    numbered: tuple[str, ...] = ()

    @property
    def is_folded(self) -> bool:
        """True if the cloth lies in two layers."""
        return self.layout.plan is not LayerPlan.SINGLE

    @cached_property
    def reach_mm(self) -> tuple[float, float]:
        """How far the cloth goes across, from the fold, or from a selvage of single cloth."""
        return reach(self.layout)

    @property
    def selvage_mm(self) -> float:
        """Width of a selvage after washing."""
        return selvage_of(self.layout)

    @cached_property
    def table_starts_mm(self) -> tuple[float, ...]:
        """How far along the table each stretch begins."""
        starts, at = [], 0.0
        for section in self.layout.sections:
            starts.append(at)
            at += section.length_mm
        return tuple(starts)

    @cached_property
    def cloth_starts_mm(self) -> tuple[float, ...]:
        """How far from the cut end of the cloth each stretch begins."""
        return cloth_starts_mm(self.layout.sections)

    def at(self, x_mm: float, y_mm: float) -> Point:
        """A place of the table on the page."""
        return Point(
            self.left_mm + x_mm * self.factor,
            self.bottom_mm + (y_mm - self.reach_mm[0]) * self.factor,
        )

    def place(self, section: Section, x_mm: float, y_mm: float) -> Point:
        """A place of a stretch on the page, in the coordinates of its placements."""
        start = self.table_starts_mm[self.number_of(section)]
        return self.at(x_mm - section.start_mm + start, y_mm + shift_of(self.layout, section))

    def number_of(self, section: Section) -> int:
        """The number of a stretch, from 0."""
        return next(n for n, one in enumerate(self.layout.sections) if one is section)

    def box(self, section: Section) -> Bounds:
        """The cloth of a stretch on the page, selvages included."""
        start = self.table_starts_mm[self.number_of(section)]
        low, high = _across(self.layout, section)
        one, other = self.at(start, low), self.at(start + section.length_mm, high)
        return Bounds(one.x, one.y, other.x, other.y)

    @property
    def top(self) -> float:
        """The upper edge of the cloth on the page."""
        return self.at(0.0, self.reach_mm[1]).y

    def flap(self, section: Section) -> Bounds:
        """The flap of partly folded cloth on the page, with its selvage."""
        box = self.box(section)
        high = box.bottom + (section.depth_mm + self.selvage_mm) * self.factor
        return Bounds(box.left, box.bottom, box.right, high)

    def length(self, length_mm: float) -> str:
        """A length in the reader's unit."""
        if uses_yards(self.unit):
            return set_fraction(format_inches(length_mm))
        return format_cm(length_mm)


def round_scale(factor: float) -> float:
    """The next smaller scale that can be said in figures: 1:12, not 1:11.37.

    >>> round(1 / round_scale(1 / 11.37))
    12
    """
    wanted = 1 / factor - 1e-9
    step = next((step for most, step in _SCALE_STEPS if wanted <= most), _SCALE_STEPS[-1][1])
    return 1 / (math.ceil(wanted / step) * step)


def table_length_mm(layout: Layout) -> float:
    """How much of the table a layout takes."""
    return sum(section.length_mm for section in layout.sections)


def reach(layout: Layout) -> tuple[float, float]:
    """How far the cloth goes across, from the fold, or from a selvage of single cloth."""
    ends = [_across(layout, section) for section in layout.sections]
    return min(low for low, _ in ends), max(high for _, high in ends)


def shift_of(layout: Layout, section: Section) -> float:
    """From across a stretch to across the table: opened out, cloth lies on both sides of a fold."""
    if section.layers is not Layers.SINGLE:
        return 0.0
    washed = layout.fabric.washed_width_mm
    if layout.plan is LayerPlan.FOLDED:
        return -washed / 2
    if layout.plan is LayerPlan.TO_MIDDLE:
        folded = [s.width_mm for s in layout.sections if s.layers is Layers.TO_MIDDLE]
        return ((folded[0] if folded else washed / 2) - washed) / 2
    return -max((s.depth_mm for s in layout.sections), default=0.0)


def selvage_of(layout: Layout) -> float:
    """Width of a selvage after washing."""
    fabric = layout.fabric
    lost = fabric.nominal_width_mm - fabric.usable_width_mm
    return after_washing_mm(lost, fabric.shrinkage_across) / 2


def yards(eighths: int) -> str:
    """Eighths of a yard as they are said."""
    return set_fraction(format_yards(Fraction(eighths, 8)))


def set_fraction(text: str) -> str:
    """Eighths as one letter each, because `41 5/8` set small reads like `415/8`."""
    for plain, letter in zip(_EIGHTHS, "⅛¼⅜½⅝¾⅞", strict=True):
        text = text.replace(f" {plain} ", f"{letter} ").replace(f"{plain} ", f"{letter} ")
    return text


def _across(layout: Layout, section: Section) -> tuple[float, float]:
    """How far the cloth of a stretch goes across the table."""
    selvage, washed = selvage_of(layout), layout.fabric.washed_width_mm
    if section.layers is Layers.DOUBLE:
        return 0.0, washed / 2 + selvage
    if section.layers is Layers.TO_MIDDLE:
        return 0.0, section.width_mm
    if section.layers is Layers.PARTLY:
        return 0.0, section.width_mm + selvage
    shift = shift_of(layout, section)
    return shift - selvage, shift + washed + selvage
