"""What is said about the cloth of a cutting layout: its length, width and stretches."""

from __future__ import annotations

import math
from dataclasses import replace

from clothwise.cutting.layout import Layers
from clothwise.geometry import Point, polyline
from clothwise.output.drawing import (
    Anchor,
    Item,
    Shape,
    Text,
    Weight,
)
from clothwise.output.fonts import text_width
from clothwise.output.layout_frame import YARD_UNITS, LayoutFrame, yards
from clothwise.output.layout_marks import (
    CUT_ACROSS,
    TICK,
    TYPE_MM,
    arrow,
    word_at,
)
from clothwise.output.scene_drawing import INK, THREAD
from clothwise.units import MM_PER_YARD


def ruler(on: LayoutFrame) -> list[Item]:
    """The length of the cloth along its upper edge."""
    in_yards = on.unit in YARD_UNITS
    step = MM_PER_YARD / 8 if in_yards else 100.0
    length, top = on.layout.length_mm, on.top
    named = 4 if in_yards else 5
    if length * on.factor / (length / step) * named < 9.0:
        named *= 2
    ticks, words = [], []
    end = on.at(length, 0.0)
    for number in range(int(length / step + 1e-9) + 1):
        x = on.at(number * step, 0.0).x
        long = number % named == 0
        ticks.append(polyline([Point(x, top), Point(x, top + (1.7 if long else 0.9))]))
        if long and number and x < end.x - 13.0:
            said = yards(number) if in_yards else f"{number * 10} cm"
            words.append(word_at(said, Point(x, top + 2.3), Anchor.CENTER, 2.3))
    ticks.append(polyline([Point(end.x, top), Point(end.x, top + 2.6)]))
    total = word_at(on.length(length), Point(end.x, top + 3.1), Anchor.RIGHT, 2.9)
    return [Shape(tuple(ticks), TICK), *words, replace(total, weight=Weight.BOLD)]


def across(on: LayoutFrame) -> list[Item]:
    """The width that may be used, with arrows, at the left."""
    section = on.layout.sections[0]
    box, band = on.box(section), on.selvage_mm * on.factor
    double = section.layers is Layers.DOUBLE
    low = box.bottom if double else box.bottom + band
    high, x = box.top - band, box.left - 2.2
    said = on.length(section.width_mm) + (" folded" if double else "")
    middle = Point(x - 1.0, (low + high) / 2)
    word = Text(said, middle, TYPE_MM, INK, math.pi / 2, Anchor.CENTER)
    found: list[Item] = [
        arrow(Point(x, middle.y), Point(x, high)),
        arrow(Point(x, middle.y), Point(x, low)),
        word,
    ]
    if double:
        fold = word_at("fold", Point(box.left, low - 0.9 - 0.64 * TYPE_MM), Anchor.LEFT, TYPE_MM)
        found.append(replace(fold, weight=Weight.ITALIC))
    return found


def heads(on: LayoutFrame) -> list[Item]:
    """How the cloth of each stretch lies, above it."""
    found: list[Item] = []
    level = on.top + 6.6
    for number, section in enumerate(on.layout.sections):
        box = on.box(section)
        if section.layers is Layers.DOUBLE:
            said = "folded lengthwise, right sides together; wrong side up"
        elif on.is_folded:
            said = "opened out, one layer, right side up"
        else:
            said = "one layer, right side up"
        width = text_width(said, TYPE_MM, Weight.ITALIC)
        last = number == len(on.layout.sections) - 1
        fits = width < box.width
        anchor = Anchor.LEFT if fits or not last or not number else Anchor.RIGHT
        x = box.right if anchor is Anchor.RIGHT else box.left
        if number and not fits:
            level += 3.6
        word = word_at(said, Point(x, level), anchor, TYPE_MM)
        found.append(replace(word, weight=Weight.ITALIC))
    return found


def changes(on: LayoutFrame) -> list[Item]:
    """Where folded cloth is cut across and opened out."""
    found: list[Item] = []
    for before, after in zip(on.layout.sections, on.layout.sections[1:], strict=False):
        one, other = on.box(before), on.box(after)
        low, high = min(one.bottom, other.bottom), max(one.top, other.top)
        line = polyline([Point(one.right, low - 1.0), Point(one.right, high)])
        found.append(Shape((line,), CUT_ACROSS))
        said = f"cut across here, {on.length(after.start_mm)} from the end"
        anchor = Anchor.RIGHT if one.width > text_width(said, TYPE_MM) else Anchor.LEFT
        x = one.right + (-1.0 if anchor is Anchor.RIGHT else 1.0)
        word = word_at(said, Point(x, low - 0.6 - 0.64 * TYPE_MM), anchor, TYPE_MM)
        found.append(replace(word, color=THREAD))
    return found
