"""The darted bodice: open at center front with the back on the fold, or the other way round."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.bodices.bodice_block import BodiceBlock, Opening, form_of
from clothwise.components.bodices.bodice_pieces import back_piece, front_piece, neck_corners
from clothwise.components.bodices.bodice_seams import bodice_operations, bodice_runs, bodice_seams
from clothwise.components.bodices.neck_shape import NeckShape
from clothwise.components.bodices.waist_level import WaistLevel
from clothwise.components.component import Component, Drafting
from clothwise.components.family import Family
from clothwise.components.parameter import choice, length
from clothwise.components.wearers import WOMEN, Wearers
from clothwise.pattern.pattern import Contribution


@dataclass(frozen=True)
class DartedBodice(Component):
    """Bodice with bust and waist darts, open in front, at the back or whole; or a tunic."""

    kind: ClassVar[str] = "darted-bodice"
    family: ClassVar[Family] = Family.BODICE
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
    neckline: NeckShape = choice(NeckShape.ROUND, "Shape of the front neckline.")
    neck_widen_mm: float = length(
        0, 0, 60, "Neckline further out on each shoulder, of which 6 cm are always left."
    )
    back_neck_drop_mm: float = length(0, 0, 150, "How far the back neckline is lowered.")
    opening: Opening = choice(
        Opening.FRONT,
        "Where it opens: in front with a stand for buttons; at center back, edge to edge for a "
        "zip, hooks or a loop, or buttoned with a stand; or nowhere.",
    )
    back_opening_mm: float = length(
        0,
        0,
        600,
        "How far an opening at center back reaches down from the neck, with a seam below it; 0 is "
        "down to the waist seam and on into the skirt, or to the hip of a tunic.",
    )
    waist: WaistLevel = choice(WaistLevel.NATURAL, "Where the waist seam lies; none is a tunic.")
    waist_shift_mm: float = length(
        0, 0, 200, "Waist seam above or below the natural waist; 0 goes by the body."
    )
    tunic_length_mm: float = length(260, 120, 1000, "Waist to hem, if there is no waist seam.")
    flare_mm: float = length(
        0, 0, 150, "How far each side swings out; only with a dropped waist or none."
    )

    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft front and back and the seams between them."""
        block = BodiceBlock(form_of(self), drafting)
        front, back = front_piece(block), back_piece(block)
        return Contribution(
            pieces=(front, back),
            seams=bodice_seams(drafting, front, back, self.shoulder_ease_mm),
            runs=bodice_runs(front, back),
            operations=bodice_operations(drafting.name, front, back),
            intended_corners=neck_corners(block, front),
        )
