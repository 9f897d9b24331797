"""Step pictures are true: both halves, right way up, each copy its cloth, single pockets."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
import shapely

from clothwise.components import component_class, read_make
from clothwise.components.closings.opening_edges import seen_part
from clothwise.components.component import Drafting
from clothwise.pattern import Pattern, Side
from clothwise.pattern.siding import unpaired
from clothwise.work.order import plan
from clothwise.work.picture import Area, Caption, Face, LineRole, Picture
from clothwise.work.scene import scenes
from work.real_designs import (
    HALF_CIRCLE_SKIRT,
    SKIRTS,
    ZIPPED_BACK,
    Spec,
    body,
    drafted,
    half_circle_skirt,
    long_dress,
    tunic,
)

EXAMPLES = Path(__file__).parents[2] / "examples"

TIERED: Spec = next(spec for spec in SKIRTS if spec[0][1] == "tiered-skirt")


@cache
def blouse() -> dict[str, Picture]:
    return pictures(read_make(EXAMPLES / "market-blouse" / "makes" / "view-a.yaml").draft())


def pictures(pattern: Pattern) -> dict[str, Picture]:
    order = plan(pattern)
    names = [operation.name for operation in order.operations]
    return dict(zip(names, scenes(pattern, order), strict=True))


@cache
def tiered() -> tuple[Pattern, dict[str, Picture]]:
    pattern = drafted(TIERED)
    return pattern, pictures(pattern)


def polygon(area: Area) -> shapely.Polygon:
    return shapely.Polygon([(line.start.x, line.start.y) for line in area.path.segments])


def cloth(of: Picture, piece: str = "") -> shapely.Geometry:
    found = [polygon(a).buffer(0.3) for a in of.areas if piece in ("", a.piece)]
    return shapely.union_all(found)


def width(of: shapely.Geometry) -> float:
    left, _, right, _ = of.bounds
    return float(right - left)


def test_a_tier_of_two_parts_is_drawn_whole_once_they_are_sewn() -> None:
    spec: Spec = (("skirt", "tiered-skirt", {"widest_panel_mm": 900.0}), *TIERED[1:])
    pattern = drafted(spec)
    steps = pictures(pattern)
    half = pattern.piece("skirt-3-front").edge("hem").length
    assert pattern.piece("skirt-3-front").fold_edge is None
    assert len(steps["skirt-3-front-center-seam"].areas) == 2  # one on the other
    tier = cloth(steps["skirt-3-sides"], "skirt-3-front")
    assert isinstance(tier, shapely.Polygon)
    assert width(tier) == pytest.approx(2 * half, rel=0.05)
    threads = steps["skirt-3-gathering-threads"]
    assert isinstance(cloth(threads, "skirt-3-front"), shapely.Polygon)
    assert "One of two" not in threads.note


def test_the_ends_of_a_cuff_are_sewn_on_its_cloth() -> None:
    of = blouse()["bishop-sleeve-cuff-ends"]
    ground = cloth(of).buffer(1.0)
    lines = of.traces(LineRole.SEWN_NOW)
    assert len(lines) >= 2
    for trace in lines:
        line = shapely.LineString([(p.x, p.y) for p in trace.path.flattened()])
        assert line.difference(ground).length < 0.5
    above = [area for area in of.areas if area.face is Face.WRONG]
    below = [area for area in of.areas if area.face is Face.RIGHT]
    assert width(polygon(above[0])) == pytest.approx(width(polygon(below[0])), rel=0.02)


def test_a_sleeve_stands_upright_above_its_cuff() -> None:
    of = blouse()["bishop-sleeve-cuff-attach"]
    sleeve, cuff = cloth(of, "bishop-sleeve"), cloth(of, "bishop-sleeve-cuff")
    assert sleeve.bounds[1] > cuff.bounds[3] - 1.0
    lines = [t.path.flattened() for t in of.traces(LineRole.SEWN_NOW)]
    low = [points for points in lines if points[0].y > cuff.bounds[3]]
    assert low
    for points in low:  # the edge toward the cuff, not the cap
        assert max(p.y for p in points) < sleeve.centroid.y


def test_no_line_leaps_from_edge_to_edge() -> None:
    for of in blouse().values():
        for trace in of.traces(LineRole.SEWN_NOW):
            line = shapely.LineString([(p.x, p.y) for p in trace.path.flattened()])
            assert line.difference(cloth(of).buffer(1.5)).length < 0.02 * line.length + 1.0


def test_left_and_right_copies_have_their_own_cloth() -> None:
    pattern = long_dress()
    pocket = pattern.piece("pocket")
    copies = tuple(
        replace(copy, role="contrast") if copy.side.value == "left" else copy
        for copy in pocket.copies
    )
    two = replace(pattern, pieces={**pattern.pieces, "pocket": replace(pocket, copies=copies)})
    of = pictures(two)["skirt-waist"]
    pockets = [area for area in of.areas if area.piece == "pocket"]
    assert {(area.copy, area.role) for area in pockets} == {("left", "contrast"), ("right", "main")}
    left = next(area for area in pockets if area.copy == "left")
    right = next(area for area in pockets if area.copy == "right")
    # Opened flat, the back in the middle, right side up: the wearer's left is at the left.
    assert polygon(left).centroid.x < polygon(right).centroid.x


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_single_pocket_is_sewn_onto_the_copy_it_is_for(side: str) -> None:
    pattern = tunic()
    pocket = component_class("turned-patch-pocket")(number=1)  # type: ignore[call-arg]
    one = pattern.adding(pocket.contribute(Drafting("pocket", body(), pattern)))
    name, placement = next(iter(one.placements.items()))
    sides = type(placement.sides)(side)
    piece = one.piece("pocket")
    copies = tuple(
        replace(copy, side=Side(side), mirrored=side == "right") for copy in piece.copies
    )
    one = replace(
        one,
        pieces={**one.pieces, "pocket": replace(piece, copies=copies)},
        placements={name: replace(placement, sides=sides)},
    )
    of = pictures(one)["pocket-sew-on"]
    found = {area.piece: area for area in of.areas}
    assert len(of.areas) == 2
    assert found["skirt-front"].copy == side
    assert len(of.traces(LineRole.SEWN_NOW)) == 1


def test_pieces_of_one_side_lie_on_that_side() -> None:
    of = pictures(unpaired(tunic(), ["bodice-front", "skirt-front", "facing-front"]))
    shoulders = {area.piece: polygon(area) for area in of["bodice-shoulders"].areas}
    # On the back, right sides together, seen from inside the front: right is at the right.
    assert shoulders["bodice-front-left"].centroid.x < shoulders["bodice-front-right"].centroid.x
    assert len(of["bodice-shoulders"].areas) == 3


def test_pieces_lie_together_whatever_their_order() -> None:
    """A band split off a skirt is marked in one picture with it, though it is named before it."""
    make = read_make(EXAMPLES / "kiln-mixtures" / "makes" / "four-fabrics.yaml")
    of = pictures(make.draft())["buttons-sew"]
    right = [area for area in of.areas if area.copy == "right"]
    whole = shapely.union_all([polygon(area).buffer(2.0) for area in right])
    assert isinstance(whole, shapely.Polygon)


def test_captions_know_the_size_of_what_they_name() -> None:
    _, steps = tiered()
    for of in steps.values():
        for item in of.items:
            if isinstance(item, Caption) and item.on is not None:
                one, other = item.on
                assert one.x <= item.at.x <= other.x
                assert one.y <= item.at.y <= other.y


def test_every_stretch_of_a_long_strip_keeps_its_names() -> None:
    _, steps = tiered()
    words = {item.text for item in steps["sew-hem"].items if isinstance(item, Caption)}
    assert words


def height(of: shapely.Geometry) -> float:
    _, low, _, high = of.bounds
    return float(high - low)


def sewn(of: Picture, role: LineRole) -> float:
    return sum(trace.path.length for trace in of.traces(role))


def test_the_neckline_that_a_collar_is_basted_to_is_drawn_as_it_hangs_together() -> None:
    of = blouse()["collar-baste"]
    front, yoke = cloth(of, "bodice-front"), cloth(of, "bodice-back-yoke")
    assert isinstance(shapely.union(front, yoke), shapely.Polygon)  # the shoulders are sewn
    ground = shapely.union(front, yoke).buffer(1.0)
    meant = [shapely.LineString([(p.x, p.y) for p in trace.path.flattened()])
             for trace in of.traces(LineRole.MEANT)]  # fmt: skip
    covered = [ground.covers(line) for line in meant]
    assert sum(covered) == 6  # of the yoke and of both edges of a front, on both sides
    assert len(covered) - sum(covered) == 2  # of the stand
    assert {area.piece for area in of.areas if area.piece.startswith("collar")} == {
        "collar-stand",
        "collar-upper",
    }


def test_a_collar_stays_on_its_stand() -> None:
    for step in ("facing-attach", "collar-button"):
        of = blouse()[step]
        stand = next(a.piece for a in of.areas if a.piece.startswith("collar-stand"))
        assert cloth(of, "collar-upper").distance(cloth(of, stand)) < 1.0


def test_a_cuff_is_folded_once_its_ends_are_sewn() -> None:
    cuff = "bishop-sleeve-cuff"
    flat, closed = (blouse()[f"{cuff}-{step}"] for step in ("inner", "buttons"))
    assert height(cloth(closed, cuff)) < 0.55 * height(cloth(flat, cuff))
    assert len(closed.traces(LineRole.BUTTONHOLE)) == 1
    close = blouse()[f"{cuff}-close"]
    assert sewn(close, LineRole.SEWN_NOW) > 0.8 * width(cloth(close, cuff)) - 40.0


def test_a_cuff_stays_on_its_sleeve_and_what_is_left_out_is_told() -> None:
    of = blouse()["bishop-sleeve-set-in"]
    cuffs = [area for area in of.areas if area.piece == "bishop-sleeve-cuff"]
    assert len(cuffs) == 2
    assert all(polygon(a).distance(cloth(of, "bishop-sleeve")) < 1.0 for a in cuffs)
    assert "as if the side seam of the bodice and the sleeve seam were open" in of.note
    assert "not drawn: collar." in of.note


def test_the_facing_of_a_slit_lies_face_down_and_is_inside_afterwards() -> None:
    facing = "bishop-sleeve-opening-facing"
    laid = blouse()[f"{facing}-sew"]
    assert {area.face for area in laid.areas if area.piece == facing} == {Face.WRONG}
    later = blouse()["bishop-sleeve-set-in"]
    assert all(area.piece != facing for area in later.areas)


def test_nothing_hangs_over_where_a_sewn_edge_meets_a_raw_one() -> None:
    """The front edges and sides are sewn, the hem is not: its allowance is no wider than they."""
    of = blouse()["buttons-sew"]
    for area in of.areas:
        place = polygon(area)
        left, low, right, _ = place.bounds
        hem = place.intersection(shapely.box(left, low, right, low + 12.0))
        above = place.intersection(shapely.box(left, low + 40.0, right, low + 60.0))
        assert width(hem) < width(above) + 12.0  # the side flares a little


def test_gathering_threads_are_drawn_along_pieces_that_hang_together() -> None:
    of = tiered()[1]["skirt-2-gathering-threads"]
    assert {area.piece for area in of.areas} == {"skirt-2-front", "skirt-2-back"}
    assert sewn(of, LineRole.GATHERING) == pytest.approx(2 * width(cloth(of)), rel=0.02)
    assert isinstance(cloth(of), shapely.Polygon)  # the side seams are sewn


def test_a_skirt_drawn_flat_says_what_is_open_and_what_is_missing() -> None:
    of = pictures(half_circle_skirt())["sew-hem"]
    assert "as if the center back seam were open" in of.note
    assert "not drawn: waistband" in of.note


@pytest.mark.parametrize("spec", [HALF_CIRCLE_SKIRT, TIERED, ZIPPED_BACK])
def test_a_zip_is_drawn_with_teeth_and_tape_between_both_sides_of_the_wearer(spec: Spec) -> None:
    pattern = drafted(spec)
    of = pictures(pattern)["zip-sew"]
    stop, teeth = sorted(of.traces(LineRole.TEETH), key=lambda trace: trace.path.length)
    seen = seen_part(pattern.finishes["zip"].run)
    assert teeth.path.length == pytest.approx(pattern.run_length(seen), rel=0.03)
    low, high = teeth.path.start, teeth.path.end
    assert high.y > low.y
    assert stop.path.point_at(stop.path.length / 2).is_close(low, 0.1)
    assert len(of.traces(LineRole.TAPE)) == len(of.traces(LineRole.SEWN_NOW)) == 2
    ground = cloth(of)
    for trace in (*of.traces(LineRole.TAPE), *of.traces(LineRole.SEWN_NOW)):
        assert ground.buffer(2.0).covers(
            shapely.LineString([(p.x, p.y) for p in trace.path.flattened()])
        )
    left, _, right, _ = ground.bounds
    assert (left + right) / 2 == pytest.approx(low.x, abs=0.03 * (right - left))  # both sides
    for caption in (item for item in of.items if isinstance(item, Caption)):
        assert ground.covers(shapely.Point(caption.at.x, caption.at.y))


def test_a_fold_line_alone_makes_no_folded_band() -> None:
    """A skirt back has the fold of its vent, and stays whole when its center seam is sewn."""
    make = EXAMPLES / "pilot-coat-dress" / "makes" / "view-b.yaml"
    pattern = read_make(make).draft()
    steps = pictures(pattern)
    back = steps["skirt-waist"]
    halves = [polygon(area) for area in back.areas if area.piece == "skirt-back"]
    assert len(halves) == 2
    assert (
        halves[0].intersection(halves[1]).area < 0.1 * halves[0].area
    )  # side by side but for the vent
