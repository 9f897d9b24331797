"""Words written on the face of a piece."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import ClassVar

from clothwise.components.edits.edit import Edit, Editing, cannot
from clothwise.components.edits.places import inside_of, piece_named
from clothwise.components.parameter import Along, along, choice, length, text
from clothwise.geometry import Vector, straight
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.pattern import Pattern

MOST_LETTERS = 60
"""Longer words are no label; our own choice."""

BASE_MM = 0.2
"""Length of the line that tells where the words stand and which way they run."""


class Direction(Enum):
    """Which way a text runs."""

    LEVEL = "level"
    ALONG_EDGE = "along the edge"


@dataclass(frozen=True)
class WriteText(Edit):
    """Writes words on the face of a piece, at a place seen from one of its edges.

    They are printed with their middle there, smaller than asked for where there is no room.
    """

    kind: ClassVar[str] = "text"
    comes_last: ClassVar[bool] = True

    piece: str = text("", "The piece.")
    words: str = text("", "What is written, at most 60 letters.")
    edge: str = text("", "The edge from which the place is seen.")
    at: Along = along(0.5, "Where along that edge.")
    inside_mm: float = length(30, 0, 500, "How far inside the edge.")
    size_mm: float = length(8, 3, 40, "How large: the size of the type.")
    runs: Direction = choice(Direction.LEVEL, "Whether the words run level or along the edge.")

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Add the words."""
        piece = piece_named(pattern, self.piece)
        words = " ".join(self.words.split())
        if len(words) > MOST_LETTERS:
            raise cannot(
                "the words are too long to be written on a piece",
                how_much=f"{len(words)} letters, at most {MOST_LETTERS}",
                what_to_do="Shorten them.",
            )
        place, direction = inside_of(piece, self.edge, self.at, self.inside_mm)
        if self.runs is Direction.LEVEL:
            direction = Vector(1.0, 0.0)
        half = direction.unit * (BASE_MM / 2)
        mark = Mark(
            MarkKind.TEXT, words, path=straight(place - half, place + half), size_mm=self.size_mm
        )
        written = replace(piece, marks=(*piece.marks, mark))
        return replace(pattern, pieces={**pattern.pieces, piece.name: written})
