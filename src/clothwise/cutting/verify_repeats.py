"""Judges whether chosen points fall on one place of the cloth's pattern, trusting no search.

It unfolds the cloth with its printed side up, draws the lines of the pattern on it, and measures
from each point to the next line: along, the way the grain of the copy points, and to the left of
that. Where these distances agree, the pattern runs on over the seam between the copies.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import XY, CutItem
from clothwise.cutting.layout import Cut, LayerPlan, Layers, Layout, Placement, Section
from clothwise.cutting.repeat import MatchPoint
from clothwise.cutting.verify import LayoutFault, LayoutFaultCode

__all__ = ["PHASE_TOLERANCE_MM", "ToLine", "lines_met", "phase_faults", "repeat_faults"]

PHASE_TOLERANCE_MM = 0.5
"""How far apart the lines of two copies may lie that meet at a point; half the width of a thread
of coarse cloth. Our own choice; the same as asked of drafted lines that agree."""


@dataclass(frozen=True, slots=True)
class ToLine:
    """From a matched point to the next line of the pattern, mm; None where none is matched.

    Attributes:
        match: the point.
        along_mm: in the direction of the grain, to the next crosswise line.
        across_mm: to the left of that, to the next lengthwise line; infinite if the cloth lies so
            that this cannot be told.
        border_mm: how far beyond the line of the border.
    """

    match: MatchPoint
    along_mm: float | None
    across_mm: float | None
    border_mm: float | None = None


def repeat_faults(
    layout: Layout, items: Iterable[CutItem], matches: Sequence[MatchPoint]
) -> tuple[LayoutFault, ...]:
    """Return a fault for each group of points that does not meet on the pattern of the cloth.

    Args:
        layout: to be judged.
        items: the copies that were to be cut.
        matches: the points that were to meet; those of other copies are left out.
    """
    return phase_faults(layout.sections, layout.fabric, layout.plan, items, matches)


def phase_faults(
    sections: Sequence[Section],
    fabric: Fabric,
    plan: LayerPlan,
    items: Iterable[CutItem],
    matches: Sequence[MatchPoint],
) -> tuple[LayoutFault, ...]:
    """Return the same of stretches that are no layout yet."""
    faults: list[LayoutFault] = []
    groups: dict[str, list[ToLine]] = {}
    for found in lines_met(sections, fabric, plan, items, matches):
        groups.setdefault(found.match.group, []).append(found)
    along_mm = fabric.repeat.along_mm * (1 - fabric.shrinkage_along)
    across_mm = fabric.repeat.across_mm * (1 - fabric.shrinkage_across)
    for members in groups.values():
        faults += _group_faults(members, along_mm, across_mm)
    return tuple(faults)


def lines_met(
    sections: Sequence[Section],
    fabric: Fabric,
    plan: LayerPlan,
    items: Iterable[CutItem],
    matches: Sequence[MatchPoint],
) -> Iterator[ToLine]:
    """Yield where each matched point came to lie on the pattern of the cloth."""
    by_id = {item.id: item for item in items}
    laid = {}
    cloth_mm = 0.0
    for section in sections:
        for placement in section.placements:
            measuring = _Measuring(fabric, plan, section, cloth_mm, placement, by_id)
            laid.update(dict.fromkeys(placement.item_ids, measuring))
        cloth_mm += section.length_mm * (2 if section.layers is Layers.FACED else 1)
    for match in matches:
        if match.item_id in laid and match.item_id in by_id:
            yield laid[match.item_id].to_line(match)


def _group_faults(
    members: Sequence[ToLine], along_mm: float, across_mm: float
) -> Iterator[LayoutFault]:
    along = [(each.match, each.along_mm) for each in members if each.along_mm is not None]
    across = [(each.match, each.across_mm) for each in members if each.across_mm is not None]
    yield from _disagreeing(along, along_mm, [match.phase_along for match, _ in along])
    yield from _disagreeing(across, across_mm, [match.phase_across for match, _ in across])
    even = [(match, 2 * to_mm) for match, to_mm in across if match.even]
    yield from _disagreeing(even, across_mm, [0.0 for _ in even])
    for each in members:
        if each.border_mm is not None and not abs(each.border_mm) <= PHASE_TOLERANCE_MM:
            yield LayoutFault(
                LayoutFaultCode.BORDER, (each.match.item_id,), each.border_mm, PHASE_TOLERANCE_MM
            )


def _disagreeing(
    points: Sequence[tuple[MatchPoint, float]], repeat_mm: float, asked: Sequence[float | None]
) -> Iterator[LayoutFault]:
    """Compare every point with every other, and with the phase that was asked for."""
    worst_mm = 0.0
    ids: tuple[str, ...] = ()
    for i, (match, to_mm) in enumerate(points):
        others = [(other.item_id, far_mm) for other, far_mm in points[:i]]
        phase = asked[i]
        if phase is not None:  # the line lies as far before the point as the phase says
            others.append((match.item_id, -phase * repeat_mm))
        for other_id, far_mm in others:
            apart = _apart_mm(to_mm, far_mm, repeat_mm)
            if not apart <= worst_mm:
                worst_mm, ids = apart, tuple(dict.fromkeys((other_id, match.item_id)))
    if not worst_mm <= PHASE_TOLERANCE_MM:
        yield LayoutFault(LayoutFaultCode.PHASE, ids, worst_mm, PHASE_TOLERANCE_MM)


def _apart_mm(one_mm: float, other_mm: float, repeat_mm: float) -> float:
    if not math.isfinite(one_mm) or not math.isfinite(other_mm):
        return math.inf
    return abs(math.remainder(one_mm - other_mm, repeat_mm))


@dataclass(frozen=True)
class _Measuring:
    """One cut on its stretch of cloth."""

    fabric: Fabric
    plan: LayerPlan
    section: Section
    starts_mm: float
    placement: Placement
    items: Mapping[str, CutItem]

    def to_line(self, match: MatchPoint) -> ToLine:
        point = _own_point(match, self.placement, self.items)
        (x, y), grain = _laid(point, self.placement, self.items[self.placement.item_ids[0]])
        repeat, washed_across = self.fabric.repeat, 1 - self.fabric.shrinkage_across
        if match.on_border:
            return ToLine(match, None, None, y - repeat.border_mm * washed_across)
        along = across = None
        if match.along and repeat.along_mm:
            washed_along = 1 - self.fabric.shrinkage_along
            at, forward = self._on_cloth(match.item_id, x, grain[0] > 0)
            start, step = repeat.start_along_mm * washed_along, repeat.along_mm * washed_along
            along = _to_next(at, start, step, forward=forward)
        if match.across and repeat.across_mm:
            across = self._across(match.item_id, y, grain[0])
        return ToLine(match, along, across)

    def _on_cloth(self, copy: str, x: float, forward: bool) -> tuple[float, bool]:
        """Where along the cloth a point lies, and whether the grain points away from its start.

        Of two lengths that lie on each other the upper one is the later one: folded back, or cut
        off, turned around and laid on.
        """
        at = x - self.section.start_mm + self.starts_mm
        if self.section.layers is not Layers.FACED:
            return at, forward
        if not _printed_down(copy, self.placement, self.items):
            return at, forward
        length = self.section.length_mm
        if self.plan is LayerPlan.CROSSWISE:
            return 2 * (self.starts_mm + length) - at, not forward
        return at + length, forward

    def _across(self, copy: str, y: float, grain_along: float) -> float:
        """Unfold the cloth with its printed side up, then go to the left of the grain."""
        if self.section.layers not in (Layers.SINGLE, Layers.DOUBLE):
            return math.inf
        if self.section.layers is Layers.SINGLE and self.plan is LayerPlan.FOLDED:
            y -= self.fabric.washed_width_mm / 2  # from the fold, which is opened out
        left_is_up = grain_along > 0
        if _printed_down(copy, self.placement, self.items):
            if self.section.layers is Layers.DOUBLE:
                y = -y  # the upper layer, unfolded
            else:
                left_is_up = not left_is_up  # seen from below
        washed = 1 - self.fabric.shrinkage_across
        repeat = self.fabric.repeat
        start, step = repeat.start_across_mm * washed, repeat.across_mm * washed
        return _to_next(y, start, step, forward=left_is_up)


def _own_point(match: MatchPoint, placement: Placement, items: Mapping[str, CutItem]) -> XY:
    """The point in the outline that was drawn round; turned over, if the copy comes out so."""
    item = items[match.item_id]
    first = items[placement.item_ids[0]]
    if (
        placement.cut is not Cut.PAIR
        or match.item_id == first.id
        or item.mirrored != first.mirrored
    ):
        return match.point
    grain = (-math.sin(item.grain_angle_rad), math.cos(item.grain_angle_rad))
    beside = [grain[1] * x - grain[0] * y for x, y in item.outline]
    off = grain[1] * match.point[0] - grain[0] * match.point[1]
    shift = min(beside) + max(beside) - 2 * off
    return match.point[0] + shift * grain[1], match.point[1] - shift * grain[0]


def _laid(point: XY, placement: Placement, drawn: CutItem) -> tuple[XY, XY]:
    """Return where a point lies on the cloth, and which way the grain of the piece points."""
    matrix = _matrix(placement)
    grain = (-math.sin(drawn.grain_angle_rad), math.cos(drawn.grain_angle_rad))
    at = _times(matrix, point)
    return (
        at[0] + placement.translation[0],
        at[1] + placement.translation[1],
    ), _times(matrix, grain)


def _matrix(placement: Placement) -> tuple[XY, XY]:
    cos, sin = math.cos(placement.rotation_rad), math.sin(placement.rotation_rad)
    side = -1.0 if placement.mirrored else 1.0
    return (cos * side, -sin), (sin * side, cos)


def _times(matrix: tuple[XY, XY], vector: XY) -> XY:
    (a, b), (c, d) = matrix
    return a * vector[0] + b * vector[1], c * vector[0] + d * vector[1]


def _printed_down(copy: str, placement: Placement, items: Mapping[str, CutItem]) -> bool:
    """Whether the layer that this copy comes from shows its other side."""
    first = items[placement.item_ids[0]]
    down = first.mirrored != placement.mirrored
    return down if copy == first.id else not down


def _to_next(at_mm: float, start_mm: float, repeat_mm: float, *, forward: bool) -> float:
    """Return how far it is to the next line, counted out one by one from the first."""
    number = math.floor((at_mm - start_mm) / repeat_mm)
    before, after = start_mm + number * repeat_mm, start_mm + (number + 1) * repeat_mm
    return after - at_mm if forward else at_mm - before
