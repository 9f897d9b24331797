"""A picture for each step, derived from the seam graph.

    darts            pieces side by side, wrong side up, the legs to be sewn
    one edge each    right sides together, the upper piece drawn a little off so that both are seen
    edges of one     the piece folded so that its edges meet
    joined edges     the two sides opened flat, facing each other across a gap
    many layers      each layer by itself, numbered from the lowest to the uppermost
    hems             wrong side up, the hem turned up
    placements       host and piece, right side up

Only pieces that the step works on, or shows, are drawn, in the state earlier steps left them in.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from shapely.geometry import Polygon

from clothwise.pattern.graph import (
    Finish,
    Placement,
    Seam,
    SeamKind,
)
from clothwise.pattern.junctions import SeamCorners
from clothwise.pattern.operation import Operation, Station
from clothwise.pattern.pattern import Pattern, Use, pieces_of
from clothwise.pattern.piece import Ply
from clothwise.work.cloth import Cloth
from clothwise.work.order import OrderOfWork
from clothwise.work.picture import Picture
from clothwise.work.scene_finishes import finished, placed
from clothwise.work.scene_missing import drawn_open, missing
from clothwise.work.scene_seams import darts, sewn
from clothwise.work.scene_sewing import also
from clothwise.work.scene_showing import Showing
from clothwise.work.scene_unsewn import without_uses
from clothwise.work.sheet import sheet
from clothwise.work.stage import Stage, beside_each_other, handed, shortened

KEEP_MM = 260.0
"""Of a very long strip, what is shown at each end; our own choice."""


def scenes(pattern: Pattern, order: OrderOfWork) -> tuple[Picture, ...]:
    """A picture for each operation of an order of work, in its sequence."""
    corners = SeamCorners(pattern)
    done: set[str] = set()
    found = []
    for operation in order.operations:
        found.append(scene(pattern, operation, done, corners))
        done.update(operation.does)
    return tuple(found)


def scene(
    pattern: Pattern,
    operation: Operation,
    done: Iterable[str],
    corners: SeamCorners | None = None,
) -> Picture:
    """The picture of one operation after the seams, finishes and placements named in `done`."""
    on = Showing(Cloth(pattern, set(done), corners), operation)
    stage, note = _stage(on)
    if _shows_one_of_two(stage):
        note = f"{note} One of two is shown.".strip()
    if operation.does or operation.station is not Station.FUSING:
        told = (note, drawn_open(on, stage), missing(on, stage))
        note = " ".join(sentence for sentence in told if sentence)
    return shortened(stage, KEEP_MM).picture(operation.title, note)


def _shows_one_of_two(stage: Stage) -> bool:
    """True if some piece is drawn once that is cut twice."""
    drawn = Counter(layer.sheet.name for layer in stage.layers if layer.words)
    doubled = Counter(layer.sheet.name for layer in stage.layers)
    pieces = {layer.sheet.name: layer.sheet.shape.piece for layer in stage.layers}
    return any(
        doubled[name] == 1
        and pieces[name].fold_edge is None
        and sum(copy.ply is Ply.SHELL for copy in pieces[name].copies) > 1
        for name in drawn
    )


def _stage(on: Showing) -> tuple[Stage, str]:
    uses = [on.pattern.use(name) for name in on.operation.does]
    if not uses:
        return without_uses(on)
    if all(isinstance(use, Seam) and use.kind is SeamKind.DART for use in uses):
        return darts(on, uses), ""
    stages: list[Stage] = []
    notes: list[str] = []
    shown: set[str] = set()
    for use in uses:
        if pieces_of(use) & shown and pieces_of(use) <= shown:
            stages[-1] = also(on, stages[-1], use)
            continue
        stage, note = _of_use(on, use)
        both = _with_other_side(stages[-1], stage, shown) if pieces_of(use) & shown else None
        if both is not None:
            stages[-1] = both
            shown |= pieces_of(use)
            continue
        if pieces_of(use) & shown and not _brings_a_side(on, use, shown):
            stages[-1] = also(on, stages[-1], use)
            continue
        stages.append(stage)
        notes.append(note)
        shown |= pieces_of(use)
    return (beside_each_other(stages) if len(stages) > 1 else stages[0]), notes[0]


def _brings_a_side(on: Showing, use: Use, shown: set[str]) -> bool:
    """True if a use works on a piece of one side of the wearer that is not shown yet."""
    return any(sheet(on.cloth, name).is_once for name in pieces_of(use) - shown)


def _with_other_side(stage: Stage, other: Stage, shown: set[str]) -> Stage | None:
    """Both sides of the wearer in one picture, if what they have in common lies alike."""
    lying = {layer.sheet.name: layer.polygon for layer in stage.layers}
    new = [layer for layer in other.layers if layer.sheet.name not in shown]
    if not new or not all(layer.sheet.is_once for layer in new):
        return None
    common = [layer for layer in other.layers if layer.sheet.name in lying]
    if not common or not all(_lies_there(lying[each.sheet.name], each.polygon) for each in common):
        return None
    return Stage(
        (*stage.layers, *new), (*stage.overlay, *other.overlay), (*stage.cuts, *other.cuts)
    )


def _lies_there(one: Polygon, other: Polygon) -> bool:
    return bool(one.symmetric_difference(other).area < 0.02 * one.area)


def _of_use(on: Showing, use: Use) -> tuple[Stage, str]:
    if isinstance(use, Placement):
        stage, note = placed(on, use)
    elif isinstance(use, Finish):
        stage, note = finished(on, use)
    else:
        stage, note = sewn(on, use)
    return handed(stage), note
