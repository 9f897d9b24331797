from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.geometry import Point, Vector, straight
from clothwise.output import (
    Caption,
    Color,
    Drawing,
    Layer,
    Shape,
    Text,
    cut_texts,
    leaves,
    nested,
    piece_drawing,
    piece_lines,
    size_layer,
    to_pdf,
)
from clothwise.output.cut_text import allowance_text, side_texts
from clothwise.output.drawing import Group, settled_text
from clothwise.output.free_space import text_polygon
from clothwise.output.ink import ink_of
from clothwise.output.nest_notches import notch_sizes
from clothwise.output.pens import INK, size_style
from clothwise.output.piece_drawing import (
    CUTTING_LAYER,
    MARKS_LAYER,
    STITCHING_LAYER,
    WORDS_LAYER,
)
from clothwise.output.piece_lines import EdgeKind, NotchMark
from clothwise.pattern import (
    Copy,
    CutTo,
    Mark,
    MarkKind,
    NotchKind,
    Ply,
    Side,
    cutting_line,
    notches,
)
from clothwise.units import LengthUnit
from output.pdf_reading import painted_on, read
from output.printed import box, dress, dress_drawings, dress_sizes, pattern_of

DRESS_PIECES = list(dress().pieces)


def texts_of(drawing: Drawing) -> list[Text]:
    return [
        settled_text(leaf.item, leaf.transform)
        for leaf in leaves(drawing)
        if isinstance(leaf.item, Text)
    ]


def said(drawing: Drawing) -> str:
    words = " ".join(text.text for text in texts_of(drawing))
    return words.replace("\N{NO-BREAK SPACE}", " ")


def strokes_in(drawing: Drawing, layer: str) -> list[Shape]:
    found = []
    for leaf in leaves(drawing):
        if leaf.layer.name == layer and isinstance(leaf.item, Shape) and leaf.item.stroke:
            found.append(leaf.item)
    return found


def is_sewn_to_size(name: str) -> float:
    """What the model says is stitched on a piece, hems and darts included, mm."""
    pattern, piece = dress(), dress().piece(name)
    length = 0.0
    for edge in piece.edge_names:
        dart = piece.dart_of_leg(edge)
        if not dart and edge != piece.fold_edge and pattern.allowance(name, edge) > 0:
            length += piece.edge(edge).length
    return length


@pytest.mark.parametrize("number", range(len(DRESS_PIECES)))
def test_stitching_lines_in_the_pdf_are_as_long_as_in_the_model(number: int) -> None:
    """Read back from the content stream, curves integrated there; darts compared apart."""
    name, drawing = DRESS_PIECES[number], dress_drawings()[number]
    only = Drawing((drawing.layer(STITCHING_LAYER),))
    painted = painted_on(read(to_pdf(only)), 0)
    legs = 2 * len(dress().piece(name).darts)
    edges = [p for p in painted if p.layer == STITCHING_LAYER]
    lines = piece_lines(dress(), name)
    dart_length = sum(leg.length for dart in lines.darts for leg in dart.legs)
    total = sum(p.length_mm for p in edges)
    assert total - dart_length == pytest.approx(is_sewn_to_size(name), abs=0.1)
    sewn = [path.length for path in (*lines.edges_of(EdgeKind.SEWN),)]
    assert len(edges) == len(sewn) + legs + len(lines.edges_of(EdgeKind.TURNED))


@pytest.mark.parametrize("name", DRESS_PIECES)
def test_the_cutting_line_and_the_fold_are_the_whole_outline(name: str) -> None:
    pattern = dress()
    lines = piece_lines(pattern, name)
    whole = cutting_line(pattern, name).path.length
    parts = sum(path.length for path in lines.cut) + (lines.fold.length if lines.fold else 0.0)
    assert parts == pytest.approx(whole, abs=0.01)
    assert (lines.fold is None) == (pattern.piece(name).fold_edge is None)


@pytest.mark.parametrize("name", DRESS_PIECES)
def test_dart_legs_reach_from_the_cutting_line_to_the_apex(name: str) -> None:
    lines = piece_lines(dress(), name)
    ring = shapely.LinearRing([(p.x, p.y) for p in lines.outline.points()])
    for dart in lines.darts:
        for path in (*dart.legs, dart.middle):
            assert path.end.is_close(dart.apex, 1e-6)
            assert ring.distance(shapely.Point(path.start.x, path.start.y)) < 0.1


@pytest.mark.parametrize("name", DRESS_PIECES)
def test_every_notch_is_on_the_cutting_line(name: str) -> None:
    pattern = dress()
    lines = piece_lines(pattern, name)
    assert len(lines.notches) == sum(
        1 + (notch.kind is NotchKind.DOUBLE) for notch in notches(pattern, name)
    )
    ring = shapely.LinearRing([(p.x, p.y) for p in lines.outline.points()])
    for mark in lines.notches:
        assert ring.distance(shapely.Point(mark.on_cut.x, mark.on_cut.y)) < 0.06


def assert_words_are_clear(drawing: Drawing, *, inside: shapely.Polygon) -> None:
    """Words stand inside the piece, touch no line and not each other."""
    boxes = [text_polygon(text) for text in texts_of(drawing)]
    assert boxes
    for one, other in combinations(boxes, 2):
        assert one.intersection(other).area < 0.35 * min(one.area, other.area)
    lines = Drawing(
        tuple(replace(layer, items=tuple(_without_texts(layer))) for layer in drawing.layers)
    )
    for part in ink_of(lines, 0.05):
        # Boxes hold the deepest and the tallest letter; lines may graze the air between lines.
        geometry = part.geometry.boundary if part.is_solid else part.geometry
        for polygon in boxes:
            assert not geometry.intersects(polygon.buffer(-0.05))
    for polygon in boxes:
        assert inside.contains(polygon)


def _without_texts(layer: Layer) -> list[Shape]:
    return [
        leaf.item
        for leaf in leaves(Drawing((layer,)))
        if isinstance(leaf.item, Shape) and (leaf.item.stroke or leaf.item.fill)
    ]


@pytest.mark.parametrize("number", range(len(DRESS_PIECES)))
def test_words_stand_inside_and_clear_of_every_line(number: int) -> None:
    piece = dress().piece(DRESS_PIECES[number])
    assert_words_are_clear(dress_drawings()[number], inside=piece.outline.polygon)


@settings(max_examples=20)
@given(st.floats(30, 500), st.floats(30, 500), st.booleans())
def test_words_fit_boxes_of_any_shape(width: float, height: float, on_fold: bool) -> None:
    piece = box(width, height, on_fold=on_fold)
    drawing = piece_drawing(pattern_of(piece), "box", Caption("Kiln dress", "38", "7"))
    assert "7 Box" in said(drawing)
    on_leader = max(text.at.x for text in texts_of(drawing)) > width
    if not on_leader:
        assert_words_are_clear(drawing, inside=piece.outline.polygon)


def test_words_of_a_tiny_piece_stand_beside_it_on_a_leader() -> None:
    drawing = piece_drawing(pattern_of(box(9, 9)), "box", Caption(size="38"))
    (title,) = [text for text in texts_of(drawing) if text.text == "Box"]
    assert title.at.x > 19  # beyond the cutting line


def test_a_piece_says_its_name_size_cut_and_allowance() -> None:
    drawing = piece_drawing(pattern_of(box(200, 150)), "box", Caption("Kiln dress", "38", "4"))
    words = said(drawing)
    for expected in ("4 Box", "Size 38", "Cut 1 pair from main fabric", "Kiln dress"):
        assert expected in words
    assert "Allowance included: 1 cm" in words
    assert "straight grain" in words


def test_the_type_is_larger_on_larger_pieces() -> None:
    sizes = []
    for side in (45, 100, 400):
        drawing = piece_drawing(pattern_of(box(side, side)), "box")
        sizes.append(max(text.size_mm for text in texts_of(drawing)))
    assert sizes == sorted(sizes)
    assert sizes[0] < sizes[-1]


def test_a_piece_on_the_fold_has_a_bracket_in_place_of_the_grainline() -> None:
    drawing = piece_drawing(pattern_of(box(200, 150, on_fold=True)), "box")
    assert "place on the fold" in said(drawing)
    assert "Cut 1 on the fold from main fabric" in said(drawing)
    arrows = [
        leaf.item
        for leaf in leaves(drawing)
        if isinstance(leaf.item, Shape) and leaf.item.fill and leaf.layer.name == WORDS_LAYER
    ]
    tips = [arrow.paths[0].start for arrow in arrows]
    assert len(tips) == 2
    assert all(abs(tip.x) < 1e-6 for tip in tips)  # the fold is at x = 0


@pytest.mark.parametrize("end", [Point(150, 120), Point(150, 30)], ids=["bias", "across"])
def test_a_half_whose_grain_runs_another_way_is_never_placed_on_the_fold(end: Point) -> None:
    piece = box(200, 150, on_fold=True)
    other = replace(piece, grain=replace(piece.grain, start=Point(60, 30), end=end))
    words = said(piece_drawing(pattern_of(other), "box"))
    assert "straight grain" in words
    assert "place on the fold" not in words
    assert "trace both halves: this edge lies on no fold" in words
    assert "Cut 1 from main fabric, opened out" in words


def test_marks_are_drawn_and_named_once_for_each_side() -> None:
    marks = (
        Mark(MarkKind.CENTER_LINE, "center front", path=straight(Point(40, 5), Point(40, 145))),
        Mark(MarkKind.BUTTON, "button", at=Point(40, 120), size_mm=15, only_side="left"),
        Mark(MarkKind.BUTTON, "button", at=Point(40, 40), size_mm=15, only_side="left"),
        Mark(
            MarkKind.BUTTONHOLE,
            "buttonhole",
            path=straight(Point(37, 80), Point(57, 80)),
            only_side="right",
        ),
        Mark(MarkKind.DRILL_HOLE, "pocket corner", at=Point(120, 60)),
        Mark(MarkKind.PLACEMENT_LINE, "pocket", path=straight(Point(120, 60), Point(180, 60))),
    )
    drawing = piece_drawing(pattern_of(replace(box(220, 150), marks=marks)), "box")
    words = said(drawing)
    assert words.count("button (left)") == 1
    assert words.count("buttonhole (right)") == 1
    assert words.count("pocket corner") == 1
    assert "center front" in words
    assert "Buttonholes on the right only" in words
    pens = {shape.stroke for shape in strokes_in(drawing, MARKS_LAYER)}
    assert len({pen.dash_mm for pen in pens if pen}) == 3  # solid, center, placement
    assert_words_are_clear(drawing, inside=box(220, 150).outline.polygon)


def test_edges_are_named_if_asked() -> None:
    pattern = pattern_of(box(200, 150))
    assert "bottom" not in said(piece_drawing(pattern, "box"))
    words = said(piece_drawing(pattern, "box", edge_names=True))
    assert all(edge in words for edge in ("bottom", "right", "top", "left"))


def test_lines_to_cut_to_sew_and_to_fold_differ_without_color() -> None:
    drawing = piece_drawing(dress(), "bodice-back")
    pens = {
        (round(shape.stroke.width_mm, 2), shape.stroke.dash_mm)
        for layer in (CUTTING_LAYER, STITCHING_LAYER)
        for shape in strokes_in(drawing, layer)
        if shape.stroke
    }
    assert len(pens) == 3
    for layer in drawing.layers:
        for leaf in leaves(Drawing((layer,))):
            colors = [leaf.item.color] if isinstance(leaf.item, Text) else [leaf.item.fill]
            assert all(color in (None, Color(0, 0, 0)) for color in colors)


def test_no_line_is_too_thin_for_a_home_printer() -> None:
    for drawing in dress_drawings():
        for leaf in leaves(drawing):
            if isinstance(leaf.item, Shape) and leaf.item.stroke:
                assert leaf.item.stroke.width_mm >= 0.15


# What is cut


def copies(*each: tuple[Side, str, bool]) -> tuple[Copy, ...]:
    return tuple(
        Copy(f"{n}", side, role, mirrored) for n, (side, role, mirrored) in enumerate(each)
    )


def test_pairs_are_told_from_the_same_way_up() -> None:
    piece = replace(
        box(), copies=copies((Side.LEFT, "main", False), (Side.RIGHT, "main", True)) * 2
    )
    assert cut_texts(piece) == ("Cut 2 pairs from main fabric",)
    same = replace(piece, copies=copies((Side.LEFT, "main", False), (Side.LEFT, "main", False)))
    assert cut_texts(same) == ("Cut 2 from main fabric",)


def test_sides_of_different_cloths_are_told_apart() -> None:
    piece = replace(
        box(), copies=copies((Side.LEFT, "main", False), (Side.RIGHT, "contrast", True))
    )
    assert cut_texts(piece, {"contrast": "the striped cotton"}) == (
        "Cut 1 from main fabric for the left side",
        "Cut 1 from the striped cotton for the right side, this face down",
    )


def test_interfacing_is_cut_to_the_stitching_line() -> None:
    interfacing = Copy(
        "i", Side.CENTER, "interfacing", False, Ply.INTERFACING, CutTo.STITCHING_LINE
    )
    piece = box(on_fold=True)
    piece = replace(piece, copies=(*piece.copies, interfacing))
    assert cut_texts(piece) == (
        "Cut 1 on the fold from main fabric",
        "Cut 1 on the fold from interfacing, to the stitching line",
    )


def test_allowances_that_differ_are_named_in_the_readers_unit() -> None:
    piece = replace(box(), allowances={"bottom": 38.1, "left": 0.0})
    pattern = pattern_of(piece, allowance_mm=15.875)
    text = allowance_text(pattern, piece, LengthUnit.INCH).replace("\N{NO-BREAK SPACE}", " ")
    assert text == "Allowance included: 5/8 in; bottom 1 1/2 in; left none"


def test_a_piece_without_allowances_says_so() -> None:
    piece = box()
    text = allowance_text(pattern_of(piece, allowance_mm=0), piece, LengthUnit.CENTIMETER)
    assert text == "No allowances: cut on the stitching line"


def test_sides_of_marks_are_said_once() -> None:
    assert side_texts(dress().piece("bodice-front")) == (
        "Buttonholes on the right only",
        "Buttons on the left only",
    )


# Nested sizes


def test_each_size_has_its_own_layer_and_line() -> None:
    sizes = dress_sizes()
    drawing = nested(sizes, "bodice-front")
    names = [layer.name for layer in drawing.layers if layer.switchable]
    assert names == [size_layer(size) for size in sizes]
    for size, pattern in sizes.items():
        lengths = [
            sum(path.length for path in leaf.item.paths)
            for leaf in leaves(Drawing((drawing.layer(size_layer(size)),)))
            if isinstance(leaf.item, Shape) and leaf.item.solid
        ]
        assert lengths == pytest.approx([cutting_line(pattern, "bodice-front").path.length])


def test_twelve_sizes_can_be_told_apart_in_black_and_white() -> None:
    dashes = [size_style(number).stroke.dash_mm for number in range(12)]
    assert len(set(dashes)) == 12
    looks = [(size_style(n).stroke.width_mm, size_style(n).stroke.dash_mm) for n in range(24)]
    assert len(set(looks)) == 24


@pytest.mark.parametrize("name", ["bodice-front", "sleeve", "collar-upper", "belt"])
def test_words_of_a_nest_stand_clear_of_every_size(name: str) -> None:
    sizes = dress_sizes()
    drawing = nested(sizes, name, Caption("Kiln dress"))
    words = Drawing((drawing.layer(WORDS_LAYER),))
    assert re.search(r"Sizes 34 to 52", said(words))
    boxes = [text_polygon(text) for text in texts_of(words)]
    lines = Drawing(
        tuple(
            replace(layer, items=tuple(_without_texts(layer)))
            for layer in drawing.layers
            if layer.switchable
        )
    )
    for part in ink_of(lines, 0.05):
        for polygon in boxes:
            assert not part.geometry.intersects(polygon.buffer(-0.05))


def test_a_size_is_written_on_its_own_line() -> None:
    sizes = dress_sizes()
    drawing = nested(sizes, "skirt-back")
    for size, pattern in sizes.items():
        ring = shapely.LinearRing(
            [(p.x, p.y) for p in cutting_line(pattern, "skirt-back").points()]
        )
        labels = texts_of(Drawing((drawing.layer(size_layer(size)),)))
        assert {label.text for label in labels} == {size}
        on_line = [
            label for label in labels if ring.distance(shapely.Point(label.at.x, label.at.y)) < 0.1
        ]
        notches = [each.on_cut for each in piece_lines(pattern, "skirt-back").notches]
        assert len(on_line) > 2  # wherever a page is torn off, one of them is near
        for label in labels:
            assert label in on_line or any(label.at.distance(each) < 25 for each in notches)


def test_where_a_pocket_goes_is_told_by_the_line_of_its_size() -> None:
    mark = Mark(MarkKind.PLACEMENT_LINE, "pocket", path=straight(Point(20, 20), Point(60, 20)))
    sizes = {size: pattern_of(replace(box(120, 90), marks=(mark,))) for size in ("S", "M", "L")}
    drawing = nested(sizes, "box")
    for number, size in enumerate(sizes):
        dashes = [
            shape.stroke.dash_mm
            for shape in strokes_in(drawing, size_layer(size))
            if shape.paths == (mark.path,) and shape.stroke
        ]
        assert dashes == [size_style(number).stroke.dash_mm]


@pytest.mark.parametrize("name", ["bodice-front", "skirt-back", "sleeve"])
def test_no_line_of_another_size_runs_through_the_name_of_a_size(name: str) -> None:
    sizes = dress_sizes()
    drawing = nested(sizes, name)
    for size in sizes:
        for label in texts_of(Drawing((drawing.layer(size_layer(size)),))):
            for other in sizes:
                if other != size:
                    lines = piece_lines(sizes[other], name)
                    drawn = [lines.outline.path, *(leg for d in lines.darts for leg in d.legs)]
                    for path in drawn:
                        line = shapely.LineString([(p.x, p.y) for p in path.flattened()])
                        assert not line.intersects(text_polygon(label).buffer(-0.05))


def test_a_size_that_lacks_the_piece_is_passed_over() -> None:
    sizes = {
        "S": pattern_of(box(90, 60)),
        "M": pattern_of(box(name="other")),
        "L": pattern_of(box()),
    }
    names = [layer.name for layer in nested(sizes, "box").layers]
    assert names == ["Size S", "Size L", WORDS_LAYER]


def test_notches_in_a_row_bear_the_sizes_that_they_are_of() -> None:
    """On a line that all sizes share, by their order alone nobody finds the own one."""
    row = notched_row({"36": 300.0, "38": 312.0, "40": 324.0, "42": 324.0, "44": 336.0})
    found, lacks_room = notch_sizes(*row)
    assert not lacks_room
    told = {size: [text.text for text in _texts(groups)] for size, groups in found.items()}
    assert told == {"36": ["36"], "38": ["38"], "40": ["40/42"], "42": [], "44": ["44"]}
    for size, x in (("36", 300.0), ("38", 312.0), ("40", 324.0)):
        (text,) = _texts(found[size])
        assert text.at.x == pytest.approx(x)
        assert 4.5 < text.at.y < 9


def test_notches_too_near_for_their_sizes_are_named_further_in_or_by_their_order() -> None:
    near, lacks_room = notch_sizes(*notched_row({f"{n}": 300.0 + 2 * n for n in range(30, 38)}))
    texts = [text for groups in near.values() for text in _texts(groups)]
    assert not lacks_room
    assert len(texts) == 8
    for one, other in combinations(texts, 2):
        assert not text_polygon(one).intersects(text_polygon(other))
    dense, lacks_room = notch_sizes(*notched_row({f"size {n}": 1.0 * n for n in range(12)}))
    assert lacks_room
    assert dense["size 0"]
    assert dense["size 11"]


def notched_row(
    places: dict[str, float],
) -> tuple[dict[str, list[NotchMark]], dict[str, shapely.Geometry], dict[str, Color]]:
    """Sizes whose lower edges lie on one line, each with a notch at its place."""
    up = Vector(0.0, 1.0)
    notches = {size: [NotchMark(Point(x, 0.0), up, Point(x, 10.0))] for size, x in places.items()}
    line = shapely.LinearRing([(-50, 0), (800, 0), (800, 300), (-50, 300)])
    return notches, dict.fromkeys(places, line), dict.fromkeys(places, INK)


def _texts(groups: Sequence[Group]) -> list[Text]:
    return [item for group in groups for item in group.items if isinstance(item, Text)]
