"""A cutting layout on a page of its own: what it takes, the picture, and what limits it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from clothwise.geometry import Point, Transform
from clothwise.output.bounds import Bounds, drawing_bounds
from clothwise.output.drawing import (
    Color,
    Drawing,
    Group,
    Item,
    Layer,
    Shape,
    Stroke,
    Text,
    Weight,
)
from clothwise.output.fonts import text_width
from clothwise.output.paper import A4, Margins, Paper, printable
from clothwise.output.scene_drawing import CLOTHS, INK
from clothwise.output.text_block import Column, Sentence, set_column

__all__ = ["LayoutText", "layout_page"]

_TITLE_MM, _SUBTITLE_MM = 5.6, 3.6
_FACT_MM, _FACT_NAME_MM, _SENTENCE_MM = 3.7, 2.9, 3.4
_GAP_MM = 4.0
_FACT_GAP_MM = 8.0  # between two facts beside each other
_CHALK = Color.parse("#6b6760")
_SWATCH = Stroke(0.14, INK)
_SWATCH_MM = (6.0, 4.2)


@dataclass(frozen=True)
class LayoutText:
    """What is written around a layout.

    Attributes:
        title: the fabric.
        subtitle: the garment, its view and size.
        tint: color of the fabric.
        facts: pairs such as `("Buy", "2.6 m")`.
        sentences: below the picture.
    """

    title: str
    subtitle: str = ""
    tint: Color = CLOTHS[0]
    facts: tuple[tuple[str, str], ...] = ()
    sentences: tuple[str, ...] = ()


def layout_page(
    text: LayoutText,
    draw: Callable[[float, float], Drawing],
    *,
    paper: Paper = A4,
    margins: Margins | None = None,
) -> Drawing:
    """A page as large as the paper, its lower left corner at (0, 0).

    Args:
        text: what is written.
        draw: gives the layout for a room: its width and its height in mm.
        paper: upright or `landscape`, as suits the layout.
        margins: left free.
    """
    room = printable(paper, margins or Margins())
    above = _above(text, room)
    below = _below(text, room)
    top, bottom = above.bottom - _GAP_MM, room.bottom + below.height_mm
    picture = draw(room.width, max(top - bottom, 30.0))
    frame = drawing_bounds(picture)
    # The picture hangs below the facts; the sentences follow it.
    move = Transform.shift(room.left, top - frame.top)
    layers = [
        Layer(
            layer.name,
            (Group(layer.items, move),),
            layer.switchable,
            layer.visible,
        )
        for layer in picture.layers
    ]
    end = top - (frame.top - min(frame.bottom, 0.0))
    sentences = set_column(below.sentences, left=room.left, top=end, width_mm=room.width)
    edge = Bounds(0.0, 0.0, paper.width_mm, paper.height_mm)
    page: tuple[Item, ...] = (
        Shape((edge.path,), None, None, closed=True, solid=True),
        *above.items,
        *sentences.texts,
    )
    return Drawing((Layer("page", page), *layers), f"{text.title}, {text.subtitle}".strip(", "))


@dataclass(frozen=True)
class _Above:
    items: tuple[Item, ...]
    bottom: float


@dataclass(frozen=True)
class _Below:
    sentences: tuple[Sentence, ...]
    height_mm: float


def _above(text: LayoutText, room: Bounds) -> _Above:
    wide, high = _SWATCH_MM
    base = room.top - _TITLE_MM
    swatch = Bounds(room.left, base - 0.2, room.left + wide, base - 0.2 + high)
    items: list[Item] = [Shape((swatch.path,), _SWATCH, text.tint, closed=True)]
    title = set_column(
        [Sentence(text.title, _TITLE_MM, Weight.BOLD, color=INK)],
        left=room.left + wide + 2.5,
        top=room.top + 0.6,
        width_mm=room.width - wide - 2.5,
    )
    items += title.texts
    level = title.bottom
    if text.subtitle:
        column = set_column(
            [Sentence(text.subtitle, _SUBTITLE_MM, color=_CHALK)],
            left=room.left,
            top=level - 1.0,
            width_mm=room.width,
        )
        items += column.texts
        level = column.bottom
    facts = _facts(text.facts, room, level - 2.5)
    return _Above((*items, *facts.texts), facts.bottom)


def _facts(facts: Sequence[tuple[str, str]], room: Bounds, top: float) -> Column:
    """The facts beside each other, as many to a line as fit."""
    texts: list[Text] = []
    x, level = room.left, top - _FACT_NAME_MM
    for name, value in facts:
        width = max(text_width(name, _FACT_NAME_MM), text_width(value, _FACT_MM, Weight.BOLD))
        if x > room.left and x + width > room.right:
            x, level = room.left, level - 2.7 * _FACT_MM
        below = level - 1.25 * _FACT_MM
        texts.append(Text(name, Point(x, level), _FACT_NAME_MM, _CHALK))
        texts.append(Text(value, Point(x, below), _FACT_MM, INK, weight=Weight.BOLD))
        x += width + _FACT_GAP_MM
    return Column(tuple(texts), level - 1.6 * _FACT_MM if facts else top + 2.5)


def _below(text: LayoutText, room: Bounds) -> _Below:
    sentences = tuple(
        Sentence(said, _SENTENCE_MM, lead_mm=_GAP_MM if not nth else 1.0, color=INK)
        for nth, said in enumerate(text.sentences)
    )
    column = set_column(sentences, left=0.0, top=0.0, width_mm=room.width)
    return _Below(sentences, -column.bottom)
