"""The key of a cutting layout: its scale, the grain, the faces of the pieces, the lines."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import takewhile

from clothwise.cutting.fabric import Nap
from clothwise.cutting.layout import Cut, on_fabric
from clothwise.geometry import Path, Point, polyline
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import (
    Group,
    Item,
    Shape,
)
from clothwise.output.fonts import text_width
from clothwise.output.layout_cloth import end_of_cloth_mm, flaw_items, has_fold_elsewhere
from clothwise.output.layout_frame import LayoutFrame
from clothwise.output.layout_marks import (
    BORDER_LINE,
    END_OF_CLOTH,
    FOLD,
    FOLD_BAR,
    HATCH,
    HATCH_MM,
    HOLE,
    PATTERN_LINE,
    PIECE,
    SELVAGE,
    TYPE_MM,
    arrow,
    pin,
    word_in_middle,
)
from clothwise.output.layout_repeat import (
    RING_MM,
    MatchSpot,
    match_items,
    match_letters,
    pattern_words,
)
from clothwise.output.scene_drawing import PAPER, hatching

_SAMPLE_MM, _KEY_LINE_MM = 8.0, 4.4
"""Length of a sample in the key, and distance of its lines."""

_ONLY_WORDS = ("scale", "number")
"""Kinds of entries without a sample."""


@dataclass(frozen=True)
class Entry:
    """A part of the key: what is shown, and the words beside it."""

    kind: str
    words: str


@dataclass(frozen=True)
class Key:
    """What the key of a layout is about, and the room for it along the page.

    Attributes:
        on: the layout as it is drawn.
        width_mm: room along the page.
        holes: whether there are holes in the cloth.
    """

    on: LayoutFrame
    width_mm: float
    holes: bool = False

    @cached_property
    def entries(self) -> list[Entry]:
        """The scale, the grain, which way up the pieces lie, and the lines that need a word."""
        holes = [Entry("hole", "hole")] if self.holes else []
        return [*_entries(self.on), *holes]


def legend(of: Key) -> list[Item]:
    """The entries of the key in lines, the last at the bottom."""
    found: list[Item] = []
    for entry, at in zip(of.entries, key_places(of), strict=True):
        beside = Point(at.x + _sample_mm(entry), at.y)
        found += [*_sample(of.on, entry, at), word_in_middle(entry.words, beside)]
    return found


def scale_words(factor: float) -> str:
    """The scale in figures: `1:12`."""
    return f"1:{round(1 / factor)}"


def _entries(on: LayoutFrame) -> list[Entry]:
    placements, fabric = on.layout.placements, on.layout.fabric
    told = fabric.nap is Nap.ONE_WAY and tops(on) != 0
    grain = "grain; the tops of all pieces point this way" if told else "grain"
    entries = [Entry("scale", f"scale {scale_words(on.factor)}")]
    entries.append(Entry("nap" if told else "grain", grain))
    faces = {placement.mirrored for placement in placements}
    if False in faces:
        entries.append(Entry("up", "printed side up"))
    if True in faces:
        entries.append(Entry("down", "printed side down"))
    if any(one.cut is Cut.ON_FOLD for one in placements):
        entries.append(Entry("on fold", "edge on the fold"))
    if has_fold_elsewhere(on.layout.plan):
        entries.append(Entry("fold", "fold"))
    if on.selvage_mm > 0:
        entries.append(Entry("selvage", "selvage"))
    words = pattern_words(on)
    if words:
        entries.append(Entry("pattern", f"pattern of the fabric: {words}"))
    if fabric.repeat.border_mm:
        entries.append(Entry("border", "line of the border"))
    entries += _matches(on)
    if end_of_cloth_mm(on.layout) is not None:
        entries.append(Entry("end of cloth", "the length at hand ends here"))
    if fabric.flaws:
        entries.append(Entry("flaw", "not to be used"))
    if on.pinned.intersection(name for one in placements for name in one.item_ids):
        entries.append(Entry("pinned", "lies where it was pinned"))
    entries += [Entry("number", _piece_words(on, number)) for number in on.numbered]
    return entries


def _piece_words(on: LayoutFrame, number: str) -> str:
    """The number of a piece and what the names of its copies have in common: `10 Pocket`."""
    labels = [item.label for item in on.items.values() if item.label.split(" ")[0] == number]
    parts = zip(*(label.split(", ") for label in labels), strict=False)
    return ", ".join(words[0] for words in takewhile(lambda each: len(set(each)) == 1, parts))


def _matches(on: LayoutFrame) -> list[Entry]:
    """The groups of points that meet; the first of each kind says on what."""
    on_border = {match.group for match in on.matches if match.on_border}
    told: set[bool] = set()
    entries = []
    for group, letter in match_letters(on).items():
        border = group in on_border
        kind = "lie on the border: " if border else "meet on the pattern: "
        entries.append(Entry(f"match {letter}", group if border in told else f"{kind}{group}"))
        told.add(border)
    return entries


def key_places(of: Key) -> list[Point]:
    """Where the entries begin, at the middle of their height."""
    left = of.on.left_mm
    x, line, spots = left, 0, []
    for entry in of.entries:
        width = _sample_mm(entry) + text_width(entry.words, TYPE_MM)
        if x > left and x + width > of.width_mm:
            x, line = left, line + 1
        spots.append((x, line))
        x += width + 6.0
    return [Point(x, 2.0 + (line - at) * _KEY_LINE_MM) for x, at in spots]


def _sample_mm(entry: Entry) -> float:
    """Room for the sample of an entry, with the gap to its words."""
    if entry.kind in _ONLY_WORDS:
        return 0.0
    return 5.0 if entry.kind.startswith("match ") else _SAMPLE_MM + 1.5


def _sample(on: LayoutFrame, entry: Entry, at: Point) -> list[Item]:
    end = Point(at.x + _SAMPLE_MM, at.y)
    line, middle = polyline([at, end]), at.toward(end, 0.5)
    box = Bounds(at.x, at.y - 1.4, end.x, at.y + 1.4)
    pens = {
        "on fold": FOLD_BAR,
        "fold": FOLD,
        "selvage": SELVAGE,
        "pattern": PATTERN_LINE,
        "border": BORDER_LINE,
        "end of cloth": END_OF_CLOTH,
    }
    if entry.kind in pens:
        return [Shape((line,), pens[entry.kind])]
    if entry.kind in _ONLY_WORDS:
        return []
    if entry.kind == "grain":
        return [arrow(middle, at), arrow(middle, end)]
    if entry.kind == "nap":
        return [arrow(at, end) if tops(on) > 0 else arrow(end, at)]
    if entry.kind == "flaw":
        return flaw_items(box.path)
    if entry.kind == "pinned":
        return pin(middle, math.pi / 2)
    if entry.kind.startswith("match "):
        return match_items(
            MatchSpot(Point(at.x + RING_MM, at.y), entry.kind.removeprefix("match "))
        )
    if entry.kind == "hole":
        return [Shape((box.path,), HOLE, PAPER, closed=True)]
    found: list[Item] = [Shape((box.path,), None, PAPER, closed=True)]
    if entry.kind == "down":
        lines = tuple(hatching(_looped(box.path), HATCH_MM, math.radians(45)))
        found.append(Group((Shape(lines, HATCH),), clip=box.path))
    return [*found, Shape((box.path,), PIECE, None, closed=True)]


def tops(of: LayoutFrame) -> int:
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
