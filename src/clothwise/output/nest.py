"""All sizes of a piece drawn into each other, each with its own line and its own layer."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain, product

import shapely

from clothwise.geometry import Line, Path, Point, Vector, polyline
from clothwise.output.bounds import text_corners
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
from clothwise.output.fonts import text_width
from clothwise.output.free_space import FreeSpace, text_polygon
from clothwise.output.nest_notches import ORDER_NOTE, notch_sizes
from clothwise.output.pens import INK, PAPER, PLACING, STITCHING, size_style
from clothwise.output.piece_drawing import (
    WORDS_LAYER,
    PrintLayer,
    as_line,
    grain_items,
    mark_items,
    room_in,
)
from clothwise.output.piece_lines import EdgeKind, PieceLines, piece_lines
from clothwise.output.piece_names import mark_names
from clothwise.output.piece_words import NO_CAPTION, Caption, fitted, words_of
from clothwise.output.text_block import Sentence
from clothwise.pattern import Pattern, SeamCorners

NESTED_LAYERS = frozenset((PrintLayer.MARKS, PrintLayer.WORDS))
"""Without stitching lines: ten sizes of them, one on the other, are hard to read."""

_LABEL_MM = 2.6
_LABELED_EDGES = 2  # on so many edges each size is written on its line, however short they are
_LONG_MM = 250.0  # from here on every edge bears them: it may be alone on a page
_LEAST_APART_MM = 2.0  # where neighboring sizes lie closer, only one edge is labeled
_SHORTEST_LABELED_MM = 40.0
_LABEL_EVERY_MM = 250.0  # about one of each size on a page of a home printer
_NOTE_MM = 3.0
_FURTHER = 0.11  # of an edge: so far apart are the other places where a size may be written


@dataclass(frozen=True)
class _Size:
    name: str
    number: int
    lines: PieceLines

    @property
    def stroke(self) -> Stroke:
        return size_style(self.number).stroke


def size_layer(size: str) -> str:
    """The name of a size's layer."""
    return f"Size {size}"


def nested(
    patterns: Mapping[str, Pattern],
    piece_name: str,
    caption: Caption = NO_CAPTION,
    *,
    corners: Mapping[str, SeamCorners] | None = None,
    layers: frozenset[PrintLayer] = NESTED_LAYERS,
) -> Drawing:
    """All sizes of a piece in one drawing, in the coordinates they are drafted in.

    A size whose pattern has no such piece is passed over. Words, grain and the bracket at the
    fold stand once, where every size has room for them.

    Args:
        patterns: by size, from the smallest.
        piece_name: the piece.
        caption: what to print; its size is replaced by the range, unless it is one already.
        corners: of the patterns, to save work.
        layers: what is drawn beside the cutting lines, the grain and the title.
    """
    known = corners or {}
    sizes = [
        _Size(size, number, piece_lines(pattern, piece_name, known.get(size)))
        for number, (size, pattern) in enumerate(patterns.items())
        if piece_name in pattern.pieces
    ]
    base = sizes[len(sizes) // 2]
    title = base.lines.piece.title
    labels = _labels(sizes)
    of_notches, lacks_room = (
        _notch_names(sizes, labels) if PrintLayer.MARKS in layers else ({}, False)
    )
    names_of = {size: (*some, *of_notches.get(size, ())) for size, some in labels.items()}
    of_sizes = [
        Layer(
            size_layer(size.name),
            (Group((*_size_items(size, layers), *names_of[size.name]), name=title),),
            switchable=True,
        )
        for size in sizes
    ]
    space = _common_room(sizes)
    for label in chain.from_iterable(names_of.values()):
        for text in label.items:
            if isinstance(text, Text):
                space.take(text_polygon(text))
    names = [size.name for size in sizes]
    said = caption.size if caption.is_range else _range(names)
    named = replace(caption, size=said, is_range=len(names) > 1)
    words: list[Item] = list(grain_items(base.lines, space))
    if PrintLayer.MARKS in layers:
        words.extend(mark_names(base.lines.piece.marks, space))
    sentences = words_of(patterns[base.name], base.lines.piece, named)
    if PrintLayer.WORDS not in layers:
        sentences = sentences[-1:]
    if lacks_room:
        sentences = tuple((*each, Sentence(ORDER_NOTE, _NOTE_MM)) for each in sentences)
    words.extend(fitted(sentences, space))
    return Drawing((*of_sizes, Layer(WORDS_LAYER, (Group(tuple(words), name=title),))), title)


def _range(sizes: Sequence[str]) -> str:
    return sizes[0] if len(sizes) == 1 else f"{sizes[0]} to {sizes[-1]}"


def _size_items(size: _Size, layers: frozenset[PrintLayer]) -> Iterator[Item]:
    lines = size.lines
    yield Shape((lines.outline.path,), closed=True, solid=True)
    for path in lines.cut:
        yield Shape((path,), size.stroke, closed=lines.fold is None)
    if lines.fold:
        yield Shape((lines.fold,), size.stroke)
    for dart in lines.darts:
        yield Shape(dart.legs, replace(size.stroke, width_mm=0.25))
    if PrintLayer.STITCHING in layers:
        sewn = (*lines.edges_of(EdgeKind.SEWN), *lines.edges_of(EdgeKind.TURNED))
        yield Shape(sewn, replace(STITCHING, width_mm=0.2, color=size.stroke.color))
    for item in mark_items(lines, sparing=True) if PrintLayer.MARKS in layers else ():
        # Where a pocket goes differs by size, and is told by the line of the size.
        if isinstance(item, Shape) and item.stroke == PLACING:
            item = replace(item, stroke=replace(size.stroke, width_mm=0.25))
        yield item


def _common_room(sizes: Sequence[_Size]) -> FreeSpace:
    rooms = [room_in(size.lines) for size in sizes]
    area = shapely.intersection_all([room.area for room in rooms])
    if area.geom_type != "Polygon":
        parts = [part for part in getattr(area, "geoms", ()) if part.geom_type == "Polygon"]
        area = max(parts, key=lambda part: part.area, default=rooms[0].area)
    taken = [geometry for room in rooms for geometry in room.taken]
    # Where sizes shift so far that one's line runs inside another, words keep off it too.
    taken.extend(size.lines.piece.outline.polygon.exterior for size in sizes)
    return FreeSpace(area, taken)


def _notch_names(
    sizes: Sequence[_Size], labels: Mapping[str, Sequence[Group]]
) -> tuple[dict[str, tuple[Group, ...]], bool]:
    if len(sizes) < 2:
        return {}, False
    written = [
        text_polygon(item)
        for label in chain.from_iterable(labels.values())
        for item in label.items
        if isinstance(item, Text)
    ]
    return notch_sizes(
        {size.name: size.lines.notches for size in sizes},
        {size.name: next(_lines_of(size)) for size in sizes},
        {size.name: size.stroke.color for size in sizes},
        written,
    )


def _labels(sizes: Sequence[_Size]) -> dict[str, tuple[Group, ...]]:
    """The name of each size on its own cutting line, where the lines lie furthest apart.

    A name keeps off the lines of other sizes if it can: a line through a figure turns 3 into 8.
    """
    labels: dict[str, list[Group]] = {size.name: [] for size in sizes}
    if len(sizes) < 2:
        return {size.name: () for size in sizes}
    drawn = [line for size in sizes for line in _lines_of(size)]
    owners = [size.number for size in sizes for _ in _lines_of(size)]
    tree = shapely.STRtree(drawn)
    rings = [next(_lines_of(size)) for size in sizes]
    edges = [(edge, sizes[-1].lines.piece.edge(edge).length) for edge in _spread_edges(sizes)]
    long_ones = [each for each in edges[_LABELED_EDGES:] if each[1] >= _LONG_MM]
    for edge, length in (*edges[:_LABELED_EDGES], *long_ones):
        rounds = max(1, round(length / _LABEL_EVERY_MM))
        for turn, (place, size) in product(range(rounds), enumerate(sizes)):
            share = 0.15 + 0.7 * (turn + (place + 0.5) / len(sizes)) / rounds
            others = [n for n, owner in enumerate(owners) if owner != size.number]
            found = _placed_label(size, rings[place], edge, share, tree, frozenset(others))
            labels[size.name].append(found)
    return {name: tuple(items) for name, items in labels.items()}


def _placed_label(
    size: _Size,
    ring: shapely.Geometry,
    edge: str,
    share: float,
    tree: shapely.STRtree,
    others: frozenset[int],
) -> Group:
    """The name of a size near a share of an edge, and where else on it the name may stand.

    Clear of the numbered lines, if it can be.
    """

    def free(shares: Sequence[float]) -> list[tuple[Shape, Text]]:
        found = _labels_at(size, ring, edge, shares)
        boxes = shapely.polygons([[(p.x, p.y) for p in text_corners(each)] for _, each in found])
        crossed = [set[int]() for _ in found]
        for number, other in tree.query(boxes, predicate="intersects").T.tolist():
            crossed[number].add(other)
        return [each for each, met in zip(found, crossed, strict=True) if others.isdisjoint(met)]

    nearby = _shares_near(share)
    first = next((each for one in nearby for each in free([one])), None)
    first = first or _labels_at(size, ring, edge, [share])[0]
    return Group(first, instead=tuple(free(_shares_near(share, _FURTHER)[1:])))


def _shares_near(share: float, step: float = 0.04) -> list[float]:
    """Shares of an edge to try, the wanted one first, then ever further away up to 0.44."""
    count = int(0.44 / step + 1e-9)
    steps = [0.0, *(sign * step * number for number in range(1, count + 1) for sign in (1, -1))]
    return [share + each for each in steps if 0.05 <= share + each <= 0.95]


def _lines_of(size: _Size) -> Iterator[shapely.Geometry]:
    """What a size draws through the room of the others: its cutting line and its darts."""
    yield shapely.LinearRing([(p.x, p.y) for p in size.lines.outline.points()])
    for dart in size.lines.darts:
        for leg in dart.legs:
            yield as_line(leg)


def _spread_edges(sizes: Sequence[_Size]) -> list[str]:
    """Edges that all sizes have, those first whose cutting lines lie furthest apart."""
    first, last = sizes[0].lines, sizes[-1].lines
    table: list[tuple[float, str]] = []
    ends = {name: path for name, _, path in last.edges}
    for name, kind, path in first.edges:
        everywhere = all(any(name == n for n, _, _ in size.lines.edges) for size in sizes)
        if kind in (EdgeKind.DART_LEG, EdgeKind.FOLD) or not everywhere:
            continue
        if path.length < _SHORTEST_LABELED_MM:
            continue
        middle, other = path.point_at(path.length / 2), ends[name].point_at(ends[name].length / 2)
        apart = abs((other - middle).dot(path.tangent_at(path.length / 2).left))
        table.append((-apart / (len(sizes) - 1), name))
    table.sort()
    return [name for n, (apart, name) in enumerate(table) if not n or -apart >= _LEAST_APART_MM]


def _labels_at(
    size: _Size, ring: shapely.Geometry, edge: str, shares: Sequence[float]
) -> list[tuple[Shape, Text]]:
    """The name of a size on its cutting line, on a slip of paper, at shares of an edge."""
    path = size.lines.piece.edge(edge)
    color, wide = size.stroke.color, text_width(size.name, _LABEL_MM, Weight.BOLD)
    half, high = wide / 2 + 0.6, _LABEL_MM * 0.42
    places = [path.length * share for share in shares]
    spots = [(path.point_at(each), path.tangent_at(each)) for each in places]
    found = []
    for on_cut, (_, along) in zip(_outward(ring, spots), spots, strict=True):
        if along.x < -1e-9 or (abs(along.x) <= 1e-9 and along.y < 0):
            along = -along
        right, up = along * half, along.left * high
        corners = [
            on_cut - right - up,
            on_cut + right - up,
            on_cut + right + up,
            on_cut - right + up,
        ]
        name = Text(
            size.name,
            on_cut,
            _LABEL_MM,
            color,
            along.angle,
            Anchor.CENTER,
            Baseline.MIDDLE,
            Weight.BOLD,
        )
        found.append((Shape((polyline(corners),), fill=PAPER, closed=True), name))
    return found


def _outward(ring: shapely.Geometry, spots: Sequence[tuple[Point, Vector]]) -> list[Point]:
    """Where rays to the right of travel, from places on the stitching line, meet the cutting line.

    The place itself, where one does not meet it.
    """
    rays = [(spot + along.left * 0.5, spot - along.left * 120.0) for spot, along in spots]
    lines = shapely.linestrings([[(near.x, near.y), (far.x, far.y)] for near, far in rays])
    met: list[list[Point]] = [[] for _ in spots]
    places, owners = shapely.get_coordinates(shapely.intersection(lines, ring), return_index=True)
    for (x, y), owner in zip(places.tolist(), owners.tolist(), strict=True):
        met[owner].append(Point(x, y))
    return [
        min(some, key=spot.distance, default=spot)
        for some, (spot, _) in zip(met, spots, strict=True)
    ]


def size_key(sizes: Sequence[str], *, left: float, top: float, width_mm: float) -> tuple[Item, ...]:
    """A key to the lines of the sizes: samples with their names, in columns from the top left."""
    columns = max(1, min(len(sizes), int(width_mm // 44.0)))
    rows = math.ceil(len(sizes) / columns)
    items: list[Item] = []
    for number, size in enumerate(sizes):
        column, row = divmod(number, rows)
        x, y = left + column * width_mm / columns, top - 3.0 - row * 5.5
        sample = Path((Line(Point(x, y), Point(x + 24.0, y)),))
        items.append(Shape((sample,), size_style(number).stroke))
        items.append(
            Text(size, Point(x + 26.0, y), 3.6, INK, baseline=Baseline.MIDDLE, weight=Weight.BOLD)
        )
    return tuple(items)


def size_key_height(sizes: Sequence[str], width_mm: float) -> float:
    """How high the key is."""
    columns = max(1, min(len(sizes), int(width_mm // 44.0)))
    return math.ceil(len(sizes) / columns) * 5.5 + 1.0
