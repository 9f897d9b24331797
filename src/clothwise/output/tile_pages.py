"""The pages of a tiled sheet: what each shows, and the marks that join it to its neighbors.

A joint is a line that both pages carry. The page to the left of it, or above it, keeps its strip;
the other is cut along the joint and laid onto it. On every joint sit two diamonds. One half of a
diamond bears the name of the page on that side: when the pages are joined rightly, each diamond
is whole and names the two pages that meet there.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from clothwise.geometry import Line, Path, Point, polyline
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import (
    Anchor,
    Baseline,
    Drawing,
    Group,
    Item,
    Layer,
    Shape,
    Text,
    Weight,
)
from clothwise.output.off_joints import DIAMOND_LONG_MM, DIAMOND_WIDE_MM
from clothwise.output.paper import Margins, Paper
from clothwise.output.pdf import Page, View
from clothwise.output.pens import CHALK, GRAPHITE, GUIDE, GUIDE_DOTS, PALE_CHALK
from clothwise.output.tiling import Tile, Tiling

_LABEL_MM = 3.4
_BESIDE_MM = 2.4  # from the side of a page to the middle of words along it


@dataclass(frozen=True)
class _Joint:
    """A joint as one page sees it: its two ends, and the pages before and after it."""

    start: Point
    end: Point
    before: Tile
    after: Tile
    is_upright: bool


def tile_page(
    sheet: Drawing,
    tiling: Tiling,
    tile: Tile,
    *,
    paper: Paper,
    margins: Margins,
    footer: str,
    diamonds: Mapping[tuple[Tile, Tile], tuple[float, ...]],
) -> Page:
    """The page of one tile: a window onto the sheet, page name and marks beneath, joints above.

    `diamonds` says where those of each joint sit, as shares of its length (`diamond_shares`).
    """
    at = Point(margins.side_mm, margins.end_mm)
    area = Bounds(at.x, at.y, at.x + tile.window.width, at.y + tile.window.height)
    beneath = Drawing(
        (Layer("page", (*_name(tile, area), *_diamonds(tiling, tile, area, diamonds))),)
    )
    joints = (*_lines(tiling, tile, area), *_beside_left_out(tiling, tile, area))
    above = Drawing((Layer("joints", (*joints, *_footer(footer, area))),))
    view = View(sheet, tile.window, at)
    return Page(paper.width_mm, paper.height_mm, (beneath, view, above))


def _name(tile: Tile, area: Bounds) -> Iterator[Item]:
    """The page's name, large and pale, in its upper left corner."""
    corner = Point(area.left + 12.0, area.top - 26.0)
    yield Text(tile.label, corner, 22.0, PALE_CHALK, weight=Weight.BOLD)


def _footer(words: str, area: Bounds) -> Iterator[Item]:
    yield Text(words, Point(area.left, area.bottom - 4.2), 2.8, GRAPHITE)


def _joints(tiling: Tiling, tile: Tile, area: Bounds) -> Iterator[_Joint]:
    strip = tiling.overlap_mm
    left = tiling.at(tile.row, tile.column - 1)
    right = tiling.at(tile.row, tile.column + 1)
    upper = tiling.at(tile.row - 1, tile.column)
    lower = tiling.at(tile.row + 1, tile.column)
    for neighbor, x in ((left, area.left), (right, area.right - strip)):
        if neighbor:
            before, after = sorted((tile, neighbor))
            ends = (Point(x, area.bottom), Point(x, area.top))
            yield _Joint(*ends, before, after, is_upright=True)
    for neighbor, y in ((upper, area.top), (lower, area.bottom + strip)):
        if neighbor:
            before, after = sorted((tile, neighbor))
            ends = (Point(area.left, y), Point(area.right, y))
            yield _Joint(*ends, before, after, is_upright=False)


def _diamonds(
    tiling: Tiling,
    tile: Tile,
    area: Bounds,
    shares: Mapping[tuple[Tile, Tile], tuple[float, ...]],
) -> Iterator[Item]:
    items: list[Item] = []
    for joint in _joints(tiling, tile, area):
        for place in shares[joint.before, joint.after]:
            items.extend(_diamond(joint, joint.start.toward(joint.end, place)))
    if items:
        yield Group(tuple(items), clip=area.path)


def _diamond(joint: _Joint, middle: Point) -> Iterator[Item]:
    """A diamond across the joint; the half before it is tinted, the half after it is not."""
    long, wide = DIAMOND_LONG_MM, DIAMOND_WIDE_MM
    for side, tile in ((-1, joint.before), (1, joint.after)):
        if joint.is_upright:
            tip = Point(middle.x + side * long, middle.y)
            ends = (Point(middle.x, middle.y - wide), Point(middle.x, middle.y + wide))
            spot = Point(middle.x + side * long * 0.36, middle.y)
        else:
            # Rows run downward: what comes before a joint lies above it.
            tip = Point(middle.x, middle.y - side * wide)
            ends = (Point(middle.x - long, middle.y), Point(middle.x + long, middle.y))
            spot = Point(middle.x, middle.y - side * wide * 0.36)
        fill = PALE_CHALK if side < 0 else None
        yield Shape((polyline([*ends, tip]),), GUIDE, fill, closed=True)
        yield Text(
            tile.label, spot, _LABEL_MM, CHALK, 0.0, Anchor.CENTER, Baseline.MIDDLE, Weight.BOLD
        )


def _lines(tiling: Tiling, tile: Tile, area: Bounds) -> Iterator[Item]:
    """Where this page is cut, and where its neighbors are laid."""
    for joint in _joints(tiling, tile, area):
        path = Path((Line(joint.start, joint.end),))
        if joint.after == tile:
            yield Shape((path,), GUIDE)
            yield _along(joint, f"cut here, lay onto {joint.before.label}", 3.0)
        else:
            yield Shape((path,), GUIDE_DOTS)
            if tiling.overlap_mm >= 4.0:
                yield _along(joint, f"{joint.after.label} is laid onto this strip", -2.2)
    if not any(True for _ in _joints(tiling, tile, area)):
        yield Shape((area.path,), GUIDE, closed=True)


def _beside_left_out(tiling: Tiling, tile: Tile, area: Bounds) -> Iterator[Text]:
    """Words along the sides at which no page follows, because nothing would be drawn on it.

    They stand where nothing of the pattern does: in the margin, or on the strip of that page.
    """
    middle = area.center
    for down, across, at in (
        (0, -1, Point(area.left - _BESIDE_MM, middle.y)),
        (0, 1, Point(area.right - _BESIDE_MM, middle.y)),
        (-1, 0, Point(middle.x, area.top + _BESIDE_MM)),
        (1, 0, Point(middle.x, area.bottom + _BESIDE_MM)),
    ):
        beside = tiling.place(tile.row + down, tile.column + across)
        if beside in tiling.left_out:
            words, turn = (
                f"{beside.label} is left out: leave this side",
                math.pi / 2 if across else 0.0,
            )
            yield Text(words, at, 2.6, CHALK, turn, Anchor.CENTER, Baseline.MIDDLE, Weight.ITALIC)


def _along(joint: _Joint, words: str, away_mm: float) -> Text:
    """Words beside the middle of a joint: in the margin of the page cut, on the strip of the other.

    Upright joints are read from the right, as the spine of a book is.
    """
    middle = joint.start.toward(joint.end, 0.5)
    if joint.is_upright:
        at, turn = Point(middle.x - away_mm, middle.y), math.pi / 2
    else:
        at, turn = Point(middle.x, middle.y + away_mm), 0.0
    return Text(words, at, 2.6, CHALK, turn, Anchor.CENTER, Baseline.MIDDLE, Weight.ITALIC)
