"""Half pieces on the fold: a row along the fold, handed to the packer as one rigid comb.

The packer knows no fixed place. So the half pieces are set in a row along the fold, each slid
toward the start until it meets those before it; a hair-thin bar along the fold and a hair-thin
post across the start join them into one shape as wide as the strip, which then can lie in one way
only. Everything else is packed around it. What is searched is the row: its order, which way round
each piece lies, and gaps left on purpose so that others reach the fold too.

Source: our own (decision on the layout engine).
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from shapely import Polygon, box, unary_union

from clothwise.cutting.clearance import on_grid
from clothwise.cutting.item import XY, Polyline
from clothwise.cutting.layout import Cut, Placement
from clothwise.cutting.packing import StripJob, StripOutcome, StripShape
from clothwise.cutting.parts import Part, Pose, along_mm, fold_depth_mm, placement_of
from clothwise.cutting.strip import (
    FITTING_ROOM_MM,
    Attempt,
    OutlineCache,
    chance_poses,
    drafted_poses,
    may_turn,
    placed_part,
    unturned_poses,
)

__all__ = [
    "FoldRow",
    "RowPlace",
    "Start",
    "comb_attempt",
    "has_choices",
    "row_placements",
    "row_positions",
    "shortest_row",
    "slide_distance",
    "starts",
]

_HAIR_MM = 0.1  # thickness of bar and post
_JOIN_MM = 0.001  # how far bar and teeth run into each other, so that they become one shape
_ROWS_TRIED = 400  # rows by chance that are measured where the row is all there is
_ROWS_COMPARED = 20  # rows by chance of which the shortest is taken for a start
_TRIES_FOR_NEW = 20  # changes that are drawn to find one that was not tried yet


@dataclass(frozen=True, slots=True)
class RowPlace:
    """One half piece in a row.

    Attributes:
        part: its position in the list of fold parts.
        pose: which way round.
        gap_mm: cloth left free before it, beyond the point where it would touch.
    """

    part: int
    pose: Pose
    gap_mm: float = 0.0


FoldRow = tuple[RowPlace, ...]


@dataclass(frozen=True, slots=True)
class Start:
    """What is decided before the packer runs, because it cannot decide it itself.

    Attributes:
        row: of the half pieces; empty if there are none.
        poses: of the free parts. The packer turns them by half, but cannot turn them over.
    """

    row: FoldRow
    poses: tuple[Pose, ...]


def slide_distance(fixed: Polyline, moving: Polyline) -> float:
    """Return how far along x the moving outline must be put so that it just touches the fixed one.

    It comes from far right, moving toward the left. Exact for polygons: the distance between two
    outlines at one height is linear between their corners, so corners are all that need a look.
    Minus infinity if they share no height.
    """
    return max(_edge_reach(fixed, moving), _edge_reach(_flipped(moving), _flipped(fixed)))


def row_positions(row: FoldRow, fold_parts: Sequence[Part], outlines: OutlineCache) -> list[float]:
    """Return x of each piece of a row, the row starting at x = 0."""
    placed: list[Polyline] = []
    positions = []
    for place in row:
        outline = _tooth(place, fold_parts, outlines)
        start = -min(x for x, _ in outline)
        x = max([start, *(slide_distance(other, outline) for other in placed)]) + place.gap_mm
        positions.append(x)
        placed.append(tuple((px + x, py) for px, py in outline))
    return positions


def comb_attempt(
    start: Start,
    fold_parts: Sequence[Part],
    free_parts: Sequence[Part],
    width_mm: float,
    outlines: OutlineCache,
    *,
    seconds: int,
    seed: int,
) -> Attempt:
    """Return an attempt at free parts around a row of half pieces.

    Args:
        start: the row, and how the free parts lie.
        fold_parts, free_parts: what lies on the fold, and what may lie anywhere.
        width_mm: of the folded cloth.
        outlines: of all parts.
        seconds, seed: for the packer.
    """
    row, poses = start.row, start.poses
    positions = row_positions(row, fold_parts, outlines)
    strip_mm = width_mm + 2 * outlines.half_mm + FITTING_ROOM_MM
    fold_mm = outlines.half_mm  # height of the fold in the strip
    teeth = [
        tuple((px + x, py + fold_mm) for px, py in _tooth(place, fold_parts, outlines))
        for place, x in zip(row, positions, strict=True)
    ]
    shapes = (
        StripShape(_comb(teeth, strip_mm - FITTING_ROOM_MM / 2), may_turn=False),
        *(
            StripShape(outlines.outline(part, pose), may_turn(part, pose))
            for part, pose in zip(free_parts, poses, strict=True)
        ),
    )

    def placements(outcome: StripOutcome) -> list[Placement]:
        comb, *others = outcome.placed
        on_fold = row_placements(row, positions, fold_parts, comb.translation[0])
        return on_fold + [
            placed_part(part, pose, placed.half_turn, *placed.translation, -fold_mm)
            for part, pose, placed in zip(free_parts, poses, others, strict=True)
        ]

    return Attempt(StripJob(shapes, strip_mm, seconds, seed), placements)


def row_placements(
    row: FoldRow, positions: Sequence[float], fold_parts: Sequence[Part], start_mm: float = 0.0
) -> list[Placement]:
    """Return the half pieces of a row on the cloth, fold edges exactly on the fold."""
    return [
        placement_of(
            fold_parts[place.part],
            place.pose,
            x + start_mm,
            -fold_depth_mm(fold_parts[place.part], place.pose),
        )
        for place, x in zip(row, positions, strict=True)
    ]


def starts(
    fold_parts: Sequence[Part],
    free_parts: Sequence[Part],
    outlines: OutlineCache,
    chance: random.Random,
    best_so_far: Callable[[], Start | None],
    *,
    fresh: int,
) -> Iterator[Start]:
    """Yield starts worth packing, without end: some by chance, then changes of the best so far.

    Args:
        fold_parts: what lies on the fold.
        free_parts: the rest.
        outlines: of all parts.
        chance: seeded.
        best_so_far: the start that packed shortest; None before the first outcome.
        fresh: how many come by chance. Every other one of them has a short row; the length of the
            row alone is a poor guide (measured), so the others have any.
    """
    yield Start(_short_row(fold_parts, outlines, chance), drafted_poses(free_parts))
    for number in range(1, fresh):
        short = number % 2 == 0
        row = _short_row(fold_parts, outlines, chance) if short else _random_row(fold_parts, chance)
        yield Start(row, chance_poses(free_parts, chance))
    seen: set[Start] = set()
    while True:
        best = best_so_far()
        if best is None:
            best = Start(_random_row(fold_parts, chance), chance_poses(free_parts, chance))
        for _ in range(_TRIES_FOR_NEW):
            changed = _changed(best, fold_parts, free_parts, outlines, chance)
            if changed not in seen:
                break
        seen.add(changed)
        yield changed


def has_choices(parts: Sequence[Part]) -> bool:
    """Whether anything must be decided before the packer runs."""
    return any(part.cut is Cut.ON_FOLD or len(unturned_poses(part)) > 1 for part in parts)


def shortest_row(
    fold_parts: Sequence[Part], outlines: OutlineCache, chance: random.Random
) -> FoldRow:
    """Return the shortest of many rows; the layout itself if there are half pieces only."""
    rows = [_random_row(fold_parts, chance) for _ in range(_ROWS_TRIED)]
    return min(rows, key=lambda row: _row_length(row, fold_parts, outlines))


def _short_row(
    fold_parts: Sequence[Part], outlines: OutlineCache, chance: random.Random
) -> FoldRow:
    """Return the shortest of a few rows."""
    rows = [_random_row(fold_parts, chance) for _ in range(_ROWS_COMPARED)]
    return min(rows, key=lambda row: _row_length(row, fold_parts, outlines))


def _random_row(fold_parts: Sequence[Part], chance: random.Random) -> FoldRow:
    order = chance.sample(range(len(fold_parts)), len(fold_parts))
    return tuple(RowPlace(i, chance.choice(fold_parts[i].poses)) for i in order)


def _row_length(row: FoldRow, fold_parts: Sequence[Part], outlines: OutlineCache) -> float:
    positions = row_positions(row, fold_parts, outlines)
    ends = (
        x + max(px for px, _ in _tooth(place, fold_parts, outlines))
        for place, x in zip(row, positions, strict=True)
    )
    return max(ends, default=0.0)


def _changed(
    start: Start,
    fold_parts: Sequence[Part],
    free_parts: Sequence[Part],
    outlines: OutlineCache,
    chance: random.Random,
) -> Start:
    """Return a start with one or two things changed."""
    for _ in range(chance.choice((1, 1, 2))):
        row = _changed_row(start.row, fold_parts, free_parts, outlines, chance)
        over = _turned_over(start.poses, free_parts, chance)
        start = chance.choice((Start(row, start.poses), Start(start.row, over)))
    return start


def _changed_row(
    row: FoldRow,
    fold_parts: Sequence[Part],
    free_parts: Sequence[Part],
    outlines: OutlineCache,
    chance: random.Random,
) -> FoldRow:
    """Return a row with two pieces swapped, one turned, or a gap made or closed."""
    if not row:
        return row
    places = list(row)
    i = chance.randrange(len(places))
    kind = chance.choice(("swap", "turn", "gap"))
    if kind == "swap" and len(places) > 1:
        k = chance.choice([n for n in range(len(places)) if n != i])
        places[i], places[k] = places[k], places[i]
    elif kind == "turn":
        poses = [pose for pose in fold_parts[places[i].part].poses if pose != places[i].pose]
        if poses:
            places[i] = replace(places[i], pose=chance.choice(poses))
    elif kind == "gap" and free_parts:
        wide = along_mm(chance.choice(list(free_parts))) + 2 * outlines.half_mm
        gap = 0.0 if places[i].gap_mm else chance.choice((wide, wide / 2, wide / 4))
        places[i] = replace(places[i], gap_mm=gap)
    return tuple(places)


def _turned_over(
    poses: tuple[Pose, ...], free_parts: Sequence[Part], chance: random.Random
) -> tuple[Pose, ...]:
    """Return poses with one part turned over that may be."""
    over = [
        (i, pose)
        for i, part in enumerate(free_parts)
        for pose in unturned_poses(part)
        if pose != poses[i]
    ]
    if not over:
        return poses
    i, pose = chance.choice(over)
    return (*poses[:i], pose, *poses[i + 1 :])


def _tooth(place: RowPlace, fold_parts: Sequence[Part], outlines: OutlineCache) -> Polyline:
    """Return the widened outline of a half piece with its fold edge on y = 0."""
    part = fold_parts[place.part]
    depth = fold_depth_mm(part, place.pose)
    return tuple((x, y - depth) for x, y in outlines.outline(part, place.pose))


def _comb(teeth: Sequence[Polyline], post_mm: float) -> Polyline:
    """Join outlines that stand on y = 0 with a bar along it and a post before x = 0.

    The bar lies inside the strip: were it below, what comes after its end could drop below the
    fold by its thickness. So between the teeth others stay a hair above, which costs nothing.
    """
    end = max(x for tooth in teeth for x, _ in tooth)
    bar = box(-_HAIR_MM, 0.0, end, _HAIR_MM)
    post = box(-_HAIR_MM, 0.0, _JOIN_MM, post_mm)
    return on_grid(unary_union([bar, post, *(Polygon(tooth) for tooth in teeth)]))


def _edge_reach(fixed: Polyline, moving: Polyline) -> float:
    """Return the greatest distance from a corner of `moving` back to an edge of `fixed`."""
    a = np.asarray(fixed)
    b = np.roll(a, -1, axis=0)
    corners = np.asarray(moving)
    heights = corners[:, 1][:, None]
    low, high = np.minimum(a[:, 1], b[:, 1]), np.maximum(a[:, 1], b[:, 1])
    crossed = (low <= heights) & (heights <= high)
    rise = np.where(b[:, 1] == a[:, 1], 1.0, b[:, 1] - a[:, 1])
    t = np.where(b[:, 1] == a[:, 1], 0.0, (heights - a[:, 1]) / rise)
    edge_x = a[:, 0] + t * (b[:, 0] - a[:, 0])
    level = b[:, 1] == a[:, 1]
    edge_x = np.where(level, np.maximum(a[:, 0], b[:, 0]), edge_x)
    reach = np.where(crossed, edge_x - corners[:, 0][:, None], -np.inf)
    return float(reach.max())


def _flipped(outline: Polyline) -> tuple[XY, ...]:
    return tuple((-x, y) for x, y in outline)
