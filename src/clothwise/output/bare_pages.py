"""Pages on which nothing is drawn, and which of them need not be printed.

A page inside a large piece may hold neither line nor word. Without it the paper has a hole, which
does the cutting out no harm as long as the pages around it are still joined rightly to each other.
So a hole stays small, touches no other, and parts no pages that were joined. These limits are our
own choice (decision 0005).
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

import shapely

from clothwise.output.ink import Ink
from clothwise.output.tiling import Tile, Tiling, own_area

MOST_IN_A_HOLE = 4
"""So many pages may be missing beside each other: the way round a hole is short then, and what is
not quite true at each joint does not add up to much. Our own choice."""

_Place = tuple[int, int]


def bare_tiles(tiling: Tiling, ink: Sequence[Ink]) -> frozenset[Tile]:
    """Pages with neither line nor word, which lie in the middle of a piece."""
    drawn = [
        part.geometry.boundary if part.is_solid else part.geometry
        for part in ink
        if part.reach_mm or not part.is_solid  # an outline without a stroke only keeps paper
    ]
    tree, reach = shapely.STRtree(drawn), max((part.reach_mm for part in ink), default=0.0)
    areas = [own_area(tiling, tile) for tile in tiling.tiles]
    boxes = [shapely.box(box.left, box.bottom, box.right, box.top) for box in areas]
    near = set(tree.query(boxes, predicate="dwithin", distance=reach)[0].tolist()) if boxes else ()
    return frozenset(tile for number, tile in enumerate(tiling.tiles) if number not in near)


def without_bare(tiling: Tiling, bare: Collection[Tile]) -> Tiling:
    """The tiling without those bare tiles that the pages around them can be joined without.

    They are its `left_out`. The others stay: each keeps pages in line, or joins them at all.
    """
    out: dict[_Place, Tile] = {}
    printed = {(tile.row, tile.column) for tile in tiling.tiles}
    joined = _parts(printed)
    for tile in sorted(bare):
        place = (tile.row, tile.column)
        if len(_hole(place, out)) > MOST_IN_A_HOLE:
            continue
        if _parts(printed - {place}) == joined:
            out[place] = tile
            printed.remove(place)
    kept = tuple(tile for tile in tiling.tiles if (tile.row, tile.column) in printed)
    return replace(tiling, tiles=kept, left_out=tuple(out.values()))


def _hole(place: _Place, out: Collection[_Place]) -> set[_Place]:
    """The places that are missing if this one is too, as far as they touch, be it at a corner."""
    hole, fresh = {place}, [place]
    while fresh:
        row, column = fresh.pop()
        for across in (-1, 0, 1):
            for down in (-1, 0, 1):
                near = (row + down, column + across)
                if near in out and near not in hole:
                    hole.add(near)
                    fresh.append(near)
    return hole


def _parts(places: Collection[_Place]) -> int:
    """Into how many parts these pages fall that no joint connects."""
    rest, parts = set(places), 0
    while rest:
        parts += 1
        fresh = [rest.pop()]
        while fresh:
            row, column = fresh.pop()
            for near in (
                (row, column - 1),
                (row, column + 1),
                (row - 1, column),
                (row + 1, column),
            ):
                if near in rest:
                    rest.remove(near)
                    fresh.append(near)
    return parts
