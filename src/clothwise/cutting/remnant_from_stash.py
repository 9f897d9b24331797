"""From a remnant as a stash states it to the cloth that pieces are laid on."""

from __future__ import annotations

from clothwise.cutting.fabric import Fabric, Nap
from clothwise.cutting.remnant import Remnant, remnant
from clothwise.pattern.document.remnant_entry import RemnantEntry

__all__ = ["remnant_from"]

_ANY_WIDTH_MM = 1000.0  # taken from the outline in a moment


def remnant_from(entry: RemnantEntry) -> Remnant:
    """Return the remnant of an entry; it is called by its name, which is unique in a stash.

    Raises:
        CuttingError: a hole or flaw that is not on the cloth.
        UnitError: a text of the entry is no length.
        Misuse: a text of the entry is no share or no size.
    """
    cloth = Fabric(
        name=entry.name,
        nominal_width_mm=_ANY_WIDTH_MM,
        shrinkage_along=entry.shrinkage_along_share,
        shrinkage_across=entry.shrinkage_across_share,
        nap=Nap(entry.nap),
        fiber=entry.fiber,
        color=entry.color,
        pattern=entry.pattern,
        wrong_side_usable=entry.wrong_side_usable == "yes",
        grainless=entry.grainless == "yes",
        photo=entry.photo,
    )
    return remnant(
        cloth,
        entry.corners_mm,
        holes=[hole.corners_mm for hole in entry.holes],
        flaws=[flaw.corners_mm for flaw in entry.flaws],
    )
