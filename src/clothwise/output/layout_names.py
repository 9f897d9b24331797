"""Names and grain arrows on the pieces of a cutting layout, each where it finds room."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import shapely

from clothwise.cutting.layout import Cut
from clothwise.geometry import Point, Transform, Vector
from clothwise.output.bounds import Bounds, text_corners
from clothwise.output.drawing import (
    Anchor,
    Baseline,
    Item,
    Shape,
    Text,
    Weight,
)
from clothwise.output.fonts import text_width
from clothwise.output.free_space import FreeSpace
from clothwise.output.layout_marks import PIN_MM, arrow
from clothwise.output.layout_pieces import Laid, pin_place
from clothwise.output.scene_drawing import INK, PAPER
from clothwise.output.text_block import Block, Sentence, set_block

LABEL_MM = (2.9, 2.5, 2.1, 1.85)
"""Type sizes tried for the name of a piece, largest first."""

NUMBER_MM = (2.5, 2.1, 1.85, 1.6)
"""Type sizes tried for its number alone, where its name finds no room."""

_GRAIN_MM = (24.0, 15.0, 10.0, 7.0, 5.0, 3.6, 2.6)
"""Lengths tried for the arrow along the grain."""
_GRAIN_HIGH_MM, _GRAIN_SMALL_MM = 1.0, 5.0

_FINE = 8.0
"""Room for words is sought on a drawing so many times larger, which makes its grid finer."""


@dataclass(frozen=True)
class _Room:
    """The inside of a piece, turned so that what is written at an angle lies level, and enlarged.

    Made once for each angle, because finding what is free takes most of the time.
    """

    angle_rad: float
    space: FreeSpace
    middle: Point

    @staticmethod
    def of(one: Laid, angle_rad: float, taken: Sequence[shapely.Geometry]) -> _Room:
        """The room of a piece, without that of its pin and what else is taken."""
        inside = _turned(one.shape, -angle_rad)
        middle = inside.representative_point() if inside.is_empty else inside.centroid
        room = _Room(angle_rad, FreeSpace(inside), Point(middle.x, middle.y))
        if one.is_pinned:
            at, _ = pin_place(one)
            room.take(shapely.Point(at.x, at.y).buffer(0.7 * PIN_MM))
        for shape in taken:
            if shape.intersects(one.shape):
                room.take(shape)
        return room

    def take(self, shape: shapely.Geometry) -> None:
        """Keep a place of the page free."""
        self.space.take(_turned(shape, -self.angle_rad))

    def spot(self, width_mm: float, height_mm: float, clear_mm: float) -> Point | None:
        """The middle of a free rectangle on the page, as near to the middle as can be."""
        found = self.space.place(width_mm * _FINE, height_mm * _FINE, self.middle, clear_mm * _FINE)
        if found is None:
            return None
        return Transform.turn(self.angle_rad).point(Point(found.x / _FINE, found.y / _FINE))


def label_items(one: Laid, *, pale: bool, taken: Sequence[shapely.Geometry] = ()) -> list[Item]:
    """The name of a piece where it finds room.

    Args:
        one: the piece.
        pale: on a pale ground, because lines run over the piece.
        taken: places of the page that are kept free.
    """
    number, space, _ = one.label.partition("\u00a0")
    short = number if space else ""
    angles = dict.fromkeys((0.0, _lean(one.shape), math.pi / 2))
    rooms = [_Room.of(one, angle, taken) for angle in angles]
    for sentences, width in _tries(one, short):
        block = set_block([replace(s, color=INK) for s in sentences], wrap_mm=width)
        for room in rooms:
            at = room.spot(block.width_mm, block.height_mm, 0.3)
            if at is not None:
                return _written(block, at, room.angle_rad, pale or one.placement.mirrored)
    return _beside(one, short or one.label)


def numbers_alone(names: Iterable[Item]) -> frozenset[str]:
    """The numbers that stand on pieces without their names."""
    return frozenset(one.text for one in names if isinstance(one, Text) and one.text.isdigit())


def grain_items(
    one: Laid,
    words: Sequence[Text],
    *,
    one_way: bool,
    pale: bool,
    taken: Sequence[shapely.Geometry] = (),
) -> list[Item]:
    """The grain of a piece as an arrow where it finds room beside its name.

    Args:
        one: the piece.
        words: written on it.
        one_way: point to its top only, as cloth with a nap asks for.
        pale: on a pale ground, because lines run over the piece.
        taken: places of the page that are kept free.
    """
    room = _Room.of(one, one.grain_rad, taken)
    for text in words:
        room.take(shapely.Polygon([(p.x, p.y) for p in text_corners(text)]))
    left, low, right, high = one.shape.bounds
    longest = max(_GRAIN_MM[-1], min(_GRAIN_MM[0], 0.45 * max(right - left, high - low)))
    for length in (longest, *(each for each in _GRAIN_MM if each < longest)):
        clear = 0.35 if length >= _GRAIN_SMALL_MM else 0.12
        middle = room.spot(length, _GRAIN_HIGH_MM, clear)
        if middle is not None:
            ground = pale or one.placement.mirrored
            return _arrow(middle, one.grain_rad, length, one_way, ground)
    return []


def _tries(one: Laid, short: str) -> list[tuple[list[Sentence], float]]:
    """What may be written, best first, with the width to wrap it to."""
    remark = {
        Cut.ON_FOLD: "on the fold",
        Cut.SPARE: "through both layers, one is left over",
    }.get(one.placement.cut, "")
    tries: list[tuple[list[Sentence], float]] = []
    for size in LABEL_MM:
        title = [Sentence(one.label, size, Weight.BOLD)]
        below = [Sentence(remark, 0.86 * size, Weight.ITALIC)] if remark else []
        widths = [text_width(one.label, size, Weight.BOLD) + 0.1, *_wraps(one.label, size)]
        tries += [([*title, *below], width) for width in widths]
    tries += [([Sentence(one.label, size, Weight.BOLD)], math.inf) for size in LABEL_MM]
    tries += [([Sentence(short, size, Weight.BOLD)], math.inf) for size in NUMBER_MM if short]
    return tries


def _written(block: Block, at: Point, angle_rad: float, pale: bool) -> list[Item]:
    texts = block.at(at, angle_rad)
    if not pale:
        return list(texts)
    wide, high = block.width_mm / 2 + 0.3, block.height_mm / 2
    return [_ground(Bounds(-wide, -high, wide, high), at, angle_rad), *texts]


def _arrow(
    middle: Point, angle_rad: float, length_mm: float, one_way: bool, pale: bool
) -> list[Item]:
    along = Vector(math.cos(angle_rad), math.sin(angle_rad)) * (length_mm / 2)
    half = length_mm / 2 + 0.3
    ground = [_ground(Bounds(-half, -0.7, half, 0.7), middle, angle_rad)] if pale else []
    if one_way:
        return [*ground, arrow(middle - along, middle + along)]
    return [*ground, arrow(middle, middle + along), arrow(middle, middle - along)]


def _ground(box: Bounds, at: Point, angle_rad: float) -> Shape:
    """A pale ground around a place, so that hatching and stripes do not cross what stands there."""
    path = box.path.transformed(Transform.turn(angle_rad).then(Transform.shift(at.x, at.y)))
    return Shape((path,), None, PAPER, closed=True)


def _turned(shape: shapely.Geometry, angle_rad: float) -> shapely.Geometry:
    """The shape turned about the origin and enlarged."""
    cos, sin = _FINE * math.cos(angle_rad), _FINE * math.sin(angle_rad)
    return shapely.affinity.affine_transform(shape, [cos, -sin, sin, cos, 0.0, 0.0])


def _beside(one: Laid, text: str) -> list[Item]:
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
