"""The pieces of a cutting layout: their outlines, faces and names."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import shapely

from clothwise.cutting.item import CutItem
from clothwise.cutting.layout import Cut, Placement, Section, item_laid, on_fabric
from clothwise.cutting.limit_words import name_of_cut
from clothwise.geometry import Path, Point, polyline
from clothwise.output.drawing import (
    Group,
    Item,
    Shape,
)
from clothwise.output.layout_frame import LayoutFrame
from clothwise.output.layout_marks import (
    FOLD_BAR,
    HATCH,
    HATCH_MM,
    PIECE,
    pin,
)
from clothwise.output.scene_drawing import PAPER, hatching


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
        points = [
            on.place(section, x, y)
            for x, y in on_fabric(placement, item_laid(placement, on.items).outline)
        ]
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
    at, angle = pin_place(one)
    return pin(at, angle) if one.is_pinned else []


def pin_place(one: Laid) -> tuple[Point, float]:
    """Where a pin goes, and the direction of the edge that it is stuck across."""
    corners = [Point(x, y) for x, y in one.shape.simplify(0.3).exterior.coords]
    edges = list(pairwise(corners))
    start, end = max(edges, key=lambda edge: edge[0].distance(edge[1]))
    return start.toward(end, 0.5), (end - start).angle


def _closed(shape: shapely.Polygon) -> Path:
    return polyline(Point(x, y) for x, y in shape.simplify(0.03).exterior.coords)
