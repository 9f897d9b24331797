"""The order of work: a sequence of operations in which everything comes after what it needs."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import groupby

from clothwise.pattern.operation import Operation, Station
from clothwise.pattern.pattern import Pattern
from clothwise.work.errors import CircularOrder
from clothwise.work.precedence import Precedence, precedences


class OrderMode(Enum):
    """What the sequence is good for.

    `TEACHING` finishes one component after the other, in the order of the design; `BATCHED`
    changes the place of work as seldom as can be.
    """

    TEACHING = "teaching"
    BATCHED = "batched"


@dataclass(frozen=True)
class OrderOfWork:
    """Operations in sequence, what they had to obey, and what was given up for it.

    `dropped` holds soft precedences that contradict the others.
    """

    mode: OrderMode
    operations: tuple[Operation, ...]
    precedences: tuple[Precedence, ...]
    dropped: tuple[Precedence, ...] = ()

    def reasons_for(self, operation: str) -> tuple[Precedence, ...]:
        """What had to come before an operation, and why."""
        return tuple(one for one in self.precedences if one.then == operation)

    @property
    def batches(self) -> tuple[tuple[Station, tuple[Operation, ...]], ...]:
        """Operations one after the other at the same station."""
        groups = groupby(self.operations, key=lambda operation: operation.station)
        return tuple((station, tuple(some)) for station, some in groups)


def plan(pattern: Pattern, mode: OrderMode = OrderMode.TEACHING) -> OrderOfWork:
    """The order of work of a pattern.

    Raises:
        CircularOrder: operations wait for each other; the error names the circle with its reasons.
        WorkError: something is sewn never or twice, or an operation names what does not exist.
    """
    return ordered(pattern.operations, precedences(pattern), mode)


def ordered(
    operations: Sequence[Operation],
    demands: Iterable[Precedence],
    mode: OrderMode = OrderMode.TEACHING,
) -> OrderOfWork:
    """A sequence of `operations` that keeps every hard precedence, and soft ones where it can.

    `operations` come in the order of the design. Soft precedences are taken on in their order;
    one that would close a circle is dropped.

    Raises:
        CircularOrder: the hard precedences contradict each other.
    """
    kept, dropped = _without_circles(list(demands))
    before: dict[str, set[str]] = {operation.name: set() for operation in operations}
    for one in kept:
        before[one.then].add(one.first)
    choose = _Teaching(operations, before) if mode is OrderMode.TEACHING else None
    sequence = choose.sequence() if choose else _batched(operations, before)
    return OrderOfWork(mode, sequence, tuple(kept), tuple(dropped))


def _without_circles(
    demands: list[Precedence],
) -> tuple[list[Precedence], list[Precedence]]:
    """The precedences that can be kept together, and the soft ones that cannot."""
    after: dict[str, list[Precedence]] = {}
    kept: list[Precedence] = []
    dropped: list[Precedence] = []
    for one in sorted(demands, key=lambda demand: demand.is_soft):
        back = _way(after, one.then, one.first)
        if back is None:
            after.setdefault(one.first, []).append(one)
            kept.append(one)
        elif one.is_soft:
            dropped.append(one)
        else:
            raise CircularOrder([one, *back])
    return kept, dropped


def _way(after: Mapping[str, list[Precedence]], start: str, goal: str) -> list[Precedence] | None:
    """The shortest chain of precedences from one operation to another, if there is one."""
    if start == goal:
        return []
    came: dict[str, Precedence] = {}
    queue = deque([start])
    while queue:
        here = queue.popleft()
        for step in after.get(here, ()):
            if step.then in came or step.then == start:
                continue
            came[step.then] = step
            if step.then == goal:
                chain = [step]
                while chain[0].first != start:
                    chain.insert(0, came[chain[0].first])
                return chain
            queue.append(step.then)
    return None


class _Teaching:
    """Component after component, with a detour only where the next step needs one.

    A component is begun when its turn comes in the design, or earlier if an other one waits for
    it. What can be made as a whole before a component is begun is made then, so that its own
    steps stay together.
    """

    def __init__(self, operations: Sequence[Operation], before: Mapping[str, set[str]]) -> None:
        self._all = {operation.name: operation for operation in operations}
        self._before = before
        self._parts: dict[str, list[str]] = {}
        for operation in operations:
            self._parts.setdefault(operation.component, []).append(operation.name)
        self._done: dict[str, None] = {}

    def sequence(self) -> tuple[Operation, ...]:
        for part in self._parts:
            self._finish(part)
        return tuple(self._all[name] for name in self._done)

    def _finish(self, part: str) -> None:
        """Do all that is left of a component, and what it needs."""
        self._make_whole_parts_for(part)
        while left := [name for name in self._parts[part] if name not in self._done]:
            ready = next((name for name in left if self._is_ready(name)), None)
            if ready is not None:
                self._done[ready] = None
            else:
                self._detour(left[0])

    def _detour(self, name: str) -> None:
        """Do one step that `name` waits for and, if possible, stay with its component."""
        missing = [one for one in self._all if one in self._before[name] and one not in self._done]
        ready = next((one for one in missing if self._is_ready(one)), None)
        if ready is None:
            self._detour(missing[0])
            return
        self._done[ready] = None
        part = self._all[ready].component
        wanted = self._all_before(name)
        for one in self._parts[part]:
            if one in wanted and self._is_ready(one):
                self._done[one] = None

    def _make_whole_parts_for(self, part: str) -> None:
        waits_for = {
            self._all[one].component for name in self._parts[part] for one in self._all_before(name)
        }
        for other in self._parts:
            if other != part and other in waits_for and self._stands_alone(other):
                self._finish(other)

    def _stands_alone(self, part: str) -> bool:
        """True if the rest of a component needs nothing but itself and what is done."""
        own = set(self._parts[part])
        if own <= self._done.keys():
            return False
        return all(one in own for name in own for one in self._all_before(name))

    def _all_before(self, name: str) -> set[str]:
        """Everything not yet done that an operation waits for, directly or not."""
        found: set[str] = set()
        stack = [name]
        while stack:
            for one in self._before[stack.pop()]:
                if one not in found and one not in self._done:
                    found.add(one)
                    stack.append(one)
        return found

    def _is_ready(self, name: str) -> bool:
        return name not in self._done and self._before[name] <= self._done.keys()


def _batched(
    operations: Sequence[Operation], before: Mapping[str, set[str]]
) -> tuple[Operation, ...]:
    """The sequence with the fewest changes of station.

    At a station everything that can be done there is done: putting something off never helps. So
    only the sequence of stations is searched, breadth first; of two states after equally many
    changes, one whose work is all contained in the other's is passed over.
    """
    everything = frozenset(before)
    stations = list(dict.fromkeys(operation.station for operation in operations))
    states: list[tuple[frozenset[str], tuple[Operation, ...]]] = [(frozenset(), ())]
    while not any(done == everything for done, _ in states):
        following: list[tuple[frozenset[str], tuple[Operation, ...]]] = []
        for done, sequence in states:
            for station in stations:
                more = _all_at(station, operations, before, done)
                if more:
                    grown = done | {operation.name for operation in more}
                    following.append((grown, (*sequence, *more)))
        states = _largest(following)
    return next(sequence for done, sequence in states if done == everything)


def _all_at(
    station: Station,
    operations: Sequence[Operation],
    before: Mapping[str, set[str]],
    done: frozenset[str],
) -> tuple[Operation, ...]:
    """All that can be done without leaving a station, staying with a component while possible."""
    finished = set(done)
    found: list[Operation] = []
    while True:
        ready = [
            operation
            for operation in operations
            if operation.station is station
            and operation.name not in finished
            and before[operation.name] <= finished
        ]
        if not ready:
            return tuple(found)
        part = found[-1].component if found else ""
        following = next((one for one in ready if one.component == part), ready[0])
        finished.add(following.name)
        found.append(following)


def _largest(
    states: list[tuple[frozenset[str], tuple[Operation, ...]]],
) -> list[tuple[frozenset[str], tuple[Operation, ...]]]:
    kept: list[tuple[frozenset[str], tuple[Operation, ...]]] = []
    for done, sequence in sorted(states, key=lambda state: -len(state[0])):
        if not any(done <= other for other, _ in kept):
            kept.append((done, sequence))
    return kept
