"""What the cloth of a region lets the garment do: go round with less than the body measures.

A girth gives no more than the least stretchy cloth around it. Interfacing and lining count too:
fused or sewn in, they hold the cloth that they lie on. Cloth cut on the bias gives as well; that is
not counted.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from clothwise.checks.derived import Derived
from clothwise.pattern import Layer, Pattern, Run, Seam

LEAST_STRETCH = 0.15
"""Cloth that gives less counts as woven: so much do many wovens with a little elastic give, and
patterns for wovens are used for them (common practice, no source)."""

WORN_SHARE = 1 / 3
"""So much of its stretch a cloth may be drawn out while it is worn: cloth of 30 % goes round a body
10 % larger than itself. Our own choice (decision 0012)."""

PULLED_SHARE = 2 / 3
"""So much of its stretch a cloth gives for the moment in which it is pulled on: seams and hands
need the rest. Our own choice (decision 0012)."""

REACH_TOLERANCE_MM = 1.0
"""A layer that ends this near to the end of a run still covers it: layers are cut to their own
lengths, with some ease."""


@dataclass(frozen=True)
class RegionCloth:
    """The least stretchy cloth of a region: its fabric role, and how far it gives."""

    role: str
    stretch: float

    @property
    def is_stretch(self) -> bool:
        """Tell whether the cloth gives enough to be drafted for."""
        return self.stretch >= LEAST_STRETCH

    @property
    def words(self) -> str:
        """The cloth in a message: `woven cloth (main)`."""
        if not self.is_stretch:
            return f"woven cloth ({self.role})"
        return f"cloth that stretches by {self.stretch:.0%} ({self.role})"

    def worn_mm(self, girth_mm: float) -> float:
        """The largest girth that a garment of this girth goes round while it is worn."""
        return girth_mm * (1 + self._share(WORN_SHARE))

    def pulled_mm(self, girth_mm: float) -> float:
        """The largest girth over which it can be pulled."""
        return girth_mm * (1 + self._share(PULLED_SHARE))

    def least_worn_mm(self, body_mm: float) -> float:
        """The least girth of a garment that goes round this body while it is worn."""
        return body_mm / (1 + self._share(WORN_SHARE))

    def least_pulled_mm(self, body_mm: float) -> float:
        """The least girth of a garment that can be pulled over this."""
        return body_mm / (1 + self._share(PULLED_SHARE))

    def _share(self, used: float) -> float:
        return used * self.stretch if self.is_stretch else 0.0


def cloth_of(pattern: Pattern, pieces: Iterable[str]) -> RegionCloth:
    """The least stretchy cloth that any copy of these pieces is cut of."""
    roles = dict.fromkeys(
        copy.role for piece in pieces for copy in pattern.piece(piece).copies
    ) or {"main": None}
    least = min(roles, key=lambda role: pattern.stretch.get(role, 0.0))
    return RegionCloth(least, pattern.stretch.get(least, 0.0))


def cloth_along(derived: Derived, run: Run) -> RegionCloth:
    """The least stretchy cloth along a run: of its pieces and of all that is sewn to all of it.

    What covers a part of it only leaves the rest to stretch.
    """
    pieces = dict.fromkeys(run.pieces)
    for seam in derived.pattern.seams.values():
        reach = _reach(derived.pattern, seam, run)
        if reach is not None:
            covering = [layer for layer in seam.layers if _covers(layer, reach)]
            pieces |= dict.fromkeys(name for layer in covering for name in layer.run.pieces)
    return cloth_of(derived.pattern, pieces)


def _reach(pattern: Pattern, seam: Seam, run: Run) -> tuple[float, float] | None:
    """From where to where in a seam a run lies, mm; None if the seam does not take all of it."""
    own = {(edge.piece, edge.edge) for edge in run.edges}
    for layer in seam.layers:
        if layer.span is not None:
            continue
        ends, before = [], 0.0
        for edge in layer.run.edges:
            length = pattern.edge_length(edge)
            if (edge.piece, edge.edge) in own:
                ends += [(before, before + length)]
            before += length
        if len(ends) == len(own):
            return ends[0][0], ends[-1][1]
    return None


def _covers(layer: Layer, reach: tuple[float, float]) -> bool:
    start, end = layer.span or reach
    return start <= reach[0] + REACH_TOLERANCE_MM and end >= reach[1] - REACH_TOLERANCE_MM
