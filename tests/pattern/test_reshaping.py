"""A component may redraw a piece of an earlier one, as long as no edge that is used is lost."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwise.errors import ComponentError
from clothwise.geometry import Outline, Point, polyline
from clothwise.pattern.graph import EdgeRef, Finish, FinishKind, run
from clothwise.pattern.intended_corner import IntendedCorner
from clothwise.pattern.pattern import Contribution, Pattern
from sketches import rectangle

HEM = Finish("hem", "hem", run("front.bottom"), FinishKind.SINGLE_HEM, 30)
PATTERN = Pattern().adding(Contribution(pieces=(rectangle("front"),), finishes=(HEM,)))


def test_the_redrawn_piece_takes_the_place_of_the_old_one() -> None:
    wider = rectangle("front", 260)
    assert PATTERN.adding(Contribution(reshaped=(wider,))).piece("front") == wider


def test_an_edge_that_is_used_cannot_be_lost() -> None:
    front = PATTERN.piece("front")
    edges = {("foot" if n == "bottom" else n): path for n, path in front.outline.edges.items()}
    with pytest.raises(ComponentError, match="bottom of front is redrawn"):
        PATTERN.adding(Contribution(reshaped=(replace(front, outline=Outline(edges)),)))


def test_a_piece_that_is_not_there_cannot_be_redrawn() -> None:
    with pytest.raises(ComponentError, match="no piece named back"):
        PATTERN.adding(Contribution(reshaped=(rectangle("back"),)))


def test_corners_meant_on_lines_that_are_redrawn_are_forgotten() -> None:
    meant = tuple(IntendedCorner(EdgeRef("front", edge), "point") for edge in ("top", "left"))
    before = PATTERN.adding(Contribution(intended_corners=meant))
    front = before.piece("front")
    top = front.edge("top")
    peak = Point((top.start.x + top.end.x) / 2, top.start.y + 30)
    edges = {**front.outline.edges, "top": polyline([top.start, peak, top.end])}
    after = before.adding(Contribution(reshaped=(replace(front, outline=Outline(edges)),)))
    assert [corner.line.edge for corner in after.intended_corners] == ["left"]
