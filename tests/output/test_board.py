"""Pieces on the board, read back as XML, and their places."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pytest
import shapely

from clothwise.components import read_design
from clothwise.components.registry import component_class
from clothwise.geometry import Point
from clothwise.output.board import PieceOnBoard, board_pieces, size_outlines
from clothwise.output.board_order import BodyOrder, on_the_body
from clothwise.output.board_places import GAP_MM, board_places
from clothwise.output.bounds import Bounds
from clothwise.pattern import Pattern, cutting_line
from clothwise.units import LengthUnit

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def drafted(name: str = "kiln-dress", view: str = "A", size: str = "") -> Pattern:
    file = read_design(EXAMPLES / name)
    return file.draft(view=view, body=file.body(size))


@cache
def on_board() -> dict[str, PieceOnBoard]:
    return board_pieces(drafted())


def tree(piece: PieceOnBoard) -> ElementTree.Element:
    return ElementTree.fromstring(piece.svg)


def of_class(piece: PieceOnBoard, name: str) -> Iterator[ElementTree.Element]:
    return (each for each in tree(piece).iter() if name in each.get("class", "").split())


def numbers(data: str) -> list[float]:
    return [float(text) for text in re.findall(r"-?\d+(?:\.\d+)?", data)]


def test_every_piece_and_edge_is_there_by_name() -> None:
    pattern = drafted()
    assert list(on_board()) == list(pattern.pieces)
    for name, piece in on_board().items():
        assert tree(piece).get("data-piece") == name
        drawn = [edge.get("data-edge") for edge in of_class(piece, "edge")]
        assert drawn == list(pattern.piece(name).edge_names)


def test_edges_are_drawn_true_to_shape() -> None:
    """The ends and the stated length of each line are those of the draft, y downward."""
    for name, piece in on_board().items():
        for edge in of_class(piece, "edge"):
            path = drafted().piece(name).edge(edge.get("data-edge", ""))
            data = numbers(edge.get("d", ""))
            assert data[:2] == pytest.approx([path.start.x, -path.start.y], abs=0.006)
            assert data[-2:] == pytest.approx([path.end.x, -path.end.y], abs=0.006)
            assert float(edge.get("data-mm", "")) == pytest.approx(path.length, abs=0.006)


def test_the_cloth_is_the_cutting_line() -> None:
    for name, piece in on_board().items():
        cloth = next(of_class(piece, "cloth")).get("d", "")
        points = numbers(cloth)
        outline = shapely.Polygon([(p.x, -p.y) for p in cutting_line(drafted(), name).points()])
        corners = shapely.MultiPoint(list(zip(points[::2], points[1::2], strict=True)))
        # Control points of curves lie beside the line, its ends on it.
        on_line = [p for p in corners.geoms if outline.exterior.distance(p) < 0.1]
        assert len(on_line) >= 4
        assert (piece.box.width, piece.box.height) == pytest.approx(
            (outline.bounds[2] - outline.bounds[0], outline.bounds[3] - outline.bounds[1]), abs=0.2
        )


def test_no_color_and_no_style_is_written() -> None:
    """Pens are the style sheet's, and a strict policy for content allows no style attribute."""
    for piece in on_board().values():
        for word in ("style=", "fill=", "stroke=", "#"):
            assert word not in piece.svg


def test_lengths_are_told_in_the_unit_asked_for() -> None:
    edge = next(e for e in on_board()["skirt-front"].edges if e.name == "side")
    assert edge.length == "79.7 cm"
    inch = board_pieces(drafted(), unit=LengthUnit.INCH)["skirt-front"].edges
    assert next(e for e in inch if e.name == "side").length == "31 3/8 in"


def test_an_edge_knows_what_comes_to_lie_on_it() -> None:
    """Not the whole seam: of the waist, the center of the front meets that of the skirt."""
    edges = {edge.name: edge for edge in on_board()["bodice-front"].edges}
    assert edges["waist-center"].partners == ("skirt-front.waist-center",)
    assert edges["waist-center"].meets == "sewn to skirt front in the waist seam"
    assert edges["bust-dart-in"].partners == ("bodice-front.bust-dart-out",)
    sleeve = {edge.name: edge for edge in on_board()["sleeve"].edges}
    assert sleeve["cap"].partners == ("bodice-front.armhole", "bodice-back.armhole")
    assert "eased in by 2.6 cm" in sleeve["cap"].meets
    back = {edge.name: edge for edge in on_board()["bodice-back"].edges}
    assert back["center"].meets == "lies on the fold of the cloth"


@pytest.mark.parametrize("view", ["A", "B"])
def test_partners_agree_with_each_other(view: str) -> None:
    """If one edge names another as its partner, the other names it."""
    pieces = board_pieces(drafted(view=view))
    named = {
        (f"{name}.{edge.name}", partner)
        for name, piece in pieces.items()
        for edge in piece.edges
        for partner in edge.partners
    }
    assert named
    assert named == {(second, first) for first, second in named}


def test_names_from_a_design_cannot_leave_their_attribute() -> None:
    from dataclasses import replace

    pattern = drafted()
    piece = replace(pattern.piece("pocket"), title='<script>"&\x00')
    hostile = replace(pattern, pieces={**pattern.pieces, "pocket": piece})
    svg = board_pieces(hostile)["pocket"].svg
    assert "<script" not in svg
    assert ElementTree.fromstring(svg).get("data-title", "").startswith("<script>")


def test_words_stand_inside_the_piece() -> None:
    for name, piece in on_board().items():
        label = next(of_class(piece, "label"))
        spots = label.get("data-spots", "").split(";")
        assert len(spots) >= 2
        for spot in spots:
            x, y, width, height, is_turned = map(float, spot.split())
            if is_turned:
                width, height = height, width
            room = shapely.box(x - width / 2, -y - height / 2, x + width / 2, -y + height / 2)
            outside = room.difference(drafted().piece(name).outline.polygon.buffer(0.5))
            assert outside.area < 0.05 * room.area, (name, spot)


def test_a_pocket_lies_on_its_host_and_says_whose_it_is() -> None:
    placed = next(of_class(on_board()["skirt-front"], "placed"))
    assert placed.get("data-component") == "pocket"
    placement = drafted().placements["pocket-placement"]
    assert numbers(placed.get("data-top", "")) == pytest.approx(
        [placement.onto.e, -placement.onto.f], abs=0.01
    )


def test_darts_can_be_taken_hold_of() -> None:
    piece = drafted().piece("bodice-front")
    darts = {each.get("data-dart"): each for each in of_class(on_board()["bodice-front"], "dart")}
    assert list(darts) == ["waist-dart", "bust-dart"]
    apex = piece.apex(piece.darts[1])
    assert numbers(darts["bust-dart"].get("data-apex", "")) == pytest.approx(
        [apex.x, -apex.y], abs=0.01
    )


def test_sizes_lie_in_each_other() -> None:
    small = size_outlines(drafted(size="34"), "34", 0)
    large = size_outlines(drafted(size="52"), "52", 9)
    assert list(small) == list(large)
    assert max(numbers(small["skirt-back"])) < max(numbers(large["skirt-back"]))
    assert ElementTree.fromstring(small["sleeve"]).get("data-size") == "34"


# Places


def boxes() -> dict[str, Bounds]:
    return {name: piece.box for name, piece in on_board().items()}


def laid(places: dict[str, Point], of: dict[str, Bounds]) -> list[shapely.Polygon]:
    return [
        shapely.box(
            at.x + of[name].left, at.y + of[name].bottom, at.x + of[name].right, at.y + of[name].top
        )
        for name, at in places.items()
    ]


def test_pieces_lie_clear_of_each_other() -> None:
    found = laid(board_places(boxes()), boxes())
    for number, one in enumerate(found):
        for other in found[number + 1 :]:
            assert one.distance(other) > GAP_MM * 0.6


def test_a_place_is_kept_while_a_shape_changes() -> None:
    before = board_places(boxes())
    wider = {name: box.grown(20.0) for name, box in boxes().items()}
    assert board_places(wider, before) == before


def test_a_new_piece_finds_a_place_of_its_own_and_a_part_stays_beside_its_whole() -> None:
    of = boxes()
    old = {name: box for name, box in of.items() if name != "belt"}
    places = board_places(of, board_places(old))
    assert {name: places[name] for name in old} == board_places(old)
    alone = laid({"belt": places["belt"]}, of)[0]
    assert all(alone.distance(each) > 10 for each in laid(board_places(old), of))
    whole, half = of["skirt-front"], of["skirt-front"]
    lower = Bounds(half.left, half.bottom, half.right, half.bottom + 200.0)
    parted = board_places(
        {**of, "skirt-front-cut": lower},
        board_places(of),
        {"skirt-front-cut": "skirt-front", "skirt-front": "skirt-front"},
    )
    step = parted["skirt-front-cut"] - parted["skirt-front"]
    assert step.x == 0.0
    assert -80.0 < step.y < 0.0, whole


def ordered(name: str) -> tuple[BodyOrder, dict[str, Point], dict[str, Bounds]]:
    """The order of an example's pieces, and where they then lie."""
    file = read_design(EXAMPLES / name)
    pattern = file.draft()
    families = {each.name: component_class(each.kind).family for each in file.design.components}
    order = on_the_body(pattern, families)
    of = {key: piece.box for key, piece in board_pieces(pattern).items()}
    return order, board_places(of, order=order), of


def test_pieces_are_laid_out_as_on_the_body() -> None:
    order, places, of = ordered("kiln-dress")
    assert order.upper == (
        *(("bodice-front",), ("bodice-back",)),
        *(("sleeve",), ("collar-upper", "collar-under")),
    )
    assert order.lower == (("skirt-front",), ("skirt-back",))
    assert order.beside == (("belt",), ("facing-front", "facing-back"), ("pocket",))

    def left(name: str) -> float:
        return places[name].x + of[name].left

    across = ["bodice-front", "bodice-back", "sleeve", "collar-upper", "facing-front", "pocket"]
    assert [left(each) for each in across] == sorted(left(each) for each in across)
    assert left("skirt-front") < left("skirt-back") < left("facing-front")
    for above, below in (("bodice", "skirt"), ("skirt", "belt")):
        lowest = min(places[n].y + box.bottom for n, box in of.items() if n.startswith(above))
        highest = max(places[n].y + box.top for n, box in of.items() if n.startswith(below))
        assert highest < lowest
    levels = [places["collar-upper"].y, places["collar-under"].y]
    assert levels == sorted(levels, reverse=True)


def test_a_yoke_lies_above_its_back_and_panels_beside_each_other() -> None:
    order, places, of = ordered("market-blouse")
    assert ("bodice-back-yoke", "bodice-back") in order.upper
    back, yoke = "bodice-back", "bodice-back-yoke"
    assert places[back].y + of[back].top < places[yoke].y + of[yoke].bottom
    assert places["bodice-front"].x < places[back].x
    panels = ["corselette-front", "corselette-front-side", "corselette-back-side"]
    order, places, of = ordered("stage-corselette")
    assert order.upper[:3] == tuple((each,) for each in panels)
    tops = {round(places[each].y + of[each].top) for each in panels}
    assert len(tops) == 1


@pytest.mark.parametrize("name", sorted(each.name for each in EXAMPLES.iterdir() if each.is_dir()))
def test_the_order_on_the_body_leaves_no_piece_out_and_none_on_another(name: str) -> None:
    order, places, of = ordered(name)
    groups = (*order.upper, *order.lower, *order.beside)
    named = [each for group in groups for each in group]
    assert sorted(named) == sorted(of) == sorted(places)
    found = laid(places, of)
    for number, one in enumerate(found):
        assert all(one.distance(other) > GAP_MM * 0.6 for other in found[number + 1 :])


def test_an_empty_board_has_no_places() -> None:
    assert board_places({}) == {}


@pytest.mark.parametrize("name", sorted(each.name for each in EXAMPLES.iterdir() if each.is_dir()))
def test_every_example_lies_on_the_board(name: str) -> None:
    pattern = read_design(EXAMPLES / name).draft()
    pieces = board_pieces(pattern)
    assert list(pieces) == list(pattern.pieces)
    for piece in pieces.values():
        ElementTree.fromstring(piece.svg)
    places = board_places({key: piece.box for key, piece in pieces.items()})
    found = laid(places, {key: piece.box for key, piece in pieces.items()})
    for number, one in enumerate(found):
        assert all(one.distance(other) > GAP_MM * 0.6 for other in found[number + 1 :])
