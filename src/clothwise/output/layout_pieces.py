"""The pieces of a cutting layout: their outlines, faces and names."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import shapely

from clothwise.cutting.item import CutItem
from clothwise.cutting.layout import Cut, Placement, Section, on_fabric
from clothwise.cutting.limits import name_of_cut
from clothwise.geometry import Path, Point, Transform, Vector, polyline
from clothwise.output.bounds import Bounds, text_corners
from clothwise.output.drawing import (
    Anchor,
    Baseline,
    Group,
    Item,
    Shape,
    Text,
    Weight,
)
from clothwise.output.fonts import text_width
from clothwise.output.free_space import FreeSpace
from clothwise.output.layout_frame import LayoutFrame
from clothwise.output.layout_marks import (
    FOLD_BAR,
    HATCH,
    HATCH_MM,
    PIECE,
    PIN_MM,
    arrow,
    pin,
)
from clothwise.output.scene_drawing import INK, PAPER, hatching
from clothwise.output.text_block import Sentence, set_block

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
class Laid:
    """A placement as it is drawn, all in mm of the page.

    Attributes:
        placement: what is laid.
        shape: its outline.
        label: its name.
        grain_rad: the way its grain points, to its top.
        fold: both ends of its edge on a fold.
        is_pinned: whether somebody pinned it there.
    """

    placement: Placement
    shape: shapely.Polygon
    label: str
    grain_rad: float = 0.0
    fold: tuple[Point, Point] | None = None
    is_pinned: bool = False


def laid_on(on: LayoutFrame, section: Section) -> list[Laid]:
    """The pieces of a stretch where they are drawn."""
    found = []
    for placement in section.placements:
        item = on.items[placement.item_ids[0]]
        points = [on.place(section, x, y) for x, y in on_fabric(placement, item.outline)]
        fold = None
        if placement.cut is Cut.ON_FOLD and item.fold_edge is not None:
            one, other = on_fabric(placement, item.fold_edge)
            fold = on.place(section, *one), on.place(section, *other)
        found.append(
            Laid(
                placement,
                shapely.Polygon([(p.x, p.y) for p in points]),
                _name(on, placement),
                _grain_rad(placement, item),
                fold,
                not on.pinned.isdisjoint(placement.item_ids),
            )
        )
    return found


def _name(on: LayoutFrame, placement: Placement) -> str:
    """The name of a cut; its number stays with its first word when it is wrapped."""
    said = name_of_cut(placement, on.items)
    number, space, name = said.partition(" ")
    return f"{number}\u00a0{name}" if space and number.isdigit() else said


def _grain_rad(placement: Placement, item: CutItem) -> float:
    """The way the grain of a piece points on the cloth."""
    up = item.grain_angle_rad
    tail, head = on_fabric(placement, [(0.0, 0.0), (-math.sin(up), math.cos(up))])
    return math.atan2(head[1] - tail[1], head[0] - tail[0])


def piece_items(one: Laid) -> list[Item]:
    """The outline of a piece, hatched if its drawn side is down."""
    path = _closed(one.shape)
    found: list[Item] = [Shape((path,), None, PAPER, closed=True)]
    if one.placement.mirrored:
        lines = hatching(path, HATCH_MM, math.radians(45))
        found.append(Group((Shape(tuple(lines), HATCH),), clip=path))
    found.append(Shape((path,), PIECE, None, closed=True))
    if one.fold:
        found.append(Shape((polyline(one.fold),), FOLD_BAR))
    return found


def pin_items(one: Laid) -> list[Item]:
    """A pin stuck across the middle of the longest edge of a piece, if it was pinned."""
    at, angle = _pin(one)
    return pin(at, angle) if one.is_pinned else []


def _pin(one: Laid) -> tuple[Point, float]:
    """Where a pin goes, and the direction of the edge that it is stuck across."""
    corners = [Point(x, y) for x, y in one.shape.simplify(0.3).exterior.coords]
    edges = list(pairwise(corners))
    start, end = max(edges, key=lambda edge: edge[0].distance(edge[1]))
    return start.toward(end, 0.5), (end - start).angle


def _pin_room(one: Laid, turn_rad: float) -> list[shapely.Geometry]:
    """The room of the pin, turned about the origin and enlarged like the room for words."""
    if not one.is_pinned:
        return []
    at, _ = _pin(one)
    disc = shapely.Point(at.x, at.y).buffer(0.7 * PIN_MM)
    turned = shapely.affinity.rotate(disc, turn_rad, origin=(0.0, 0.0), use_radians=True)
    return [shapely.affinity.scale(turned, _FINE, _FINE, origin=(0.0, 0.0))]


def grain_items(one: Laid, words: Sequence[Text], *, one_way: bool, pale: bool) -> list[Item]:
    """The grain of a piece as an arrow where it finds room beside its name.

    Args:
        one: the piece.
        words: written on it.
        one_way: point to its top only, as cloth with a nap asks for.
        pale: on a pale ground, because lines run over the piece.
    """
    left, low, right, high = one.shape.bounds
    size = max(right - left, high - low)
    turned = shapely.affinity.rotate(one.shape, -one.grain_rad, origin=(0, 0), use_radians=True)
    room = shapely.affinity.scale(turned, _FINE, _FINE, origin=(0.0, 0.0))
    space = FreeSpace(room, _pin_room(one, -one.grain_rad))
    for text in words:
        box = shapely.Polygon([(p.x, p.y) for p in text_corners(text)])
        box = shapely.affinity.rotate(box, -one.grain_rad, origin=(0, 0), use_radians=True)
        space.take(shapely.affinity.scale(box, _FINE, _FINE, origin=(0.0, 0.0)))
    wanted = Point(room.centroid.x, room.centroid.y)
    for length in (min(_GRAIN_MM[0], 0.45 * size), *_GRAIN_MM[1:]):
        if length > _GRAIN_MM[0] or length < _GRAIN_MM[-1]:
            continue
        clear = 0.35 if length >= _GRAIN_SMALL_MM else 0.12
        spot = space.place(length * _FINE, _GRAIN_HIGH_MM * _FINE, wanted, clear * _FINE)
        if spot is None:
            continue
        middle = Transform.turn(one.grain_rad).point(Point(spot.x / _FINE, spot.y / _FINE))
        along = Vector(math.cos(one.grain_rad), math.sin(one.grain_rad)) * (length / 2)
        found: list[Item] = []
        if pale or one.placement.mirrored:
            half = length / 2 + 0.3
            move = Transform.turn(one.grain_rad).then(Transform.shift(middle.x, middle.y))
            ground = Bounds(-half, -0.7, half, 0.7).path.transformed(move)
            found.append(Shape((ground,), None, PAPER, closed=True))
        if one_way:
            return [*found, arrow(middle - along, middle + along)]
        return [*found, arrow(middle, middle + along), arrow(middle, middle - along)]
    return []


def label_items(one: Laid, *, pale: bool) -> list[Item]:
    """The name of a piece where it finds room; on a pale ground if lines run over the piece."""
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
        placed = _placed(one, [replace(s, color=INK) for s in sentences], width, pale)
        if placed:
            return placed
    return _beside(one, short or one.label)


def _placed(one: Laid, sentences: list[Sentence], wrap_mm: float, pale: bool) -> list[Item]:
    block = set_block(sentences, wrap_mm=wrap_mm)
    for angle in dict.fromkeys((0.0, _lean(one.shape), math.pi / 2)):
        turned = shapely.affinity.rotate(one.shape, -angle, origin=(0.0, 0.0), use_radians=True)
        room = shapely.affinity.scale(turned, _FINE, _FINE, origin=(0.0, 0.0))
        middle = room.representative_point() if room.is_empty else room.centroid
        spot = FreeSpace(room, _pin_room(one, -angle)).place(
            block.width_mm * _FINE,
            block.height_mm * _FINE,
            Point(middle.x, middle.y),
            0.3 * _FINE,
        )
        if spot is None:
            continue
        at = Transform.turn(angle).point(Point(spot.x / _FINE, spot.y / _FINE))
        texts = block.at(at, angle)
        if not pale and not one.placement.mirrored:
            return list(texts)
        ground = Bounds(
            -block.width_mm / 2 - 0.3,
            -block.height_mm / 2,
            block.width_mm / 2 + 0.3,
            block.height_mm / 2,
        ).path.transformed(Transform.turn(angle).then(Transform.shift(at.x, at.y)))
        return [Shape((ground,), None, PAPER, closed=True), *texts]
    return []


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


def _closed(shape: shapely.Polygon) -> Path:
    return polyline(Point(x, y) for x, y in shape.simplify(0.03).exterior.coords)
