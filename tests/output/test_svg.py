from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from clothwise.geometry import Cubic, Path, Point, Transform, polyline
from clothwise.output import (
    Anchor,
    Bounds,
    Color,
    Drawing,
    Group,
    Layer,
    Shape,
    Stroke,
    Text,
    to_svg,
)
from output.printed import dress_drawings

SVG = "{http://www.w3.org/2000/svg}"
INK = Color.parse("#1f2430")


def small(**changes: object) -> Drawing:
    line = polyline([Point(0, 0), Point(30, 0), Point(30, 20)])
    curve = Path((Cubic(Point(0, 0), Point(0, 10), Point(10, 10), Point(10, 0)),))
    text = Text("5 < 6 & ⅝\x07", Point(3, 4), 5, INK, 0.5, Anchor.CENTER)
    group = Group((text, Shape((curve,), fill=INK)), Transform.shift(5, 5), clip=line)
    return Drawing(
        (
            Layer("Size 8", (Shape((line,), Stroke(0.25, INK, (2, 1)), closed=True),)),
            Layer("size-8", (group,), visible=False),
        ),
        "A <small> one",
    )


def test_it_is_true_to_size_and_well_formed() -> None:
    root = ET.fromstring(to_svg(small(), page=Bounds(-10, -10, 90, 60)))
    assert (root.get("width"), root.get("height")) == ("100mm", "70mm")
    assert root.get("viewBox") == "0 0 100 70"
    assert root.findtext(f"{SVG}title") == "A <small> one"


def test_y_points_up_in_the_drawing_and_down_in_the_file() -> None:
    root = ET.fromstring(to_svg(small(), page=Bounds(0, 0, 100, 50)))
    path = root.find(f".//{SVG}path[@stroke]")
    assert path is not None
    assert path.get("d") == "M0 50L30 50L30 30Z"
    assert path.get("stroke-dasharray") == "2 1"


def test_text_stays_text_and_is_escaped() -> None:
    root = ET.fromstring(to_svg(small(), page=Bounds(0, 0, 100, 50)))
    text = root.find(f".//{SVG}text")
    assert text is not None
    assert text.text == "5 < 6 & ⅝"
    assert text.get("transform") == "translate(8 41) rotate(-28.648)"
    assert "Alegreya Sans" in str(root.get("font-family"))


def test_a_number_keeps_its_space_to_the_name_after_it() -> None:
    text = Text("4\u00a0Front skirt", Point(3, 4), 5, INK)
    root = ET.fromstring(to_svg(Drawing((Layer("names", (text,)),)), page=Bounds(0, 0, 50, 50)))
    assert root.findtext(f".//{SVG}text") == "4\u00a0Front skirt"


def test_layers_keep_their_names_and_ids_are_unique() -> None:
    root = ET.fromstring(to_svg(small(), id_prefix="board-"))
    groups = root.findall(f"{SVG}g")
    assert [g.get("data-layer") for g in groups] == ["Size 8", "size-8"]
    assert [g.get("display") for g in groups] == [None, "none"]
    ids = [e.get("id") for e in root.iter() if e.get("id")]
    assert len(ids) == len(set(ids)) == 3
    assert all(str(i).startswith("board-") for i in ids)


def test_inside_a_web_page_there_is_no_declaration() -> None:
    assert to_svg(small(), standalone=False).startswith("<svg ")
    assert to_svg(small()).startswith("<?xml ")


@pytest.mark.parametrize("number", [0, 4])
def test_a_piece_is_drawn_and_always_the_same(number: int) -> None:
    drawing = dress_drawings()[number]
    first = to_svg(drawing)
    assert first == to_svg(drawing)
    root = ET.fromstring(first)
    assert any(drawing.title in str(t.text) for t in root.iter(f"{SVG}text"))
    for path in root.iter(f"{SVG}path"):
        assert path.get("stroke") or path.get("fill")
