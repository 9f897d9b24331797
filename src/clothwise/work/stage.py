"""The stage of a picture: sheets in layers, what lies on each, and what is drawn over all."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import product

import shapely
from shapely.geometry import LineString, MultiLineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from clothwise.geometry import Path, Point, Transform, Vector, polyline
from clothwise.pattern.graph import Sides
from clothwise.pattern.piece import Side
from clothwise.work.picture import (
    Area,
    Arrow,
    Button,
    Caption,
    Item,
    LineRole,
    Picture,
    Trace,
    moved_item,
)
from clothwise.work.shape import one_polygon, polygon_path, tidied, union_of
from clothwise.work.sheet import Sheet, moved_polygon

ROOM_SHARE = 0.05
"""A partly covered piece is written on if a circle of this share of the picture fits on what is
seen of it; our own choice."""

SHAPE_OF_PICTURES = 1.3
"""Width over height that pictures of several parts aim at; our own choice."""

UPSIDE_DOWN = 0.25
"""A picture is turned if, on balance, this share of its cloth stands on its head."""

ALLOWANCE_MM = 30.0
"""An allowance is no wider."""

FAR_MM = 5000.0
"""Further than any piece reaches."""

COLLINEAR_MM = 2.0
"""Folds this close to one line count as one axis of the picture."""


@dataclass(frozen=True)
class Layer:
    """A sheet as it is painted: the cloth seen, the lines on it, and whether it is fused.

    `words` is written on it; empty for the mirrored half of a picture. `kept` tells whether it is
    there on the half that is drawn and on the mirrored one; `kept_lines` does so for lines, by
    their number. What `hangs` on the edge of another layer is shown whole or not at all.
    """

    sheet: Sheet
    polygon: Polygon
    lines: tuple[tuple[tuple[Point, ...], LineRole], ...] = ()
    buttons: tuple[Button, ...] = ()
    fused: bool = False
    words: str = ""
    kept: tuple[bool, bool] = (True, True)
    kept_lines: tuple[tuple[int, tuple[bool, bool]], ...] = ()
    hangs: bool = False

    def on_half(self, half: int) -> Layer | None:
        """What of it is there on the drawn half (0) or the mirrored one (1)."""
        if not self.kept[half]:
            return None
        gone = {number for number, kept in self.kept_lines if not kept[half]}
        lines = tuple(line for number, line in enumerate(self.lines) if number not in gone)
        return replace(self, lines=lines, kept_lines=())

    def moved(self, transform: Transform) -> Layer:
        """The layer moved as a whole."""
        return replace(
            self,
            sheet=self.sheet.moved(transform),
            polygon=moved_polygon(self.polygon, transform),
            lines=tuple(
                (tuple(transform.point(p) for p in points), role) for points, role in self.lines
            ),
            buttons=tuple(
                Button(transform.point(button.at), button.size_mm) for button in self.buttons
            ),
        )


@dataclass(frozen=True)
class Stage:
    """Layers from the lowest to the uppermost, and items drawn over all of them."""

    layers: tuple[Layer, ...] = ()
    overlay: tuple[Item, ...] = ()
    cuts: tuple[Trace, ...] = field(default=())

    def moved(self, transform: Transform) -> Stage:
        """The stage moved as a whole."""
        return Stage(
            tuple(layer.moved(transform) for layer in self.layers),
            tuple(moved_item(item, transform) for item in self.overlay),
            tuple(replace(cut, path=cut.path.transformed(transform)) for cut in self.cuts),
        )

    def adding(self, *items: Item) -> Stage:
        """The stage with more items over all."""
        return replace(self, overlay=(*self.overlay, *items))

    def then(self, other: Stage) -> Stage:
        """This stage below another."""
        return Stage(
            (*self.layers, *other.layers),
            (*self.overlay, *other.overlay),
            (*self.cuts, *other.cuts),
        )

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of all cloth."""
        left, bottom, right, top = union_of(layer.polygon for layer in self.layers).bounds
        return left, bottom, right, top

    def unfolded(self, sides: Sides = Sides.BOTH) -> Stage:
        """The other half added, mirrored in the fold of a piece or in its sewn center seam.

        Pieces on that fold become whole, the others appear twice, but for those that are there
        once. What is drawn over all appears twice if it occurs on both `sides`.
        """
        folds = [layer.sheet.fold for layer in self.layers]
        axis = next((fold for fold in folds if fold), None)
        if axis is None:
            return self
        mirror = Transform.mirror(axis[0], axis[1] - axis[0])
        layers: list[Layer] = []
        for layer, fold in zip(self.layers, folds, strict=True):
            other = layer.moved(mirror)
            is_on_axis = fold and all(mirror.point(p).is_close(p, COLLINEAR_MM) for p in fold)
            if layer.sheet.is_once:
                layers.append(layer)
            elif is_on_axis and layer.sheet.is_on_fold:
                layers.append(_whole(layer, other))
            else:
                if is_on_axis:
                    layer, other = _up_to(layer, axis), _up_to(other, axis)
                halves = (layer.on_half(0), replace(other, words="").on_half(1))
                layers += [half for half in halves if half]
        mirrored = tuple(
            moved_item(item, mirror)
            for item in self.overlay
            if not isinstance(item, Caption) and sides in (Sides.BOTH, Sides.CENTER)
        )
        return Stage(
            tuple(layers),
            (*self.overlay, *mirrored),
            (
                *self.cuts,
                *(cut for cut in self._mirrored_cuts(mirror) if _is_at(cut, layers)),
            ),
        )

    def _mirrored_cuts(self, mirror: Transform) -> list[Trace]:
        return [replace(cut, path=cut.path.transformed(mirror)) for cut in self.cuts]

    def cropped(self, window: Polygon, spare: float = 0.0) -> Stage:
        """Only what lies in a window; where cloth is left out, its edge becomes a break.

        A layer of which no more than the share `spare` would be lost stays whole.
        """
        layers, cuts = [], list(self.cuts)
        rim = window.exterior
        for layer in self.layers:
            inside = tidied(layer.polygon.intersection(window))
            if inside.area < 1.0:
                continue
            if layer.hangs or (inside.area > (1 - spare) * layer.polygon.area and spare):
                layers.append(layer)
                continue
            if inside.area < layer.polygon.area - 1.0:
                broken = rim.intersection(inside.buffer(0.01))
                cuts += [Trace(path, LineRole.BREAK) for path in _paths(broken)]
            lines = tuple(
                (points, role) for line, role in layer.lines for points in _inside(line, window)
            )
            layers.append(replace(layer, polygon=inside, lines=lines))
        kept = tuple(item for one in self.overlay for item in _within(one, window))
        return Stage(tuple(layers), kept, tuple(cuts))

    def picture(self, title: str, note: str = "") -> Picture:
        """The stage as a picture."""
        items: list[Item] = []
        for layer in self.layers:
            if layer.polygon.area < 1.0:
                continue
            sheet, copy = layer.sheet, layer.sheet.copy
            role, name = (copy.role, copy.name) if copy else ("", "")
            path = polygon_path(layer.polygon)
            items.append(Area(path, sheet.face, sheet.name, role, layer.fused, name))
            items += [
                Trace(polyline(points), line_role, sheet.name)
                for points, line_role in layer.lines
                if _has_length(points)
            ]
            items += layer.buttons
        items += self.cuts
        items += self.overlay
        return Picture((*items, *self._captions()), title, note)

    def _captions(self) -> list[Caption]:
        """What is written on each sheet, where most of it is seen; nothing if there is no room."""
        left, bottom, right, top = self.bounds
        least = ROOM_SHARE * max(right - left, top - bottom)
        found = []
        for number, layer in enumerate(self.layers):
            if not layer.words:
                continue
            above = union_of(upper.polygon for upper in self.layers[number + 1 :])
            seen = layer.polygon.difference(above)
            place, room = _roomiest(seen)
            if room >= least or seen.area > 0.9 * layer.polygon.area:
                west, south, east, north = seen.bounds
                found.append(Caption(layer.words, place, (Point(west, south), Point(east, north))))
        return found


def _roomiest(geometry: BaseGeometry) -> tuple[Point, float]:
    """The middle and the radius of the largest circle in it."""
    largest = one_polygon(geometry)
    if largest.is_empty:
        return Point(0.0, 0.0), 0.0
    radius = shapely.maximum_inscribed_circle(largest, tolerance=3.0)
    x, y = radius.coords[0]
    return Point(x, y), float(radius.length)


def _whole(layer: Layer, other: Layer) -> Layer:
    """Both halves of a piece on the fold."""
    return replace(
        layer,
        polygon=tidied(union_of((layer.polygon, other.polygon))),
        lines=(*layer.lines, *other.lines),
        buttons=(*layer.buttons, *other.buttons),
    )


def _up_to(layer: Layer, axis: tuple[Point, Point]) -> Layer:
    """What of a layer lies on the side of a line on which most of it lies.

    What reaches further over it than an allowance stays: a vent.
    """
    along = (axis[1] - axis[0]).unit
    middle = layer.polygon.centroid
    side = along.left if along.cross(Point(middle.x, middle.y) - axis[0]) > 0 else -along.left
    start, end = axis[0] - along * FAR_MM, axis[0] + along * FAR_MM
    corners = (start, end, end + side * FAR_MM, start + side * FAR_MM)
    half = Polygon([(p.x, p.y) for p in corners])
    beyond = layer.polygon.difference(half)
    if any(abs(along.cross(Point(x, y) - start)) > ALLOWANCE_MM for x, y in _hull(beyond)):
        return layer
    return replace(layer, polygon=tidied(layer.polygon.intersection(half)))


def _is_at(cut: Trace, layers: Sequence[Layer]) -> bool:
    """True if there is cloth where a break is drawn."""
    line = LineString([(p.x, p.y) for p in cut.path.flattened()])
    return any(layer.polygon.distance(line) < COLLINEAR_MM for layer in layers)


def _hull(geometry: BaseGeometry) -> list[tuple[float, float]]:
    """Corners of the smallest bulging area around something."""
    ring = getattr(geometry.convex_hull, "exterior", None)
    return list(ring.coords) if ring is not None else []


def handed(stage: Stage) -> Stage:
    """The stage mirrored if a piece that is for one side of the wearer would lie for the other."""
    for layer in stage.layers:
        copy = layer.sheet.copy
        if layer.sheet.is_once and copy and copy.side not in (layer.sheet.side, Side.CENTER):
            folds = [each.sheet.fold for each in stage.layers if each.sheet.fold]
            left, bottom, right, top = stage.bounds
            middle = (Point((left + right) / 2, bottom), Point((left + right) / 2, top))
            start, end = folds[0] if folds else middle
            return stage.moved(Transform.mirror(start, end - start))
    return stage


def upright(stage: Stage) -> Stage:
    """The stage turned by half a turn if most of its cloth would else be upside down."""
    standing = sum(
        layer.polygon.area * layer.sheet.to.vector(Vector(0.0, 1.0)).y for layer in stage.layers
    )
    if standing > -UPSIDE_DOWN * sum(layer.polygon.area for layer in stage.layers):
        return stage
    return stage.moved(Transform.turn(math.pi))


def beside_each_other(stages: Iterable[Stage]) -> Stage:
    """Stages in columns, filled from top to bottom and from left to right.

    Of all ways to fill columns in order, the one that makes the largest picture is taken.
    """
    given = [stage for stage in stages if stage.layers]
    if not given:
        return Stage()
    sizes = [(b[2] - b[0], b[3] - b[1]) for b in (stage.bounds for stage in given)]
    gap = max(0.06 * max(max(size) for size in sizes), 25.0)
    columns = min(_fillings(len(given)), key=lambda columns: _paper_needed(columns, sizes, gap))
    result, x = Stage(), 0.0
    for column in columns:
        width = max(sizes[number][0] for number in column)
        y = (sum(sizes[number][1] for number in column) + gap * (len(column) - 1)) / 2
        for number in column:
            left, bottom, _, _ = given[number].bounds
            own_width, height = sizes[number]
            shift = Transform.shift(x + (width - own_width) / 2 - left, y - height - bottom)
            result = result.then(given[number].moved(shift))
            y -= height + gap
        x += width + gap
    return result


def _fillings(count: int) -> list[list[list[int]]]:
    """All ways to break a sequence of numbers into columns."""
    ways = []
    for breaks in product((False, True), repeat=count - 1):
        columns = [[0]]
        for number, starts_column in enumerate(breaks, start=1):
            if starts_column:
                columns.append([number])
            else:
                columns[-1].append(number)
        ways.append(columns)
    return ways


def _paper_needed(
    columns: list[list[int]], sizes: Sequence[tuple[float, float]], gap: float
) -> float:
    """Height of the smallest sheet of the wanted shape around the columns."""
    width = sum(max(sizes[n][0] for n in column) for column in columns) + gap * len(columns)
    height = max(sum(sizes[n][1] + gap for n in column) for column in columns)
    return max(width / SHAPE_OF_PICTURES, height)


def window_around(points: Iterable[Point], reach_mm: float) -> Polygon:
    """A rectangle that reaches this far beyond some points."""
    given = list(points)
    xs, ys = [p.x for p in given], [p.y for p in given]
    return box(min(xs) - reach_mm, min(ys) - reach_mm, max(xs) + reach_mm, max(ys) + reach_mm)


def _has_length(points: Sequence[Point]) -> bool:
    return any(not point.is_close(points[0], 1e-6) for point in points[1:])


def _paths(geometry: BaseGeometry) -> list[Path]:
    parts = geometry.geoms if isinstance(geometry, MultiLineString) else [geometry]
    return [
        polyline(Point(x, y) for x, y in part.coords)
        for part in parts
        if isinstance(part, LineString) and part.length > 1.0
    ]


def _inside(points: Sequence[Point], window: Polygon) -> list[tuple[Point, ...]]:
    if len(points) < 2 or not _has_length(points):
        return []
    kept = LineString([(p.x, p.y) for p in points]).intersection(window)
    return [tuple(path.flattened()) for path in _paths(kept)]


def _within(item: Item, window: Polygon) -> list[Item]:
    """What is left of an item in a window."""
    if isinstance(item, Trace):
        parts = _inside(item.path.flattened(), window)
        return [replace(item, path=polyline(points)) for points in parts]
    if isinstance(item, Arrow):
        at = item.start.toward(item.end, 0.5)
    elif isinstance(item, Area):
        return [item]
    else:
        at = item.at
    return [item] if window.covers(shapely.Point(at.x, at.y)) else []


LONG_STRIP = 6.0
"""A picture this many times as wide as high is shortened; our own choice."""


def shortened(stage: Stage, keep_mm: float) -> Stage:
    """A long horizontal strip with its middle left out, between two breaks.

    It stays whole if a piece would be left out altogether.
    """
    if not stage.layers:
        return stage
    left, bottom, right, top = stage.bounds
    if right - left <= max(2.2 * keep_mm, LONG_STRIP * (top - bottom)):
        return stage
    gap = 0.05 * keep_mm
    first = stage.cropped(box(left - 1, bottom - 1, left + keep_mm, top + 1))
    last = stage.cropped(box(right - keep_mm, bottom - 1, right + 1, top + 1))
    if {one.sheet.name for one in stage.layers} - {
        one.sheet.name for one in (*first.layers, *last.layers)
    }:
        return stage
    back = Transform.shift(-(right - left) + 2 * keep_mm + gap, 0.0)
    named = {layer.words for layer in first.layers}
    unlabeled = replace(
        last,
        layers=tuple(replace(one, words="") if one.words in named else one for one in last.layers),
    )
    return first.then(unlabeled.moved(back))
