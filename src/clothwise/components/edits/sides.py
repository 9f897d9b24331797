"""Left and right made to differ."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.edits.edit import Edit, Editing
from clothwise.components.edits.places import piece_named
from clothwise.components.parameter import text
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.siding import unpaired


@dataclass(frozen=True)
class Asymmetric(Edit):
    """Makes a left and a right piece of pairs, so that later edits may change one side only.

    Take the edit out to make them a pair again.
    """

    kind: ClassVar[str] = "asymmetric"
    comes_last: ClassVar[bool] = True

    pieces: str = text("", "The pieces, with commas between them.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Part left from right."""
        for name in self.concerns:
            piece_named(pattern, name)
        return unpaired(pattern, self.concerns)
