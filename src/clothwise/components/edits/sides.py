"""Left and right made to differ, and made alike again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.edits.edit import Edit, Editing
from clothwise.components.edits.places import piece_named
from clothwise.components.parameter import text
from clothwise.pattern.folding import folded
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.siding import unpaired
from clothwise.pattern.unfolding import on_the_fold, unfolded


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


@dataclass(frozen=True)
class Unfold(Edit):
    """Draws a piece that is cut on the fold out to both sides, so that one of them may be edited.

    Its edges, seams and hems are then there for the left and for the right, under their names
    with `-left` and `-right`. Of a pair that a straight seam joins at the center, the seam is
    closed. Edits of the piece that stand after this one wait for it.
    """

    kind: ClassVar[str] = "unfold"
    comes_last: ClassVar[bool] = True
    others_wait: ClassVar[bool] = True

    piece: str = text("", "The piece.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Draw the other half."""
        piece = piece_named(pattern, self.piece)
        if piece.fold_edge is None:
            pattern = on_the_fold(pattern, piece.name)
        return unfolded(pattern, piece.name)


@dataclass(frozen=True)
class Fold(Edit):
    """Puts a piece that was unfolded on the fold again, if both its sides are still equal."""

    kind: ClassVar[str] = "fold"
    comes_last: ClassVar[bool] = True

    piece: str = text("", "The piece.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Take the other half away."""
        return folded(pattern, piece_named(pattern, self.piece).name)
