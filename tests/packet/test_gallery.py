"""Contact sheets and small pictures: of every component, true to scale, and current."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from shapely.geometry import LineString

from clothwise.components import kinds
from clothwise.geometry import Point
from clothwise.output import Caption, Shape, Text, drawing_bounds, leaves, piece_drawing
from clothwise.output.drawing import Drawing
from clothwise.output.free_space import text_polygon
from clothwise.packet.gallery import (
    component_picture,
    component_sheet,
    gallery_sizes,
    picture_svg,
    shown,
    write_pictures,
)
from clothwise.pattern import SeamCorners

DOCS = Path(__file__).resolve().parents[2] / "docs"
PICTURES = DOCS / "pictures" / "components"

NUMBER = re.compile(r"-?\d+(?:\.\d+)?")

STRAY_MM = 0.05
"""A picture is current if no line of it strays further: machines may round differently."""

LARGEST_BYTES = 40_000


@pytest.mark.parametrize("kind", kinds())
def test_every_component_has_its_picture_and_it_is_current(kind: str) -> None:
    """If this fails: make reference."""
    kept, drawn = (PICTURES / f"{kind}.svg").read_text(encoding="utf-8"), picture_svg(kind)
    assert NUMBER.sub("#", kept) == NUMBER.sub("#", drawn)
    pairs = zip(NUMBER.findall(kept), NUMBER.findall(drawn), strict=True)
    assert all(abs(float(one) - float(other)) <= STRAY_MM for one, other in pairs)
    assert len(kept) < LARGEST_BYTES
    ET.fromstring(kept)


def test_there_are_no_other_pictures() -> None:
    assert {path.stem for path in PICTURES.iterdir()} == {*kinds()}


def test_the_reference_shows_every_picture() -> None:
    page = (DOCS / "reference" / "components.md").read_text(encoding="utf-8")
    shown_there = re.findall(r"!\[[^\]]+\]\((\S+)\)", page)
    assert [(DOCS / "reference" / path).resolve() for path in shown_there] == [
        PICTURES / f"{kind}.svg" for kind in kinds()
    ]


def test_sizes_are_the_ends_and_a_middle_of_the_chart() -> None:
    assert [body.name for body in gallery_sizes()] == ["34", "44", "52"]


TOO_SMALL_FOR_WORDS = {"hanging-loop"}
"""Pieces of 2 cm: their grain runs through a word, or outside it through nothing."""


@pytest.mark.parametrize("kind", [kind for kind in kinds() if kind not in TOO_SMALL_FOR_WORDS])
def test_no_word_of_a_piece_lies_on_a_line_or_on_another_and_no_grain_outside(kind: str) -> None:
    of = shown(kind, gallery_sizes()[1])
    corners = SeamCorners(of.pattern)
    for name in of.pieces:
        piece = of.pattern.piece(name)
        whole = piece.outline.polygon.buffer(0.5)
        assert whole.contains(LineString([as_pair(piece.grain.start), as_pair(piece.grain.end)]))
        drawing = piece_drawing(of.pattern, name, Caption(size="44", number="1"), corners=corners)
        found = [leaf.item for leaf in leaves(drawing)]
        words = [(text, text_polygon(text)) for text in found if isinstance(text, Text)]
        lines = [
            LineString([as_pair(point) for point in path.flattened()])
            for shape in found
            if isinstance(shape, Shape) and shape.stroke
            for path in shape.paths
        ]
        for text, box in words:
            letters = box.buffer(-0.3)
            assert not any(line.intersects(letters) for line in lines), (name, text.text)
            others = (other for word, other in words if word is not text)
            assert not any(other.intersects(letters) for other in others), (name, text.text)


def as_pair(point: Point) -> tuple[float, float]:
    return point.x, point.y


@pytest.mark.parametrize("kind", ["turned-patch-pocket", "set-in-sleeve", "double-hem"])
def test_a_sheet_shows_every_piece_of_every_size_on_the_paper(kind: str) -> None:
    page = component_sheet(kind)
    titles: list[str] = []
    for part in page.content:
        assert isinstance(part, Drawing)
        box = drawing_bounds(part)
        assert 0 <= box.left <= box.right <= page.width_mm
        assert 0 <= box.bottom <= box.top <= page.height_mm
        titles += [leaf.item.text for leaf in leaves(part) if hasattr(leaf.item, "text")]
    for body in gallery_sizes():
        assert f"size {body.name}" in titles
        of = shown(kind, body)
        for name in of.pieces:
            last_word = of.pattern.piece(name).title.split()[-1]
            assert sum(title.endswith(last_word) for title in titles) >= len(gallery_sizes())


def test_a_sheet_is_true_to_its_scale() -> None:
    """The belt is drawn as long as its cutting line, divided by the scale at the head."""
    page = component_sheet("straight-waistband")
    head, *columns = (part for part in page.content if isinstance(part, Drawing))
    words = [leaf.item.text for part in (head, *columns) for leaf in leaves(part)
             if hasattr(leaf.item, "text")]  # fmt: skip
    (scale,) = (float(word.split(":")[1]) for word in words if re.fullmatch(r"1 : [\d.]+", word))
    of = shown("straight-waistband", gallery_sizes()[2])
    left, _, right, _ = of.pattern.piece("band").outline.polygon.bounds
    drawn = drawing_bounds(columns[-1])
    # 10 to 20 mm of allowance at the end, and half a line, are drawn beyond the stitching line.
    assert right - left < drawn.width * scale < right - left + 25.0


def test_what_a_component_adds_to_pieces_of_others_is_in_color() -> None:
    hem = shown("double-hem", gallery_sizes()[1])
    assert hem.own == 0
    assert {edge for edges in hem.edges.values() for edge in edges} == {"hem"}
    colors = {
        leaf.item.stroke.color
        for leaf in leaves(component_picture("double-hem"))
        if not hasattr(leaf.item, "text") and leaf.item.stroke
    }
    assert len(colors) == 2


def test_some_pictures_can_be_written_alone(tmp_path: Path) -> None:
    (path,) = write_pictures(tmp_path, ["tie-belt"])
    assert path.read_text(encoding="utf-8") == picture_svg("tie-belt")
