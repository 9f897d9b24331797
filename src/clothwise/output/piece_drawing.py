"""A piece as it is printed: its lines, marks and grain, with its names and words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import Enum

import shapely

from clothwise.geometry import Line, Path, Point, Vector, polyline
from clothwise.output.drawing import (
    Drawing,
    Group,
    Item,
    Layer,
    Shape,
    Stroke,
)
from clothwise.output.free_space import FreeSpace
from clothwise.output.pens import (
    CENTER,
    CUTTING,
    FINE,
    FOLD,
    INK,
    MARK,
    PLACING,
    STITCHING,
    TURNING,
)
from clothwise.output.piece_lines import DartLines, EdgeKind, NotchMark, PieceLines, piece_lines
from clothwise.output.piece_names import BUTTON_MM, along_path, mark_names, names_of_edges, reach_of
from clothwise.output.piece_words import NO_CAPTION, Caption, fitted, words_of
from clothwise.output.symbols import arrow_head, circle, cross, dot
from clothwise.output.text_block import Sentence
from clothwise.pattern import Mark, MarkKind, Pattern, Piece, SeamCorners

CUTTING_LAYER = "Cutting lines"
STITCHING_LAYER = "Stitching lines"
MARKS_LAYER = "Marks"
WORDS_LAYER = "Words"


class PrintLayer(Enum):
    """What may be left out of a printed piece; its cutting line, grain and title never are."""

    STITCHING = "stitching lines"
    MARKS = "marks"
    WORDS = "words"


ALL_LAYERS = frozenset(PrintLayer)

NOTCH_BASE_MM = 3.0
NOTCH_DEPTH_MM = 4.5
_GRAIN_CLEAR_MM = 2.5  # a grainline keeps this clear of marks, if there is room beside them


def piece_drawing(
    pattern: Pattern,
    piece_name: str,
    caption: Caption = NO_CAPTION,
    *,
    corners: SeamCorners | None = None,
    edge_names: bool = False,
    layers: frozenset[PrintLayer] = ALL_LAYERS,
) -> Drawing:
    """The drawing of a piece at full size, in the coordinates of the piece.

    Layers: cutting lines, stitching lines, marks, words; in each, one group named for the piece.

    Args:
        pattern: that the piece belongs to.
        piece_name: its identifier.
        caption: what to print beside what the piece itself knows.
        corners: of the pattern; pass them when many pieces are drawn.
        edge_names: print the name of each edge along it.
        layers: what is printed beside the cutting line, the grain and the title.
    """
    lines = piece_lines(pattern, piece_name, corners)
    piece = lines.piece
    space = room_in(lines)
    has_marks = PrintLayer.MARKS in layers
    grain = tuple(grain_items(lines, space))
    names = tuple(mark_names(piece.marks, space)) if has_marks else ()
    edges = tuple(names_of_edges(lines, space)) if edge_names else ()
    words = fitted(_words(pattern, piece, caption, layers), space)
    return drawn(
        piece.title,
        cutting=cutting_items(lines),
        stitching=stitching_items(lines) if PrintLayer.STITCHING in layers else (),
        marks=mark_items(lines) if has_marks else (),
        words=(*grain, *names, *edges, *words),
    )


def _words(
    pattern: Pattern, piece: Piece, caption: Caption, layers: frozenset[PrintLayer]
) -> tuple[tuple[Sentence, ...], ...]:
    """The words of a piece; its title and size only, if words are left out."""
    words = words_of(pattern, piece, caption)
    return words if PrintLayer.WORDS in layers else words[-1:]


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
            space.take(shapely.Point(mark.at.x, mark.at.y).buffer(reach_of(mark)))
    return space


def as_line(path: Path) -> shapely.LineString:
    """The path as a shapely line."""
    return shapely.LineString([(point.x, point.y) for point in path.flattened()])


# Grain and fold


def grain_items(lines: PieceLines, space: FreeSpace) -> Iterator[Item]:
    """The grainline; on a fold that runs with the grain, a bracket with turned arrows.

    A half whose grain runs another way cannot lie on a fold: beside its fold edge stands that both
    halves are traced.
    """
    grain = lines.piece.grain
    along = grain.end - grain.start
    if lines.piece.lies_on_fold:
        yield from fold_bracket(lines, space)
        return
    if lines.fold is not None:
        yield from _words_of_halves(lines, space)
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


def _words_of_halves(lines: PieceLines, space: FreeSpace) -> Iterator[Item]:
    """The words beside an edge that is drawn as a fold, but lies on none."""
    first, last, inward, inset = _beside_fold(lines)
    line = Path((Line(first + inward * inset, last + inward * inset),))
    for words in ("trace both halves: this edge lies on no fold", "trace both halves"):
        name = along_path(words, line, space)
        if name:
            yield name
            return


def fold_bracket(lines: PieceLines, space: FreeSpace) -> Iterator[Item]:
    """A line beside the fold with arrows turned to it, and the words that go with it."""
    first, last, inward, inset = _beside_fold(lines)
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


def _beside_fold(lines: PieceLines) -> tuple[Point, Point, Vector, float]:
    """Where on the fold what is told of it begins and ends; which way is in, and how far."""
    assert lines.piece.fold_edge is not None
    edge = lines.piece.edge(lines.piece.fold_edge)
    inward = edge.start_tangent.left  # outlines run anticlockwise
    length = edge.length
    middle = edge.point_at(length / 2)
    inset = min(14.0, max(5.0, _depth_at(lines, middle, inward) * 0.2))
    along = (edge.end - edge.start).unit
    half = max(min(length * 0.36, length / 2 - 8.0), length * 0.25)
    return middle - along * half, middle + along * half, inward, inset


def _depth_at(lines: PieceLines, start: Point, heading: Vector) -> float:
    """How far the piece reaches from a point of its outline."""
    end = start + heading * 2000.0
    ray = shapely.LineString([(start.x, start.y), (end.x, end.y)])
    return float(ray.intersection(lines.piece.outline.polygon).length)
