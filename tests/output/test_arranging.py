from __future__ import annotations

import math
from itertools import combinations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.errors import OutputError
from clothwise.geometry import Point, Transform, polyline
from clothwise.output import (
    Arrangement,
    Bounds,
    Color,
    Drawing,
    Layer,
    Shape,
    Stroke,
    arrange,
    arrange_for_tiles,
    inked,
    merged,
    placed,
    tile,
)
from clothwise.output.arranging import GAP_MM
from clothwise.output.ink import ink_of
from output.printed import dress_drawings

PEN = Stroke(0.5, Color(0, 0, 0))


def polygon(points: list[tuple[float, float]], title: str = "") -> Drawing:
    path = polyline(Point(x, y) for x, y in points)
    return Drawing((Layer("all", (Shape((path,), PEN, closed=True, solid=True),)),), title)


def rectangle(width: float, height: float, title: str = "") -> Drawing:
    return polygon([(0, 0), (width, 0), (width, height), (0, height)], title)


def check(drawings: tuple[Drawing, ...] | list[Drawing], found: Arrangement) -> None:
    """Judged by shapely: all inside their sheets, no two nearer than the gap."""
    laid = [
        (spot.sheet, shapely.union_all([p.geometry for p in ink_of(placed(d, spot.transform))]))
        for d, spot in zip(drawings, found.placed, strict=True)
    ]
    for sheet, geometry in laid:
        box = found.sheets[sheet]
        frame = shapely.box(box.left, box.bottom, box.right, box.top)
        assert frame.buffer(0.01).contains(geometry)
    for (sheet, one), (other_sheet, other) in combinations(laid, 2):
        if sheet == other_sheet:
            # Strokes are half a millimeter wide, and rims of silhouettes are flattened arcs.
            assert one.distance(other) >= GAP_MM - 0.1


def star_of(radii: list[float]) -> list[tuple[float, float]]:
    turn = 2 * math.pi / len(radii)
    return [(r * math.cos(n * turn), r * math.sin(n * turn)) for n, r in enumerate(radii)]


stars = st.lists(st.floats(15, 160), min_size=3, max_size=9).map(star_of)


@given(st.lists(stars, min_size=1, max_size=7), st.sampled_from([330.0, 500.0, 894.0]))
def test_nothing_overlaps_on_sheets(
    outlines: list[list[tuple[float, float]]], width: float
) -> None:
    drawings = [polygon(outline) for outline in outlines]
    check(drawings, arrange(drawings, width, height_mm=700))


@settings(max_examples=15)
@given(st.lists(stars, min_size=1, max_size=6))
def test_nothing_overlaps_on_tiles(outlines: list[list[tuple[float, float]]]) -> None:
    drawings = [polygon(outline) for outline in outlines]
    found = arrange_for_tiles(drawings, tile_width_mm=190, tile_height_mm=254, overlap_mm=10)
    check(drawings, found)
    (sheet,) = found.sheets
    assert (sheet.width - 10) % 180 == pytest.approx(0, abs=1e-6)


def test_the_dress_lies_on_a_roll_and_on_tiles() -> None:
    drawings = dress_drawings()
    check(drawings, arrange(drawings, 894))
    check(
        drawings,
        arrange_for_tiles(drawings, tile_width_mm=190, tile_height_mm=254, overlap_mm=10),
    )


def test_pages_are_fewer_than_for_pieces_printed_one_by_one() -> None:
    """Every piece on tiles of its own is what a careless printer would do."""
    drawings = dress_drawings()
    page = Bounds(0, 0, 190, 254)
    alone = 0
    for drawing in drawings:
        ink = ink_of(drawing)
        left, bottom, right, top = shapely.total_bounds([p.geometry for p in ink])
        alone += len(inked(tile(Bounds(left, bottom, right, top), page, 10), ink).tiling.tiles)
    found = arrange_for_tiles(drawings, tile_width_mm=190, tile_height_mm=254, overlap_mm=10)
    sheet = merged(placed(d, s.transform) for d, s in zip(drawings, found.placed, strict=True))
    together = len(inked(tile(found.sheets[0], page, 10), ink_of(sheet)).tiling.tiles)
    assert together < 0.85 * alone


def test_drawings_stay_upright_if_they_fit() -> None:
    found = arrange([rectangle(300, 80), rectangle(80, 300)], 500)
    assert all((s.transform.a, s.transform.b) == (1, 0) for s in found.placed)


def test_one_that_only_fits_turned_is_turned() -> None:
    drawings = [rectangle(1024, 96, "Tie belt"), rectangle(200, 200)]
    found = arrange(drawings, 894)
    assert found.placed[0].transform.a == pytest.approx(0, abs=1e-9)
    check(drawings, found)


def test_one_that_fits_no_way_is_refused_by_name_and_size() -> None:
    with pytest.raises(OutputError) as caught:
        arrange([rectangle(900, 1300, "Cape")], 821, height_mm=1169)
    assert str(caught.value) == (
        "Cape: this piece is larger than the paper (it measures 900 x 1300 mm, the paper has "
        "room for 821 mm x 1169 mm). Print it on tiles, or on a wider roll."
    )


def test_one_that_fits_exactly_is_not_refused() -> None:
    found = arrange([rectangle(820.5, 1168.5)], 821, height_mm=1169)
    assert len(found.sheets) == 1


def test_the_same_drawings_always_lie_the_same_way() -> None:
    drawings = [rectangle(40 + 7 * n % 60, 50 + 11 * n % 90) for n in range(12)]
    assert arrange(drawings, 400) == arrange(drawings, 400)


def test_hollows_are_used() -> None:
    """An L and a bar that fits into it need no more height than the L."""
    ell = polygon([(0, 0), (300, 0), (300, 60), (60, 60), (60, 300), (0, 300)])
    bar = rectangle(180, 180)
    (sheet,) = arrange([ell, bar], 320).sheets
    assert sheet.height < 330


def test_parts_that_stand_apart_keep_their_distance_from_others() -> None:
    apart = merged([rectangle(40, 90), placed(rectangle(40, 30), Transform.shift(150, 30))])
    drawings = [apart, rectangle(90, 60), rectangle(80, 80)]
    check(drawings, arrange(drawings, 320))
    check(
        drawings,
        arrange_for_tiles(drawings, tile_width_mm=190, tile_height_mm=254, overlap_mm=10),
    )
