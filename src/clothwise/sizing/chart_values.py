"""Single values of a size chart that are out of line with the sizes beside them, and odd steps.

A value is compared with what its neighbors let expect: the line between them, and the lines that
go on from the two before and the two after. Steps that change for good, as those of published
tables do, agree with one of the three; a wrong value agrees with none. A column that grows as a
girth does is in order as well, so each is also reckoned per millimeter of bust, waist and hip. All
bounds are our own choice, set by the published tables in the tests.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from clothwise.pattern import Finding, Severity
from clothwise.pattern.size_chart import SizeChart
from clothwise.sizing.chart_columns import Column

__all__ = ["VALUE_CODES", "Suspect", "suspects", "value_findings"]

VALUE_CODES = ("CHART-FALL", "CHART-STEP", "CHART-VALUE")
END_RATIOS = (0.4, 1.8)
"""A first or last step against the next one. In published tables it is 1/2 (bust of ASTM
D5585-11, 00 to 2) to 1 1/2 times."""
MIDDLE_RATIOS = (0.4, 2.5)
"""The two steps of a chart of three sizes against each other."""
STEP_SHARE = 0.5
"""A single step may be this share larger than both its neighbors, as one at the waist of the tables
of home sewing patterns is (3 in between steps of 2 in), but not this share smaller."""
LASTING_RATIO = 1.8
"""A girth that changes its steps by this for good while the two other girths do not."""
FALL_MM = 1.0
_TOGETHER = 1.3
_ALIKE = 1.25
_MOST_SUSPECTS = 4
"""One value in so many may be out of line; with more, the column has no line."""
_FEWEST_FOR_EVEN = 3
"""Changes of steps elsewhere before a column can be called even."""
_NOISE = 1e-6
_GIRTHS = ("bust_girth", "waist_girth", "hip_girth")


@dataclass(frozen=True)
class Suspect:
    """A value out of line.

    Attributes:
        column: that it stands in.
        at: its number in the column.
        expected: what the sizes beside it let expect.
    """

    column: Column
    at: int
    expected: float

    @property
    def size(self) -> int:
        """The place of its size in the chart."""
        return self.column.sizes[self.at]

    @property
    def value(self) -> float:
        """As it stands in the chart."""
        return self.column.values[self.at]


def suspects(columns: Mapping[str, Column]) -> list[Suspect]:
    """Return all values out of line, column by column."""
    found = []
    for column in columns.values():
        found += _suspects_of(column, _rulers(column, columns))
    return found


def value_findings(
    chart: SizeChart, columns: Mapping[str, Column], out_of_line: Sequence[Suspect]
) -> Iterator[Finding]:
    """Return a finding for each value out of line, and for steps that are odd without it."""
    for name, column in columns.items():
        wrong = [each for each in out_of_line if each.column.name == name]
        yield from (_value_finding(chart, each) for each in wrong)
        sound = _without(column, wrong)
        stepped = set()
        for at, usual in _odd_steps(sound, columns, out_of_line):
            stepped.add(at)
            yield _step_finding(chart, sound, at, usual)
        yield from _falls(chart, sound, stepped)


# Values -------------------------------------------------------------------------------------------


def _rulers(column: Column, columns: Mapping[str, Column]) -> list[Mapping[int, float]]:
    """What a column may go along with: the order of the sizes, and the girths other than itself."""
    rulers: list[Mapping[int, float]] = [dict(zip(column.sizes, column.places, strict=True))]
    for girth in _GIRTHS:
        if girth != column.name:
            of = columns[girth]
            rulers.append(dict(zip(of.sizes, of.values, strict=True)))
    return rulers


def _suspects_of(column: Column, rulers: Sequence[Mapping[int, float]]) -> list[Suspect]:
    """Take out one value after the other: always the one without which the rest is most even."""
    found: list[Suspect] = []
    left = column
    while len(left) > 2 and len(found) <= len(column) // _MOST_SUSPECTS:
        off = [_off(left, at, rulers) for at in range(len(left))]
        flagged = [at for at in range(len(left)) if off[at][0] > _NOISE]
        if not flagged:
            break

        def unrest(at: int, left: Column = left) -> tuple[float, float]:
            rest = left.without(at)
            others = sum(_off(rest, each, rulers)[0] for each in range(len(rest)))
            return round(others, 6), abs(left.values[at] - _off(left, at, rulers)[1])

        at = min(flagged, key=unrest)
        found.append(Suspect(column, column.sizes.index(left.sizes[at]), off[at][1]))
        left = left.without(at)
    return found


def _off(column: Column, at: int, rulers: Sequence[Mapping[int, float]]) -> tuple[float, float]:
    """By how much a value is out of line by the kindest ruler, and what that one lets expect."""
    least: tuple[float, float] | None = None
    for ruler in rulers:
        along = [ruler[size] for size in column.sizes if size in ruler]
        if len(along) < len(column) or any(after <= before for before, after in pairwise(along)):
            continue
        found = _off_line(along, column, at)
        if least is None or found[0] < least[0]:
            least = found
        if least[0] <= _NOISE:
            break
    return least or (0.0, column.values[at])


def _off_line(along: Sequence[float], column: Column, at: int) -> tuple[float, float]:
    values, last = column.values, len(column) - 1
    changes = _changes_elsewhere(values, at)
    noise = median(changes) if changes else 0.0
    loose = max(column.grid, noise)
    # A rounded even column has steps of two sizes, one rounding apart: its values lie within half
    # a rounding of the line between their neighbors.
    is_even = len(changes) >= _FEWEST_FOR_EVEN and noise <= _NOISE
    tight = column.grid / 2 if is_even else loose
    going_on = tight if sum(change > _NOISE for change in changes) <= 1 else loose
    if last < 2:
        return 0.0, values[at]
    if last == 2 and _goes_with(along, column, (0, 1), (1, 2), MIDDLE_RATIOS):
        return 0.0, values[at]
    if at in (0, last):
        near, further = (1, 2) if at == 0 else (last - 1, last - 2)
        return _off_end(along, column, at, near, further, loose)
    between = _line(along, values, at - 1, at + 1, at)
    if last == 2:
        return _outside(values[at], [(between, loose)])
    lines = [(between, tight)]
    if at >= 2:
        lines.append((_line(along, values, at - 2, at - 1, at), going_on))
    if at <= last - 2:
        lines.append((_line(along, values, at + 1, at + 2, at), going_on))
    # Beside the first or last size only one line goes on. There an odd step before, or after,
    # may be what it is, if the step on the other side is as usual.
    if at == 1:
        back = _slope(along, values, 2, 3) * (along[0] - along[1])
        lines.append((values[0] - back, going_on))
    if at == last - 1:
        forth = _slope(along, values, at - 2, at - 1) * (along[last] - along[at])
        lines.append((values[last] - forth, going_on))
    return _outside(values[at], lines)


def _off_end(
    along: Sequence[float], column: Column, at: int, near: int, further: int, loose: float
) -> tuple[float, float]:
    values = column.values
    beyond = 2 * further - near
    usual = [(near, further), (near, beyond)] if 0 <= beyond < len(column) else [(near, further)]
    if any(_goes_with(along, column, (at, near), each, END_RATIOS) for each in usual):
        return 0.0, values[at]
    return _outside(values[at], [(_line(along, values, near, further, at), loose)])


def _outside(value: float, lines: Sequence[tuple[float, float]]) -> tuple[float, float]:
    least = min(line - loose for line, loose in lines)
    most = max(line + loose for line, loose in lines)
    off = max(least - value, value - most, 0.0)
    return (off if off > _NOISE else 0.0), median(line for line, _ in lines)


def _changes_elsewhere(values: Sequence[float], at: int) -> list[float]:
    """How much the steps change from size to size, away from a value."""
    steps = [after - before for before, after in pairwise(values)]
    return [
        abs(after - before)
        for number, (before, after) in enumerate(pairwise(steps), start=1)
        if abs(number - at) > 1
    ]


def _line(along: Sequence[float], values: Sequence[float], one: int, two: int, at: int) -> float:
    return values[one] + _slope(along, values, one, two) * (along[at] - along[one])


def _slope(along: Sequence[float], values: Sequence[float], one: int, two: int) -> float:
    return (values[two] - values[one]) / (along[two] - along[one])


def _goes_with(
    along: Sequence[float],
    column: Column,
    own: tuple[int, int],
    other: tuple[int, int],
    bounds: tuple[float, float],
) -> bool:
    """Tell whether a step is within these times another one, give or take half a rounding."""
    apart = abs(along[own[1]] - along[own[0]])
    step = apart * _slope(along, column.values, *own)
    beside = apart * _slope(along, column.values, *other)
    if beside == 0:
        return False
    low, high = sorted(bound * beside for bound in bounds)
    return low - column.grid / 2 <= step <= high + column.grid / 2 and step * beside > 0


def _without(column: Column, wrong: Sequence[Suspect]) -> Column:
    for each in sorted(wrong, key=lambda suspect: -suspect.at):
        column = column.without(each.at)
    return column


def _value_finding(chart: SizeChart, of: Suspect) -> Finding:
    column, size = of.column, chart.names[of.size]
    value, expected = column.shown(of.value), column.shown(_rounded(of.expected, column.grid))
    aside = ""
    for near, word in ((of.at - 1, "before"), (of.at + 1, "after")):
        if 0 <= near < len(column):
            other, beside = column.values[near], chart.names[column.sizes[near]]
            trend = of.expected - other
            if other == of.value and abs(trend) > _NOISE:
                aside = f" It is the same as in size {beside} {word} it."
            elif trend * (of.value - other) < 0:
                aside = f" It is {'less' if of.value < other else 'more'} than in size {beside}."
            if aside:
                break
    meant = _slip(of)
    return Finding(
        code="CHART-VALUE",
        severity=Severity.WARNING,
        message=f"In size {size} the {column.label} is {value}; the sizes beside it let expect "
        f"about {expected}.{aside}",
        remedy=f"Were two digits swapped, and {column.shown(meant)} meant?"
        if meant is not None
        else f"Compare the {column.label} of size {size} with your figures.",
        size=size,
        measured=value,
        allowed=f"about {expected}",
    )


def _rounded(value: float, grid: float) -> float:
    return round(value / grid) * grid


def _slip(of: Suspect) -> float | None:
    """What was meant if two neighboring digits of the figure were swapped."""
    text = of.column.shown(of.value)
    number, _, unit = text.partition(" ")
    if "/" in text or of.column.is_angle or unit == "in":
        return None
    scale = of.value / float(number) if float(number) else 0.0
    near = max(of.column.grid, abs(of.value - of.expected) / 4)
    for at in range(len(number) - 1):
        if number[at].isdigit() and number[at + 1].isdigit():
            swapped = number[:at] + number[at + 1] + number[at] + number[at + 2 :]
            meant = float(swapped) * scale
            if swapped != number and abs(meant - of.expected) <= near:
                return meant
    return None


# Steps --------------------------------------------------------------------------------------------


def _odd_steps(
    column: Column, columns: Mapping[str, Column], out_of_line: Sequence[Suspect]
) -> Iterator[tuple[int, str]]:
    """Steps unlike those on both sides, or unlike all before while the girths go on as before."""
    sound = {
        girth: _without(columns[girth], [each for each in out_of_line if each.column.name == girth])
        for girth in _GIRTHS
    }
    rulers = _rulers(column, sound)
    steps = column.slopes
    for at in range(1, len(steps) - 1):
        near = steps[at - 1], steps[at + 1]
        apart = column.places[at + 1] - column.places[at]
        if near[0] * near[1] <= 0 or apart != 1:
            continue
        if not _is_usual(column, at) and all(_is_odd(column, at, ruler) for ruler in rulers):
            yield at, " and ".join(sorted({column.shown(each, is_step=True) for each in near}))
    if column.name in _GIRTHS:
        for at in _lasting(column, sound):
            usual = column.shown(steps[at - 1], is_step=True)
            yield at, f"{usual} before, and the other girths go on as before"


def _is_odd(column: Column, at: int, ruler: Mapping[int, float]) -> bool:
    """Tell whether a step is unlike its neighbors along this ruler, or cannot be reckoned on it."""
    sizes = column.sizes[at - 1 : at + 3]
    if any(size not in ruler for size in sizes):
        return True
    along = [ruler[size] for size in sizes]
    values = column.values[at - 1 : at + 3]
    if any(after <= before for before, after in pairwise(along)):
        return True
    apart = along[2] - along[1]
    before, own, after = (_slope(along, values, each, each + 1) * apart for each in range(3))
    most, least = max(abs(before), abs(after)), min(abs(before), abs(after))
    own *= 1 if before > 0 else -1
    if own > most:
        return own - most > column.grid + STEP_SHARE * most + _NOISE
    return least - own > column.grid + _NOISE and own <= STEP_SHARE * least + _NOISE


def _is_usual(column: Column, at: int) -> bool:
    """Tell whether the column has such steps elsewhere, as one that was rounded twice has."""
    others = [step for number, step in enumerate(column.slopes) if number != at]
    sign = 1 if median(others) >= 0 else -1
    own, middle = sign * column.slopes[at], sign * median(others)
    if own > middle:
        return own <= max(sign * step for step in others) + column.grid + _NOISE
    return middle - own <= column.grid + _NOISE


def _lasting(column: Column, girths: Mapping[str, Column]) -> Iterator[int]:
    """Where a girth changes its steps for good, and neither of the two others does."""
    for at in range(2, len(column.slopes) - 1):
        turn = _turn(column, column.sizes[at])
        if turn is None or 1 / LASTING_RATIO < turn < LASTING_RATIO:
            continue
        steps = column.slopes
        if abs(steps[at] - steps[at - 1]) <= column.grid + _NOISE:
            continue
        others = [
            _turn(other, column.sizes[at]) for name, other in girths.items() if name != column.name
        ]
        if all(each is not None and 1 / _TOGETHER <= each <= _TOGETHER for each in others):
            yield at


def _turn(column: Column, size: int) -> float | None:
    """By how many times the steps after a size are those before it; None if they are uneven."""
    if size not in column.sizes:
        return None
    at, steps = column.sizes.index(size), column.slopes
    if not 2 <= at <= len(steps) - 2:
        return None
    before, after = steps[at - 2 : at], steps[at : at + 2]
    if min(*before, *after) <= 0:
        return None
    if max(before) > _ALIKE * min(before) or max(after) > _ALIKE * min(after):
        return None
    return sum(after) / sum(before)


def _step_finding(chart: SizeChart, column: Column, at: int, usual: str) -> Finding:
    before, after = (chart.names[column.sizes[each]] for each in (at, at + 1))
    step = column.shown(column.values[at + 1] - column.values[at], is_step=True)
    return Finding(
        code="CHART-STEP",
        severity=Severity.WARNING,
        message=f"From size {before} to {after} the {column.label} changes by {step}; the steps "
        f"beside it are {usual}."
        if "before" not in usual
        else f"From size {before} on the {column.label} changes by {step}: {usual}.",
        remedy=f"Compare the {column.label} of all sizes from {after} on with your figures; if "
        "they are meant so, nothing needs doing.",
        size=after,
        measured=f"step {step}",
        allowed=f"steps beside it {usual}",
    )


# Falls --------------------------------------------------------------------------------------------


def _falls(chart: SizeChart, column: Column, stepped: set[int]) -> Iterator[Finding]:
    """Where a column goes back: a girth that shrinks, or a length against its own trend."""
    steps = [after - before for before, after in pairwise(column.values)]
    along, against = sum(max(step, 0) for step in steps), -sum(min(step, 0) for step in steps)
    is_girth = column.name.endswith("_girth")
    if is_girth or along > 3 * against:
        falls = [(step, at) for at, step in enumerate(steps) if -step > max(FALL_MM, column.grid)]
    elif against > 3 * along:
        falls = [(-step, at) for at, step in enumerate(steps) if step > max(FALL_MM, column.grid)]
    else:
        return
    falls = [(step, at) for step, at in falls if at not in stepped]
    if not falls:
        return
    _, at = min(falls)
    before, after = (chart.names[column.sizes[each]] for each in (at, at + 1))
    step = column.values[at + 1] - column.values[at]
    more = f" It does so at {len(falls)} sizes." if len(falls) > 1 else ""
    goes = "shrinks" if step < 0 else "grows"
    against_what = "though the sizes get larger" if is_girth else "against all other sizes"
    yield Finding(
        code="CHART-FALL",
        severity=Severity.WARNING,
        message=f"From size {before} to {after} the {column.label} {goes} from "
        f"{column.shown(column.values[at])} to {column.shown(column.values[at + 1])}, "
        f"{against_what}.{more}",
        remedy=f"Compare the {column.label} of sizes {before} and {after} with your figures.",
        size=after,
        measured=f"step {column.shown(step, is_step=True)}",
        allowed="no less than the size before" if step < 0 else "no more than the size before",
    )
