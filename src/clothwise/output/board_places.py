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

APART_MM = 56.0
"""How far a part of a split piece is moved away from the rest; our own choice."""

WIDER_THAN_HIGH = 1.6
"""The board is about so much wider than high, as screens are; our own choice."""


COLUMN_SHARES = (1.0, 1.12, 1.25, 1.4, 1.6, 2.0, 2.6)
"""Heights of columns tried, as shares of the tallest piece; our own choice."""

FLAT_SHARE = 2.4
"""A piece so much wider than high lies below the others, as a belt does; our own choice."""


@dataclass
class _Column:
    left: float
    width: float
    filled: float = 0.0

    def has_room(self, box: Bounds, height: float) -> bool:
        return self.filled + box.height <= height + 1e-6 and box.width <= self.width * 1.02


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
    """Columns of pieces, and below them, in rows, what is long and flat.

    Several heights of columns are tried, and the one kept that a screen shows largest.
    """
    flat = {name: box for name, box in boxes.items() if _is_flat(box, boxes)}
    upright = {name: box for name, box in boxes.items() if name not in flat}
    tallest = max((box.height for box in upright.values()), default=0.0)
    tries = [_laid(upright, flat, tallest * share) for share in COLUMN_SHARES]
    places = min(tries, key=lambda each: _size_on_screen(each, boxes))
    return {name: places[name] + Vector(left, 0.0) for name in boxes}


def _is_flat(box: Bounds, among: Mapping[str, Bounds]) -> bool:
    widths = sorted(each.width for each in among.values())
    return box.width > FLAT_SHARE * box.height and box.width > 1.5 * widths[len(widths) // 2]


def _size_on_screen(places: Mapping[str, Point], boxes: Mapping[str, Bounds]) -> float:
    """How large a screen would have to be to show all of it."""
    width = max((at.x + boxes[name].right for name, at in places.items()), default=0.0)
    depth = max((-at.y - boxes[name].bottom for name, at in places.items()), default=0.0)
    return max(width / WIDER_THAN_HIGH, depth)


def _laid(
    upright: Mapping[str, Bounds], flat: Mapping[str, Bounds], height: float
) -> dict[str, Point]:
    """Fill columns from the top, each piece into the first that has room; then the rows."""
    columns: list[_Column] = []
    spots: dict[str, tuple[_Column, float]] = {}
    for name, box in upright.items():
        column = next((each for each in columns if each.has_room(box, height)), None)
        if column is None:
            start = columns[-1].left + columns[-1].width + GAP_MM if columns else 0.0
            column = _Column(start, box.width)
            columns.append(column)
        spots[name] = (column, column.filled)
        column.filled += box.height + GAP_MM
    places = {
        name: Point(
            column.left + (column.width - upright[name].width) / 2 - upright[name].left,
            -depth - upright[name].top,
        )
        for name, (column, depth) in spots.items()
    }
    width = columns[-1].left + columns[-1].width if columns else 0.0
    return places | _rows(flat, width, max((each.filled for each in columns), default=0.0))


def _rows(flat: Mapping[str, Bounds], width: float, depth: float) -> dict[str, Point]:
    places: dict[str, Point] = {}
    x = high = 0.0
    for name, box in flat.items():
        if x > 0 and x + box.width > width:
            x, depth, high = 0.0, depth + high + GAP_MM, 0.0
        places[name] = Point(x - box.left, -depth - box.top)
        x, high = x + box.width + GAP_MM, max(high, box.height)
    return places
