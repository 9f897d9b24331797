"""Flat drawings: everything there, symmetric, and as wide as the garment is."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
import shapely

from clothwise.components import Drafting, component_class
from clothwise.pattern import MarkKind, Pattern
from clothwise.work.flat import flat, flats
from clothwise.work.picture import Area, Button, LineRole, Picture
from clothwise.work.torso import worn_torso
from clothwise.work.viewing import View, views, wraps_around
from clothwise.work.wearing import Part, parts
from work.real_designs import LONG_DRESS, TUNIC, all_designs, body, drafted, long_dress, tunic


@cache
def both(number: int) -> tuple[Picture, Picture]:
    return flats(all_designs()[number])


def polygon(area: Area) -> shapely.Polygon:
    return shapely.Polygon([(line.start.x, line.start.y) for line in area.path.segments])


def silhouette(of: Picture) -> shapely.Geometry:
    rings = [trace.path.flattened() for trace in of.traces(LineRole.SILHOUETTE)]
    return shapely.union_all([shapely.Polygon([(p.x, p.y) for p in ring]) for ring in rings])


def test_parts_are_told_from_the_seam_graph() -> None:
    found = parts(long_dress())
    assert found == {
        "bodice-front": Part.TORSO,
        "bodice-back": Part.TORSO,
        "skirt-front": Part.TORSO,
        "skirt-back": Part.TORSO,
        "facing-front": Part.INSIDE,
        "facing-back": Part.INSIDE,
        "collar-upper": Part.COLLAR,
        "collar-under": Part.COLLAR,
        "sleeve": Part.SLEEVE,
        "pocket": Part.PLACED,
        "belt": Part.LOOSE,
    }


def test_front_and_back_are_told_from_how_pieces_meet() -> None:
    pattern = long_dress()
    torso = [name for name, part in parts(pattern).items() if part is Part.TORSO]
    plain = {
        name: replace(piece, points={}, marks=()) if name != "bodice-front" else piece
        for name, piece in pattern.pieces.items()
    }
    assert views(replace(pattern, pieces=plain), torso) == {
        "bodice-front": View.FRONT,
        "bodice-back": View.BACK,
        "skirt-front": View.FRONT,
        "skirt-back": View.BACK,
    }


def test_a_circle_skirt_wraps_around() -> None:
    assert wraps_around(all_designs()[2], {"skirt", "band"}) == {"skirt", "band"}
    assert wraps_around(tunic(), {"bodice-back", "skirt-back"}) == set()


@pytest.mark.parametrize("number", range(3))
def test_flats_are_symmetric(number: int) -> None:
    for of in both(number):
        whole = silhouette(of)
        mirrored = shapely.transform(whole, lambda xy: xy * [-1, 1])
        assert whole.symmetric_difference(mirrored).area < 0.004 * whole.area


@pytest.mark.parametrize("number", range(3))
def test_flats_are_in_one_part_and_valid(number: int) -> None:
    for of in both(number):
        assert len(of.traces(LineRole.SILHOUETTE)) == 1
        for area in of.areas:
            assert polygon(area).is_valid
            assert area.role


def test_everything_that_is_seen_is_drawn() -> None:
    front, back = both(0)
    seen = {area.piece for area in front.areas}
    assert {"bodice-front", "skirt-front", "sleeve", "collar-upper", "pocket", "belt"} <= seen
    assert "bodice-front" not in {area.piece for area in back.areas}
    assert {"bodice-back", "skirt-back", "sleeve", "collar-upper", "belt"} <= {
        area.piece for area in back.areas
    }
    assert "pocket" not in {area.piece for area in back.areas}
    assert not {area.piece for area in (*front.areas, *back.areas)} & {"facing-front"}
    assert "facing-back" in {area.piece for area in both(1)[0].areas if area.inside}


def test_roles_come_from_the_copies() -> None:
    pattern = long_dress()
    pocket = pattern.piece("pocket")
    left, right = pocket.copies
    two = replace(pocket, copies=(replace(left, role="contrast"), right))
    front = flat(replace(pattern, pieces={**pattern.pieces, "pocket": two}), View.FRONT)
    pockets = {area.copy: area for area in front.areas if area.piece == "pocket"}
    assert pockets["left"].role == "contrast"
    assert pockets["right"].role == "main"
    assert polygon(pockets["left"]).centroid.x > 0  # the wearer's left is at the viewer's right


def test_each_half_of_a_pieced_belt_is_a_copy_of_its_own() -> None:
    assert {copy.name for copy in long_dress().piece("belt").copies} == {"left", "right"}
    for view, of in zip(View, both(0), strict=True):
        belt = [area for area in of.areas if area.piece == "belt"]
        band = belt[:2]
        assert {area.copy for area in band} == {"left", "right"}
        for area in band:
            at_right = "left" if view is View.FRONT else "right"
            assert (polygon(area).centroid.x > 0) == (area.copy == at_right)
        if view is View.FRONT:
            assert [area.copy for area in belt[2:4]] == ["left", "right"]  # what hangs


def test_a_single_pocket_is_on_the_wearers_right() -> None:
    pattern = tunic()
    pocket = component_class("turned-patch-pocket")(number=1)  # type: ignore[call-arg]
    one = pattern.adding(pocket.contribute(Drafting("pocket", body(), pattern)))
    pockets = [area for area in flat(one, View.FRONT).areas if area.piece == "pocket"]
    assert len(pockets) == 1
    assert polygon(pockets[0]).centroid.x < 0


def test_buttons_stand_on_the_center_line() -> None:
    pattern = long_dress()
    buttons = [item for item in both(0)[0].items if isinstance(item, Button)]
    marks = [m for p in pattern.pieces.values() for m in p.marks if m.kind is MarkKind.BUTTON]
    assert len(buttons) == len(marks)
    assert all(abs(button.at.x) < 0.5 for button in buttons)
    assert not [item for item in both(0)[1].items if isinstance(item, Button)]


def width_at(pattern: Pattern, view: View, y: float) -> float:
    """Half the width of the torso at a height, from the center."""
    half = shapely.union_all([worn.polygon for worn in worn_torso(pattern, view)])
    cut = half.intersection(shapely.LineString([(0, y), (2000, y)]))
    return float(cut.length)


def test_the_waist_is_as_wide_as_it_is_sewn() -> None:
    """Front and back of the drawing together measure the waist seam without the button stand."""
    pattern = tunic()
    sewn = pattern.run_length(pattern.runs["waist"]) - 20.0
    drawn = sum(width_at(pattern, view, 0.0) for view in View)
    assert drawn == pytest.approx(sewn, rel=0.03)


def test_the_hip_is_as_wide_as_the_pieces() -> None:
    """At hip level no dart is left: hip girth plus ease (960 + 70 mm) all round."""
    pattern = long_dress()
    depth = -pattern.piece("skirt-back").points["side hip"].y
    drawn = 2 * sum(width_at(pattern, view, -depth) for view in View)
    assert drawn == pytest.approx(960 + 70, rel=0.03)


def test_pieces_meet_at_the_waist_without_gap_or_overlap() -> None:
    for pattern in (long_dress(), tunic()):
        for view in View:
            above, below = worn_torso(pattern, view)
            assert above.polygon.distance(below.polygon) < 1.0
            overlap = above.polygon.intersection(below.polygon).area
            assert overlap < 0.01 * above.polygon.area


@pytest.mark.parametrize("spec", [LONG_DRESS, TUNIC], ids=["long dress", "tunic"])
def test_flats_of_other_bodies_hold_as_well(
    spec: tuple[tuple[str, str, dict[str, object]], ...],
) -> None:
    for wearer in (body(820, 600, 900, 1560), body(1240, 1080, 1290, 1740)):
        for of in flats(drafted(spec, wearer)):
            assert len(of.traces(LineRole.SILHOUETTE)) == 1
            assert all(polygon(area).is_valid for area in of.areas)
