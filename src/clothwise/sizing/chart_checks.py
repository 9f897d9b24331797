"""Findings about a size chart, before anything is drafted from it.

Whole rows come first, then single values and steps in rows brought into order, then measurements
of one size that hardly go together, then what is estimated. A fault is told once: what already has
a finding is left out of the checks that follow.
"""

from __future__ import annotations

from clothwise.pattern import Finding
from clothwise.pattern.size_chart import SizeChart
from clothwise.sizing.chart_columns import columns_of
from clothwise.sizing.chart_estimates import ESTIMATE_CODES, estimate_findings
from clothwise.sizing.chart_proportions import PROPORTION_CODES, proportion_findings
from clothwise.sizing.chart_rows import ROW_CODES, order_rows, row_findings
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
    estimated in every size is one note, CHART-ESTIMATED. A row that is a person is no step of the
    range: only its own proportions are judged.
    """
    of_range = chart.range
    rows = order_rows(of_range)
    columns = columns_of(of_range, rows.order)
    out_of_line = suspects(columns)
    known = frozenset((each.size, each.column.name) for each in out_of_line)
    return (
        *row_findings(of_range, rows),
        *value_findings(of_range, columns, out_of_line),
        *proportion_findings(chart, known),
        *estimate_findings(of_range),
    )


def chart_codes() -> tuple[str, ...]:
    """Return the codes of all findings there can be about a chart, sorted."""
    return CHART_CODES
