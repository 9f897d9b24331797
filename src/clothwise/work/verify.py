"""An order of work checked again, by sewing it: nothing the planner computed is believed.

The corners of the pieces start apart. Step by step, each seam joins the corners its layers start
at and those they end at. A step can be done only if every run it works on is in one piece by then.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from enum import Enum

from clothwise.pattern.graph import EdgeRef, Run, Seam
from clothwise.pattern.junctions import Corner, end_corner, start_corner
from clothwise.pattern.operation import Operation
from clothwise.pattern.pattern import Pattern, Use, runs_of
from clothwise.work.order import OrderOfWork
from clothwise.work.precedence import precedences


class OrderFaultCode(Enum):
    """What is wrong with an order of work."""

    OPERATION_COUNT = "operation missing, foreign or twice"
    USE_COUNT = "seam, finish or placement done never or twice"
    RUN_IN_PARTS = "run not yet joined"
    PRECEDENCE = "precedence broken"


@dataclass(frozen=True)
class OrderFault:
    """One fault: its code, the operation or seam concerned, and a sentence."""

    code: OrderFaultCode
    name: str
    message: str


def verify(pattern: Pattern, order: OrderOfWork) -> tuple[OrderFault, ...]:
    """All faults of an order of work; none if it can be sewn as it stands.

    Soft precedences count as broken only if the order does not own up to having dropped them.
    """
    return (*_counts(pattern, order), *_sewn(pattern, order), *_precedences(pattern, order))


def _counts(pattern: Pattern, order: OrderOfWork) -> list[OrderFault]:
    asked = Counter(operation.name for operation in pattern.operations)
    given = Counter(operation.name for operation in order.operations)
    faults = [
        OrderFault(
            OrderFaultCode.OPERATION_COUNT,
            name,
            f"{name} is there {given[name]} times, not {asked[name]}.",
        )
        for name in sorted(asked.keys() | given.keys())
        if asked[name] != given[name]
    ]
    done = Counter(name for operation in order.operations for name in operation.does)
    names = {use.name for use in pattern.all_uses()}
    faults += [
        OrderFault(OrderFaultCode.USE_COUNT, name, f"{name} is sewn {done[name]} times, not once.")
        for name in sorted(names | done.keys())
        if done[name] != 1 or name not in names
    ]
    return faults


class _Corners:
    """Which corners have been brought together so far."""

    def __init__(self, parent: dict[Corner, Corner] | None = None) -> None:
        self._parent: dict[Corner, Corner] = dict(parent or {})

    def copy(self) -> _Corners:
        return _Corners(self._parent)

    def _root(self, corner: Corner) -> Corner:
        while (parent := self._parent.get(corner, corner)) != corner:
            corner = parent
        return corner

    def are_joined(self, first: Corner, second: Corner) -> bool:
        return self._root(first) == self._root(second)

    def join(self, first: Corner, second: Corner) -> None:
        self._parent[self._root(first)] = self._root(second)

    def sew(self, pattern: Pattern, seam: Seam) -> None:
        full = [layer.run.edges for layer in seam.layers if layer.span is None]
        for edges in full[1:]:
            self.join(start_corner(pattern, full[0][0]), start_corner(pattern, edges[0]))
            self.join(end_corner(pattern, full[0][-1]), end_corner(pattern, edges[-1]))


def _sewn(pattern: Pattern, order: OrderOfWork) -> list[OrderFault]:
    corners = _Corners()
    uses = {use.name: use for use in pattern.all_uses()}
    faults: list[OrderFault] = []
    for operation in order.operations:
        todo = [uses[name] for name in operation.does if name in uses]
        for use in todo:
            faults += _parted(pattern, corners, operation, use, todo)
        for use in todo:
            if isinstance(use, Seam):
                corners.sew(pattern, use)
    return faults


def _parted(
    pattern: Pattern, corners: _Corners, operation: Operation, use: Use, together: list[Use]
) -> list[OrderFault]:
    """Places where a run of `use` is not joined, unless a seam of the same operation joins them."""
    also = corners.copy()
    for other in together:
        if isinstance(other, Seam) and other is not use:
            also.sew(pattern, other)
    return [
        OrderFault(
            OrderFaultCode.RUN_IN_PARTS,
            operation.name,
            f"“{operation.title}” works on the {use.title}, but {before} and {after} are not "
            "joined yet.",
        )
        for run in runs_of(use)
        for before, after in _pairs(run)
        if not also.are_joined(end_corner(pattern, before), start_corner(pattern, after))
    ]


def _pairs(run: Run) -> list[tuple[EdgeRef, EdgeRef]]:
    pairs = list(zip(run.edges, run.edges[1:], strict=False))
    if run.closed:
        pairs.append((run.edges[-1], run.edges[0]))
    return pairs


def _precedences(pattern: Pattern, order: OrderOfWork) -> list[OrderFault]:
    place = {operation.name: number for number, operation in enumerate(order.operations)}
    return [
        OrderFault(
            OrderFaultCode.PRECEDENCE,
            one.then,
            f"{one.first} must come before {one.then}: {one.reason}.",
        )
        for one in precedences(pattern)
        if one not in order.dropped or not one.is_soft
        if one.first in place and one.then in place and place[one.first] > place[one.then]
    ]
