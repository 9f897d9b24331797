"""Groups of seams, as one speaks of them, and which of them can be closed in on themselves."""

from __future__ import annotations

import math
from enum import Enum

from clothwise.errors import ComponentError
from clothwise.geometry import angle_between
from clothwise.pattern.graph import EdgeCare, Pressing, Run, Seam, SeamKind
from clothwise.pattern.junctions import Corner, end_corner, start_corner
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.pattern import Pattern

STRAIGHT_ON_RAD = math.radians(15)
"""A seam that turns more than this where two edges of a piece meet has a corner: own choice."""


class SeamGroup(Enum):
    """Seams of one kind, by the word in their titles."""

    ALL = "all"
    SIDE = "side"
    SHOULDER = "shoulder"
    SLEEVE = "sleeve"
    ARMHOLE = "armhole"
    WAIST = "waist"
    CENTER = "center"
    OTHER = "other"


_WORDS = (
    (SeamGroup.ARMHOLE, "armhole"),
    (SeamGroup.SLEEVE, "sleeve seam"),
    (SeamGroup.SHOULDER, "shoulder"),
    (SeamGroup.WAIST, "waist seam"),
    (SeamGroup.CENTER, "center"),
    (SeamGroup.SIDE, "side"),
)


def group_of(seam: Seam) -> SeamGroup:
    """The group a seam belongs to; `OTHER` for gores, tiers and panels."""
    title = seam.title.lower()
    return next((group for group, word in _WORDS if word in title), SeamGroup.OTHER)


def chosen_seams(pattern: Pattern, group: SeamGroup, name: str) -> list[Seam]:
    """The seams of a group whose raw edges stay in sight inside the garment.

    Darts, and seams that are turned or whose edges are caught between layers, have nothing to
    finish.

    Raises:
        ComponentError: there is none.
    """
    inside = [
        seam
        for seam in pattern.seams.values()
        if seam.kind is not SeamKind.DART
        and seam.care is not EdgeCare.NONE
        and seam.pressing is not Pressing.TURNED
        and not _closed_in_a_band(pattern, seam)
    ]
    found = [seam for seam in inside if group is SeamGroup.ALL or group_of(seam) is group]
    if not found:
        groups = ", ".join(dict.fromkeys(group_of(seam).value for seam in inside))
        raise ComponentError(
            "there is no such seam to finish"
            if group is SeamGroup.ALL
            else f"there is no {group.value} seam to finish",
            where=name,
            how_much=f"groups so far: {groups or 'none'}",
            what_to_do="List it after the components whose seams it finishes, or choose a group "
            "that is there.",
        )
    return found


def _closed_in_a_band(pattern: Pattern, seam: Seam) -> bool:
    """Tell whether a band is folded over the allowances of a seam, and hides them."""
    if seam.pressing is not Pressing.TOWARD_LAST:
        return False
    return all(
        any(mark.kind is MarkKind.FOLD_LINE for mark in pattern.piece(name).marks)
        for name in seam.layers[-1].run.pieces
    )


def can_be_enclosed(
    pattern: Pattern, seam: Seam, *, gathered: bool = False, in_the_round: bool = True
) -> bool:
    """Tell whether both edges of a seam can be folded to one side along its whole length.

    They cannot where it ends at an opening or a vent, whose edges are pressed apart, nor round a
    corner. Of gathered edges a narrow seam cannot be made, nor of more than two layers; a flat one
    not round the cap of a sleeve.
    """
    if not gathered and (seam.kind is not SeamKind.PLAIN or len(seam.layers) != 2):
        return False
    if not in_the_round and group_of(seam) is SeamGroup.ARMHOLE:
        return False
    open_ends = {
        corner
        for name, run in pattern.runs.items()
        if name == "opening" or name.startswith("vent")
        for edge in run.edges
        for corner in (start_corner(pattern, edge), end_corner(pattern, edge))
    }
    return not any(
        _corners(pattern, layer.run) & open_ends or _turns(pattern, layer.run)
        for layer in seam.layers
    )


def _corners(pattern: Pattern, run: Run) -> set[Corner]:
    return {
        corner
        for edge in run.edges
        for corner in (start_corner(pattern, edge), end_corner(pattern, edge))
    }


def _turns(pattern: Pattern, run: Run) -> bool:
    """Tell whether a run has a corner where two neighboring edges of one piece meet."""
    for before, after in zip(run.edges, run.edges[1:], strict=False):
        if end_corner(pattern, before) != start_corner(pattern, after):
            continue
        turn = angle_between(pattern.path(before).end_tangent, pattern.path(after).start_tangent)
        if abs(turn) > STRAIGHT_ON_RAD:
            return True
    return False
