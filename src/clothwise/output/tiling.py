"""Cutting a sheet into pages: a grid of overlapping tiles, of which only the inked are kept.

Rows are lettered from the top, columns numbered from the left. Tiles overlap by a strip; each
place of the sheet belongs to the one tile that lies on top there once the pages are joined:
every page is laid onto the strip of its left and of its upper neighbor.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import shapely

from clothwise.errors import Misuse
from clothwise.output.bounds import Bounds
from clothwise.output.ink import Ink

OVERLAP_MM = 10.0
"""Width of the strip that two neighbors share: room for a glue stick. Our own choice."""


@dataclass(frozen=True, order=True)
class Tile:
    """One page's share of the sheet: `window` is all it shows, strips included."""

    row: int
    column: int
    window: Bounds

    @property
    def label(self) -> str:
        """Row letter and column number.

        >>> Tile(1, 2, Bounds(0, 0, 1, 1)).label, Tile(27, 0, Bounds(0, 0, 1, 1)).label
        ('B3', 'AB1')
        """
        return f"{_letters(self.row)}{self.column + 1}"


@dataclass(frozen=True)
class Tiling:
    """A sheet cut into tiles of one size; `tiles` are those that are printed, row by row.

    `left_out` are tiles inside a piece on which nothing is drawn: they keep their place and name.
    """

    sheet: Bounds
    rows: int
    columns: int
    overlap_mm: float
    tiles: tuple[Tile, ...]
    left_out: tuple[Tile, ...] = ()

    def at(self, row: int, column: int) -> Tile | None:
        """The printed tile there, if there is one."""
        return self._places.get((row, column))

    def place(self, row: int, column: int) -> Tile | None:
        """The tile there, printed or left out, if there is one."""
        out = (tile for tile in self.left_out if (tile.row, tile.column) == (row, column))
        return self.at(row, column) or next(out, None)

    @cached_property
    def _places(self) -> dict[tuple[int, int], Tile]:
        return {(tile.row, tile.column): tile for tile in self.tiles}

    def page_number(self, tile: Tile, first: int = 1) -> int:
        """The number of its page if the first tile is on page `first`."""
        return self.tiles.index(tile) + first


def tile_count(length_mm: float, tile_mm: float, overlap_mm: float) -> int:
    """How many tiles cover a length: ceil((length - overlap) / (tile - overlap)), at least 1.

    Source: geometry (check value P12).
    """
    # A thousandth of a millimeter is below what any printer resolves; it must not cost a page.
    return max(1, math.ceil((length_mm - overlap_mm - 1e-3) / (tile_mm - overlap_mm)))


def tile(sheet: Bounds, page: Bounds, overlap_mm: float = OVERLAP_MM) -> Tiling:
    """All tiles of a sheet, from its upper left corner, each as large as the rectangle `page`.

    Raises:
        Misuse: the overlap is negative or leaves less than half a tile.
    """
    if not 0 <= overlap_mm <= min(page.width, page.height) / 2:
        raise Misuse(
            "this overlap does not suit the page",
            how_much=f"{overlap_mm:g} mm on a page of {page.width:.0f} x {page.height:.0f} mm",
            what_to_do=f"Use 0 to {min(page.width, page.height) / 2:.0f} mm; 10 mm is usual.",
        )
    across, down = page.width - overlap_mm, page.height - overlap_mm
    columns = tile_count(sheet.width, page.width, overlap_mm)
    rows = tile_count(sheet.height, page.height, overlap_mm)
    tiles = tuple(
        Tile(row, column, _window(sheet, page, column * across, row * down))
        for row in range(rows)
        for column in range(columns)
    )
    return Tiling(sheet, rows, columns, overlap_mm, tiles)


def _window(sheet: Bounds, page: Bounds, from_left: float, from_top: float) -> Bounds:
    left, top = sheet.left + from_left, sheet.top - from_top
    return Bounds(left, top - page.height, left + page.width, top)


def own_area(tiling: Tiling, tile: Tile) -> Bounds:
    """The part of its window in which a tile lies on top; these parts fill the sheet exactly."""
    window, strip = tile.window, tiling.overlap_mm
    last_column, last_row = tile.column == tiling.columns - 1, tile.row == tiling.rows - 1
    return Bounds(
        window.left,
        window.bottom if last_row else window.bottom + strip,
        window.right if last_column else window.right - strip,
        window.top,
    )


@dataclass(frozen=True)
class InkedTiling:
    """A tiling of which only the pages with something on them are left.

    `pages_of` lists, for each named group of the drawing, the tiles it reaches.
    """

    tiling: Tiling
    pages_of: dict[str, tuple[Tile, ...]]


def inked(tiling: Tiling, ink: Sequence[Ink]) -> InkedTiling:
    """The tiling without the tiles whose own area is empty.

    A stroke that reaches into the area of a tile keeps it, even if its center line does not.
    """
    if not ink:
        return InkedTiling(replace(tiling, tiles=()), {})
    areas = [own_area(tiling, tile) for tile in tiling.tiles]
    boxes = shapely.box(*np.array([(a.left, a.bottom, a.right, a.top) for a in areas]).T)
    tree = shapely.STRtree([part.geometry for part in ink])
    reach = max(part.reach_mm for part in ink)
    near, parts = tree.query(boxes, predicate="dwithin", distance=reach)
    kept: set[int] = set()
    groups: dict[str, set[int]] = {part.group: set() for part in ink if part.group}
    for number, part in zip(near.tolist(), parts.tolist(), strict=True):
        kept.add(number)
        if ink[part].group:
            groups[ink[part].group].add(number)
    pages_of = {
        name: tuple(tiling.tiles[number] for number in sorted(numbers))
        for name, numbers in groups.items()
    }
    tiles = tuple(tiling.tiles[number] for number in sorted(kept))
    return InkedTiling(replace(tiling, tiles=tiles), pages_of)


def _letters(number: int) -> str:
    text = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("A") + rest) + text
    return text
