"""The picture of the coverage: everything on the page, boxes and cells where the figures say."""

from __future__ import annotations

import io
from itertools import pairwise

import numpy as np
import pypdfium2
import pytest
import shapely
from pypdf import PdfReader

from chart_strategies import CM, chart_of, kiln
from clothwise.output import drawing_bounds, to_pdf, to_svg
from clothwise.output.bounds import Bounds, text_corners
from clothwise.output.coverage_drawing import WIDTH_MM, coverage_drawing, coverage_page
from clothwise.output.drawing import Drawing, Shape, Text, leaves, settled_shape, settled_text
from clothwise.pattern.size_chart import SizeChart
from clothwise.sizing.coverage import coverage, survey_girths
from clothwise.units import LengthUnit

LONG = "A title of a chart that goes on and on until it is wider than the paper it stands on " * 2


def in_inches(chart: SizeChart) -> SizeChart:
    return SizeChart(chart.sizes, LengthUnit.INCH, chart.title)


def two() -> SizeChart:
    return chart_of((88, 70, 94), (100, 82, 108))


def thirty() -> SizeChart:
    return chart_of(*((76 + 2 * step, 60 + 2 * step, 84 + 1.8 * step) for step in range(30)))


CHARTS = {
    "dress": kiln(),
    "dress in inches": in_inches(kiln()),
    "two sizes": two(),
    "thirty sizes": thirty(),
    "thirty in inches": in_inches(thirty()),
    "far away": chart_of((140, 130, 150), (146, 136, 156)),
    "long title": SizeChart(two().sizes, title=LONG.strip()),
}


def picture(chart: SizeChart, tolerance_mm: float | None = None) -> Drawing:
    return coverage_drawing(
        coverage(chart, tolerance_mm=tolerance_mm),
        title=chart.title,
        unit=chart.unit,
        sentence="Two more sizes at the top would fit 3 more (of 100, counted on others).",
    )


def texts(drawing: Drawing, layer: str = "") -> list[Text]:
    return [
        settled_text(leaf.item, leaf.transform)
        for leaf in leaves(drawing)
        if isinstance(leaf.item, Text) and layer in ("", leaf.layer.name)
    ]


def shapes(drawing: Drawing, layer: str) -> list[Bounds]:
    return [
        Bounds.of_points(path.flattened(0.1))
        for leaf in leaves(drawing)
        if isinstance(leaf.item, Shape) and leaf.layer.name == layer
        for path in settled_shape(leaf.item, leaf.transform).paths
    ]


@pytest.mark.parametrize("tolerance_mm", [None, 55.0])
@pytest.mark.parametrize("name", CHARTS)
def test_nothing_is_clipped_and_no_two_words_overlap(name: str, tolerance_mm: float | None) -> None:
    drawing = picture(CHARTS[name], tolerance_mm)
    page = coverage_page(drawing)
    assert (page.left, page.bottom, page.width) == pytest.approx((0.0, 0.0, WIDTH_MM))
    inked = drawing_bounds(Drawing(tuple(each for each in drawing.layers if each.name != "page")))
    assert page.grown(-4.0).holds(inked.corners[0], 0.0)
    assert page.grown(-4.0).holds(inked.corners[2], 0.0)
    boxes = [
        shapely.Polygon([(corner.x, corner.y) for corner in text_corners(text)]).buffer(-0.15)
        for text in texts(drawing)
    ]
    for number, box in enumerate(boxes):
        for other in boxes[number + 1 :]:
            assert not box.intersects(other)


def test_boxes_are_as_large_as_the_reach_and_both_axes_have_one_scale() -> None:
    found = coverage(kiln())
    boxes = shapes(picture(kiln()), "sizes")[: len(found.sizes)]
    factor = boxes[0].width / (found.sizes[0].bust.high_mm - found.sizes[0].bust.low_mm)
    for box, size in zip(boxes, found.sizes, strict=True):
        assert box.width == pytest.approx(factor * (size.bust.high_mm - size.bust.low_mm), abs=1e-6)
        assert box.height == pytest.approx(factor * (size.hip.high_mm - size.hip.low_mm), abs=1e-6)


def test_figures_of_the_axes_stand_where_their_girth_is() -> None:
    """The left edge of size 34 is at 78 cm: two fifths of the way from the 70 to the 90."""
    drawing = picture(kiln())
    at = {text.text: text.at for text in texts(drawing, "axes") if text.anchor.value == "center"}
    first = shapes(drawing, "sizes")[0]
    assert first.left == pytest.approx(at["70"].x + 0.4 * (at["90"].x - at["70"].x), abs=1e-6)


def test_there_is_a_cell_where_women_are_and_none_elsewhere() -> None:
    """Counted anew, in cells of 2 cm by 2 cm."""
    girths = survey_girths()
    cells = {
        (int(bust // (2 * CM)), int(hip // (2 * CM)))
        for bust, hip in zip(girths.bust, girths.hip, strict=True)
    }
    drawn = [box for box in shapes(picture(kiln()), "women") if box.width > 0.5 < box.height]
    assert len(drawn) == len(cells)


def test_every_size_is_named_where_there_is_room() -> None:
    names = {text.text for text in texts(picture(kiln()), "sizes")}
    assert names == set(kiln().names)
    ends = {text.text for text in texts(picture(thirty(), 60.0), "sizes")}
    assert {"1", "30"} <= ends


def test_the_figures_are_those_that_were_counted() -> None:
    found = coverage(kiln())
    said = " ".join(text.text for text in texts(picture(kiln()), "words"))
    assert f"{found.fits.per_hundred} of 100 fit a size at bust and hip" in said
    assert "not the general public" in said
    assert "at the navel" in said
    assert "ANSUR II" in said


def test_darker_cells_stay_darker_in_gray() -> None:
    """On a black-and-white printer; by the luma of ITU-R BT.601."""
    drawing = picture(kiln())
    fills = [
        leaf.item.fill
        for leaf in leaves(drawing)
        if leaf.layer.name == "women" and isinstance(leaf.item, Shape) and leaf.item.fill
    ]
    luma = [0.299 * fill.red + 0.587 * fill.green + 0.114 * fill.blue for fill in fills]
    assert len(luma) == 5
    assert all(one - other > 20 for one, other in pairwise(luma))


def test_the_pdf_has_one_page_of_its_size_and_shows_the_dark_middle() -> None:
    drawing = picture(kiln())
    page = coverage_page(drawing)
    pdf = to_pdf(drawing, page=page)
    [sheet] = PdfReader(io.BytesIO(pdf)).pages
    assert float(sheet.mediabox.width) * 25.4 / 72 == pytest.approx(WIDTH_MM, abs=0.1)
    assert "Whom the sizes fit" in sheet.extract_text()
    document = pypdfium2.PdfDocument(pdf)
    shown = np.array(document[0].render(scale=72 / 25.4 / 2.8346).to_pil().convert("L"))
    document.close()
    assert shown.min() < 150 < shown.mean()


def test_the_same_chart_gives_the_same_bytes() -> None:
    one, other = (to_svg(picture(kiln())) for _ in range(2))
    assert one == other
