"""A layout on its own page: words around it, nothing over anything, all of it on the paper."""

from __future__ import annotations

import pytest
import shapely

from clothwise.output.bounds import drawing_bounds, text_corners
from clothwise.output.drawing import Drawing, Text, leaves, settled_text
from clothwise.output.layout_drawing import layout_drawing
from clothwise.output.layout_page import LayoutText, layout_page
from clothwise.output.paper import A4, Margins, Paper, paper_named
from layout_samples import SAMPLES

FACTS = (
    ("Buy", "2.6 m or 2 7/8 yd"),
    ("Cost", "52.00 EUR"),
    ("Width", "140 cm"),
    ("Laid out after washing", "241.5 cm"),
    ("In the pieces", "82 %"),
    ("Left over", "18 %"),
    ("No layout is shorter than", "198.2 cm (18 % less)"),
    ("At hand", "300 cm (41 cm left)"),
)
LONG = "A sentence that goes on about what limits this layout until it must be wrapped. " * 4


def page_of(name: str, paper: Paper = A4, text: LayoutText | None = None) -> Drawing:
    sample = SAMPLES[name]()

    def draw(width_mm: float, height_mm: float) -> Drawing:
        return layout_drawing(
            sample.layout,
            sample.items,
            width_mm=width_mm,
            tallest_mm=height_mm,
            pinned=sample.pinned,
            matches=sample.matches,
        )

    said = text or LayoutText("Linen", "A dress, size 38", facts=FACTS, sentences=("It is full.",))
    return layout_page(said, draw, paper=paper)


def words(page: Drawing) -> list[Text]:
    return [
        settled_text(leaf.item, leaf.transform)
        for leaf in leaves(page)
        if isinstance(leaf.item, Text)
    ]


@pytest.mark.parametrize("name", SAMPLES)
@pytest.mark.parametrize("paper", [A4, A4.landscape, paper_named("letter").landscape])
def test_all_of_it_lies_within_the_margins(name: str, paper: Paper) -> None:
    page = page_of(name, paper)
    frame = drawing_bounds(page)
    assert (frame.left, frame.bottom) == (0, 0)
    assert (frame.width, frame.height) == pytest.approx((paper.width_mm, paper.height_mm))
    margins = Margins()
    for text in words(page):
        for corner in text_corners(text):
            assert margins.side_mm - 0.5 <= corner.x <= paper.width_mm - margins.side_mm + 0.5
            assert margins.end_mm - 0.5 <= corner.y <= paper.height_mm - margins.end_mm + 0.5


@pytest.mark.parametrize("paper", [A4, A4.landscape])
def test_words_do_not_lie_on_words(paper: Paper) -> None:
    text = LayoutText("Linen", "A dress", facts=FACTS, sentences=(LONG, "Short."))
    for name in SAMPLES:
        boxes = [
            shapely.Polygon([(p.x, p.y) for p in text_corners(each)])
            for each in words(page_of(name, paper, text))
        ]
        for at, box in enumerate(boxes):
            assert not any(box.intersection(other).area > 0.3 for other in boxes[at + 1 :])


def test_long_words_leave_the_picture_its_room() -> None:
    text = LayoutText("Linen", "A dress", facts=FACTS, sentences=(LONG,) * 5)
    page = page_of("checked", A4, text)
    assert drawing_bounds(page).width == pytest.approx(A4.width_mm)
    assert any(word.text == "4\u00a0Front skirt, left" for word in words(page))


def test_it_says_what_it_is_of_even_without_facts() -> None:
    page = page_of("crosswise", A4, LayoutText("Linen"))
    assert page.title == "Linen"
    assert any(word.text == "Linen" for word in words(page))
