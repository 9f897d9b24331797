"""Where pieces lie on the board: upright, in columns, in the order they were drafted.

A place once taken is kept, so that a piece does not jump while its shape changes; only pieces that
are new look for one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from clothwise.geometry import Point, Vector
from clothwise.output.bounds import Bounds

GAP_MM = 70.0
"""Distance between pieces on the board; our own choice."""

APART_MM = 36.0
"""How far a part of a split piece is moved away from the rest; our own choice."""

WIDER_THAN_HIGH = 1.5
"""The board is about so much wider than high, as screens are; our own choice."""


@dataclass
class _Column:
    left: float
    width: float
    filled: float = 0.0


def board_places(
    boxes: Mapping[str, Bounds],
    kept: Mapping[str, Point] | None = None,
    parts_of: Mapping[str, str] | None = None,
) -> dict[str, Point]:
    """Where the origin of each piece lies on the board, y upward, by name.

    Args:
        boxes: what each piece covers, in its own coordinates, in the order of drafting.
        kept: places of before; those of pieces that are gone are forgotten.
        parts_of: for parts of a split piece, the name of what they were.
    """
    if not kept:
        return _columns(boxes, left=0.0)
    places = {name: kept[name] for name in boxes if name in kept}
    for name, whole in (parts_of or {}).items():
        if name in boxes and name not in places and name != whole and whole in places:
            away = _away(boxes[name], boxes[whole]) if whole in boxes else Vector(0.0, 0.0)
            places[name] = places[whole] + away
    new = {name: box for name, box in boxes.items() if name not in places}
    if new:
        right = max((places[name].x + boxes[name].right for name in places), default=-GAP_MM)
        places |= _columns(new, left=right + GAP_MM)
    return {name: places[name] for name in boxes}


def _away(box: Bounds, other: Bounds) -> Vector:
    """The step that parts two neighbors along the way in which they lie further from each other."""
    across = (box.left + box.right - other.left - other.right) / 2
    up = (box.bottom + box.top - other.bottom - other.top) / 2
    if abs(across) >= abs(up):
        return Vector(APART_MM if across >= 0 else -APART_MM, 0.0)
    return Vector(0.0, APART_MM if up >= 0 else -APART_MM)


def _columns(boxes: Mapping[str, Bounds], *, left: float) -> dict[str, Point]:
    """Fill columns from the top, each piece into the first that has room."""
    area = sum((box.width + GAP_MM) * (box.height + GAP_MM) for box in boxes.values())
    tallest = max((box.height for box in boxes.values()), default=0.0)
    height = max(tallest, (area / WIDER_THAN_HIGH) ** 0.5)
    columns: list[_Column] = []
    spots: dict[str, tuple[_Column, float]] = {}
    for name, box in boxes.items():
        column = next((each for each in columns if _has_room(each, box, height)), None)
        if column is None:
            start = columns[-1].left + columns[-1].width + GAP_MM if columns else left
            column = _Column(start, box.width)
            columns.append(column)
        elif column is columns[-1]:
            column.width = max(column.width, box.width)
        spots[name] = (column, column.filled)
        column.filled += box.height + GAP_MM
    return {
        name: Point(
            column.left + (column.width - boxes[name].width) / 2 - boxes[name].left,
            -depth - boxes[name].top,
        )
        for name, (column, depth) in spots.items()
    }


def _has_room(column: _Column, box: Bounds, height: float) -> bool:
    return column.filled + box.height <= height and box.width <= column.width * 1.15
