"""Words and marks of a tiled sheet kept apart: where its pages meet, nothing is to be read.

First the words of each piece are moved to the nearest place on it that no joint crosses, if it
has one; names of sizes move along their lines. Then each diamond slides along its joint to where
it covers no words.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from operator import is_
from typing import TypeAlias

import shapely
from shapely.affinity import affine_transform

from clothwise.geometry import Point, Transform
from clothwise.output.drawing import UNMOVED, Drawing, Group, Item, Layer, leaves_of, settled_text
from clothwise.output.drawing import Text as Words
from clothwise.output.free_space import FreeSpace, text_polygon
from clothwise.output.ink import Ink, ink_of
from clothwise.output.tiling import Tile, Tiling

DIAMOND_LONG_MM, DIAMOND_WIDE_MM = 9.0, 7.0
"""Half diagonals of a diamond, the longer one level."""

USUAL_SHARES = (0.25, 0.75)
"""Where on a joint the diamonds sit if nothing is in their way."""

_SHARE_STEP, _FURTHEST_SHARE = 0.02, 0.16
_CLEAR_MM = 1.0
_SCALES = (1.0, 0.85, 0.72)  # type that is smaller is tried before words are left on a joint

Pair = tuple[Tile, Tile]


@dataclass(frozen=True)
class _Block:
    """Words that are moved together, as they stand on the sheet; `under` carries them there."""

    group: Group
    under: Transform
    texts: tuple[shapely.Geometry, ...]

    @property
    def box(self) -> shapely.Geometry:
        return shapely.box(*shapely.total_bounds(self.texts))


_Moves: TypeAlias = Mapping[tuple[Group, Transform], tuple[_Block, Transform]]


def off_joints(
    sheet: Drawing, tiling: Tiling, ink: Sequence[Ink]
) -> tuple[Drawing, tuple[Ink, ...]]:
    """The sheet with its words moved off the joints of a tiling, and its ink.

    Words that find no room stay where they are.

    Args:
        sheet: the arranged pieces.
        tiling: how it is cut into pages.
        ink: of the sheet.
    """
    joints = _strips(tiling)
    if not joints:
        return sheet, tuple(ink)
    crossed = shapely.union_all(joints)
    cuts = _cuts(tiling)
    turned = [tuple(_off_cuts(layer.items, UNMOVED, layer, cuts)) for layer in sheet.layers]
    if not all(
        _are_same(some, layer.items) for some, layer in zip(turned, sheet.layers, strict=True)
    ):
        of_layers = zip(turned, sheet.layers, strict=True)
        sheet = replace(
            sheet, layers=tuple(replace(layer, items=items) for items, layer in of_layers)
        )
        ink = ink_of(sheet)
    blocks = [block for layer in sheet.layers for block in _blocks(layer.items, UNMOVED, layer)]
    moves = {
        (block.group, block.under): (block, move)
        for block in blocks
        if block.box.intersects(crossed) and (move := _move(block, ink, joints))
    }
    if not moves:
        return sheet, tuple(ink)
    layers = tuple(
        replace(layer, items=tuple(_moved(layer.items, UNMOVED, moves))) for layer in sheet.layers
    )
    return replace(sheet, layers=layers), tuple(_moved_ink(ink, moves.values()))


def diamond_shares(tiling: Tiling, ink: Iterable[Ink]) -> Mapping[Pair, tuple[float, ...]]:
    """Where the diamonds of each joint sit, as shares of its length.

    Args:
        tiling: how the sheet is cut into pages.
        ink: of the sheet; words and whatever else is filled are kept clear, lines are not.
    """
    filled = [part.geometry for part in ink if not part.is_solid and _is_area(part.geometry)]
    tree = shapely.STRtree(filled)
    return {
        (before, after): tuple(_clear_share(before, after, share, tree) for share in USUAL_SHARES)
        for before, after in _pairs(tiling)
    }


def _is_area(geometry: shapely.Geometry) -> bool:
    return geometry.geom_type in ("Polygon", "MultiPolygon")


def _pairs(tiling: Tiling) -> Iterator[Pair]:
    for tile in tiling.tiles:
        for row, column in ((tile.row, tile.column + 1), (tile.row + 1, tile.column)):
            after = tiling.at(row, column)
            if after is not None:
                yield tile, after


def _clear_share(before: Tile, after: Tile, usual: float, tree: shapely.STRtree) -> float:
    steps = range(1, round(_FURTHEST_SHARE / _SHARE_STEP) + 1)
    shares = [usual, *(usual + sign * _SHARE_STEP * step for step in steps for sign in (1, -1))]
    for share in shares:
        if not len(tree.query(_diamond(before, after, share), predicate="intersects")):
            return share
    return usual


def _diamond(before: Tile, after: Tile, share: float) -> shapely.Geometry:
    """The diamond on the joint of two pages, on the sheet."""
    window = after.window
    if before.row == after.row:
        middle = (window.left, window.bottom + share * window.height)
    else:
        middle = (window.left + share * window.width, window.top)
    x, y = middle
    wide, high = DIAMOND_LONG_MM, DIAMOND_WIDE_MM
    return shapely.Polygon([(x - wide, y), (x, y - high), (x + wide, y), (x, y + high)])


def _strips(tiling: Tiling) -> list[shapely.Geometry]:
    """What each joint takes with its strip and its diamonds, on the sheet."""
    strip = max(tiling.overlap_mm, DIAMOND_LONG_MM) + _CLEAR_MM
    found = []
    for before, after in _pairs(tiling):
        window = after.window
        if before.row == after.row:
            box = (window.left - DIAMOND_LONG_MM, window.bottom, window.left + strip, window.top)
        else:
            box = (window.left, window.top - strip, window.right, window.top + DIAMOND_WIDE_MM)
        found.append(shapely.box(*box))
    return found


def _cuts(tiling: Tiling) -> shapely.Geometry:
    """The strips that pages share, on the sheet; what lies across is cut on both."""
    found = []
    for before, after in _pairs(tiling):
        window, strip = after.window, tiling.overlap_mm
        if before.row == after.row:
            found.append(shapely.box(
                window.left, window.bottom, window.left + strip, window.top))  # fmt: skip
        else:
            found.append(shapely.box(
                window.left, window.top - strip, window.right, window.top))  # fmt: skip
    united = shapely.union_all(found)
    shapely.prepare(united)
    return united


def _off_cuts(
    items: Iterable[Item], under: Transform, layer: Layer, cuts: shapely.Geometry
) -> Iterator[Item]:
    """The items, with another place for what would be cut and has one."""
    for item in items:
        if not isinstance(item, Group):
            yield item
            continue
        at = item.transform.then(under)
        if item.instead:
            clear = (
                each
                for each in (item.items, *item.instead)
                if not any(text.intersects(cuts) for text in _text_boxes(each, at, layer))
            )
            found = next(clear, item.items)
        else:
            found = tuple(_off_cuts(item.items, at, layer, cuts))
        yield item if _are_same(found, item.items) else replace(item, items=found)


def _are_same(some: Sequence[Item], others: Sequence[Item]) -> bool:
    """Whether nothing was put in the place of anything; equal things are not looked into."""
    return len(some) == len(others) and all(map(is_, some, others))


def _text_boxes(
    items: Iterable[Item], under: Transform, layer: Layer
) -> tuple[shapely.Geometry, ...]:
    return tuple(
        text_polygon(settled_text(leaf.item, at))
        for leaf in leaves_of(items, layer=layer, transform=under)
        if isinstance(leaf.item, Words) and (at := leaf.transform)
    )


def _blocks(items: Iterable[Item], under: Transform, layer: Layer) -> Iterator[_Block]:
    for item in items:
        if not isinstance(item, Group):
            continue
        if item.is_block:
            texts = _text_boxes((item,), under, layer)
            if texts:
                yield _Block(item, under, texts)
        else:
            yield from _blocks(item.items, item.transform.then(under), layer)


def _move(
    block: _Block, ink: Sequence[Ink], joints: Sequence[shapely.Geometry]
) -> Transform | None:
    """How a block is moved on the sheet to be clear of everything; None if there is no room."""
    box = block.box
    middle = box.centroid
    solids = [part.geometry for part in ink if part.is_solid and part.geometry.contains(middle)]
    if not solids:  # words beside a small piece
        return None
    area = solids[0]
    for other in solids[1:]:
        area = area.intersection(other)
    own = {text.wkb for text in block.texts}
    space = FreeSpace(area)
    for part in ink:
        is_near = not part.is_solid and part.geometry.intersects(area)
        if is_near and part.geometry.wkb not in own:
            space.take(part.geometry)
    for joint in joints:
        if joint.intersects(area):
            space.take(joint)
    left, bottom, right, top = box.bounds
    for scale in _SCALES:
        size = (right - left) * scale, (top - bottom) * scale
        place = space.place(*size, Point(middle.x, middle.y))
        if place is not None:
            home = Transform.shift(-middle.x, -middle.y).then(Transform.scale(scale))
            return home.then(Transform.shift(place.x, place.y))
    return None


def _moved(items: Iterable[Item], under: Transform, moves: _Moves) -> Iterator[Item]:
    for item in items:
        if not isinstance(item, Group):
            yield item
        elif item.is_block:
            found = moves.get((item, under))
            if found is None:
                yield item
                continue
            # moved on the sheet, whichever way its piece is turned there
            there = item.transform.then(under).then(found[1]).then(under.inverse())
            yield replace(item, transform=there)
        else:
            inner = tuple(_moved(item.items, item.transform.then(under), moves))
            yield replace(item, items=inner)


def _moved_ink(ink: Sequence[Ink], moves: Iterable[tuple[_Block, Transform]]) -> Iterator[Ink]:
    by_text = {text.wkb: move for block, move in moves for text in block.texts}
    for part in ink:
        move = by_text.get(part.geometry.wkb) if _is_area(part.geometry) else None
        if move is None:
            yield part
        else:
            at = (move.a, move.c, move.b, move.d, move.e, move.f)
            yield replace(part, geometry=affine_transform(part.geometry, at))
