"""Putting a pattern together from what components contribute."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.errors import ComponentError
from clothwise.geometry import Point, Transform
from clothwise.pattern.graph import (
    EdgeRef,
    Finish,
    FinishKind,
    Layer,
    Match,
    Placement,
    Seam,
    run,
)
from clothwise.pattern.mark import Mark, MarkKind, NotchKind
from clothwise.pattern.pattern import Contribution, Pattern
from sketches import rectangle

SIDE = Seam(
    "side",
    "side seam",
    (Layer(run("front.right")), Layer(run("-back.left"))),
    allowance_mm=15,
    matches=(Match("hip", (120.0, 120.0), NotchKind.SINGLE),),
    component="maker",
)
HEM = Finish("hem", "hem", run("front.bottom", "back.bottom"), FinishKind.SINGLE_HEM, 30)
POCKET = Placement(
    "pocket on", "pocket", "pocket", "front", Transform(), run("pocket.bottom", "pocket.right"), 10
)
PATTERN = Pattern().adding(
    Contribution(
        pieces=(rectangle("front"), rectangle("back"), rectangle("pocket", 80, 90)),
        seams=(SIDE,),
        finishes=(HEM,),
        placements=(POCKET,),
        runs={"hem": HEM.run},
    )
)


def test_a_run_is_as_long_as_its_edges() -> None:
    assert PATTERN.run_length(HEM.run) == pytest.approx(400)
    assert PATTERN.run_length(run("front.right", "front.top")) == pytest.approx(500)
    assert PATTERN.edge_length(EdgeRef("front", "right", reverse=True)) == pytest.approx(300)


def test_an_edge_is_travelled_as_the_run_says() -> None:
    forth, back = EdgeRef("front", "right"), EdgeRef("front", "right", reverse=True)
    assert PATTERN.path(back) == PATTERN.path(forth).reversed()
    assert PATTERN.path(back).end == Point(200, 0)


@given(st.floats(0, 500))
def test_a_spot_lies_where_its_length_says(at_mm: float) -> None:
    """Up the right edge, then along the top, both against the outline of another order."""
    spot = PATTERN.spot(run("front.right", "front.top"), at_mm)
    if at_mm <= 300:
        assert spot.edge.edge == "right"
        assert spot.point.is_close(Point(200, at_mm), 1e-4)
    elif at_mm > 300 + 1e-5:
        assert spot.edge.edge == "top"
        assert spot.point.is_close(Point(500 - at_mm, 300), 1e-4)
    reverse = PATTERN.spot(run("-front.top", "-front.right"), 500 - at_mm)
    assert reverse.point.is_close(spot.point, 1e-4)


def test_a_spot_beyond_a_run_is_its_end() -> None:
    assert PATTERN.spot(run("front.right"), 9999).point == Point(200, 300)
    assert PATTERN.spot(run("front.right"), -5).point == Point(200, 0)


def test_uses_are_found_by_edge() -> None:
    assert PATTERN.uses_of("front", "right") == (SIDE,)
    assert PATTERN.uses_of("back", "left") == (SIDE,)
    assert PATTERN.uses_of("front", "bottom") == (HEM,)
    assert PATTERN.uses_of("pocket", "bottom") == (POCKET,)
    assert PATTERN.uses_of("front", "top") == ()
    assert list(PATTERN.all_uses()) == [SIDE, HEM, POCKET]
    assert [PATTERN.use(use.name) for use in (SIDE, HEM, POCKET)] == [SIDE, HEM, POCKET]
    with pytest.raises(KeyError):
        PATTERN.use("zip")


def test_an_allowance_is_the_edges_own_or_its_seams() -> None:
    assert PATTERN.allowance("front", "right") == 15
    assert PATTERN.allowance("front", "bottom") == 30
    assert PATTERN.allowance("front", "top") == 0
    own = replace(rectangle("front"), allowances={"right": 0.0, "top": 7.0})
    pattern = Pattern().adding(Contribution(pieces=(own, rectangle("back")), seams=(SIDE,)))
    assert pattern.allowance("front", "right") == 0
    assert pattern.allowance("front", "top") == 7
    assert pattern.allowance("back", "left") == 15


def test_a_missing_piece_is_named_with_those_there_are() -> None:
    with pytest.raises(ComponentError) as caught:
        PATTERN.piece("yoke")
    assert "yoke" in caught.value.what
    assert "front, back, pocket" in caught.value.where
    assert caught.value.what_to_do
    with pytest.raises(ComponentError) as caught:
        Pattern().piece("yoke")
    assert "none" in caught.value.where


def test_a_missing_run_is_named_with_who_needs_it() -> None:
    assert PATTERN.named_run("hem", "facing") == HEM.run
    with pytest.raises(ComponentError) as caught:
        PATTERN.named_run("armhole", "sleeve")
    assert "sleeve" in caught.value.what
    assert "armhole" in caught.value.what
    assert "hem" in caught.value.how_much


@pytest.mark.parametrize(
    "part",
    [
        Contribution(pieces=(rectangle("front"),)),
        Contribution(seams=(SIDE,)),
        Contribution(finishes=(HEM,)),
        Contribution(placements=(POCKET,)),
    ],
    ids=["piece", "seam", "finish", "placement"],
)
def test_a_name_is_given_once(part: Contribution, request: pytest.FixtureRequest) -> None:
    with pytest.raises(ComponentError) as caught:
        PATTERN.adding(part)
    assert request.node.callspec.id in caught.value.what
    assert caught.value.where
    assert caught.value.what_to_do


def test_adding_leaves_the_pattern_before_as_it_was() -> None:
    mark = Mark(MarkKind.DOT, "end of the opening", at=Point(50, 50))
    later = PATTERN.adding(
        Contribution(
            pieces=(rectangle("yoke"),), marks={"front": (mark,)}, runs={"hem": run("yoke.bottom")}
        )
    )
    assert "yoke" not in PATTERN.pieces
    assert PATTERN.piece("front").marks == ()
    assert later.piece("front").marks == (mark,)
    assert later.named_run("hem", "x") == run("yoke.bottom")
    assert PATTERN.named_run("hem", "x") == HEM.run


def test_a_caught_layer_takes_over_the_matches_it_reaches() -> None:
    """A layer from 100 mm on meets the hip (120 mm) at 20 mm; one that is eased in meets none."""
    loops = {
        "whole": (Layer(run("loop.left")), 120.0),
        "from 100": (Layer(run("loop.left"), span=(100, 200)), 20.0),
        "ends at it": (Layer(run("loop.left"), span=(20, 120)), 100.0),
        "elsewhere": (Layer(run("loop.left"), span=(150, 250)), None),
        "eased": (Layer(run("loop.left"), ease_mm=5), None),
    }
    for name, (layer, expected) in loops.items():
        pattern = PATTERN.adding(
            Contribution(pieces=(rectangle("loop", 40, 100),), catches={"side": (layer,)})
        )
        seam = pattern.seams["side"]
        assert seam.layers == (*SIDE.layers, layer)
        assert seam.matches[0].at_mm == (120.0, 120.0, expected), name


def test_a_layer_cannot_be_caught_in_no_seam() -> None:
    with pytest.raises(ComponentError, match="no seam named yoke"):
        PATTERN.adding(Contribution(catches={"yoke": (Layer(run("front.top")),)}))
