"""Where pieces lie on the board: upright, as on the body, and what goes with them beside that.

A place once taken is kept, so that a piece does not jump while its shape changes; only pieces that
are new look for one.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import chain

from clothwise.geometry import Point, Vector
from clothwise.output.board_order import BodyOrder
from clothwise.output.bounds import Bounds

GAP_MM = 70.0
"""Distance between pieces on the board; our own choice."""

APART_MM = 56.0
"""How far a part of a split piece is moved away from the rest; our own choice."""

WIDER_THAN_HIGH = 1.6
"""The board is about so much wider than high, as screens are; our own choice."""


COLUMN_SHARES = (1.0, 1.25, 1.6, 2.1, 3.2)
"""Heights of columns tried, as shares of the tallest piece; our own choice."""

FLAT_SHARE = 2.4
"""A piece so much wider than high lies below the others, as a belt does; our own choice."""


_Groups = Sequence[Mapping[str, Bounds]]


@dataclass
class _Column:
    left: float
    width: float
    filled: float = 0.0

    def has_room(self, box: Bounds, height: float) -> bool:
        return self.filled + box.height <= height + 1e-6


@dataclass(frozen=True)
class _Block:
    """Pieces in columns: where they lie, from the left and the top of the block, and its size."""

    places: dict[str, Point]
    width: float = 0.0
    depth: float = 0.0

    @classmethod
    def below(cls, one: _Block, other: _Block) -> _Block:
        """A block with another one below it."""
        if not (one.places and other.places):
            return one if one.places else other
        down = Vector(0.0, -one.depth - GAP_MM)
        places = one.places | {name: at + down for name, at in other.places.items()}
        return cls(places, max(one.width, other.width), one.depth + GAP_MM + other.depth)

    @classmethod
    def right_of(cls, one: _Block, other: _Block) -> _Block:
        """A block with another one to its right."""
        if not (one.places and other.places):
            return one if one.places else other
        right = Vector(one.width + GAP_MM, 0.0)
        places = one.places | {name: at + right for name, at in other.places.items()}
        return cls(places, one.width + GAP_MM + other.width, max(one.depth, other.depth))


def board_places(
    boxes: Mapping[str, Bounds],
    kept: Mapping[str, Point] | None = None,
    parts_of: Mapping[str, str] | None = None,
    order: BodyOrder | None = None,
) -> dict[str, Point]:
    """Where the origin of each piece lies on the board, y upward, by name.

    Args:
        boxes: what each piece covers, in its own coordinates, in the order of drafting.
        kept: places of before; those of pieces that are gone are forgotten.
        parts_of: for parts of a split piece, the name of what they were.
        order: as the pieces lie on the body; all of them in one row if it is not known.
    """
    rows = order or BodyOrder(upper=(tuple(boxes),))
    if not kept:
        return _laid_out(boxes, rows, left=0.0)
    places = {name: kept[name] for name in boxes if name in kept}
    for name, whole in (parts_of or {}).items():
        if name in boxes and name not in places and name != whole and whole in places:
            away = _away(boxes[name], boxes[whole]) if whole in boxes else Vector(0.0, 0.0)
            places[name] = places[whole] + away
    new = {name: box for name, box in boxes.items() if name not in places}
    if new:
        right = max((places[name].x + boxes[name].right for name in places), default=-GAP_MM)
        places |= _laid_out(new, rows, left=right + GAP_MM)
    return {name: places[name] for name in boxes}


def _away(box: Bounds, other: Bounds) -> Vector:
    """The step that parts two neighbors along the way in which they lie further from each other."""
    across = (box.left + box.right - other.left - other.right) / 2
    up = (box.bottom + box.top - other.bottom - other.top) / 2
    if abs(across) >= abs(up):
        return Vector(APART_MM if across >= 0 else -APART_MM, 0.0)
    return Vector(0.0, APART_MM if up >= 0 else -APART_MM)


def _laid_out(boxes: Mapping[str, Bounds], order: BodyOrder, *, left: float) -> dict[str, Point]:
    """The rows of the body one below the other, beside them the rest, below all what is flat.

    Several heights of columns are tried in each row, and those kept that a screen shows largest.
    """
    flat = {name: box for name, box in boxes.items() if _is_flat(box, boxes)}
    upper, lower, beside = (
        [
            {name: boxes[name] for name in group if name in boxes and name not in flat}
            for group in row
        ]
        for row in (order.upper, order.lower, [tuple(chain.from_iterable(order.beside))])
    )
    tries = [
        _together(above, below, beside, flat, is_wide=is_wide)
        for above in _tried(upper)
        for below in _tried(lower)
        for is_wide in (False, True)
    ]
    places = min(tries, key=lambda each: _size_on_screen(each, boxes))
    return {name: places[name] + Vector(left, 0.0) for name in boxes}


def _tried(row: _Groups) -> list[_Block]:
    """A row with columns of several heights."""
    shares = COLUMN_SHARES if any(len(group) > 1 for group in row) else COLUMN_SHARES[:1]
    return [_filled(row, _tallest(row) * share) for share in shares]


def _tallest(row: _Groups) -> float:
    return max((box.height for group in row for box in group.values()), default=0.0)


def _together(
    above: _Block, below: _Block, beside: _Groups, flat: Mapping[str, Bounds], *, is_wide: bool
) -> dict[str, Point]:
    """The two rows below each other, the rest to their right or, on a wide board, below them."""
    body = _Block.below(above, below)
    if is_wide:
        whole = _Block.below(body, _filled(beside, _tallest(beside)))
    else:
        whole = _Block.right_of(body, _filled(beside, max(body.depth, _tallest(beside))))
    return whole.places | _rows(flat, whole.width, whole.depth + GAP_MM if whole.places else 0.0)


def _is_flat(box: Bounds, among: Mapping[str, Bounds]) -> bool:
    widths = sorted(each.width for each in among.values())
    return box.width > FLAT_SHARE * box.height and box.width > 1.5 * widths[len(widths) // 2]


def _size_on_screen(places: Mapping[str, Point], boxes: Mapping[str, Bounds]) -> float:
    """How large a screen would have to be to show all of it."""
    width = max((at.x + boxes[name].right for name, at in places.items()), default=0.0)
    depth = max((-at.y - boxes[name].bottom for name, at in places.items()), default=0.0)
    return max(width / WIDER_THAN_HIGH, depth)


def _filled(row: _Groups, height: float) -> _Block:
    """Fill columns from the top, each piece into the last one of its group that has room."""
    columns: list[_Column] = []
    spots: dict[str, tuple[_Column, float]] = {}
    for group in row:
        column: _Column | None = None
        for name, box in group.items():
            if column is None or not column.has_room(box, height):
                start = columns[-1].left + columns[-1].width + GAP_MM if columns else 0.0
                column = _Column(start, box.width)
                columns.append(column)
            spots[name] = (column, column.filled)
            column.width = max(column.width, box.width)
            column.filled += box.height + GAP_MM
    boxes = {name: box for group in row for name, box in group.items()}
    places = {
        name: Point(
            column.left + (column.width - boxes[name].width) / 2 - boxes[name].left,
            -depth - boxes[name].top,
        )
        for name, (column, depth) in spots.items()
    }
    if not columns:
        return _Block({})
    width = columns[-1].left + columns[-1].width
    return _Block(places, width, max(each.filled for each in columns) - GAP_MM)


def _rows(flat: Mapping[str, Bounds], width: float, depth: float) -> dict[str, Point]:
    places: dict[str, Point] = {}
    x = high = 0.0
    for name, box in flat.items():
        if x > 0 and x + box.width > width:
            x, depth, high = 0.0, depth + high + GAP_MM, 0.0
        places[name] = Point(x - box.left, -depth - box.top)
        x, high = x + box.width + GAP_MM, max(high, box.height)
    return places
