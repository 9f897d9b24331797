"""Pictures of steps that carry out nothing of the seam graph: fusing, preparing, marking."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwise.geometry import Transform
from clothwise.pattern.graph import (
    EdgeRef,
    Run,
)
from clothwise.pattern.mark import MarkKind
from clothwise.pattern.operation import Highlight, Station
from clothwise.work.assembly import (
    Sheet,
    joined_sheets,
    sheet,
)
from clothwise.work.picture import LineRole
from clothwise.work.scene_lines import traced
from clothwise.work.scene_sheets import layer_of, with_placed
from clothwise.work.scene_showing import Showing
from clothwise.work.stage import Stage, beside_each_other
from clothwise.work.steps import pieces_worked_on


def without_uses(on: Showing) -> tuple[Stage, str]:
    """The pieces that are worked on, with the edges or marks that are meant."""
    operation = on.operation
    names = pieces_worked_on(on.pattern, operation)
    if operation.highlight is Highlight.MARKS:
        return _marked(on, names), ""
    is_fusing = operation.station is Station.FUSING
    stages = []
    for name in names:
        piece = sheet(on.cloth, name)
        layer = layer_of(on, piece.turned_over() if is_fusing else piece)
        stage = Stage((replace(layer, fused=is_fusing),))
        role = LineRole.SEWN_NOW if operation.station is Station.MACHINE else LineRole.MEANT
        brought_out = () if operation.highlight is Highlight.WHOLE_PIECE else operation.prepares
        for prepared in brought_out:
            owner, _, edge = prepared.partition(".")
            if owner == name and edge:
                stage = stage.adding(traced(piece.run(Run((EdgeRef(name, edge),))), role))
        stages.append(stage.unfolded())
    return beside_each_other(stages), ""


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
    first, *others = with_placed(on, sheets, marks=side).layers
    named = replace(first, words=f"wearer's {side}")
    return Stage((named, *(replace(other, words="") for other in others)))
