from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from clothwise.errors import Misuse
from clothwise.geometry import Point, polyline
from clothwise.output import Bounds, Color, Drawing, Group, Layer, Shape, Stroke, inked, tile
from clothwise.output.ink import ink_of
from clothwise.output.tiling import Tiling, own_area, tile_count

PAGE = Bounds(10, 12.7, 200, 266.7)
PEN = Stroke(0.5, Color(0, 0, 0))


@pytest.mark.parametrize(
    ("length", "tile_mm", "overlap", "count"),
    [
        (841, 190, 0, 5),  # 841 / 190 = 4.4
        (841, 190, 10, 5),  # 831 / 180 = 4.6
        (1189, 254, 10, 5),  # 1179 / 244 = 4.8
        (190, 190, 10, 1),
        (190.5, 190, 10, 2),
        (370, 190, 10, 2),  # exactly two with their strip
        (370.5, 190, 10, 3),
    ],
)
def test_tiles_for_a_sheet(length: float, tile_mm: float, overlap: float, count: int) -> None:
    """P12: ceil((W - overlap) / (t - overlap)); by arithmetic, worked out beside each row."""
    assert tile_count(length, tile_mm, overlap) == count


@given(st.floats(1, 6000), st.floats(60, 1200), st.floats(0, 29))
def test_the_count_is_the_formula(length: float, tile_mm: float, overlap: float) -> None:
    exact = (length - overlap) / (tile_mm - overlap)
    if abs(exact - round(exact)) > 1e-4:
        assert tile_count(length, tile_mm, overlap) == max(1, math.ceil(exact))


sheets = st.builds(
    lambda x, y, w, h: Bounds(x, y, x + w, y + h),
    st.floats(-2000, 2000),
    st.floats(-2000, 2000),
    st.floats(1, 3000),
    st.floats(1, 3000),
)
overlaps = st.sampled_from([0.0, 3.0, 10.0, 20.0])


@given(sheets, overlaps)
def test_own_areas_fill_the_sheet_without_overlapping(sheet: Bounds, overlap: float) -> None:
    tiling = tile(sheet, PAGE, overlap)
    areas = [own_area(tiling, each) for each in tiling.tiles]
    boxes = [shapely.box(a.left, a.bottom, a.right, a.top) for a in areas]
    whole = shapely.union_all(boxes)
    assert whole.area == pytest.approx(sum(box.area for box in boxes), rel=1e-9)
    frame = shapely.box(sheet.left, sheet.bottom, sheet.right, sheet.top)
    assert whole.buffer(0.01).contains(frame)
    for area, each in zip(areas, tiling.tiles, strict=True):
        assert each.window.holds(Point(area.left, area.bottom), 1e-6)
        assert each.window.holds(Point(area.right, area.top), 1e-6)


def lines_in(sheet: Bounds) -> st.SearchStrategy[list[list[Point]]]:
    spot = st.builds(
        lambda x, y: Point(sheet.left + x * sheet.width, sheet.bottom + y * sheet.height),
        st.floats(0, 1),
        st.floats(0, 1),
    )
    return st.lists(st.lists(spot, min_size=2, max_size=6), min_size=1, max_size=5)


def drawing_of(lines: list[list[Point]]) -> Drawing | None:
    shapes = []
    for points in lines:
        if points[0].distance(points[-1]) > 0.01:
            shapes.append(Shape((polyline(points),), PEN))
    return Drawing((Layer("all", tuple(shapes)),)) if shapes else None


@given(st.data(), sheets, overlaps)
def test_any_drawing_within_a_sheet_is_covered_by_its_tiles(
    data: st.DataObject, sheet: Bounds, overlap: float
) -> None:
    drawing = drawing_of(data.draw(lines_in(sheet)))
    if drawing is None:
        return
    ink = ink_of(drawing)
    kept = inked(tile(sheet, PAGE, overlap), ink).tiling
    windows = shapely.union_all(
        [shapely.box(t.left, t.bottom, t.right, t.top) for t in (k.window for k in kept.tiles)]
    )
    for part in ink:
        assert part.geometry.difference(windows.buffer(1e-6)).length < 1e-6


@given(st.data(), sheets, overlaps)
def test_every_tile_kept_carries_something(
    data: st.DataObject, sheet: Bounds, overlap: float
) -> None:
    drawing = drawing_of(data.draw(lines_in(sheet)))
    if drawing is None:
        return
    ink = shapely.union_all(
        [part.geometry.buffer(part.reach_mm + 1e-6) for part in ink_of(drawing)]
    )
    kept = inked(tile(sheet, PAGE, overlap), ink_of(drawing)).tiling
    assert kept.tiles
    for each in kept.tiles:
        area = own_area(tile(sheet, PAGE, overlap), each)
        assert ink.distance(shapely.box(area.left, area.bottom, area.right, area.top)) < 1e-6


def ring(left: float, bottom: float, right: float, top: float, **style: object) -> Shape:
    box = Bounds(left, bottom, right, top)
    return Shape((box.path,), PEN, closed=True, **style)  # type: ignore[arg-type]


def kept_labels(shape: Shape, name: str = "") -> list[str]:
    drawing = Drawing((Layer("all", (Group((shape,), name=name),)),))
    tiling = tile(Bounds(0, 0, 550, 742), PAGE, 10.0)  # 3 x 3
    assert (tiling.rows, tiling.columns) == (3, 3)
    return [each.label for each in inked(tiling, ink_of(drawing)).tiling.tiles]


def test_a_line_around_a_page_leaves_that_page_out() -> None:
    assert kept_labels(ring(50, 50, 500, 700)) == [
        "A1", "A2", "A3", "B1", "B3", "C1", "C2", "C3",
    ]  # fmt: skip


def test_paper_is_kept_for_the_inside_of_a_solid_shape() -> None:
    assert "B2" in kept_labels(ring(50, 50, 500, 700, solid=True))


def test_a_page_is_not_kept_for_the_box_of_a_slanting_line() -> None:
    slant = Shape((polyline([Point(5, 737), Point(545, 5)]),), PEN)
    labels = kept_labels(slant)
    assert {"A1", "B2", "C3"} <= set(labels)
    assert {"A3", "C1"}.isdisjoint(labels)


def test_groups_tell_which_pages_they_reach() -> None:
    group = Group((ring(5, 600, 60, 700),), name="Pocket")
    other = Group((ring(200, 5, 300, 100),), name="Belt")
    drawing = Drawing((Layer("a", (group,)), Layer("b", (Group((other,)),))))
    found = inked(tile(Bounds(0, 0, 550, 742), PAGE, 10.0), ink_of(drawing))
    labels = {name: [t.label for t in tiles] for name, tiles in found.pages_of.items()}
    assert labels == {"Pocket": ["A1"], "Belt": ["C2"]}
    assert [found.tiling.page_number(t, 2) for t in found.tiling.tiles] == [2, 3]


def test_nothing_drawn_needs_no_page() -> None:
    assert inked(tile(Bounds(0, 0, 500, 500), PAGE, 10.0), []).tiling.tiles == ()


@pytest.mark.parametrize("overlap", [-1.0, 120.0])
def test_a_strip_that_does_not_suit_the_page_is_refused(overlap: float) -> None:
    with pytest.raises(Misuse, match="overlap"):
        tile(Bounds(0, 0, 500, 500), PAGE, overlap)


def test_neighbors_are_found() -> None:
    tiling: Tiling = tile(Bounds(0, 0, 550, 742), PAGE, 10.0)
    middle = tiling.at(1, 1)
    assert middle is not None
    assert middle.label == "B2"
    assert tiling.at(3, 0) is None
