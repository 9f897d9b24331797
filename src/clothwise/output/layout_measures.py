"""What is said about the cloth of a cutting layout: its length, width and stretches."""

from __future__ import annotations

import math
from dataclasses import replace

from clothwise.cutting.layout import LayerPlan, Layers, Section
from clothwise.geometry import Point, polyline
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import (
    Anchor,
    Item,
    Shape,
    Text,
    Weight,
)
from clothwise.output.fonts import text_width
from clothwise.output.layout_frame import LayoutFrame, table_length_mm, yards
from clothwise.output.layout_marks import (
    CUT_ACROSS,
    TICK,
    TYPE_MM,
    arrow,
    word_at,
)
from clothwise.output.scene_drawing import INK, THREAD
from clothwise.output.text_block import wrap
from clothwise.units import METER_STEP, MM_PER_YARD, YARD_STEP, uses_yards

HEADS_MM = 6.6
"""Above the cloth: room for the ruler below what is said of each stretch."""
LINE_MM = 3.6
"""Distance of the lines above the cloth."""


def ruler(on: LayoutFrame) -> list[Item]:
    """The length of the cloth along its upper edge."""
    in_yards = uses_yards(on.unit)
    step = float(MM_PER_YARD * YARD_STEP if in_yards else 1000 * METER_STEP)
    length, top = table_length_mm(on.layout), on.top
    named = 4 if in_yards else 5
    if length * on.factor / (length / step) * named < 9.0:
        named *= 2
    ticks, words = [], []
    room = max(13.0, text_width(_total(on), 2.9, Weight.BOLD) + 5.0)
    end = on.at(length, 0.0)
    for number in range(int(length / step + 1e-9) + 1):
        x = on.at(number * step, 0.0).x
        long = number % named == 0
        ticks.append(polyline([Point(x, top), Point(x, top + (1.7 if long else 0.9))]))
        if long and number and x < end.x - room:
            said = yards(number) if in_yards else f"{number * 10} cm"
            words.append(word_at(said, Point(x, top + 2.3), Anchor.CENTER, 2.3))
    ticks.append(polyline([Point(end.x, top), Point(end.x, top + 2.6)]))
    fits = room - 5.0 < end.x - on.left_mm
    at, anchor = (end.x, Anchor.RIGHT) if fits else (on.left_mm, Anchor.LEFT)
    total = word_at(_total(on), Point(at, top + 3.1), anchor, 2.9)
    return [Shape(tuple(ticks), TICK), *words, replace(total, weight=Weight.BOLD)]


def across(on: LayoutFrame) -> list[Item]:
    """The width that may be used, with arrows, at the left; of partly folded cloth, both parts."""
    section = on.layout.sections[0]
    if section.layers is Layers.PARTLY:
        return _partly_across(on, section)
    box, band = on.box(section), on.selvage_mm * on.factor
    folded = section.layers in (Layers.DOUBLE, Layers.TO_MIDDLE)
    low = box.bottom if folded else box.bottom + band
    high = box.top if section.layers is Layers.TO_MIDDLE else box.top - band
    x = box.left - 2.2
    said = on.length(section.width_mm) + (" folded" if folded else "")
    middle = Point(x - 1.0, (low + high) / 2)
    word = Text(said, middle, TYPE_MM, INK, math.pi / 2, Anchor.CENTER)
    found: list[Item] = [
        arrow(Point(x, middle.y), Point(x, high)),
        arrow(Point(x, middle.y), Point(x, low)),
        word,
    ]
    if section.layers is Layers.DOUBLE:
        found.append(_fold_word(box))
    return found


def _partly_across(on: LayoutFrame, section: Section) -> list[Item]:
    """How deep one selvage is folded over, and what is left in one layer beside it."""
    box, flap = on.box(section), on.flap(section)
    found: list[Item] = [_fold_word(box)]
    beside_mm = section.width_mm - section.depth_mm - on.selvage_mm
    measured = [(flap.bottom, flap.top, flap_depth_mm(on, section), "folded over")]
    if beside_mm > 0:
        measured.append((flap.top, box.top - on.selvage_mm * on.factor, beside_mm, "in one layer"))
    x = box.left - 2.2
    for low, high, length_mm, how in measured:
        middle = Point(x - 1.0, (low + high) / 2)
        found += [arrow(Point(x, middle.y), Point(x, end)) for end in (high, low)]
        said = [f"{on.length(length_mm)} {how}", on.length(length_mm)]
        fitting = next((each for each in said if text_width(each, TYPE_MM) <= high - low), "")
        if fitting:
            found.append(Text(fitting, middle, TYPE_MM, INK, math.pi / 2, Anchor.CENTER))
    return found


def _fold_word(box: Bounds) -> Item:
    at = Point(box.left, box.bottom - 0.9 - 0.64 * TYPE_MM)
    return replace(word_at("fold", at, Anchor.LEFT, TYPE_MM), weight=Weight.ITALIC)


def flap_depth_mm(on: LayoutFrame, section: Section) -> float:
    """How deep one selvage of partly folded cloth is folded over, as it is measured: with it."""
    return section.depth_mm + on.selvage_mm


def heads(on: LayoutFrame, width_mm: float) -> list[Item]:
    """How the cloth of each stretch lies, above it; `width_mm` is the room along the page."""
    found: list[Item] = []
    level, taken_to = on.top + HEADS_MM, -math.inf
    sections = on.layout.sections
    for number, section in enumerate(sections):
        box = on.box(section)
        said = _head(on, section)
        width = text_width(said, TYPE_MM, Weight.ITALIC)
        last = number == len(sections) - 1
        fits = width < box.width
        anchor = Anchor.LEFT if fits or not last or not number else Anchor.RIGHT
        x = box.right if anchor is Anchor.RIGHT else box.left
        starts_at = x - width if anchor is Anchor.RIGHT else x
        if number and (not fits or starts_at < taken_to + 1.0):
            level += LINE_MM
        room = x if anchor is Anchor.RIGHT else width_mm - x
        lines = wrap(said, TYPE_MM, room, Weight.ITALIC)
        for nth, line in enumerate(lines):
            at = Point(x, level + LINE_MM * (len(lines) - 1 - nth))
            found.append(replace(word_at(line, at, anchor, TYPE_MM), weight=Weight.ITALIC))
        level += LINE_MM * (len(lines) - 1)
        taken_to = x + max(text_width(line, TYPE_MM, Weight.ITALIC) for line in lines)
    return found


def heads_room_mm(on: LayoutFrame, width_mm: float) -> float:
    """Room above the cloth for the ruler and what is said of each stretch, at any scale."""
    lines = 0
    for section in on.layout.sections:
        said = _head(on, section)
        lines += len(wrap(said, TYPE_MM, width_mm - on.left_mm, Weight.ITALIC))
    return HEADS_MM + LINE_MM * lines


def _head(on: LayoutFrame, section: Section) -> str:
    """How a stretch lies, with the length of cloth where the ruler does not tell it."""
    said = how_it_lies(on, section)
    doubled = on.layout.length_mm - table_length_mm(on.layout) > 1e-6
    if section is on.layout.sections[0] and doubled:
        said += f"; {on.length(on.layout.length_mm)} of cloth in all"
    return said


def how_it_lies(on: LayoutFrame, section: Section) -> str:
    """How the cloth of a stretch lies, and which side of it is up."""
    plan = on.layout.plan
    if section.layers is Layers.DOUBLE:
        return "folded lengthwise, right sides together; wrong side up"
    if section.layers is Layers.TO_MIDDLE:
        return "both selvages folded to the middle, right sides together; wrong side up"
    if section.layers is Layers.PARTLY:
        return (
            f"one selvage folded over, {on.length(flap_depth_mm(on, section))} deep, right sides "
            "together; wrong side up there, right side up beside it"
        )
    if section.layers is Layers.FACED and plan is LayerPlan.CROSSWISE:
        return "folded across the length, right sides together; wrong side up"
    if section.layers is Layers.FACED:
        return (
            f"cut into two lengths of {on.length(section.length_mm)}, the upper one turned around "
            "and laid on the other, right sides together; wrong side up"
        )
    if on.is_folded:
        return "opened out, one layer, right side up"
    return "one layer, right side up"


def changes(on: LayoutFrame) -> list[Item]:
    """Where folded cloth is cut across and opened out."""
    found: list[Item] = []
    starts = on.cloth_starts_mm[1:]
    pairs = zip(on.layout.sections, on.layout.sections[1:], starts, strict=False)
    for before, after, start in pairs:
        one, other = on.box(before), on.box(after)
        low, high = min(one.bottom, other.bottom), max(one.top, other.top)
        line = polyline([Point(one.right, low - 1.0), Point(one.right, high)])
        found.append(Shape((line,), CUT_ACROSS))
        said = f"cut across here, {on.length(start)} from the end"
        anchor = Anchor.RIGHT if one.width > text_width(said, TYPE_MM) else Anchor.LEFT
        x = one.right + (-1.0 if anchor is Anchor.RIGHT else 1.0)
        word = word_at(said, Point(x, low - 0.6 - 0.64 * TYPE_MM), anchor, TYPE_MM)
        found.append(replace(word, color=THREAD))
    return found


def _total(on: LayoutFrame) -> str:
    """The length of the cloth; that of the table if two lengths lie on each other somewhere."""
    table, cloth = table_length_mm(on.layout), on.layout.length_mm
    if abs(table - cloth) < 1e-6:
        return on.length(cloth)
    return f"{on.length(table)} on the table"
