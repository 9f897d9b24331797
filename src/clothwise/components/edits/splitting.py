"""Splitting a piece along a line, as for color blocking or a princess seam."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.edits.edit import Edit, Editing, cannot
from clothwise.components.edits.places import piece_named, place
from clothwise.components.parameter import Along, along, length, text, words
from clothwise.geometry import Path, Point, cubic_between, straight
from clothwise.pattern.pattern import Pattern
from clothwise.pattern.splitting import Split, split_piece

STEEPEST_BEND = 0.45
"""A line bends to the side by at most this share of the distance of its ends; our own choice."""


@dataclass(frozen=True)
class SplitPiece(Edit):
    """Splits a piece along a line from one place on its edges to another, and sews it up again.

    The parts keep their edges' names, so that everything sewn to them stays sewn. A line that ends
    at the point of a dart (name the dart instead of an edge) takes the dart into the new seam.
    """

    kind: ClassVar[str] = "split"
    comes_last: ClassVar[bool] = True

    piece: str = text("", "The piece that is split.")
    from_: str = text("", "The edge, or the dart at whose point, the line begins.")
    from_at: Along = along(0.5, "Where along that edge.")
    to: str = text("", "The edge, or the dart at whose point, the line ends.")
    to_at: Along = along(0.5, "Where along that edge.")
    bend_mm: float = length(
        0, -300, 300, "How far the line bends out to the left, as one goes along it."
    )
    left: str = words("Name of the part to the left of the line; made up if left out.")
    right: str = words("Name of the part to the right of the line; made up if left out.")
    left_title: str = words("How the part to the left is printed.")
    right_title: str = words("How the part to the right is printed.")
    left_role: str = words("Fabric role of the part to the left; as before if left out.")
    right_role: str = words("Fabric role of the part to the right; as before if left out.")
    title: str = words("How the new seam is printed.")
    allowance_mm: float = length(
        0, 0, 40, "Allowance of the new seam; the design's own if it is 0."
    )

    def apply(self, pattern: Pattern, editing: Editing) -> Pattern:
        """Split the piece."""
        piece = piece_named(pattern, self.piece)
        start = place(piece, self.from_, self.from_at)
        end = place(piece, self.to, self.to_at)
        left = self.left or f"{piece.name}-{editing.name}"
        right = self.right or piece.name
        roles = {left: self.left_role, right: self.right_role}
        return split_piece(
            pattern,
            Split(
                name=editing.name,
                piece=piece.name,
                line=bent_line(start, end, self.bend_mm),
                left=(left, self.left_title or self._part(piece.title, left, piece.name, editing)),
                right=(
                    right,
                    self.right_title or self._part(piece.title, right, piece.name, editing),
                ),
                title=self.title or f"{editing.name.replace('-', ' ')} seam",
                allowance_mm=self.allowance_mm or editing.seam_allowance_mm,
                roles={name: editing.role(role) for name, role in roles.items() if role},
            ),
        )

    def _part(self, title: str, name: str, of: str, editing: Editing) -> str:
        """How a part is printed if nobody says."""
        if name == of:
            return title
        return f"{title}, {name.removeprefix(f'{of}-').replace('-', ' ') or editing.name}"


def bent_line(start: Point, end: Point, bend_mm: float) -> Path:
    """A straight line, or one that bends out to its left by `bend_mm`.

    Raises:
        ComponentError: the ends are one place, or it would bend too far.
    """
    chord = end - start
    if chord.length < 1.0:
        raise cannot(
            "the line has no length: it ends where it begins",
            what_to_do="Give its ends different places.",
        )
    if abs(bend_mm) > STEEPEST_BEND * chord.length:
        raise cannot(
            "the line bends too far",
            how_much=f"{abs(bend_mm):.0f} mm to the side on {chord.length:.0f} mm, at most "
            f"{STEEPEST_BEND * chord.length:.0f} mm",
            what_to_do="Lower bend.",
        )
    if abs(bend_mm) < 0.05:
        return straight(start, end)
    # The chord of a circle and its height give half the angle that the circle turns by.
    half_turn = 2 * math.atan2(2 * bend_mm, chord.length)
    return cubic_between(start, chord.unit.turned(half_turn), end, chord.unit.turned(-half_turn))
