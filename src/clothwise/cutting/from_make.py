"""From a fabric as a make states it to the cloth that pieces are laid on."""

from __future__ import annotations

from clothwise.cutting.fabric import NOT_STATED, Fabric, Nap, SoldBy
from clothwise.cutting.layout import LayerPlan, Spacing
from clothwise.cutting.method import CuttingMethod, spacing_for
from clothwise.cutting.repeat import Repeat
from clothwise.pattern.document.cutting_entry import CuttingEntry
from clothwise.pattern.document.fabric_entry import FabricEntry

__all__ = ["fabric_from", "method_from", "plan_from", "spacing_from"]


def fabric_from(entry: FabricEntry) -> Fabric:
    """Return the cloth of an entry; it is called by its title, if it has one.

    Raises:
        CuttingError: a width that leaves nothing usable.
        UnitError: a text of the entry is no length.
        Misuse: a text of the entry is no share or price.
    """
    price = entry.stated_price
    usable_mm = entry.usable_width_mm
    by_the_yard = entry.price.rstrip().endswith("yd")
    return Fabric(
        name=entry.title or entry.name,
        nominal_width_mm=entry.width_mm,
        usable_width_mm=NOT_STATED if usable_mm is None else usable_mm,
        shrinkage_along=entry.shrinkage_along_share,
        shrinkage_across=entry.shrinkage_across_share,
        nap=Nap(entry.nap),
        price_per_meter=price.per_meter if price else None,
        currency=price.currency if price else "",
        fiber=entry.fiber,
        color=entry.color,
        pattern=entry.pattern,
        sold_by=SoldBy.YARD if by_the_yard else SoldBy.METER,
        length_mm=entry.length_mm,
        repeat=Repeat(
            entry.repeat.along_mm,
            entry.repeat.across_mm,
            entry.repeat.start_along_mm,
            entry.repeat.start_across_mm,
            entry.repeat.border_mm,
        ),
        thickness_mm=entry.thickness_mm,
        wrong_side_usable=entry.wrong_side_usable == "yes",
        grainless=entry.grainless == "yes",
        off_grain_rad=entry.off_grain_rad,
        flaws=tuple(flaw.corners_mm for flaw in entry.flaws),
        photo=entry.photo,
    )


def plan_from(entry: FabricEntry) -> LayerPlan:
    """Return how the cloth of an entry lies to be cut."""
    return LayerPlan(entry.layers)


def method_from(entry: CuttingEntry) -> CuttingMethod:
    """Return what a maker cuts with."""
    return CuttingMethod(entry.method)


def spacing_from(entry: CuttingEntry, fabric: Fabric, plan: LayerPlan) -> Spacing:
    """Return the cloth that stays between pieces and at the ends, as the maker cuts."""
    return spacing_for(
        method_from(entry), fabric, plan, between_mm=entry.between_mm, ends_mm=entry.ends_mm
    )
