"""Cloth folded only as far as its half pieces need: how deep, and what is cut from which lane.

The flap is as deep as the widest half piece, or deeper, so that another piece finds room beside
it. What is cut in pairs may lie on the flap at once, or copy by copy in the single layer beside
it; half pieces lie on the fold, or are opened out and lie there too, for on the fold they only
follow each other. The stretch ends where the fuller lane does, so copies are shared out until
both end alike.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from clothwise.cutting.fabric import Fabric
from clothwise.cutting.item import CutItem, opened
from clothwise.cutting.layout import (
    Cut,
    Placement,
    deepest_flap_mm,
    washed_selvage_mm,
)
from clothwise.cutting.parts import (
    Part,
    across_mm,
    along_mm,
    paired,
    part_area_mm2,
    single_parts,
    spare_parts,
)

__all__ = ["DEPTH_STEP_MM", "Division", "divisions", "pinned_depth_mm"]

DEPTH_STEP_MM = 5.0
"""The flap with its selvage is a multiple of this deep: nobody folds finer. Our own choice."""
_USUAL_COVER = 0.85
"""Share of a lane that is covered where pieces fit well; only compares ways. Our own choice."""
_SHARES = (1.0, 1.08, 0.92)
"""How much more of the flap than of the single layer is reckoned to be covered: three guesses, as
only a search can tell. Our own choice."""
_PASSES = 40
_SLACK_MM = 1e-6


@dataclass(frozen=True)
class Division:
    """How deep the flap is, and what is cut from where.

    Attributes:
        depth_mm: of the flap, without its selvage.
        flap: what is cut through both layers.
        beside: what is cut from the single layer beside the flap.
        after: copies that are too wide for either.
        length_mm: about how long the stretch becomes; only to compare with.
        covered_mm: how long the fuller lane would be without gaps; to compare with as well.
    """

    depth_mm: float
    flap: tuple[Part, ...]
    beside: tuple[Part, ...]
    after: tuple[CutItem, ...]
    length_mm: float
    covered_mm: float


def pinned_depth_mm(pins: Iterable[Placement]) -> float | None:
    """How deep the flap was where copies were pinned; None if none is."""
    return next((pin.flap_mm for pin in pins if pin.flap_mm is not None), None)


def divisions(
    items: Sequence[CutItem], fabric: Fabric, between_mm: float, pins: Sequence[Placement] = ()
) -> tuple[Division, ...]:
    """Return ways to fold and divide, the most promising first; at least one.

    Args:
        items: the copies.
        fabric: what they are cut from.
        between_mm: cloth between pieces.
        pins: placements that stay; they tell the depth, and from which lane their copies come.
    """
    dividing = _Dividing(items, fabric, between_mm, pins)
    pinned_mm = pinned_depth_mm(pins)
    depths = dividing.depths() if pinned_mm is None else (pinned_mm,)
    found: dict[tuple[float, frozenset[tuple[str, ...]]], Division] = {}
    for depth in reversed(depths):
        for share in _SHARES:
            each = dividing.at(depth, share)
            # With nothing beside it, the deepest flap is the best.
            key = depth if each.beside else 0.0, frozenset(part.item_ids for part in each.flap)
            found.setdefault(key, each)
    ways = [each for each in found.values() if each.flap] or list(found.values())
    return tuple(sorted(ways, key=lambda each: (each.length_mm, each.covered_mm)))


@dataclass(frozen=True, slots=True)
class _Load:
    """What parts ask of a lane: cloth, and the lengths of what lies one behind another.

    Attributes:
        area_mm2: of the outlines.
        fold_mm: of edges on the fold.
        longest_mm: the longest part, along.
        sizes: along and across of each part.
    """

    area_mm2: float = 0.0
    fold_mm: float = 0.0
    longest_mm: float = 0.0
    sizes: tuple[tuple[float, float], ...] = ()

    def __add__(self, other: _Load) -> _Load:
        return _Load(
            self.area_mm2 + other.area_mm2,
            self.fold_mm + other.fold_mm,
            max(self.longest_mm, other.longest_mm),
            self.sizes + other.sizes,
        )

    def length_mm(self, width_mm: float, cover: float) -> tuple[float, float]:
        """About how long a lane of this width becomes, and how long it is for its cloth alone."""
        if not self.sizes:
            return 0.0, 0.0
        wide = sum(along for along, across in self.sizes if 2 * across > width_mm)
        covered = self.area_mm2 / (width_mm * cover)
        return max(covered, cover * wide, self.fold_mm, self.longest_mm), covered


def _load(parts: Iterable[Part]) -> _Load:
    total = _Load()
    for part in parts:
        edge = part.item.fold_edge if part.cut is Cut.ON_FOLD else None
        along = along_mm(part)
        fold = math.dist(*edge) if edge else 0.0
        total += _Load(part_area_mm2(part), fold, along, ((along, across_mm(part)),))
    return total


@dataclass(frozen=True)
class _Movable:
    """Copies that may be cut from either lane: as one part from the flap, singly beside it."""

    flap: Part
    singles: tuple[Part, ...]

    @cached_property
    def loads(self) -> tuple[_Load, _Load]:
        """On the flap, and beside it."""
        return _load([self.flap]), _load(self.singles)

    @cached_property
    def widths_mm(self) -> tuple[float, float]:
        """Of lanes in which it fits: the flap, the single layer."""
        return across_mm(self.flap), max(across_mm(part) for part in self.singles)


@dataclass(frozen=True)
class _Dividing:
    """What the ways to divide have in common."""

    items: Sequence[CutItem]
    fabric: Fabric
    between_mm: float
    pins: Sequence[Placement]

    @cached_property
    def _paired(self) -> tuple[list[Part], list[CutItem]]:
        return paired(self.items, self.fabric.nap)

    @cached_property
    def _movable(self) -> list[_Movable]:
        """Half pieces, pairs, and copies without a partner, of which the flap yields a second."""
        by_id = {item.id: item for item in self.items}
        doubled, alone = self._paired
        return [
            _Movable(part, self._singly([opened(by_id[item_id]) for item_id in part.item_ids]))
            for part in (*doubled, *spare_parts(alone, self.fabric.nap))
        ]

    def _widths_mm(self, cut: Cut) -> list[float]:
        """Of what is cut so from the flap."""
        return sorted({each.widths_mm[0] for each in self._movable if each.flap.cut is cut})

    def _singly(self, copies: Sequence[CutItem]) -> tuple[Part, ...]:
        return tuple(
            single_parts(copies, self.fabric.nap, either_side=self.fabric.wrong_side_usable)
        )

    def depths(self) -> tuple[float, ...]:
        """Depths worth a try: what half pieces need, also with another piece beside them."""
        halves, pairs = self._widths_mm(Cut.ON_FOLD), self._widths_mm(Cut.PAIR)
        wanted = {*halves, *pairs, *(2 * pair + self.between_mm for pair in pairs)}
        wanted |= {half + self.between_mm + pair for half in halves for pair in pairs}
        deepest = deepest_flap_mm(self.fabric)
        rounded = {self._rounded(depth) for depth in wanted}
        return tuple(sorted(depth for depth in rounded if depth <= deepest)) or (deepest,)

    def _rounded(self, depth_mm: float) -> float:
        """The next depth that can be measured; the deepest there is if that is too much."""
        selvage, deepest = washed_selvage_mm(self.fabric), deepest_flap_mm(self.fabric)
        steps = math.ceil((depth_mm + selvage) / DEPTH_STEP_MM - _SLACK_MM)
        rounded = steps * DEPTH_STEP_MM - selvage
        return min(rounded, deepest) if depth_mm <= deepest + _SLACK_MM else rounded

    def at(self, depth_mm: float, share: float) -> Division:
        """Share the copies out for one depth, so that both lanes end about alike."""
        width_mm = self.fabric.washed_width_mm
        beside_mm = max(0.0, width_mm - 2 * depth_mm - washed_selvage_mm(self.fabric))
        flap, beside = list[Part](), list[Part]()
        free: list[_Movable] = []
        after: list[CutItem] = []
        for each in self._movable:
            fits = [
                across <= room + _SLACK_MM
                for across, room in zip(each.widths_mm, (depth_mm, beside_mm), strict=True)
            ]
            on_flap, single = self._as_pinned(each, fits)
            if on_flap and single:
                free.append(each)
            elif on_flap:
                flap.append(each.flap)
            elif single:
                beside += each.singles
            else:
                after += [part.item for part in each.singles]
        lanes = _Lanes(depth_mm, beside_mm, share, (_load(flap), _load(beside)))
        lies = _shared_out([each.loads for each in free], lanes)
        for each, on_flap in zip(free, lies, strict=True):
            if on_flap:
                flap.append(each.flap)
            else:
                beside += each.singles
        length, covered = lanes.length_mm([each.loads for each in free], lies)
        length += _load(self._singly(after)).length_mm(width_mm, _USUAL_COVER)[0]
        return Division(depth_mm, tuple(flap), tuple(beside), tuple(after), length, covered)

    def _as_pinned(self, each: _Movable, fits: Sequence[bool]) -> Sequence[bool]:
        """Where copies may lie, if one of them is pinned in one of the lanes."""
        for pin in self.pins:
            if not set(pin.item_ids).isdisjoint(each.flap.item_ids):
                return pin.cut is not Cut.SINGLE, pin.cut is Cut.SINGLE
        return fits


@dataclass(frozen=True, slots=True)
class _Lanes:
    """Both lanes, and what lies in them at any rate.

    Attributes:
        flap_mm, beside_mm: how wide they are.
        share: how much more of the flap is covered.
        fixed: what lies there.
    """

    flap_mm: float
    beside_mm: float
    share: float
    fixed: tuple[_Load, _Load]

    def length_mm(
        self, loads: Sequence[tuple[_Load, _Load]], on_flap: Sequence[bool]
    ) -> tuple[float, float]:
        """The longer lane, and the fuller one; less is better."""
        flap, beside = self.fixed
        for load, lies in zip(loads, on_flap, strict=True):
            if lies:
                flap += load[0]
            else:
                beside += load[1]
        one = flap.length_mm(self.flap_mm, _USUAL_COVER * self.share)
        other = beside.length_mm(self.beside_mm, _USUAL_COVER)
        return max(one[0], other[0]), max(one[1], other[1])


def _shared_out(loads: Sequence[tuple[_Load, _Load]], lanes: _Lanes) -> list[bool]:
    """Whether each lies on the flap, so that the longer lane is as short as may be.

    One or two change their lane as long as that helps.
    """
    best = [True] * len(loads)
    least = lanes.length_mm(loads, best)
    for _ in range(_PASSES):
        tried = [(lanes.length_mm(loads, each), each) for each in _changed(best)]
        length, changed = min(tried, default=(least, best))
        if length >= least:
            break
        least, best = length, changed
    return best


def _changed(lies: Sequence[bool]) -> Iterator[list[bool]]:
    """One changes its lane, or two of different lanes change places."""
    for n in range(len(lies)):
        yield [on != (n == k) for k, on in enumerate(lies)]
        for m in range(n):
            if lies[n] != lies[m]:
                yield [on != (k in (n, m)) for k, on in enumerate(lies)]
