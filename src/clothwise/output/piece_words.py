"""What is printed on a piece: its title, how often it is cut, and what else there is room for.

Words are fitted into the free room of the piece, smaller if they must be, and never across a
line; where there is no room they stand beside the piece, on a leader.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product

import shapely

from clothwise.geometry import Line, Path, Point
from clothwise.output.cut_text import allowance_text, cut_texts, side_texts
from clothwise.output.drawing import Group, Item, Shape, Weight
from clothwise.output.free_space import FreeSpace, text_polygon
from clothwise.output.pens import FINE
from clothwise.output.symbols import dot
from clothwise.output.text_block import Sentence, set_block
from clothwise.pattern import Pattern, Piece
from clothwise.units import LengthUnit

_UPRIGHT, _TURNED = 0.0, math.pi / 2
_SETTINGS = (
    *((scale, _UPRIGHT) for scale in (1.4, 1.2, 1.0, 0.85, 0.72)),
    *((scale, _TURNED) for scale in (1.0, 0.85, 0.72)),
    *((scale, turn) for scale in (0.62, 0.54) for turn in (_UPRIGHT, _TURNED)),
)  # type sizes and turns tried, the best to read first
_LARGE_SHARE = 0.45  # type larger than usual may take so much of the width of a piece
_WRAPS_MM = (60.0, math.inf, 75.0, 40.0, 30.0)  # widths tried at the usual size; short first
_LEADER_SIZE_MM = 3.2


@dataclass(frozen=True)
class Caption:
    """What the words of a piece need to know beside the piece.

    `size` is a size, or a range of them if `is_range`. `number` counts the pieces;
    `fabric_titles` say what the fabric roles are called; `unit` is the reader's.
    """

    design: str = ""
    size: str = ""
    number: str = ""
    unit: LengthUnit = LengthUnit.CENTIMETER
    fabric_titles: Mapping[str, str] = field(default_factory=dict)
    is_range: bool = False


NO_CAPTION = Caption()


def words_of(pattern: Pattern, piece: Piece, caption: Caption) -> tuple[tuple[Sentence, ...], ...]:
    """The words of a piece: all of them, then ever fewer for pieces without room."""
    number = f"{caption.number} " if caption.number else ""
    title = Sentence(number + piece.title, 6.6, Weight.BOLD)
    size_word = "Sizes" if caption.is_range else "Size"
    size = Sentence(f"{size_word} {caption.size}", 5.0, lead_mm=0.4) if caption.size else None
    cut = tuple(
        Sentence(text, 3.8, lead_mm=1.2 if not place else 0.2)
        for place, text in enumerate(cut_texts(piece, caption.fabric_titles))
    )
    allowance = allowance_text(pattern, piece, caption.unit)
    details = [text for text in (allowance, *side_texts(piece)) if text]
    notes = tuple(
        Sentence(text, 3.2, Weight.ITALIC, lead_mm=1.0 if not place else 0.2)
        for place, text in enumerate(details)
    )
    design = (Sentence(caption.design, 3.2, lead_mm=1.2),) if caption.design else ()
    head = (title, size) if size else (title,)
    return ((*head, *cut, *notes, *design), (*head, *cut), head)


def fitted(
    choices: Sequence[Sequence[Sentence]], space: FreeSpace, wanted: Point | None = None
) -> tuple[Item, ...]:
    """The words in the largest type for which there is room; outside, on a leader, if for none.

    Args:
        choices: the same words in ever fewer sentences.
        space: where they may stand; they are taken from it.
        wanted: where they would stand best; by default the middle of the area.
    """
    middle = space.area.centroid
    aim = wanted or Point(middle.x, middle.y)
    for sentences in choices:
        for scale, turn in _SETTINGS:
            spot = _fit(sentences, scale, turn, space, aim)
            if spot:
                return spot
    return _on_leader(choices[-1], space)


def _fit(
    sentences: Sequence[Sentence], scale: float, turn: float, space: FreeSpace, aim: Point
) -> tuple[Item, ...]:
    left, _, right, _ = space.area.bounds
    widest = (right - left) * (_LARGE_SHARE if scale > 1.0 else 1.0)
    tried: set[tuple[float, float]] = set()
    for wrap_mm in _WRAPS_MM:
        block = set_block(sentences, wrap_mm=wrap_mm * scale, scale=scale)
        key = (block.width_mm, block.height_mm)
        width, height = key if turn == _UPRIGHT else (key[1], key[0])
        if key in tried or width > widest:
            continue
        tried.add(key)
        middle = space.place(width, height, aim)
        if middle:
            texts = block.at(middle, turn)
            for text in texts:
                space.take(text_polygon(text))
            return (Group(texts, is_block=True),)
    return ()


def _on_leader(sentences: Sequence[Sentence], space: FreeSpace) -> tuple[Item, ...]:
    """The words beside the piece, with a line to its middle."""
    scale = _LEADER_SIZE_MM / sentences[0].size_mm
    block = set_block(sentences, scale=scale)
    right = 0.0 if space.area.is_empty else space.area.bounds[2]
    start = _leader_start(space, right)
    middle = Point(right + 30.0 + block.width_mm / 2, start.y)
    end = Point(right + 29.0, start.y)
    leader = Path((Line(start, end),))
    return (Shape((leader,), FINE), dot(start, 0.7), *block.at(middle))


def _leader_start(space: FreeSpace, right: float) -> Point:
    """A place inside from which a level line leads out without crossing what is drawn, if any."""
    if space.area.is_empty:
        return Point(0.0, 0.0)
    inside = space.area.representative_point()
    left, bottom, _, top = space.area.bounds
    grid = product((0.5, 0.6, 0.7, 0.8, 0.9, 0.95), (0.5, 0.35, 0.65, 0.2, 0.8))
    tried = [Point(left + x * (right - left), bottom + y * (top - bottom)) for x, y in grid]
    for spot in (Point(inside.x, inside.y), *tried):
        line = shapely.LineString([(spot.x, spot.y), (right, spot.y)]).buffer(0.5)
        is_free = not any(line.intersects(other) for other in space.taken)
        if is_free and space.area.contains(shapely.Point(spot.x, spot.y)):
            return spot
    return Point(inside.x, inside.y)
