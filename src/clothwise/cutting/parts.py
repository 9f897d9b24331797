"""From copies to be cut to what is laid down: pairs, half pieces on the fold, single copies."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from clothwise.cutting.fabric import Fabric, Nap
from clothwise.cutting.item import CutItem, Polyline, is_symmetric
from clothwise.cutting.layout import Cut, Placement, on_fabric, turn_rad

__all__ = [
    "SMALL_PART_MM",
    "WIDTH_SLACK_MM",
    "Part",
    "Pose",
    "across_mm",
    "along_mm",
    "fold_depth_mm",
    "is_small",
    "least_across_mm",
    "least_along_mm",
    "oriented",
    "paired",
    "part_area_mm2",
    "placement_of",
    "single_parts",
    "spare_parts",
    "tilted",
]

SMALL_PART_MM = 200.0
"""A piece no longer and no wider than this may lie off the grain a little where the cloth allows
it: pockets, tabs, collars' undersides. Our own choice."""

WIDTH_SLACK_MM = 1e-6
"""What adding floats can cost where something just fits across."""


@dataclass(frozen=True, slots=True)
class Pose:
    """Which way up and which way round an outline lies.

    Attributes:
        mirrored: whether it is turned over.
        half_turn: whether its top points to the cut end.
        tilt_rad: how far its grain strays from that of the cloth, anticlockwise.
    """

    mirrored: bool
    half_turn: bool
    tilt_rad: float = 0.0


@dataclass(frozen=True, slots=True)
class Part:
    """One outline to be laid down.

    Attributes:
        item: whose outline it is.
        item_ids: the copies that it yields.
        cut: how.
        poses: those that grain, nap and fold allow; at least one.
    """

    item: CutItem
    item_ids: tuple[str, ...]
    cut: Cut
    poses: tuple[Pose, ...]


def single_parts(items: Iterable[CutItem], nap: Nap, *, either_side: bool = False) -> list[Part]:
    """Return each copy by itself, for one layer of cloth.

    Args:
        items: the copies.
        nap: of the cloth.
        either_side: whether a copy may be cut with the other side of the cloth up.
    """
    return [
        _part(
            item,
            Cut.SINGLE,
            (item.mirrored, not item.mirrored)
            if either_side and not is_symmetric(item)
            else (item.mirrored,),
            nap,
        )
        for item in items
    ]


def tilted(part: Part, fabric: Fabric) -> Part:
    """The part with the poses off the grain that a fabric allows: none if it lies on the fold.

    Without a grain, it may lie at any quarter turn; first the way it is drawn, unless only the
    other fits across. On other cloth a small part may stray a little.
    """
    if part.cut is Cut.ON_FOLD:
        return part
    off = fabric.off_grain_rad
    if fabric.turns_quarters:
        tilts: tuple[float, ...] = (0.0, math.pi / 2)
        if across_mm(part) > fabric.washed_width_mm + WIDTH_SLACK_MM:
            tilts = tilts[::-1]
    elif off and is_small(part.item):
        tilts = (0.0, off, -off)
    else:
        return part
    poses = tuple(replace(pose, tilt_rad=tilt) for tilt in tilts for pose in part.poses)
    return replace(part, poses=poses)


def least_along_mm(item: CutItem, fabric: Fabric) -> float:
    """Return how much length of a fabric a copy takes at least, whichever way it may lie."""
    (part,) = single_parts([item], fabric.nap)
    along, across = along_mm(part), across_mm(part)
    if not fabric.turns_quarters or item.on_fold or along > fabric.washed_width_mm:
        return along
    return min(along, across) if across <= fabric.washed_width_mm else across


def least_across_mm(item: CutItem, fabric: Fabric) -> float:
    """Return how much width of a fabric a copy takes at least, whichever way it may lie."""
    (part,) = single_parts([item], fabric.nap)
    across = across_mm(part)
    return min(across, along_mm(part)) if fabric.turns_quarters and not item.on_fold else across


def is_small(item: CutItem) -> bool:
    """Whether a piece is small enough to lie a little off the grain, on cloth that allows it."""
    xs, ys = zip(*item.outline, strict=True)
    return bool(max(max(xs) - min(xs), max(ys) - min(ys)) <= SMALL_PART_MM)


def spare_parts(items: Iterable[CutItem], nap: Nap) -> list[Part]:
    """Return each copy by itself for double cloth, where a second copy is left over."""
    return [
        _part(item, Cut.SPARE, (False,) if is_symmetric(item) else (False, True), nap)
        for item in items
    ]


def paired(items: Sequence[CutItem], nap: Nap) -> tuple[list[Part], list[CutItem]]:
    """Return what folded cloth yields at one cut each, and the copies that have no partner.

    Two copies of a piece make a pair if one mirrors the other, or if the piece is its own mirror
    image. Half pieces lie on the fold one by one; their mirror image is not cut again.
    """
    parts = [_fold_part(item, nap) for item in items if item.on_fold]
    alone: list[CutItem] = []
    for copies in _by_piece(item for item in items if not item.on_fold):
        for pair in _pairs(copies):
            if len(pair) == 2:
                sides = (False,) if is_symmetric(pair[0]) else (False, True)
                parts.append(_part(pair[0], Cut.PAIR, sides, nap, pair[1]))
            else:
                alone += pair
    return parts, alone


def oriented(part: Part, pose: Pose) -> Polyline:
    """Return the outline as it lies on the cloth, turned but not moved; anticlockwise."""
    points = on_fabric(placement_of(part, pose, 0.0, 0.0), part.item.outline)
    return points[::-1] if pose.mirrored else points


def placement_of(part: Part, pose: Pose, x_mm: float, y_mm: float) -> Placement:
    """Return the placement of a part in a pose, moved from the origin."""
    rotation = turn_rad(part.item.grain_angle_rad, mirrored=pose.mirrored, half_turn=pose.half_turn)
    rotation += pose.tilt_rad
    return Placement(part.item_ids, part.cut, pose.mirrored, rotation, (x_mm, y_mm))


def fold_depth_mm(part: Part, pose: Pose) -> float:
    """Return where the fold edge lies across the cloth before the part is moved there."""
    assert part.item.fold_edge is not None
    return on_fabric(placement_of(part, pose, 0.0, 0.0), part.item.fold_edge)[0][1]


def along_mm(part: Part) -> float:
    """Return how much length of the cloth the part takes."""
    xs = [x for x, _ in oriented(part, part.poses[0])]
    return max(xs) - min(xs)


def across_mm(part: Part) -> float:
    """Return how much width of the cloth the part takes."""
    ys = [y for _, y in oriented(part, part.poses[0])]
    return max(ys) - min(ys)


def part_area_mm2(part: Part) -> float:
    """Return the area of the outline itself, mm²."""
    points = part.item.outline
    return 0.5 * sum(
        x0 * y1 - x1 * y0
        for (x0, y0), (x1, y1) in zip(points, (*points[1:], points[0]), strict=True)
    )


def _part(
    item: CutItem, cut: Cut, sides: tuple[bool, ...], nap: Nap, partner: CutItem | None = None
) -> Part:
    turns = (False, True) if nap is Nap.NONE else (False,)
    poses = tuple(Pose(side, turn) for side in sides for turn in turns)
    ids = (item.id, partner.id) if partner else (item.id,)
    return Part(item, ids, cut, poses)


def _fold_part(item: CutItem, nap: Nap) -> Part:
    """Return a half piece in the poses that leave it on the cloth's side of the fold."""
    assert item.fold_edge is not None
    fold_x = item.fold_edge[0][0]
    lies_right = max(x for x, _ in item.outline) - fold_x > fold_x - min(x for x, _ in item.outline)
    upright, turned = Pose(lies_right, False), Pose(not lies_right, True)
    return Part(item, (item.id,), Cut.ON_FOLD, (upright, turned) if nap is Nap.NONE else (upright,))


def _by_piece(items: Iterable[CutItem]) -> list[list[CutItem]]:
    """Group copies that share a piece, and its drafted outline and grain."""
    groups: dict[tuple[str, Polyline, float], list[CutItem]] = {}
    for item in items:
        groups.setdefault((item.piece, item.outline, item.grain_angle_rad), []).append(item)
    return list(groups.values())


def _pairs(copies: Sequence[CutItem]) -> list[tuple[CutItem, ...]]:
    """Split copies into pairs and single ones."""
    plain = [item for item in copies if not item.mirrored]
    turned = [item for item in copies if item.mirrored]
    both = min(len(plain), len(turned))
    pairs: list[tuple[CutItem, ...]] = list(zip(plain[:both], turned[:both], strict=True))
    rest = plain[both:] + turned[both:]
    if len(rest) > 1 and is_symmetric(rest[0]):
        pairs += [tuple(rest[i : i + 2]) for i in range(0, len(rest), 2)]
    else:
        pairs += [(item,) for item in rest]
    return pairs
