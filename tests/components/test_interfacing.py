"""Interfacing with a cut size of its own, and for pieces that had none."""

from __future__ import annotations

import pytest
from shapely import Polygon

from clothwise.checks import check
from clothwise.cutting.cutting_list import cut_items, cutting_list
from clothwise.cutting.item import CutItem
from clothwise.cutting.layout import LayerPlan
from clothwise.errors import ComponentError
from clothwise.output.cut_text import cut_texts
from clothwise.pattern import Pattern, Ply
from clothwise.work import plan
from component_cases import Parameters, Parts, body, chart, drafted

DRESS: Parts = {
    "bodice": ("darted-bodice", {}),
    "skirt": ("a-line-skirt", {}),
    "facing": ("front-and-neck-facing", {}),
    "collar": ("two-piece-collar", {}),
    "sleeve": ("set-in-sleeve", {}),
    "hem": ("double-hem", {}),
}


def interfaced(**parameters: float | str) -> Parts:
    given: Parameters = dict(parameters)
    return {**DRESS, "interfacing": ("interfacing", given)}


def fused(pattern: Pattern) -> dict[str, CutItem]:
    """What is cut from the interfacing, by id."""
    assignment = {
        (piece.name, copy.name): copy.role
        for piece in pattern.pieces.values()
        for copy in piece.copies
    }
    items = cut_items(pattern, assignment, "interfacing", LayerPlan.FOLDED)
    return {item.id: item for item in items}


def area(item: CutItem) -> float:
    return float(Polygon(item.outline).area)


@pytest.mark.parametrize("beyond", [-6.0, 0.0, 5.0, 13.0])
def test_interfacing_is_cut_so_far_beyond_the_stitching_line(beyond: float) -> None:
    """F13 (common practice, no source): without allowances, or 1/2 in beyond the fold line."""
    for wearer in (chart()[0], body(), chart()[-1]):
        pattern = drafted(interfaced(beyond=beyond), wearer)
        assert check(pattern, wearer) == ()
        plan(pattern)
        items, net = fused(pattern), fused(drafted(DRESS, wearer))
        assert items.keys() == net.keys()
        for name, item in items.items():
            cut, line = Polygon(item.outline), Polygon(net[name].outline)
            outer, inner = (cut, line) if beyond > 0 else (line, cut)
            assert outer.buffer(0.01).covers(inner), name
            if item.fold_edge is None and beyond:
                assert inner.exterior.distance(outer.exterior) == pytest.approx(
                    abs(beyond), abs=0.1
                )


def test_an_edge_on_the_fold_stays_on_the_fold() -> None:
    pattern = drafted(interfaced(beyond=8.0))
    item, net = (fused(each)["facing-back/interfacing"] for each in (pattern, drafted(DRESS)))
    assert item.fold_edge is not None
    assert min(x for x, _ in item.outline) == pytest.approx(min(x for x, _ in net.outline))
    assert area(item) > area(net)


def test_the_size_is_told_where_it_is_cut() -> None:
    pattern = drafted(interfaced(beyond=5.0))
    told = cut_texts(pattern.piece("facing-front"))
    assert told[1] == "Cut 1 pair from interfacing, 5 mm (3/16 in) beyond the stitching line"
    assignment = {
        (piece.name, copy.name): copy.role
        for piece in pattern.pieces.values()
        for copy in piece.copies
    }
    lines = [line for line in cutting_list(pattern, assignment, {}) if line.ply is Ply.INTERFACING]
    assert {line.told for line in lines} == {"5 mm (3/16 in) beyond the stitching line"}
    net = [
        line for line in cutting_list(drafted(DRESS), assignment, {}) if line.ply is Ply.INTERFACING
    ]
    assert {line.told for line in net} == {"to the stitching line"}


def test_interfacing_with_allowances_is_cut_like_the_cloth() -> None:
    pattern = drafted(interfaced(cut="cutting line"))
    for copy in pattern.piece("collar-upper").copies:
        assert copy.cut_along == "cutting line"
    assert check(pattern, body()) == ()


def test_fronts_are_interfaced_whole_and_fused_first() -> None:
    for wearer in chart():
        pattern = drafted(interfaced(part="front", beyond=-2.0), wearer)
        assert check(pattern, wearer) == ()
        copies = pattern.piece("bodice-front").copies
        assert [copy.name for copy in copies if copy.ply is Ply.INTERFACING] == [
            "interfacing left",
            "interfacing right",
        ]
        assert pattern.piece("facing-front").copies == drafted(DRESS).piece("facing-front").copies
        order = [each.name for each in plan(pattern).operations]
        assert order.index("interfacing-fuse") < order.index("bodice-front-darts")


def test_what_is_not_there_is_told() -> None:
    with pytest.raises(ComponentError, match="no piece to interface: cuff") as told:
        drafted(interfaced(part="cuff"))
    assert "Bodice front" in told.value.how_much
