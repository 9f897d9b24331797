"""From parts on cloth to shapes in a strip, and back."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from clothwise.cutting.clearance import simplified_outward, widened
from clothwise.cutting.item import Polyline
from clothwise.cutting.layout import Placement
from clothwise.cutting.packing import StripJob, StripOutcome, StripShape
from clothwise.cutting.parts import Part, Pose, oriented, placement_of

__all__ = [
    "FITTING_ROOM_MM",
    "Attempt",
    "OutlineCache",
    "chance_poses",
    "drafted_poses",
    "free_attempt",
    "may_turn",
    "placed_part",
    "unturned_poses",
]

FITTING_ROOM_MM = 0.002
"""The packer refuses a shape exactly as wide as its strip: the strip is this much wider.

The packer reckons in single precision: at 2 m a float steps by 0.0001 mm.
"""


class OutlineCache:
    """Widened and simplified outlines, worked out once for each piece and pose."""

    def __init__(self, between_mm: float) -> None:
        self.half_mm = between_mm / 2
        self._known: dict[tuple[Polyline, float, Pose], Polyline] = {}

    def outline(self, part: Part, pose: Pose) -> Polyline:
        """Return the outline that the packer is to keep clear of others."""
        key = (part.item.outline, part.item.grain_angle_rad, pose)
        if key not in self._known:
            self._known[key] = simplified_outward(widened(oriented(part, pose), self.half_mm))
        return self._known[key]


@dataclass(frozen=True)
class Attempt:
    """A job for the packer and how to read its outcome.

    Attributes:
        job: to be run.
        placements: makes placements on the cloth of an outcome that has not failed.
    """

    job: StripJob
    placements: Callable[[StripOutcome], list[Placement]]


def free_attempt(
    parts: Sequence[Part],
    poses: Sequence[Pose],
    width_mm: float,
    outlines: OutlineCache,
    *,
    seconds: int,
    seed: int,
) -> Attempt:
    """Return an attempt at parts that may lie anywhere across the cloth.

    Args:
        parts: to be laid.
        poses: which way up each starts; the packer may turn it by half if its poses say so.
        width_mm: of the cloth.
        outlines: of the parts.
        seconds, seed: for the packer.
    """
    shapes = tuple(
        StripShape(outlines.outline(part, pose), may_turn(part, pose))
        for part, pose in zip(parts, poses, strict=True)
    )
    job = StripJob(shapes, width_mm + 2 * outlines.half_mm + FITTING_ROOM_MM, seconds, seed)

    def placements(outcome: StripOutcome) -> list[Placement]:
        return [
            placed_part(part, pose, placed.half_turn, *placed.translation, -outlines.half_mm)
            for part, pose, placed in zip(parts, poses, outcome.placed, strict=True)
        ]

    return Attempt(job, placements)


def placed_part(
    part: Part, pose: Pose, half_turn: bool, x_mm: float, y_mm: float, shift_mm: float
) -> Placement:
    """Return a placement from what the packer says of a shape in its strip."""
    return placement_of(
        part, Pose(pose.mirrored, pose.half_turn != half_turn), x_mm, y_mm + shift_mm
    )


def may_turn(part: Part, pose: Pose) -> bool:
    """Whether the packer may turn the part by half out of a pose."""
    return Pose(pose.mirrored, not pose.half_turn) in part.poses


def unturned_poses(part: Part) -> list[Pose]:
    """Return the poses among which somebody must choose before the packer runs.

    Half turns are left to the packer, which is better at them.
    """
    return [pose for pose in part.poses if not pose.half_turn] or list(part.poses)


def drafted_poses(parts: Sequence[Part]) -> tuple[Pose, ...]:
    """Return the first pose of each part."""
    return tuple(part.poses[0] for part in parts)


def chance_poses(parts: Sequence[Part], chance: random.Random) -> tuple[Pose, ...]:
    """Return a pose for each part, by chance."""
    return tuple(chance.choice(unturned_poses(part)) for part in parts)
