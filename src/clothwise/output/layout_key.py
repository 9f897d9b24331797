"""The key of a cutting layout: the grain, the faces of the pieces, the lines."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from clothwise.cutting.fabric import Nap
from clothwise.cutting.item import CutItem
from clothwise.cutting.layout import Cut, Layout, on_fabric
from clothwise.geometry import Path, Point, polyline
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import (
    Group,
    Item,
    Shape,
)
from clothwise.output.fonts import text_width
from clothwise.output.layout_marks import (
    FOLD_BAR,
    HATCH,
    HATCH_MM,
    PIECE,
    SELVAGE,
    TYPE_MM,
    arrow,
    word_in_middle,
)
from clothwise.output.scene_drawing import PAPER, hatching

_SAMPLE_MM, _KEY_LINE_MM = 8.0, 4.4
"""Length of a sample in the key, and distance of its lines."""


@dataclass(frozen=True)
class Entry:
    """A part of the key: what is shown, and the words beside it."""

    kind: str
    words: str


@dataclass(frozen=True)
class Key:
    """What the key of a layout is about, and the room for it."""

    layout: Layout
    items: Mapping[str, CutItem]
    selvage_mm: float
    left_mm: float
    width_mm: float

    @cached_property
    def entries(self) -> list[Entry]:
        """The grain, which way up the pieces lie, and the lines that need a word."""
        return _entries(self)


def legend(of: Key) -> list[Item]:
    """The entries of the key in lines, the last at the bottom."""
    found: list[Item] = []
    for entry, at in zip(of.entries, key_places(of), strict=True):
        beside = Point(at.x + _SAMPLE_MM + 1.5, at.y)
        found += [*_sample(of, entry, at), word_in_middle(entry.words, beside)]
    return found


def _entries(of: Key) -> list[Entry]:
    """The grain, which way up the pieces lie, and the lines that need a word."""
    placements = of.layout.placements
    told = of.layout.fabric.nap is Nap.ONE_WAY and _tops(of) != 0
    grain = "grain; the tops of all pieces point this way" if told else "grain"
    entries = [Entry("nap" if told else "grain", grain)]
    faces = {placement.mirrored for placement in placements}
    if False in faces:
        entries.append(Entry("up", "printed side up"))
    if True in faces:
        entries.append(Entry("down", "printed side down"))
    if any(one.cut is Cut.ON_FOLD for one in placements):
        entries.append(Entry("on fold", "edge on the fold"))
    if of.selvage_mm > 0:
        entries.append(Entry("selvage", "selvage"))
    return entries


def key_places(of: Key) -> list[Point]:
    """Where the entries begin, at the middle of their height."""
    x, line, spots = of.left_mm, 0, []
    for entry in of.entries:
        width = _SAMPLE_MM + 1.5 + text_width(entry.words, TYPE_MM)
        if x > of.left_mm and x + width > of.width_mm:
            x, line = of.left_mm, line + 1
        spots.append((x, line))
        x += width + 6.0
    return [Point(x, 2.0 + (line - at) * _KEY_LINE_MM) for x, at in spots]


def _sample(of: Key, entry: Entry, at: Point) -> list[Item]:
    end = Point(at.x + _SAMPLE_MM, at.y)
    line = polyline([at, end])
    box = Bounds(at.x, at.y - 1.4, end.x, at.y + 1.4)
    if entry.kind == "grain":
        middle = at.toward(end, 0.5)
        return [arrow(middle, at), arrow(middle, end)]
    if entry.kind == "nap":
        return [arrow(at, end) if _tops(of) > 0 else arrow(end, at)]
    if entry.kind == "on fold":
        return [Shape((line,), FOLD_BAR)]
    if entry.kind == "selvage":
        return [Shape((line,), SELVAGE)]
    found: list[Item] = [Shape((box.path,), None, PAPER, closed=True)]
    if entry.kind == "down":
        lines = tuple(hatching(_looped(box.path), HATCH_MM, math.radians(45)))
        found.append(Group((Shape(lines, HATCH),), clip=box.path))
    return [*found, Shape((box.path,), PIECE, None, closed=True)]


def _tops(of: Key) -> int:
    """1 if the tops of the pieces point along the length, -1 against it, 0 if they differ."""
    ways = set()
    for placement in of.layout.placements:
        item = of.items[placement.item_ids[0]]
        grain = item.grain_angle_rad + math.pi / 2
        on = on_fabric(placement, [(0.0, 0.0), (math.cos(grain), math.sin(grain))])
        ways.add(1 if on[1][0] > on[0][0] else -1)
    return ways.pop() if len(ways) == 1 else 0


def _looped(path: Path) -> Path:
    return polyline([*(segment.start for segment in path.segments), path.end, path.start])
