"""The rounds of the guided search, compiled: what overlaps moves, then pairs weigh anew.

A look at one thing takes some ten millionths of a second: a round must not wait for an interpreter.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwise.cutting.placing.compiling import compiled
from clothwise.cutting.placing.kernels import Pairs, State, Ways, improved, next_random
from clothwise.cutting.placing.maps import Kept

__all__ = ["APART", "STUCK", "Least", "Rounds", "overlap_of", "rounds_of", "separated"]

Floats = NDArray[np.float32]
Doubles = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

APART, STUCK = -1, -2
"""How a separation ended, where it did not wait for pairs to be known."""

_HEAVIER, _HEAVIEST = 1.2, 2.0
"""A pair that overlaps becomes this much heavier, the deepest one the most. Measured."""
_LIGHTER = 0.95
"""A pair that does not overlap forgets by this factor."""
_BETTER = 0.98
"""An overlap that is smaller than the least so far by this factor is worth waiting on."""
_MOST_WEIGHT = 1e12  # far from what a float can hold, where things cannot be parted

_ANYWHERE = 2
"""In every second round all places are weighed; in the others those beside where things lie, which
costs little. Measured: half a percent shorter for the same work than all places in all rounds."""

_ROUND_CELLS = 60_000
"""What a round counts for beside its maps."""


class Least(NamedTuple):
    """Where everything lay with the least overlap of a separation; changed in place.

    Attributes:
        overlap: (1,), in cells.
        way: of each thing.
        at: (things, 2).
    """

    overlap: Doubles
    way: Ints
    at: Doubles


class Rounds(NamedTuple):
    """How far a separation has come; changed in place.

    Attributes:
        order: numbers of the things that move in this round, and then what stood there before.
        counts: (4,), how many they are, how many of them had their turn, rounds begun, and rounds
            since the overlap became clearly less.
    """

    order: Ints
    counts: Ints


def rounds_of(things: int) -> Rounds:
    """Return a separation that has not begun."""
    return Rounds(np.zeros(things, dtype=np.int64), np.zeros(4, dtype=np.int64))


@compiled
def separated(
    patience: int,
    work_left: int,
    is_fixed: Flags,
    state: State,
    ways: Ways,
    pairs: Pairs,
    kept: Kept,
    rounds: Rounds,
    least: Least,
) -> tuple[int, int]:
    """Move things, round after round, until nothing overlaps.

    Args:
        patience: so many rounds without a clearly smaller overlap are the end.
        work_left: that may be done, in cells added to maps.
        is_fixed: which things do not move.
        state, kept, rounds, least: changed in place.
        ways, pairs: as given.

    Returns:
        `APART`, `STUCK`, or the number of a thing whose pairs must be known before it can go on;
        how much work was done.
    """
    order, counts = rounds.order, rounds.counts
    work = 0
    while True:
        if counts[1] == counts[0]:
            if not state.depth.any():
                return APART, work
            if work >= work_left or counts[3] > patience:
                return STUCK, work
            counts[0], counts[1] = _shuffled(order, is_fixed, state), 0
            counts[2] += 1
        is_anywhere = counts[2] % _ANYWHERE == 0
        counts[1], added = improved(
            order[: counts[0]], counts[1], False, is_anywhere, state, ways, pairs, kept
        )
        work += added
        if counts[1] < counts[0]:
            return order[counts[1]], work
        _weigh(state)
        work += _ROUND_CELLS
        counts[3] += 1
        overlap = overlap_of(state.depth)
        if overlap < least.overlap[0] * _BETTER:
            least.overlap[0], counts[3] = overlap, 0
            least.way[:], least.at[:] = state.way, state.at


@compiled
def overlap_of(depth: Floats) -> float:
    """Return the depths of all pairs, in cells, unweighted."""
    total = 0.0
    for one in range(depth.shape[0]):
        for other in range(one):
            total += depth[one, other]
    return total


@compiled
def _shuffled(order: Ints, is_fixed: Flags, state: State) -> int:
    """Write down what overlaps and may move, in an order of chance; return how many."""
    count = 0
    for number in range(is_fixed.shape[0]):
        if not is_fixed[number] and state.depth[number].any():
            order[count] = number
            count += 1
    for k in range(count - 1, 0, -1):
        other = int(next_random(state.chance) * (k + 1))
        order[k], order[other] = order[other], order[k]
    return count


@compiled
def _weigh(state: State) -> None:
    """Let pairs that overlap weigh more, and others forget."""
    deepest = np.float32(0.0)
    for number in range(state.depth.shape[0]):
        deepest = max(deepest, state.depth[number].max())
    if deepest <= 0:
        return
    more = (_HEAVIEST - _HEAVIER) / deepest
    for one in range(state.depth.shape[0]):
        for other in range(state.depth.shape[1]):
            depth = state.depth[one, other]
            factor = _HEAVIER + more * depth if depth > 0 else _LIGHTER
            weight = state.weights[one, other] * factor
            state.weights[one, other] = min(max(weight, 1.0), _MOST_WEIGHT)
