"""A piece as it is printed: its lines, marks, grain and words.

Words are fitted into the free room of the piece, smaller if they must be, and never across a
line; where there is no room they stand beside the piece, on a leader.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import product

import shapely

from clothwise.geometry import Line, Path, Point, Vector, arc, polyline
from clothwise.output.cut_text import allowance_text, cut_texts, side_texts
from clothwise.output.drawing import (
    Anchor,
    Baseline,
    Drawing,
    Group,
    Item,
    Layer,
    Shape,
    Stroke,
    Text,
    Weight,
)
from clothwise.output.free_space import FreeSpace, text_polygon
from clothwise.output.pens import (
    CENTER,
    CUTTING,
    FINE,
    FOLD,
    GRAPHITE,
    INK,
    MARK,
    PLACING,
    STITCHING,
    TURNING,
)
from clothwise.output.piece_lines import DartLines, EdgeKind, NotchMark, PieceLines, piece_lines
from clothwise.output.text_block import Sentence, set_block
from clothwise.pattern import Mark, MarkKind, Pattern, Piece, SeamCorners
from clothwise.units import LengthUnit

CUTTING_LAYER = "Cutting lines"
STITCHING_LAYER = "Stitching lines"
MARKS_LAYER = "Marks"
WORDS_LAYER = "Words"

NOTCH_BASE_MM = 3.0
NOTCH_DEPTH_MM = 4.5
BUTTON_MM = 12.0
"""Diameter drawn for a button whose size is not given."""

_UPRIGHT, _TURNED = 0.0, math.pi / 2
_SETTINGS = (
    *((scale, _UPRIGHT) for scale in (1.4, 1.2, 1.0, 0.85, 0.72)),
    *((scale, _TURNED) for scale in (1.0, 0.85, 0.72)),
    *((scale, turn) for scale in (0.62, 0.54) for turn in (_UPRIGHT, _TURNED)),
)  # type sizes and turns tried, the best to read first
_LARGE_SHARE = 0.45  # type larger than usual may take so much of the width of a piece
_WRAPS_MM = (math.inf, 75.0, 55.0, 40.0, 30.0)  # widths tried at the usual size
_NAME_SIZES_MM = (3.0, 2.6, 2.2)  # type sizes tried for the names of marks
_LEADER_SIZE_MM = 3.2
_TEXT_SCALES = (1.0, 0.85, 0.7, 0.55, 0.45)  # tried for a text that was asked for, largest first
_GRAIN_CLEAR_MM = 2.5  # a grainline keeps this clear of marks, if there is room beside them


@dataclass(frozen=True)
class Caption:
    """What the words of a piece need to know beside the piece.

    `size` is a size, or a range of them if `is_range`. `number` counts the pieces;
    `fabric_titles` say what the fabric roles are called; `unit` is the reader's.
    """

    design: str = ""
    size: str = ""
    number: str = ""
    unit: LengthUnit = LengthUnit.CENTIMETER
    fabric_titles: Mapping[str, str] = field(default_factory=dict)
    is_range: bool = False


NO_CAPTION = Caption()


def piece_drawing(
    pattern: Pattern,
    piece_name: str,
    caption: Caption = NO_CAPTION,
    *,
    corners: SeamCorners | None = None,
    edge_names: bool = False,
) -> Drawing:
    """The drawing of a piece at full size, in the coordinates of the piece.

    Layers: cutting lines, stitching lines, marks, words; in each, one group named for the piece.

    Args:
        pattern: that the piece belongs to.
        piece_name: its identifier.
        caption: what to print beside what the piece itself knows.
        corners: of the pattern; pass them when many pieces are drawn.
        edge_names: print the name of each edge along it.
    """
    lines = piece_lines(pattern, piece_name, corners)
    piece = lines.piece
    space = room_in(lines)
    grain = tuple(grain_items(lines, space))
    names = tuple(mark_names(piece.marks, space))
    edges = tuple(_edge_names(lines, space)) if edge_names else ()
    words = fitted(words_of(pattern, piece, caption), space)
    return drawn(
        piece.title,
        cutting=cutting_items(lines),
        stitching=stitching_items(lines),
        marks=mark_items(lines),
        words=(*grain, *names, *edges, *words),
    )


def drawn(
    title: str,
    *,
    cutting: Sequence[Item],
    stitching: Sequence[Item],
    marks: Sequence[Item],
    words: Sequence[Item],
) -> Drawing:
    """The four layers of a piece."""
    named = (
        (CUTTING_LAYER, cutting, False),
        (STITCHING_LAYER, stitching, True),
        (MARKS_LAYER, marks, True),
        (WORDS_LAYER, words, True),
    )
    layers = tuple(
        Layer(name, (Group(tuple(items), name=title),) if items else (), switchable)
        for name, items, switchable in named
    )
    return Drawing(layers, title)


def cutting_items(lines: PieceLines, stroke: Stroke = CUTTING) -> tuple[Item, ...]:
    """The cutting line, and the fold where the piece lies on one."""
    solid = Shape((lines.outline.path,), closed=True, solid=True)
    fold = (Shape((lines.fold,), FOLD),) if lines.fold else ()
    is_closed = lines.fold is None
    return (solid, *(Shape((path,), stroke, closed=is_closed) for path in lines.cut), *fold)


def stitching_items(lines: PieceLines) -> tuple[Item, ...]:
    """Seams, dart legs and the edges of hems."""
    sewn = (*lines.edges_of(EdgeKind.SEWN), *(leg for dart in lines.darts for leg in dart.legs))
    turned = lines.edges_of(EdgeKind.TURNED)
    return (
        *(Shape((path,), STITCHING) for path in sewn),
        *(Shape((path,), TURNING) for path in turned),
    )


def mark_items(lines: PieceLines, *, sparing: bool = False) -> tuple[Item, ...]:
    """Notches, middles and points of darts, and the marks on the face of the piece.

    `sparing` leaves out what would run together where many sizes lie on each other.
    """
    items: list[Item] = [_notch(notch) for notch in lines.notches]
    if not sparing:
        for notch in lines.notches:
            if not notch.on_cut.is_close(notch.on_stitching, 0.1):
                items.append(Shape((Path((Line(notch.on_cut, notch.on_stitching),)),), FINE))
    for dart in lines.darts:
        items.extend([dot(dart.apex, 0.7)] if sparing else _dart_items(dart))
    for mark in lines.piece.marks:
        if sparing and mark.kind is MarkKind.BUTTON and mark.at is not None:
            items.append(cross(mark.at, 1.5, FINE))
        else:
            items.extend(_face_mark(mark))
    return tuple(items)


def _notch(mark: NotchMark) -> Shape:
    base, point = mark.on_cut, mark.on_cut + mark.inward * NOTCH_DEPTH_MM
    side = mark.inward.left * (NOTCH_BASE_MM / 2)
    return Shape((polyline([base + side, base - side, point]),), fill=INK, closed=True)


def _dart_items(dart: DartLines) -> Iterator[Item]:
    yield Shape((dart.middle,), FOLD)
    yield circle(dart.apex, 1.5, FINE)
    yield dot(dart.apex, 0.5)


def circle(center: Point, radius_mm: float, stroke: Stroke) -> Shape:
    """A circle."""
    return Shape((arc(center, radius_mm, 0.0, 2 * math.pi),), stroke, closed=True)


def dot(center: Point, radius_mm: float) -> Shape:
    """A filled circle."""
    return Shape((arc(center, radius_mm, 0.0, 2 * math.pi),), fill=INK, closed=True)


def cross(center: Point, reach_mm: float, stroke: Stroke) -> Shape:
    """An upright cross."""
    across, up = Vector(reach_mm, 0.0), Vector(0.0, reach_mm)
    return Shape(
        (
            Path((Line(center - across, center + across),)),
            Path((Line(center - up, center + up),)),
        ),
        stroke,
    )


_LINE_PENS = {
    MarkKind.CENTER_LINE: CENTER,
    MarkKind.FOLD_LINE: FOLD,
    MarkKind.PLACEMENT_LINE: PLACING,
    MarkKind.STITCHING_LINE: STITCHING,
}


def _face_mark(mark: Mark) -> Iterator[Item]:
    """What is drawn for a mark; its name is placed by `mark_names`."""
    if mark.kind is MarkKind.TEXT:
        return
    if mark.path is not None:
        if mark.kind is MarkKind.BUTTONHOLE:
            yield Shape((mark.path, *_end_bars(mark.path)), MARK)
        else:
            yield Shape((mark.path,), _LINE_PENS.get(mark.kind, FINE))
    if mark.at is not None:
        if mark.kind is MarkKind.BUTTON:
            radius = (mark.size_mm or BUTTON_MM) / 2
            yield circle(mark.at, radius, FINE)
            yield cross(mark.at, radius * 0.4, FINE)
        elif mark.kind is MarkKind.EYELET:
            yield circle(mark.at, mark.size_mm / 2, FINE)
            yield cross(mark.at, mark.size_mm / 2 + 1.5, FINE)
        elif mark.kind is MarkKind.DRILL_HOLE:
            yield circle(mark.at, 1.5, FINE)
            yield cross(mark.at, 3.0, FINE)
        else:
            yield dot(mark.at, 1.1)


def _end_bars(path: Path) -> Iterator[Path]:
    for end, along in ((path.start, path.start_tangent), (path.end, path.end_tangent)):
        yield Path((Line(end - along.left * 2.0, end + along.left * 2.0),))


def room_in(lines: PieceLines) -> FreeSpace:
    """Where words may stand: inside the stitching line, clear of everything drawn there."""
    inside = lines.piece.outline.polygon
    # A bound edge has no allowance; there the cutting line is the border, so keep a little off.
    space = FreeSpace(inside.buffer(-0.6))
    for dart in lines.darts:
        for path in (*dart.legs, dart.middle):
            space.take(as_line(path))
        space.take(shapely.Point(dart.apex.x, dart.apex.y).buffer(2.0))
    for notch in lines.notches:
        point = notch.on_cut + notch.inward * NOTCH_DEPTH_MM
        space.take(shapely.Point(point.x, point.y))
    for mark in lines.piece.marks:
        if mark.path is not None and mark.kind is not MarkKind.TEXT:
            line = as_line(mark.path)
            space.take(line.buffer(2.0) if mark.kind is MarkKind.BUTTONHOLE else line)
        if mark.at is not None:
            space.take(shapely.Point(mark.at.x, mark.at.y).buffer(_reach(mark)))
    return space


def _reach(mark: Mark) -> float:
    """How far what is drawn for a point goes beyond it."""
    if mark.kind is MarkKind.BUTTON:
        return (mark.size_mm or BUTTON_MM) / 2
    if mark.kind is MarkKind.EYELET:
        return mark.size_mm / 2 + 1.5
    return 3.0 if mark.kind is MarkKind.DRILL_HOLE else 2.0


def as_line(path: Path) -> shapely.LineString:
    """The path as a shapely line."""
    return shapely.LineString([(point.x, point.y) for point in path.flattened()])


# Grain and fold


def grain_items(lines: PieceLines, space: FreeSpace) -> Iterator[Item]:
    """The grainline; on a fold that runs with the grain, a bracket with turned arrows."""
    grain = lines.piece.grain
    along = grain.end - grain.start
    if lines.fold is not None:
        fold = lines.fold.end - lines.fold.start
        yield from fold_bracket(lines, space)
        if abs(fold.unit.cross(along.unit)) < 1e-3:
            return
    path = _clear_of_marks(Path((Line(grain.start, grain.end),)), space)
    space.take(as_line(path).buffer(1.2))
    yield Shape((path,), MARK)
    yield arrow_head(path.end, along)
    yield arrow_head(path.start, -along)
    name = along_path("straight grain", path, space)
    if name:
        yield name


def _clear_of_marks(grain: Path, space: FreeSpace) -> Path:
    """The grainline, moved aside if a button or a placement line lies in its way and it can be."""
    aside = grain.start_tangent.left
    steps = [0.0, *(sign * step for step in range(5, 80, 5) for sign in (1.0, -1.0))]
    for step in steps:
        shift = aside * step
        line = polyline([grain.start + shift, grain.end + shift])
        strip = as_line(line).buffer(_GRAIN_CLEAR_MM)
        if space.area.contains(strip) and not any(strip.intersects(it) for it in space.taken):
            return line
    return grain


def fold_bracket(lines: PieceLines, space: FreeSpace) -> Iterator[Item]:
    """A line beside the fold with arrows turned to it, and the words that go with it."""
    assert lines.fold is not None
    assert lines.piece.fold_edge is not None
    edge = lines.piece.edge(lines.piece.fold_edge)
    inward = edge.start_tangent.left  # outlines run anticlockwise
    length = edge.length
    middle = edge.point_at(length / 2)
    width = _depth_at(lines, middle, inward)
    inset = min(14.0, max(5.0, width * 0.2))
    along = (edge.end - edge.start).unit
    half = max(min(length * 0.36, length / 2 - 8.0), length * 0.25)
    first, last = middle - along * half, middle + along * half
    corners = [first, first + inward * inset, last + inward * inset, last]
    bracket = polyline(corners)
    space.take(as_line(bracket).buffer(1.2))
    yield Shape((bracket,), MARK)
    yield arrow_head(first, -inward)
    yield arrow_head(last, -inward)
    bar = Path((Line(corners[1], corners[2]),))
    for words in ("place on the fold, straight grain", "place on the fold", "on fold", "fold"):
        name = along_path(words, bar, space)
        if name:
            yield name
            return


def _depth_at(lines: PieceLines, start: Point, heading: Vector) -> float:
    """How far the piece reaches from a point of its outline."""
    end = start + heading * 2000.0
    ray = shapely.LineString([(start.x, start.y), (end.x, end.y)])
    return float(ray.intersection(lines.piece.outline.polygon).length)


def arrow_head(tip: Point, heading: Vector, length_mm: float = 4.5) -> Shape:
    """A slim filled arrow head that ends at its tip."""
    unit = heading.unit
    back, side = tip - unit * length_mm, unit.left * (length_mm * 0.22)
    return Shape((polyline([tip, back + side, back - side]),), fill=INK, closed=True)


# Words


def mark_names(marks: Sequence[Mark], space: FreeSpace) -> Iterator[Item]:
    """The names of lines on the face of a piece, and of one mark of each kind of point."""
    named: set[tuple[str, str]] = set()
    written = [mark for mark in marks if mark.kind is MarkKind.TEXT]
    yield from (text for mark in written if (text := _written(mark, space)))
    marks = [mark for mark in marks if mark.kind is not MarkKind.TEXT]
    for mark in marks:
        key = (mark.name, mark.only_side)
        if mark.path is None or mark.kind is MarkKind.BUTTONHOLE or key in named:
            continue
        text = along_path(_with_side(mark), mark.path, space)
        if text:
            named.add(key)
            yield text
    for mark in marks:
        key = (mark.name, mark.only_side)
        is_drawn = mark.at is not None or mark.path is not None
        if not is_drawn or key in named or (mark.name, "") in named:
            continue
        text = _beside(_with_side(mark), space, mark)
        if text:
            named.add(key)
            yield text


def _with_side(mark: Mark) -> str:
    return f"{mark.name} ({mark.only_side})" if mark.only_side else mark.name


def along_path(words: str, path: Path, space: FreeSpace) -> Text | None:
    """Words along a line, on the side and at the place where there is room; or None."""
    length = path.length
    for size in _NAME_SIZES_MM:
        for fraction in (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9):
            point, tangent = path.point_at(length * fraction), path.tangent_at(length * fraction)
            if tangent.x < -1e-6 or (abs(tangent.x) <= 1e-6 and tangent.y < 0):
                tangent = -tangent
            for side in (1.0, -1.0):
                away = tangent.left * (side * (size * 0.5 + 1.6))
                text = Text(
                    words,
                    point + away,
                    size,
                    INK,
                    tangent.angle,
                    Anchor.CENTER,
                    Baseline.MIDDLE,
                    Weight.ITALIC,
                )
                if space.has_room_for(text, 0.3):
                    space.take(text_polygon(text))
                    return text
    return None


def _written(mark: Mark, space: FreeSpace) -> Text | None:
    """A text where it is asked for, smaller if it must be; near there if there is no room.

    It is never left out: at worst it stands small over other lines.
    """
    if mark.path is None or mark.middle is None:
        return None
    along = mark.path.start_tangent
    if along.x < -1e-6 or (abs(along.x) <= 1e-6 and along.y < 0):
        along = -along
    words = _with_side(mark)
    sizes = [
        Text(
            words,
            mark.middle,
            mark.size_mm * scale,
            INK,
            along.angle,
            Anchor.CENTER,
            Baseline.MIDDLE,
        )
        for scale in _TEXT_SCALES
    ]
    for text in sizes:
        if space.has_room_for(text, 0.3):
            space.take(text_polygon(text))
            return text
    point = replace(mark, at=mark.middle, path=None)
    return _beside(words, space, point) or sizes[-1]


def _beside(words: str, space: FreeSpace, mark: Mark) -> Text | None:
    """Words to the right or left of, above or below a point or a short line."""
    left, bottom, right, top = _box_of(mark)
    x, y = (left + right) / 2, (bottom + top) / 2
    for size, further in product(_NAME_SIZES_MM, (1.5, 6.0, 12.0, 18.0)):
        for spot, anchor in (
            (Point(right + further, y), Anchor.LEFT),
            (Point(left - further, y), Anchor.RIGHT),
            (Point(x, top + further + size / 2), Anchor.CENTER),
            (Point(x, bottom - further - size / 2), Anchor.CENTER),
        ):
            text = Text(words, spot, size, INK, 0.0, anchor, Baseline.MIDDLE, Weight.ITALIC)
            if space.has_room_for(text, 0.3):
                space.take(text_polygon(text))
                return text
    return None


def _box_of(mark: Mark) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of what is drawn for a point or a line."""
    reach = _reach(mark)
    spots = [mark.at] if mark.at else mark.path.flattened() if mark.path else []
    xs, ys = [spot.x for spot in spots], [spot.y for spot in spots]
    return min(xs) - reach, min(ys) - reach, max(xs) + reach, max(ys) + reach


def _edge_names(lines: PieceLines, space: FreeSpace) -> Iterator[Item]:
    """The name of each edge along it, inside, in gray."""
    for name, kind, path in lines.edges:
        if kind is EdgeKind.DART_LEG or path.length < 20.0:
            continue
        words = name.replace("-", " ").replace("_", " ")
        text = along_path(words, path, space)
        if text:
            yield replace(text, color=GRAPHITE)


def words_of(pattern: Pattern, piece: Piece, caption: Caption) -> tuple[tuple[Sentence, ...], ...]:
    """The words of a piece: all of them, then ever fewer for pieces without room."""
    number = f"{caption.number} " if caption.number else ""
    title = Sentence(number + piece.title, 6.6, Weight.BOLD)
    size_word = "Sizes" if caption.is_range else "Size"
    size = Sentence(f"{size_word} {caption.size}", 5.0, lead_mm=0.4) if caption.size else None
    cut = tuple(
        Sentence(text, 3.8, lead_mm=1.2 if not place else 0.2)
        for place, text in enumerate(cut_texts(piece, caption.fabric_titles))
    )
    allowance = allowance_text(pattern, piece, caption.unit)
    details = [text for text in (allowance, *side_texts(piece)) if text]
    notes = tuple(
        Sentence(text, 3.2, Weight.ITALIC, lead_mm=1.0 if not place else 0.2)
        for place, text in enumerate(details)
    )
    design = (Sentence(caption.design, 3.2, lead_mm=1.2),) if caption.design else ()
    head = (title, size) if size else (title,)
    return ((*head, *cut, *notes, *design), (*head, *cut), head)


def fitted(
    choices: Sequence[Sequence[Sentence]], space: FreeSpace, wanted: Point | None = None
) -> tuple[Item, ...]:
    """The words in the largest type for which there is room; outside, on a leader, if for none.

    Args:
        choices: the same words in ever fewer sentences.
        space: where they may stand; they are taken from it.
        wanted: where they would stand best; by default the middle of the area.
    """
    middle = space.area.centroid
    aim = wanted or Point(middle.x, middle.y)
    for sentences in choices:
        for scale, turn in _SETTINGS:
            spot = _fit(sentences, scale, turn, space, aim)
            if spot:
                return spot
    return _on_leader(choices[-1], space)


def _fit(
    sentences: Sequence[Sentence], scale: float, turn: float, space: FreeSpace, aim: Point
) -> tuple[Item, ...]:
    left, _, right, _ = space.area.bounds
    widest = (right - left) * (_LARGE_SHARE if scale > 1.0 else 1.0)
    tried: set[tuple[float, float]] = set()
    for wrap_mm in _WRAPS_MM:
        block = set_block(sentences, wrap_mm=wrap_mm * scale, scale=scale)
        key = (block.width_mm, block.height_mm)
        width, height = key if turn == _UPRIGHT else (key[1], key[0])
        if key in tried or width > widest:
            continue
        tried.add(key)
        middle = space.place(width, height, aim)
        if middle:
            texts = block.at(middle, turn)
            for text in texts:
                space.take(text_polygon(text))
            return texts
    return ()


def _on_leader(sentences: Sequence[Sentence], space: FreeSpace) -> tuple[Item, ...]:
    """The words beside the piece, with a line to its middle."""
    scale = _LEADER_SIZE_MM / sentences[0].size_mm
    block = set_block(sentences, scale=scale)
    right = 0.0 if space.area.is_empty else space.area.bounds[2]
    start = _leader_start(space, right)
    middle = Point(right + 30.0 + block.width_mm / 2, start.y)
    end = Point(right + 29.0, start.y)
    leader = Path((Line(start, end),))
    return (Shape((leader,), FINE), dot(start, 0.7), *block.at(middle))


def _leader_start(space: FreeSpace, right: float) -> Point:
    """A place inside from which a level line leads out without crossing what is drawn, if any."""
    if space.area.is_empty:
        return Point(0.0, 0.0)
    inside = space.area.representative_point()
    left, bottom, _, top = space.area.bounds
    grid = product((0.5, 0.6, 0.7, 0.8, 0.9, 0.95), (0.5, 0.35, 0.65, 0.2, 0.8))
    tried = [Point(left + x * (right - left), bottom + y * (top - bottom)) for x, y in grid]
    for spot in (Point(inside.x, inside.y), *tried):
        line = shapely.LineString([(spot.x, spot.y), (right, spot.y)]).buffer(0.5)
        is_free = not any(line.intersects(other) for other in space.taken)
        if is_free and space.area.contains(shapely.Point(spot.x, spot.y)):
            return spot
    return Point(inside.x, inside.y)
