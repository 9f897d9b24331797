"""One stretch of cloth as a task for the packer: what may lie where, and back to placements.

The packer keeps outlines apart, so pieces come to it widened by half the spacing, and the cloth
with half the spacing around it. Fold edges, lanes of folded cloth, the pattern of the cloth, what
is pinned and flaws all become places that an outline may or may not take.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from clothwise.cutting.clearance import widened
from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import CutItem, Polyline
from clothwise.cutting.layers import flaws_in
from clothwise.cutting.layout import (
    Cut,
    LayerPlan,
    Layers,
    Placement,
    Section,
    folds_mm,
    lanes_for,
    stretch_width_mm,
    turn_rad,
)
from clothwise.cutting.outlines import FITTING_ROOM_MM, OutlineCache
from clothwise.cutting.parts import Part, Pose, fold_depth_mm, placement_of
from clothwise.cutting.placing import Field, Lying, Steps, Thing, Way

__all__ = [
    "Cutting",
    "PlaceSteps",
    "StretchTask",
    "anywhere",
    "placements_of",
    "stretch_task",
]

_SLACK_MM = 1e-6
_ENDLESS_MM = 1e7

PlaceSteps = Callable[[Part, Pose], tuple[Steps | None, Steps | None]]
"""Where the origin of a part in a pose may lie along the whole cloth, and across the stretch."""


def anywhere(part: Part, pose: Pose) -> tuple[None, None]:
    """A place of any kind: what cloth without a pattern allows."""
    return None, None


@dataclass(frozen=True)
class StretchTask:
    """What is laid on one stretch.

    Attributes:
        layers: how the cloth lies there.
        parts: what is laid, at least one.
        fabric: washed when it is laid on.
        outlines: of the parts, widened.
        items: the copies, by id.
        start_mm: where the first piece may begin, along the whole cloth.
        steps: where parts may lie on the pattern of the cloth.
        pins: placements of parts that stay.
        flaws: what may not be covered, on the whole cloth along, across the stretch.
        depth_mm: of the flap of partly folded cloth.
    """

    layers: Layers
    parts: tuple[Part, ...]
    fabric: Fabric
    outlines: OutlineCache
    items: Mapping[str, CutItem]
    start_mm: float
    steps: PlaceSteps = anywhere
    pins: tuple[Placement, ...] = ()
    flaws: tuple[Polyline, ...] = ()
    depth_mm: float = 0.0

    @property
    def width_mm(self) -> float:
        """What may be used across."""
        return stretch_width_mm(self.layers, self.fabric, self.depth_mm)

    @property
    def is_bound(self) -> bool:
        """Whether places along the cloth matter: then a layout may not be moved along it."""
        return bool(self.pins or self.flaws) or self.steps is not anywhere

    @property
    def strip_mm(self) -> float:
        """Where the strip of the packer begins along the whole cloth."""
        return self.start_mm - self.outlines.half_mm

    @property
    def field(self) -> Field:
        """The strip, as wide as the stretch with half the spacing on both sides."""
        half = self.outlines.half_mm
        width = self.width_mm + 2 * half + FITTING_ROOM_MM
        moved = tuple(
            tuple((x - self.strip_mm, y + half) for x, y in widened(flaw, half))
            for flaw in self.flaws
        )
        return Field(width, taken=moved)

    @cached_property
    def lanes(self) -> tuple[tuple[_Lane, ...], ...]:
        """Every way in which each part may lie, in the order in which `things` has them."""
        return tuple(tuple(self._lanes_of(self._as_pinned(part))) for part in self.parts)

    def things(self) -> tuple[Thing, ...] | None:
        """The parts for the packer; None if one has no place across the cloth."""
        found = []
        for number, (part, lanes) in enumerate(zip(self.parts, self.lanes, strict=True)):
            fixed = self._fixed(part, lanes)
            if not lanes:
                return None
            found.append(Thing(f"{number} {part.item.id}", tuple(e.way for e in lanes), fixed))
        return tuple(found)

    def _fixed(self, part: Part, lanes: Sequence[_Lane]) -> Lying | None:
        pin = self._pin_of(part)
        if pin is None:
            return None
        turn = next(n for n, lane in enumerate(lanes) if _lies_so(part, lane.pose, pin))
        x, y = pin.translation
        return Lying(turn, x - self.strip_mm, y + self.outlines.half_mm)

    def _pin_of(self, part: Part) -> Placement | None:
        return next((pin for pin in self.pins if pin.item_ids == part.item_ids), None)

    def _as_pinned(self, part: Part) -> Part:
        """The part with the way in which it is pinned, which a search need not think of.

        A piece that is its own mirror image may be pinned turned over, a small one at any slant
        that the cloth allows.
        """
        pin = self._pin_of(part)
        if pin is None or part.cut is Cut.ON_FOLD:
            return part
        if any(_lies_so(part, pose, pin) for pose in part.poses):
            return part
        grain = part.item.grain_angle_rad
        upright = turn_rad(grain, mirrored=pin.mirrored, half_turn=False)
        half_turn = math.cos(pin.rotation_rad - upright) < 0
        lies = turn_rad(grain, mirrored=pin.mirrored, half_turn=half_turn)
        tilt = math.remainder(pin.rotation_rad - lies, 2 * math.pi)
        return replace(part, poses=(*part.poses, Pose(pin.mirrored, half_turn, tilt)))

    def _lanes_of(self, part: Part) -> Iterator[_Lane]:
        half = self.outlines.half_mm
        lanes = lanes_for(part.cut, self.layers, self.fabric, self.depth_mm)
        folds = folds_mm(self.layers, self.fabric)
        for pose in part.poses:
            for number, (low, high) in enumerate(lanes):
                lies = _for_fold(pose) if number and part.cut is Cut.ON_FOLD else pose
                outline = self.outlines.outline(part, lies)
                along, across = self.steps(part, lies)
                if part.cut is Cut.ON_FOLD:
                    across = Steps(folds[number] - fold_depth_mm(part, lies))
                x = along and replace(along, offset_mm=along.offset_mm - self.strip_mm)
                y = across and replace(across, offset_mm=across.offset_mm + half)
                way = Way(outline, x, y, low, high + 2 * half + FITTING_ROOM_MM)
                if _has_place(way):
                    yield _Lane(lies, way)


def stretch_task(
    cut: Cutting,
    layers: Layers,
    parts: tuple[Part, ...],
    depth_mm: float = 0.0,
    *,
    start_mm: float,
    cloth_mm: float,
    steps: PlaceSteps = anywhere,
) -> StretchTask:
    """Return the task of one stretch of a layout, with what is pinned there and its flaws.

    Args:
        cut: what is the same for all stretches.
        layers: how the cloth lies there.
        parts: what is laid there.
        depth_mm: of the flap of partly folded cloth.
        start_mm: where the stretch begins in the layout.
        cloth_mm: where it begins on the cloth: further on, after two lengths face to face.
        steps: where parts may lie on the pattern of the cloth.
    """
    width = stretch_width_mm(layers, cut.fabric, depth_mm)
    endless = Section(layers, start_mm, _ENDLESS_MM, width, (), depth_mm)
    ids = {part.item_ids for part in parts}
    return StretchTask(
        layers,
        parts,
        cut.fabric,
        cut.outlines,
        cut.items,
        start_mm + cut.ends_mm,
        steps,
        tuple(pin for pin in cut.pins if pin.item_ids in ids),
        flaws_in(endless, cut.plan, cut.fabric, starts_mm=cloth_mm) if cut.fabric.flaws else (),
        depth_mm,
    )


@dataclass(frozen=True)
class Cutting:
    """What all stretches of a layout share.

    Attributes:
        items: the copies, by id.
        fabric, plan, pins: as for `lay`.
        outlines: of all parts, widened.
        ends_mm: cloth left at both ends.
    """

    items: Mapping[str, CutItem]
    fabric: Fabric
    plan: LayerPlan
    pins: tuple[Placement, ...]
    outlines: OutlineCache
    ends_mm: float


@dataclass(frozen=True)
class _Lane:
    """A pose in one lane of the cloth, as the packer has it."""

    pose: Pose
    way: Way


def placements_of(task: StretchTask, lyings: Sequence[Lying]) -> list[Placement]:
    """Return where the parts lie that the packer laid.

    Half pieces lie exactly on their fold, pinned ones exactly where they were.
    """
    found = []
    half = task.outlines.half_mm
    pinned = {pin.item_ids: pin for pin in task.pins}
    for part, lanes, lying in zip(task.parts, task.lanes, lyings, strict=True):
        if part.item_ids in pinned:
            found.append(pinned[part.item_ids])
            continue
        lane = lanes[lying.way]
        y = lying.y_mm - half
        if part.cut is Cut.ON_FOLD and lane.way.y is not None:
            y = lane.way.y.offset_mm - half
        found.append(placement_of(part, lane.pose, lying.x_mm + task.strip_mm, y))
    return found


def _lies_so(part: Part, pose: Pose, pin: Placement) -> bool:
    """Whether a pose turns a part as it is pinned."""
    turned = placement_of(part, pose, 0.0, 0.0).rotation_rad - pin.rotation_rad
    return pose.mirrored == pin.mirrored and math.isclose(math.cos(turned), 1.0, abs_tol=1e-9)


def _for_fold(pose: Pose) -> Pose:
    """The same way up, with the fold edge at the upper edge of the stretch instead."""
    return replace(pose, mirrored=not pose.mirrored)


def _has_place(way: Way) -> bool:
    """Whether any place across leaves the outline in its lane."""
    low, high = min(y for _, y in way.outline), max(y for _, y in way.outline)
    if way.y is None:
        return high - low <= way.high_mm - way.low_mm + _SLACK_MM
    first = way.y.offset_mm
    if way.y.step_mm:
        first += math.ceil((way.low_mm - low - _SLACK_MM - first) / way.y.step_mm) * way.y.step_mm
    return first + low >= way.low_mm - _SLACK_MM and first + high <= way.high_mm + _SLACK_MM
