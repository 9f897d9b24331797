"""What keeps a layout from being shorter, for each stretch of cloth; `limit_words` says it.

Nothing is guessed: a row of pieces counts only if they really lie one behind another from end to
end, each stopped by the one before it.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

from shapely import Polygon, STRtree, box

from clothwise.cutting.abreast import above_mm, abreast_mm, half_turned, turned_over
from clothwise.cutting.clearance import simplified_outward, widened
from clothwise.cutting.fabric import Nap
from clothwise.cutting.item import CutItem, Polyline
from clothwise.cutting.layers import flaws_on
from clothwise.cutting.layout import (
    Cut,
    Layers,
    Layout,
    Placement,
    Section,
    on_fabric,
    placed_outline,
)
from clothwise.cutting.shrinkage import after_washing_mm, before_washing_mm
from clothwise.cutting.sliding import slide_distance

__all__ = ["Lacking", "Limit", "LimitKind", "what_limits"]

FULL_SHARE = 0.9
"""Cloth covered so far is called full: what is left are the corners between the pieces. Our own
choice; the best known layouts of the open instances cover 85 to 92 %."""
LOOSE_SHARE = 0.02
"""Slack in a row, as a share of the stretch, from which on it is no row that limits. Our own."""
_SAME_MM = 1.0  # a piece as long as the layout within this is the whole layout
_NEAR_MM = 100.0  # pieces further apart along the cloth do not stop each other
_MOST_LACKING = 0.25  # of the width; pieces that lack more are not near to lying side by side
_LEAST_SAVED = 0.08  # of the stretch; it is no matter where shorter pieces lie
_ROUGH_MM = 1.0
_PER_PIECE_MM = 1.0  # of two rows that fit about as closely, the one of fewer pieces is told


class LimitKind(Enum):
    """What a stretch of cloth is as long as."""

    ONE_PIECE = "one piece"
    """Its longest piece; no layout is shorter."""
    FOLD = "fold"
    """Half pieces one behind another on one fold."""
    FULL = "full"
    """Nearly all of the cloth is covered."""
    ROW = "row"
    """Pieces one behind another from end to end."""
    PATTERN = "pattern"
    """The same, but they keep apart so that they meet on the pattern of the cloth."""
    LOOSE = "loose"
    """No row of pieces reaches from end to end: it may be that a shorter layout was not found."""


@dataclass(frozen=True, slots=True)
class Lacking:
    """Two pieces of the row that nearly find room side by side.

    Attributes:
        placements: the two.
        cloth_mm: how much wider the cloth would have to be as bought.
    """

    placements: tuple[Placement, Placement]
    cloth_mm: float


@dataclass(frozen=True, slots=True)
class Limit:
    """What limits one stretch of a layout.

    Attributes:
        section: its number in the layout, from 0.
        kind: what it is as long as.
        placements: the pieces concerned, from the cut end on.
        covered_share: of the cloth of the stretch, 0 to 1.
        slack_mm: along the row, between its pieces.
        floor_mm: no stretch with these pieces is shorter; 0 if that cannot be said.
        lacking: two pieces of a row that nearly lie side by side.
        behind_flaw: whether the row begins at a flaw of the cloth, not at its end.
    """

    section: int
    kind: LimitKind
    placements: tuple[Placement, ...]
    covered_share: float
    slack_mm: float = 0.0
    floor_mm: float = 0.0
    lacking: Lacking | None = None
    behind_flaw: bool = False


def what_limits(
    layout: Layout, items: Iterable[CutItem], *, matched: bool = False
) -> tuple[Limit, ...]:
    """Return what limits each stretch of a layout, in the order of the stretches.

    Args:
        layout: verified.
        items: the copies, as they were given to `lay`.
        matched: whether pieces meet on the pattern of the cloth, so that they keep apart for it.
    """
    by_id = {item.id: item for item in items}
    return tuple(
        _limit(layout, number, section, by_id, matched)
        for number, section in enumerate(layout.sections)
    )


def _limit(
    layout: Layout, number: int, section: Section, items: Mapping[str, CutItem], matched: bool
) -> Limit:
    outlines = [placed_outline(p, items) for p in section.placements]
    covered = sum(Polygon(outline).area for outline in outlines)
    share = covered / (section.length_mm * section.width_mm)
    inner_mm = section.length_mm - 2 * layout.spacing.ends_mm
    for placement, outline in zip(section.placements, outlines, strict=True):
        extent = _length(outline)
        if inner_mm - extent <= _SAME_MM and not _is_shorter_turned(layout, placement, outline):
            floor = extent + 2 * layout.spacing.ends_mm
            return Limit(number, LimitKind.ONE_PIECE, (placement,), share, floor_mm=floor)
    row, slack_mm = _row(layout, section, outlines, flaws_on(layout, number))
    behind_flaw = bool(row) and row[0] >= len(outlines)
    placements = tuple(section.placements[at] for at in row[behind_flaw:])
    step_mm = _repeat_along_mm(layout) if matched else 0.0
    if row and LOOSE_SHARE * section.length_mm < slack_mm <= step_mm * len(row):
        return Limit(
            number, LimitKind.PATTERN, placements, share, slack_mm, behind_flaw=behind_flaw
        )
    if not row or slack_mm > LOOSE_SHARE * section.length_mm:
        kind = LimitKind.FULL if share >= FULL_SHARE else LimitKind.LOOSE
        return Limit(number, kind, (), share)
    floor = 0.0 if behind_flaw else _fold_floor(layout, placements, items)
    if floor:
        return Limit(number, LimitKind.FOLD, placements, share, slack_mm, floor)
    if share >= FULL_SHARE:
        return Limit(number, LimitKind.FULL, (), share)
    # Beside each other, matched pieces would have to agree with the pattern as well.
    # Where pieces may lie across the cloth, there are more ways side by side than are looked at.
    is_judged = not (matched or layout.fabric.turns_quarters)
    lacking = _lacking(layout, section, placements, items) if is_judged else None
    return Limit(
        number, LimitKind.ROW, placements, share, slack_mm, lacking=lacking, behind_flaw=behind_flaw
    )


def _row(
    layout: Layout, section: Section, outlines: Sequence[Polyline], flaws: Sequence[Polyline]
) -> tuple[tuple[int, ...], float]:
    """Return the pieces that stop each other from end to end with least slack, and that slack.

    The shortest way from one end of the cloth to the other, from piece to piece, each step as long
    as the second could move toward the first. Flaws stay where they are, so that a row may begin
    at one; they are numbered after the pieces. Source: our own.
    """
    half_mm = layout.spacing.between_mm / 2
    grown = [*(widened(outline, half_mm) for outline in outlines), *flaws]
    first = section.start_mm + layout.spacing.ends_mm
    last = section.start_mm + section.length_mm - layout.spacing.ends_mm
    before = [max(0.0, min(x for x, _ in outline) - first) for outline in outlines]
    before += [0.0] * len(flaws)
    after = [max(0.0, last - max(x for x, _ in outline)) for outline in outlines]
    after += [math.inf] * len(flaws)
    steps = _steps(grown, len(outlines), layout.spacing.between_mm)
    cost = dict(enumerate(before))
    came: dict[int, int] = {}
    queue = [(slack, at) for at, slack in cost.items()]
    heapq.heapify(queue)
    while queue:
        slack, at = heapq.heappop(queue)
        if slack > cost[at]:
            continue
        for other, gap in steps.get(at, ()):
            longer = slack + gap + _PER_PIECE_MM
            if longer < cost[other]:
                cost[other], came[other] = longer, at
                heapq.heappush(queue, (longer, other))
    if not outlines:
        return (), math.inf
    end = min(cost, key=lambda at: (cost[at] + after[at], at))
    row = [end]
    while row[-1] in came:
        row.append(came[row[-1]])
    slack_mm = cost[end] + after[end] - _PER_PIECE_MM * (len(row) - 1)
    return tuple(reversed(row)), slack_mm


def _steps(
    grown: Sequence[Polyline], pieces: int, between_mm: float
) -> dict[int, list[tuple[int, float]]]:
    """Return for each outline the pieces that it stops, and how far they could still move to it.

    Args:
        grown: outlines of the pieces with half the spacing, then those of flaws.
        pieces: how many of them are pieces; flaws cannot be stopped.
        between_mm: spacing; how near to a flaw a piece may come.
    """
    boxes = [_box(outline) for outline in grown]
    tree = STRtree([box(*one) for one in boxes])
    found: dict[int, list[tuple[int, float]]] = {}
    for at, (left, low, right, high) in enumerate(boxes):
        near = tree.query(box(left, low, right + _NEAR_MM, high))
        for other in sorted(near.tolist()):
            if other >= pieces or other == at or boxes[other][2] <= right or boxes[other][0] < left:
                continue
            gap = -slide_distance(grown[at], grown[other])
            if -_ROUGH_MM - between_mm <= gap <= _NEAR_MM:
                found.setdefault(at, []).append((other, max(0.0, gap)))
    return found


def _fold_floor(
    layout: Layout, placements: Sequence[Placement], items: Mapping[str, CutItem]
) -> float:
    """Return the length that these pieces need on one fold; 0 if they are not all on one."""
    edges = []
    for placement in placements:
        edge = items[placement.item_ids[0]].fold_edge
        if placement.cut is not Cut.ON_FOLD or edge is None:
            return 0.0
        edges.append(edge)
    folds = {round(on_fabric(p, edge)[0][1]) for p, edge in zip(placements, edges, strict=True)}
    if len(folds) != 1:
        return 0.0
    between = layout.spacing.between_mm * (len(edges) - 1)
    return sum(math.dist(*edge) for edge in edges) + between + 2 * layout.spacing.ends_mm


def _lacking(
    layout: Layout,
    section: Section,
    placements: Sequence[Placement],
    items: Mapping[str, CutItem],
) -> Lacking | None:
    """Return the two pieces of a row that lack least width to lie side by side."""
    if section.layers in (Layers.TO_MIDDLE, Layers.PARTLY):  # pieces keep to their flap
        return None
    half_mm = layout.spacing.between_mm / 2
    ways = [_ways(layout, section, placement, items) for placement in placements]
    # At the edges of the cloth no spacing is kept.
    room_mm = section.width_mm + 2 * half_mm
    least_mm = _LEAST_SAVED * section.length_mm
    long = [at for at, each in enumerate(ways) if _length(each[0]) >= least_mm]
    best: Lacking | None = None
    for nth, at in enumerate(long):
        for other in long[nth + 1 :]:
            pair = placements[at], placements[other]
            lacks = _together_mm(pair, (ways[at], ways[other])) - room_mm
            if not 0 < lacks <= _MOST_LACKING * section.width_mm:
                continue
            layers = 2 if section.layers is Layers.DOUBLE else 1
            cloth_mm = before_washing_mm(layers * lacks, layout.fabric.shrinkage_across)
            if best is None or cloth_mm < best.cloth_mm:
                best = Lacking(pair, cloth_mm)
    return best


def _together_mm(
    pair: tuple[Placement, Placement], ways: tuple[list[Polyline], list[Polyline]]
) -> float:
    """Return the width that two pieces take side by side; infinite if both lie on the fold."""
    one, other = ways
    folded = [placement.cut is Cut.ON_FOLD for placement in pair]
    if all(folded):
        return math.inf
    if folded[0]:
        return above_mm(one, other)
    if folded[1]:
        return above_mm(other, one)
    # Both turned alike take the same width, so that one of them may stay as it is.
    return abreast_mm(one[:1], other)


def _ways(
    layout: Layout, section: Section, placement: Placement, items: Mapping[str, CutItem]
) -> list[Polyline]:
    """Return a piece with its spacing in each way in which it may lie in this stretch."""
    outline = placed_outline(placement, items)
    grown = simplified_outward(widened(outline, layout.spacing.between_mm / 2))
    ways = [grown]
    on_fold = placement.cut is Cut.ON_FOLD
    either_side = section.layers is not Layers.SINGLE or layout.fabric.wrong_side_usable
    if either_side and not on_fold:
        ways.append(turned_over(grown))
    if layout.fabric.nap is Nap.NONE:
        # On the fold a piece can only be turned over as well, so that its edge stays there.
        ways += [turned_over(half_turned(way)) if on_fold else half_turned(way) for way in ways]
    return ways


def _is_shorter_turned(layout: Layout, placement: Placement, outline: Polyline) -> bool:
    """Whether a piece takes less length turned by a quarter, on cloth where it may lie so."""
    if not layout.fabric.turns_quarters or placement.cut is Cut.ON_FOLD:
        return False
    _, low, _, high = _box(outline)
    return high - low < _length(outline) <= layout.fabric.washed_width_mm


def _repeat_along_mm(layout: Layout) -> float:
    fabric = layout.fabric
    return after_washing_mm(fabric.repeat.along_mm, fabric.shrinkage_along)


def _length(outline: Polyline) -> float:
    return max(x for x, _ in outline) - min(x for x, _ in outline)


def _box(outline: Polyline) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return min(xs), min(ys), max(xs), max(ys)
