"""Which pieces lie side by side in one layout and could not in the other.

Nothing is guessed: the two lie so in the layout that was found, lay one behind another in the one
before, and the room they take together was too wide for the cloth and no longer is.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from clothwise.cutting.abreast import half_turned, turned_over
from clothwise.cutting.clearance import rounded, simplified_outward
from clothwise.cutting.fabric import Nap
from clothwise.cutting.item import CutItem, Polyline
from clothwise.cutting.layout import Cut, Layers, Layout, Placement, Section, placed_outline
from clothwise.cutting.row_width import MOST_PIECES, row_width_mm
from clothwise.packet.tuning.trial import ClothTried

__all__ = ["SideBySide", "gained"]

BESIDE_SHARE = 0.8
"""Of the shorter piece: so much of it must lie within the stretch of the longer one. Our own."""
APART_SHARE = 0.5
"""Pieces of which no more than this lies within the stretch of the other are not side by side."""
LEAST_SHARE = 0.2
"""Of the layout's length; where shorter pieces lie explains little. Our own choice."""
_SLACK_MM = 0.5  # outlines are simplified by so much before they are slid together


@dataclass(frozen=True)
class SideBySide:
    """Cuts that now lie side by side.

    Attributes:
        names: what is cut, one for each cut; copies of one piece have the same.
        length_mm: of the shortest along the cloth.
        before_mm: width that they took together, spacing between them included.
        after_mm: what they take now.
        room_mm: usable width, washed; half of it on folded cloth.
    """

    names: tuple[str, ...]
    length_mm: float
    before_mm: float
    after_mm: float
    room_mm: float


def gained(before: ClothTried, after: ClothTried) -> tuple[SideBySide, ...]:
    """Return what lies side by side now and could not before, the longest first.

    Compares the shortest layouts of both. Of rows that share what matters only the one of fewest
    pieces is told, and each kind of row once.
    """
    found: dict[tuple[str, ...], SideBySide] = {}
    for each in _gained(before, after):
        known = found.get(each.names)
        if known is None or each.length_mm > known.length_mm:
            found[each.names] = each
    return tuple(sorted(found.values(), key=lambda each: -each.length_mm))


@dataclass(frozen=True)
class _Laid:
    """One cut where it lies."""

    section: Section
    placement: Placement
    outline: Polyline
    start_mm: float
    end_mm: float

    @property
    def length_mm(self) -> float:
        return self.end_mm - self.start_mm


def _gained(before: ClothTried, after: ClothTried) -> Iterator[SideBySide]:
    old_items, new_items = _by_id(before), _by_id(after)
    old = {each.placement.item_ids: each for each in _laid(before.best.layout, old_items)}
    long = [
        each
        for each in _laid(after.best.layout, new_items)
        if each.length_mm >= LEAST_SHARE * after.best.layout.length_mm
    ]
    told: list[frozenset[tuple[str, ...]]] = []
    for count in range(2, MOST_PIECES + 1):
        for row in combinations(long, count):
            ids = frozenset(each.placement.item_ids for each in row)
            if any(smaller <= ids for smaller in told) or not _are_beside(row):
                continue
            was = [old[each.placement.item_ids] for each in row if each.placement.item_ids in old]
            if len(was) < count or not _is_apart(was):
                continue
            before_mm, after_mm = (
                _together_mm(was, before.best.layout),
                _together_mm(row, after.best.layout),
            )
            if any(each.section.layers is Layers.PARTLY for each in (*was, *row)):
                continue  # the lanes of partly folded cloth are as wide as the search likes
            room_mm = row[0].section.width_mm
            had_mm = min(each.section.width_mm for each in was)
            if before_mm > had_mm + _SLACK_MM and after_mm <= room_mm + _SLACK_MM:
                told.append(ids)
                names = tuple(sorted(_name(each.placement, new_items) for each in row))
                length_mm = min(each.length_mm for each in row)
                yield SideBySide(names, length_mm, before_mm, after_mm, room_mm)


def _by_id(cloth: ClothTried) -> dict[str, CutItem]:
    return {item.id: item for item in cloth.best.items}


def _laid(layout: Layout, items: Mapping[str, CutItem]) -> list[_Laid]:
    found = []
    for section in layout.sections:
        for placement in section.placements:
            outline = placed_outline(placement, items)
            xs = [x for x, _ in outline]
            found.append(_Laid(section, placement, outline, min(xs), max(xs)))
    return found


def _are_beside(row: Sequence[_Laid]) -> bool:
    return all(_shared(one, other) >= BESIDE_SHARE for one, other in combinations(row, 2))


def _is_apart(row: Sequence[_Laid]) -> bool:
    return any(_shared(one, other) <= APART_SHARE for one, other in combinations(row, 2))


def _shared(one: _Laid, other: _Laid) -> float:
    """Share of the shorter that lies within the stretch of the longer; 0 if in another section."""
    if one.section != other.section:
        return 0.0
    overlap = min(one.end_mm, other.end_mm) - max(one.start_mm, other.start_mm)
    return max(0.0, overlap) / min(one.length_mm, other.length_mm)


def _together_mm(row: Sequence[_Laid], layout: Layout) -> float:
    """Return the width they take side by side; no spacing is kept at the edges of the cloth."""
    return row_width_mm([_ways(each, layout) for each in row]) - layout.spacing.between_mm


def _ways(laid: _Laid, layout: Layout) -> list[Polyline]:
    """Return a cut with half of the spacing round it, in each way in which it may lie."""
    grown = simplified_outward(rounded(laid.outline, layout.spacing.between_mm / 2))
    ways, on_fold = [grown], laid.placement.cut is Cut.ON_FOLD
    may_turn_over = laid.section.layers is not Layers.SINGLE or layout.fabric.wrong_side_usable
    if may_turn_over and not on_fold:
        ways.append(turned_over(grown))
    if layout.fabric.nap is Nap.NONE:
        # On the fold a piece can only be turned over as well, so that its edge stays there.
        ways += [turned_over(half_turned(way)) if on_fold else half_turned(way) for way in ways]
    return ways


def _name(placement: Placement, items: Mapping[str, CutItem]) -> str:
    """What is cut, without its number on the sheets and without left or right."""
    item = items[placement.item_ids[0]]
    words = item.label.split(", ")[0]
    number, _, title = words.partition(" ")
    return title if number.isdigit() and title else words
