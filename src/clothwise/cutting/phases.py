"""Places in a repeat that hang together: which follow from others, and which may be chosen.

A phase is a place in a repeat as a share of it, so that all sums are made modulo one. Each tie
says of two phases `b = sign * a + offset`: a sign of minus one for two layers of folded cloth,
whose patterns mirror each other. Everything that ties connect follows from one phase, its root.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass, replace

__all__ = ["Phases", "Root", "off_by"]


@dataclass(frozen=True, slots=True)
class Root:
    """The phase from which others follow, and what it may be.

    Attributes:
        key: the first of those that hang together.
        places: what it may be, 0 to 1; empty for anything.
    """

    key: Hashable
    places: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class _Follows:
    root: Hashable
    sign: int
    offset: float


class Phases:
    """Phases and the ties between them.

    Args:
        tolerance: by how much of the repeat a phase may miss what a further tie asks of it.
    """

    def __init__(self, tolerance: float) -> None:
        self._tolerance = tolerance
        self._follows: dict[Hashable, _Follows] = {}
        self._roots: dict[Hashable, Root] = {}

    def tie(self, one: Hashable, other: Hashable, *, sign: int = 1, offset: float = 0.0) -> float:
        """Make `other = sign * one + offset` hold; return by how much of the repeat it cannot.

        Zero if it holds now. Otherwise nothing is changed.
        """
        a, b = self._at(one), self._at(other)
        # other = b.sign * B + b.offset = sign * (a.sign * A + a.offset) + offset
        constant = sign * a.offset + offset - b.offset
        if a.root != b.root:
            return self._join(a.root, b.root, b.sign * sign * a.sign, b.sign * constant)
        if sign * a.sign == b.sign:
            misses = abs(off_by(constant, 0.0))
            return 0.0 if misses <= self._tolerance else misses
        return self._limit(a.root, _halves(b.sign * constant))

    def fix(self, key: Hashable, phase: float) -> float:
        """Make a phase known; return by how much of the repeat it misses what is known already."""
        at = self._at(key)
        return self._limit(at.root, ((at.sign * (phase - at.offset)) % 1.0,))

    def make_even(self, key: Hashable) -> float:
        """Make a phase 0 or a half; return by how much of the repeat it can be neither."""
        at = self._at(key)
        return self._limit(at.root, _halves(-2 * at.sign * at.offset))

    def __contains__(self, key: Hashable) -> bool:
        return key in self._follows

    def roots(self) -> tuple[Root, ...]:
        """What must be chosen, or is known, in order of mention."""
        return tuple(self._roots.values())

    def phase(self, key: Hashable, chosen: Mapping[Hashable, float]) -> float:
        """Return a phase, 0 to 1, when roots are chosen; one that may be nothing else needs not.

        Raises:
            KeyError: it is tied to nothing, or its root is neither known nor chosen.
        """
        at = self._follows[key]
        root = self._roots[at.root]
        known = root.places[0] if len(root.places) == 1 else chosen[at.root]
        return (at.sign * known + at.offset) % 1.0

    def _at(self, key: Hashable) -> _Follows:
        if key not in self._follows:
            self._follows[key] = _Follows(key, 1, 0.0)
            self._roots[key] = Root(key)
        return self._follows[key]

    def _join(self, stays: Hashable, goes: Hashable, sign: int, offset: float) -> float:
        """Let one root follow from another: `goes = sign * stays + offset`."""
        places = tuple((sign * (place - offset)) % 1.0 for place in self._roots[goes].places)
        misses = self._limit(stays, places) if places else 0.0
        if misses:
            return misses
        del self._roots[goes]
        for key, at in self._follows.items():
            if at.root == goes:
                self._follows[key] = _Follows(stays, at.sign * sign, at.sign * offset + at.offset)
        return 0.0

    def _limit(self, root: Hashable, places: tuple[float, ...]) -> float:
        """Let a root be one of some places only; those that it may be already stay as they are."""
        known = self._roots[root].places
        if not known:
            self._roots[root] = replace(self._roots[root], places=places)
            return 0.0
        misses = {place: min(abs(off_by(place, other)) for other in places) for place in known}
        left = tuple(place for place in known if misses[place] <= self._tolerance)
        if not left:
            return min(misses.values())
        self._roots[root] = replace(self._roots[root], places=left)
        return 0.0


def off_by(phase: float, wanted: float) -> float:
    """Return by how much one phase is beyond another, the nearer way: -0.5 to 0.5.

    >>> round(off_by(0.95, 0.05), 2)
    -0.1
    """
    return (phase - wanted + 0.5) % 1.0 - 0.5


def _halves(twice: float) -> tuple[float, float]:
    """Return both phases of which twice is this one."""
    return (twice / 2) % 1.0, (twice / 2 + 0.5) % 1.0
