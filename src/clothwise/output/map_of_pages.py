"""The map of the pages of a tiled file: which page lies where, and which hold next to nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import shapely

from clothwise.geometry import Path, Point, Transform, polyline
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import Anchor, Baseline, Item, Shape, Stroke, Text, Weight
from clothwise.output.ink import Ink, solid_outlines
from clothwise.output.pens import CHALK, GUIDE, GUIDE_DOTS, INK, PALE_CHALK, PAPER
from clothwise.output.tiling import Tile, Tiling, own_area

__all__ = ["LEFT_OUT", "NO_LINE", "ONLY_AN_END", "end_tiles", "map_factor", "map_of_pages"]

ONLY_AN_END = "only an end"
"""Of a page, in the map."""
NO_LINE = "no line"
"""Of a page in the map that lies in the middle of a piece, and is printed all the same."""
LEFT_OUT = "left out"
"""Of a place in the map, in the middle of a piece, that no page is printed for."""

_END_SHARE = 0.06  # of a page; less paper than this is the very end of a piece; our own choice
_MAP_HEADING_MM = 5.0
_MAP_TOLERANCE_MM = 2.0  # on the sheet; a tenth of a millimeter on the map
_MAP_LINE = Stroke(0.2, INK)


def end_tiles(
    tiling: Tiling, ink: Sequence[Ink], pages_of: Mapping[str, Sequence[Tile]]
) -> frozenset[Tile]:
    """Pages that hold nothing but the very end of one piece that is mostly on others."""
    found = set()
    for tile in tiling.tiles:
        held = [tiles for tiles in pages_of.values() if tile in tiles]
        if len(held) == 1 and len(held[0]) > 1:
            own = own_area(tiling, tile)
            box = shapely.box(*_corners(own))
            solids = [part.geometry.intersection(box) for part in ink if part.is_solid]
            if shapely.union_all(solids).area <= _END_SHARE * box.area:
                found.add(tile)
    return frozenset(found)


def _corners(box: Bounds) -> tuple[float, float, float, float]:
    return box.left, box.bottom, box.right, box.top


def map_of_pages(
    ink: Sequence[Ink], tiling: Tiling, box: Bounds, front: int, marks: Mapping[Tile, str]
) -> Iterator[Item]:
    """The sheet in small, with its pages: their names, and below each its page number.

    Args:
        ink: of the sheet.
        tiling: its pages.
        box: what the map has to fit, in mm of the page that it is drawn on.
        front: how many pages come before the first page of the pattern.
        marks: words on pages that hold next to nothing.
    """
    tiles = tiling.tiles
    extent = Bounds.around(tile.window for tile in tiles)
    factor = map_factor(tiling, box)
    top = box.top - _MAP_HEADING_MM
    yield Text("Map of the pages", Point(box.left, box.top - 2.0), 4.6, INK, weight=Weight.BOLD)
    move = Transform.scale(factor).then(
        Transform.shift(box.left - extent.left * factor, top - extent.top * factor)
    )
    for tile in tiles:
        yield Shape((_inner(tiling, tile).path.transformed(move),), fill=PALE_CHALK, closed=True)
    for ring in solid_outlines(ink, _MAP_TOLERANCE_MM):
        path = polyline(move.point(Point(x, y)) for x, y in ring)
        yield Shape((path,), _MAP_LINE, PAPER, closed=True)
    for tile in tiles:
        cell = _inner(tiling, tile).path.transformed(move)
        yield Shape((cell,), GUIDE, closed=True)
        yield from _map_label(tile, cell, f"page {tiling.page_number(tile, front + 1)}")
        if tile in marks:
            yield _mark_label(cell, marks[tile])
    for tile in tiling.left_out:
        cell = _inner(tiling, tile).path.transformed(move)
        yield Shape((cell,), GUIDE_DOTS, closed=True)
        yield from _map_label(tile, cell, LEFT_OUT)


def map_factor(tiling: Tiling, box: Bounds) -> float:
    """The scale at which the map of the pages fits a box."""
    extent = Bounds.around(tile.window for tile in tiling.tiles)
    return min(box.width / extent.width, (box.height - _MAP_HEADING_MM) / extent.height)


def _inner(tiling: Tiling, tile: Tile) -> Bounds:
    """The tile without the strips that lie beneath its neighbors."""
    window, strip = tile.window, tiling.overlap_mm
    right = window.right - (strip if tiling.place(tile.row, tile.column + 1) else 0.0)
    bottom = window.bottom + (strip if tiling.place(tile.row + 1, tile.column) else 0.0)
    return Bounds(window.left, bottom, right, window.top)


def _map_label(tile: Tile, cell: Path, words: str) -> Iterator[Item]:
    box = Bounds.of_points(segment.start for segment in cell.segments)
    size = min(6.0, box.width * 0.3, box.height * 0.28)
    middle = box.center
    yield Text(
        tile.label,
        Point(middle.x, middle.y + size * 0.35),
        size,
        CHALK,
        0.0,
        Anchor.CENTER,
        Baseline.MIDDLE,
        Weight.BOLD,
    )
    yield Text(
        words,
        Point(middle.x, middle.y - size * 0.55),
        size * 0.55,
        CHALK,
        0.0,
        Anchor.CENTER,
        Baseline.MIDDLE,
    )


def _mark_label(cell: Path, words: str) -> Text:
    """Words in the map on a page that holds next to nothing."""
    box = Bounds.of_points(segment.start for segment in cell.segments)
    size = min(6.0, box.width * 0.3, box.height * 0.28) * 0.45
    at = Point(box.center.x, box.center.y - size * 2.6)
    return Text(words, at, size, CHALK, 0.0, Anchor.CENTER, Baseline.MIDDLE)
