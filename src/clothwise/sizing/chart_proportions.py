"""Measurements of a size that hardly go together: beyond the women of the open survey.

Each proportion is a line through the survey, and how far its women lie below and above it. What
the vocabulary's `RELATIONS` refuse is impossible; what lies outside here is unlikely, so it is a
warning. A quarter of the survey's spread is added on each side, because its women are soldiers and
a chart may go beyond them: our own choice. Charts for men pass too: of the 3,288 men of the same
survey 58, 2 in 100, lie outside one of the bounds, nearly all at the neck.
"""

from __future__ import annotations

from collections.abc import Iterator, Set
from dataclasses import dataclass

from clothwise.pattern import Body, Finding, Severity
from clothwise.pattern.size_chart import SizeChart
from clothwise.sizing.chart_columns import columns_of

__all__ = ["PROPORTIONS", "PROPORTION_CODES", "Proportion", "proportion_findings"]

PROPORTION_CODES = ("CHART-PROPORTION",)
BEYOND_SHARE = 0.25
"""How far beyond the survey a size may lie, as a share of the survey's whole spread."""


@dataclass(frozen=True, slots=True)
class Proportion:
    """A measurement as it goes with another: `slope * beside + intercept_mm`, and the spread.

    Attributes:
        name: of the measurement that is judged.
        beside: the one it is judged by.
        slope: of the line through the survey (least squares; 1 for a mere difference).
        intercept_mm: of the line.
        survey_least_mm: how far below the line (negative) the survey's lowest row lies.
        survey_most_mm: how far above it the highest lies.
        chart_more_mm: by how much charts may have more than the survey, for a known reason.
    """

    name: str
    beside: str
    slope: float
    intercept_mm: float
    survey_least_mm: float
    survey_most_mm: float
    chart_more_mm: float = 0.0

    def bounds_mm(self, beside_mm: float) -> tuple[float, float]:
        """Return the least and the most that goes beside this value."""
        line = self.slope * beside_mm + self.intercept_mm
        margin = BEYOND_SHARE * (self.survey_most_mm - self.survey_least_mm)
        most = self.survey_most_mm + self.chart_more_mm
        return line + self.survey_least_mm - margin, line + most + margin


PROPORTIONS = (
    # Differences: charts step the three girths alike, also where they go beyond the survey.
    Proportion("waist_girth", "bust_girth", 1.0, -86, -177, 259),
    Proportion("hip_girth", "bust_girth", 1.0, 75, -247, 201),
    Proportion("hip_girth", "waist_girth", 1.0, 161, -267, 186),
    Proportion("neck_base_girth", "bust_girth", 0.16, 220, -49, 60),
    Proportion("neck_girth", "neck_base_girth", 0.858, 12, -37, 32),
    Proportion("upper_arm_girth", "bust_girth", 0.277, 28, -62, 85),
    Proportion("wrist_girth", "upper_arm_girth", 0.153, 110, -20, 26),
    Proportion("hand_girth", "wrist_girth", 0.83, 58, -18, 24),
    Proportion("thigh_girth", "hip_girth", 0.695, -94, -58, 78),
    Proportion("calf_girth", "thigh_girth", 0.385, 136, -68, 82),
    Proportion("head_girth", "height", 0.093, 410, -54, 76),
    Proportion("shoulder_length", "height", 0.064, 22, -28, 38),
    Proportion("across_back_width", "bust_girth", 0.16, 244, -77, 74),
    Proportion("back_neck_height", "height", 0.916, -96, -33, 35),
    # Charts take the waist lower, down to the navel: 46 mm on average (check value B18).
    Proportion("back_neck_to_waist", "height", 0.198, 58, -49, 49, chart_more_mm=46),
    Proportion("scye_depth", "height", 0.078, 30, -49, 50),
    Proportion("arm_length", "height", 0.362, -26, -68, 61),
    Proportion("shoulder_to_elbow", "arm_length", 0.536, 24, -21, 25),
    Proportion("waist_height", "height", 0.717, -142, -50, 57),
    Proportion("inside_leg_height", "height", 0.59, -179, -73, 95),
    Proportion("inside_leg_height", "waist_height", 0.835, -74, -60, 60),
    Proportion("waist_to_hip", "height", 0.119, -2, -83, 58),
    Proportion("waist_to_knee", "height", 0.377, -37, -48, 41),
)
"""Computed by us from the 1,595 women of ANSUR II (2010-2012), mapped to our measurements as
`sizing.survey` says; a test computes them again. The waist of the survey is at the navel, where it
is larger than that of a chart: published tables lie at its lower side."""


def proportion_findings(chart: SizeChart, known: Set[tuple[int, str]]) -> Iterator[Finding]:
    """Return a finding for each proportion that some sizes are beyond.

    Args:
        chart: any.
        known: values that have a finding already: place of the size, and measurement.
    """
    for each in PROPORTIONS:
        beyond = [
            (at, how)
            for at, body in enumerate(chart)
            if not {(at, each.name), (at, each.beside)} & known
            and not body.is_estimated(each.name)
            and not body.is_estimated(each.beside)
            and (how := _beyond_mm(each, body))
        ]
        if beyond:
            yield _finding(chart, each, beyond)


def _beyond_mm(of: Proportion, body: Body) -> float:
    """By how much a body lies outside, mm; negative if below, 0 if inside."""
    least, most = of.bounds_mm(body[of.beside])
    value = body[of.name]
    return min(value - least, 0.0) + max(value - most, 0.0)


def _finding(chart: SizeChart, of: Proportion, beyond: list[tuple[int, float]]) -> Finding:
    at, how = max(beyond, key=lambda each: abs(each[1]))
    body, size = chart.sizes[at], chart.names[at]
    columns = columns_of(chart, range(len(chart)))
    column, beside = columns[of.name], columns[of.beside]
    least, most = of.bounds_mm(body[of.beside])
    value, other = column.shown(body[of.name]), beside.shown(body[of.beside])
    allowed = f"{column.shown(least)} to {column.shown(most)}"
    others = [chart.names[each] for each, _ in beyond if each != at]
    also = f" So it is in {_some(others)}." if others else ""
    return Finding(
        code="CHART-PROPORTION",
        severity=Severity.WARNING,
        message=f"In size {size} the {column.label} of {value} is "
        f"{'large' if how > 0 else 'small'} for a {beside.label} of {other}: beyond all "
        f"women of the open survey, {allowed} with a margin.{also}",
        remedy="Compare both with your figures, and how each is measured (docs/reference/"
        "measurements.md); if the chart is for such bodies, nothing needs doing.",
        size=size,
        measured=f"{value} beside {other}",
        allowed=allowed,
    )


def _some(names: list[str]) -> str:
    shown = ", ".join(names[:3])
    rest = f" and {len(names) - 3} more" if len(names) > 3 else ""
    return f"{'size' if len(names) == 1 else 'sizes'} {shown}{rest}"
