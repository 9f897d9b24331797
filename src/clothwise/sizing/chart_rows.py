"""Findings about whole rows of a size chart: their order, their names, sizes left out or doubled.

A row is judged by its girths of bust, waist and hip together: where two of three go back, the row
is out of order; where only one does, its own value is wrong (`chart_columns`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from clothwise.pattern import Finding, Severity
from clothwise.pattern.enumerated import enumerated
from clothwise.pattern.size_chart import SizeChart
from clothwise.pattern.size_names import missing_names, ranked_names
from clothwise.sizing.chart_columns import Column, columns_of

__all__ = ["GIRTHS", "ROW_CODES", "Rows", "order_rows", "row_findings"]

ROW_CODES = ("CHART-GAP", "CHART-ORDER", "CHART-SAME")
GIRTHS = ("bust_girth", "waist_girth", "hip_girth")
_MOST_OF_GIRTHS = 2
"""This many of the three girths must go the same way."""
TWICE = 1.9
"""A step of the girths this many times those beside it leaves room for a size. Published tables
have single steps of up to 1.5 times."""
WIDER = 1.25
"""Where the names skip a size, this much is enough to say that the girths do so too."""


@dataclass(frozen=True)
class Rows:
    """The sizes of a chart in order of their girths.

    Attributes:
        order: places in the chart, in order of the girths, without doubles.
        doubles: places of sizes with another's measurements, and the place of that other.
    """

    order: tuple[int, ...]
    doubles: dict[int, int]


def order_rows(chart: SizeChart) -> Rows:
    """Return the order in which the girths rise.

    Only what goes back in most of the girths is moved: one wrong value leaves its row in place.
    """
    given = [size.given for size in chart]
    doubles: dict[int, int] = {}
    for at, row in enumerate(given):
        first = given.index(row)
        if first < at:
            doubles[at] = first
    order = [at for at in range(len(chart)) if at not in doubles]
    if sum(_goes_back(chart, one, two) for one, two in pairwise(order)) > len(order) / 2:
        order.reverse()
    for _ in order:  # each round brings at least one row to its place
        wrong = [at for at, (one, two) in enumerate(pairwise(order)) if _goes_back(chart, one, two)]
        if not wrong:
            break
        for at in wrong:
            if _goes_back(chart, order[at], order[at + 1]):
                order[at], order[at + 1] = order[at + 1], order[at]
    return Rows(tuple(order), doubles)


def row_findings(chart: SizeChart, rows: Rows) -> Iterator[Finding]:
    """Return what is to be said of whole rows."""
    yield from _doubled(chart, rows)
    yield from _disordered(chart, rows)
    yield from _gaps(chart, rows)


def _goes_back(chart: SizeChart, one: int, other: int) -> bool:
    before, after = chart.sizes[one], chart.sizes[other]
    steps = [after[girth] - before[girth] for girth in GIRTHS]
    return sum(step < 0 for step in steps) >= _MOST_OF_GIRTHS and sum(steps) < 0


def _doubled(chart: SizeChart, rows: Rows) -> Iterator[Finding]:
    for at, first in rows.doubles.items():
        one, other = chart.names[first], chart.names[at]
        yield Finding(
            code="CHART-SAME",
            severity=Severity.WARNING,
            message=f"Sizes {one} and {other} have the same measurements: they would be drafted "
            "alike.",
            remedy=f"Look whether figures were copied and not changed; enter the measurements of "
            f"{other}, or take it out.",
            size=other,
            measured=f"{len(chart.sizes[at].given)} measurements alike",
            allowed="sizes that differ",
        )


def _disordered(chart: SizeChart, rows: Rows) -> Iterator[Finding]:
    names = chart.names
    written = [at for at in range(len(chart)) if at not in rows.doubles]
    if len(written) > 1 and rows.order == tuple(reversed(written)):
        yield _order_finding(
            f"The sizes go from large to small, from {names[written[0]]} to {names[written[-1]]}.",
            "List the smallest size first.",
            names[written[0]],
            f"{names[written[0]]} first",
        )
        return
    told = _misplaced(written, rows.order)
    for at in told:
        yield _misplaced_finding(chart, rows.order, at)
    misnamed = _misnamed(chart, rows)
    for one, other in misnamed:
        if {one, other} & set(told):
            continue
        yield _order_finding(
            f"Sizes {names[one]} and {names[other]} are named in the wrong order: {names[other]} "
            f"has the larger girths.",
            f"Look whether the names {names[one]} and {names[other]} were swapped.",
            names[other],
            f"{names[one]}, then {names[other]}",
        )


def _misplaced(written: Sequence[int], order: Sequence[int]) -> list[int]:
    """The fewest rows that must move so that the rest is in order."""
    places = {at: place for place, at in enumerate(order)}
    longest: dict[int, list[int]] = {}  # the longest run in order that ends with a row
    for at in written:
        before = [longest[other] for other in longest if places[other] < places[at]]
        start = max(before, key=len) if before else []
        longest[at] = [*start, at]
    kept = max(longest.values(), key=len)
    return [at for at in written if at not in kept]


def _misplaced_finding(chart: SizeChart, order: Sequence[int], at: int) -> Finding:
    names, place = chart.names, order.index(at)
    beside = [names[each] for each in order[max(place - 1, 0) : place + 2] if each != at]
    if len(beside) == 2:
        where = f"between sizes {beside[0]} and {beside[1]}"
    else:
        where = f"{'before' if place == 0 else 'after'} size {beside[0]}"
    near = [names[each] for each in (at - 1, at + 1) if 0 <= each < len(names)]
    in_order = [names[each] for each in order]
    fits = all(
        one.rank < two.rank
        for ranked in ranked_names(in_order).values()
        for one, two in pairwise(ranked)
        if place in (one.at, two.at)
    )
    remedy = (
        f"List size {names[at]} in that place."
        if fits
        else f"Its name stands where it should: look whether the figures of {names[at]} and of a "
        "size beside it were exchanged."
    )
    measured = ", ".join(
        f"{girth.replace('_', ' ')} {_shown(chart, at, girth)}" for girth in GIRTHS
    )
    return _order_finding(
        f"Size {names[at]} is out of order: by its {_telling(chart, order, place)} it belongs "
        f"{where}, and it stands beside {enumerated(near)} ({measured}).",
        remedy,
        names[at],
        measured,
    )


def _telling(chart: SizeChart, order: Sequence[int], place: int) -> str:
    """The girths that lie between those of the sizes beside its place."""
    size = chart.sizes[order[place]]
    before = [chart.sizes[each] for each in order[max(place - 1, 0) : place]]
    after = [chart.sizes[each] for each in order[place + 1 : place + 2]]
    between = [
        girth.removesuffix("_girth")
        for girth in GIRTHS
        if all(other[girth] <= size[girth] for other in before)
        and all(size[girth] <= other[girth] for other in after)
    ]
    return "girths" if len(between) in (0, len(GIRTHS)) else f"{enumerated(between)} girth"


def _misnamed(chart: SizeChart, rows: Rows) -> list[tuple[int, int]]:
    """Neighbors of one kind of name, as written, whose names go back."""
    found = []
    for ranked in ranked_names(chart.names).values():
        kept = [each for each in ranked if each.at not in rows.doubles]
        found += [(one.at, two.at) for one, two in pairwise(kept) if two.rank < one.rank]
    return found


def _order_finding(message: str, remedy: str, size: str, measured: str) -> Finding:
    return Finding(
        code="CHART-ORDER",
        severity=Severity.WARNING,
        message=message,
        remedy=remedy,
        size=size,
        measured=measured,
        allowed="sizes in order, the smallest first",
    )


def _gaps(chart: SizeChart, rows: Rows) -> Iterator[Finding]:
    """Where a size seems to be left out: by the names, by the girths, or by both."""
    missing: dict[int, str] = {}
    if not _misnamed(chart, rows):
        for ranked in ranked_names(chart.names).values():
            missing |= missing_names(ranked)
    columns = columns_of(chart, rows.order)
    wide = _wide_steps(columns, TWICE)
    wider = _wide_steps(columns, WIDER)
    for at in sorted({*missing, *wide}):
        before = chart.names[rows.order[max(rows.order.index(at) - 1, 0)]]
        size, name = chart.names[at], missing.get(at, "")
        steps = wide.get(at) or (wider.get(at) if at in missing else None)
        if steps:
            what = f"Between sizes {before} and {size} a size seems to be missing"
            what += f", {name}:" if name else ":"
            much = "about twice as much as" if at in wide else "more than"
            what += f" the girths step by {much} beside it ({steps})."
            remedy = f"Enter {f'size {name}' if name else 'the missing size'}; if it was left out "
            remedy += "on purpose, nothing needs doing."
        else:
            what = f"The names of the sizes skip {name or 'one'} between {before} and {size}, but "
            what += "the girths do not."
            remedy = f"Look whether {size} and the sizes after it are named as they should be."
        yield Finding(
            code="CHART-GAP",
            severity=Severity.WARNING,
            message=what,
            remedy=remedy,
            size=size,
            measured=steps or f"{before}, then {size}",
            allowed="steps like those beside it",
        )


def _wide_steps(columns: Mapping[str, Column], times: float) -> dict[int, str]:
    """Steps so many times those on both sides in most of the girths: size after it, and steps."""
    counted: dict[int, list[str]] = {}
    for girth in GIRTHS:
        column = columns[girth]
        for at in _wide(column, times):
            step = column.shown(column.values[at + 1] - column.values[at], is_step=True)
            counted.setdefault(column.sizes[at + 1], []).append(f"{column.label} {step}")
    return {at: ", ".join(told) for at, told in counted.items() if len(told) >= _MOST_OF_GIRTHS}


def _wide(column: Column, times: float) -> Iterator[int]:
    steps, last = column.slopes, len(column) - 2
    for at in range(last + 1):
        beside = [steps[each] for each in (at - 1, at + 1) if 0 <= each <= last]
        if not beside or (len(beside) < 2 and times >= TWICE):
            continue  # the first or last step alone tells too little
        near = max(beside)
        is_alone = column.places[at + 1] - column.places[at] == 1
        beyond = steps[at] - near
        if is_alone and near > 0 and steps[at] >= times * near and beyond > column.grid + 1e-6:
            yield at


def _shown(chart: SizeChart, at: int, girth: str) -> str:
    return columns_of(chart, (at,))[girth].shown(chart.sizes[at][girth])
