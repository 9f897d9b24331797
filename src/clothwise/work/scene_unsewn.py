"""Pictures of steps that carry out nothing of the seam graph: fusing, preparing, marking."""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import replace

from clothwise.geometry import Transform
from clothwise.pattern.graph import (
    EdgeRef,
    Pressing,
    Run,
)
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.operation import Highlight, Station
from clothwise.pattern.pattern import pieces_of
from clothwise.work.assembly import joined_sheets
from clothwise.work.hanging import hanging_together
from clothwise.work.picture import LineRole
from clothwise.work.scene_gathering import around_free_ends, gathering_rows
from clothwise.work.scene_lines import extent, traced
from clothwise.work.scene_sheets import layer_of, with_placed
from clothwise.work.scene_showing import REACH_MM, SPARED_SHARE, Showing
from clothwise.work.sheet import Sheet, sheet
from clothwise.work.stage import Stage, beside_each_other, upright, window_around
from clothwise.work.steps import pieces_worked_on
from clothwise.work.wearing import Part, parts


def without_uses(on: Showing) -> tuple[Stage, str]:
    """The pieces that are worked on, with the edges or marks that are meant."""
    operation = on.operation
    names = pieces_worked_on(on.pattern, operation)
    if operation.highlight is Highlight.MARKS:
        return _marked(on, names), ""
    if operation.station is Station.FUSING:
        return beside_each_other(_fused(on, name) for name in names), ""
    stage = beside_each_other(_together(on, group) for group in _hanging(on, names))
    return around_free_ends(stage) if operation.highlight is Highlight.GATHERING else (stage, "")


def _fused(on: Showing, name: str) -> Stage:
    """A piece wrong side up, with the interfacing on it."""
    layer = layer_of(on, sheet(on.cloth, name).turned_over())
    return Stage((replace(layer, fused=True),)).unfolded()


def _together(on: Showing, names: Sequence[str]) -> Stage:
    """Pieces as they hang together, with the edges that are brought out."""
    sheets = joined_sheets(on.cloth, names)
    if on.operation.highlight is Highlight.GATHERING:  # seen best on the paler side
        sheets = [one.turned_over() for one in sheets]
    stage = with_placed(on, sheets)
    role = LineRole.SEWN_NOW if on.operation.station is Station.MACHINE else LineRole.MEANT
    named = [(one, run) for one in sheets for run in _brought_out(on, one)]
    lines = [points for one, run in named if (points := one.run(run))]
    if on.operation.highlight is Highlight.GATHERING:
        for one, run in named:
            stage = stage.adding(*gathering_rows(on.pattern, one, run.edges[0]))
    else:
        stage = stage.adding(*(traced(points, role) for points in lines))
    if lines and len(sheets) > 1:
        points = [point for line in lines for point in line]
        window = window_around(points, max(REACH_MM, 0.9 * extent(points)))
        stage = stage.cropped(window, SPARED_SHARE)
    return upright(stage.unfolded())


def _brought_out(on: Showing, of: Sheet) -> list[Run]:
    """The edges of a piece that the step names, each as a run."""
    operation = on.operation
    if operation.highlight is Highlight.WHOLE_PIECE:
        return []
    named = (name.partition(".") for name in (*operation.prepares, *operation.shows))
    return [Run((EdgeRef(owner, edge),)) for owner, _, edge in named if owner == of.name and edge]


def _hanging(on: Showing, names: Sequence[str]) -> list[list[str]]:
    """Pieces in groups that are sewn together already; what lies inside a collar is left out.

    In each group one that can be mirrored comes first, so that the picture stands upright.
    """
    seams = [seam for seam in on.pattern.seams.values() if seam.name in on.cloth.done]
    flat = [pieces_of(seam) for seam in seams if seam.pressing is not Pressing.TURNED]
    turned = [pieces_of(seam) for seam in seams if seam.pressing is Pressing.TURNED]
    collars = {name for name, part in parts(on.pattern).items() if part is Part.COLLAR}
    groups: list[list[str]] = []
    seen: set[str] = set()
    for name in names:
        if name in seen or (_is_behind(name, seen & collars, turned) and name in collars):
            continue
        whole = hanging_together({name}, flat)
        group = [other for other in names if other in whole and other not in seen]
        seen.update(group)
        groups.append(sorted(group, key=lambda one: on.cloth.axis(one) is None))
    return groups


def _is_behind(name: str, seen: set[str], turned: Sequence[Set[str]]) -> bool:
    return any(name in pieces and pieces & seen for pieces in turned)


def _marked(on: Showing, names: Sequence[str]) -> Stage:
    """Both sides of the pieces as they hang together, with their marks."""
    sheets = joined_sheets(on.cloth, names)
    sides = {
        mark.only_side
        for one in sheets
        for mark in one.shape.piece.marks
        if mark.only_side and mark.kind in (MarkKind.BUTTON, MarkKind.BUTTONHOLE)
    }
    if not sides:
        return with_placed(on, sheets, marks="any").unfolded()
    drawn = sheets[0].shape.piece.drawn_side.value
    other = "right" if drawn == "left" else "left"
    mirrored = [one.moved(Transform.mirror()) for one in sheets]
    here, there = _side(on, sheets, drawn), _side(on, mirrored, other)
    return beside_each_other([there, here] if drawn == "left" else [here, there])


def _side(on: Showing, sheets: Sequence[Sheet], side: str) -> Stage:
    """Sheets of one side of the wearer, named for it."""
    layers = with_placed(on, sheets, marks=side).layers
    first = next(number for number, layer in enumerate(layers) if layer.words)
    return Stage(
        tuple(
            replace(layer, words=f"wearer's {side}" if number == first else "")
            for number, layer in enumerate(layers)
        )
    )
