"""The columns of a size chart: one measurement over the sizes, with its steps and its rounding."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from clothwise.pattern.quantity import QuantityKind
from clothwise.pattern.size_chart import SizeChart
from clothwise.pattern.vocabulary import MEASUREMENTS
from clothwise.units import LengthUnit, format_angle, format_cm, format_inches, format_mm

__all__ = ["Column", "columns_of", "rounding_of"]

ROUNDINGS_MM = (12.7, 10.0, 6.35, 5.0, 3.175, 1.5875, 1.0, 0.5, 0.25, 0.1)
"""What figures of a chart are rounded to: parts of an inch, of a centimeter, of a millimeter."""
ROUNDINGS_DEG = (1.0, 0.5, 0.25, 0.1, 0.01)
_ON_GRID = 1e-6
_FEWEST_FOR_ROUNDING = 3
"""Figures on a grid before one beside it may be a mistake."""
_SAME_BAND = 1.25
"""Steps between bands may differ by this, as 1/4 in does in whole millimeters."""


@dataclass(frozen=True)
class Column:
    """One measurement, in the sizes for which it is given, in order of the girths.

    Attributes:
        name: of the measurement.
        sizes: places of the sizes in the chart.
        places: where the sizes stand in the order, doubles counted.
        values: mm, or degrees for an angle.
        grid: to what the values are rounded; in steps of that, or in bands of sizes.
        unit: of the chart, for showing.
    """

    name: str
    sizes: tuple[int, ...]
    places: tuple[float, ...]
    values: tuple[float, ...]
    grid: float
    unit: LengthUnit

    def __len__(self) -> int:
        return len(self.values)

    @property
    def label(self) -> str:
        """The name as it is read."""
        return self.name.replace("_", " ")

    @property
    def is_angle(self) -> bool:
        """Tell whether the values are degrees."""
        return MEASUREMENTS[self.name].kind is QuantityKind.ANGLE

    @property
    def slopes(self) -> tuple[float, ...]:
        """The steps from size to size, for each place in the order."""
        return tuple(
            (self.values[at + 1] - self.values[at]) / (after - before)
            for at, (before, after) in enumerate(pairwise(self.places))
        )

    def shown(self, value: float, *, is_step: bool = False) -> str:
        """Return a value, or with its sign a step, in the unit of the chart."""
        sign = "+" if is_step and value > 0 else ""
        if self.is_angle:
            return sign + format_angle(math.radians(value))
        if self.unit is LengthUnit.INCH:
            return sign + format_inches(value)
        if self.unit is LengthUnit.MILLIMETER:
            return sign + format_mm(value, decimals=1)
        return sign + format_cm(value, decimals=2)

    def without(self, at: int) -> Column:
        """Return the column without its value number `at`."""

        def kept(row: tuple[float, ...]) -> tuple[float, ...]:
            return row[:at] + row[at + 1 :]

        sizes = self.sizes[:at] + self.sizes[at + 1 :]
        return Column(self.name, sizes, kept(self.places), kept(self.values), self.grid, self.unit)


def columns_of(chart: SizeChart, order: Sequence[int]) -> dict[str, Column]:
    """Return the columns of what is given, in the order of the vocabulary.

    Args:
        chart: any.
        order: places of its sizes, as the girths rise.
    """
    is_as_written = list(order) == sorted(order)
    given = [chart.sizes[at].given for at in order]
    columns = {}
    for name, measurement in MEASUREMENTS.items():
        scale = 1.0 if measurement.kind is QuantityKind.LENGTH else 180 / math.pi
        found = [
            (at, float(at if is_as_written else place), row[name] * scale)
            for place, (at, row) in enumerate(zip(order, given, strict=True))
            if name in row
        ]
        if found:
            sizes, places, values = zip(*found, strict=True)
            roundings = ROUNDINGS_MM if scale == 1.0 else ROUNDINGS_DEG
            grid = rounding_of(values, roundings)
            columns[name] = Column(name, sizes, places, values, grid, chart.unit)
    return columns


def rounding_of(values: Sequence[float], roundings: Sequence[float] = ROUNDINGS_MM) -> float:
    """Return to what values are rounded; one of them may be beside the grid.

    Where a value stays the same for some sizes and then goes on by the same step, as a height in
    bands of sizes does, that step is the rounding.

    >>> rounding_of([800.0, 840.0, 883.0, 920.0])
    10.0
    """
    return max(_grid(values, roundings), _band(values))


def _grid(values: Sequence[float], roundings: Sequence[float]) -> float:
    beside = 1 if len(values) > _FEWEST_FOR_ROUNDING else 0
    for grid in roundings:
        off = sum(abs(value / grid - round(value / grid)) * grid > _ON_GRID for value in values)
        if off <= beside:
            return grid
    return roundings[-1]


def _band(values: Sequence[float]) -> float:
    steps = [round(after - before, 4) for before, after in pairwise(values)]
    changes = [abs(step) for step in steps if step]
    stays = len(steps) - len(changes)
    if stays < 2 or len(changes) < 2 or 4 * stays < len(steps):
        return 0.0
    if len({step > 0 for step in steps if step}) > 1:
        return 0.0
    usual = sorted(changes)[(len(changes) - 1) // 2]
    return max(change for change in changes if change <= _SAME_BAND * usual)
