"""Sewing sessions: the steps shared out over sittings of a wanted length."""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.errors import Misuse
from clothwise.pattern.operation import Station
from clothwise.work.steps import Step

USUAL_SESSION_MIN = 90.0
"""A sitting, if nothing else is asked; our own choice."""

SPLIT_COST = 20.0**2
"""How much it costs to stop within a component, against idle minutes squared; our own choice."""


@dataclass(frozen=True)
class Session:
    """Steps done in one sitting. A step longer than a sitting stands alone and is spread."""

    number: int
    steps: tuple[Step, ...]
    limit_min: float

    @property
    def minutes(self) -> float:
        """What its steps take."""
        return sum(step.minutes for step in self.steps)

    @property
    def wait(self) -> str:
        """What must pass before it, in words: `hang it for a day or two`; mostly nothing."""
        return self.steps[0].operation.wait

    @property
    def sittings(self) -> int:
        """How often one has to sit down for it: more than once only for one long step."""
        return max(1, math.ceil(self.minutes / self.limit_min - 1e-9))

    @property
    def stations(self) -> tuple[Station, ...]:
        """What has to be set up, in order of use."""
        return tuple(dict.fromkeys(step.station for step in self.steps))


def sessions(some: tuple[Step, ...], limit_min: float = USUAL_SESSION_MIN) -> tuple[Session, ...]:
    """The steps in order, shared out over as few sessions as possible.

    Among equally few, sessions are about equally long and rather end where a component ends. A
    step that has to wait begins a session: nobody sits at the machine meanwhile.

    Raises:
        Misuse: the limit is not positive.
    """
    if not limit_min > 0:
        raise Misuse(
            "a session needs some time",
            how_much=f"{limit_min:g} minutes",
            what_to_do="Give a number of minutes above 0.",
        )
    starts = _starts(some, limit_min)
    ends = (*starts[1:], len(some)) if some else ()
    return tuple(
        Session(number, some[start:end], limit_min)
        for number, (start, end) in enumerate(zip(starts, ends, strict=True), start=1)
    )


def _starts(some: tuple[Step, ...], limit_min: float) -> list[int]:
    """Where sessions begin: shortest way through the places to stop at."""
    best: list[tuple[int, float, list[int]]] = [(0, 0.0, [])]
    for end in range(1, len(some) + 1):
        options = []
        minutes = 0.0
        for start in range(end - 1, -1, -1):
            minutes += some[start].minutes
            if minutes > limit_min + 1e-9 and start < end - 1:
                break
            count, cost, starts = best[start]
            idle = max(limit_min - minutes, 0.0) ** 2
            splits = start > 0 and some[start].component == some[start - 1].component
            options.append(
                (count + 1, cost + idle + (SPLIT_COST if splits else 0.0), [*starts, start])
            )
            if some[start].operation.wait:
                break
        best.append(min(options))
    return best[-1][2]
