from __future__ import annotations

from dataclasses import replace

import pytest
import shapely

from clothwise.cutting import CutItem, Effort, Fabric, LayerPlan, Layers, Layout, Nap, lay
from clothwise.output.bounds import drawing_bounds, text_corners
from clothwise.output.drawing import Color, Drawing, Group, Shape, Text, leaves, settled_text
from clothwise.output.layout_drawing import layout_drawing
from clothwise.output.scene_drawing import PAPER
from clothwise.output.svg import to_svg
from clothwise.units import LengthUnit
from invented_dress import POCKET, dress, item, pair

QUICK = Effort(seconds=0, runs=0)
LINEN = Fabric("linen", 1400, shrinkage_across=0.02)
TINT = Color.parse("#5b6b78")


def square(name: str, label: str, side_mm: float, **kinds: bool) -> CutItem:
    corners = ((0.0, 0.0), (side_mm, 0.0), (side_mm, side_mm), (0.0, side_mm))
    return CutItem(name, label, corners, **kinds)


@pytest.fixture(scope="module")
def dress_layout() -> tuple[Layout, list[CutItem]]:
    """Folded, with a stretch at the end that is opened out."""
    numbers = {name: at for at, name in enumerate(dict.fromkeys(one.piece for one in dress()), 1)}
    named = [replace(one, label=f"{numbers[one.piece]} {one.label}") for one in dress()]
    items = [*named, square("panel", "99 Panel", 900.0)]
    layout = lay(items, LINEN, LayerPlan.FOLDED, effort=QUICK)
    return layout, items


def texts(drawing: Drawing) -> list[Text]:
    return [
        settled_text(leaf.item, leaf.transform)
        for leaf in leaves(drawing)
        if isinstance(leaf.item, Text)
    ]


def said(drawing: Drawing) -> list[str]:
    return [text.text.replace("\u00a0", " ") for text in texts(drawing)]


def pieces(drawing: Drawing) -> list[shapely.Polygon]:
    """The outlines of the pieces, on paper."""
    return [
        shapely.Polygon([(p.x, p.y) for p in one.paths[0].flattened(0.05)])
        for one in drawing.layer("pieces").items
        if isinstance(one, Shape) and one.fill == PAPER
    ]


@pytest.mark.parametrize("width_mm", [90.0, 170.0, 260.0])
@pytest.mark.parametrize("unit", [LengthUnit.CENTIMETER, LengthUnit.INCH])
def test_it_stays_in_its_room(
    dress_layout: tuple[Layout, list[CutItem]], width_mm: float, unit: LengthUnit
) -> None:
    frame = drawing_bounds(layout_drawing(*dress_layout, width_mm=width_mm, unit=unit))
    assert frame.left >= 0
    assert frame.bottom >= 0
    assert frame.right <= width_mm
    assert frame.top <= 105.0


def test_every_cut_is_drawn_to_scale(dress_layout: tuple[Layout, list[CutItem]]) -> None:
    layout, items = dress_layout
    drawn = pieces(layout_drawing(layout, items, width_mm=170.0))
    by_id = {one.id: one for one in items}
    real = [shapely.Polygon(by_id[one.item_ids[0]].outline) for one in layout.placements]
    assert len(drawn) == len(real)
    factors = [(d.area / r.area) ** 0.5 for d, r in zip(drawn, real, strict=True)]
    assert max(factors) == pytest.approx(min(factors), rel=0.005)
    cloth_mm = max(d.bounds[2] for d in drawn) - min(d.bounds[0] for d in drawn)
    ends = layout.spacing.ends_mm
    assert cloth_mm == pytest.approx((layout.length_mm - 2 * ends) * factors[0], rel=0.02)
    for at, one in enumerate(drawn):
        for other in drawn[at + 1 :]:
            assert one.intersection(other).area < 0.05


def test_names_stand_in_their_pieces_and_apart(
    dress_layout: tuple[Layout, list[CutItem]],
) -> None:
    drawing = layout_drawing(*dress_layout, width_mm=170.0)
    names = [one for one in drawing.layer("names").items if isinstance(one, Text)]
    boxes = [shapely.Polygon([(p.x, p.y) for p in text_corners(one)]) for one in names]
    cloth = pieces(drawing)
    inside = [any(piece.contains(box) for piece in cloth) for box in boxes]
    assert sum(inside) >= 0.9 * len(inside)
    for at, box in enumerate(boxes):
        assert not any(box.intersection(other).area > 0.3 for other in boxes[at + 1 :])
    for text in texts(drawing):
        assert text.size_mm >= 1.5


def test_words_about_the_cloth_do_not_touch(dress_layout: tuple[Layout, list[CutItem]]) -> None:
    for unit in (LengthUnit.CENTIMETER, LengthUnit.YARD):
        drawing = layout_drawing(*dress_layout, width_mm=170.0, unit=unit)
        words = [one for one in drawing.layer("measures").items if isinstance(one, Text)]
        boxes = [shapely.Polygon([(p.x, p.y) for p in text_corners(one)]) for one in words]
        for at, box in enumerate(boxes):
            for other, word in zip(boxes[at + 1 :], words[at + 1 :], strict=True):
                assert not box.intersects(other), (words[at].text, word.text)


def test_it_says_how_the_cloth_lies(dress_layout: tuple[Layout, list[CutItem]]) -> None:
    layout, items = dress_layout
    assert [one.layers for one in layout.sections] == [Layers.DOUBLE, Layers.SINGLE]
    words = said(layout_drawing(layout, items, width_mm=170.0))
    assert "fold" in words
    assert "grain" in words
    assert "selvage" in words
    assert "folded lengthwise, right sides together; wrong side up" in words
    assert "opened out, one layer, right side up" in words
    start = layout.sections[1].start_mm
    assert any(word.startswith("cut across here, ") for word in words)
    assert f"cut across here, {start / 10:.1f} cm from the end" in words
    assert f"{layout.length_mm / 10:.1f} cm".replace(".0 cm", " cm") in words
    assert "50 cm" in words


def test_a_ruler_in_eighths_of_a_yard() -> None:
    items = [square("a", "1 Square", 800.0)]
    drawing = layout_drawing(
        lay(items, Fabric("f", 900), effort=QUICK), items, width_mm=170.0, unit=LengthUnit.INCH
    )
    words = said(drawing)
    assert "½ yd" in words
    assert "31⅞ in" in words  # 800 mm and 5 mm at both ends, 810 mm
    ruler = next(one for one in drawing.layer("measures").items if isinstance(one, Shape))
    assert len(ruler.paths) == 8 + 1  # 810 mm hold 7 eighths (800.1 mm) and 0; the end


def test_half_of_the_wide_cloth_lies_below_the_fold() -> None:
    items = [*pair("p", POCKET), square("wide", "9 Wide", 900.0)]
    layout = lay(items, LINEN, LayerPlan.FOLDED, effort=QUICK)
    assert len(layout.sections) == 2
    drawing = layout_drawing(layout, items, width_mm=170.0)
    grounds = [one for one in drawing.layer("cloth").items if isinstance(one, Shape) and one.fill]
    double, single = (
        shapely.Polygon([(p.x, p.y) for p in g.paths[0].flattened(0.1)]) for g in grounds
    )
    assert single.bounds[3] == pytest.approx(double.bounds[3])
    tall = (single.bounds[3] - single.bounds[1]) / (double.bounds[3] - double.bounds[1])
    assert tall == pytest.approx(2.0, rel=1e-6)


def test_the_wrong_side_of_the_cloth_is_paler_and_turned_pieces_are_hatched() -> None:
    items = [square("a", "1 A", 300.0), square("b", "1 A, right", 300.0, mirrored=True)]
    single = lay(items, Fabric("f", 900), effort=QUICK)
    drawing = layout_drawing(single, items, width_mm=170.0, cloth=TINT)
    hatched = [one for one in drawing.layer("pieces").items if isinstance(one, Group)]
    assert len(hatched) == sum(one.mirrored for one in single.placements)
    ground = next(one for one in drawing.layer("cloth").items if isinstance(one, Shape))
    pairs = pair("p", POCKET)
    folded = layout_drawing(
        lay(pairs, LINEN, LayerPlan.FOLDED, effort=QUICK), pairs, width_mm=170.0, cloth=TINT
    )
    other = next(one for one in folded.layer("cloth").items if isinstance(one, Shape))
    assert ground.fill is not None
    assert other.fill is not None
    assert other.fill.red > ground.fill.red + 40


@pytest.mark.parametrize("color", ["#101018", "#5b6b78", "#7a1020", "#f4f0e8"])
def test_lines_and_words_stand_out_from_the_ground_of_any_cloth(color: str) -> None:
    items = [square("a", "1 A", 300.0)]
    layout = lay(items, Fabric("f", 900), effort=QUICK)
    drawing = layout_drawing(layout, items, width_mm=170.0, cloth=Color.parse(color))
    ground = next(one for one in drawing.layer("cloth").items if isinstance(one, Shape))
    assert ground.fill is not None
    luma = 0.299 * ground.fill.red + 0.587 * ground.fill.green + 0.114 * ground.fill.blue
    assert luma >= 120  # ink is near 56


def test_nap_is_told() -> None:
    items = [item("p", POCKET)]
    fabric = replace(LINEN, nap=Nap.ONE_WAY)
    words = said(layout_drawing(lay(items, fabric, effort=QUICK), items, width_mm=170.0))
    assert "grain; the tops of all pieces point this way" in words


def test_the_same_layout_gives_the_same_drawing(
    dress_layout: tuple[Layout, list[CutItem]],
) -> None:
    one, other = (to_svg(layout_drawing(*dress_layout, width_mm=170.0)) for _ in range(2))
    assert one == other


def test_the_key_names_what_has_room_for_its_number_only() -> None:
    """Small pieces on long cloth; both copies of a pair have one entry."""
    tiny = (
        square("t.left", "7 Collar stay, left", 40.0, mirrored=False),
        square("t.right", "7 Collar stay, right", 40.0, mirrored=True),
    )
    items = [*(square(f"big{n}", f"{n} Panel", 900.0) for n in range(1, 4)), *tiny]
    layout = lay(items, Fabric("f", 1000), effort=QUICK)
    drawing = layout_drawing(layout, items, width_mm=120.0)
    on_pieces = {one.text for one in drawing.layer("names").items if isinstance(one, Text)}
    assert "7" in on_pieces
    told = [one.text for one in drawing.layer("measures").items if isinstance(one, Text)]
    assert told.count("7 Collar stay") == 1
    assert not any(word.startswith("1 Panel") for word in told)
    frame = drawing_bounds(drawing)
    assert frame.bottom >= 0
    assert frame.top <= 105.0
