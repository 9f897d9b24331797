"""Laying drawings side by side on paper: grain upright, a gap between, as few pages as possible.

Each drawing is reduced to its silhouette: for columns of a few millimeters, how far below its
top it begins and ends. Drawings are let down, one after the other, onto what lies there already,
wherever they come to rest highest; many orders are tried and the best kept. The tries are
numbered and seeded, so that the same drawings always lie in the same way.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import inf
from operator import itemgetter
from typing import TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray

from clothwise.errors import OutputError
from clothwise.geometry import Transform
from clothwise.output.bounds import Bounds
from clothwise.output.drawing import UNMOVED, Drawing, placed
from clothwise.output.ink import ink_of
from clothwise.output.tiling import tile_count

GAP_MM = 10.0
"""Least distance between two drawings: room for scissors. Our own choice."""

COLUMN_MM = 5.0
"""Width of a silhouette's columns; drawings are placed at multiples of it."""


@dataclass(frozen=True)
class _Style:
    """What counts against resting high: a mm of hole left above, and each page begun.

    Of equal places the leftmost is taken, or the rightmost.
    """

    per_hole_mm: float
    per_page_mm: float
    leans_right: bool = False


_SAMPLING_MM = 1.0  # outlines are sampled so finely, and silhouettes are this much larger
INSET_MM = 1.0
"""How far columns lie to the right of tile edges, so that a line on one costs no second page."""

_WIDTHS_TRIED = 8  # numbers of tile columns tried
_WIDTHS_SHUFFLED = 3  # how many of them are looked into further
_SHUFFLES = 60  # random orders tried for each of these
_MOST_SHUFFLED = 1200  # drawings let down for that; with many drawings, fewer orders are tried
_STYLES = (
    _Style(0.0, 0.0),
    _Style(0.5, 0.0),
    _Style(0.0, 300.0),
    _Style(0.5, 300.0, leans_right=True),
    _Style(0.5, 150.0),
)
_SPREAD_COST = 0.1  # pages that one cell of the grid may cost, so that sheets stay compact

Floats: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True)
class Silhouette:
    """How far below the top of its box a drawing begins and ends, per column; gap included."""

    name: str
    box: Bounds
    begins_mm: Floats
    ends_mm: Floats

    @property
    def columns(self) -> int:
        """How many columns it covers."""
        return len(self.begins_mm)

    @property
    def area_mm2(self) -> float:
        """What it covers, gap included."""
        return float((self.ends_mm - self.begins_mm).sum() * COLUMN_MM)


@dataclass(frozen=True)
class Placed:
    """Where a drawing goes: the number of its sheet, and the move that brings it there."""

    sheet: int
    transform: Transform


@dataclass(frozen=True)
class Arrangement:
    """Places for drawings, in the order they were given, and the sheets they fill.

    Each sheet begins at (0, 0) and is as wide as was asked for and as high as is needed.
    """

    placed: tuple[Placed, ...]
    sheets: tuple[Bounds, ...]


def silhouette(drawing: Drawing, *, gap_mm: float = GAP_MM) -> Silhouette:
    """The silhouette of everything drawn, half the gap wider on all sides.

    Raises:
        ValueError: nothing is drawn.
    """
    ink = ink_of(drawing)
    if not ink:
        raise ValueError("an empty drawing has no silhouette")
    parts, reach = [part.geometry for part in ink], max(part.reach_mm for part in ink)
    box = Bounds(*map(float, shapely.total_bounds(parts))).grown(reach)
    left, bottom, right, top = box.left, box.bottom, box.right, box.top
    spots = shapely.get_coordinates(shapely.segmentize(parts, _SAMPLING_MM))
    count = max(1, int(np.ceil((right - left) / COLUMN_MM)))
    begins, ends = np.full(count, np.inf), np.full(count, -np.inf)
    high = np.maximum(top - spots[:, 1] - reach - _SAMPLING_MM, 0.0)
    low = np.minimum(top - spots[:, 1] + reach + _SAMPLING_MM, top - bottom)
    for aside in (-reach, reach):
        column = np.clip(((spots[:, 0] + aside - left) / COLUMN_MM).astype(int), 0, count - 1)
        np.minimum.at(begins, column, high)
        np.maximum.at(ends, column, low)
    bare = np.isinf(begins)  # between parts that stand apart
    begins[bare], ends[bare] = top - bottom, 0.0
    return Silhouette(drawing.title, box, *_widened(begins, ends, gap_mm / 2))


def _rim(gap_mm: float) -> int:
    """How many columns a silhouette has on each side beyond its box."""
    return int(np.ceil(gap_mm / 2 / COLUMN_MM))


def _widened(begins: Floats, ends: Floats, by_mm: float) -> tuple[Floats, Floats]:
    """The silhouette with a rim of `by_mm`; columns at the sides are added as needed."""
    extra = _rim(2 * by_mm)
    wide = len(begins) + 2 * extra
    up, down = np.full(wide, np.inf), np.full(wide, -np.inf)
    for shift in range(-extra, extra + 1):
        # A column's nearest point is one column nearer than the columns are numbered apart.
        apart = max(0, abs(shift) - 1) * COLUMN_MM
        rise = float(np.sqrt(max(0.0, by_mm**2 - apart**2)))
        part = slice(extra + shift, extra + shift + len(begins))
        up[part] = np.minimum(up[part], begins - rise)
        down[part] = np.maximum(down[part], ends + rise)
    return up, down


def arrange(
    drawings: Sequence[Drawing],
    width_mm: float,
    *,
    height_mm: float | None = None,
    gap_mm: float = GAP_MM,
) -> Arrangement:
    """Places on sheets of a width, and of a greatest height if one is given.

    Drawings stay upright; only one that would not fit otherwise is turned by a quarter.

    Raises:
        OutputError: a drawing is larger than the sheet.
    """
    limit = height_mm if height_mm is not None else float("inf")
    turns, shapes = [], []
    for drawing in drawings:
        turn, shape = UNMOVED, silhouette(drawing, gap_mm=gap_mm)
        if not _fits(shape, width_mm, limit):
            turn = Transform.turn(math.pi / 2)
            turned = silhouette(placed(drawing, turn), gap_mm=gap_mm)
            _refuse_too_large(turned, shape, width_mm, limit)
            shape = turned
        turns.append(turn)
        shapes.append(shape)
    room = _Room(width_mm, limit, gap_mm)
    first = _best_of_orders(shapes, room)
    assert first is not None  # without a limit there always is one
    best = _shuffled(shapes, room, first)
    return _arrangement(shapes, turns, best, width_mm)


def arrange_for_tiles(
    drawings: Sequence[Drawing],
    *,
    tile_width_mm: float,
    tile_height_mm: float,
    overlap_mm: float,
    gap_mm: float = GAP_MM,
) -> Arrangement:
    """Places on one sheet that, cut into tiles, needs as few pages as we can find.

    Several widths, each a whole number of tile columns, are tried.
    """
    shapes = [silhouette(drawing, gap_mm=gap_mm) for drawing in drawings]
    across, down = tile_width_mm - overlap_mm, tile_height_mm - overlap_mm
    widest = max(shape.box.width for shape in shapes)
    fewest = tile_count(widest, tile_width_mm, overlap_mm)
    most = tile_count(sum(s.box.width + gap_mm for s in shapes), tile_width_mm, overlap_mm)

    found: list[tuple[tuple[float, float], int, _Room, _Layout]] = []
    for count in range(fewest, min(fewest + _WIDTHS_TRIED, most + 1)):
        width = count * across + overlap_mm - INSET_MM
        room = _Room(width, float("inf"), gap_mm, across, down)
        is_full = len(found) == _WIDTHS_SHUFFLED
        layout = _best_of_orders(shapes, room, most_paper=found[-1][0][0] if is_full else inf)
        if layout:
            found = sorted([*found, (layout.cost, count, room, layout)], key=itemgetter(0, 1))
            found = found[:_WIDTHS_SHUFFLED]
    best_room, best = found[0][2:]
    for _, _, room, first in found:
        layout = _shuffled(shapes, room, first)
        if layout.cost < best.cost:
            best_room, best = room, layout
    upright = [UNMOVED] * len(shapes)
    flush = _arrangement(shapes, upright, best, best_room.width_mm)
    inset = Transform.shift(INSET_MM, 0.0)
    return Arrangement(
        tuple(replace(spot, transform=spot.transform.then(inset)) for spot in flush.placed),
        tuple(replace(box, right=box.right + INSET_MM) for box in flush.sheets),
    )


@dataclass(frozen=True)
class _Room:
    """The paper that is laid on: its width, its greatest height, the gap to keep.

    Where the paper is cut into pages, `across_mm` and `down_mm` are their steps.
    """

    width_mm: float
    height_mm: float
    gap_mm: float
    across_mm: float = float("inf")
    down_mm: float = float("inf")

    @property
    def is_paged(self) -> bool:
        """Tell whether pages count."""
        return self.across_mm != float("inf")

    def empty(self) -> Floats:
        """How deep each column of a new sheet is filled; rims may hang over the edges."""
        columns = int(np.ceil(self.width_mm / COLUMN_MM)) + 2 * _rim(self.gap_mm)
        return np.full(columns, -self.gap_mm / 2)


@dataclass(frozen=True)
class _Layout:
    """For each silhouette its sheet, the column its box begins in, and its depth there.

    `paper` is what it takes of sheets or pages, see `_paper`.
    """

    order: tuple[int, ...]
    spots: tuple[tuple[int, int, float], ...]
    heights_mm: tuple[float, ...]
    paper: float

    @property
    def cost(self) -> tuple[float, float]:
        """The less the better: first the paper, then how far down it reaches."""
        return self.paper, sum(self.heights_mm)


def _best_of_orders(
    shapes: Sequence[Silhouette], room: _Room, most_paper: float = inf
) -> _Layout | None:
    """The best layout of the orders by height, area and width; None if all take more paper."""
    keys: tuple[Callable[[int], float], ...] = (
        lambda n: -shapes[n].box.height,
        lambda n: -shapes[n].area_mm2,
        lambda n: -shapes[n].box.width,
    )
    orders = dict.fromkeys(tuple(sorted(range(len(shapes)), key=key)) for key in keys)
    best: _Layout | None = None
    for order, style in product(orders, _STYLES):
        layout = _let_down(shapes, order, room, style, best.paper if best else most_paper)
        if layout and (best is None or layout.cost < best.cost):
            best = layout
    return best


def _shuffled(shapes: Sequence[Silhouette], room: _Room, best: _Layout) -> _Layout:
    """The best layout found by exchanging drawings in the order of the best so far."""
    chance = random.Random(len(shapes))
    known: set[tuple[tuple[int, ...], _Style]] = set()
    tries = min(_SHUFFLES, _MOST_SHUFFLED // len(shapes)) if len(shapes) > 1 else 0
    for _ in range(tries):
        order = list(best.order)
        for _ in range(chance.randint(1, 3)):
            one, other = chance.randrange(len(order)), chance.randrange(len(order))
            order[one], order[other] = order[other], order[one]
        tried = (tuple(order), chance.choice(_STYLES))
        if tried in known:
            continue
        known.add(tried)
        layout = _let_down(shapes, tried[0], room, tried[1], best.paper)
        if layout and layout.cost < best.cost:
            best = layout
    return best


def _let_down(
    shapes: Sequence[Silhouette],
    order: tuple[int, ...],
    room: _Room,
    style: _Style,
    most_paper: float,
) -> _Layout | None:
    """Let the silhouettes down in this order, each where it comes to rest highest.

    None as soon as more paper is taken than `most_paper`; it never becomes less again.
    """
    sheets: list[Floats] = []
    begun: set[tuple[int, int]] = set()
    spots: dict[int, tuple[int, int, float]] = {}
    for number in order:
        shape = shapes[number]
        for sheet in range(len(sheets) + 1):
            if sheet == len(sheets):
                sheets.append(room.empty())
            spot = _rest(sheets[sheet], shape, room, style, begun)
            if spot:
                column, depth = spot
                covered = sheets[sheet][column : column + shape.columns]
                np.maximum(covered, depth + shape.ends_mm, out=covered)
                spots[number] = (sheet, column, depth)
                if room.is_paged:
                    begun |= _touched(shape, column, depth, room)
                break
        if _paper(sheets, begun, room) > most_paper:
            return None
    heights = tuple(float(filled.max()) - room.gap_mm / 2 for filled in sheets)
    places = tuple(spots[n] for n in range(len(shapes)))
    return _Layout(order, places, heights, _paper(sheets, begun, room))


def _paper(sheets: Sequence[Floats], begun: set[tuple[int, int]], room: _Room) -> float:
    """How many sheets are taken; or how many pages, and a share for each cell of their grid."""
    if not room.is_paged:
        return len(sheets)
    columns = max(column for column, _ in begun) + 1
    rows = max(row for _, row in begun) + 1
    return len(begun) + _SPREAD_COST * rows * columns


def _rest(
    filled: Floats, shape: Silhouette, room: _Room, style: _Style, begun: set[tuple[int, int]]
) -> tuple[int, float] | None:
    """First column and depth where a silhouette rests best; None if it fits nowhere."""
    places = int((room.width_mm - shape.box.width) / COLUMN_MM + 1e-9) + 1
    places = min(max(places, 0), len(filled) - shape.columns + 1)
    # What the silhouette would meet at each place: a view that costs nothing to make.
    windows: Floats = np.ndarray(
        (places, shape.columns), filled.dtype, filled, strides=2 * filled.strides
    )
    depths = (windows - shape.begins_mm).max(axis=1)
    costs = depths + shape.box.height
    if style.per_hole_mm:
        holes = (depths[:, None] + shape.begins_mm - windows).mean(axis=1)
        costs = costs + style.per_hole_mm * holes
    if style.per_page_mm and room.is_paged:
        costs = costs + style.per_page_mm * _new_pages(shape, depths, room, begun)
    too_deep = depths + shape.box.height > room.height_mm + 1e-6
    costs = np.where(too_deep, np.inf, costs)
    column = int(np.argmin(costs))
    if style.leans_right:
        column = len(costs) - 1 - int(np.argmin(costs[::-1]))
    return None if np.isinf(costs[column]) else (column, float(depths[column]))


def _new_pages(
    shape: Silhouette, depths: Floats, room: _Room, begun: set[tuple[int, int]]
) -> Floats:
    """For each column, how many pages a silhouette's box would begin there."""
    lefts = np.arange(len(depths)) * COLUMN_MM
    first = (lefts // room.across_mm).astype(int)
    last = ((lefts + shape.box.width) // room.across_mm).astype(int)
    high = (depths // room.down_mm).astype(int)
    low = ((depths + shape.box.height) // room.down_mm).astype(int)
    free = np.ones((int(low.max()) + 1, int(last.max()) + 1))
    for column, row in begun:
        if row < free.shape[0] and column < free.shape[1]:
            free[row, column] = 0.0
    sums = np.zeros((free.shape[0] + 1, free.shape[1] + 1))
    sums[1:, 1:] = free.cumsum(axis=0).cumsum(axis=1)
    above, below = np.maximum(high, 0), low + 1
    counted = (
        sums[below, last + 1] - sums[above, last + 1] - sums[below, first] + sums[above, first]
    )
    return np.asarray(counted, dtype=np.float64)


def _touched(shape: Silhouette, column: int, depth: float, room: _Room) -> set[tuple[int, int]]:
    """Column and row of the pages that the drawing itself, without the gap, reaches."""
    rim, half = _rim(room.gap_mm), room.gap_mm / 2
    inner = slice(rim, shape.columns - rim)
    begins = np.maximum((depth + shape.begins_mm[inner] + half) // room.down_mm, 0)
    ends = (depth + shape.ends_mm[inner] - half) // room.down_mm
    at = ((column + np.arange(len(begins))) * COLUMN_MM) // room.across_mm
    first = np.flatnonzero(np.diff(at, prepend=-1.0))  # of the columns on each page across
    highest, lowest = np.minimum.reduceat(begins, first), np.maximum.reduceat(ends, first)
    return {
        (int(page), row)
        for page, high, low in zip(
            at[first].tolist(), highest.tolist(), lowest.tolist(), strict=True
        )
        for row in range(int(high), int(low) + 1)
    }


def _arrangement(
    shapes: Sequence[Silhouette], turns: Sequence[Transform], layout: _Layout, width_mm: float
) -> Arrangement:
    spots = []
    for shape, turn, (sheet, column, depth) in zip(shapes, turns, layout.spots, strict=True):
        top = layout.heights_mm[sheet] - depth
        shift = Transform.shift(column * COLUMN_MM - shape.box.left, top - shape.box.top)
        spots.append(Placed(sheet, turn.then(shift)))
    sheets = tuple(Bounds(0.0, 0.0, width_mm, height) for height in layout.heights_mm)
    return Arrangement(tuple(spots), sheets)


def _fits(shape: Silhouette, width_mm: float, height_mm: float) -> bool:
    return shape.box.width <= width_mm + 1e-6 and shape.box.height <= height_mm + 1e-6


def _refuse_too_large(
    turned: Silhouette, upright: Silhouette, width_mm: float, height_mm: float
) -> None:
    if _fits(turned, width_mm, height_mm):
        return
    room = f"{width_mm:.0f} mm"
    if height_mm != float("inf"):
        room += f" x {height_mm:.0f} mm"
    raise OutputError(
        "this piece is larger than the paper",
        where=upright.name or "a drawing",
        how_much=f"it measures {upright.box.width:.0f} x {upright.box.height:.0f} mm, "
        f"the paper has room for {room}",
        what_to_do="Print it on tiles, or on a wider roll.",
    )
