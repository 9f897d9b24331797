"""What lies on a sheet: sewn seams, marks, buttons, and pieces placed on it before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwise.geometry import Point, Transform
from clothwise.pattern.graph import (
    Placement,
    Seam,
    Sides,
)
from clothwise.pattern.mark import Mark, MarkKind
from clothwise.pattern.operation import Station
from clothwise.work.assembly import (
    Cloth,
    Sheet,
    sheet,
)
from clothwise.work.picture import Button, Face, LineRole
from clothwise.work.scene_lines import ring_of
from clothwise.work.scene_showing import Showing
from clothwise.work.shape import shape_of
from clothwise.work.stage import Layer, Stage

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


def with_placed(on: Showing, sheets: Sequence[Sheet], marks: str = "") -> Stage:
    """Sheets with what earlier steps sewed onto them."""
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
            if one.face is Face.RIGHT:
                layers.append(Layer(piece, piece.polygon, kept=kept))
            else:
                last = layers[-1]
                layers[-1] = replace(
                    last,
                    lines=(*last.lines, (ring_of(piece.polygon), LineRole.SEWN)),
                    kept_lines=(*last.kept_lines, (len(last.lines), kept)),
                )
    return Stage(tuple(layers))


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
