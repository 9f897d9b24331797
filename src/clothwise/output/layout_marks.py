"""Pens, words and arrows of a cutting layout."""

from __future__ import annotations

from clothwise.geometry import Point, Vector, polyline
from clothwise.output.drawing import (
    Anchor,
    Baseline,
    Cap,
    Color,
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

PIECE = Stroke(0.24, INK, (), Cap.ROUND)

HATCH = Stroke(0.09, _CHALK)

TICK = Stroke(0.2, INK)

_THIN = Stroke(0.16, INK)

HATCH_MM = 1.5

FOLD_BAR = Stroke(1.1, INK, (), Cap.BUTT)

TYPE_MM = 2.7
"""Type size of the words about the cloth; about 7.5 points."""


def word_at(text: str, at: Point, anchor: Anchor, size_mm: float) -> Text:
    """A word about the cloth, on a line."""
    return Text(text, at, size_mm, INK, anchor=anchor)


def word_in_middle(text: str, at: Point) -> Text:
    """A word whose middle is level with a place."""
    return Text(text, at, TYPE_MM, INK, baseline=Baseline.MIDDLE)


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
