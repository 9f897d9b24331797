"""What a size chart leaves out: measurements estimated in all sizes, or in some of them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from clothwise.errors import MeasurementError
from clothwise.pattern import Body, Finding, Severity
from clothwise.pattern.quantity import QuantityKind
from clothwise.pattern.size_chart import SizeChart
from clothwise.pattern.vocabulary import MEASUREMENTS
from clothwise.sizing.chart_columns import Column, columns_of

__all__ = ["ESTIMATE_CODES", "estimate_findings"]

ESTIMATE_CODES = ("CHART-ESTIMATED", "CHART-PARTLY")
JUMP_MM = 5.0
"""Where a measured size stands beside an estimated one, the estimate may be off by this much. Our
own choice: about what a whole garment may differ from its neighbors without being seen."""
JUMP_DEG = 2.0


def estimate_findings(chart: SizeChart) -> Iterator[Finding]:
    """Return a finding for each measurement given in some sizes only, and one for all others."""
    count = len(chart)
    rows = [size.given.keys() for size in chart]
    given = {name: [name in row for row in rows] for name in MEASUREMENTS}
    columns = columns_of(chart, range(count))
    for name, flags in given.items():
        if any(flags) and not all(flags):
            yield _partly(chart, columns[name], flags)
    missing = [name.replace("_", " ") for name, flags in given.items() if not any(flags)]
    if missing:
        yield Finding(
            code="CHART-ESTIMATED",
            severity=Severity.NOTE,
            message=f"The chart does not give {len(missing)} of {len(MEASUREMENTS)} measurements; "
            f"they are estimated from the others: {', '.join(missing)}.",
            remedy="Add a column for each that your garment depends on, if you know it.",
            measured=f"{len(missing)} estimated",
            allowed="",
        )


def _partly(chart: SizeChart, column: Column, flags: list[bool]) -> Finding:
    """One finding, at the size where a measured value and an estimate lie furthest apart."""
    names = chart.names
    borders = [at + 1 if flags[at + 1] else at for at, pair in enumerate(pairwise(flags))
               if pair[0] != pair[1]]  # fmt: skip
    offsets = {at: _offset(chart.sizes[at], column) for at in borders}
    at = max(offsets, key=lambda each: abs(offsets[each]))
    offset = offsets[at]
    limit = JUMP_DEG if column.is_angle else JUMP_MM
    blank = [name for name, is_given in zip(names, flags, strict=True) if not is_given]
    shown = ", ".join(blank[:4]) + (f" and {len(blank) - 4} more" if len(blank) > 4 else "")
    jumps = abs(offset) > limit
    return Finding(
        code="CHART-PARTLY",
        severity=Severity.WARNING if jumps else Severity.NOTE,
        message=f"The {column.label} is left out in {'size' if len(blank) == 1 else 'sizes'} "
        f"{shown}, and estimated there; in size {names[at]}, where it is given, the same estimate "
        f"would be {_apart(column, offset)}" + (", so the sizes do not run on." if jumps else "."),
        remedy=f"Enter the {column.label} of all sizes, or of none.",
        size=blank[0],
        measured=column.shown(offset, is_step=True),
        allowed=f"up to {column.shown(limit)}",
    )


def _apart(column: Column, offset: float) -> str:
    shown = column.shown(abs(offset))
    if shown == column.shown(0.0):
        return "the same"
    return f"{shown} {'more' if offset < 0 else 'less'}"


def _offset(body: Body, column: Column) -> float:
    """By how much a given value differs from what would be estimated in its place."""
    name = column.name
    rest = {each: value for each, value in body.given.items() if each != name}
    try:
        estimate = Body.complete(rest)[name]
    except MeasurementError:  # the rest goes together only because of it
        return 0.0
    scale = 1.0 if MEASUREMENTS[name].kind is QuantityKind.LENGTH else 180 / math.pi
    return (body[name] - estimate) * scale
