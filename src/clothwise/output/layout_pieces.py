"""The pieces of a cutting layout: their outlines, faces and names."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import shapely

from clothwise.cutting.layout import Cut, Placement, Section, on_fabric
from clothwise.geometry import Path, Point, Transform, polyline
from clothwise.output.bounds import Bounds
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
)
from clothwise.output.scene_drawing import INK, PAPER, hatching
from clothwise.output.text_block import Sentence, set_block

LABEL_MM = (2.9, 2.5, 2.1, 1.85)
"""Type sizes tried for the name of a piece, largest first."""

NUMBER_MM = (2.5, 2.1, 1.85, 1.6)
"""Type sizes tried for its number alone, where its name finds no room."""

_FINE = 8.0
"""Room for words is sought on a drawing so many times larger, which makes its grid finer."""


@dataclass(frozen=True)
class Laid:
    """A placement with the box it is drawn in, all in mm of the page."""

    placement: Placement
    shape: shapely.Polygon
    label: str


def laid_on(on: LayoutFrame, section: Section) -> list[Laid]:
    """The pieces of a stretch where they are drawn."""
    shift = on.shift(section)
    found = []
    for placement in section.placements:
        outline = on_fabric(placement, on.items[placement.item_ids[0]].outline)
        points = [on.at(x, y + shift) for x, y in outline]
        shape = shapely.Polygon([(p.x, p.y) for p in points])
        found.append(Laid(placement, shape, _name(on, placement)))
    return found


def _name(on: LayoutFrame, placement: Placement) -> str:
    """What the copies of one cut have in common of their names."""
    labels = [on.items[name].label.split(", ") for name in placement.item_ids]
    common = []
    for parts in zip(*labels, strict=False):
        if len(set(parts)) > 1:
            break
        common.append(parts[0])
    # The number stays with the first word of the name when it is wrapped.
    said = ", ".join(common) or ", ".join(labels[0])
    number, space, name = said.partition(" ")
    return f"{number}\u00a0{name}" if space and number.isdigit() else said


def piece_items(on: LayoutFrame, one: Laid) -> list[Item]:
    """The outline of a piece, hatched if its drawn side is down."""
    path = _closed(one.shape)
    found: list[Item] = [Shape((path,), None, PAPER, closed=True)]
    if one.placement.mirrored:
        lines = hatching(path, HATCH_MM, math.radians(45))
        found.append(Group((Shape(tuple(lines), HATCH),), clip=path))
    found.append(Shape((path,), PIECE, None, closed=True))
    if one.placement.cut is Cut.ON_FOLD:
        left, low, right, _ = one.shape.bounds
        edge = [(x, y) for x, y in one.shape.exterior.coords if y - low < 0.05]
        left, right = min(x for x, _ in edge), max(x for x, _ in edge)
        bar = polyline([Point(left, low), Point(right, low)])
        found.append(Shape((bar,), FOLD_BAR))
    return found


def label_items(on: LayoutFrame, one: Laid) -> list[Item]:
    """The name of a piece where it finds room."""
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
        placed = _placed(on, one, [replace(s, color=INK) for s in sentences], width)
        if placed:
            return placed
    return _beside(on, one, short or one.label)


def _placed(on: LayoutFrame, one: Laid, sentences: list[Sentence], wrap_mm: float) -> list[Item]:
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


def _beside(on: LayoutFrame, one: Laid, text: str) -> list[Item]:
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
