"""Step pictures: true to the seam graph, and nothing drawn that is not there."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
import shapely

from clothwise.geometry import Path
from clothwise.pattern import Pattern, SeamCorners
from clothwise.pattern.graph import SeamKind
from clothwise.work.assembly import aligned, apart, strip
from clothwise.work.cloth import Cloth
from clothwise.work.order import plan
from clothwise.work.picture import Area, Face, LineRole, Picture
from clothwise.work.scene import scenes
from clothwise.work.steps import pieces_worked_on
from work.real_designs import (
    LONG_DRESS,
    SKIRTS,
    all_designs,
    body,
    drafted,
    half_circle_skirt,
    long_dress,
    tunic,
)


@cache
def pictures(number: int) -> dict[str, Picture]:
    """Pictures of one of the designs, by operation."""
    pattern = all_designs()[number]
    order = plan(pattern)
    names = [operation.name for operation in order.operations]
    return dict(zip(names, scenes(pattern, order), strict=True))


def picture(pattern: Pattern, operation: str) -> Picture:
    return pictures(all_designs().index(pattern))[operation]


def polygon(path: Path) -> shapely.Polygon:
    return shapely.Polygon([(line.start.x, line.start.y) for line in path.segments])


def cloth(of: Picture) -> shapely.Geometry:
    return shapely.union_all([polygon(area.path).buffer(0.3) for area in of.areas])


def length(of: Picture, role: LineRole) -> float:
    return sum(trace.path.length for trace in of.traces(role))


ALL = [(number, name) for number in range(3) for name in pictures(number)]


@pytest.mark.parametrize(("number", "name"), ALL)
def test_every_step_has_a_picture_of_its_own_pieces(number: int, name: str) -> None:
    pattern = all_designs()[number]
    operation = next(one for one in pattern.operations if one.name == name)
    of = pictures(number)[name]
    allowed = set(pieces_worked_on(pattern, operation))
    allowed |= {placement.piece for placement in pattern.placements.values()}
    assert of.areas
    assert {area.piece for area in of.areas} <= allowed
    assert of.title == operation.title
    for area in of.areas:
        assert polygon(area.path).is_valid


@pytest.mark.parametrize(("number", "name"), ALL)
def test_what_is_sewn_is_brought_out_and_lies_on_cloth(number: int, name: str) -> None:
    pattern = all_designs()[number]
    operation = next(one for one in pattern.operations if one.name == name)
    of = pictures(number)[name]
    brought_out = [
        trace
        for role in (LineRole.SEWN_NOW, LineRole.NEATENED, LineRole.BOUND, LineRole.MEANT)
        for trace in of.traces(role)
    ]
    brought_out += of.traces(LineRole.GATHERING)
    named = (*operation.prepares, *operation.shows)
    assert bool(brought_out) == bool(operation.does or any("." in name for name in named))
    ground = cloth(of)
    for trace in brought_out:
        line = shapely.LineString([(p.x, p.y) for p in trace.path.flattened()])
        assert line.difference(ground).length < 0.02 * line.length + 1.0


@pytest.mark.parametrize(
    ("operation", "seam", "times", "within"),
    [
        ("bodice-shoulders", "bodice-shoulder", 2, 0.03),
        ("bodice-sides", "bodice-side", 2, 0.08),  # a flat shape with closed darts is not exact
        ("skirt-sides", "skirt-side", 2, 0.01),
        ("facing-join", "facing-shoulder", 2, 0.005),
        ("sleeve-seam", "sleeve-underarm", 1, 0.005),
        ("belt-join", "belt-center", 1, 0.005),
        ("collar-make", "collar-outer", 2, 0.01),
    ],
)
def test_stitching_is_drawn_as_long_as_the_seam(
    operation: str, seam: str, times: int, within: float
) -> None:
    pattern = long_dress()
    wanted = [pattern.run_length(layer.run) for layer in pattern.seams[seam].layers]
    drawn = length(picture(pattern, operation), LineRole.SEWN_NOW)
    assert min(abs(drawn / (times * one) - 1) for one in wanted) < within  # on the upper layer


def test_dart_legs_are_drawn_on_the_wrong_side_of_open_darts() -> None:
    pattern = long_dress()
    of = picture(pattern, "bodice-back-darts")
    leg = pattern.edge_length(pattern.seams["bodice-back-waist-dart"].layers[0].run.edges[0])
    assert of.faces == {Face.WRONG}
    assert length(of, LineRole.SEWN_NOW) == pytest.approx(4 * leg, rel=0.01)


def test_right_sides_together_shows_both_faces() -> None:
    of = picture(long_dress(), "skirt-sides")
    assert [(area.piece, area.face) for area in of.areas] == [
        ("skirt-back", Face.RIGHT),
        ("skirt-front", Face.WRONG),
        ("skirt-front", Face.WRONG),
    ]
    assert "right sides together" in of.note


def test_the_piece_on_the_fold_is_drawn_whole() -> None:
    of = picture(long_dress(), "bodice-back-darts")
    (back,) = of.areas
    half = long_dress().piece("bodice-back").outline.area
    assert polygon(back.path).area > 2 * half  # both halves, with allowances


def test_fusing_shows_the_wrong_side() -> None:
    of = picture(long_dress(), "facing-fuse")
    assert all(area.face is Face.WRONG and area.fused for area in of.areas)


def test_a_hem_is_turned_up_to_the_wrong_side() -> None:
    of = picture(long_dress(), "sew-hem")
    assert of.faces == {Face.RIGHT, Face.WRONG}
    up = [polygon(area.path).area for area in of.areas if area.face is Face.RIGHT]
    pattern = long_dress()
    hem = pattern.finishes["hem"]
    assert sum(up) == pytest.approx(2 * pattern.run_length(hem.run) * hem.depth_mm, rel=0.05)


def test_layers_are_numbered_from_the_lowest() -> None:
    of = picture(long_dress(), "facing-attach")
    words = [caption.text for caption in of.items if hasattr(caption, "text")]
    assert "1 Bodice back" in words
    assert "2 Upper collar" in words
    assert "3 Back neck facing" in words
    assert not any("Under collar" in word for word in words)  # turned, so not seen


def test_pockets_sewn_on_before_are_seen_later() -> None:
    waist = picture(long_dress(), "skirt-waist")
    assert sum(area.piece == "pocket" for area in waist.areas) == 2
    before = picture(long_dress(), "skirt-darts")
    assert not any(area.piece == "pocket" for area in before.areas)


def test_button_marks_differ_between_left_and_right() -> None:
    of = picture(tunic(), "buttons-sew")
    buttons = [item for item in of.items if hasattr(item, "size_mm")]
    assert len(buttons) == len(of.traces(LineRole.BUTTONHOLE)) > 4
    middle = sum(button.at.x for button in buttons) / len(buttons)
    for hole in of.traces(LineRole.BUTTONHOLE):
        assert hole.path.start.x < middle  # the wearer's right is at the left of the picture


def test_one_of_two_is_said_to_be_one_of_two() -> None:
    assert "One of two" in picture(long_dress(), "bodice-front-darts").note
    assert "One of two" not in picture(long_dress(), "skirt-sides").note


def test_matched_places_join_both_sides_of_an_opened_seam() -> None:
    of = picture(tunic(), "skirt-waist")
    assert len(of.traces(LineRole.MATCHED)) >= 8
    assert length(of, LineRole.SEWN_NOW) == pytest.approx(
        4 * tunic().run_length(tunic().seams["skirt-waist"].layers[0].run), rel=0.04
    )


def test_sewn_pieces_touch_along_their_seam_and_do_not_overlap() -> None:
    pattern = long_dress()
    done = {"bodice-side", "bodice-shoulder"} | {
        name for name, seam in pattern.seams.items() if seam.kind.value == "dart"
    }
    on = Cloth(pattern, done)
    waist = pattern.seams["skirt-waist"]
    joined = strip(on, waist, waist.layers[0].run)
    front, back = joined.sheets
    assert front.polygon.distance(back.polygon) < 1.0
    assert front.polygon.intersection(back.polygon).area < 0.02 * front.polygon.area


@pytest.mark.parametrize("seam", ["skirt-side", "bodice-side", "sleeve-armhole", "skirt-waist"])
def test_runs_laid_together_start_and_end_together(seam: str) -> None:
    pattern = long_dress()
    order = plan(pattern)
    done: set[str] = set()
    for operation in order.operations:
        if seam in operation.does:
            break
        done.update(operation.does)
    use = pattern.seams[seam]
    corners = SeamCorners(pattern)
    still = strip(Cloth(pattern, done, corners), use, use.layers[0].run)
    other = strip(Cloth(pattern, done, corners), use, use.layers[1].run)
    on_top = aligned(still, other, on_top=True)
    assert on_top.interior_left == still.interior_left
    opened = aligned(still, other, on_top=False)
    assert opened.interior_left != still.interior_left
    clear = apart(still, opened, 30.0)
    assert still.polygon.distance(clear.polygon) == pytest.approx(30.0, abs=1.5)
    if seam in ("skirt-side", "bodice-side"):
        for mine, its in zip(still.chord, on_top.chord, strict=True):
            assert mine.distance(its) < 6.0


def test_pictures_of_other_bodies_hold_as_well() -> None:
    for wearer in (body(820, 600, 900, 1560), body(1240, 1080, 1290, 1740)):
        pattern = drafted(LONG_DRESS, wearer)
        for of in scenes(pattern, plan(pattern)):
            assert of.areas
            assert all(polygon(area.path).is_valid for area in of.areas)


def test_a_band_on_a_curved_waist_is_drawn_beside_it() -> None:
    of = picture(half_circle_skirt(), "band-attach")
    assert of.traces(LineRole.MATCHED)
    assert of.faces == {Face.RIGHT}


def test_pictures_do_not_depend_on_chance() -> None:
    pattern = tunic()
    first, second = (scenes(pattern, plan(pattern)) for _ in range(2))
    assert first == second
    assert isinstance(first[0].items[0], Area)


def test_a_hem_turned_up_is_of_the_cloth_above_it() -> None:
    """On both sides of the wearer: left may be cut from another cloth than right."""
    hem = picture(long_dress(), "sew-hem")
    turned = [area for area in hem.areas if area.face is Face.RIGHT]
    above = [area for area in hem.areas if area.face is Face.WRONG]
    assert {area.copy for area in turned if area.piece == "skirt-front"} == {"left", "right"}
    for band in turned:
        middle = shapely.Polygon([(p.x, p.y) for p in band.path.flattened()]).centroid
        left, right = middle.x - 20.0, middle.x + 20.0
        over = shapely.box(left, middle.y, right, middle.y + 120.0)
        covered = [
            area.copy
            for area in above
            if area.piece == band.piece
            and shapely.Polygon([(p.x, p.y) for p in area.path.flattened()]).intersects(over)
        ]
        assert covered == [band.copy]


def lines(of: Picture, role: LineRole) -> list[shapely.LineString]:
    return [
        shapely.LineString([(p.x, p.y) for p in trace.path.flattened()])
        for trace in of.traces(role)
    ]


def threads_picture(parts: tuple[tuple[str, str, dict[str, Any]], ...], operation: str) -> Picture:
    pattern = drafted(parts)
    order = plan(pattern)
    names = [one.name for one in order.operations]
    return scenes(pattern, order)[names.index(operation)]


def test_gathering_threads_are_two_rows_in_the_allowance_with_free_ends() -> None:
    """Of a ring they are shown around a seam: 15 mm in four meters would be one line."""
    of = threads_picture(SKIRTS[3], "skirt-2-gathering-threads")
    assert not of.traces(LineRole.SEWN_NOW)
    rows, ground = lines(of, LineRole.GATHERING), cloth(of)
    heights = sorted({round(row.centroid.y, 1) for row in rows})
    assert len(heights) == 2
    raw_edge = ground.bounds[3]
    assert 0 < raw_edge - heights[1] < raw_edge - heights[0] < 15.0
    assert heights[1] - heights[0] > 5.0
    assert all(row.difference(ground).length < 1.0 for row in rows)
    ends = lines(of, LineRole.FREE_END)
    assert len(ends) >= 2
    assert all(end.difference(ground).length > 15.0 for end in ends)
    assert ground.bounds[2] - ground.bounds[0] < 600.0
    assert "The ends of the threads are shown at one seam." in of.note


def test_gathering_threads_run_only_where_an_edge_is_gathered() -> None:
    """Below a back yoke, from notch to notch across center back; nothing ends at the fold."""
    yoked = (("bodice", "yoke-bodice", {"gathers_mm": 40.0}), *LONG_DRESS[1:])
    of = threads_picture(yoked, "bodice-back-yoke-threads")
    rows, ends = lines(of, LineRole.GATHERING), lines(of, LineRole.FREE_END)
    assert len(rows) == len(ends) == 4  # two of each half
    left, _, right, _ = shapely.total_bounds(rows)
    upper = cloth(of).bounds
    assert right - left < 0.8 * (upper[2] - upper[0])
    middle = (left + right) / 2
    assert min(row.distance(shapely.Point(middle, row.centroid.y)) for row in rows) < 8.0
    assert all(abs(end.centroid.x - middle) > 0.4 * (right - left) for end in ends)


def test_a_gathered_seam_shows_the_gathers_of_the_longer_edge_between_its_notches() -> None:
    yoked = (("bodice", "yoke-bodice", {"gathers_mm": 40.0}), *LONG_DRESS[1:])
    of = threads_picture(yoked, "bodice-back-yoke")
    gathers, seams = lines(of, LineRole.GATHERS), lines(of, LineRole.SEWN_NOW)
    ground, ticks = cloth(of), lines(of, LineRole.NOTCH)
    assert len(gathers) >= 16
    assert {trace.piece for trace in of.traces(LineRole.GATHERS)} == {"bodice-back"}
    for each in gathers:
        assert min(seam.distance(shapely.Point(each.coords[0])) for seam in seams) < 1.0
        assert each.difference(ground).length < 0.1
        assert each.coords[1][1] < each.coords[0][1]  # down into the back, not to the yoke
    left, _, right, _ = shapely.total_bounds(gathers)
    notched = [tick.centroid.x for tick in ticks]
    assert min(notched) < left < right < max(notched)
    assert right - left > 0.85 * (max(notched) - min(notched))


def test_gathers_are_shown_whichever_layer_of_a_seam_is_the_longer_one() -> None:
    """A skirt is the first layer below its waistband, a tier the second below another."""
    pattern = drafted(SKIRTS[3])
    order = plan(pattern)
    shown = {
        operation.name: {trace.piece for trace in of.traces(LineRole.GATHERS)}
        for operation, of in zip(order.operations, scenes(pattern, order), strict=True)
    }
    gathered = {name: pieces for name, pieces in shown.items() if pieces}
    joined = {
        operation.name
        for operation in order.operations
        for name in operation.does
        if name in pattern.seams and pattern.seams[name].kind is SeamKind.GATHERED
    }
    assert len(joined) >= 2
    assert gathered.keys() == joined
    assert not any("waistband" in piece for pieces in gathered.values() for piece in pieces)


def test_a_sleeve_that_is_set_in_shows_its_rows_of_long_stitches_between_the_notches() -> None:
    """An eased seam without them, such as the shoulder seam, shows none."""
    of = picture(long_dress(), "sleeve-set-in")
    rows, ends = lines(of, LineRole.GATHERING), lines(of, LineRole.FREE_END)
    assert len(rows) % 2 == 0
    assert rows
    assert len(ends) == 2 * len(rows)
    ticks = lines(of, LineRole.NOTCH)
    for row in rows:
        for end in (row.coords[0], row.coords[-1]):
            assert min(tick.distance(shapely.Point(end)) for tick in ticks) < 15.0
    assert not picture(long_dress(), "bodice-shoulders").traces(LineRole.GATHERING)
