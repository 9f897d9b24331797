"""What lies on a sheet: sewn seams, marks, buttons, and pieces placed on it before."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from clothwise.geometry import Point, Transform
from clothwise.pattern.graph import (
    Placement,
    Run,
    Seam,
    Sides,
)
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Station
from clothwise.pattern.pattern import Pattern, pieces_of
from clothwise.work.assembly import aligned, strip
from clothwise.work.cloth import Cloth
from clothwise.work.folded_band import is_within
from clothwise.work.picture import Button, Face, LineRole
from clothwise.work.scene_lines import ring_of
from clothwise.work.scene_showing import Showing
from clothwise.work.shape import shape_of
from clothwise.work.sheet import Sheet, Strip, is_left, sheet
from clothwise.work.stage import Layer, Stage
from clothwise.work.wearing import Part, parts

SMALL_MARKS = (MarkKind.BUTTON, MarkKind.EYELET, MarkKind.DOT)
"""Points that are drawn where a step brings out marks."""

DOT_MM = 4.0
"""Diameter of a dot in a picture; our own choice."""


def layer_of(on: Showing, of: Sheet, marks: str = "") -> Layer:
    """A sheet with its sewn seams, its marks and, right side up, what was placed on it."""
    shape = of.shape
    lines = [(tuple(of.points(dart)), LineRole.SEWN) for dart in shape.darts]
    for edge, points in shape.edges.items():
        for use in on.pattern.uses_of(of.name, edge):
            if use.name in on.cloth.done and isinstance(use, Seam):
                lines.append((tuple(of.points(points)), LineRole.SEWN))
    buttons: list[Button] = []
    for mark in shape.piece.marks:
        if shape.half and not (mark.middle and is_within(shape.half, mark.middle)):
            continue
        role = _mark_role(on, of, mark, marks)
        if mark.path and role:
            lines.append((tuple(of.points(shape.moved_path(mark.path).flattened())), role))
        if mark.at and mark.kind in SMALL_MARKS and _is_shown(mark, marks):
            size = mark.size_mm or DOT_MM
            buttons.append(Button(of.to.point(shape.move(mark.at)), size))
    return Layer(of, of.polygon, tuple(lines), tuple(buttons), words=shape.piece.title)


def _mark_role(on: Showing, of: Sheet, mark: Mark, marks: str) -> LineRole | None:
    if mark.kind is MarkKind.FOLD_LINE:
        return LineRole.FOLD
    if mark.kind is MarkKind.STITCHING_LINE:
        is_own = marks == "any" and on.operation.component == of.shape.piece.component
        return LineRole.MARK if is_own else None
    if mark.kind is MarkKind.PLACEMENT_LINE:
        waiting = [
            placement
            for placement in on.pattern.placements.values()
            if placement.host == of.name and placement.name not in on.cloth.done
        ]
        # Where a step brings out marks, so are the lines that its own component drew.
        is_own = marks == "any" and on.operation.component == of.shape.piece.component
        return LineRole.MARK if waiting or is_own else None
    if mark.kind is MarkKind.BUTTONHOLE and _is_shown(mark, marks):
        return LineRole.BUTTONHOLE
    if mark.kind is MarkKind.CUTTING_LINE and on.operation.station is Station.CUTTING_TABLE:
        return LineRole.MEANT
    return None


def turned_in(pattern: Pattern, placement: Placement) -> tuple[Mark, ...]:
    """The lines along which a placed piece is stitched face down, to be turned in through a slit.

    Host and piece both have them, under one name. Empty for a piece that stays on the outside.
    """
    names = {
        mark.name
        for mark in pattern.piece(placement.host).marks
        if mark.kind is MarkKind.STITCHING_LINE
    }
    return tuple(
        mark
        for mark in pattern.piece(placement.piece).marks
        if mark.kind is MarkKind.STITCHING_LINE and mark.name in names
    )


def with_placed(on: Showing, sheets: Sequence[Sheet], marks: str = "") -> Stage:
    """Sheets with what earlier steps sewed onto them, and below them what hangs on their edges."""
    stage = _with_pieces_on(on, sheets, marks)
    hung = (replace(layer_of(on, one), words="", hangs=True) for one in _hanging_on(on, sheets))
    return Stage((*hung, *stage.layers))


def _hanging_on(on: Showing, sheets: Sequence[Sheet]) -> Iterator[Sheet]:
    """Collars on their stands and cuffs on their sleeves, as far as they are sewn on."""
    shown = {one.name for one in sheets}
    its_parts = parts(on.pattern)
    for one in sheets:
        for seam in on.pattern.seams.values():
            if seam.name not in on.cloth.done or one.name not in pieces_of(seam):
                continue
            mine = next(layer for layer in seam.layers if one.name in layer.run.pieces)
            for layer in reversed(seam.layers):
                part = its_parts.get(layer.run.pieces[0])
                is_cuff = part is Part.CUFF and its_parts.get(one.name) is Part.SLEEVE
                is_collar = part is Part.COLLAR and layer.span is not None and mine.span is None
                is_on_stand = is_collar and its_parts.get(one.name) is Part.COLLAR
                if shown.isdisjoint(layer.run.pieces) and (is_cuff or is_on_stand):
                    hung = _hung_on(on, one, seam, (mine.run, layer.run))
                    shown |= {each.name for each in hung}
                    yield from hung
                    break


def _hung_on(on: Showing, one: Sheet, seam: Seam, runs: tuple[Run, Run]) -> tuple[Sheet, ...]:
    """The pieces of the second run, opened flat beyond the first, which lies on a sheet."""
    mine, its = runs
    points = one.run(mine)
    if len(points) < 2:
        return ()
    first = next(ref for ref in mine.edges if ref.piece == one.name and ref.edge in one.shape.edges)
    still = Strip((one,), mine, tuple(points), is_left(first, one))
    other = aligned(still, strip(on.cloth, seam, its), on_top=False)
    return tuple(replace(each, face=one.face) for each in other.sheets)


def _with_pieces_on(on: Showing, sheets: Sequence[Sheet], marks: str) -> Stage:
    layers: list[Layer] = []
    for one in sheets:
        layers.append(layer_of(on, one, marks))
        for placement in on.pattern.placements.values():
            if placement.host != one.name or placement.name not in on.cloth.done:
                continue
            piece = onto_host(laid(on.cloth, placement), one, placement)
            if marks in ("left", "right") and placement.sides.value in ("left", "right"):
                if placement.sides.value != marks:
                    continue
                kept = (True, True)
            else:
                kept = kept_on(on, placement, one)
            slit = turned_in(on.pattern, placement)
            if one.face is Face.RIGHT and slit:
                layers[-1] = _with_lines(layers[-1], lines_of(piece, slit), kept)
            elif one.face is Face.RIGHT:
                layers.append(Layer(piece, piece.polygon, kept=kept))
            else:
                layers[-1] = _with_lines(layers[-1], [ring_of(piece.polygon)], kept)
    return Stage(tuple(layers))


def _with_lines(layer: Layer, lines: Iterable[tuple[Point, ...]], kept: tuple[bool, bool]) -> Layer:
    """A layer with more that was sewn on it before, on the sides of the wearer that have it."""
    for line in lines:
        layer = replace(
            layer,
            lines=(*layer.lines, (line, LineRole.SEWN)),
            kept_lines=(*layer.kept_lines, (len(layer.lines), kept)),
        )
    return layer


def lines_of(piece: Sheet, marks: Iterable[Mark]) -> list[tuple[Point, ...]]:
    """Lines of a piece where it lies in the picture."""
    return [
        tuple(piece.points(piece.shape.moved_path(mark.path).flattened()))
        for mark in marks
        if mark.path
    ]


def kept_on(on: Showing, placement: Placement, host: Sheet) -> tuple[bool, bool]:
    """Whether a placed piece is on the copy of its host that is shown, and on the other."""
    if placement.sides not in (Sides.LEFT, Sides.RIGHT):
        return True, True
    is_drawn_copy = host.to.is_mirroring == (host.face is Face.WRONG)
    drawn = on.pattern.piece(host.name).drawn_side.value == placement.sides.value
    return drawn == is_drawn_copy, drawn != is_drawn_copy


def _is_shown(mark: Mark, marks: str) -> bool:
    """Whether a button or buttonhole belongs into a picture of the marks of a side, or of any."""
    return marks == "any" or (marks != "" and mark.only_side in ("", marks))


def laid(cloth: Cloth, placement: Placement) -> Sheet:
    """A placed piece with the outline that it has on its host."""
    if placement.shape is None:
        return replace(sheet(cloth, placement.piece), to=Transform())
    piece = cloth.pattern.laid_piece(placement)
    return Sheet(shape_of(piece), piece.outline.polygon)


def onto_host(piece: Sheet, host: Sheet, placement: Placement) -> Sheet:
    """A placed piece where it lies on its host, whose darts may be closed."""
    onto = piece.moved(placement.onto)
    left, bottom, right, top = onto.polygon.bounds
    middle = Point((left + right) / 2, (bottom + top) / 2)
    step = host.shape.move(middle) - middle
    return replace(onto.moved(Transform.shift(step.x, step.y)).moved(host.to), face=host.face)
