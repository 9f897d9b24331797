"""Findings about a size chart, before anything is drafted from it.

A figure that fits none of its row comes first, then whole rows, then single values and steps in
rows brought into order, then measurements of one size that hardly go together, then what is
estimated. A fault is told once: what already has a finding is left out of the checks that follow.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from clothwise.pattern import Finding
from clothwise.pattern.row_kind import RowKind
from clothwise.pattern.size_chart import SizeChart
from clothwise.pattern.size_names import ranked_names
from clothwise.sizing.chart_columns import columns_of
from clothwise.sizing.chart_estimates import ESTIMATE_CODES, estimate_findings
from clothwise.sizing.chart_proportions import PROPORTION_CODES, proportion_findings
from clothwise.sizing.chart_rows import ROW_CODES, order_rows, row_findings
from clothwise.sizing.chart_slips import slip_findings, slips_of
from clothwise.sizing.chart_values import VALUE_CODES, suspects, value_findings

__all__ = ["CHART_CODES", "chart_codes", "chart_faults", "check_chart"]

CHART_CODES = tuple(sorted((*ROW_CODES, *VALUE_CODES, *PROPORTION_CODES, *ESTIMATE_CODES)))


def chart_faults(chart: SizeChart, size: str = "") -> list[Finding]:
    """Return what is found about a chart, or one of its sizes, except what is only estimated.

    Estimates are left to those who show the chart and mark them.
    """
    return [
        finding
        for finding in check_chart(chart)
        if finding.code != "CHART-ESTIMATED" and size in ("", finding.size)
    ]


def check_chart(chart: SizeChart) -> tuple[Finding, ...]:
    """Return all findings about a chart.

    The size of a finding is that of the row to look at; its message names the measurement. What is
    estimated in every size is one note, CHART-ESTIMATED. Of a row that is a person only its own
    proportions are judged, and so it is with one whose name has no order, such as Ada, unless the
    file calls it a size, or no name has an order and all rows rise. A figure that fits none of the
    others of its row is told first.
    """
    compared = _compared(chart)
    out_of_line = suspects(columns_of(compared, order_rows(compared).order)) if compared else []
    places = {name: at for at, name in enumerate(chart.names)}
    known = {
        (places[compared.names[each.size]], each.column.name)
        for each in out_of_line
        if compared is not None
    }
    slips = slips_of(chart, known)
    known |= {(at, slip.name) for at, slip in slips.items()}
    return (
        *slip_findings(chart, slips),
        *(_of_steps(compared) if compared else ()),
        *proportion_findings(chart, known),
        *estimate_findings(chart.range),
    )


def _of_steps(compared: SizeChart) -> Iterator[Finding]:
    """What is found by comparing sizes with one another."""
    rows = order_rows(compared)
    columns = columns_of(compared, rows.order)
    yield from row_findings(compared, rows)
    yield from value_findings(compared, columns, suspects(columns))


def _compared(chart: SizeChart) -> SizeChart | None:
    """The rows that are steps of a range; None if there are none."""
    of_range, stated = chart.range, dict(chart.stated)
    ranked = {each.name for kind in ranked_names(of_range.names).values() for each in kind}
    steps = [
        size for size in of_range if size.name in ranked or stated.get(size.name) is RowKind.SIZE
    ]
    if len(steps) == len(of_range) or (not steps and _rises(of_range)):
        return of_range
    return replace(of_range, sizes=tuple(steps)) if steps else None


def chart_codes() -> tuple[str, ...]:
    """Return the codes of all findings there can be about a chart, sorted."""
    return CHART_CODES


def _rises(chart: SizeChart) -> bool:
    """Tell whether the girths rise from row to row, as those of a range do and of people hardly."""
    order = order_rows(chart).order
    return list(order) == sorted(order)
