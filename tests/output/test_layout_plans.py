"""Pictures of layouts on cloth that lies in every way, patterned, flawed, pinned."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from clothwise.cutting import Fabric, LayerPlan, Nap, on_fabric
from clothwise.cutting.repeat import MatchPoint, Repeat
from clothwise.output.bounds import drawing_bounds, text_corners
from clothwise.output.drawing import Drawing, Group, Shape, Stroke, Text, Weight
from clothwise.output.layout_drawing import layout_drawing
from clothwise.output.layout_frame import round_scale
from clothwise.output.layout_marks import (
    BORDER_LINE,
    EDGE,
    END_OF_CLOTH,
    FLAW,
    FOLD,
    FOLD_BAR,
    MATCH,
    PATTERN_LINE,
    PIN,
    SELVAGE,
)
from clothwise.output.layout_repeat import ordinal
from clothwise.output.scene_drawing import PAPER
from clothwise.output.svg import to_svg
from clothwise.units import LengthUnit
from layout_samples import (
    POCKETS,
    SAMPLES,
    SKIRT,
    Sample,
    bordered,
    checked,
    crosswise,
    face_to_face,
    partly_folded,
    two_folds,
)

WIDTH_MM = 170.0


def drawn(sample: Sample, **more: object) -> Drawing:
    return layout_drawing(
        sample.layout,
        sample.items,
        width_mm=WIDTH_MM,
        pinned=sample.pinned,
        matches=sample.matches,
        **more,  # type: ignore[arg-type]
    )


def words(drawing: Drawing, layer: str = "measures") -> list[str]:
    return [
        item.text.replace("\u00a0", " ")
        for item in drawing.layer(layer).items
        if isinstance(item, Text)
    ]


def lines(drawing: Drawing, layer: str, pen: Stroke) -> list[tuple[float, ...]]:
    """The boxes of all paths drawn with a pen."""
    return [
        shapely.LineString([(p.x, p.y) for p in path.flattened(0.02)]).bounds
        for item in drawing.layer(layer).items
        if isinstance(item, Shape) and item.stroke == pen
        for path in item.paths
    ]


def outlines(drawing: Drawing) -> list[shapely.Polygon]:
    return [
        shapely.Polygon([(p.x, p.y) for p in one.paths[0].flattened(0.02)])
        for one in drawing.layer("pieces").items
        if isinstance(one, Shape) and one.fill == PAPER
    ]


def cloths(drawing: Drawing) -> list[shapely.Polygon]:
    return [
        shapely.Polygon([(p.x, p.y) for p in one.paths[0].flattened(0.1)])
        for one in drawing.layer("cloth").items
        if isinstance(one, Shape) and one.fill
    ]


def factor_of(drawing: Drawing, sample: Sample) -> float:
    """The scale as drawn, from the area of all pieces."""
    by_id = {item.id: item for item in sample.items}
    real = sum(
        shapely.Polygon(by_id[one.item_ids[0]].outline).area for one in sample.layout.placements
    )
    return math.sqrt(sum(one.area for one in outlines(drawing)) / real)


@pytest.mark.parametrize("name", SAMPLES)
@pytest.mark.parametrize("width_mm", [95.0, 170.0, 260.0])
def test_every_sample_stays_in_its_room(name: str, width_mm: float) -> None:
    sample = SAMPLES[name]()
    for unit in (LengthUnit.CENTIMETER, LengthUnit.INCH):
        drawing = layout_drawing(
            sample.layout,
            sample.items,
            width_mm=width_mm,
            unit=unit,
            pinned=sample.pinned,
            matches=sample.matches,
        )
        frame = drawing_bounds(drawing)
        assert frame.left >= 0
        assert frame.bottom >= 0
        assert frame.right <= width_mm + 0.5
        assert frame.top <= 105.5


@pytest.mark.parametrize("name", SAMPLES)
def test_the_scale_in_figures_is_that_of_the_drawing(name: str) -> None:
    sample = SAMPLES[name]()
    drawing = drawn(sample)
    (told,) = [word for word in words(drawing) if word.startswith("scale 1:")]
    assert 1 / factor_of(drawing, sample) == pytest.approx(int(told[8:]), rel=2e-3)


@pytest.mark.parametrize("name", SAMPLES)
def test_pieces_lie_on_the_cloth_and_apart(name: str) -> None:
    drawing = drawn(SAMPLES[name]())
    cloth = shapely.union_all(cloths(drawing)).buffer(0.05)
    pieces = outlines(drawing)
    for at, piece in enumerate(pieces):
        assert cloth.contains(piece)
        assert not any(piece.intersection(other).area > 0.05 for other in pieces[at + 1 :])


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (two_folds, ["both selvages folded to the middle, right sides together; wrong side up"]),
        (
            partly_folded,
            [
                "one selvage folded over, 42 cm deep, right sides together; wrong side up there, "
                "right side up beside it",
                "42 cm folded over",
                "52.2 cm in one layer",
            ],
        ),
        (crosswise, ["folded across the length, right sides together; wrong side up; 165 cm of "]),
        (
            face_to_face,
            [
                "cut into two lengths of 82.5 cm, the upper one turned around and laid on the "
                "other, right sides together; wrong side up; 191 cm of cloth in all",
                "opened out, one layer, right side up",
                "cut across here, 165 cm from the end",
                "108.5 cm on the table",
            ],
        ),
        (checked, ["one layer, right side up", "83 cm"]),
    ],
)
def test_it_says_how_the_cloth_lies(make: object, said: list[str]) -> None:
    told = " | ".join(words(drawn(make())))  # type: ignore[operator]
    for sentence in said:
        assert sentence in told


def test_the_way_the_cloth_lies_is_wrapped_on_a_narrow_page() -> None:
    sample = face_to_face()
    drawing = layout_drawing(sample.layout, sample.items, width_mm=95.0)
    told = words(drawing)
    assert not any("cut into two lengths" in word and "wrong side up" in word for word in told)
    assert drawing_bounds(drawing).right <= 95.5


@pytest.mark.parametrize("width_mm", [95.0, 170.0, 260.0])
def test_what_is_said_of_one_stretch_does_not_run_into_the_next(width_mm: float) -> None:
    """Much is said of two lengths on each other; the stretch after them is the longer one."""
    sample = face_to_face()
    two, single = sample.layout.sections
    longer = replace(sample.layout, sections=(two, replace(single, length_mm=1600.0)))
    drawing = layout_drawing(longer, sample.items, width_mm=width_mm)
    said = [
        shapely.Polygon([(corner.x, corner.y) for corner in text_corners(each)])
        for each in drawing.layer("measures").items
        if isinstance(each, Text) and each.weight is Weight.ITALIC
    ]
    assert len(said) >= 2
    for at, one in enumerate(said):
        assert not any(one.intersection(other).area > 0.01 for other in said[at + 1 :])


def test_folds_lie_where_the_cloth_is_folded() -> None:
    two = drawn(two_folds())
    (cloth,) = cloths(two)
    _, low, _, high = cloth.bounds
    assert sorted(box[1] for box in lines(two, "cloth", FOLD)) == pytest.approx([low, high])
    across = drawn(crosswise())
    (cloth,) = cloths(across)
    _, low, right, high = cloth.bounds
    ((at_left, from_low, at_right, to_high),) = lines(across, "cloth", FOLD)
    assert (at_left, at_right) == pytest.approx((right, right))
    assert (from_low, to_high) == pytest.approx((low, high))
    assert lines(drawn(face_to_face()), "cloth", FOLD) == []
    assert "fold" in words(two)
    assert "fold" in words(across)


def test_a_flap_is_drawn_as_deep_as_it_is_folded_over() -> None:
    """Its edge, its selvage, and its wrong side, which is paler than what lies beside it."""
    sample = partly_folded()
    drawing = drawn(sample)
    factor = factor_of(drawing, sample)
    whole, flap = (polygon.bounds for polygon in cloths(drawing))
    left, low, right, high = whole
    # Of 140 cm less the wash, 42 cm lie double.
    assert (high - low) / factor == pytest.approx(1400 * 0.98 - 420, abs=0.5)
    assert flap[:3] == pytest.approx((left, low, right))
    assert (flap[3] - low) / factor == pytest.approx(420, abs=0.2)
    assert [box[1] for box in lines(drawing, "cloth", FOLD)] == pytest.approx([low])
    edges = [(box[1] - low) / factor for box in lines(drawing, "cloth", EDGE)]
    assert any(at == pytest.approx(420, abs=0.2) for at in edges)
    selvages = sorted((box[1] - low) / factor for box in lines(drawing, "cloth", SELVAGE))
    assert selvages == pytest.approx([420 - 9.8, (high - low) / factor - 9.8], abs=0.1)
    up, down = (
        item.fill for item in drawing.layer("cloth").items if isinstance(item, Shape) and item.fill
    )
    assert down.red > up.red


def test_half_pieces_show_their_edge_on_either_fold() -> None:
    drawing = drawn(two_folds())
    (cloth,) = cloths(drawing)
    _, low, _, high = cloth.bounds
    heights = sorted(box[1] for box in lines(drawing, "pieces", FOLD_BAR))
    assert heights == pytest.approx([low, high, high])


def test_selvages_that_meet_are_drawn_in_the_middle() -> None:
    drawing = drawn(two_folds())
    (cloth,) = cloths(drawing)
    _, low, _, high = cloth.bounds
    edges = [
        box
        for item in drawing.layer("cloth").items
        if isinstance(item, Shape) and not item.fill and item.stroke != FOLD
        for box in [
            shapely.LineString([(p.x, p.y) for p in path.flattened(0.1)]).bounds
            for path in item.paths
        ]
    ]
    level = sorted({round(box[1], 4) for box in edges if box[1] == box[3]})
    middle = (low + high) / 2
    assert any(at == pytest.approx(middle, abs=1e-3) for at in level)
    assert [at for at in level if at < middle - 1e-3]
    assert [at for at in level if at > middle + 1e-3]


def test_flaws_of_both_layers_are_drawn_where_they_lie() -> None:
    sample = crosswise()
    drawing = drawn(sample)
    factor = factor_of(drawing, sample)
    (cloth,) = cloths(drawing)
    left, low, _, _ = cloth.bounds
    selvage = 10 * 0.98  # after washing
    boxes = [
        [(box[0] - left) / factor, (box[1] - low) / factor - selvage, (box[2] - left) / factor]
        for box in lines(drawing, "flaws", FLAW)
    ]
    # The second one lies 950 to 1010 mm along 1,650 mm that are folded at 825 mm.
    assert boxes[0] == pytest.approx([500, 1180 * 0.98, 620], abs=1.0)
    assert boxes[1] == pytest.approx([640, 1100 * 0.98, 700], abs=1.0)
    assert "not to be used" in words(drawing)


def test_where_the_length_at_hand_ends_is_marked_if_it_does_not_do() -> None:
    sample = checked()
    fabric = replace(sample.layout.fabric, length_mm=500.0, shrinkage_along=0.1)
    drawing = drawn(replace(sample, layout=replace(sample.layout, fabric=fabric)))
    (cloth,) = cloths(drawing)
    ((at, low, _, high),) = [
        box for box in lines(drawing, "measures", END_OF_CLOTH) if box[0] == box[2]
    ]
    assert (at - cloth.bounds[0]) / factor_of(drawing, sample) == pytest.approx(450, abs=0.5)
    assert low < cloth.bounds[1]
    assert high == pytest.approx(cloth.bounds[3])
    assert "the length at hand ends here" in words(drawing)
    enough = replace(fabric, length_mm=2000.0)
    other = drawn(replace(sample, layout=replace(sample.layout, fabric=enough)))
    assert "the length at hand ends here" not in words(other)


def test_lines_of_a_check_are_drawn_where_its_repeat_says() -> None:
    sample = checked()
    drawing = drawn(sample)
    factor = factor_of(drawing, sample)
    (cloth,) = cloths(drawing)
    left, low, _, _ = cloth.bounds
    boxes = lines(drawing, "pattern", PATTERN_LINE)
    crosswise_lines = [(box[0] - left) / factor for box in boxes if box[0] == box[2]]
    lengthwise = [(box[1] - low) / factor - 10 for box in boxes if box[0] != box[2]]
    assert crosswise_lines == pytest.approx([20 + 60 * n for n in range(14)], abs=0.5)
    assert lengthwise == pytest.approx([10 + 40 * n for n in range(35)], abs=0.5)
    assert "pattern of the fabric: each repeat along, 6 cm; each repeat across, 4 cm" in words(
        drawing
    )


def test_of_fine_stripes_only_some_are_drawn_and_it_says_which() -> None:
    sample = checked()
    fabric = replace(sample.layout.fabric, repeat=Repeat(across_mm=5.0))
    drawing = drawn(replace(sample, layout=replace(sample.layout, fabric=fabric), matches=()))
    levels = sorted(box[1] for box in lines(drawing, "pattern", PATTERN_LINE))
    steps = {round(b - a, 3) for a, b in pairwise(levels)}
    assert len(steps) == 1
    step = steps.pop()
    assert step >= 1.6
    nth = round(step / factor_of(drawing, sample) / 5.0)
    told = f"pattern of the fabric: each {ordinal(nth)} repeat across, {nth * 5 / 10:g} cm"
    assert told in words(drawing)


def test_stripes_of_folded_cloth_are_counted_from_the_fold_also_where_it_is_opened() -> None:
    sample = two_folds()
    double, fabric = sample.layout.sections[0], Fabric("stripe", 1420, 1400)
    width = fabric.usable_width_mm
    single = replace(face_to_face().layout.sections[1], start_mm=double.length_mm, width_mm=width)
    collar = face_to_face().items[-1]
    moved = replace(
        single.placements[0],
        translation=(double.length_mm + 200.0, single.placements[0].translation[1]),
    )
    layout = replace(
        sample.layout,
        plan=LayerPlan.FOLDED,
        fabric=replace(fabric, repeat=Repeat(across_mm=120.0, start_across_mm=30.0)),
        sections=(
            replace(double, layers=type(double.layers).DOUBLE, width_mm=width / 2),
            replace(single, placements=(moved,)),
        ),
    )
    drawing = layout_drawing(layout, (*sample.items, collar), width_mm=WIDTH_MM)
    boxes = lines(drawing, "pattern", PATTERN_LINE)
    first = {round(box[1], 3) for box in boxes if box[0] == pytest.approx(11.0)}
    later = {round(box[1], 3) for box in boxes if box[0] > 11.5}
    assert first
    assert first < later  # the same heights, and as many more below the fold


def test_points_that_meet_have_a_ring_and_a_letter() -> None:
    sample = checked()
    drawing = drawn(sample)
    factor = factor_of(drawing, sample)
    (cloth,) = cloths(drawing)
    left, low, _, _ = cloth.bounds
    rings = lines(drawing, "marks", MATCH)
    assert len(rings) == 4
    middles = [((b[0] + b[2]) / 2, (b[1] + b[3]) / 2) for b in rings]
    wanted = set()
    for match in sample.matches:
        (placement,) = [p for p in sample.layout.placements if match.item_id in p.item_ids]
        ((x, y),) = on_fabric(placement, [match.point])
        wanted.add((round(left + x * factor, 1), round(low + (y + 10) * factor, 1)))
    for at in middles:
        assert any(math.dist(at, other) < 0.2 for other in wanted)
    assert sorted(words(drawing, "marks")) == ["a", "a", "b", "b"]
    assert "meet on the pattern: side seam" in words(drawing)
    assert "center front" in words(drawing)


def test_the_key_tells_what_meets_on_the_pattern_and_what_lies_on_the_border() -> None:
    sample = bordered()
    hems = tuple(
        MatchPoint(f"hem {n}", item.id, item.outline[0], on_border=True)
        for n, item in enumerate(sample.items)
    )
    seams = tuple(MatchPoint(f"seam {n}", sample.items[0].id, (0.0, 90.0)) for n in range(2))
    told = words(drawn(replace(sample, matches=(*hems, *seams))))
    assert "lie on the border: hem 0" in told
    assert "hem 1" in told
    assert "meet on the pattern: seam 0" in told
    assert "seam 1" in told


def test_points_at_one_place_share_a_ring_and_tell_all_their_letters() -> None:
    sample = checked()
    more = tuple(replace(match, group=f"{match.group}, again") for match in sample.matches)
    drawing = drawn(replace(sample, matches=(*sample.matches, *more)))
    assert len(lines(drawing, "marks", MATCH)) == 4
    assert sorted(words(drawing, "marks")) == ["a, c", "a, c", "b, d", "b, d"]


@pytest.mark.parametrize("apart_mm", [32.0, 40.0, 55.0])
def test_letters_keep_clear_of_the_ring_beside_them(apart_mm: float) -> None:
    """Two points of one piece that lie close to each other along the cloth."""
    sample = checked()
    points = tuple(
        MatchPoint(f"point {n}", SKIRT[0].id, (170.0, 400.0 + n * apart_mm)) for n in range(2)
    )
    drawing = drawn(replace(sample, matches=points))
    rings = [shapely.box(*box) for box in lines(drawing, "marks", MATCH)]
    texts = [item for item in drawing.layer("marks").items if isinstance(item, Text)]
    boxes = [shapely.Polygon([(p.x, p.y) for p in text_corners(item)]) for item in texts]
    assert len(rings) == len(boxes) == 2
    assert not rings[0].intersects(rings[1])
    assert not boxes[0].intersects(boxes[1])
    assert not any(ring.intersects(box) for ring in rings for box in boxes)
    for ring, box in zip(rings, boxes, strict=True):
        assert ring.distance(box) < 1.0


def test_names_and_arrows_keep_clear_of_points_that_meet() -> None:
    sample = checked()
    middle = tuple(MatchPoint("middle", item.id, (170.0, 400.0)) for item in SKIRT)
    drawing = drawn(replace(sample, matches=middle))
    rings = [shapely.box(*box) for box in lines(drawing, "marks", MATCH)]
    boxes = [
        shapely.Polygon([(p.x, p.y) for p in text_corners(item)])
        for item in drawing.layer("names").items
        if isinstance(item, Text)
    ]
    boxes += [shapely.box(*box) for box in arrows_of(drawing)]
    assert len(rings) == 2
    for ring in rings:
        assert not any(ring.intersects(box) for box in boxes)


def arrows_of(drawing: Drawing) -> list[tuple[float, ...]]:
    return [
        shapely.LineString([(p.x, p.y) for p in path.flattened(0.1)]).bounds
        for item in drawing.layer("grain").items
        if isinstance(item, Shape) and item.stroke
        for path in item.paths
    ]


def test_both_copies_of_a_pair_share_their_ring() -> None:
    sample = two_folds()
    points = (
        MatchPoint("hem", "5 Sleeve.left", (0.0, 0.0)),
        MatchPoint("hem", "5 Sleeve.right", (0.0, 0.0)),
    )
    assert len(lines(drawn(replace(sample, matches=points)), "marks", MATCH)) == 1


def test_a_copy_that_comes_out_turned_over_is_ringed_on_its_other_side() -> None:
    """Two equal copies cut as a pair: a point of the second lies on the other side of the grain."""
    sample = two_folds()
    equal = tuple(
        replace(item, mirrored=False) if item.piece == "7 Pocket" else item for item in sample.items
    )
    points = tuple(MatchPoint("edge", item.id, (0.0, 100.0)) for item in POCKETS)
    drawing = drawn(replace(sample, items=equal, matches=points))
    one, other = lines(drawing, "marks", MATCH)
    factor = factor_of(drawing, sample)
    assert abs(one[1] - other[1]) == pytest.approx(180 * factor, abs=0.1)


def test_the_line_of_a_border_lies_as_far_from_the_selvage_as_it_does_in_truth() -> None:
    sample = bordered()
    drawing = drawn(sample)
    (cloth,) = cloths(drawing)
    ((_, level, _, _),) = lines(drawing, "pattern", BORDER_LINE)
    # 60 mm from the usable edge, which lies 10 mm inside
    assert (level - cloth.bounds[1]) / factor_of(drawing, sample) == pytest.approx(70, abs=0.5)
    assert "line of the border" in words(drawing)


def test_a_pinned_piece_has_a_pin() -> None:
    drawing = drawn(checked())
    (box,) = lines(drawing, "marks", PIN)
    pinned = outlines(drawing)[2]
    assert shapely.LineString([box[:2], box[2:]]).intersects(pinned.exterior)
    assert "lies where it was pinned" in words(drawing)
    assert "lies where it was pinned" not in words(drawn(crosswise()))


@pytest.mark.parametrize("name", SAMPLES)
def test_each_piece_shows_its_grain(name: str) -> None:
    sample = SAMPLES[name]()
    drawing = drawn(sample)
    arrows = [
        shapely.LineString([(p.x, p.y) for p in item.paths[0].flattened(0.1)])
        for item in drawing.layer("grain").items
        if isinstance(item, Shape) and item.stroke
    ]
    for piece in outlines(drawing):
        own = [arrow for arrow in arrows if piece.contains(arrow)]
        assert len(own) == 2  # from the middle both ways
        for arrow in own:
            (_, y0), (_, y1) = arrow.coords
            assert y0 == pytest.approx(y1, abs=1e-6)  # straight grain along the cloth


def test_grain_arrows_keep_clear_of_names() -> None:
    for make in SAMPLES.values():
        drawing = drawn(make())
        names = [item for item in drawing.layer("names").items if isinstance(item, Text)]
        spots = [shapely.Point(item.at.x, item.at.y) for item in names]
        for item in drawing.layer("grain").items:
            if isinstance(item, Shape) and item.stroke:
                line = shapely.LineString([(p.x, p.y) for p in item.paths[0].flattened(0.1)])
                assert all(line.distance(spot) > 0.3 for spot in spots)


def test_with_a_nap_each_arrow_points_to_the_top() -> None:
    sample = checked()
    fabric = replace(sample.layout.fabric, nap=Nap.ONE_WAY)
    drawing = drawn(replace(sample, layout=replace(sample.layout, fabric=fabric)))
    heads = [
        item.paths[0]
        for item in drawing.layer("grain").items
        if isinstance(item, Shape) and item.stroke
    ]
    assert len(heads) == len(sample.layout.placements)
    assert all(path.end.x > path.segments[0].start.x for path in heads)


def test_a_piece_that_strays_from_the_grain_shows_by_how_much() -> None:
    sample = checked()
    pocket = sample.layout.placements[2]
    turned = replace(pocket, rotation_rad=pocket.rotation_rad + math.radians(4))
    section = sample.layout.sections[0]
    tilted = replace(section, placements=(*section.placements[:2], turned))
    drawing = drawn(replace(sample, layout=replace(sample.layout, sections=(tilted,))))
    piece = outlines(drawing)[2]
    angles = [
        math.degrees(math.atan2(b.y - a.y, b.x - a.x)) % 180
        for item in drawing.layer("grain").items
        if isinstance(item, Shape) and item.stroke
        for a, b in [(item.paths[0].segments[0].start, item.paths[0].end)]
        if piece.contains(shapely.Point(a.x, a.y))
    ]
    assert angles == pytest.approx([4.0, 4.0], abs=1e-6)


def test_names_on_patterned_cloth_stand_on_a_pale_ground() -> None:
    sample = checked()
    plain = replace(sample.layout, fabric=replace(sample.layout.fabric, repeat=Repeat()))

    def grounds(drawing: Drawing) -> int:
        return sum(isinstance(item, Shape) for item in drawing.layer("names").items)

    assert grounds(drawn(sample)) == len(sample.layout.placements)
    hatched = sum(one.mirrored for one in sample.layout.placements)
    assert grounds(drawn(replace(sample, layout=plain))) == hatched


@pytest.mark.parametrize("name", SAMPLES)
def test_the_same_sample_gives_the_same_picture(name: str) -> None:
    one, other = (to_svg(drawn(SAMPLES[name]())) for _ in range(2))
    assert one == other
    assert SKIRT[0].outline == SAMPLES["checked"]().items[0].outline


@given(st.floats(1e-3, 0.5))
def test_scales_in_figures_are_whole_and_only_a_little_smaller(factor: float) -> None:
    found = round_scale(factor)
    assert found <= factor * (1 + 1e-9)
    assert abs(1 / found - round(1 / found)) < 1e-6
    assert factor <= 0.025 or 1 / found - 1 / factor <= 1.0 + 1e-9
    assert found >= factor * 0.66  # 1:3 for anything larger than 1:2


def test_hatching_of_flaws_is_clipped_to_them() -> None:
    groups = [item for item in drawn(crosswise()).layer("flaws").items if isinstance(item, Group)]
    assert len(groups) == 2
    assert all(group.clip is not None for group in groups)
