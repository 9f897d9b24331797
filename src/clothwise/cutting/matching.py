"""Where copies may lie on striped or checked cloth, so that chosen points meet on its pattern.

A point of a copy falls on a place of the repeat, its phase, measured from a line of the pattern in
the direction of the piece: along, the way its grain points; across, to the left of that as seen
from the printed side. Measured so, the pattern runs on over a seam if the phases of both copies
agree, also where a copy is turned by half, or lies in the lower layer of folded cloth. Patterns
that look otherwise when they are turned ask for cloth with a nap.

Of each copy follows one phase, that of its origin; see `Phases` for what ties them together.
What is left to choose is tried by whoever packs: `Matching.first`, `by_chance`, `changed`.
"""

from __future__ import annotations

import math
import random
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, replace

from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import XY, CutItem
from clothwise.cutting.layout import Cut, LayerPlan, Layers, Placement, on_fabric
from clothwise.cutting.parts import Part, Pose
from clothwise.cutting.phases import Phases, Root
from clothwise.cutting.placing.field import Steps
from clothwise.cutting.repeat import MatchPoint, Repeat
from clothwise.cutting.shrinkage import after_washing_mm
from clothwise.errors import CuttingError

__all__ = [
    "CLOSING_TOLERANCE_MM",
    "Chosen",
    "Matching",
    "PatternCannotMeet",
    "matching",
    "that_can_meet",
    "washed_repeat",
    "whole_repeats_mm",
]

CLOSING_TOLERANCE_MM = 0.2
"""By how much a point may miss, where points meet in a ring and the last follows from the others.

Less than half of what the verifier allows between two points of a group. Our own choice.
"""
_LIES = {
    Layers.TO_MIDDLE: "both its selvages are folded to the middle",
    Layers.FACED: "two lengths of its whole width lie on each other",
    Layers.PARTLY: "one selvage is folded over, as deep as saves most cloth",
}
"""How cloth lies on which lines along it cannot meet."""
_FINEST_CHOICE = 16  # places of a repeat that are tried for a phase that may be anything


class PatternCannotMeet(CuttingError):
    """A group of points that cannot meet as well as others do.

    Attributes:
        group: which one.
        missed_mm: by how much it would be off.
    """

    def __init__(self, group: str, missed_mm: float, label: str) -> None:
        super().__init__(
            f"the pattern of the cloth cannot run on at {group} as well",
            where=label,
            how_much=f"it would be {missed_mm:.1f} mm off, since other points are matched too",
            what_to_do="Match fewer points: leave this group out, or one of those that it meets.",
        )
        self.group = group
        self.missed_mm = missed_mm


@dataclass(frozen=True, slots=True)
class Chosen:
    """The phases that were chosen, by root, along and across."""

    along: Mapping[Hashable, float]
    across: Mapping[Hashable, float]


@dataclass(frozen=True)
class Matching:
    """Where copies may lie; made by `matching`.

    Attributes:
        repeat: of the washed cloth.
        start_across_mm: where the first lengthwise line lies, in each kind of stretch.
    """

    repeat: Repeat
    start_across_mm: Mapping[Layers, float]
    _along: Phases
    _across: Phases
    _on_border: Mapping[str, float]

    @property
    def is_free(self) -> bool:
        """Whether anything is left to choose."""
        return any(self._open_roots())

    def binds(self, part: Part) -> bool:
        """Whether a part may not lie just anywhere."""
        copy = part.item_ids[0]
        return copy in self._along or copy in self._across or copy in self._on_border

    def binds_along(self, part: Part) -> bool:
        """Whether crosswise lines must meet on a part."""
        return part.item_ids[0] in self._along

    def first(self) -> Chosen:
        """Everything on a line of the pattern, as far as it may."""
        return Chosen(
            *(
                {root.key: root.places[0] if root.places else 0.0 for root in each}
                for each in self._open_roots()
            )
        )

    def by_chance(self, chance: random.Random) -> Chosen:
        """Every phase that may be chosen, chosen by chance."""
        return Chosen(
            *({root.key: _drawn(root, chance) for root in each} for each in self._open_roots())
        )

    def changed(self, chosen: Chosen, chance: random.Random) -> Chosen:
        """One of the phases chosen anew; the same if nothing may be chosen."""
        along, across = self._open_roots()
        if not along and not across:
            return chosen
        root = chance.choice([*along, *across])
        drawn = {root.key: _drawn(root, chance)}
        if root in along:
            return replace(chosen, along={**chosen.along, **drawn})
        return replace(chosen, across={**chosen.across, **drawn})

    def steps(
        self, part: Part, layers: Layers, pose: Pose, chosen: Chosen
    ) -> tuple[Steps | None, Steps | None]:
        """Return where the origin of a part may lie along and across; None for anywhere.

        The origin is that of the drafted outline, which is turned about it. A half piece on the
        fold has no choice across, so None is said of it. Places along count from the start of the
        whole cloth, also in a stretch that does not begin there.
        """
        copy, hand = part.item_ids[0], _hand(part.item, pose)
        turn = -1.0 if pose.half_turn else 1.0
        along = across = None
        if copy in self._along:
            phase = self._along.phase(copy, chosen.along)
            step = self.repeat.along_mm
            along = Steps((self.repeat.start_along_mm + turn * phase * step) % step, step)
        if copy in self._on_border:
            across = Steps(self.repeat.border_mm - turn * hand * self._on_border[copy])
        elif copy in self._across and part.cut is not Cut.ON_FOLD:
            phase = self._across.phase(copy, chosen.across)
            step = self.repeat.across_mm
            across = Steps((self.start_across_mm[layers] + turn * hand * phase * step) % step, step)
        return along, across

    def _open_roots(self) -> tuple[list[Root], list[Root]]:
        """What may be chosen; the places of a root are as given, or none for anything."""
        along, across = (
            [root for root in phases.roots() if len(root.places) != 1]
            for phases in (self._along, self._across)
        )
        return along, across


def washed_repeat(fabric: Fabric) -> Repeat:
    """Return the repeat as it is on washed cloth, on which pieces are laid."""
    repeat, along, across = fabric.repeat, fabric.shrinkage_along, fabric.shrinkage_across
    return Repeat(
        along_mm=after_washing_mm(repeat.along_mm, along),
        across_mm=after_washing_mm(repeat.across_mm, across),
        start_along_mm=after_washing_mm(repeat.start_along_mm, along),
        start_across_mm=after_washing_mm(repeat.start_across_mm, across),
        border_mm=after_washing_mm(repeat.border_mm, across),
    )


def whole_repeats_mm(length_mm: float, repeat_mm: float) -> float:
    """Return a length that is rounded up to whole repeats (check value Y13).

    >>> whole_repeats_mm(96, 27)
    108.0
    """
    return float(math.ceil(length_mm / repeat_mm - 1e-9) * repeat_mm)


def matching(
    stretches: Sequence[tuple[Layers, Sequence[Part]]],
    matches: Sequence[MatchPoint],
    items: Mapping[str, CutItem],
    fabric: Fabric,
    plan: LayerPlan,
    pins: Sequence[Placement] = (),
) -> Matching:
    """Work out where the parts of a layout may lie, so that the points of each group meet.

    Args:
        stretches: how the cloth lies in each, and what lies there.
        matches: points of copies; those of copies that are not laid here are left out.
        items: the copies, by id.
        fabric: with its repeat.
        plan: of the whole layout.
        pins: placements that stay; what meets them follows.

    Raises:
        PatternCannotMeet: points that cannot all meet.
        CuttingError: double cloth that cannot lie line on line.
    """
    repeat = washed_repeat(fabric)
    building = _Building(items, fabric, repeat, plan, stretches)
    for pin in pins:
        building.pin(pin)
    for match in matches:
        building.add(match)
    return Matching(
        repeat,
        _starts_across(fabric, repeat, plan),
        building.along,
        building.across,
        building.on_border,
    )


def that_can_meet(
    stretches: Sequence[tuple[Layers, Sequence[Part]]],
    matches: Sequence[MatchPoint],
    items: Mapping[str, CutItem],
    fabric: Fabric,
    plan: LayerPlan,
    pins: Sequence[Placement] = (),
) -> tuple[tuple[MatchPoint, ...], tuple[PatternCannotMeet, ...]]:
    """Return the points that can all meet, group after group, and why others were left out.

    Args:
        stretches, matches, items, fabric, plan, pins: as for `matching`; of the points, what comes
            first goes first.

    Raises:
        CuttingError: double cloth that cannot lie line on line.
    """
    kept: list[MatchPoint] = []
    refused = []
    for group in dict.fromkeys(match.group for match in matches):
        more = [match for match in matches if match.group == group]
        try:
            matching(stretches, [*kept, *more], items, fabric, plan, pins)
        except PatternCannotMeet as error:
            refused.append(error)
        else:
            kept += more
    return tuple(kept), tuple(refused)


class _Building:
    """Ties copies to groups, one match after the other; pairs and fold edges come first."""

    def __init__(
        self,
        items: Mapping[str, CutItem],
        fabric: Fabric,
        repeat: Repeat,
        plan: LayerPlan,
        stretches: Sequence[tuple[Layers, Sequence[Part]]],
    ) -> None:
        self._items = items
        self._fabric = fabric
        self._repeat = repeat
        self._starts = _starts_across(fabric, repeat, plan)
        self._laid = {
            copy: (layers, part)
            for layers, parts in stretches
            for part in parts
            for copy in part.item_ids
        }
        self._seen: set[tuple[str, str]] = set()
        self.along = Phases(CLOSING_TOLERANCE_MM / (repeat.along_mm or math.inf))
        self.across = Phases(CLOSING_TOLERANCE_MM / (repeat.across_mm or math.inf))
        self.on_border: dict[str, float] = {}

    def pin(self, placement: Placement) -> None:
        """Note where on the pattern a copy lies that stays where it is."""
        copy = placement.item_ids[0]
        if copy not in self._laid:
            return
        layers, _ = self._laid[copy]
        item = self._items[copy]
        grain = (-math.sin(item.grain_angle_rad), math.cos(item.grain_angle_rad))
        (tail, _), (head, _) = on_fabric(placement, [(0.0, 0.0), grain])
        turn = 1.0 if head > tail else -1.0
        hand = 1.0 if placement.mirrored == item.mirrored else -1.0
        x, y = placement.translation
        if self._repeat.along_mm:
            off_mm = x - self._repeat.start_along_mm
            self.along.fix(copy, turn * off_mm / self._repeat.along_mm)
        if self._repeat.across_mm and layers in (Layers.SINGLE, Layers.DOUBLE):
            off_mm = y - self._starts[layers]
            self.across.fix(copy, turn * hand * off_mm / self._repeat.across_mm)

    def add(self, match: MatchPoint) -> None:
        if match.item_id not in self._laid:
            return
        layers, part = self._laid[match.item_id]
        along_mm, left_mm = _along_and_left(self._items[match.item_id], match.point)
        if match.on_border:
            self._add_to_border(match, layers, left_mm)
            return
        if match.along and self._repeat.along_mm:
            self._join_pair(self.along, part, "along")
            self._tie(self.along, match, along_mm, self._repeat.along_mm, match.phase_along)
        if match.across and self._repeat.across_mm:
            self._join_pair(self.across, part, "across")
            self._put_on_fold(part, layers)
            self._tie(self.across, match, left_mm, self._repeat.across_mm, match.phase_across)
            if match.even:
                missed = self.across.make_even(_group(match))
                self._refuse(missed, match, self._repeat.across_mm)

    def _tie(
        self, phases: Phases, match: MatchPoint, at_mm: float, repeat_mm: float, asked: float | None
    ) -> None:
        missed = phases.tie(_group(match), match.item_id, offset=-at_mm / repeat_mm)
        self._refuse(missed, match, repeat_mm)
        if asked is not None:
            self._refuse(phases.fix(_group(match), asked), match, repeat_mm)

    def _join_pair(self, phases: Phases, part: Part, direction: str) -> None:
        """Both copies of a pair lie at one place: along alike, across they mirror each other."""
        if part.cut is not Cut.PAIR or (direction, part.item_ids[0]) in self._seen:
            return
        self._seen.add((direction, part.item_ids[0]))
        one, other = part.item_ids
        if direction == "along":
            phases.tie(one, other)
            return
        twice_mm = 0.0
        if self._items[one].mirrored == self._items[other].mirrored:
            twice_mm = -2 * _axis_left_mm(self._items[one])  # the second comes out turned over
        phases.tie(one, other, sign=-1, offset=twice_mm / self._repeat.across_mm)

    def _put_on_fold(self, part: Part, layers: Layers) -> None:
        """On double cloth the lines of both layers must lie on each other; then a fold is even."""
        if layers is Layers.SINGLE:
            return
        if layers is not Layers.DOUBLE:
            raise CuttingError(
                "the lengthwise lines of this fabric cannot be matched as it lies",
                where=f"{part.item.label} on {self._fabric.name}",
                how_much=_LIES[layers],
                what_to_do="Lay it in a single layer, or folded lengthwise on a line.",
            )
        start = self._starts[layers] / self._repeat.across_mm
        beside = abs((2 * start + 0.5) % 1.0 - 0.5) * self._repeat.across_mm / 2
        if beside > CLOSING_TOLERANCE_MM:
            raise CuttingError(
                "the lines of both layers do not lie on each other",
                where=self._fabric.name,
                how_much=f"the fold is {beside:.1f} mm beside a line, or the middle of two lines",
                what_to_do="Fold the fabric on a lengthwise line or midway between two and state "
                "start_across from there, or lay it in a single layer.",
            )
        if part.cut is Cut.ON_FOLD and ("fold", part.item.id) not in self._seen:
            self._seen.add(("fold", part.item.id))
            assert part.item.fold_edge is not None
            left_mm = _along_and_left(part.item, part.item.fold_edge[0])[1]
            self.across.fix(part.item.id, start - left_mm / self._repeat.across_mm)

    def _add_to_border(self, match: MatchPoint, layers: Layers, left_mm: float) -> None:
        if not self._repeat.border_mm:
            return
        if layers is not Layers.SINGLE:
            raise CuttingError(
                "a border runs along one selvage only",
                where=self._fabric.name,
                how_much=f"it lies {layers.value}",
                what_to_do="Lay this fabric in a single layer.",
            )
        known = self.on_border.setdefault(match.item_id, left_mm)
        missed_mm = abs(known - left_mm)
        if missed_mm > CLOSING_TOLERANCE_MM:
            raise PatternCannotMeet(match.group, missed_mm, self._items[match.item_id].label)

    def _refuse(self, missed: float, match: MatchPoint, repeat_mm: float) -> None:
        if missed:
            raise PatternCannotMeet(
                match.group, missed * repeat_mm, self._items[match.item_id].label
            )


def _starts_across(fabric: Fabric, repeat: Repeat, plan: LayerPlan) -> dict[Layers, float]:
    """Where the first lengthwise line lies; opened out, folded cloth has its fold in the middle."""
    opened = fabric.washed_width_mm / 2 if plan is LayerPlan.FOLDED else 0.0
    return {
        layers: repeat.start_across_mm + (opened if layers is Layers.SINGLE else 0.0)
        for layers in Layers
    }


def _group(match: MatchPoint) -> Hashable:
    return ("group", match.group)


def _hand(item: CutItem, pose: Pose) -> float:
    """1 if the copy comes from a layer whose printed side is seen, else -1."""
    return 1.0 if pose.mirrored == item.mirrored else -1.0


def _along_and_left(item: CutItem, point: XY) -> tuple[float, float]:
    """Return how far a point lies along the grain, and to the left of it on the printed side."""
    sin, cos = math.sin(item.grain_angle_rad), math.cos(item.grain_angle_rad)
    x, y = point
    left = -cos * x - sin * y
    return cos * y - sin * x, -left if item.mirrored else left


def _axis_left_mm(item: CutItem) -> float:
    """Return where the axis of a symmetric copy lies, to the left of its origin."""
    lefts = [_along_and_left(item, point)[1] for point in item.outline]
    return (min(lefts) + max(lefts)) / 2


def _drawn(root: Root, chance: random.Random) -> float:
    if root.places:
        return chance.choice(root.places)
    return chance.randrange(_FINEST_CHOICE) / _FINEST_CHOICE
