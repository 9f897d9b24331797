"""Pages as pictures for a screen: each page as SVG, and the map of pages that are joined.

A page looks onto a sheet through a window; its picture holds only what is seen there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from clothwise.geometry import Point, Transform, polyline
from clothwise.output.bounds import Bounds, leaf_bounds
from clothwise.output.drawing import (
    Drawing,
    Group,
    Item,
    Layer,
    Leaf,
    Shape,
    leaves_of,
    settled_shape,
    settled_text,
)
from clothwise.output.ink import solid_outlines
from clothwise.output.pdf import View
from clothwise.output.print_files import PrintPages
from clothwise.output.svg import path_data, to_svg
from clothwise.output.tiling import Tile

_NEAR_MM = 0.5  # beyond the border of a window, for lines that lie on it
_MAP_TOLERANCE_MM = 3.0  # outlines on the map; a screen shows it at a tenth of full size


@dataclass(frozen=True)
class PagePictures:
    """Draws the pages of a print, one at a time; what lies where is found out once."""

    print_pages: PrintPages

    def svg(self, number: int) -> str:
        """The page of that number, from 1, as SVG to be put into a web page.

        Raises:
            IndexError: there is no such page.
        """
        if not 1 <= number <= len(self.print_pages.pages):
            raise IndexError(number)
        page = self.print_pages.pages[number - 1]
        layers: list[Layer] = []
        for part in page.content:
            layers.extend(self._seen(part) if isinstance(part, View) else part.layers)
        name = self.print_pages.names[number - 1]
        frame = Bounds(0.0, 0.0, page.width_mm, page.height_mm)
        return to_svg(
            Drawing(tuple(layers), f"{self.print_pages.title.title}, {name}"),
            page=frame,
            standalone=False,
            id_prefix=f"page-{number}-",
        )

    def _seen(self, view: View) -> list[Layer]:
        """The layers of the sheet with what the window shows of them."""
        window = view.window.grown(_NEAR_MM)
        move = Transform.shift(view.at.x - view.window.left, view.at.y - view.window.bottom)
        layers = []
        for layer, spread in self._spread[id(view.sheet)]:
            inside, across = [], []
            for item, box in spread:
                if _holds(view.window, box):
                    inside.append(item)
                elif window.meets(box):
                    across.append(item)
            parts: list[Item] = []
            if across:
                parts.append(Group(tuple(across), move, view.window.path))
            if inside:
                parts.append(Group(tuple(inside), move))
            layers.append(Layer(layer.name, tuple(parts)))
        return layers

    @cached_property
    def _spread(self) -> dict[int, list[tuple[Layer, list[tuple[Item, Bounds]]]]]:
        """Every sheet as single items with the room they take."""
        return {
            id(sheet): [
                (layer, [_settled(leaf) for leaf in leaves_of(layer.items, layer=layer)])
                for layer in sheet.layers
            ]
            for sheet in self.print_pages.sheets
        }


def _settled(leaf: Leaf) -> tuple[Item, Bounds]:
    item: Item
    if isinstance(leaf.item, Shape):
        item = settled_shape(leaf.item, leaf.transform)
    else:
        item = settled_text(leaf.item, leaf.transform)
    for clip in leaf.clips:
        item = Group((item,), clip=clip)
    return item, leaf_bounds(leaf)


def _holds(window: Bounds, box: Bounds) -> bool:
    return (
        window.left <= box.left
        and window.bottom <= box.bottom
        and box.right <= window.right
        and box.top <= window.top
    )


@dataclass(frozen=True)
class MapTile:
    """A page on the map: its name and number, and where it lies; mm from the upper left corner.

    `is_end`: it holds nothing but the very end of a piece; `is_blank`: not even a line. The number
    is 0 for a place that is left out.
    """

    name: str
    number: int
    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float
    is_end: bool = False
    is_blank: bool = False


@dataclass(frozen=True)
class PageMap:
    """The sheet in small: how large it is, its pages, and outlines of pieces as SVG path data.

    `left_out` are places in the middle of a piece that no page is printed for.
    """

    width_mm: float
    height_mm: float
    tiles: tuple[MapTile, ...]
    outlines: tuple[str, ...]
    left_out: tuple[MapTile, ...] = ()


def page_map(print_pages: PrintPages) -> PageMap | None:
    """Where each page lies on the sheet, y down; None if no page is joined to another."""
    tiling = print_pages.tiling
    if tiling is None:
        return None
    first = len(print_pages.pages) - len(tiling.tiles) + 1
    extent = Bounds.around(each.window for each in tiling.tiles)

    def shown(each: Tile, number: int) -> MapTile:
        return MapTile(
            each.label,
            number,
            each.window.left - extent.left,
            extent.top - each.window.top,
            each.window.width,
            each.window.height,
            number in print_pages.ends,
            number in print_pages.blank,
        )

    tiles = tuple(shown(each, number) for number, each in enumerate(tiling.tiles, start=first))
    left_out = tuple(shown(each, 0) for each in tiling.left_out)
    flip = Transform(1, 0, 0, -1, -extent.left, extent.top)
    outlines = tuple(
        _ring_data(ring, flip) for ring in solid_outlines(print_pages.ink, _MAP_TOLERANCE_MM)
    )
    return PageMap(extent.width, extent.height, tiles, outlines, left_out)


def _ring_data(ring: Sequence[tuple[float, float]], flip: Transform) -> str:
    return path_data(polyline(flip.point(Point(x, y)) for x, y in ring), closed=True)
