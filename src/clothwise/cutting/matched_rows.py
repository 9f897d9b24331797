"""Rows of boxes whose pieces lie on places of the cloth's pattern: plain, and always there.

As `rows`, for cloth that is matched: each piece goes to the first place of its row, or of a new
one, that the pattern allows.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from clothwise.cutting.layout import Cut, Placement
from clothwise.cutting.parts import Part, Pose, fold_depth_mm, oriented, placement_of
from clothwise.cutting.placing.field import Steps
from clothwise.cutting.stretch_packing import PlaceSteps

__all__ = ["first_place", "in_matched_rows"]

_SLACK_MM = 1e-6  # what adding floats can cost


@dataclass(slots=True)
class _Row:
    start_mm: float
    end_mm: float
    filled_mm: float


def in_matched_rows(
    parts: Sequence[Part],
    steps: PlaceSteps,
    width_mm: float,
    between_mm: float,
    start_mm: float,
) -> list[Placement] | None:
    """Return all parts in rows, from `start_mm` on; None if one has no place across the cloth.

    Args:
        parts: what is laid on the stretch.
        steps: where parts may lie.
        width_mm: of the cloth.
        between_mm: cloth between boxes.
        start_mm: before this, along, nothing lies.
    """
    longest_first = sorted(parts, key=lambda part: (part.cut is not Cut.ON_FOLD, -_length(part)))
    rows: list[_Row] = []
    placements = []
    for part in longest_first:
        placed = None
        for row in rows if part.cut is not Cut.ON_FOLD else ():
            placed = placed or _placed(part, row, steps, width_mm, between_mm)
        if placed is None:
            start = rows[-1].end_mm + between_mm if rows else start_mm
            rows.append(_Row(start, math.inf, 0.0))
            placed = _placed(part, rows[-1], steps, width_mm, between_mm)
        if placed is None:
            return None
        placements.append(placed)
    return placements


def first_place(steps: Steps | None, from_mm: float) -> float:
    """Return the first place from a length on; infinite if there is none.

    >>> first_place(Steps(5, 20), 30)
    45.0
    """
    if steps is None:
        return from_mm
    if not steps.step_mm:
        return steps.offset_mm if steps.offset_mm >= from_mm - _SLACK_MM else math.inf
    number = math.ceil((from_mm - steps.offset_mm) / steps.step_mm - _SLACK_MM)
    return float(steps.offset_mm + number * steps.step_mm)


def _placed(
    part: Part,
    row: _Row,
    steps: PlaceSteps,
    width_mm: float,
    between_mm: float,
) -> Placement | None:
    """Return the part at the end of a row, which then has less room; None if it does not fit."""
    for pose in part.poses:
        left, right, bottom, top = _box(part, pose)
        along, across = steps(part, pose)
        x = first_place(along, row.start_mm - left)
        y = first_place(across, row.filled_mm - bottom)
        if part.cut is Cut.ON_FOLD:
            y = -fold_depth_mm(part, pose)
        if x + right <= row.end_mm + _SLACK_MM and y + top <= width_mm + _SLACK_MM:
            row.end_mm = x + right if math.isinf(row.end_mm) else row.end_mm
            row.filled_mm = y + top + between_mm
            return placement_of(part, pose, x, y)
    return None


def _box(part: Part, pose: Pose) -> tuple[float, float, float, float]:
    outline = oriented(part, pose)
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return min(xs), max(xs), min(ys), max(ys)


def _length(part: Part) -> float:
    left, right, _, _ = _box(part, part.poses[0])
    return right - left
