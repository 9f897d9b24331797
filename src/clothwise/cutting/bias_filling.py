"""Fills the gaps of a layout with bias strips, and adds length only if that is too little."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from shapely import Polygon

from clothwise.cutting.bias_block import SHORTEST_PART_MM
from clothwise.cutting.bias_gaps import FreeStrip, Gaps, strip_outline
from clothwise.cutting.bias_needs import BiasNeed
from clothwise.cutting.bias_yield import join_length_mm
from clothwise.cutting.item import CutItem
from clothwise.cutting.layers import flaws_on
from clothwise.cutting.layout import (
    Cut,
    Layers,
    Layout,
    Placement,
    Section,
    lanes_mm,
    placed_outline,
    turn_rad,
)
from clothwise.errors import CuttingError

__all__ = ["Filled", "FilledStrip", "extended"]

_STEP_MM = 10.0  # in which the cloth is lengthened
_MOST_EXTRA_MM = 20_000.0
_ENOUGH_MM = 1e-6


@dataclass(frozen=True, slots=True)
class FilledStrip:
    """A strip that was found: the needs it is a part of, and how it is cut."""

    needs: tuple[BiasNeed, ...]
    length_mm: float
    items: tuple[CutItem, ...]
    placement: Placement
    section: int


@dataclass(frozen=True, slots=True)
class Filled:
    """The stretches of cloth with strips in them, and the strips."""

    sections: tuple[Section, ...]
    strips: tuple[FilledStrip, ...]


_Lanes = tuple[Gaps, ...]


@dataclass
class _Wanted:
    """One need, or two that mirror each other, and what is still missing of each."""

    rising: BiasNeed | None
    falling: BiasNeed | None
    missing_mm: dict[bool, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for hand in (True, False):
            need = self.need(hand)
            if need is not None:
                self.missing_mm[hand] = need.length_mm

    def need(self, rising: bool) -> BiasNeed | None:
        return self.rising if rising else self.falling

    def any(self) -> BiasNeed:
        need = self.rising or self.falling
        assert need is not None
        return need

    @property
    def is_met(self) -> bool:
        return all(missing <= _ENOUGH_MM for missing in self.missing_mm.values())


def extended(layout: Layout, items: Mapping[str, CutItem], needs: Sequence[BiasNeed]) -> Filled:
    """Return the layout's stretches with all strips in them, the last one as long as it must be.

    Args:
        layout: of everything but the strips.
        items: what lies on it, by id.
        needs: what must come of the strips.

    Raises:
        CuttingError: no length of this cloth has room for them.
    """
    low, high = -1, 0
    found = _fill(layout, items, needs, 0.0)
    while found is None:
        low, high = high, max(2 * high, 4)
        if high * _STEP_MM > _MOST_EXTRA_MM:
            raise CuttingError(
                "this cloth has no room for the bias strips",
                where=layout.fabric.name,
                how_much=f"{len(needs)} strips, {needs[0].width_mm:.0f} mm wide",
                what_to_do="Take a wider cloth, or bias tape that is bought.",
            )
        found = _fill(layout, items, needs, high * _STEP_MM)
    while high - low > 1 and high > 0:
        middle = (low + high) // 2
        attempt = _fill(layout, items, needs, middle * _STEP_MM)
        if attempt is None:
            low = middle
        else:
            high, found = middle, attempt
    return _ended(found, layout)


def _fill(
    layout: Layout, items: Mapping[str, CutItem], needs: Sequence[BiasNeed], extra_mm: float
) -> Filled | None:
    """Strips in a cloth that is so much longer; the better of two ways round, None if too few."""
    ways = [_filled(layout, items, needs, extra_mm, turned=turned) for turned in (False, True)]
    enough = [way for way in ways if way is not None]
    return min(enough, key=lambda way: len(way.strips)) if enough else None


def _filled(
    layout: Layout,
    items: Mapping[str, CutItem],
    needs: Sequence[BiasNeed],
    extra_mm: float,
    *,
    turned: bool,
) -> Filled | None:
    wanted = _wanted(needs, turned=turned)
    sections = list(layout.sections)
    sections[-1] = replace(sections[-1], length_mm=sections[-1].length_mm + extra_mm)
    longer = replace(layout, sections=tuple(sections))
    strips: list[FilledStrip] = []
    for number in range(len(sections)):
        doubled, single = _gaps(longer, number, items)
        for each in wanted:
            strips += _take_double(doubled, each, number, len(strips))
            strips += _take_single(single, each, number, len(strips))
    if not all(each.is_met for each in wanted):
        return None
    return Filled(tuple(sections), tuple(strips))


def _wanted(needs: Sequence[BiasNeed], *, turned: bool) -> list[_Wanted]:
    """Needs with their mirror images, the longest first; alone, a need may rise or fall."""
    rest = sorted(needs, key=lambda need: (-need.length_mm, need.mirrored))
    found = []
    while rest:
        one = rest.pop(0)
        other = next((each for each in rest if _mirrors(one, each)), None)
        if other is not None:
            rest.remove(other)
        found.append(_Wanted(other, one) if turned else _Wanted(one, other))
    return found


def _mirrors(one: BiasNeed, other: BiasNeed) -> bool:
    return (
        one.component == other.component
        and one.mirrored != other.mirrored
        and abs(one.length_mm - other.length_mm) < _ENOUGH_MM
        and abs(one.width_mm - other.width_mm) < _ENOUGH_MM
    )


def _take_single(gaps: _Lanes, wanted: _Wanted, section: int, found: int) -> list[FilledStrip]:
    strips: list[FilledStrip] = []
    for rising in wanted.missing_mm:
        need = wanted.need(rising)
        assert need is not None
        while wanted.missing_mm[rising] > _ENOUGH_MM:
            strip = _longest(gaps, need, wanted.missing_mm[rising], (rising,))
            if strip is None:
                break
            wanted.missing_mm[rising] -= strip.length_mm - join_length_mm(need.allowance_mm)
            strips.append(_cut(strip, (need,), Cut.SINGLE, section, found + len(strips)))
    return strips


def _take_double(gaps: _Lanes, wanted: _Wanted, section: int, found: int) -> list[FilledStrip]:
    """Through two layers: a part for each of a pair; of a single need, the other is left over."""
    strips: list[FilledStrip] = []
    needs = tuple(need for need in (wanted.rising, wanted.falling) if need is not None)
    cut = Cut.PAIR if len(needs) > 1 else Cut.SPARE
    while not wanted.is_met:
        missing = max(wanted.missing_mm.values())
        strip = _longest(gaps, needs[0], missing, (True, False))
        if strip is None:
            break
        for rising in wanted.missing_mm:
            usable = strip.length_mm - join_length_mm(needs[0].allowance_mm)
            wanted.missing_mm[rising] -= usable
        strips.append(_cut(strip, needs, cut, section, found + len(strips)))
    return strips


def _longest(
    gaps: _Lanes, need: BiasNeed, missing_mm: float, ways: Sequence[bool]
) -> FreeStrip | None:
    """The longest free strip, no longer than is missing; it is taken from the gaps."""
    found = [
        (strip, lane)
        for lane in gaps
        for rising in ways
        if (strip := lane.longest(need.width_mm, rising=rising)) is not None
    ]
    if not found:
        return None
    best, lane = max(found, key=lambda each: each[0].length_mm)
    if best.length_mm < SHORTEST_PART_MM:
        return None
    wanted = missing_mm + join_length_mm(need.allowance_mm)
    strip = best.shortened(max(wanted, SHORTEST_PART_MM))
    lane.take(strip)
    return strip


def _cut(
    strip: FreeStrip, needs: Sequence[BiasNeed], cut: Cut, section: int, number: int
) -> FilledStrip:
    outline, placement = _laid(strip)
    name = f"{needs[0].component}-bias-{number + 1}"
    items = tuple(
        CutItem(
            id=f"{name}/{each + 1}",
            label=f"{need.number} {need.title}",
            outline=outline,
            mirrored=bool(each) if cut is Cut.PAIR else placement.mirrored,
            piece=name,
        )
        for each, need in enumerate(needs)
    )
    ids = tuple(item.id for item in items)
    laid = replace(placement, item_ids=ids, cut=cut)
    return FilledStrip(tuple(needs), strip.length_mm, items, laid, section)


def _laid(strip: FreeStrip) -> tuple[tuple[tuple[float, float], ...], Placement]:
    """The strip as a drafted outline, its warp upright, and how that comes to lie on the cloth."""
    rising = strip if strip.rising else replace(strip, rising=True)
    on_cloth = strip_outline(rising)
    mirrored = not strip.rising
    middle = (strip.low_mm + strip.high_mm) / 2
    centers = {
        True: ((strip.left_mm + strip.right_mm) / 2 + middle, middle),
        False: ((strip.left_mm + strip.right_mm) / 2 - middle, middle),
    }
    x0, y0 = centers[True]
    drafted = tuple((-(y - y0), x - x0) for x, y in on_cloth)
    rotation = turn_rad(0.0, mirrored=mirrored, half_turn=False)
    at = centers[strip.rising]
    return drafted, Placement((), Cut.SINGLE, mirrored, rotation, at)


def _gaps(layout: Layout, number: int, items: Mapping[str, CutItem]) -> tuple[_Lanes, _Lanes]:
    """What is free in each lane of a stretch: where cloth lies double, and in one layer."""
    section, ends = layout.sections[number], layout.spacing.ends_mm
    along = (section.start_mm + ends, section.start_mm + section.length_mm - ends)
    taken = [Polygon(placed_outline(placement, items)) for placement in section.placements]
    if layout.fabric.flaws:
        taken += [Polygon(flaw) for flaw in flaws_on(layout, number)]
    between = layout.spacing.between_mm
    lanes = lanes_mm(section.layers, layout.fabric, section.depth_mm)
    gaps = tuple(Gaps(along, across, taken, between) for across in lanes)
    doubled = {Layers.SINGLE: 0, Layers.PARTLY: 1}.get(section.layers, len(gaps))
    return gaps[:doubled], gaps[doubled:]


def _ended(filled: Filled, layout: Layout) -> Filled:
    """The strips among the placements; every stretch ends a margin beyond what lies last on it."""
    sections = []
    for number, section in enumerate(filled.sections):
        laid = [strip for strip in filled.strips if strip.section == number]
        placements = (*section.placements, *(strip.placement for strip in laid))
        end = section.start_mm + layout.sections[number].length_mm
        for strip in laid:
            outline = placed_outline(strip.placement, {i.id: i for i in strip.items})
            end = max(end, max(x for x, _ in outline) + layout.spacing.ends_mm)
        length = end - section.start_mm
        sections.append(replace(section, length_mm=length, placements=placements))
    return Filled(tuple(sections), filled.strips)
