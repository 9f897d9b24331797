"""Judges a layout from scratch with shapely, trusting nothing that the search computed.

It takes the copies and the placements only, works out each outline again by its own arithmetic,
and looks for everything that would spoil cloth. A layout with faults is never shown.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

import numpy as np
from shapely import Polygon, STRtree
from shapely.affinity import affine_transform

from clothwise.cutting.fabric import Fabric, Nap
from clothwise.cutting.item import FOLD_TOLERANCE_MM, CutItem, Polyline, is_symmetric, opened
from clothwise.cutting.layers import flaws_on
from clothwise.cutting.layout import (
    Cut,
    LayerPlan,
    Layers,
    Layout,
    Placement,
    Section,
    Spacing,
    on_fabric,
    placed_outline,
)
from clothwise.cutting.parts import is_small

__all__ = [
    "COVERED_TOLERANCE_MM2",
    "GRAIN_TOLERANCE_RAD",
    "INSIDE_TOLERANCE_MM",
    "OVERLAP_TOLERANCE",
    "SPACING_TOLERANCE_MM",
    "LayoutFault",
    "LayoutFaultCode",
    "copy_faults",
    "moved",
    "pair_faults",
    "section_faults",
    "shape_faults",
    "verify",
]

OVERLAP_TOLERANCE = 1e-6
"""Largest shared area of two pieces, as a share of the smaller one."""
INSIDE_TOLERANCE_MM = 0.01
"""How far a piece may reach beyond the usable cloth."""
SPACING_TOLERANCE_MM = 0.05
"""How much less than the asked spacing two pieces may keep: rounding in the packer."""
GRAIN_TOLERANCE_RAD = 1e-6
"""How far the grain of a piece may stray from that of the cloth."""
COVERED_TOLERANCE_MM2 = 0.01
"""How much of a flaw may be covered."""
_SHAPE_TOLERANCE_MM = 1e-6
_WIDTH_TOLERANCE_MM = 1e-6
_LAYERS = {
    LayerPlan.SINGLE: {Layers.SINGLE},
    LayerPlan.FOLDED: {Layers.DOUBLE, Layers.SINGLE},
    LayerPlan.TO_MIDDLE: {Layers.TO_MIDDLE, Layers.SINGLE},
    LayerPlan.PARTLY: {Layers.PARTLY, Layers.SINGLE},
    LayerPlan.CROSSWISE: {Layers.FACED, Layers.SINGLE},
    LayerPlan.FACED: {Layers.FACED, Layers.SINGLE},
}


class LayoutFaultCode(Enum):
    """What can be wrong with a layout; the values are stable."""

    COPIES = "LAYOUT-COPIES"
    """A copy is missing, or cut twice, or not one that was asked for."""
    CUT = "LAYOUT-CUT"
    """The way it is cut does not yield these copies: wrong hand, no pair, no fold there."""
    SHAPE = "LAYOUT-SHAPE"
    """The outline that is shown is not the piece moved and turned."""
    OUTSIDE = "LAYOUT-OUTSIDE"
    FLAW = "LAYOUT-FLAW"
    """A piece covers a hole or a flaw of the cloth."""
    OVERLAP = "LAYOUT-OVERLAP"
    SPACING = "LAYOUT-SPACING"
    GRAIN = "LAYOUT-GRAIN"
    NAP = "LAYOUT-NAP"
    FOLD = "LAYOUT-FOLD"
    PINNED = "LAYOUT-PINNED"
    """A piece does not lie where it was pinned."""
    ENDS = "LAYOUT-ENDS"
    """A stretch of cloth is shorter or longer than its pieces and both end margins."""
    PHASE = "LAYOUT-PHASE"
    """Points that were to meet fall on different places of the cloth's pattern."""
    BORDER = "LAYOUT-BORDER"
    """A lower edge does not lie on the border of the cloth."""
    SECTION = "LAYOUT-SECTION"
    """The stretches of cloth do not follow each other, are wider than the cloth, or not folded as
    planned."""


@dataclass(frozen=True, slots=True)
class LayoutFault:
    """One fault: what, which copies, how much was measured and what is allowed."""

    code: LayoutFaultCode
    item_ids: tuple[str, ...]
    measured: float
    allowed: float

    def __str__(self) -> str:
        return (
            f"{self.code.value} {', '.join(self.item_ids)}: "
            f"{self.measured:.6g}, allowed {self.allowed:.6g}"
        )


def verify(
    layout: Layout, items: Iterable[CutItem], pins: Sequence[Placement] = ()
) -> tuple[LayoutFault, ...]:
    """Return all faults of a layout; none if it can be cut as it is.

    Whether the pattern of the cloth meets is judged by `verify_repeats`.

    Args:
        layout: to be judged.
        items: the copies that were to be cut.
        pins: placements that were to stay as they are.
    """
    by_id = {item.id: item for item in items}
    faults = list(copy_faults(layout.placements, by_id))
    if faults:
        return tuple(faults)  # without the right copies nothing else can be judged
    faults += _sequence_faults(layout.sections)
    faults += _plan_faults(layout)
    faults += _pin_faults(layout, pins)
    for number, section in enumerate(layout.sections):
        flaws = flaws_on(layout, number) if layout.fabric.flaws else ()
        faults += section_faults(section, by_id, layout.fabric, layout.spacing, flaws)
    return tuple(faults)


def section_faults(
    section: Section,
    items: Mapping[str, CutItem],
    fabric: Fabric,
    spacing: Spacing,
    flaws: Iterable[Polyline] = (),
) -> list[LayoutFault]:
    """Return the faults inside one stretch of cloth; whether all copies are there is not asked.

    Args:
        section: to be judged.
        items: by id.
        fabric, spacing: of the layout.
        flaws: what may not be covered, where it lies in the stretch (see `layers`).
    """
    widest = _widest_mm(section, fabric)
    faults = []
    if section.width_mm > widest + _WIDTH_TOLERANCE_MM:
        faults.append(LayoutFault(LayoutFaultCode.SECTION, (), section.width_mm, widest))
    faults += _depth_faults(section, fabric)
    shapes = [moved(placement, items) for placement in section.placements]
    for placement, shape in zip(section.placements, shapes, strict=True):
        faults += _cut_faults(placement, shape, section, items, fabric)
        faults += _grain_faults(placement, items, fabric)
        faults += _fold_faults(placement, section, items)
        faults += shape_faults(placement, shape, items)
        faults += _outside_faults(placement, shape, section, fabric)
        faults += _flaw_faults(placement, shape, flaws)
    longer_mm = fabric.repeat.along_mm if section.layers is Layers.FACED else 0.0
    faults += _end_faults(section, shapes, spacing.ends_mm, longer_mm)
    faults += pair_faults(section.placements, shapes, spacing.between_mm)
    return faults


def copy_faults(
    placements: Sequence[Placement], items: Mapping[str, CutItem]
) -> Iterator[LayoutFault]:
    """Copies that are missing, cut twice or not asked for."""
    times = Counter(item_id for placement in placements for item_id in placement.item_ids)
    for item_id in [*items, *(i for i in times if i not in items)]:
        asked = 1 if item_id in items else 0
        if times[item_id] != asked:
            yield LayoutFault(LayoutFaultCode.COPIES, (item_id,), times[item_id], asked)


def _sequence_faults(sections: Sequence[Section]) -> Iterator[LayoutFault]:
    end_mm = 0.0
    for section in sections:
        if abs(section.start_mm - end_mm) > _WIDTH_TOLERANCE_MM:
            yield LayoutFault(LayoutFaultCode.SECTION, (), section.start_mm, end_mm)
        end_mm = section.start_mm + section.length_mm


def _plan_faults(layout: Layout) -> Iterator[LayoutFault]:
    """Stretches that lie otherwise than planned, or against the nap."""
    strange = sum(section.layers not in _LAYERS[layout.plan] for section in layout.sections)
    if strange:
        yield LayoutFault(LayoutFaultCode.SECTION, (), strange, 0)
    if layout.plan is LayerPlan.CROSSWISE and layout.fabric.nap is Nap.ONE_WAY:
        yield LayoutFault(LayoutFaultCode.NAP, (), math.pi, 0.0)


def _pin_faults(layout: Layout, pins: Sequence[Placement]) -> Iterator[LayoutFault]:
    placed = {placement.item_ids: placement for placement in layout.placements}
    depths = {
        placement.item_ids: section.depth_mm
        for section in layout.sections
        for placement in section.placements
    }
    for pin in pins:
        found = placed.get(pin.item_ids)
        if found == pin:
            moved_mm = 0.0 if pin.flap_mm is None else abs(depths[pin.item_ids] - pin.flap_mm)
            if moved_mm > INSIDE_TOLERANCE_MM:
                yield LayoutFault(LayoutFaultCode.PINNED, pin.item_ids, moved_mm, 0.0)
            continue
        away = math.inf if found is None else math.dist(found.translation, pin.translation)
        yield LayoutFault(LayoutFaultCode.PINNED, pin.item_ids, away, 0.0)


def _widest_mm(section: Section, fabric: Fabric) -> float:
    """What there is across: half of the cloth between the selvages, with them to the middle.

    Partly folded, all but the flap.
    """
    washed = 1 - fabric.shrinkage_across
    if section.layers is Layers.DOUBLE:
        return fabric.usable_width_mm * washed / 2
    if section.layers is Layers.TO_MIDDLE:
        return fabric.nominal_width_mm * washed / 2
    return fabric.usable_width_mm * washed - section.depth_mm


def _depth_faults(section: Section, fabric: Fabric) -> Iterator[LayoutFault]:
    """A flap where there is none, or one that reaches beyond the other selvage."""
    deepest = fabric.usable_width_mm * (1 - fabric.shrinkage_across) / 2
    allowed = deepest if section.layers is Layers.PARTLY else 0.0
    if not 0.0 <= section.depth_mm <= allowed + _WIDTH_TOLERANCE_MM:
        yield LayoutFault(LayoutFaultCode.SECTION, (), section.depth_mm, allowed)


def _is_double(shape: Polygon, section: Section) -> bool:
    """Whether there are two layers where a piece lies; its outline may touch the flap's edge."""
    if section.layers is Layers.PARTLY:
        return bool(shape.bounds[1] < section.depth_mm - INSIDE_TOLERANCE_MM)
    return section.layers is not Layers.SINGLE


def _cut_faults(
    placement: Placement,
    shape: Polygon,
    section: Section,
    items: Mapping[str, CutItem],
    fabric: Fabric,
) -> Iterator[LayoutFault]:
    copies = [items[item_id] for item_id in placement.item_ids[1:]]
    copies.insert(0, _drawn(placement, items))
    double = _is_double(shape, section)
    right_side = copies[0].mirrored == placement.mirrored or fabric.wrong_side_usable
    fine = {
        Cut.SINGLE: not double and len(copies) == 1 and (right_side or is_symmetric(copies[0])),
        Cut.SPARE: double and len(copies) == 1,
        Cut.ON_FOLD: double and bool(_folds_mm(section)) and len(copies) == 1,
        Cut.PAIR: double and len(copies) == 2 and _mirror_each_other(*copies[:2]),
    }
    on_fold = any(copy.on_fold for copy in copies)
    if not fine[placement.cut] or on_fold != (placement.cut is Cut.ON_FOLD):
        yield LayoutFault(LayoutFaultCode.CUT, placement.item_ids, len(copies), 1 + double)


def _mirror_each_other(one: CutItem, other: CutItem) -> bool:
    same = (one.piece, one.outline, one.grain_angle_rad) == (
        other.piece,
        other.outline,
        other.grain_angle_rad,
    )
    return same and (one.mirrored != other.mirrored or is_symmetric(one))


def _grain_faults(
    placement: Placement, items: Mapping[str, CutItem], fabric: Fabric
) -> Iterator[LayoutFault]:
    item = _drawn(placement, items)
    allowed = GRAIN_TOLERANCE_RAD
    if not item.on_fold and is_small(item):
        allowed += fabric.off_grain_rad
    grain = items[placement.item_ids[0]].grain_angle_rad
    tail, head = on_fabric(placement, [(0.0, 0.0), (-math.sin(grain), math.cos(grain))])
    angle = math.atan2(head[1] - tail[1], head[0] - tail[0])
    quarters = fabric.turns_quarters and not item.on_fold
    strays = abs(math.remainder(angle, math.pi / 2 if quarters else math.pi))
    if strays > allowed:
        yield LayoutFault(LayoutFaultCode.GRAIN, placement.item_ids, strays, allowed)
    if fabric.nap is Nap.ONE_WAY and head[0] < tail[0]:
        yield LayoutFault(LayoutFaultCode.NAP, placement.item_ids, abs(angle), 0.0)


def _folds_mm(section: Section) -> tuple[float, ...]:
    """Where across a stretch there is a fold."""
    if section.layers in (Layers.DOUBLE, Layers.PARTLY):
        return (0.0,)
    return (0.0, section.width_mm) if section.layers is Layers.TO_MIDDLE else ()


def _fold_faults(
    placement: Placement, section: Section, items: Mapping[str, CutItem]
) -> Iterator[LayoutFault]:
    edge = _drawn(placement, items).fold_edge
    if edge is None:
        return
    strays = min(
        (max(abs(y - fold) for _, y in on_fabric(placement, edge)) for fold in _folds_mm(section)),
        default=math.inf,
    )
    if strays > FOLD_TOLERANCE_MM:
        yield LayoutFault(LayoutFaultCode.FOLD, placement.item_ids, strays, FOLD_TOLERANCE_MM)


def moved(placement: Placement, items: Mapping[str, CutItem]) -> Polygon:
    """Return the piece on the cloth by shapely's arithmetic, not by that of `on_fabric`."""
    cos, sin = math.cos(placement.rotation_rad), math.sin(placement.rotation_rad)
    side = -1.0 if placement.mirrored else 1.0
    matrix = [cos * side, -sin, sin * side, cos, *placement.translation]
    return affine_transform(Polygon(_drawn(placement, items).outline), matrix)


def _drawn(placement: Placement, items: Mapping[str, CutItem]) -> CutItem:
    """The copy as it is drawn round: the whole of a half piece, if it is cut singly."""
    item = items[placement.item_ids[0]]
    return opened(item) if placement.cut is Cut.SINGLE else item


def shape_faults(
    placement: Placement, shape: Polygon, items: Mapping[str, CutItem]
) -> Iterator[LayoutFault]:
    """An outline that is shown elsewhere than it is judged."""
    shown = np.asarray(placed_outline(placement, items))
    strays = float(np.abs(np.asarray(shape.exterior.coords)[:-1] - shown).max())
    if not strays <= _SHAPE_TOLERANCE_MM:
        yield LayoutFault(LayoutFaultCode.SHAPE, placement.item_ids, strays, _SHAPE_TOLERANCE_MM)


def _outside_faults(
    placement: Placement, shape: Polygon, section: Section, fabric: Fabric
) -> Iterator[LayoutFault]:
    left, bottom, right, top = shape.bounds
    end_mm = section.start_mm + section.length_mm
    beyond = max(section.start_mm - left, right - end_mm, -bottom, top - section.width_mm)
    if section.layers is Layers.TO_MIDDLE:
        # Where the selvages meet a piece would be cut in two.
        flap = (fabric.usable_width_mm * (1 - fabric.shrinkage_across) - section.width_mm) / 2
        beyond = max(beyond, min(top - flap, section.width_mm - flap - bottom))
    if section.layers is Layers.PARTLY:
        # The flap ends with its selvage; what lies over both would be cut in one and a half.
        selvage = (fabric.nominal_width_mm - fabric.usable_width_mm) / 2
        flap = section.depth_mm + selvage * (1 - fabric.shrinkage_across)
        beyond = max(beyond, min(top - section.depth_mm, flap - bottom))
    if not beyond <= INSIDE_TOLERANCE_MM:
        yield LayoutFault(LayoutFaultCode.OUTSIDE, placement.item_ids, beyond, INSIDE_TOLERANCE_MM)


def _flaw_faults(
    placement: Placement, shape: Polygon, flaws: Iterable[Polyline]
) -> Iterator[LayoutFault]:
    for flaw in flaws:
        covered = shape.intersection(Polygon(flaw)).area
        if covered > COVERED_TOLERANCE_MM2:
            yield LayoutFault(
                LayoutFaultCode.FLAW, placement.item_ids, covered, COVERED_TOLERANCE_MM2
            )


def _end_faults(
    section: Section, shapes: Sequence[Polygon], ends_mm: float, longer_mm: float
) -> Iterator[LayoutFault]:
    """Ends that are not as asked; two lengths may be so much longer, to lie line on line."""
    if not shapes:
        yield LayoutFault(LayoutFaultCode.ENDS, (), section.length_mm, 0.0)
        return
    before = min(shape.bounds[0] for shape in shapes) - section.start_mm
    after = section.start_mm + section.length_mm - max(shape.bounds[2] for shape in shapes)
    # A pattern to be met, a flaw or a pin may keep the first piece further from the start.
    kept = after - ends_mm
    for margin in (min(before, ends_mm), ends_mm if 0 <= kept <= longer_mm else after):
        if not abs(margin - ends_mm) <= INSIDE_TOLERANCE_MM:
            yield LayoutFault(LayoutFaultCode.ENDS, (), margin, ends_mm)


def pair_faults(
    placements: Sequence[Placement], shapes: Sequence[Polygon], between_mm: float
) -> Iterator[LayoutFault]:
    """Pieces that overlap, or are nearer to each other than was asked."""
    near = STRtree(shapes).query(shapes, predicate="dwithin", distance=max(between_mm, 0.0))
    for i, j in near.T.tolist():
        if i >= j:
            continue
        ids = placements[i].item_ids + placements[j].item_ids
        shared = shapes[i].intersection(shapes[j]).area
        share = shared / min(shapes[i].area, shapes[j].area)
        distance = shapes[i].distance(shapes[j])
        if share > OVERLAP_TOLERANCE:
            yield LayoutFault(LayoutFaultCode.OVERLAP, ids, share, OVERLAP_TOLERANCE)
        elif distance < between_mm - SPACING_TOLERANCE_MM:
            yield LayoutFault(LayoutFaultCode.SPACING, ids, distance, between_mm)
