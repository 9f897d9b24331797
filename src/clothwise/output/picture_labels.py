"""Where the names of pieces stand in a picture: on what they name, and off what is sewn.

A name stays where it is wanted, if it covers nothing that the picture is about. Else it moves to
the nearest place on its piece that is clear; else beside the piece; else it covers as little as
can be.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from clothwise.geometry import Path, Point, Transform, polyline
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import Anchor, Baseline, Color, Item, Shape, Text
from clothwise.output.fonts import text_width
from clothwise.work.picture import Caption

BESIDE_MM = 0.8
"""Words that do not fit onto a piece stand this far from it."""

PAD_MM = 0.5
"""Pale ground beyond the words written on a picture."""

CLEAR_MM = 0.6
"""Names keep this far from what is sewn now, which is drawn about so wide."""

FURTHEST_MM = 3.0
"""A name beside its piece is no further from it; our own choice."""

STEP_MM = 1.0
"""Names are moved in such steps."""

_GROUND_OPACITY = 0.78


class Labels:
    """The names in one picture; cloth and lines are told first, then one name after the other."""

    def __init__(self, room: Bounds, type_mm: float, ink: Color, paper: Color) -> None:
        """Names lie in `room` and are written in `type_mm`."""
        self._room, self._type, self._ink, self._paper = room, type_mm, ink, paper
        self._cloth: list[shapely.Geometry] = []
        self._lines: list[shapely.Geometry] = []
        self._placed: list[tuple[str, Bounds]] = []

    def lie_on(self, cloth: Path) -> None:
        """Tell of a stretch of cloth, above those before it."""
        self._cloth.append(shapely.Polygon([(p.x, p.y) for p in cloth.flattened()]).buffer(0.0))

    def keep_off(self, line: Path) -> None:
        """Tell of a line that the picture is about."""
        points = [(p.x, p.y) for p in line.flattened(0.1)]
        if len(points) > 1:
            self._lines.append(shapely.LineString(points))

    def add(self, caption: Caption, place: Transform) -> None:
        """Find the place of a name."""
        at = place.point(caption.at)
        wanted = self._in_room(self._box(caption.text, at))
        box = self._beside_narrow(caption, wanted, place)
        if box is None and not self._is_clear(wanted):
            box = self._on_cloth(wanted, at) or self._off_cloth(wanted, at)
        self._placed.append((caption.text, box or self._dropped(wanted)))

    def items(self) -> Iterator[Item]:
        """The words, each on a pale ground so that it can be read on hatching."""
        for text, box in self._placed:
            corners = (
                Point(box.left - PAD_MM, box.bottom),
                Point(box.right + PAD_MM, box.bottom),
                Point(box.right + PAD_MM, box.top),
                Point(box.left - PAD_MM, box.top),
            )
            ground = polyline([*corners, corners[0]])
            yield Shape((ground,), None, self._paper, closed=True, opacity=_GROUND_OPACITY)
            yield Text(
                text,
                box.center,
                self._type,
                self._ink,
                anchor=Anchor.CENTER,
                baseline=Baseline.MIDDLE,
            )

    def _box(self, text: str, at: Point) -> Bounds:
        width, height = text_width(text, self._type), self._type
        return Bounds(at.x - width / 2, at.y - height / 2, at.x + width / 2, at.y + height / 2)

    def _in_room(self, box: Bounds) -> Bounds:
        farthest = max(self._room.right - PAD_MM - box.width, self._room.left + PAD_MM)
        left = min(max(box.left, self._room.left + PAD_MM), farthest)
        low = max(box.bottom, self._room.bottom)
        return Bounds(left, low, left + box.width, low + box.height)

    @cached_property
    def _sewn(self) -> shapely.Geometry:
        """What names keep off, known when the first of them is placed."""
        found = shapely.union_all(self._lines).buffer(CLEAR_MM)
        shapely.prepare(found)
        return found

    def _is_clear(self, box: Bounds) -> bool:
        ground = shapely.box(box.left - PAD_MM, box.bottom, box.right + PAD_MM, box.top)
        covers = any(_overlap(other, box) for _, other in self._placed)
        return not covers and not self._sewn.intersects(ground)

    def _on_cloth(self, wanted: Bounds, at: Point) -> Bounds | None:
        """The nearest place on the cloth that is seen where the name belongs, clear of all."""
        seen = self._seen(at)
        if seen is None:
            return None
        boxes = self._clear(_boxes_over(Bounds(*seen.bounds), wanted))
        return _nearest(boxes[shapely.contains(seen, boxes)], wanted)

    def _off_cloth(self, wanted: Bounds, at: Point) -> Bounds | None:
        """The nearest place beside that cloth, nearer to it than to any other."""
        seen = self._seen(at)
        if seen is None:
            return None
        reach = FURTHEST_MM + wanted.width
        left, bottom, right, top = seen.bounds
        around = Bounds(left - reach, bottom - reach, right + reach, top + reach)
        boxes = self._clear(_boxes_over(around, wanted))
        room = self._room
        if not np.isinf(room.right):
            frame = shapely.box(room.left, room.bottom, room.right, room.top)
            boxes = boxes[shapely.contains(frame, boxes)]
        boxes = boxes[~shapely.intersects(shapely.union_all(self._cloth), boxes)]
        others = shapely.union_all(self._cloth).difference(seen.buffer(CLEAR_MM))
        own = shapely.distance(seen, boxes)
        near = own <= FURTHEST_MM
        if not others.is_empty:
            near &= own < shapely.distance(others, boxes)
        return _nearest(boxes[near], wanted)

    def _clear(self, boxes: NDArray[np.object_]) -> NDArray[np.object_]:
        """Those that cover neither a name nor what is sewn now."""
        for _, other in self._placed:
            taken = shapely.box(other.left - PAD_MM, other.bottom, other.right + PAD_MM, other.top)
            boxes = boxes[~shapely.intersects(taken, boxes)]
        clear: NDArray[np.object_] = boxes[~shapely.intersects(self._sewn, boxes)]
        return clear

    def _seen(self, place: Point) -> shapely.Geometry | None:
        """What is seen of the uppermost cloth at a place."""
        at = shapely.Point(place.x, place.y)
        for number in range(len(self._cloth) - 1, -1, -1):
            if self._cloth[number].distance(at) < 1e-6:
                seen = self._cloth[number]
                for above in self._cloth[number + 1 :]:
                    seen = seen.difference(above)
                shapely.prepare(seen)
                return seen
        return None

    def _beside_narrow(self, caption: Caption, box: Bounds, place: Transform) -> Bounds | None:
        """A free place beside what is named, if the words are wider than that."""
        if caption.on is None:
            return None
        on = Bounds.of_points([place.point(corner) for corner in caption.on])
        return None if box.width <= on.width - 2 * PAD_MM else self._beside(caption, box, place)

    def _beside(self, caption: Caption, box: Bounds, place: Transform) -> Bounds | None:
        """A free place beside what is named."""
        if caption.on is None:
            return None
        on = Bounds.of_points([place.point(corner) for corner in caption.on])
        clear = BESIDE_MM + PAD_MM
        x, y = (on.left + on.right - box.width) / 2, box.bottom
        for left, bottom in (
            (on.right + clear, y),
            (on.left - clear - box.width, y),
            (x, on.bottom - BESIDE_MM - box.height),
            (x, on.top + BESIDE_MM),
        ):
            found = Bounds(left, bottom, left + box.width, bottom + box.height)
            if self._is_free(found):
                return found
        return None

    def _is_free(self, box: Bounds) -> bool:
        room = self._room
        if box.left < room.left + PAD_MM or box.right > room.right - PAD_MM:
            return False
        if box.bottom < room.bottom or box.top > room.top:
            return False
        ground = shapely.box(box.left - PAD_MM, box.bottom, box.right + PAD_MM, box.top)
        on_cloth = any(cloth.intersects(ground) for cloth in self._cloth)
        return not on_cloth and self._is_clear(box)

    def _dropped(self, box: Bounds) -> Bounds:
        """The place itself, or below names that are there already."""
        for _ in range(6):
            other = next((b for _, b in self._placed if _overlap(b, box)), None)
            if other is None:
                break
            drop = box.top - other.bottom + 0.4
            box = Bounds(box.left, box.bottom - drop, box.right, box.top - drop)
        return self._in_room(box)


def _boxes_over(area: Bounds, box: Bounds) -> NDArray[np.object_]:
    """Boxes of this size with their pale ground, on a grid over an area."""
    width, height = box.width + 2 * PAD_MM, box.height
    xs = np.arange(area.left, max(area.right - width, area.left) + STEP_MM, STEP_MM)
    ys = np.arange(area.bottom, max(area.top - height, area.bottom) + STEP_MM, STEP_MM)
    x, y = (each.ravel() for each in np.meshgrid(xs, ys))
    found: NDArray[np.object_] = shapely.box(x, y, x + width, y + height)
    return found


def _nearest(boxes: NDArray[np.object_], wanted: Bounds) -> Bounds | None:
    """The box nearest to a wanted one, without its pale ground; None if there is none."""
    if not len(boxes):
        return None
    lefts, bottoms, rights, tops = shapely.bounds(boxes).T
    middle = wanted.center
    far = np.hypot((lefts + rights) / 2 - middle.x, (bottoms + tops) / 2 - middle.y)
    best = int(np.argmin(far))
    left, bottom = float(lefts[best]) + PAD_MM, float(bottoms[best])
    return Bounds(left, bottom, left + wanted.width, bottom + wanted.height)


def _overlap(one: Bounds, other: Bounds) -> bool:
    return (
        one.left < other.right
        and other.left < one.right
        and one.bottom < other.top
        and other.bottom < one.top
    )
