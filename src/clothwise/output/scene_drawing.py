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
)
from clothwise.output.fonts import text_width
from clothwise.output.picture_labels import Labels
from clothwise.work.picture import (
    Area,
    Arrow,
    Button,
    Caption,
    Face,
    LineRole,
    Picture,
    Trace,
    moved_item,
)

INK = Color.parse("#3a3733")
THREAD = Color.parse("#b3402a")
PAPER = Color.parse("#ffffff")
CLOTHS = tuple(Color.parse(text) for text in ("#cddbe0", "#ecd9bd", "#d8d5e6", "#d5e0c8"))
"""Tints of the right side, by fabric role in order of appearance."""

HATCH_MM = 1.7
"""Distance of the lines that mark the wrong side, on paper."""

MARGIN_MM = 1.2
"""Room around a picture for pens."""

TYPE_MM = 2.9
"""Type size of the words in a picture."""

_PENS: Mapping[LineRole, Stroke] = {
    LineRole.SEWN_NOW: Stroke(0.65, THREAD, (1.9, 0.8), Cap.BUTT),
    LineRole.GATHERING: Stroke(0.35, THREAD, (1.5, 0.6), Cap.BUTT),
    LineRole.FREE_END: Stroke(0.25, THREAD, (), Cap.ROUND),
    LineRole.GATHERS: Stroke(0.22, INK, (), Cap.ROUND),
    LineRole.MEANT: Stroke(0.9, THREAD, (), Cap.ROUND),
    LineRole.SEWN: Stroke(0.16, INK, (1.0, 0.7)),
    LineRole.TOPSTITCHING: Stroke(0.16, INK, (0.9, 0.6)),
    LineRole.NEATENED: Stroke(0.4, THREAD, (), Cap.ROUND),
    LineRole.BOUND: Stroke(1.3, THREAD, (), Cap.BUTT),
    LineRole.FOLD: Stroke(0.18, INK, (3.0, 0.8, 0.6, 0.8)),
    LineRole.EDGE: Stroke(0.2, INK),
    LineRole.DRAPE: Stroke(0.12, INK, (), Cap.ROUND),
    LineRole.MARK: Stroke(0.2, INK, (0.5, 0.7), Cap.ROUND),
    LineRole.BUTTONHOLE: Stroke(0.45, THREAD),
    LineRole.NOTCH: Stroke(0.3, INK),
    LineRole.MATCHED: Stroke(0.16, THREAD, (0.3, 0.9), Cap.ROUND),
    LineRole.BREAK: Stroke(0.14, INK),
    LineRole.TEETH: Stroke(1.1, INK, (0.45, 0.3), Cap.BUTT),
    LineRole.TAPE: Stroke(0.2, INK, (0.9, 0.5), Cap.BUTT),
    LineRole.SILHOUETTE: Stroke(0.42, INK, (), Cap.ROUND),
}
_NOW = frozenset(
    {
        LineRole.SEWN_NOW,
        LineRole.GATHERING,
        LineRole.MEANT,
        LineRole.NEATENED,
        LineRole.BOUND,
        LineRole.BUTTONHOLE,
        LineRole.MATCHED,
        LineRole.TEETH,
    }
)
"""What a picture is about: no name covers it."""
_OUTLINE = Stroke(0.26, INK, (), Cap.ROUND)
_HATCH = Stroke(0.09, Color.parse("#8f8a82"))
_ZIGZAG_MM, _WAVE_MM = 0.9, 1.1


@dataclass(frozen=True)
class Palette:
    """Colors of the right side by fabric role; roles not named get a tint in turn.

    `copies` gives copies of pieces colors of their own, by the names of piece and copy; where a
    picture does not tell copies apart, the first copy of the piece counts.
    """

    cloths: Mapping[str, Color] = field(default_factory=dict)
    copies: Mapping[tuple[str, str], Color] = field(default_factory=dict)

    @staticmethod
    def of_fabrics(
        assigned: Mapping[tuple[str, str], str], colors: Mapping[str, Color] | None = None
    ) -> Palette:
        """Colors by the fabric that each copy of a piece is cut from.

        Fabrics without a color get a tint in order of their first appearance.
        """
        fabrics = list(dict.fromkeys(assigned.values()))
        tints = {name: CLOTHS[number % len(CLOTHS)] for number, name in enumerate(fabrics)}
        tints |= colors or {}
        return Palette(copies={copy: tints[fabric] for copy, fabric in assigned.items()})

    def of(self, role: str, roles: Sequence[str], area: Area | None = None) -> Color:
        """The color of a role, `roles` being all that appear."""
        if area and (area.piece, area.copy) in self.copies:
            return self.copies[area.piece, area.copy]
        same = [color for (piece, _), color in self.copies.items() if area and piece == area.piece]
        if same:
            return same[0]
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
    factor: float | None = None,
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
        factor: the scale to draw at, in place of the largest; see `common_factor`.
    """
    points = picture.points()
    if not points:
        return Drawing((Layer("picture", ()),), picture.title)
    frame = Bounds.of_points(points)
    scale = factor if factor is not None else common_factor([picture], width_mm, height_mm)
    place = Transform.shift(-frame.left, -frame.bottom).then(Transform.scale(scale))
    place = place.then(Transform.shift(MARGIN_MM, MARGIN_MM))
    known = dict.fromkeys([*roles, *(area.role for area in picture.areas)])
    room = Bounds(0.0, 0.0, width_mm, height_mm)
    painter = _Painter(place, palette or Palette(), list(known), type_mm, room)
    for item in picture.items:
        if captions or not isinstance(item, Caption):
            painter.paint(item)
    return Drawing((Layer("picture", (*painter.items, *painter.words())),), picture.title)


def common_factor(pictures: Iterable[Picture], width_mm: float, height_mm: float) -> float:
    """The largest scale at which each of some pictures fits into this room.

    Use it to draw the front and the back of a garment equally large.
    """
    factors = []
    for picture in pictures:
        frame = Bounds.of_points(picture.points())
        factors.append((width_mm - 2 * MARGIN_MM) / max(frame.width, 1e-6))
        factors.append((height_mm - 2 * MARGIN_MM) / max(frame.height, 1e-6))
    return min(factors)


class _Painter:
    """Turns items of a picture into shapes on paper."""

    def __init__(
        self,
        place: Transform,
        palette: Palette,
        roles: Sequence[str],
        type_mm: float,
        room: Bounds,
    ) -> None:
        self._place, self._palette, self._roles = place, palette, roles
        self.items: list[Item] = []
        self._labels = Labels(room, type_mm, INK, PAPER)

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
            self._labels.add(item, self._place)

    def words(self) -> Iterable[Item]:
        """The names, above all else."""
        return self._labels.items()

    def _area(self, area: Area) -> None:
        path = thinned(area.path.transformed(self._place))
        self._labels.lie_on(path)
        cloth = self._palette.of(area.role, self._roles, area)
        if area.inside:
            cloth = _darker(cloth)
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
        if trace.role in _NOW:
            self._labels.keep_off(path)
        pen = _PENS[trace.role]
        if trace.role is LineRole.NEATENED:
            path = zigzag(path, _ZIGZAG_MM, 1.1)
        elif trace.role is LineRole.BREAK:
            path = zigzag(path, _WAVE_MM, 2.6)
            self.items.append(Shape((path,), Stroke(1.5, PAPER, (), Cap.BUTT)))
        self.items.append(Shape((path,), pen))

    def _button(self, button: Button) -> None:
        scale = math.hypot(self._place.a, self._place.b)
        radius = max(button.size_mm * scale / 2, 0.7)
        at = self._place.point(button.at)
        rim = arc(at, radius, 0.0, 2 * math.pi)
        self._labels.keep_off(rim)
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
        self._labels.keep_off(polyline([start, end]))
        self.items.append(Shape((polyline([start, end]), head), Stroke(0.28, THREAD)))


def picture_key(
    pictures: Iterable[Picture],
    *,
    palette: Palette | None = None,
    roles: Sequence[str] = (),
    type_mm: float = TYPE_MM,
    width_mm: float = 170.0,
) -> Drawing:
    """What explains the pictures: the faces of the cloth and the kinds of line they use.

    The entries run in lines no wider than `width_mm`, the last line on y = 0.
    """
    given = list(pictures)
    faces = {face for picture in given for face in picture.faces}
    fused = any(area.fused for picture in given for area in picture.areas)
    used = {i.role for p in given for i in p.items if isinstance(i, Trace)}
    role = roles[0] if roles else next((a.role for p in given for a in p.areas), "")
    painter = _Painter(Transform(), palette or Palette(), list(roles) or [role], type_mm, _ENDLESS)
    swatches = [(Face.RIGHT, False, "right side"), (Face.WRONG, False, "wrong side")]
    swatches += [(Face.WRONG, True, "interfacing on the wrong side")] if fused else []
    entries: list[tuple[str, Area | Trace]] = [
        (words, Area(_swatch(type_mm), face, "", role, is_fused))
        for face, is_fused, words in swatches
        if face in faces
    ]
    level = polyline([Point(0.0, type_mm / 2), Point(_SWATCH_MM, type_mm / 2)])
    entries += [(line.value, Trace(level, line)) for line in _KEYED if line in used]
    places = _in_lines([text_width(words, type_mm) for words, _ in entries], type_mm, width_mm)
    texts: list[Item] = []
    for (words, sample), at in zip(entries, places, strict=True):
        move = Transform.shift(at.x, at.y)
        painter.paint(moved_item(sample, move))
        beside = at + Vector(_SWATCH_MM + 1.5, type_mm / 2)
        texts.append(Text(words, beside, type_mm, INK, baseline=Baseline.MIDDLE))
    return Drawing((Layer("key", (*painter.items, *texts)),), "key")


def _swatch(height_mm: float) -> Path:
    corners = ((0.0, 0.0), (_SWATCH_MM, 0.0), (_SWATCH_MM, height_mm), (0.0, height_mm))
    return polyline(Point(*corner) for corner in (*corners, corners[0]))


def _in_lines(widths: Sequence[float], type_mm: float, width_mm: float) -> list[Point]:
    """Where entries begin that are set in lines."""
    lines, x = 0, 0.0
    places: list[tuple[float, int]] = []
    for width in widths:
        whole = _SWATCH_MM + 1.5 + width
        if x > 0 and x + whole > width_mm:
            lines, x = lines + 1, 0.0
        places.append((x, lines))
        x += whole + 5.0
    return [Point(x, (lines - line) * 1.9 * type_mm) for x, line in places]


_SWATCH_MM = 8.0
_ENDLESS = Bounds(-math.inf, -math.inf, math.inf, math.inf)
_KEYED = (
    LineRole.SEWN_NOW,
    LineRole.GATHERING,
    LineRole.GATHERS,
    LineRole.NEATENED,
    LineRole.BOUND,
    LineRole.MEANT,
    LineRole.SEWN,
    LineRole.FOLD,
    LineRole.MATCHED,
    LineRole.BREAK,
    LineRole.TEETH,
    LineRole.TAPE,
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


def _darker(color: Color) -> Color:
    """In shadow."""
    return Color(*(round(part * 0.86) for part in (color.red, color.green, color.blue)))


def _pale(color: Color) -> Color:
    """Mostly white."""

    def part(value: int) -> int:
        return round(255 - (255 - value) * 0.25)

    return Color(part(color.red), part(color.green), part(color.blue))
