"""Rows of boxes: a plain layout that always exists and always holds.

Each row takes a stretch of the length; pieces stand side by side across the cloth, the longest
first. Wasteful, but no search: it is what is left when the packer fails or may not run.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clothwise.cutting.item import Polyline
from clothwise.cutting.layout import Cut, Placement
from clothwise.cutting.parts import Part, fold_depth_mm, oriented, placement_of

__all__ = ["in_rows"]


@dataclass(slots=True)
class _Row:
    start_mm: float
    length_mm: float
    filled_mm: float


def in_rows(parts: Sequence[Part], width_mm: float, between_mm: float) -> list[Placement]:
    """Return all parts in rows, starting at x = 0; half pieces at the fold, one to a row.

    Args:
        parts: each at most `width_mm` across.
        width_mm: of the cloth.
        between_mm: cloth between boxes.
    """
    longest_first = sorted(parts, key=lambda part: (part.cut is not Cut.ON_FOLD, -_box(part)[1]))
    rows: list[_Row] = []
    placements = []
    for part in longest_first:
        left, length, bottom, height = _box(part)
        row = None if part.cut is Cut.ON_FOLD else _row_with_room(rows, length, height, width_mm)
        if row is None:
            start = rows[-1].start_mm + rows[-1].length_mm + between_mm if rows else 0.0
            row = _Row(start, length, 0.0)
            rows.append(row)
        across = (
            -fold_depth_mm(part, part.poses[0])
            if part.cut is Cut.ON_FOLD
            else row.filled_mm - bottom
        )
        placements.append(placement_of(part, part.poses[0], row.start_mm - left, across))
        row.filled_mm += height + between_mm
    return placements


def _row_with_room(
    rows: Sequence[_Row], length_mm: float, height_mm: float, width_mm: float
) -> _Row | None:
    for row in rows:
        if length_mm <= row.length_mm and row.filled_mm + height_mm <= width_mm:
            return row
    return None


def _box(part: Part) -> tuple[float, float, float, float]:
    """Return left, length, bottom, height of the part in its first pose."""
    outline: Polyline = oriented(part, part.poses[0])
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return min(xs), max(xs) - min(xs), min(ys), max(ys) - min(ys)
