"""The steps a person reads: operations in order, worded and numbered."""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.pattern.operation import Caution, Operation, Station
from clothwise.pattern.pattern import Pattern, pieces_of
from clothwise.units import LengthUnit
from clothwise.work.cautions import cautions_of
from clothwise.work.order import OrderOfWork
from clothwise.work.wording import worded


@dataclass(frozen=True)
class Step:
    """One step: what to do, where, with which pieces, and what to mind.

    `pieces` are names of pieces, the ones worked on first. `reasons` tell why it comes no
    earlier. `cautions` are all there are, those of its station too. `operation` is what it was
    made of.
    """

    number: int
    title: str
    text: str
    station: Station
    minutes: float
    cautions: tuple[Caution, ...]
    pieces: tuple[str, ...]
    reasons: tuple[str, ...]
    component: str
    operation: Operation


def steps(
    pattern: Pattern, order: OrderOfWork, unit: LengthUnit = LengthUnit.CENTIMETER
) -> tuple[Step, ...]:
    """The steps of an order of work, numbered from 1, in the reader's unit.

    Raises:
        UnknownPlaceholder: a wording asks for a value that there is not.
    """
    return tuple(
        Step(
            number=number,
            title=operation.title,
            text=worded(pattern, operation, unit),
            station=operation.station,
            minutes=operation.minutes,
            cautions=cautions_of((operation,)),
            pieces=pieces_worked_on(pattern, operation),
            reasons=tuple(dict.fromkeys(one.reason for one in order.reasons_for(operation.name))),
            component=operation.component,
            operation=operation,
        )
        for number, operation in enumerate(order.operations, start=1)
    )


def pieces_worked_on(pattern: Pattern, operation: Operation) -> tuple[str, ...]:
    """Names of the pieces an operation works on, prepares or shows, each once."""
    uses = [pattern.use(name) for name in operation.does]
    worked = [name for use in uses for name in pattern.pieces if name in pieces_of(use)]
    named = [name.partition(".")[0] for name in (*operation.prepares, *operation.shows)]
    return tuple(dict.fromkeys((*worked, *named)))


def total_minutes(some: tuple[Step, ...]) -> float:
    """What the steps take together, by the components' estimates."""
    return sum(step.minutes for step in some)


def spoken_minutes(minutes: float) -> str:
    """A duration as people say it, rounded up to five minutes above ten.

    >>> spoken_minutes(8), spoken_minutes(62), spoken_minutes(118)
    ('8 min', '1 h 5 min', '2 h')
    """
    whole = int(-(-minutes // 1))
    if whole > 10:
        whole = -(-whole // 5) * 5
    hours, rest = divmod(whole, 60)
    parts = ([f"{hours} h"] if hours else []) + ([f"{rest} min"] if rest or not hours else [])
    return " ".join(parts)
