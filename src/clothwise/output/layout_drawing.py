"""A cutting layout as a drawing: the cloth lying on the table, its length along the page.

The fold runs through the whole length at one height, so that a stretch that is opened out is seen
to open across it. Above the cloth it says how the cloth lies and how long it is; pieces that lie
with the drawn side down are hatched, as the wrong side of cloth is in the pictures of the work.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import shapely

from clothwise.cutting.fabric import Nap
from clothwise.cutting.item import CutItem
from clothwise.cutting.layout import Cut, LayerPlan, Layers, Layout, Placement, Section, on_fabric
from clothwise.cutting.shrinkage import after_washing_mm
from clothwise.geometry import Path, Point, Transform, Vector, polyline
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import (
    Anchor,
    Baseline,
    Cap,
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
from clothwise.output.free_space import FreeSpace
from clothwise.output.scene_drawing import CLOTHS, INK, PAPER, THREAD, hatching
from clothwise.output.text_block import Sentence, set_block
from clothwise.units import MM_PER_YARD, LengthUnit, format_cm, format_inches, format_yards

TALLEST_MM = 105.0
"""A layout is drawn smaller than the page is wide rather than taller than this."""
LARGEST_FACTOR = 0.125
"""Nothing is drawn larger than 1:8, so that a small layout stays a small picture."""

TYPE_MM = 2.7
"""Type size of the words about the cloth; about 7.5 points."""
LABEL_MM = (2.9, 2.5, 2.1, 1.85)
"""Type sizes tried for the name of a piece, largest first."""
NUMBER_MM = (2.5, 2.1, 1.85, 1.6)
"""Type sizes tried for its number alone, where its name finds no room."""

_CHALK = Color.parse("#8f8a82")
_EDGE = Stroke(0.3, INK)
_SELVAGE = Stroke(0.18, _CHALK, (0.9, 0.7))
_FOLD = Stroke(0.5, INK, (3.0, 0.9, 0.7, 0.9))
_CUT_ACROSS = Stroke(0.35, THREAD, (1.6, 0.9))
_PIECE = Stroke(0.24, INK, (), Cap.ROUND)
_HATCH = Stroke(0.09, _CHALK)
_TICK = Stroke(0.2, INK)
_THIN = Stroke(0.16, INK)
_HATCH_MM = 1.5
_FOLD_BAR = Stroke(1.1, INK, (), Cap.BUTT)

_YARD_UNITS = (LengthUnit.INCH, LengthUnit.FOOT, LengthUnit.YARD)
_EIGHTHS = ("1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8")
_RULER_MM = 9.0
"""Room above the cloth for the ruler and what is said of each stretch."""
_FINE = 8.0
"""Room for words is sought on a drawing so many times larger, which makes its grid finer."""
_SAMPLE_MM, _KEY_LINE_MM = 8.0, 4.4
"""Length of a sample in the key, and distance of its lines."""
_SIDE_MM = 11.0
"""Room at the left for the width."""


def layout_drawing(
    layout: Layout,
    items: Sequence[CutItem],
    *,
    width_mm: float,
    unit: LengthUnit = LengthUnit.CENTIMETER,
    cloth: Color = CLOTHS[0],
    tallest_mm: float = TALLEST_MM,
) -> Drawing:
    """The layout as large as it can be, its lower left corner at (0, 0).

    Args:
        layout: where everything lies.
        items: the copies, as they were given to `lay`.
        width_mm: room along the page.
        unit: inches, feet or yards give a ruler in 1/8 yd, anything else one in 10 cm.
        cloth: color of the right side.
        tallest_mm: room down the page.
    """
    return _LayoutPainter(layout, items, width_mm, unit, cloth, tallest_mm).drawing()


@dataclass(frozen=True)
class _Laid:
    """A placement with the box it is drawn in, all in mm of the page."""

    placement: Placement
    shape: shapely.Polygon
    label: str


@dataclass(frozen=True)
class _Entry:
    """A line of the key: what is shown, and the words beside it."""

    kind: str
    words: str


class _LayoutPainter:
    def __init__(
        self,
        layout: Layout,
        items: Sequence[CutItem],
        width_mm: float,
        unit: LengthUnit,
        cloth: Color,
        tallest_mm: float,
    ) -> None:
        self._layout, self._unit, self._cloth = layout, unit, cloth
        self._items: Mapping[str, CutItem] = {item.id: item for item in items}
        self._width = width_mm
        self._folded = layout.plan is LayerPlan.FOLDED
        fabric = layout.fabric
        lost = fabric.nominal_width_mm - fabric.usable_width_mm
        self._selvage = after_washing_mm(lost, fabric.shrinkage_across) / 2
        low, high = self._reach()
        room = width_mm - _SIDE_MM - 2.0
        self._left = _SIDE_MM
        self._key = self._key_entries()
        self._bottom = 9.0 + max(at.y for at in self._key_places())
        self._factor = min(
            room / layout.length_mm,
            (tallest_mm - _RULER_MM - 3.0 - self._bottom) / (high - low),
            LARGEST_FACTOR,
        )
        self._low = low

    def _reach(self) -> tuple[float, float]:
        """How far the cloth goes across, from the fold, or from a selvage of single cloth."""
        washed = self._layout.fabric.washed_width_mm
        if not self._folded:
            return -self._selvage, washed + self._selvage
        opened = any(one.layers is Layers.SINGLE for one in self._layout.sections)
        half = washed / 2 + self._selvage
        return (-half if opened else 0.0), half

    def _at(self, x_mm: float, y_mm: float) -> Point:
        """A place of the cloth on the page."""
        return Point(
            self._left + x_mm * self._factor, self._bottom + (y_mm - self._low) * self._factor
        )

    def _shift(self, section: Section) -> float:
        """From across the stretch to across the whole cloth."""
        opened = self._folded and section.layers is Layers.SINGLE
        return -self._layout.fabric.washed_width_mm / 2 if opened else 0.0

    def drawing(self) -> Drawing:
        sections = self._layout.sections
        ground = [item for section in sections for item in self._ground(section)]
        laid = [one for section in sections for one in self._laid(section)]
        pieces = [item for one in laid for item in self._piece(one)]
        words = [item for one in laid for item in self._label(one)]
        about = [*self._ruler(), *self._across(), *self._heads(), *self._changes(), *self._legend()]
        title = f"Cutting layout, {self._layout.fabric.name}"
        layers = (
            Layer("cloth", tuple(ground)),
            Layer("pieces", tuple(pieces)),
            Layer("measures", tuple(about)),
            Layer("names", tuple(words)),
        )
        return Drawing(layers, title)

    # the cloth

    def _box(self, section: Section) -> Bounds:
        """The cloth of a stretch on the page, selvages included."""
        washed = self._layout.fabric.washed_width_mm
        start, end = section.start_mm, section.start_mm + section.length_mm
        if section.layers is Layers.DOUBLE:
            low, high = 0.0, washed / 2 + self._selvage
        else:
            shift = self._shift(section)
            low, high = shift - self._selvage, shift + washed + self._selvage
        one, other = self._at(start, low), self._at(end, high)
        return Bounds(one.x, one.y, other.x, other.y)

    def _ground(self, section: Section) -> list[Item]:
        box = self._box(section)
        double = section.layers is Layers.DOUBLE
        tint = _mixed(self._cloth, 0.3) if double else _mixed(self._cloth, 0.8)
        found: list[Item] = [Shape((box.path,), None, tint, closed=True)]
        band = self._selvage * self._factor
        tops = [box.top - band] if double else [box.top - band, box.bottom + band]
        if band > 0.15:
            found += [
                Shape((polyline([Point(box.left, y), Point(box.right, y)]),), _SELVAGE)
                for y in tops
            ]
        edges = [
            polyline([Point(box.left, box.top), Point(box.right, box.top)]),
            *(polyline([Point(x, box.bottom), Point(x, box.top)]) for x in (box.left, box.right)),
        ]
        low = polyline([Point(box.left, box.bottom), Point(box.right, box.bottom)])
        if double:
            found.append(Shape((low,), _FOLD))
        else:
            edges.append(low)
        return [*found, Shape(tuple(edges), _EDGE)]

    # the pieces

    def _laid(self, section: Section) -> list[_Laid]:
        shift = self._shift(section)
        found = []
        for placement in section.placements:
            outline = on_fabric(placement, self._items[placement.item_ids[0]].outline)
            points = [self._at(x, y + shift) for x, y in outline]
            shape = shapely.Polygon([(p.x, p.y) for p in points])
            found.append(_Laid(placement, shape, self._name(placement)))
        return found

    def _name(self, placement: Placement) -> str:
        """What the copies of one cut have in common of their names."""
        labels = [self._items[name].label.split(", ") for name in placement.item_ids]
        common = []
        for parts in zip(*labels, strict=False):
            if len(set(parts)) > 1:
                break
            common.append(parts[0])
        # The number stays with the first word of the name when it is wrapped.
        said = ", ".join(common) or ", ".join(labels[0])
        number, space, name = said.partition(" ")
        return f"{number}\u00a0{name}" if space and number.isdigit() else said

    def _piece(self, one: _Laid) -> list[Item]:
        path = _closed(one.shape)
        found: list[Item] = [Shape((path,), None, PAPER, closed=True)]
        if one.placement.mirrored:
            lines = hatching(path, _HATCH_MM, math.radians(45))
            found.append(Group((Shape(tuple(lines), _HATCH),), clip=path))
        found.append(Shape((path,), _PIECE, None, closed=True))
        if one.placement.cut is Cut.ON_FOLD:
            left, low, right, _ = one.shape.bounds
            edge = [(x, y) for x, y in one.shape.exterior.coords if y - low < 0.05]
            left, right = min(x for x, _ in edge), max(x for x, _ in edge)
            bar = polyline([Point(left, low), Point(right, low)])
            found.append(Shape((bar,), _FOLD_BAR))
        return found

    def _label(self, one: _Laid) -> list[Item]:
        remark = {
            Cut.ON_FOLD: "on the fold",
            Cut.SPARE: "through both layers, one is left over",
        }.get(one.placement.cut, "")
        number, space, _ = one.label.partition("\u00a0")
        short = number if space else ""
        tries: list[tuple[list[Sentence], float]] = []
        for size in LABEL_MM:
            title = [Sentence(one.label, size, Weight.BOLD)]
            below = [Sentence(remark, 0.86 * size, Weight.ITALIC, color=INK)] if remark else []
            widths = [text_width(one.label, size, Weight.BOLD) + 0.1, *_wraps(one.label, size)]
            tries += [([*title, *below], width) for width in widths]
        tries += [([Sentence(one.label, size, Weight.BOLD)], math.inf) for size in LABEL_MM]
        tries += [([Sentence(short, size, Weight.BOLD)], math.inf) for size in NUMBER_MM if short]
        for sentences, width in tries:
            placed = self._placed(one, [replace(s, color=INK) for s in sentences], width)
            if placed:
                return placed
        return self._beside(one, short or one.label)

    def _placed(self, one: _Laid, sentences: list[Sentence], wrap_mm: float) -> list[Item]:
        block = set_block(sentences, wrap_mm=wrap_mm)
        for angle in dict.fromkeys((0.0, _lean(one.shape), math.pi / 2)):
            turned = shapely.affinity.rotate(one.shape, -angle, origin=(0.0, 0.0), use_radians=True)
            room = shapely.affinity.scale(turned, _FINE, _FINE, origin=(0.0, 0.0))
            middle = room.representative_point() if room.is_empty else room.centroid
            spot = FreeSpace(room).place(
                block.width_mm * _FINE,
                block.height_mm * _FINE,
                Point(middle.x, middle.y),
                0.3 * _FINE,
            )
            if spot is None:
                continue
            at = Transform.turn(angle).point(Point(spot.x / _FINE, spot.y / _FINE))
            texts = block.at(at, angle)
            if not one.placement.mirrored:
                return list(texts)
            pale = Bounds(
                -block.width_mm / 2 - 0.3,
                -block.height_mm / 2,
                block.width_mm / 2 + 0.3,
                block.height_mm / 2,
            ).path.transformed(Transform.turn(angle).then(Transform.shift(at.x, at.y)))
            return [Shape((pale,), None, PAPER, closed=True), *texts]
        return []

    def _beside(self, one: _Laid, text: str) -> list[Item]:
        """The words over the middle of a piece too narrow for them, on a pale ground."""
        at = one.shape.representative_point()
        size = NUMBER_MM[-1]
        width = text_width(text, size, Weight.BOLD)
        ground = Bounds(at.x - width / 2 - 0.4, at.y - 0.8, at.x + width / 2 + 0.4, at.y + 0.8)
        word = Text(
            text,
            Point(at.x, at.y),
            size,
            INK,
            anchor=Anchor.CENTER,
            baseline=Baseline.MIDDLE,
            weight=Weight.BOLD,
        )
        return [Shape((ground.path,), None, PAPER, closed=True), word]

    # what is said about it

    @property
    def _top(self) -> float:
        return self._at(0.0, self._reach()[1]).y

    def _ruler(self) -> list[Item]:
        yards = self._unit in _YARD_UNITS
        step = MM_PER_YARD / 8 if yards else 100.0
        length, top = self._layout.length_mm, self._top
        named = 4 if yards else 5
        if length * self._factor / (length / step) * named < 9.0:
            named *= 2
        ticks, words = [], []
        end = self._at(length, 0.0)
        for number in range(int(length / step + 1e-9) + 1):
            x = self._at(number * step, 0.0).x
            long = number % named == 0
            ticks.append(polyline([Point(x, top), Point(x, top + (1.7 if long else 0.9))]))
            if long and number and x < end.x - 13.0:
                said = _yards(number) if yards else f"{number * 10} cm"
                words.append(_word(said, Point(x, top + 2.3), Anchor.CENTER, 2.3))
        ticks.append(polyline([Point(end.x, top), Point(end.x, top + 2.6)]))
        total = _word(self._length(length), Point(end.x, top + 3.1), Anchor.RIGHT, 2.9)
        return [Shape(tuple(ticks), _TICK), *words, replace(total, weight=Weight.BOLD)]

    def _length(self, length_mm: float) -> str:
        if self._unit in _YARD_UNITS:
            return _set_fraction(format_inches(length_mm))
        return format_cm(length_mm)

    def _across(self) -> list[Item]:
        """The width that may be used, with arrows, at the left."""
        section = self._layout.sections[0]
        box, band = self._box(section), self._selvage * self._factor
        double = section.layers is Layers.DOUBLE
        low = box.bottom if double else box.bottom + band
        high, x = box.top - band, box.left - 2.2
        said = self._length(section.width_mm) + (" folded" if double else "")
        middle = Point(x - 1.0, (low + high) / 2)
        word = Text(said, middle, TYPE_MM, INK, math.pi / 2, Anchor.CENTER)
        found: list[Item] = [
            _arrow(Point(x, middle.y), Point(x, high)),
            _arrow(Point(x, middle.y), Point(x, low)),
            word,
        ]
        if double:
            fold = _word("fold", Point(box.left, low - 0.9 - 0.64 * TYPE_MM), Anchor.LEFT, TYPE_MM)
            found.append(replace(fold, weight=Weight.ITALIC))
        return found

    def _heads(self) -> list[Item]:
        """How the cloth of each stretch lies, above it."""
        found: list[Item] = []
        level = self._top + 6.6
        for number, section in enumerate(self._layout.sections):
            box = self._box(section)
            if section.layers is Layers.DOUBLE:
                said = "folded lengthwise, right sides together; wrong side up"
            elif self._folded:
                said = "opened out, one layer, right side up"
            else:
                said = "one layer, right side up"
            width = text_width(said, TYPE_MM, Weight.ITALIC)
            last = number == len(self._layout.sections) - 1
            fits = width < box.width
            anchor = Anchor.LEFT if fits or not last or not number else Anchor.RIGHT
            x = box.right if anchor is Anchor.RIGHT else box.left
            if number and not fits:
                level += 3.6
            word = _word(said, Point(x, level), anchor, TYPE_MM)
            found.append(replace(word, weight=Weight.ITALIC))
        return found

    def _changes(self) -> list[Item]:
        """Where folded cloth is cut across and opened out."""
        found: list[Item] = []
        for before, after in zip(self._layout.sections, self._layout.sections[1:], strict=False):
            one, other = self._box(before), self._box(after)
            low, high = min(one.bottom, other.bottom), max(one.top, other.top)
            line = polyline([Point(one.right, low - 1.0), Point(one.right, high)])
            found.append(Shape((line,), _CUT_ACROSS))
            said = f"cut across here, {self._length(after.start_mm)} from the end"
            anchor = Anchor.RIGHT if one.width > text_width(said, TYPE_MM) else Anchor.LEFT
            x = one.right + (-1.0 if anchor is Anchor.RIGHT else 1.0)
            word = _word(said, Point(x, low - 0.6 - 0.64 * TYPE_MM), anchor, TYPE_MM)
            found.append(replace(word, color=THREAD))
        return found

    def _legend(self) -> list[Item]:
        """The entries of the key in lines, the last at the bottom."""
        found: list[Item] = []
        for entry, at in zip(self._key, self._key_places(), strict=True):
            beside = Point(at.x + _SAMPLE_MM + 1.5, at.y)
            found += [*self._sample(entry, at), _middle(entry.words, beside)]
        return found

    def _key_entries(self) -> list[_Entry]:
        """The grain, which way up the pieces lie, and the lines that need a word."""
        placements = self._layout.placements
        told = self._layout.fabric.nap is Nap.ONE_WAY and self._tops() != 0
        grain = "grain; the tops of all pieces point this way" if told else "grain"
        entries = [_Entry("nap" if told else "grain", grain)]
        faces = {placement.mirrored for placement in placements}
        if False in faces:
            entries.append(_Entry("up", "printed side up"))
        if True in faces:
            entries.append(_Entry("down", "printed side down"))
        if any(one.cut is Cut.ON_FOLD for one in placements):
            entries.append(_Entry("on fold", "edge on the fold"))
        if self._selvage > 0:
            entries.append(_Entry("selvage", "selvage"))
        return entries

    def _key_places(self) -> list[Point]:
        """Where the entries begin, at the middle of their height."""
        x, line, spots = self._left, 0, []
        for entry in self._key:
            width = _SAMPLE_MM + 1.5 + text_width(entry.words, TYPE_MM)
            if x > self._left and x + width > self._width:
                x, line = self._left, line + 1
            spots.append((x, line))
            x += width + 6.0
        return [Point(x, 2.0 + (line - at) * _KEY_LINE_MM) for x, at in spots]

    def _sample(self, entry: _Entry, at: Point) -> list[Item]:
        end = Point(at.x + _SAMPLE_MM, at.y)
        line = polyline([at, end])
        box = Bounds(at.x, at.y - 1.4, end.x, at.y + 1.4)
        if entry.kind == "grain":
            middle = at.toward(end, 0.5)
            return [_arrow(middle, at), _arrow(middle, end)]
        if entry.kind == "nap":
            return [_arrow(at, end) if self._tops() > 0 else _arrow(end, at)]
        if entry.kind == "on fold":
            return [Shape((line,), _FOLD_BAR)]
        if entry.kind == "selvage":
            return [Shape((line,), _SELVAGE)]
        found: list[Item] = [Shape((box.path,), None, PAPER, closed=True)]
        if entry.kind == "down":
            lines = tuple(hatching(_looped(box.path), _HATCH_MM, math.radians(45)))
            found.append(Group((Shape(lines, _HATCH),), clip=box.path))
        return [*found, Shape((box.path,), _PIECE, None, closed=True)]

    def _tops(self) -> int:
        """1 if the tops of the pieces point along the length, -1 against it, 0 if they differ."""
        ways = set()
        for placement in self._layout.placements:
            item = self._items[placement.item_ids[0]]
            grain = item.grain_angle_rad + math.pi / 2
            on = on_fabric(placement, [(0.0, 0.0), (math.cos(grain), math.sin(grain))])
            ways.add(1 if on[1][0] > on[0][0] else -1)
        return ways.pop() if len(ways) == 1 else 0


def _wraps(text: str, size_mm: float) -> list[float]:
    """Widths to wrap a name to: its longest word, and about half of it."""
    words = text.split(" ")
    if len(words) < 2:
        return []
    whole = text_width(text, size_mm, Weight.BOLD)
    longest = max(text_width(word, size_mm, Weight.BOLD) for word in words)
    return [max(0.62 * whole, longest + 0.1), longest + 0.1]


def _lean(shape: shapely.Polygon) -> float:
    """The direction in which a shape is longest, read from the left or below."""
    box = shapely.minimum_rotated_rectangle(shape)
    if box.geom_type != "Polygon":
        return 0.0
    corners = [Point(x, y) for x, y in box.exterior.coords]
    sides = [one - other for one, other in zip(corners[1:3], corners[:2], strict=True)]
    along = max(sides, key=lambda side: side.length)
    angle = math.remainder(along.angle, math.pi)
    return angle + math.pi if angle <= -math.pi / 2 + 1e-6 else angle


def _closed(shape: shapely.Polygon) -> Path:
    return polyline(Point(x, y) for x, y in shape.simplify(0.03).exterior.coords)


def _looped(path: Path) -> Path:
    return polyline([*(segment.start for segment in path.segments), path.end, path.start])


def _word(text: str, at: Point, anchor: Anchor, size_mm: float) -> Text:
    return Text(text, at, size_mm, INK, anchor=anchor)


def _middle(text: str, at: Point) -> Text:
    return Text(text, at, TYPE_MM, INK, baseline=Baseline.MIDDLE)


def _arrow(start: Point, end: Point) -> Shape:
    along = (end - start).unit if start.distance(end) > 1e-9 else Vector(1.0, 0.0)
    barbs = [end - along.turned(angle) * 1.3 for angle in (0.4, -0.4)]
    return Shape((polyline([start, end]), polyline([barbs[0], end, barbs[1]])), _THIN)


def _mixed(color: Color, share: float) -> Color:
    """The color thinned with white."""

    def part(value: int) -> int:
        return round(255 - (255 - value) * share)

    return Color(part(color.red), part(color.green), part(color.blue))


def _yards(eighths: int) -> str:
    return _set_fraction(format_yards(Fraction(eighths, 8)))


def _set_fraction(text: str) -> str:
    """Eighths as one letter each, because `41 5/8` set small reads like `415/8`."""
    for plain, letter in zip(_EIGHTHS, "⅛¼⅜½⅝¾⅞", strict=True):
        text = text.replace(f" {plain} ", f"{letter} ").replace(f"{plain} ", f"{letter} ")
    return text
