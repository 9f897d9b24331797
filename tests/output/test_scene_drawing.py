from __future__ import annotations

import xml.etree.ElementTree as ElementTree

import pytest

from clothwise.geometry import Point, Transform, polyline
from clothwise.output.booklet_content import STEP_ROOM_MM
from clothwise.output.bounds import Bounds, drawing_bounds
from clothwise.output.drawing import Color, Drawing, Group, Shape, Text, leaves
from clothwise.output.fonts import text_width
from clothwise.output.pdf import to_pdf
from clothwise.output.scene_drawing import (
    MARGIN_MM,
    THREAD,
    TYPE_MM,
    Palette,
    common_factor,
    hatching,
    picture_drawing,
    picture_key,
    zigzag,
)
from clothwise.output.svg import to_svg
from clothwise.work.flat import flats
from clothwise.work.order import plan
from clothwise.work.picture import Area, Caption, Face, LineRole, Picture, Trace
from clothwise.work.scene import scenes
from work.real_designs import long_dress

FEW = 3

SQUARE = polyline([Point(0, 0), Point(200, 0), Point(200, 100), Point(0, 100), Point(0, 0)])


def all_pictures() -> tuple[Picture, ...]:
    pattern = long_dress()
    return (*scenes(pattern, plan(pattern)), *flats(pattern))


@pytest.mark.parametrize("size", [(60.0, 60.0), (90.0, 50.0), (40.0, 70.0)])
def test_pictures_stay_in_their_room(size: tuple[float, float]) -> None:
    for picture in all_pictures():
        frame = drawing_bounds(picture_drawing(picture, *size))
        assert frame.left >= -0.7
        assert frame.bottom >= -0.7
        assert frame.right <= size[0] + 0.7
        assert frame.top <= size[1] + 0.7
        assert frame.width > 0.93 * size[0] or frame.height > 0.93 * size[1]


def test_front_and_back_can_be_drawn_equally_large() -> None:
    front, back = flats(long_dress())
    factor = common_factor((front, back), 80.0, 120.0)
    frames = [
        drawing_bounds(picture_drawing(one, 80.0, 120.0, factor=factor)) for one in (front, back)
    ]
    heights = [Bounds.of_points(one.points()).height for one in (front, back)]
    for frame, height in zip(frames, heights, strict=True):
        assert frame.height == pytest.approx(height * factor, abs=1.0)
    assert max(frame.height for frame in frames) <= 120.0


def test_the_right_side_is_tinted_and_the_wrong_side_hatched() -> None:
    right = picture_drawing(Picture((Area(SQUARE, Face.RIGHT, "p", "main"),), "t"), 60, 60)
    wrong = picture_drawing(Picture((Area(SQUARE, Face.WRONG, "p", "main"),), "t"), 60, 60)
    fused = picture_drawing(Picture((Area(SQUARE, Face.WRONG, "p", "main", True),), "t"), 60, 60)
    assert not [item for item in right.layers[0].items if isinstance(item, Group)]
    (hatched,) = (item for item in wrong.layers[0].items if isinstance(item, Group))
    (crossed,) = (item for item in fused.layers[0].items if isinstance(item, Group))
    assert hatched.clip is not None
    lines = [item for item in (hatched.items[0], crossed.items[0]) if isinstance(item, Shape)]
    assert len(lines[1].paths) > 1.5 * len(lines[0].paths)


def test_a_role_keeps_its_color_in_every_picture() -> None:
    area = Area(SQUARE, Face.RIGHT, "p", "contrast")
    alone = picture_drawing(Picture((area,), "t"), 60, 60, roles=("main", "contrast"))
    main = Area(SQUARE, Face.RIGHT, "q", "main")
    beside = picture_drawing(Picture((main, area), "t"), 60, 60, roles=("main", "contrast"))
    fills = [leaf.item.fill for leaf in leaves(alone) if isinstance(leaf.item, Shape)]
    others = [leaf.item.fill for leaf in leaves(beside) if isinstance(leaf.item, Shape)]
    assert fills[0] == others[1] != others[0]


def test_a_copy_may_have_a_color_of_its_own() -> None:
    red = Color.parse("#aa2020")
    area = Area(SQUARE, Face.RIGHT, "pocket", "main", copy="left")
    palette = Palette(copies={("pocket", "left"): red})
    drawing = picture_drawing(Picture((area,), "t"), 60, 60, palette=palette)
    assert [leaf.item.fill for leaf in leaves(drawing) if isinstance(leaf.item, Shape)] == [red]


def test_colors_follow_the_fabrics_of_the_copies() -> None:
    assigned = {
        ("pocket", "left"): "linen",
        ("pocket", "right"): "twill",
        ("bodice", "left"): "linen",
    }
    palette = Palette.of_fabrics(assigned, {"twill": Color.parse("#123456")})
    left, right, any_copy = (
        palette.of("main", ("main",), Area(SQUARE, Face.RIGHT, "pocket", "main", copy=copy))
        for copy in ("left", "right", "")
    )
    assert left == any_copy != right == Color.parse("#123456")
    bodice = Area(SQUARE, Face.RIGHT, "bodice", "main", copy="left")
    assert palette.of("main", ("main",), bodice) == left


def test_the_key_explains_what_is_used_and_breaks_its_lines() -> None:
    pictures = all_pictures()
    wide, narrow = picture_key(pictures), picture_key(pictures, width_mm=80)
    words = {leaf.item.text for leaf in leaves(wide) if isinstance(leaf.item, Text)}
    assert {"right side", "wrong side", "sewn in this step", "fold"} <= words
    assert drawing_bounds(wide).width <= 171
    assert drawing_bounds(narrow).width <= 81
    only = picture_key([Picture((Area(SQUARE, Face.RIGHT, "p", "main"),), "t")])
    assert [leaf.item.text for leaf in leaves(only) if isinstance(leaf.item, Text)] == [
        "right side"
    ]


def test_pictures_can_be_written_as_pdf_and_svg() -> None:
    for picture in all_pictures()[:4]:
        drawing = picture_drawing(picture, 60, 60)
        assert to_pdf(drawing).startswith(b"%PDF")
        ElementTree.fromstring(to_svg(drawing))
        assert to_svg(drawing) == to_svg(picture_drawing(picture, 60, 60))


def test_an_empty_picture_is_an_empty_drawing() -> None:
    assert picture_drawing(Picture((), "nothing"), 60, 60).layers[0].items == ()


def test_hatching_covers_the_area_at_an_even_distance() -> None:
    lines = hatching(SQUARE, 5.0, 0.7)
    first, second = lines[0], lines[1]
    along = (first.end - first.start).unit
    assert abs((second.start - first.start).cross(along)) == pytest.approx(5.0)
    assert len(lines) >= 200 / 5


def test_a_zigzag_keeps_to_its_path() -> None:
    path = polyline([Point(0, 0), Point(50, 0), Point(50, 40)])
    bent = zigzag(path, 1.0, 2.0)
    for point in bent.flattened():
        assert path.point_at(path.nearest(point)).distance(point) <= 0.75


def test_names_stand_beside_pieces_that_are_too_narrow_for_them() -> None:
    """And on those that are wide enough."""
    narrow = polyline([Point(0, 0), Point(30, 0), Point(30, 400), Point(0, 400), Point(0, 0)])
    items = (
        Area(narrow, Face.RIGHT, "facing", "main"),
        Area(SQUARE.transformed(Transform.shift(200.0, 0.0)), Face.RIGHT, "front", "main"),
        Caption("Front facing", Point(15, 200), (Point(0, 0), Point(30, 400))),
        Caption("Front", Point(300, 50), (Point(200, 0), Point(400, 100))),
    )
    drawing = picture_drawing(Picture(items, "t"), 80, 60)
    factor = common_factor([Picture(items, "t")], 80, 60)
    places = {
        leaf.item.text: leaf.item.at.x for leaf in leaves(drawing) if isinstance(leaf.item, Text)
    }
    half = text_width("Front facing", TYPE_MM) / 2
    assert places["Front facing"] - half > 30 * factor
    assert places["Front"] == pytest.approx(300 * factor, abs=1.5)


def word_boxes(drawing: Drawing) -> dict[str, Bounds]:
    """Where each name stands."""
    found = {}
    for leaf in leaves(drawing):
        if isinstance(leaf.item, Text):
            at, width = leaf.item.at, text_width(leaf.item.text, TYPE_MM)
            found[leaf.item.text] = Bounds(
                at.x - width / 2, at.y - TYPE_MM / 2, at.x + width / 2, at.y + TYPE_MM / 2
            )
    return found


def holds(box: Bounds, points: list[Point]) -> bool:
    return any(
        box.left < point.x < box.right and box.bottom < point.y < box.top for point in points
    )


def test_a_name_moves_off_what_is_sewn_and_stays_on_its_piece() -> None:
    seam = polyline([Point(0, 50), Point(200, 50)])
    items = (
        Area(SQUARE, Face.RIGHT, "front", "main"),
        Trace(seam, LineRole.SEWN_NOW, "front"),
        Caption("Front", Point(100, 50), (Point(0, 0), Point(200, 100))),
    )
    box = word_boxes(picture_drawing(Picture(items, "t"), 60, 60))["Front"]
    factor = common_factor([Picture(items, "t")], 60, 60)
    line = MARGIN_MM + 50 * factor
    assert box.bottom > line or box.top < line
    assert MARGIN_MM < box.bottom < box.top < MARGIN_MM + 100 * factor
    assert box.center.x == pytest.approx(30, abs=3)  # no further than it must


def test_a_name_that_finds_no_room_on_its_piece_stands_close_beside_it() -> None:
    """Nearer to it than to the piece beside."""
    seams = tuple(
        Trace(polyline([Point(0, y), Point(200, y)]), LineRole.SEWN_NOW, "front")
        for y in range(0, 101, 10)
    )
    items = (
        Area(SQUARE, Face.RIGHT, "front", "main"),
        Area(SQUARE.transformed(Transform.shift(0.0, 200.0)), Face.RIGHT, "back", "main"),
        *seams,
        Caption("Front", Point(100, 50), (Point(0, 0), Point(200, 100))),
    )
    box = word_boxes(picture_drawing(Picture(items, "t"), 90, 60))["Front"]
    factor = common_factor([Picture(items, "t")], 90, 60)
    front, back = Bounds(0, 0, 200 * factor, 100 * factor), 200 * factor
    assert box.left > front.right or box.bottom > front.top
    assert box.left - front.right < 6
    assert box.top < (front.top + back) / 2 + MARGIN_MM


def test_in_the_booklet_few_names_cover_what_is_sewn() -> None:
    """One that finds no room at all still must stand somewhere."""
    covering = 0
    for picture in all_pictures()[:-2]:
        drawing = picture_drawing(picture, *STEP_ROOM_MM)
        points = [
            point
            for leaf in leaves(drawing)
            if isinstance(leaf.item, Shape) and leaf.item.stroke is not None
            if leaf.item.stroke.color == THREAD
            for path in leaf.item.paths
            for at in range(int(path.length * 4))
            for point in (path.point_at(at / 4),)
        ]
        covering += sum(holds(box, points) for box in word_boxes(drawing).values())
    assert covering <= FEW
