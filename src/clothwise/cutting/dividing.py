"""Which copies are cut from which stretch of cloth: doubled, or opened out to a single layer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import CutItem
from clothwise.cutting.layout import (
    Cut,
    LayerPlan,
    Layers,
    Placement,
    deepest_flap_mm,
    lanes_for,
    lanes_mm,
)
from clothwise.cutting.partly import divisions
from clothwise.cutting.parts import (
    WIDTH_SLACK_MM,
    Part,
    across_mm,
    paired,
    single_parts,
    spare_parts,
    tilted,
)

__all__ = ["DOUBLED", "Stretch", "Stretches", "by_lane", "ways_to_divide", "widest_mm"]

DOUBLED = {
    LayerPlan.FOLDED: Layers.DOUBLE,
    LayerPlan.TO_MIDDLE: Layers.TO_MIDDLE,
    LayerPlan.PARTLY: Layers.PARTLY,
    LayerPlan.CROSSWISE: Layers.FACED,
    LayerPlan.FACED: Layers.FACED,
}
"""How the doubled stretch of a plan lies; a single layer has none."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """How a stretch of cloth lies, and what is cut from it.

    Attributes:
        layers: how it lies.
        parts: at least one.
        depth_mm: of the flap of partly folded cloth, without its selvage; else 0.
    """

    layers: Layers
    parts: tuple[Part, ...]
    depth_mm: float = 0.0


Stretches = tuple[Stretch, ...]
"""From the cut end on."""


def ways_to_divide(
    items: Sequence[CutItem],
    fabric: Fabric,
    plan: LayerPlan,
    between_mm: float = 0.0,
    pins: Sequence[Placement] = (),
) -> tuple[Stretches, ...]:
    """Return the ways to divide the copies over stretches of cloth; at least one.

    What has no partner is cut from a stretch that is opened out, or through both layers, so that
    the second copy is left over; both ways are worth a look. Of partly folded cloth there are
    many, the most promising first.

    Args:
        items: the copies.
        fabric, plan: what they are cut from, and how it lies.
        between_mm: cloth between pieces.
        pins: placements that stay.
    """

    def singles(copies: Sequence[CutItem]) -> list[Part]:
        return single_parts(copies, fabric.nap, either_side=fabric.wrong_side_usable)

    if plan is LayerPlan.SINGLE:
        return (_stretches(Layers.DOUBLE, (), singles(items), fabric),)
    if plan is LayerPlan.PARTLY:
        return tuple(
            _stretches(
                Layers.PARTLY,
                (*each.flap, *each.beside),
                singles(each.after),
                fabric,
                each.depth_mm,
            )
            for each in divisions(items, fabric, between_mm, pins)
        )
    layers = DOUBLED[plan]
    parts, alone = paired(items, fabric.nap)
    widest = widest_mm(layers, fabric) + WIDTH_SLACK_MM
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
    """The widest half piece or pair that fits across a stretch."""
    if layers is Layers.PARTLY:
        return deepest_flap_mm(fabric)
    return max(high - low for low, high in lanes_mm(layers, fabric))


def by_lane(
    stretch: Stretch, fabric: Fabric, between_mm: float
) -> dict[tuple[float, float], list[Part]]:
    """Return the parts of a stretch by the first lane in which each may lie.

    A lane beside a flap begins so far from it that whatever lies in both keeps apart.
    """
    found: dict[tuple[float, float], list[Part]] = {}
    for part in stretch.parts:
        low, high = lanes_for(part.cut, stretch.layers, fabric, stretch.depth_mm)[0]
        apart = max(low, stretch.depth_mm + between_mm) if low else low
        found.setdefault((apart, high), []).append(part)
    return found


def _stretches(
    layers: Layers,
    doubled: Sequence[Part],
    single: Sequence[Part],
    fabric: Fabric,
    depth_mm: float = 0.0,
) -> Stretches:
    ways = [(layers, doubled, depth_mm), (Layers.SINGLE, single, 0.0)]
    return tuple(
        Stretch(lies, tuple(tilted(part, fabric) for part in parts), depth)
        for lies, parts, depth in ways
        if parts
    )
