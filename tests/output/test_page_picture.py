"""Pages as pictures: what a page shows on the screen is what its page in the PDF shows."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pypdfium2
import pytest

from clothwise.geometry import Point, Transform, polyline
from clothwise.output import (
    Drawing,
    Group,
    Layer,
    PagePictures,
    PrintPages,
    PrintTitle,
    Shape,
    Stroke,
    Text,
    page_map,
    paper_named,
    sheet_pages,
    tiled_pages,
)
from clothwise.output.pens import INK

SVG = "{http://www.w3.org/2000/svg}"
TITLE = PrintTitle("Two boxes", "Size 38")


def box(name: str, width: float, height: float) -> Drawing:
    """A piece with a title in its middle."""
    corners = [Point(0, 0), Point(width, 0), Point(width, height), Point(0, height)]
    outline = Shape((polyline(corners),), Stroke(0.5, INK), closed=True, solid=True)
    words = Text(name, Point(10, 10), 6.0, INK)
    return Drawing((Layer("lines", (Group((outline, words), name=name),)),), name)


def boxes() -> PrintPages:
    """Two pieces on A4 pages: one larger than a page, one that fits on one."""
    drawings = [box("tall", 150, 600), box("small", 120, 100)]
    return tiled_pages(drawings, TITLE, paper=paper_named("a4"))


def shown(svg: str) -> ET.Element:
    """The picture as it parses."""
    return ET.fromstring(svg)


def test_every_page_says_what_its_page_in_the_pdf_says() -> None:
    pages = boxes()
    pictures, pdf = PagePictures(pages), pypdfium2.PdfDocument(pages.file().pdf)
    assert len(pdf) == len(pages.pages) == len(pages.names)
    for number in range(1, len(pdf) + 1):
        told = pdf[number - 1].get_textpage().get_text_bounded()
        said = [each.text or "" for each in shown(pictures.svg(number)).iter(f"{SVG}text")]
        assert sorted(" ".join(said).split()) == sorted(told.split()), number


def test_a_page_is_as_large_as_its_paper() -> None:
    root = shown(PagePictures(boxes()).svg(2))
    assert (root.get("width"), root.get("height")) == ("210mm", "297mm")


def test_a_page_holds_only_what_its_window_shows() -> None:
    pages = boxes()
    pictures = PagePictures(pages)
    holding = {
        number
        for number in range(1, len(pages.pages) + 1)
        if pages.names[number - 1] != "first page" and ">small<" in pictures.svg(number)
    }
    assert holding <= set(dict(pages.pages_of)["small"])
    assert len(holding) == 1


def test_what_crosses_the_border_of_a_page_is_clipped_to_it() -> None:
    pages = boxes()
    crossing = next(iter(dict(pages.pages_of)["tall"]))
    svg = PagePictures(pages).svg(crossing)
    assert f'clip-path="url(#page-{crossing}-clip-1)"' in svg


def test_pictures_of_one_web_page_share_no_ids() -> None:
    pictures = PagePictures(boxes())
    ids = [
        [each.get("id") for each in shown(pictures.svg(number)).iter() if each.get("id")]
        for number in (2, 3)
    ]
    assert not set(ids[0]) & set(ids[1])


@pytest.mark.parametrize("number", [0, -1, 99])
def test_there_is_no_picture_of_a_page_that_is_not_there(number: int) -> None:
    with pytest.raises(IndexError):
        PagePictures(boxes()).svg(number)


def test_the_map_has_every_joined_page_where_it_lies() -> None:
    pages = boxes()
    found = page_map(pages)
    assert found is not None
    assert [(each.name, each.number) for each in found.tiles] == [
        (name, number) for number, name in enumerate(pages.names, start=1) if number > 1
    ]
    upper, lower = (next(t for t in found.tiles if t.name == name) for name in ("A1", "B1"))
    # 297 mm less two margins of 12.7 mm, of which 10 mm lie beneath the page above.
    assert lower.top_mm - upper.top_mm == pytest.approx(297 - 2 * 12.7 - 10)
    assert upper.left_mm == lower.left_mm == 0
    assert all(each.left_mm + each.width_mm <= found.width_mm + 1e-6 for each in found.tiles)
    assert len(found.outlines) == 2


def test_large_sheets_that_are_not_joined_have_no_map() -> None:
    pages = sheet_pages([box("tall", 150, 600)], TITLE, paper=paper_named("a0"))
    assert pages.names == ("sheet 1",)
    assert page_map(pages) is None


def test_a_mirrored_group_is_drawn_where_it_lies() -> None:
    drawing = box("left", 100, 80)
    turned = Drawing(
        (Layer("lines", (Group(drawing.layers[0].items, Transform(-1, 0, 0, 1, 100, 0)),)),)
    )
    svg = PagePictures(tiled_pages([turned], TITLE)).svg(2)
    assert ">left<" in svg
