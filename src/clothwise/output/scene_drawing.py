"""Pictures of the work as drawings: cloth tinted by what it is cut from, thread in one warm color.

The right side is tinted, the wrong side is pale and hatched, so that both survive a black and
white printer. Pens and type keep their size however small the picture becomes.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from clothwise.geometry import Path, Point, Transform, Vector, arc, polyline
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
    moved,
)
from clothwise.output.fonts import text_width
from clothwise.work.picture import Area, Arrow, Button, Caption, Face, LineRole, Picture, Trace

INK = Color.parse("#3a3733")
THREAD = Color.parse("#b3402a")
PAPER = Color.parse("#ffffff")
CLOTHS = tuple(Color.parse(text) for text in ("#cddbe0", "#ecd9bd", "#d8d5e6", "#d5e0c8"))
"""Tints of the right side, by fabric role in order of appearance."""

HATCH_MM = 1.7
"""Distance of the lines that mark the wrong side, on paper."""

TYPE_MM = 2.9
"""Type size of the words in a picture."""

_PENS: Mapping[LineRole, Stroke] = {
    LineRole.SEWN_NOW: Stroke(0.65, THREAD, (1.9, 0.8), Cap.BUTT),
    LineRole.MEANT: Stroke(0.9, THREAD, (), Cap.ROUND),
    LineRole.SEWN: Stroke(0.16, INK, (1.0, 0.7)),
    LineRole.TOPSTITCHING: Stroke(0.16, INK, (0.9, 0.6)),
    LineRole.NEATENED: Stroke(0.4, THREAD, (), Cap.ROUND),
    LineRole.BOUND: Stroke(1.3, THREAD, (), Cap.BUTT),
    LineRole.FOLD: Stroke(0.18, INK, (3.0, 0.8, 0.6, 0.8)),
    LineRole.EDGE: Stroke(0.2, INK),
    LineRole.MARK: Stroke(0.2, INK, (0.5, 0.7), Cap.ROUND),
    LineRole.BUTTONHOLE: Stroke(0.45, THREAD),
    LineRole.NOTCH: Stroke(0.3, INK),
    LineRole.MATCHED: Stroke(0.16, THREAD, (0.3, 0.9), Cap.ROUND),
    LineRole.BREAK: Stroke(0.55, PAPER),
}
_OUTLINE = Stroke(0.26, INK, (), Cap.ROUND)
_HATCH = Stroke(0.09, Color.parse("#8f8a82"))
_ZIGZAG_MM, _WAVE_MM = 0.9, 1.1


@dataclass(frozen=True)
class Palette:
    """Colors of the right side by fabric role; roles not named get a tint in turn."""

    cloths: Mapping[str, Color] = field(default_factory=dict)

    def of(self, role: str, roles: Sequence[str]) -> Color:
        """The color of a role, `roles` being all that appear."""
        if role in self.cloths:
            return self.cloths[role]
        others = [one for one in roles if one not in self.cloths]
        return CLOTHS[others.index(role) % len(CLOTHS)] if role in others else CLOTHS[0]


def picture_drawing(
    picture: Picture,
    width_mm: float,
    height_mm: float,
    *,
    palette: Palette | None = None,
    roles: Sequence[str] = (),
    captions: bool = True,
    type_mm: float = TYPE_MM,
) -> Drawing:
    """The picture as large as it can be within `width_mm` by `height_mm`, its corner at (0, 0).

    Args:
        picture: what to draw.
        width_mm: room for it, words and pens included.
        height_mm: likewise.
        palette: colors of the cloths.
        roles: fabric roles of the whole garment in order, so that each keeps its tint in every
            picture.
        captions: write the names of the pieces on them.
        type_mm: size of those names.
    """
    points = picture.points()
    if not points:
        return Drawing((Layer("picture", ()),), picture.title)
    frame = Bounds.of_points(points)
    margin = 1.2
    factor = min(
        (width_mm - 2 * margin) / max(frame.width, 1e-6),
        (height_mm - 2 * margin) / max(frame.height, 1e-6),
    )
    place = Transform.shift(-frame.left, -frame.bottom).then(Transform.scale(factor))
    place = place.then(Transform.shift(margin, margin))
    known = [*roles, *(a.role for a in picture.areas if a.role not in roles)]
    painter = _Painter(place, palette or Palette(), list(dict.fromkeys(known)), type_mm)
    for item in picture.items:
        if captions or not isinstance(item, Caption):
            painter.paint(item)
    drawing = Drawing((Layer("picture", (*painter.items, *painter.words())),), picture.title)
    outer = painter.words_bounds()
    left = min(0.0, outer.left) if outer else 0.0
    return moved(drawing, -left, 0.0) if left < 0 else drawing


class _Painter:
    """Turns items of a picture into shapes on paper."""

    def __init__(
        self, place: Transform, palette: Palette, roles: Sequence[str], type_mm: float
    ) -> None:
        self._place, self._palette, self._roles, self._type = place, palette, roles, type_mm
        self.items: list[Item] = []
        self._labels: list[tuple[str, Bounds]] = []

    def paint(self, item: Area | Trace | Button | Arrow | Caption) -> None:
        if isinstance(item, Area):
            self._area(item)
        elif isinstance(item, Trace):
            self._trace(item)
        elif isinstance(item, Button):
            self._button(item)
        elif isinstance(item, Arrow):
            self._arrow(item)
        else:
            self._label(item)

    def _area(self, area: Area) -> None:
        path = thinned(area.path.transformed(self._place))
        cloth = self._palette.of(area.role, self._roles)
        if area.face is Face.RIGHT:
            self.items.append(Shape((path,), _OUTLINE, cloth, closed=True))
            return
        self.items.append(Shape((path,), None, _pale(cloth), closed=True))
        lines = hatching(path, HATCH_MM, math.radians(45))
        if area.fused:
            lines += hatching(path, HATCH_MM, math.radians(-45))
        if lines:
            self.items.append(Group((Shape(tuple(lines), _HATCH),), clip=path))
        self.items.append(Shape((path,), _OUTLINE, None, closed=True))

    def _trace(self, trace: Trace) -> None:
        path = thinned(trace.path.transformed(self._place))
        if path is None:
            return
        pen = _PENS[trace.role]
        if trace.role is LineRole.NEATENED:
            path = zigzag(path, _ZIGZAG_MM, 1.1)
        elif trace.role is LineRole.BREAK:
            path = zigzag(path, _WAVE_MM, 2.6)
            self.items.append(Shape((path,), Stroke(1.5, PAPER, (), Cap.BUTT)))
            pen = Stroke(0.14, INK)
        self.items.append(Shape((path,), pen))

    def _button(self, button: Button) -> None:
        scale = math.hypot(self._place.a, self._place.b)
        radius = max(button.size_mm * scale / 2, 0.7)
        at = self._place.point(button.at)
        rim = arc(at, radius, 0.0, 2 * math.pi)
        self.items.append(Shape((rim,), Stroke(0.2, INK), PAPER, closed=True))
        for side in (-1, 1):
            hole = arc(Point(at.x + side * 0.3 * radius, at.y), 0.12 * radius, 0.0, 2 * math.pi)
            self.items.append(Shape((hole,), None, INK, closed=True))

    def _arrow(self, arrow: Arrow) -> None:
        start, end = self._place.point(arrow.start), self._place.point(arrow.end)
        if start.distance(end) < 1.6:
            middle = start.toward(end, 0.5)
            half = (end - start).unit * 1.6 if start.distance(end) > 1e-6 else Vector(1.6, 0.0)
            start, end = middle - half, middle + half
        along = (end - start).unit
        barbs = [end - along.turned(angle) * 1.1 for angle in (0.5, -0.5)]
        head = polyline([barbs[0], end, barbs[1]])
        self.items.append(Shape((polyline([start, end]), head), Stroke(0.28, THREAD)))

    def _label(self, caption: Caption) -> None:
        at = self._place.point(caption.at)
        width = text_width(caption.text, self._type)
        height = self._type
        box = Bounds(at.x - width / 2, at.y - height / 2, at.x + width / 2, at.y + height / 2)
        for _ in range(6):
            other = next((b for _, b in self._labels if _overlap(b, box)), None)
            if other is None:
                break
            drop = box.top - other.bottom + 0.4
            box = Bounds(box.left, box.bottom - drop, box.right, box.top - drop)
        self._labels.append((caption.text, box))

    def words(self) -> list[Item]:
        """The words, each on a pale ground so that it can be read on hatching."""
        found: list[Item] = []
        for text, box in self._labels:
            pad = 0.5
            corners = (
                Point(box.left - pad, box.bottom),
                Point(box.right + pad, box.bottom),
                Point(box.right + pad, box.top),
                Point(box.left - pad, box.top),
            )
            ground = polyline([*corners, corners[0]])
            found.append(Shape((ground,), None, PAPER, closed=True, opacity=0.78))
            middle = Point((box.left + box.right) / 2, (box.bottom + box.top) / 2)
            found.append(
                Text(
                    text,
                    middle,
                    self._type,
                    INK,
                    anchor=Anchor.CENTER,
                    baseline=Baseline.MIDDLE,
                )
            )
        return found

    def words_bounds(self) -> Bounds | None:
        """What the words cover together."""
        return Bounds.around(box for _, box in self._labels) if self._labels else None


def picture_key(
    pictures: Iterable[Picture],
    *,
    palette: Palette | None = None,
    roles: Sequence[str] = (),
    type_mm: float = TYPE_MM,
) -> Drawing:
    """One line that explains what the pictures use: faces of the cloth and kinds of line."""
    given = list(pictures)
    faces = {face for picture in given for face in picture.faces}
    fused = any(area.fused for picture in given for area in picture.areas)
    used = {i.role for p in given for i in p.items if isinstance(i, Trace)}
    role = roles[0] if roles else next((a.role for p in given for a in p.areas), "")
    painter = _Painter(Transform(), palette or Palette(), list(roles) or [role], type_mm)
    x, texts = 0.0, list[Item]()

    def entry(words: str) -> None:
        nonlocal x
        at = Point(x + 9.5, type_mm / 2)
        texts.append(Text(words, at, type_mm, INK, baseline=Baseline.MIDDLE))
        x += 9.5 + text_width(words, type_mm) + 5.0

    swatches = [(Face.RIGHT, False, "right side"), (Face.WRONG, False, "wrong side")]
    swatches += [(Face.WRONG, True, "interfacing on the wrong side")] if fused else []
    for face, is_fused, words in swatches:
        if face in faces:
            corners = ((x, 0.0), (x + 8.0, 0.0), (x + 8.0, type_mm), (x, type_mm), (x, 0.0))
            path = polyline(Point(*corner) for corner in corners)
            painter.paint(Area(path, face, "", role, is_fused))
            entry(words)
    for line in _KEYED:
        if line in used:
            ends = (Point(x, type_mm / 2), Point(x + 8.0, type_mm / 2))
            painter.paint(Trace(polyline(ends), line))
            entry(line.value)
    return Drawing((Layer("key", (*painter.items, *texts)),), "key")


_KEYED = (
    LineRole.SEWN_NOW,
    LineRole.NEATENED,
    LineRole.BOUND,
    LineRole.MEANT,
    LineRole.SEWN,
    LineRole.FOLD,
    LineRole.MATCHED,
    LineRole.BREAK,
)


def thinned(path: Path, tolerance_mm: float = 0.03) -> Path:
    """The path without points that make no difference on paper."""
    from shapely.geometry import LineString

    points = path.flattened(tolerance_mm)
    line = LineString([(p.x, p.y) for p in points]).simplify(tolerance_mm)
    return polyline(Point(x, y) for x, y in line.coords)


def hatching(path: Path, step_mm: float, angle_rad: float) -> list[Path]:
    """Parallel lines across the box around a path."""
    frame = Bounds.of_points(path.flattened(0.2))
    middle = Point((frame.left + frame.right) / 2, (frame.bottom + frame.top) / 2)
    reach = math.hypot(frame.width, frame.height) / 2 + step_mm
    along = Vector(math.cos(angle_rad), math.sin(angle_rad))
    # lines lie on a grid fixed to the page, so that neighboring areas are hatched in step
    first = math.ceil(((middle - Point(0, 0)).dot(along.left) - reach) / step_mm)
    count = int(2 * reach / step_mm) + 1
    base = (middle - Point(0, 0)).dot(along)
    found = []
    for number in range(first, first + count):
        foot = Point(0, 0) + along.left * (number * step_mm) + along * base
        found.append(polyline([foot - along * reach, foot + along * reach]))
    return found


def zigzag(path: Path, width_mm: float, step_mm: float) -> Path:
    """A zigzag along a path."""
    length = path.length
    count = max(2, round(length / step_mm))
    points = []
    for number in range(count + 1):
        at = length * number / count
        side = path.tangent_at(at).left * (width_mm / 2 * (-1) ** number)
        points.append(path.point_at(at) + side)
    return polyline(points)


def _pale(color: Color) -> Color:
    """Mostly white."""

    def part(value: int) -> int:
        return round(255 - (255 - value) * 0.25)

    return Color(part(color.red), part(color.green), part(color.blue))


def _overlap(one: Bounds, other: Bounds) -> bool:
    return (
        one.left < other.right
        and other.left < one.right
        and one.bottom < other.top
        and other.bottom < one.top
    )
