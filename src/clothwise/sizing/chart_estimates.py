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
    """Return a finding for each set of sizes that leave out what others give, and one for the rest.

    A size that was added with few measurements is one finding, however many it leaves out.
    """
    count = len(chart)
    rows = [size.given.keys() for size in chart]
    given = {name: tuple(name in row for row in rows) for name in MEASUREMENTS}
    columns = columns_of(chart, range(count))
    partly: dict[tuple[bool, ...], list[Column]] = {}
    for name, flags in given.items():
        if any(flags) and not all(flags):
            partly.setdefault(flags, []).append(columns[name])
    for flags, left_out in partly.items():
        yield _partly(chart, left_out, flags)
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


def _partly(chart: SizeChart, columns: list[Column], flags: tuple[bool, ...]) -> Finding:
    """One finding, at the size where a measured value and an estimate lie furthest apart."""
    names = chart.names
    borders = [at + 1 if flags[at + 1] else at for at, pair in enumerate(pairwise(flags))
               if pair[0] != pair[1]]  # fmt: skip
    offsets = {
        (at, number): _offset(chart.sizes[at], column)
        for at in borders
        for number, column in enumerate(columns)
    }
    at, number = max(offsets, key=lambda each: abs(offsets[each]) / _limit(columns[each[1]]))
    offset, column = offsets[at, number], columns[number]
    blank = [place for place, is_given in enumerate(flags) if not is_given]
    jumps = abs(offset) > _limit(column)
    return Finding(
        code="CHART-PARTLY",
        severity=Severity.WARNING if jumps else Severity.NOTE,
        message=_message(chart, columns, blank)
        + f"; in size {names[at]}, where it is given, the same estimate "
        + (f"of the {column.label} " if len(columns) > 1 else "")
        + f"would be {_apart(column, offset)}"
        + (", so the sizes do not run on." if jumps else "."),
        remedy=_remedy(chart, columns, blank),
        size=names[blank[0]],
        measured=column.shown(offset, is_step=True),
        allowed=f"up to {column.shown(_limit(column))}",
    )


def _limit(column: Column) -> float:
    return JUMP_DEG if column.is_angle else JUMP_MM


def _message(chart: SizeChart, columns: list[Column], blank: list[int]) -> str:
    shown = ", ".join(chart.names[at] for at in blank[:4])
    shown += f" and {len(blank) - 4} more" if len(blank) > 4 else ""
    sizes = f"{'size' if len(blank) == 1 else 'sizes'} {shown}"
    if len(columns) == 1:
        return f"The {columns[0].label} is left out in {sizes}, and estimated there"
    labels = ", ".join(column.label for column in columns)
    return (
        f"In {sizes}, {len(columns)} measurements are left out that other sizes give, and "
        f"estimated there: {labels}"
    )


def _remedy(chart: SizeChart, columns: list[Column], blank: list[int]) -> str:
    what = f"the {columns[0].label}" if len(columns) == 1 else "them"
    remedy = f"Enter {what} of all sizes, or of none."
    if len(columns) > 1:
        remedy = "Enter them in all sizes."
    if len(blank) != 1:
        return remedy
    values = ((column, continued(chart, column, blank[0])) for column in columns)
    told = ", ".join(f"{column.label} {column.shown(at)}" for column, at in values if at)
    beside = "before" if blank[0] else "after"
    size = chart.names[blank[0]]
    return f"{remedy} As the sizes {beside} it step, {size} would have: {told}." if told else remedy


def continued(chart: SizeChart, column: Column, at: int) -> float | None:
    """What the first or last size would have if its column went on as the two beside it step.

    The step goes with that of the bust, so that a size that is further away gets more; the value
    is rounded as the column is. Our own choice.

    Args:
        chart: the chart.
        column: without a value for that size.
        at: the place of the size.

    Returns:
        In mm or degrees; None if the size lies between others, or fewer than two are given.
    """
    places = column.sizes if at == len(chart) - 1 else tuple(reversed(column.sizes))
    if at not in (0, len(chart) - 1) or len(places) < 2 or at in places:
        return None
    value = dict(zip(column.sizes, column.values, strict=True))
    bust = [body["bust_girth"] for body in chart]
    last, before = places[-1], places[-2]
    known = bust[last] - bust[before]
    share = (bust[at] - bust[last]) / known if known else 1.0
    free = value[last] + share * (value[last] - value[before])
    return round(free / column.grid) * column.grid


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
