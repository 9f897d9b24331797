"""In a worker: a size chart as a grid, as a picture of whom it fits, and read from a file."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping, Sequence

from clothwise.app.jobs._drafting import opened_design
from clothwise.app.jobs.measure import ChartFinding, CoverageShown, GridCell, GridRow, GridShown
from clothwise.pattern import Body, Finding
from clothwise.pattern.commands import is_sheet
from clothwise.pattern.measurements import MEASUREMENTS, Measurement
from clothwise.pattern.quantity import QuantityKind
from clothwise.pattern.row_kind import names_alone
from clothwise.pattern.size_chart import SizeChart
from clothwise.units import LengthUnit, format_fraction, nearest_inches

_SIXTEENTHS = 16
_WORDS = {
    LengthUnit.CENTIMETER: "cm",
    LengthUnit.MILLIMETER: "mm",
    LengthUnit.INCH: "in",
}


def grid(documents: Mapping[str, str], unit: str, size: str, *, with_figures: bool) -> GridShown:
    """Read the chart of a design.

    Raises:
        DocumentError: carries every fault of the design and of its chart.
    """
    from clothwise.sizing.chart_checks import chart_faults

    file = opened_design(documents)
    chart, shown_in = file.chart, _unit(file.chart, unit)
    shown = size if size in chart.names else file.design.base_size
    rows = tuple(measured_row(each, chart, shown_in) for each in MEASUREMENTS.values())
    alone = names_alone(chart.names, dict(chart.stated))
    return GridShown(
        document=file.design.size_chart,
        title=chart.title,
        source=chart.source,
        unit=_WORDS[shown_in],
        is_sheet=is_sheet(file.design.size_chart),
        sizes=chart.names,
        base_size=file.design.base_size,
        rows=rows,
        figures=figures(rows, chart.names.index(shown)) if with_figures else {},
        findings=tuple(
            ChartFinding(
                each.severity.value,
                each.size,
                each.message,
                each.remedy,
                _measurement_in(each) if each.code in _OF_CELLS else "",
            )
            for each in chart_faults(chart)
        ),
        size=shown,
        people=chart.people,
        alone=tuple(each for each in alone if each != file.design.base_size),
    )


_OF_CELLS = ("CHART-FALL", "CHART-PROPORTION", "CHART-STEP", "CHART-VALUE")
_LABELS = {each.label: each.name for each in MEASUREMENTS.values()}
_LABEL = re.compile(rf"\bthe ({'|'.join(sorted(_LABELS, key=len, reverse=True))})\b")


def _measurement_in(finding: Finding) -> str:
    """The measurement that a finding speaks of first: that is the one it doubts."""
    found = _LABEL.search(finding.message)
    return _LABELS[found[1]] if found else ""


def coverage_shown(documents: Mapping[str, str], unit: str) -> CoverageShown:
    """Count whom the chart of a design fits, and draw it.

    Raises:
        DocumentError: carries every fault of the design and of its chart.
    """
    from clothwise.output.coverage_drawing import coverage_drawing, coverage_page
    from clothwise.output.svg import to_svg
    from clothwise.sizing.coverage import coverage
    from clothwise.sizing.suggestion import explained, suggestions

    chart = opened_design(documents).chart
    shown_in = _unit(chart, unit)
    found = coverage(chart)
    sentences = explained(found, suggestions(chart, shown_in=shown_in), shown_in)
    drawing = coverage_drawing(found, title=chart.title, unit=shown_in, sentence=sentences[1])
    svg = to_svg(drawing, page=coverage_page(drawing), standalone=False, id_prefix="coverage-")
    return CoverageShown(svg, tuple(each for each in sentences if each))


def _unit(chart: SizeChart, wanted: str) -> LengthUnit:
    return LengthUnit(wanted) if wanted else chart.unit


def measured_row(measurement: Measurement, bodies: Iterable[Body], unit: LengthUnit) -> GridRow:
    """Return one measurement of some bodies."""
    from clothwise.output.body_places import PLACES

    is_angle = measurement.kind is QuantityKind.ANGLE
    return GridRow(
        name=measurement.name,
        label=measurement.label,
        definition=measurement.definition,
        clause=measurement.iso_clause,
        unit="°" if is_angle else _WORDS[unit],
        view=PLACES[measurement.name].view.value,
        is_required=measurement.is_required,
        cells=tuple(_cell(body, measurement, unit) for body in bodies),
    )


def _cell(body: Body, measurement: Measurement, unit: LengthUnit) -> GridCell:
    estimated = body.is_estimated(measurement.name)
    text, spoken = measured_words(body[measurement.name], measurement, unit, is_exact=not estimated)
    return GridCell(text, spoken, estimated)


def measured_words(
    value: float, measurement: Measurement, unit: LengthUnit, *, is_exact: bool
) -> tuple[str, str]:
    """Return a value without and with its unit: cm to one decimal, measured to two; in to 1/16."""
    if measurement.kind is QuantityKind.ANGLE:
        text = _decimals(math.degrees(value), 1)
        return text, f"{text}°"
    if unit is LengthUnit.INCH:
        text = format_fraction(nearest_inches(value, denominator=_SIXTEENTHS))
    else:
        text = _decimals(unit.from_mm(value), 2 if is_exact else 1)
    return text, f"{text} {_WORDS[unit]}"


def _decimals(value: float, places: int) -> str:
    return f"{value:.{places}f}".rstrip("0").rstrip(".")


def figures(rows: Sequence[GridRow], number: int) -> dict[str, str]:
    """Return the views of the figure with what one body has."""
    from clothwise.output.body_figure import Reading, View, body_figure

    readings = {
        row.name: Reading(row.cells[number].spoken, row.cells[number].is_estimated) for row in rows
    }
    return {view.value: body_figure(view, readings) for view in View}
