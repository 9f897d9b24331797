"""The standard size that a body is nearest to, and how it differs from it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from clothwise.pattern import Body, Pattern
from clothwise.pattern.measurements import MEASUREMENTS
from clothwise.pattern.quantity import QuantityKind
from clothwise.pattern.size_chart import SizeChart

__all__ = [
    "LEAST_MOVE_MM",
    "ChosenBy",
    "Difference",
    "NearestSize",
    "chosen_by",
    "nearest_size",
    "sizes_by_nearness",
]

LEAST_MOVE_MM = 1.0
"""What differs by less does not differ: finer than can be cut and sewn; our own choice."""

_LEAST_ANGLE_RAD = 0.0017  # a tenth of a degree


class ChosenBy(StrEnum):
    """The girth by which a garment's size is chosen (common practice)."""

    BUST = "bust_girth"
    HIP = "hip_girth"
    WAIST = "waist_girth"


@dataclass(frozen=True)
class Difference:
    """One measurement of a body beside that of a size; mm, or radians for an angle."""

    measurement: str
    size: float
    body: float
    body_estimated: bool
    size_estimated: bool

    @property
    def difference(self) -> float:
        """Positive where the body has more."""
        return self.body - self.size

    @property
    def is_angle(self) -> bool:
        """Tell whether the values are radians."""
        return MEASUREMENTS[self.measurement].kind is QuantityKind.ANGLE

    @property
    def is_notable(self) -> bool:
        """Tell whether it is a millimeter or a tenth of a degree at least."""
        least = _LEAST_ANGLE_RAD if self.is_angle else LEAST_MOVE_MM
        return abs(self.difference) >= least


@dataclass(frozen=True)
class NearestSize:
    """The size that a body is nearest to, and how it differs from it.

    Attributes:
        size: its body.
        chosen_by: the girth it was chosen by.
        differences: of every measurement, in the order of the vocabulary.
        beyond_mm: how far that girth lies outside the chart; 0 within it.
    """

    size: Body
    chosen_by: ChosenBy
    differences: tuple[Difference, ...]
    beyond_mm: float = 0.0

    def difference(self, measurement: str) -> Difference:
        """Return the one of this measurement.

        Raises:
            KeyError: there is no such measurement.
        """
        for each in self.differences:
            if each.measurement == measurement:
                return each
        raise KeyError(measurement)


def chosen_by(pattern: Pattern) -> ChosenBy:
    """Return the girth by which a size of this garment is chosen.

    What has an armhole is chosen by the bust: shoulders and armholes are the hardest to alter. A
    skirt shaped to the hip is chosen by the hip, any other garment by the waist (common practice).
    """
    if "armhole" in pattern.runs:
        return ChosenBy.BUST
    if any("side hip" in piece.points for piece in pattern.pieces.values()):
        return ChosenBy.HIP
    return ChosenBy.WAIST


def nearest_size(chart: SizeChart, body: Body, by: ChosenBy = ChosenBy.BUST) -> NearestSize:
    """Return the size nearest by a girth; of two equally near, by bust, waist and hip together."""
    return sizes_by_nearness(chart, body, by)[0]


def sizes_by_nearness(
    chart: SizeChart, body: Body, by: ChosenBy = ChosenBy.BUST
) -> tuple[NearestSize, ...]:
    """Return all sizes, the nearest first; people in the chart are none."""
    chart = chart.range

    def away(size: Body) -> tuple[float, float]:
        others = sum(abs(size[each] - body[each]) for each in ChosenBy)
        return round(abs(size[by] - body[by]), 3), others

    girths = [each[by] for each in chart]
    beyond = max(min(girths) - body[by], body[by] - max(girths), 0.0)
    return tuple(
        NearestSize(size, by, _differences(size, body), beyond) for size in sorted(chart, key=away)
    )


def _differences(size: Body, body: Body) -> tuple[Difference, ...]:
    return tuple(
        Difference(name, size[name], body[name], body.is_estimated(name), size.is_estimated(name))
        for name in MEASUREMENTS
    )
