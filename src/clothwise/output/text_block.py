"""Several lines of text set as one block, wrapped and turned as needed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from clothwise.geometry import Point, Vector
from clothwise.output.drawing import Anchor, Color, Text, Weight
from clothwise.output.fonts import ASCENT, CAP_HEIGHT, DESCENT, text_width
from clothwise.output.pens import INK


@dataclass(frozen=True)
class Sentence:
    """A text of any length with its type size; `lead_mm` is extra space above it."""

    text: str
    size_mm: float
    weight: Weight = Weight.REGULAR
    lead_mm: float = 0.0
    color: Color = INK


@dataclass(frozen=True)
class Block:
    """Lines of text, placed from the middle of the block."""

    lines: tuple[Text, ...]
    width_mm: float
    height_mm: float

    def at(self, middle: Point, rotation_rad: float = 0.0) -> tuple[Text, ...]:
        """The lines with the middle of the block at a place, turned about it."""
        return tuple(
            replace(
                line,
                at=middle + Vector(line.at.x, line.at.y).turned(rotation_rad),
                rotation_rad=rotation_rad,
            )
            for line in self.lines
        )


LINE_SPACING = 1.18
"""Distance between baselines over the type size."""


def set_block(
    sentences: Sequence[Sentence],
    *,
    wrap_mm: float = math.inf,
    scale: float = 1.0,
    anchor: Anchor = Anchor.CENTER,
) -> Block:
    """The sentences one below the other, wrapped to a width if it can be done between words."""
    rows: list[tuple[Sentence, str]] = []
    for sentence in sentences:
        scaled = replace(
            sentence, size_mm=sentence.size_mm * scale, lead_mm=sentence.lead_mm * scale
        )
        wrapped = wrap(scaled.text, scaled.size_mm, wrap_mm, scaled.weight)
        for number, text in enumerate(wrapped):
            rows.append((replace(scaled, lead_mm=0.0) if number else scaled, text))
    width = max((text_width(text, row.size_mm, row.weight) for row, text in rows), default=0.0)
    baselines: list[float] = []
    level = 0.0
    for number, (row, _) in enumerate(rows):
        step = ASCENT * row.size_mm if not number else LINE_SPACING * row.size_mm + row.lead_mm
        level -= step
        baselines.append(level)
    height = -level + (DESCENT * rows[-1][0].size_mm if rows else 0.0)
    x = {Anchor.LEFT: -width / 2, Anchor.CENTER: 0.0, Anchor.RIGHT: width / 2}[anchor]
    lines = tuple(
        Text(
            text,
            Point(x, baseline + height / 2),
            row.size_mm,
            row.color,
            anchor=anchor,
            weight=row.weight,
        )
        for (row, text), baseline in zip(rows, baselines, strict=True)
    )
    return Block(lines, width, height)


def wrap(text: str, size_mm: float, width_mm: float, weight: Weight = Weight.REGULAR) -> list[str]:
    """The text in lines no longer than a width, broken at spaces; long words stay whole.

    A no-break space (between a number and its unit) is not broken.
    """
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size_mm, weight) <= width_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines or [""]


@dataclass(frozen=True)
class Column:
    """Running text set from a top left corner; `bottom` is where it ends."""

    texts: tuple[Text, ...]
    bottom: float


def set_column(
    sentences: Iterable[Sentence], *, left: float, top: float, width_mm: float
) -> Column:
    """Sentences below each other from the top left, each wrapped to the width."""
    texts: list[Text] = []
    level = top
    for sentence in sentences:
        level -= sentence.lead_mm
        for line in wrap(sentence.text, sentence.size_mm, width_mm, sentence.weight):
            level -= LINE_SPACING * sentence.size_mm
            texts.append(
                Text(
                    line,
                    Point(left, level + (LINE_SPACING - CAP_HEIGHT) * sentence.size_mm / 2),
                    sentence.size_mm,
                    sentence.color,
                    weight=sentence.weight,
                )
            )
    return Column(tuple(texts), level)
