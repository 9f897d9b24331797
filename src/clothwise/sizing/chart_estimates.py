"""What a chart leaves out: measurements estimated in all sizes, or in some of them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from clothwise.errors import MeasurementError
from clothwise.pattern import Body, Finding, Severity
from clothwise.pattern.size_chart import SizeChart
from clothwise.pattern.vocabulary import MEASUREMENTS
from clothwise.sizing.chart_columns import Column, columns_of

__all__ = ["ESTIMATE_CODES", "estimate_findings"]

ESTIMATE_CODES = ("CHART-ESTIMATED", "CHART-PARTLY")
JUMP_MM = 5.0
"""Where a measured size stands beside one that is estimated by proportions, the estimate may be off
by this much. Our own choice: about what a whole garment may differ from its neighbors unseen."""
JUMP_DEG = 2.0


def estimate_findings(chart: SizeChart) -> Iterator[Finding]:
    """Return a finding for each set of sizes that leave out what others give, and one for the rest.

    A size that was added with few measurements is one finding, however many it leaves out. What
    goes on as the other sizes step (`clothwise.pattern.chart_gaps`) is a note with the values; what
    only one other size gives may jump.
    """
    rows = [size.given.keys() for size in chart]
    given = {name: tuple(name in row for row in rows) for name in MEASUREMENTS}
    columns = columns_of(chart, range(len(chart)))
    partly: dict[tuple[tuple[bool, ...], bool], list[Column]] = {}
    for name, flags in given.items():
        if any(flags) and not all(flags):
            goes_on = all(size.is_of_chart(name) or name in size.given for size in chart)
            partly.setdefault((flags, goes_on), []).append(columns[name])
    for (flags, goes_on), left_out in partly.items():
        yield (_going_on if goes_on else _partly)(chart, left_out, flags)
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


def _going_on(chart: SizeChart, columns: list[Column], flags: tuple[bool, ...]) -> Finding:
    """What sizes leave out and others tell; the first of them with its values."""
    blank = [place for place, is_given in enumerate(flags) if not is_given]
    size = chart.sizes[blank[0]]
    several = len(columns) > 1
    values = ", ".join(
        f"{each.label} {each.shown(_value(size, each))}"
        if several
        else each.shown(_value(size, each))
        for each in columns
    )
    sizes = _sizes(chart, blank)
    what = f"In {sizes}, {len(columns)} measurements are left out that other sizes give; they go on"
    if not several:
        what = f"The {columns[0].label} is left out in {sizes}; it goes on"
    first = f", in size {size.name}" if len(blank) > 1 else ""
    return Finding(
        code="CHART-PARTLY",
        severity=Severity.NOTE,
        message=f"{what} as the other sizes step{first}: {values}.",
        remedy="Enter what you have measured otherwise; if the values suit, nothing needs doing.",
        size=size.name,
        measured=f"{len(columns)} estimated",
        allowed="as the other sizes step",
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
    them = "it" if len(columns) == 1 else "them"
    return Finding(
        code="CHART-PARTLY",
        severity=Severity.WARNING if jumps else Severity.NOTE,
        message=_message(chart, columns, blank)
        + f"; in size {names[at]}, where it is given, the same estimate "
        + (f"of the {column.label} " if len(columns) > 1 else "")
        + f"would be {_apart(column, offset)}"
        + (", so the sizes do not run on." if jumps else "."),
        remedy=f"Enter {them} in two sizes at least: then the others go on as these step.",
        size=names[blank[0]],
        measured=column.shown(offset, is_step=True),
        allowed=f"up to {column.shown(_limit(column))}",
    )


def _limit(column: Column) -> float:
    return JUMP_DEG if column.is_angle else JUMP_MM


def _sizes(chart: SizeChart, some: list[int]) -> str:
    """`size 40`, or `sizes 40, 42, 44, 46 and 3 more`."""
    shown = ", ".join(chart.names[at] for at in some[:4])
    shown += f" and {len(some) - 4} more" if len(some) > 4 else ""
    return f"{'size' if len(some) == 1 else 'sizes'} {shown}"


def _message(chart: SizeChart, columns: list[Column], blank: list[int]) -> str:
    sizes = _sizes(chart, blank)
    if len(columns) == 1:
        return f"The {columns[0].label} is left out in {sizes}, and estimated there"
    labels = ", ".join(column.label for column in columns)
    return (
        f"In {sizes}, {len(columns)} measurements are left out that other sizes give, and "
        f"estimated there: {labels}"
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
        estimate = Body.complete(rest)
    except MeasurementError:  # the rest goes together only because of it
        return 0.0
    return _value(body, column) - _value(estimate, column)


def _value(body: Body, column: Column) -> float:
    """In mm, or degrees for an angle."""
    value = body[column.name]
    return math.degrees(value) if column.is_angle else value
