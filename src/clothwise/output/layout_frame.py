"""Where the cloth of a cutting layout lies on the page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from clothwise.cutting.item import CutItem
from clothwise.cutting.layout import LayerPlan, Layers, Layout, Section
from clothwise.cutting.shrinkage import after_washing_mm
from clothwise.geometry import Point
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import (
    Color,
)
from clothwise.units import LengthUnit, format_cm, format_inches, format_yards

YARD_UNITS = (LengthUnit.INCH, LengthUnit.FOOT, LengthUnit.YARD)

_EIGHTHS = ("1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8")


@dataclass(frozen=True)
class LayoutFrame:
    """Where the cloth of a layout lies on the page: its lower left corner, and the scale."""

    layout: Layout
    items: Mapping[str, CutItem]
    unit: LengthUnit
    cloth: Color
    left_mm: float
    bottom_mm: float
    factor: float

    @property
    def is_folded(self) -> bool:
        """True if the cloth is folded lengthwise."""
        return self.layout.plan is LayerPlan.FOLDED

    @cached_property
    def reach_mm(self) -> tuple[float, float]:
        """How far the cloth goes across, from the fold, or from a selvage of single cloth."""
        return reach(self.layout)

    @property
    def selvage_mm(self) -> float:
        """Width of a selvage after washing."""
        return selvage_of(self.layout)

    def at(self, x_mm: float, y_mm: float) -> Point:
        """A place of the cloth on the page."""
        return Point(
            self.left_mm + x_mm * self.factor,
            self.bottom_mm + (y_mm - self.reach_mm[0]) * self.factor,
        )

    def shift(self, section: Section) -> float:
        """From across the stretch to across the whole cloth."""
        opened = self.is_folded and section.layers is Layers.SINGLE
        return -self.layout.fabric.washed_width_mm / 2 if opened else 0.0

    def box(self, section: Section) -> Bounds:
        """The cloth of a stretch on the page, selvages included."""
        washed = self.layout.fabric.washed_width_mm
        start, end = section.start_mm, section.start_mm + section.length_mm
        if section.layers is Layers.DOUBLE:
            low, high = 0.0, washed / 2 + self.selvage_mm
        else:
            shift = self.shift(section)
            low, high = shift - self.selvage_mm, shift + washed + self.selvage_mm
        one, other = self.at(start, low), self.at(end, high)
        return Bounds(one.x, one.y, other.x, other.y)

    @property
    def top(self) -> float:
        """The upper edge of the cloth on the page."""
        return self.at(0.0, self.reach_mm[1]).y

    def length(self, length_mm: float) -> str:
        """A length in the reader's unit."""
        if self.unit in YARD_UNITS:
            return set_fraction(format_inches(length_mm))
        return format_cm(length_mm)


def reach(layout: Layout) -> tuple[float, float]:
    """How far the cloth goes across, from the fold, or from a selvage of single cloth."""
    selvage = selvage_of(layout)
    washed = layout.fabric.washed_width_mm
    if layout.plan is not LayerPlan.FOLDED:
        return -selvage, washed + selvage
    opened = any(one.layers is Layers.SINGLE for one in layout.sections)
    half = washed / 2 + selvage
    return (-half if opened else 0.0), half


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
