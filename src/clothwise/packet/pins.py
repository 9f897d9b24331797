"""Pins copies of a make where they lie now, so that the rest is packed around them from then on."""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.cutting.layout import flap_of
from clothwise.cutting.pinning import pin_of, pinned
from clothwise.errors import Misuse, did_you_mean
from clothwise.packet.making import ClothPlan, Making
from clothwise.pattern.document import PinEntry

__all__ = ["pins_where_they_lie"]


def pins_where_they_lie(
    making: Making, cloths: Sequence[ClothPlan], names: Sequence[str]
) -> dict[str, PinEntry]:
    """Return what a make says to keep copies where they lie.

    Args:
        making: the make.
        cloths: its layouts.
        names: of copies, as `piece/copy`, or of pieces for all their copies.

    Raises:
        Misuse: nothing of that name is laid.
        CuttingError: a copy that has no fixed place, since it is cut once from doubled cloth.
    """
    found: dict[str, PinEntry] = {}
    for cloth in cloths:
        items = {item.id: item for item in cloth.items}
        own: dict[str, PinEntry] = {}
        for section in cloth.layout.sections:
            flap_mm = flap_of(section, cloth.layout)
            for placement in section.placements:
                if any(_means(name, copy) for name in names for copy in placement.item_ids):
                    own[placement.item_ids[0]] = pin_of(placement, items, flap_mm)
        pinned(own, cloth.items, cloth.layout.fabric, cloth.layout.plan, cloth.layout.spacing)
        found |= own
    laid = [copy for cloth in cloths for copy in cloth.copies]
    for name in names:
        if not any(_means(name, copy) for copy in laid):
            known = [*dict.fromkeys((*making.pattern.pieces, *laid))]
            raise Misuse(
                f"nothing called {name[:60]!r} is cut",
                where=making.title,
                what_to_do=did_you_mean(name, known, of_what="pieces and copies"),
            )
    return found


def _means(name: str, copy: str) -> bool:
    return name in (copy, copy.rpartition("/")[0])
