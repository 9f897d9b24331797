"""One figure of a row that fits none of the others beside it: most likely a slip of the pen.

Each figure is held against the others of its row by `chart_proportions`. One that lies beyond all
women of the open survey beside every other figure, while those agree among themselves, is told
before anything else. That no margin is added, and that two others must agree, is our own choice.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass

from clothwise.pattern import Body, Finding, Severity
from clothwise.pattern.enumerated import enumerated
from clothwise.pattern.size_chart import SizeChart
from clothwise.sizing.chart_columns import columns_of
from clothwise.sizing.chart_proportions import PROPORTIONS, Proportion

__all__ = ["Slip", "slip_findings", "slip_of", "slips_of"]

FEWEST_BESIDE = 2
"""Other figures that one must not fit before it is called a slip."""


@dataclass(frozen=True)
class Slip:
    """A figure that fits none of the others of its row.

    Attributes:
        name: of the measurement.
        beside: the others that it was held against.
        least_mm: what all of them let expect at least.
        most_mm: and at most.
    """

    name: str
    beside: tuple[str, ...]
    least_mm: float
    most_mm: float


def slip_of(body: Body) -> Slip | None:
    """Return the one figure of a body that fits none of the others; None if there is no such."""
    given = set(body.given)
    held = [each for each in PROPORTIONS if {each.name, each.beside} <= given]
    wrong = [each for each in held if not _fits(each, body)]
    found = []
    for name in sorted(given):
        of = [each for each in held if name in (each.name, each.beside)]
        if len(of) < FEWEST_BESIDE or not all(each in wrong for each in of):
            continue
        if all(name in (each.name, each.beside) for each in wrong):
            found.append(_slip(name, of, body))
    return found[0] if len(found) == 1 else None


def slips_of(chart: SizeChart, known: Set[tuple[int, str]]) -> dict[int, Slip]:
    """Return the slips of a chart, by the place of their row.

    Args:
        chart: any.
        known: values that have a finding already: place of the size, and measurement.
    """
    found = {at: slip for at, body in enumerate(chart) if (slip := slip_of(body))}
    return {at: slip for at, slip in found.items() if (at, slip.name) not in known}


def slip_findings(chart: SizeChart, slips: Mapping[int, Slip]) -> Iterator[Finding]:
    """Return a finding for each slip."""
    columns = columns_of(chart, range(len(chart)))
    for at, slip in slips.items():
        body = chart.sizes[at]
        column, size = columns[slip.name], chart.names[at]
        value = column.shown(body[slip.name])
        beside = enumerated(
            [f"{columns[each].label} {columns[each].shown(body[each])}" for each in slip.beside]
        )
        allowed = f"{column.shown(slip.least_mm)} to {column.shown(slip.most_mm)}"
        if slip.least_mm > slip.most_mm:
            allowed = "other figures beside it"
        expect = f", which let expect {allowed}" if slip.least_mm <= slip.most_mm else ""
        yield Finding(
            code="CHART-PROPORTION",
            severity=Severity.WARNING,
            message=f"In size {size} the {column.label} of {value} fits none of the other figures: "
            f"{beside}{expect}.",
            remedy=f"Measure the {column.label} again, or compare it with your figures: a digit "
            "may be wrong.",
            size=size,
            measured=value,
            allowed=allowed,
        )


def _fits(of: Proportion, body: Body) -> bool:
    """Tell whether some women of the survey have such a pair."""
    least, most = _bounds_mm(of, body[of.beside])
    return least <= body[of.name] <= most


def _bounds_mm(of: Proportion, beside_mm: float) -> tuple[float, float]:
    line = of.slope * beside_mm + of.intercept_mm
    return line + of.survey_least_mm, line + of.survey_most_mm + of.chart_more_mm


def _slip(name: str, of: list[Proportion], body: Body) -> Slip:
    """What the others let expect of one figure, by every proportion it has part in."""
    least, most, beside = 0.0, float("inf"), []
    for each in of:
        if each.name == name:
            low, high = _bounds_mm(each, body[each.beside])
            beside.append(each.beside)
        else:
            start, end = _bounds_mm(each, 0.0)
            low = (body[each.name] - end) / each.slope
            high = (body[each.name] - start) / each.slope
            beside.append(each.name)
        least, most = max(least, low), min(most, high)
    return Slip(name, tuple(beside), least, most)
