"""Which copies are cut from which stretch of cloth: doubled, or opened out to a single layer."""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import CutItem
from clothwise.cutting.layout import Cut, LayerPlan, Layers, lanes_mm
from clothwise.cutting.parts import Part, across_mm, paired, single_parts, spare_parts, tilted

__all__ = ["DOUBLED", "Stretches", "ways_to_divide", "widest_mm"]

DOUBLED = {
    LayerPlan.FOLDED: Layers.DOUBLE,
    LayerPlan.TO_MIDDLE: Layers.TO_MIDDLE,
    LayerPlan.CROSSWISE: Layers.FACED,
    LayerPlan.FACED: Layers.FACED,
}
"""How the doubled stretch of a plan lies; a single layer has none."""

_WIDTH_SLACK_MM = 1e-6  # what adding floats can cost

Stretches = tuple[tuple[Layers, tuple[Part, ...]], ...]
"""From the cut end on: how each stretch lies, and what is cut from it."""


def ways_to_divide(
    items: Sequence[CutItem], fabric: Fabric, plan: LayerPlan
) -> tuple[Stretches, ...]:
    """Return the ways to divide the copies over stretches of cloth; at least one.

    What has no partner is cut from a stretch that is opened out, or through both layers, so that
    the second copy is left over; both ways are worth a look.
    """

    def singles(copies: Sequence[CutItem]) -> list[Part]:
        return single_parts(copies, fabric.nap, either_side=fabric.wrong_side_usable)

    if plan is LayerPlan.SINGLE:
        return (_stretches(Layers.DOUBLE, (), singles(items), fabric),)
    layers = DOUBLED[plan]
    parts, alone = paired(items, fabric.nap)
    widest = widest_mm(layers, fabric) + _WIDTH_SLACK_MM
    too_wide = {
        item_id
        for part in parts
        if part.cut is Cut.PAIR and across_mm(part) > widest
        for item_id in part.item_ids
    }
    double = [part for part in parts if not too_wide.intersection(part.item_ids)]
    opened_out = [item for item in items if item.id in too_wide or item in alone]
    apart = _stretches(layers, double, singles(opened_out), fabric)
    spares = [part for part in spare_parts(alone, fabric.nap) if across_mm(part) <= widest]
    if not spares or not double:
        return (apart,)
    laid = {part.item.id for part in spares}
    rest = [part for part in singles(opened_out) if part.item.id not in laid]
    return apart, _stretches(layers, [*double, *spares], rest, fabric)


def widest_mm(layers: Layers, fabric: Fabric) -> float:
    """The widest piece that fits across a stretch."""
    return max(high - low for low, high in lanes_mm(layers, fabric))


def _stretches(
    layers: Layers, double: Sequence[Part], single: Sequence[Part], fabric: Fabric
) -> Stretches:
    ways = [(layers, double), (Layers.SINGLE, single)]
    return tuple(
        (lies, tuple(tilted(part, fabric.off_grain_rad) for part in parts))
        for lies, parts in ways
        if parts
    )
