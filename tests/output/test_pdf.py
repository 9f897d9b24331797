from __future__ import annotations

import io
import math
from itertools import pairwise

import numpy as np
import pikepdf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.errors import Misuse
from clothwise.geometry import Cubic, Path, Point, Transform, arc, polyline
from clothwise.output import (
    Anchor,
    Bounds,
    Cap,
    Color,
    Drawing,
    Group,
    Layer,
    Page,
    Shape,
    Stroke,
    Text,
    View,
    Weight,
    drawing_bounds,
    pages_to_pdf,
    to_pdf,
)
from output.pdf_reading import Painted, page_size_mm, painted_on, read

INK = Color(0, 0, 0)
PEN = Stroke(0.3, INK)
SQUARE = polyline([Point(0, 0), Point(50, 0), Point(50, 50), Point(0, 50)])


def drawn(*items: Shape | Text | Group) -> Drawing:
    return Drawing((Layer("all", items),), "Test")


def assert_runs(painted: Painted, points: list[tuple[float, float]]) -> None:
    """The path is one polyline through these points, within 2 micrometers."""
    (line,) = painted.lines
    np.testing.assert_allclose(line, points, rtol=0, atol=0.002)


def test_a_page_is_as_large_as_was_asked() -> None:
    reader = read(to_pdf(drawn(Shape((SQUARE,), PEN)), page=Bounds(-10, -20, 831, 1169)))
    assert page_size_mm(reader, 0) == pytest.approx((841, 1189), abs=1e-3)


def test_a_square_is_printed_at_its_size_and_place() -> None:
    pdf = to_pdf(drawn(Shape((SQUARE,), PEN, closed=True)), page=Bounds(-10, -20, 200, 200))
    (square,) = painted_on(read(pdf), 0)
    assert_runs(square, [(10, 20), (60, 20), (60, 70), (10, 70), (10, 20)])
    assert square.width_mm == pytest.approx(0.3, abs=1e-3)


def test_a_circle_has_its_circumference() -> None:
    circle = arc(Point(40, 40), 30, 0, 2 * math.pi)
    (painted,) = painted_on(read(to_pdf(drawn(Shape((circle,), PEN)))), 0)
    assert painted.length_mm == pytest.approx(2 * math.pi * 30, abs=0.02)


def test_groups_are_moved_scaled_and_mirrored() -> None:
    group = Group((Shape((SQUARE,), Stroke(1, INK, (4, 2))),), Transform(-2, 0, 0, 2, 100, 0))
    (painted,) = painted_on(read(to_pdf(drawn(group), page=Bounds(0, 0, 100, 100))), 0)
    assert_runs(painted, [(100, 0), (0, 0), (0, 100), (100, 100)])
    assert painted.width_mm == pytest.approx(2, abs=1e-3)
    assert painted.dash_mm == pytest.approx((8, 4), abs=1e-3)


def test_a_clip_holds_for_its_group_alone() -> None:
    clip = polyline([Point(0, 0), Point(25, 0), Point(25, 25), Point(0, 25)])
    drawing = drawn(Group((Shape((SQUARE,), PEN),), clip=clip), Shape((SQUARE,), Stroke(0.7, INK)))
    first, second = painted_on(read(to_pdf(drawing, page=Bounds(0, 0, 60, 60))), 0)
    assert first.clip == pytest.approx((0, 0, 25, 25), abs=0.002)
    assert second.clip == pytest.approx((0, 0, 60, 60), abs=0.002)
    assert second.width_mm == pytest.approx(0.7, abs=1e-3)


def layered() -> Drawing:
    return Drawing(
        (
            Layer("Size 36", (Shape((SQUARE,), PEN),), switchable=True),
            Layer("Größe 38 ⅜", (Shape((SQUARE,), Stroke(0.5, INK)),), switchable=True),
            Layer("hidden", (Shape((SQUARE,), PEN),), switchable=True, visible=False),
            Layer("fixed", (Shape((SQUARE,), PEN),)),
        )
    )


def test_layers_can_be_switched_by_name() -> None:
    pdf = to_pdf(layered())
    with pikepdf.open(io.BytesIO(pdf)) as file:
        properties = file.Root.OCProperties
        assert [str(group.Name) for group in properties.OCGs] == [
            "Size 36",
            "Größe 38 ⅜",
            "hidden",
        ]
        assert [str(group.Name) for group in properties.D.OFF] == ["hidden"]
    layers = [painted.layer for painted in painted_on(read(pdf), 0)]
    assert layers == ["Size 36", "Größe 38 ⅜", "hidden", ""]


def test_layers_without_content_on_a_page_are_left_out_there() -> None:
    far = polyline([Point(500, 0), Point(510, 0)])
    sheet = Drawing(
        (
            Layer("near", (Shape((SQUARE,), PEN),), switchable=True),
            Layer("far", (Shape((far,), PEN),), switchable=True),
        )
    )
    windows = (Bounds(0, 0, 100, 100), Bounds(450, 0, 550, 100))
    pages = [Page(100, 100, (View(sheet, window, Point(0, 0)),)) for window in windows]
    reader = read(pages_to_pdf(pages, title="t"))
    assert [[p.layer for p in painted_on(reader, n)] for n in (0, 1)] == [["near"], ["far"]]


def test_a_sheet_is_stored_once_for_all_pages() -> None:
    curve = Path((Cubic(Point(0, 0), Point(0, 90), Point(90, 90), Point(90, 0)),))
    shapes = tuple(Shape((curve,), PEN) for _ in range(400))
    view = View(drawn(*shapes), Bounds(0, 0, 90, 90), Point(0, 0))
    one = len(pages_to_pdf([Page(90, 90, (view,))], title="t"))
    thirty = len(pages_to_pdf([Page(90, 90, (view,))] * 30, title="t"))
    assert thirty - one < 30 * 700


def test_the_same_drawing_gives_the_same_bytes() -> None:
    assert to_pdf(layered(), title="é") == to_pdf(layered(), title="é")


def test_different_drawings_have_different_file_identifiers() -> None:
    one, two = (read(to_pdf(drawn(Shape((SQUARE,), Stroke(w, INK))))) for w in (0.3, 0.4))
    assert one.trailer["/ID"] != two.trailer["/ID"]


def test_title_language_and_full_size_printing_are_recorded() -> None:
    reader = read(to_pdf(layered(), title="Robe d’été", language="fr"))
    assert reader.metadata is not None
    assert reader.metadata.title == "Robe d’été"
    assert reader.trailer["/Root"]["/Lang"] == "fr"
    preferences = reader.trailer["/Root"]["/ViewerPreferences"]
    assert preferences["/PrintScaling"] == "/None"
    assert preferences["/DisplayDocTitle"]


def test_the_file_has_no_syntax_faults() -> None:
    with pikepdf.open(io.BytesIO(to_pdf(layered()))) as file:
        assert file.check_pdf_syntax() == []


def test_texts_can_be_read_back_in_every_face() -> None:
    words = "Größe 38 → 1 ⅝ in (5\\8) “éçşŽ”"
    texts = [Text(words, Point(0, 10 * n), 5, INK, weight=w) for n, w in enumerate(Weight)]
    found = read(to_pdf(drawn(*texts))).pages[0].extract_text()
    assert found.count(words) == 3


def test_only_embedded_fonts_are_used() -> None:
    text = Text("words", Point(0, 0), 5, INK)
    with pikepdf.open(io.BytesIO(to_pdf(drawn(text)))) as file:
        fonts = [o for o in file.objects if isinstance(o, pikepdf.Dictionary)]
        fonts = [o for o in fonts if o.get("/Type") == "/Font"]
        assert fonts
        assert all("/FontFile2" in font.FontDescriptor for font in fonts)


@pytest.mark.parametrize("anchor", list(Anchor))
def test_a_text_is_anchored_where_it_says(anchor: Anchor) -> None:
    """The rendered letters lie left of, around, or right of the place."""
    import pypdfium2

    text = Text("HHHHHH", Point(50, 20), 10, INK, anchor=anchor)
    pdf = to_pdf(drawn(text), page=Bounds(0, 0, 100, 40))
    image = pypdfium2.PdfDocument(pdf)[0].render(scale=4).to_pil().convert("L")
    left, _, right, _ = image.point(lambda value: 255 * (value < 128)).getbbox()
    scale = image.width / 100
    bearing = 0.94  # mm beside an H of 10 mm, from the `hmtx` table: 94 units of 1000
    if anchor is Anchor.LEFT:
        assert left / scale == pytest.approx(50 + bearing, abs=0.15)
    elif anchor is Anchor.RIGHT:
        assert right / scale == pytest.approx(50 - bearing, abs=0.15)
    else:
        assert (left + right) / 2 / scale == pytest.approx(50, abs=0.15)


def test_letters_are_never_mirrored() -> None:
    """A text in a mirrored group looks like one set there directly, anchored on the other side."""
    import pypdfium2

    mirrored = Group((Text("Rest", Point(10, 10), 9, INK),), Transform.mirror(Point(50, 0)))
    direct = Text("Rest", Point(90, 10), 9, INK, anchor=Anchor.RIGHT)
    images = [
        pypdfium2.PdfDocument(to_pdf(drawn(item), page=Bounds(0, 0, 100, 30)))[0].render(scale=3)
        for item in (mirrored, direct)
    ]
    assert images[0].to_pil().tobytes() == images[1].to_pil().tobytes()


def test_a_page_no_reader_shows_is_refused() -> None:
    with pytest.raises(Misuse, match="cannot be this large"):
        to_pdf(drawn(Shape((SQUARE,), PEN)), page=Bounds(0, 0, 5100, 100))


@given(
    st.lists(
        st.tuples(*[st.floats(-4000, 4000)] * 2).map(lambda p: Point(*p)), min_size=2, max_size=9
    ),
    st.floats(-math.pi, math.pi),
)
def test_any_path_comes_back_in_its_place(points: list[Point], turn: float) -> None:
    if (
        len({(p.x, p.y) for p in points}) < 2
        or max(a.distance(b) for a, b in pairwise(points)) < 1e-6
    ):
        return
    path, move = polyline(points), Transform.turn(turn)
    drawing = drawn(Group((Shape((path,), Stroke(0.4, INK, cap=Cap.ROUND)),), move))
    frame = Bounds(-2500, -2500, 2500, 2500)
    painted = painted_on(read(to_pdf(drawing, page=frame)), 0)
    box = drawing_bounds(drawing)
    if not box.meets(frame):
        assert not painted
        return
    expected = [move.point(p) for p in (path.start, *(s.end for s in path.segments))]
    assert_runs(painted[0], [(p.x + 2500, p.y + 2500) for p in expected])
