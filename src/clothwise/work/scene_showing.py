"""What a picture of a step is set up from: the cloth as earlier steps left it, and the step."""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.pattern.operation import Operation
from clothwise.pattern.pattern import Pattern
from clothwise.work.cloth import Cloth

REACH_MM = 240.0
"""At least this much cloth is shown around the edges that are sewn; our own choice."""

SPARED_SHARE = 0.12
"""A piece that would lose less than this share of itself is shown whole; our own choice."""


@dataclass(frozen=True)
class Showing:
    """The cloth in its state before an operation, and the operation that is shown."""

    cloth: Cloth
    operation: Operation

    @property
    def pattern(self) -> Pattern:
        """The pattern of the cloth."""
        return self.cloth.pattern
