"""Smooth bumps on random curves of sound patterns: how many of them the checks tell of."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from checks.mutations import bumped, path_changed
from clothwise.checks import Derived
from clothwise.checks.fairness import is_straight, unfair_lines
from clothwise.pattern import Pattern
from work.real_designs import half_circle_skirt, long_dress, tunic

NARROWEST_MM, WIDEST_MM = 25.0, 80.0
"""Narrower than that it is a spike, wider it is another shape."""

CLEAR_OF_ENDS_MM = 2.0


@dataclass(frozen=True)
class RandomBump:
    """A pattern with a bump on one of its edges."""

    pattern: Pattern
    piece: str
    edge: str
    width_mm: float
    height_mm: float

    @property
    def is_told(self) -> bool:
        """True if a finding about curves names the edge."""
        return any(
            (found.piece, found.edge) == (self.piece, self.edge)
            for found in unfair_lines(Derived(self.pattern))
        )


def random_bump(seed: int, number: int, height_mm: float) -> RandomBump:
    """The bump of this seed and number: on any edge that is curved, inward or outward."""
    dice = Random(f"{seed} {number}")
    while True:
        pattern = dice.choice((long_dress(), tunic(), half_circle_skirt()))
        piece = dice.choice(sorted(pattern.pieces))
        edge = dice.choice(pattern.piece(piece).edge_names)
        path = pattern.piece(piece).edge(edge)
        width = dice.uniform(NARROWEST_MM, WIDEST_MM)
        room = path.length - width - 2 * CLEAR_OF_ENDS_MM
        if is_straight(path) or room <= 0:
            continue
        start = CLEAR_OF_ENDS_MM + dice.uniform(0, room)
        height = dice.choice((-1, 1)) * height_mm
        shape = bumped(path, start, width, height)
        changed = path_changed(pattern, piece, edge, lambda _, shape=shape: shape)
        return RandomBump(changed, piece, edge, width, height)
