"""The darted bodice: front with a center-front opening, back on the fold."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.bodice_block import BodiceBlock, form_of
from clothwise.components.bodice_pieces import back_piece, front_piece
from clothwise.components.bodice_seams import bodice_operations, bodice_runs, bodice_seams
from clothwise.components.component import Component, Drafting
from clothwise.components.parameter import length
from clothwise.components.wearers import WOMEN, Wearers
from clothwise.pattern.pattern import Contribution


@dataclass(frozen=True)
class DartedBodice(Component):
    """Bodice with bust and waist darts, buttoned at center front."""

    kind: ClassVar[str] = "darted-bodice"
    drafted_for: ClassVar[Wearers | None] = WOMEN

    bust_ease_mm: float = length(80, -100, 250, "Room beyond the bust girth; less in stretch.")
    waist_ease_mm: float = length(50, -150, 250, "Room beyond the waist girth; less in stretch.")
    armhole_ease_mm: float = length(45, 20, 90, "How far the armhole lies below the armpit.")
    neck_ease_mm: float = length(6, 0, 60, "Neckline seam beyond the neck base girth.")
    front_neck_drop_mm: float = length(0, 0, 120, "How far the front neckline is lowered.")
    shoulder_ease_mm: float = length(6, 0, 12, "Back shoulder eased onto the front shoulder.")
    button_stand_mm: float = length(20, 10, 60, "From center front to the front edge.")
    bust_dart_drop_mm: float = length(55, 25, 110, "From the armhole down to the bust dart.")
    front_length_ease_mm: float = length(12, 0, 30, "Length added over the bust.")

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft front and back and the seams between them."""
        block = BodiceBlock(form_of(self), drafting)
        front, back = front_piece(block), back_piece(block)
        return Contribution(
            pieces=(front, back),
            seams=bodice_seams(drafting, front, back, self.shoulder_ease_mm),
            runs=bodice_runs(front, back),
            operations=bodice_operations(drafting.name, front, back),
        )
