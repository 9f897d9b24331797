"""A layout on a page: what can be moved, and where it lies."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from clothwise.components import read_make
from clothwise.cutting import Effort
from clothwise.cutting.keeping import Searching, search_layout
from clothwise.output.layout_board import SCALE, LayoutBoard, layout_board
from clothwise.packet.making import ClothPlan, Making
from clothwise.packet.pins import pins_where_they_lie
from clothwise.units import parse_length

KILN = Path(__file__).parents[2] / "examples" / "kiln-dress" / "makes" / "view-a.yaml"


@cache
def _plan(name: str, layers: str = "") -> tuple[Making, ClothPlan]:
    making = Making(read_make(KILN))
    if layers:
        making = making.with_cloth(
            replace(making.file.make.fabric(name), layers=layers, width="180cm", usable_width="")
        )
    question = making.question(name)
    layout = search_layout(question, Searching(Effort(0, 0)))
    return making, making.planned(name, question, layout)


def _board(name: str, layers: str = "", **more: object) -> LayoutBoard:
    _, plan = _plan(name, layers)
    return layout_board(plan.layout, plan.items, paint="url(#cloth)", **more)  # type: ignore[arg-type]


def _cuts(board: LayoutBoard) -> list[ET.Element]:
    return [each for each in ET.fromstring(board.svg).iter() if "data-copy" in each.attrib]


@pytest.mark.parametrize(
    "layers", ["", "single", "partly folded", "folded to the middle", "folded crosswise"]
)
def test_every_cut_is_drawn_once_and_is_a_control_if_it_may_be_pinned(layers: str) -> None:
    _, plan = _plan("linen", layers)
    board = _board("linen", layers)
    drawn = _cuts(board)
    assert sorted(each.attrib["data-copy"] for each in drawn) == sorted(
        placement.item_ids[0] for placement in plan.layout.placements
    )
    for each, cut in zip(drawn, board.cuts, strict=True):
        assert (each.attrib.get("tabindex") == "0") is cut.can_be_pinned
        assert each.attrib["aria-label"]


@pytest.mark.parametrize(
    "layers", ["", "single", "partly folded", "folded to the middle", "face to face"]
)
def test_a_piece_stands_where_a_pin_would_keep_it(layers: str) -> None:
    """`pins_where_they_lie` writes the same places by another way."""
    making, plan = _plan("linen", layers)
    for cut in _board("linen", layers).cuts:
        if not cut.can_be_pinned:
            continue
        pins = pins_where_they_lie(making, [plan], [cut.copies[0]])
        pin = pins[cut.copies[0]]
        assert cut.along_mm == pytest.approx(parse_length(pin.along), abs=0.01)
        assert cut.across_mm == pytest.approx(parse_length(pin.across), abs=0.01)


def test_what_may_not_be_pinned_would_be_refused_by_the_judge() -> None:
    making, plan = _plan("linen")
    fixed = [cut for cut in _board("linen").cuts if not cut.can_be_pinned]
    for cut in fixed:
        with pytest.raises(Exception, match=r"cut once|too wide"):
            pins_where_they_lie(making, [plan], [cut.copies[0]])


def test_the_drawing_is_to_scale() -> None:
    """The sleeve's outline is as long and wide on the page as its cutting line, at 1:10."""
    _, plan = _plan("linen")
    board = _board("linen")
    found = next(each for each in _cuts(board) if each.attrib["data-copy"] == "sleeve/left")
    path = found.find("path[@class='outline']")
    assert path is not None
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", path.attrib["d"])]
    item = next(item for item in plan.items if item.id == "sleeve/left")
    ys = [y for _, y in item.outline]
    along = max(numbers[0::2]) - min(numbers[0::2])
    assert along * SCALE == pytest.approx(max(ys) - min(ys), abs=1.0)


def test_pinned_pieces_carry_a_pin_and_say_so() -> None:
    board = _board("linen", pinned=("sleeve/left", "sleeve/right"))
    pinned = [each for each in _cuts(board) if "pinned" in each.attrib["class"].split()]
    assert [each.attrib["data-copy"] for each in pinned] == ["sleeve/left"]
    assert "pinned" in pinned[0].attrib["aria-label"]
    assert any("pin" in part.attrib.get("class", "") for part in pinned[0].iter())


def test_colors_come_from_the_page_and_the_cloth_only() -> None:
    svg = _board("print").svg
    assert "style=" not in svg
    assert "stroke=" not in svg
    assert set(re.findall(r'fill="([^"]*)"', svg)) == {"url(#cloth)"}
