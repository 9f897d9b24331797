"""Pens, words and arrows of a cutting layout."""

from __future__ import annotations

import math

from clothwise.geometry import Point, Vector, arc, polyline
from clothwise.output.drawing import (
    Anchor,
    Baseline,
    Cap,
    Color,
    Item,
    Shape,
    Stroke,
    Text,
)
from clothwise.output.scene_drawing import INK, THREAD

_CHALK = Color.parse("#8f8a82")

EDGE = Stroke(0.3, INK)

SELVAGE = Stroke(0.18, _CHALK, (0.9, 0.7))

FOLD = Stroke(0.5, INK, (3.0, 0.9, 0.7, 0.9))

CUT_ACROSS = Stroke(0.35, THREAD, (1.6, 0.9))

END_OF_CLOTH = Stroke(0.6, THREAD, (0.7, 0.8))
"""Where the length at hand ends, if the layout is longer."""

PIECE = Stroke(0.24, INK, (), Cap.ROUND)

HATCH = Stroke(0.09, _CHALK)

TICK = Stroke(0.2, INK)

_THIN = Stroke(0.16, INK)

HATCH_MM = 1.5

FOLD_BAR = Stroke(1.1, INK, (), Cap.BUTT)

PATTERN_LINE = Stroke(0.14, Color.parse("#6d8fae"))
"""Lines of the cloth's pattern; thin, because they run over pieces and words."""

BORDER_LINE = Stroke(0.3, Color.parse("#6d8fae"), (4.0, 1.2))
"""The line of a border, on which lower edges come to lie."""

MATCH = Stroke(0.35, THREAD)

HOLE = Stroke(0.35, INK, (1.1, 0.7))
"""The edge of a hole in a remnant; dashed, as it is no cut edge of a piece."""

FLAW = Stroke(0.3, THREAD)

FLAW_HATCH = Stroke(0.14, THREAD)

FLAW_HATCH_MM = 1.0

PIN = Stroke(0.3, THREAD, (), Cap.ROUND)

PIN_MM = 4.2
"""How long a pin is drawn."""

TYPE_MM = 2.7
"""Type size of the words about the cloth; about 7.5 points."""


def word_at(text: str, at: Point, anchor: Anchor, size_mm: float) -> Text:
    """A word about the cloth, on a line."""
    return Text(text, at, size_mm, INK, anchor=anchor)


def word_in_middle(text: str, at: Point) -> Text:
    """A word whose middle is level with a place."""
    return Text(text, at, TYPE_MM, INK, baseline=Baseline.MIDDLE)


def pin(at: Point, angle_rad: float) -> list[Item]:
    """A pin stuck across a line at a place, its head to the left of the direction."""
    along = Vector(math.cos(angle_rad), math.sin(angle_rad)).left
    tip, head = at - along * (PIN_MM / 2), at + along * (PIN_MM / 2)
    ball = arc(head, 0.6, 0.0, 2 * math.pi)
    return [Shape((polyline([tip, head]),), PIN), Shape((ball,), None, THREAD, closed=True)]


def arrow(start: Point, end: Point) -> Shape:
    """An arrow between two places."""
    along = (end - start).unit if start.distance(end) > 1e-9 else Vector(1.0, 0.0)
    barbs = [end - along.turned(angle) * 1.3 for angle in (0.4, -0.4)]
    return Shape((polyline([start, end]), polyline([barbs[0], end, barbs[1]])), _THIN)


def mixed(color: Color, share: float) -> Color:
    """The color thinned with white."""

    def part(value: int) -> int:
        return round(255 - (255 - value) * share)

    return Color(part(color.red), part(color.green), part(color.blue))
