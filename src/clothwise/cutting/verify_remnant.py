"""Judges a layout on a remnant from scratch with shapely, trusting nothing that was searched.

It works out the washed cloth by its own arithmetic; what concerns pieces alone is judged as in any
other layout (`verify`). A layout with faults is never shown.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np
from shapely import Polygon

from clothwise.cutting.fabric import Fabric, Nap
from clothwise.cutting.item import CutItem, is_symmetric
from clothwise.cutting.layout import Cut, Placement, Spacing
from clothwise.cutting.remnant import Remnant
from clothwise.cutting.verify import (
    GRAIN_TOLERANCE_RAD,
    INSIDE_TOLERANCE_MM,
    OVERLAP_TOLERANCE,
    SPACING_TOLERANCE_MM,
    LayoutFault,
    LayoutFaultCode,
    copy_faults,
    moved,
    pair_faults,
    shape_faults,
)

__all__ = ["verify_remnant"]


def verify_remnant(
    remnant: Remnant,
    placements: Sequence[Placement],
    items: Iterable[CutItem],
    spacing: Spacing,
) -> tuple[LayoutFault, ...]:
    """Return all faults of a layout on a remnant; none if it can be cut as it is.

    Args:
        remnant: what is cut.
        placements: on washed cloth.
        items: the copies that were to be cut from it.
        spacing: that was asked for; `ends_mm` counts for the edge and for holes.
    """
    by_id = {item.id: item for item in items}
    faults = list(copy_faults(placements, by_id))
    if faults:
        return tuple(faults)
    shapes = [moved(placement, by_id) for placement in placements]
    for placement, shape in zip(placements, shapes, strict=True):
        faults += _cut_faults(placement, by_id, remnant.fabric)
        faults += _grain_faults(placement, by_id, remnant.fabric)
        faults += shape_faults(placement, shape, by_id)
        faults += _cloth_faults(placement, shape, remnant, spacing)
    faults += pair_faults(placements, shapes, spacing.between_mm)
    return tuple(faults)


def _cut_faults(
    placement: Placement, items: Mapping[str, CutItem], fabric: Fabric
) -> Iterator[LayoutFault]:
    """One layer yields one copy, of the right hand unless the cloth is good on both sides."""
    item = items[placement.item_ids[0]]
    single = placement.cut is Cut.SINGLE and len(placement.item_ids) == 1 and not item.on_fold
    hand = placement.mirrored == item.mirrored
    if not single or not (hand or fabric.wrong_side_usable or is_symmetric(item)):
        yield LayoutFault(LayoutFaultCode.CUT, placement.item_ids, len(placement.item_ids), 1)


def _grain_faults(
    placement: Placement, items: Mapping[str, CutItem], fabric: Fabric
) -> Iterator[LayoutFault]:
    grain = items[placement.item_ids[0]].grain_angle_rad
    cos, sin = math.cos(placement.rotation_rad), math.sin(placement.rotation_rad)
    side = -1.0 if placement.mirrored else 1.0
    x, y = -math.sin(grain) * side, math.cos(grain)
    along, across = cos * x - sin * y, sin * x + cos * y
    turn = math.pi / 2 if fabric.turns_quarters else math.pi
    strays = abs(math.remainder(math.atan2(across, along), turn))
    if strays > GRAIN_TOLERANCE_RAD:
        yield LayoutFault(LayoutFaultCode.GRAIN, placement.item_ids, strays, GRAIN_TOLERANCE_RAD)
    if fabric.nap is Nap.ONE_WAY and along < 0:
        yield LayoutFault(LayoutFaultCode.NAP, placement.item_ids, math.pi, 0.0)


def _cloth_faults(
    placement: Placement, shape: Polygon, remnant: Remnant, spacing: Spacing
) -> Iterator[LayoutFault]:
    """Outside, in a hole or on a flaw; or nearer to one of them than was asked."""
    cloth = _washed(remnant.outline, remnant.fabric)
    edge = cloth.exterior.distance(shape)
    ids = placement.item_ids
    if not cloth.buffer(INSIDE_TOLERANCE_MM).covers(shape):
        beyond = float(shape.difference(cloth).hausdorff_distance(cloth))
        yield LayoutFault(LayoutFaultCode.OUTSIDE, ids, beyond, INSIDE_TOLERANCE_MM)
    elif edge < spacing.ends_mm - SPACING_TOLERANCE_MM:
        yield LayoutFault(LayoutFaultCode.ENDS, ids, float(edge), spacing.ends_mm)
    taken = [(hole, spacing.ends_mm) for hole in remnant.holes]
    taken += [(flaw, spacing.between_mm) for flaw in remnant.flaws]
    for outline, room_mm in taken:
        place = _washed(outline, remnant.fabric)
        shared = float(shape.intersection(place).area)
        if shared > OVERLAP_TOLERANCE * min(shape.area, place.area):
            yield LayoutFault(LayoutFaultCode.FLAW, ids, shared, 0.0)
        elif (distance := float(shape.distance(place))) < room_mm - SPACING_TOLERANCE_MM:
            yield LayoutFault(LayoutFaultCode.SPACING, ids, distance, room_mm)


def _washed(outline: Sequence[tuple[float, float]], fabric: Fabric) -> Polygon:
    scale = np.array([1.0 - fabric.shrinkage_along, 1.0 - fabric.shrinkage_across])
    return Polygon(np.asarray(outline) * scale)
