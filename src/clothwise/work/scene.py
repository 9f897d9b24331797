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

from clothwise.pattern.graph import (
    Finish,
    Placement,
    Seam,
    SeamKind,
)
from clothwise.pattern.junctions import SeamCorners
from clothwise.pattern.operation import Operation
from clothwise.pattern.pattern import Pattern, Use
from clothwise.pattern.piece import Ply
from clothwise.work.assembly import (
    Cloth,
)
from clothwise.work.order import OrderOfWork
from clothwise.work.picture import Picture
from clothwise.work.scene_finishes import finished, placed
from clothwise.work.scene_lines import pieces_of
from clothwise.work.scene_seams import darts, sewn
from clothwise.work.scene_sewing import also
from clothwise.work.scene_showing import Showing
from clothwise.work.scene_unsewn import without_uses
from clothwise.work.stage import Stage, beside_each_other, shortened

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
        if shown and pieces_of(use) & shown:
            stages[-1] = also(on, stages[-1], use)
            continue
        stage, note = _of_use(on, use)
        stages.append(stage)
        notes.append(note)
        shown |= pieces_of(use)
    return (beside_each_other(stages) if len(stages) > 1 else stages[0]), notes[0]


def _of_use(on: Showing, use: Use) -> tuple[Stage, str]:
    if isinstance(use, Placement):
        return placed(on, use)
    if isinstance(use, Finish):
        return finished(on, use)
    return sewn(on, use)
