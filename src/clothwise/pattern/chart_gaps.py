"""What a size leaves out and other sizes of its chart give: reckoned from how those step.

The estimate goes with the bust. Between two sizes that give the measurement it lies on the line
between them; before the first and after the last it goes on by the line of the two nearest ones.
The formula, with b for the bust girth of a size and v for what it has of the measurement:

    v = v1 + (v2 - v1) * (b - b1) / (b2 - b1)

Source: linear interpolation, and extrapolation at the ends; that the bust is what it goes with is
our own choice. Where fewer than two sizes give a measurement it follows from the rest of the body,
by the published proportions of the vocabulary.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from clothwise.errors import MeasurementError
from clothwise.pattern.measurements import Body
from clothwise.pattern.vocabulary import MEASUREMENTS

__all__ = ["with_gaps_filled"]

_BUST = "bust_girth"
_FEWEST = 2
"""Sizes that must give a measurement before there is a step."""
_DECIMALS = 6
"""Of mm and radians: so that what lies on even steps reads as even."""


def with_gaps_filled(rows: Sequence[Body], groups: Sequence[str | None]) -> tuple[Body, ...]:
    """Return the rows, each with what it leaves out reckoned from the other rows of its group.

    What was measured stays. If an estimate does not go together with what was measured, the row
    keeps the estimates of the vocabulary.

    Args:
        rows: of a chart, in any order.
        groups: for each row those it is compared with, by any name; None for a row that is
            compared with none, such as a person.
    """
    return tuple(
        _filled(body, [each for each, other in zip(rows, groups, strict=True) if other == group])
        if group is not None
        else _by_itself(body)
        for body, group in zip(rows, groups, strict=True)
    )


def _filled(body: Body, group: Sequence[Body]) -> Body:
    given = body.given
    steps: dict[str, float] = {}
    for name in MEASUREMENTS:
        if name in given:
            continue
        others = [(each[_BUST], each[name]) for each in group if not each.is_estimated(name)]
        if len(others) >= _FEWEST:
            steps[name] = _on_line(sorted(others), body[_BUST])
    if not steps:
        return _by_itself(body)
    return _completed(body, steps) or _by_itself(body)


def _by_itself(body: Body) -> Body:
    """The body without what other sizes told."""
    if not any(body.is_of_chart(name) for name in body):
        return body
    return Body.complete(body.given, name=body.name)


def _completed(body: Body, steps: Mapping[str, float]) -> Body | None:
    try:
        return Body.complete(body.given, name=body.name, of_chart=steps)
    except MeasurementError:  # no person has both; without the steps it was possible
        return None


def _on_line(others: Sequence[tuple[float, float]], bust: float) -> float:
    """The value at a bust girth; `others` are at least two pairs of bust and value, rising."""
    after = next((at for at, (at_bust, _) in enumerate(others) if at_bust >= bust), len(others))
    first = min(max(after - 1, 0), len(others) - 2)
    (bust1, value1), (bust2, value2) = others[first], others[first + 1]
    if bust2 == bust1:
        return round((value1 + value2) / 2, _DECIMALS)
    return round(value1 + (value2 - value1) * (bust - bust1) / (bust2 - bust1), _DECIMALS)
