"""The pattern of the cloth on a cutting layout, and the points that meet on it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import shapely

from clothwise.cutting.item import XY, CutItem
from clothwise.cutting.layout import LayerPlan, Layers, Placement, Section, on_fabric
from clothwise.cutting.repeat import MatchPoint
from clothwise.cutting.shrinkage import after_washing_mm
from clothwise.geometry import Path, Point, arc, polyline
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import Anchor, Baseline, Item, Shape, Text, Weight
from clothwise.output.fonts import text_width
from clothwise.output.layout_frame import LayoutFrame, shift_of
from clothwise.output.layout_marks import BORDER_LINE, MATCH, PATTERN_LINE
from clothwise.output.scene_drawing import PAPER, THREAD

CLOSEST_LINES_MM = 1.6
"""Lines of the pattern drawn closer than this would only make the picture gray."""
RING_MM = 0.75
"""Radius of the ring around a point that meets another."""
_LETTER_MM = 2.3


def pattern_lines(on: LayoutFrame) -> list[Item]:
    """Lines of the pattern over cloth and pieces, as many as can be told apart."""
    fabric = on.layout.fabric
    border = after_washing_mm(fabric.repeat.border_mm, fabric.shrinkage_across)
    found: list[Path] = []
    borders: list[Path] = []
    for number, section in enumerate(on.layout.sections):
        box = on.box(section)
        start = on.cloth_starts_mm[number]
        for at in _places(start, start + section.length_mm, *_along(on)):
            x = on.place(section, at - start + section.start_mm, 0.0).x
            found.append(polyline([Point(x, box.bottom), Point(x, box.top)]))
        if section.layers is Layers.SINGLE and border:
            y = on.place(section, section.start_mm, border).y
            borders.append(polyline([Point(box.left, y), Point(box.right, y)]))
        shift = _from_first_edge(on, section)
        low, high = _of_stretch(on, section, box.bottom), _of_stretch(on, section, box.top)
        for at in _places(low + shift, high + shift, *_across(on)):
            if _is_below_flap(on, section, at - shift):
                continue
            y = on.place(section, section.start_mm, at - shift).y
            found.append(polyline([Point(box.left, y), Point(box.right, y)]))
        for at in _places(0.0, section.depth_mm, *_across(on)) if section.depth_mm else ():
            y = on.place(section, section.start_mm, section.depth_mm - at).y
            found.append(polyline([Point(box.left, y), Point(box.right, y)]))
    pens = ((found, PATTERN_LINE), (borders, BORDER_LINE))
    return [Shape(tuple(paths), pen) for paths, pen in pens if paths]


def pattern_words(on: LayoutFrame) -> str:
    """What the lines are: `each line of the pattern`, or how many are left out."""
    steps = []
    for (step_mm, _, nth), way in ((_along(on), "along"), (_across(on), "across")):
        if step_mm:
            each = "each repeat" if nth == 1 else f"each {ordinal(nth)} repeat"
            steps.append(f"{each} {way}, {on.length(step_mm)}")
    return "; ".join(steps)


@dataclass(frozen=True)
class MatchSpot:
    """A place of the page at which points meet others.

    Attributes:
        at: the middle of its ring.
        letters: of the groups that meet there.
        is_left: whether they stand at the left of the ring.
    """

    at: Point
    letters: str
    is_left: bool = False

    @property
    def ring(self) -> shapely.Polygon:
        """What the ring takes of the page."""
        x, y = self.at.x, self.at.y
        return shapely.box(x - RING_MM, y - RING_MM, x + RING_MM, y + RING_MM)

    @property
    def word(self) -> shapely.Polygon:
        """What its letters take."""
        near = RING_MM + 0.35
        far = near + text_width(self.letters, _LETTER_MM, Weight.BOLD)
        left, right = (-far, -near) if self.is_left else (near, far)
        middle = self.at.y + RING_MM
        return shapely.box(self.at.x + left, middle - 0.9, self.at.x + right, middle + 0.9)

    @property
    def room(self) -> shapely.Polygon:
        """What both take, with a little cloth around them."""
        return shapely.box(*shapely.union(self.ring, self.word).buffer(0.3).bounds)


def match_spots(on: LayoutFrame) -> list[MatchSpot]:
    """The places at which points meet others; letters stand at the side that is free."""
    spots = [MatchSpot(at, letters) for at, letters in _places_of_matches(on)]
    found: list[MatchSpot] = []
    for number, spot in enumerate(spots):
        others = [
            *(one.ring for one in (*found, *spots[number + 1 :])),
            *(one.word for one in found),
        ]
        sides = (spot, replace(spot, is_left=True))
        free = (one for one in sides if not any(one.word.intersects(each) for each in others))
        found.append(next(free, spot))
    return found


def _places_of_matches(on: LayoutFrame) -> list[tuple[Point, str]]:
    letters = match_letters(on)
    spots: dict[tuple[int, int], tuple[Point, list[str]]] = {}
    for section in on.layout.sections:
        for placement in section.placements:
            for match in on.matches:
                if match.item_id in placement.item_ids:
                    ((x, y),) = on_fabric(placement, [_drawn_point(match, placement, on.items)])
                    at = on.place(section, x, _folded_mm(y, section))
                    # Both copies of a pair meet at one place of the picture.
                    key = (round(at.x * 5), round(at.y * 5))
                    _, said = spots.setdefault(key, (at, []))
                    if letters[match.group] not in said:
                        said.append(letters[match.group])
    return [(at, ", ".join(said)) for at, said in spots.values()]


def _folded_mm(y_mm: float, section: Section) -> float:
    """Where a point of a half piece on the fold is seen that lies on its other half."""
    if section.layers is Layers.SINGLE:
        return y_mm
    return abs(y_mm) if y_mm <= section.width_mm else 2 * section.width_mm - y_mm


def match_letters(on: LayoutFrame) -> dict[str, str]:
    """A letter for each group of points, in order of mention: a, b ... z, aa, ab ..."""
    groups = dict.fromkeys(match.group for match in on.matches)
    return {group: _letter(number) for number, group in enumerate(groups)}


def match_items(spot: MatchSpot) -> list[Item]:
    """The ring of a point with its letters."""
    ring = arc(spot.at, RING_MM, 0.0, 2 * math.pi)
    left, low, right, high = spot.word.bounds
    word = Text(
        spot.letters,
        Point(left, (low + high) / 2),
        _LETTER_MM,
        THREAD,
        anchor=Anchor.LEFT,
        baseline=Baseline.MIDDLE,
        weight=Weight.BOLD,
    )
    ground = Bounds(left - 0.2, low, right + 0.2, high)
    return [
        Shape((ground.path,), None, PAPER, closed=True, opacity=0.7),
        Shape((ring,), MATCH, PAPER, closed=True),
        word,
    ]


def ordinal(number: int) -> str:
    """`2nd`, `3rd`, `11th`.

    >>> [ordinal(n) for n in (2, 3, 11, 22)]
    ['2nd', '3rd', '11th', '22nd']
    """
    ending = "th" if number % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(number % 10)
    return f"{number}{ending or 'th'}"


def _drawn_point(match: MatchPoint, placement: Placement, items: Mapping[str, CutItem]) -> XY:
    """The point in the outline that is drawn, which is that of the first copy of a pair.

    Of two copies that are cut alike, though they do not mirror each other, the second comes out
    turned over; its point then lies on the other side of the grain.
    """
    item, first = items[match.item_id], items[placement.item_ids[0]]
    if item.id == first.id or item.mirrored != first.mirrored:
        return match.point
    grain = item.grain_angle_rad
    beside_x, beside_y = math.cos(grain), math.sin(grain)
    beside = [x * beside_x + y * beside_y for x, y in item.outline]
    x, y = match.point
    over = min(beside) + max(beside) - 2 * (x * beside_x + y * beside_y)
    return x + over * beside_x, y + over * beside_y


def _along(on: LayoutFrame) -> tuple[float, float, int]:
    """Distance of crosswise lines that are drawn, the first, and which of them are drawn."""
    fabric = on.layout.fabric
    step = after_washing_mm(fabric.repeat.along_mm, fabric.shrinkage_along)
    start = after_washing_mm(fabric.repeat.start_along_mm, fabric.shrinkage_along)
    return _drawn(on, step, start)


def _across(on: LayoutFrame) -> tuple[float, float, int]:
    """The same of lengthwise lines."""
    fabric = on.layout.fabric
    step = after_washing_mm(fabric.repeat.across_mm, fabric.shrinkage_across)
    start = after_washing_mm(fabric.repeat.start_across_mm, fabric.shrinkage_across)
    return _drawn(on, step, start)


def _drawn(on: LayoutFrame, step_mm: float, start_mm: float) -> tuple[float, float, int]:
    if step_mm <= 0:
        return 0.0, 0.0, 1
    nth = max(1, math.ceil(CLOSEST_LINES_MM / (step_mm * on.factor) - 1e-9))
    return step_mm * nth, start_mm, nth


def _places(
    low_mm: float, high_mm: float, step_mm: float, start_mm: float, _: int
) -> Iterator[float]:
    if step_mm <= 0:
        return
    first = math.ceil((low_mm - start_mm) / step_mm - 1e-9)
    last = math.floor((high_mm - start_mm) / step_mm + 1e-9)
    for number in range(first, last + 1):
        yield start_mm + number * step_mm


def _from_first_edge(on: LayoutFrame, section: Section) -> float:
    """What is added to a place across a stretch to count from where the pattern is counted from.

    That is the fold of folded cloth, also in a stretch that is opened out; of partly folded cloth
    it is the selvage that is folded over.
    """
    if on.layout.plan is LayerPlan.PARTLY:
        return section.depth_mm
    return shift_of(on.layout, section) if section.layers is Layers.SINGLE else 0.0


def _is_below_flap(on: LayoutFrame, section: Section, y_mm: float) -> bool:
    """Whether a place of the lower layer is covered by the flap of partly folded cloth."""
    return section.layers is Layers.PARTLY and y_mm < section.depth_mm + on.selvage_mm


def _of_stretch(on: LayoutFrame, section: Section, page_y: float) -> float:
    """The place across a stretch that lies at this height of the page."""
    return (page_y - on.place(section, section.start_mm, 0.0).y) / on.factor


def _letter(number: int) -> str:
    more, last = divmod(number, 26)
    return (_letter(more - 1) if more else "") + chr(ord("a") + last)
