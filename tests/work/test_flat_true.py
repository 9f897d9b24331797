"""Flats are true to the pieces: widths, fullness, what is seen and what is hidden."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
import shapely

from clothwise.components import draft, read_design
from clothwise.components.garments import garment_with
from clothwise.components.hems.ruffle import RuffleEdge
from clothwise.pattern import MarkKind, Pattern, Side
from clothwise.pattern.siding import unpaired
from clothwise.pattern.unfolding import unfolded
from clothwise.work.flat import flats
from clothwise.work.picture import Area, Button, LineRole, Picture
from clothwise.work.torso import worn_torso
from clothwise.work.torso_fullness import GATHERED_SHOWN
from clothwise.work.torso_pleats import evenly_sewn, folded_x, hidden_stretches, unfolded_x
from clothwise.work.viewing import View
from clothwise.work.wearing import Part, parts
from work.real_designs import (
    CLOSED_FRONT,
    FACED_SKIRT,
    FLAT_COLLARED,
    HOOKED_SKIRT,
    LAPELED,
    PULLED_ON,
    RUFFLED,
    SKIRTS,
    SMALL_PARTS,
    TUNIC,
    WRAP_SKIRT,
    WRAPPED,
    Spec,
    body,
    drafted,
)

EXAMPLES = Path(__file__).parents[2] / "examples"


def skirt(kind: str) -> Spec:
    return next(spec for spec in SKIRTS if spec[0][1] == kind)


@cache
def made(spec: int) -> Pattern:
    return drafted(ALL[spec])


ALL: tuple[Spec, ...] = (
    skirt("tiered-skirt"),
    skirt("pleated-skirt"),
    skirt("gored-skirt"),
    skirt("straight-skirt"),
    skirt("gathered-skirt"),
    FACED_SKIRT,
    HOOKED_SKIRT,
    CLOSED_FRONT,
    FLAT_COLLARED,
    LAPELED,
    WRAPPED,
    RUFFLED,
    SMALL_PARTS,
    PULLED_ON,
    WRAP_SKIRT,
    TUNIC,
)
TIERED, PLEATED, GORED, STRAIGHT, GATHERED, FACED, HOOKED, CLOSED = range(8)
FLAT_COLLAR, LAPEL, WRAP, RUFFLE, SMALL, ELASTIC, TIED, PLAIN = range(8, 16)


@cache
def both(number: int) -> tuple[Picture, Picture]:
    return flats(made(number))


def polygon(area: Area) -> shapely.Polygon:
    return shapely.Polygon([(line.start.x, line.start.y) for line in area.path.segments])


def areas(of: Picture, piece: str) -> list[shapely.Polygon]:
    return [polygon(area) for area in of.areas if area.piece == piece and not area.inside]


def width_at(of: shapely.Geometry, y: float) -> float:
    return float(of.intersection(shapely.LineString([(-4000, y), (4000, y)])).length)


def silhouette(of: Picture) -> shapely.Geometry:
    rings = [trace.path.flattened() for trace in of.traces(LineRole.SILHOUETTE)]
    return shapely.union_all([shapely.Polygon([(p.x, p.y) for p in ring]) for ring in rings])


# -- widths


@pytest.mark.parametrize("view", list(View))
def test_each_tier_begins_as_wide_as_the_one_above_ends(view: View) -> None:
    """And opens by half of what its piece has more than it is gathered into."""
    pattern = made(TIERED)
    worn = {each.name: each for each in worn_torso(pattern, view)}
    for number in (1, 2):
        above = worn[f"skirt-{number}-{view.value}"]
        below = worn[f"skirt-{number + 1}-{view.value}"]
        upper, lower = above.edge("hem"), below.edge("waist")
        ends = [sorted((line[0].x, line[-1].x)) for line in (upper, lower)]
        assert ends[0] == pytest.approx(ends[1], abs=1.5)
        fullness = (
            pattern.piece(below.name).edge("waist").length
            / pattern.piece(above.name).edge("hem").length
        )
        opened = max(p.x for p in below.edge("hem")) / max(p.x for p in lower)
        assert opened == pytest.approx(1 + GATHERED_SHOWN * (fullness - 1), rel=0.05)


@pytest.mark.parametrize("number", [TIERED, PLEATED, GORED, STRAIGHT, GATHERED])
def test_the_band_is_as_long_as_its_piece_says(number: int) -> None:
    """Front and back together: the band of the half measures that of the piece."""
    pattern = made(number)
    drawn = 0.0
    for of in both(number):
        left, _, right, _ = shapely.union_all(areas(of, "band")).bounds
        drawn += right - left
    assert drawn == pytest.approx(2 * pattern.piece("band").edge("outer").length, rel=0.03)


def test_gores_lie_side_by_side() -> None:
    front, back = both(GORED)
    for of, names in (
        (front, ("center-front", "side-front")),
        (back, ("center-back", "side-back")),
    ):
        cloth = [area for name in names for area in areas(of, f"skirt-{name}")]
        together = shapely.union_all([each.buffer(0.6) for each in cloth])
        assert isinstance(together, shapely.Polygon)
        assert sum(each.area for each in cloth) < 1.01 * together.area


def test_elastic_draws_the_waist_in() -> None:
    pattern = made(ELASTIC)
    front, back = both(ELASTIC)
    bands = [shapely.union_all(areas(of, "casing")) for of in (front, back)]
    around = sum(width_at(band, band.centroid.y) for band in bands)
    (elastic,) = (notion for notion in pattern.notions if notion.name == "elastic")
    assert around == pytest.approx(elastic.amount, rel=0.03)


def test_pleats_are_folded_as_marked() -> None:
    pattern = made(PLEATED)
    piece = pattern.piece("skirt-front")
    hidden = hidden_stretches(piece)
    flat = piece.edge("hem").length
    left = folded_x(flat, hidden)
    assert sum(end - start for start, end in hidden) == pytest.approx(flat - left)
    drawn = max(x for x, _ in areas(both(PLEATED)[0], "skirt-front")[0].exterior.coords)
    assert drawn == pytest.approx(left, rel=0.06)
    folds = [mark for mark in piece.marks if mark.kind is MarkKind.FOLD_LINE]
    lines = [t for t in both(PLEATED)[0].traces(LineRole.EDGE) if t.piece == "skirt-front"]
    assert len(lines) >= 2 * len(folds) - 2


@pytest.mark.parametrize("hidden", [((10.0, 30.0),), ((10.0, 30.0), (30.0, 50.0)), ()])
def test_folding_away_and_back(hidden: tuple[tuple[float, float], ...]) -> None:
    for x in (0.0, 5.0, 9.0, 55.0, 80.0):
        assert unfolded_x(folded_x(x, hidden), hidden) == pytest.approx(x)
    assert evenly_sewn(80.0, 80.0, hidden) == pytest.approx(80.0)


def test_a_pocket_keeps_its_size_on_a_gathered_skirt() -> None:
    spec = (
        *((name, kind, p) for name, kind, p in TUNIC[:1]),
        ("skirt", "gathered-skirt", {}),
        *((name, kind, p) for name, kind, p in TUNIC[2:] if name not in ("belt", "hem")),
        ("pocket", "turned-patch-pocket", {}),
        ("hem", "double-hem", {}),
    )
    pattern = drafted(spec)
    found = areas(flats(pattern)[0], "pocket")
    assert len(found) == 2
    for each in found:
        assert each.area == pytest.approx(pattern.piece("pocket").outline.area, rel=0.02)


# -- what is seen


@pytest.mark.parametrize("number", [CLOSED, FACED, HOOKED, WRAP, LAPEL])
def test_facings_lie_inside(number: int) -> None:
    pattern = made(number)
    its_parts = parts(pattern)
    facings = {name for name in pattern.pieces if "facing" in name and name != "collar-facing"}
    for name in facings:
        assert its_parts[name] in (Part.INSIDE, Part.APART)
    for of in both(number):
        assert not {area.piece for area in of.areas if not area.inside} & facings


def test_sleeves_reach_the_shoulder_of_a_yoke() -> None:
    pattern = drafted(
        (
            ("bodice", "yoke-bodice", {}),
            ("skirt", "a-line-skirt", {}),
            ("facing", "front-and-neck-facing", {}),
            ("sleeve", "set-in-sleeve", {}),
            ("buttons", "buttons", {}),
            ("hem", "double-hem", {}),
        )
    )
    back = flats(pattern)[1]
    (yoke,) = areas(back, "bodice-back-yoke")
    tip = max(yoke.exterior.coords, key=lambda at: at[0])
    for sleeve in areas(back, "sleeve"):
        assert (
            sleeve.distance(
                shapely.Point(abs(tip[0]) * (1 if sleeve.centroid.x > 0 else -1), tip[1])
            )
            < 2
        )
        assert sleeve.bounds[3] > yoke.bounds[1] + 20


def test_sleeves_that_come_off_are_drawn_over_the_armholes() -> None:
    for of in both(WRAP):
        sleeves = areas(of, "sleeve")
        assert len(sleeves) == 2
        body = [area for area in of.areas if area.piece.startswith("bodice")]
        order = [area.piece for area in of.areas]
        assert order.index("sleeve") > max(order.index(area.piece) for area in body)


def test_a_flat_collar_is_drawn_as_its_piece_is() -> None:
    """What lies in front and at the back makes up the piece, in its own shape."""
    pattern = made(FLAT_COLLAR)
    front, back = both(FLAT_COLLAR)
    drawn = [each for of in (front, back) for each in areas(of, "collar-upper")]
    assert sum(each.area for each in drawn) == pytest.approx(
        2 * pattern.piece("collar-upper").outline.area, rel=0.06
    )
    assert len(areas(front, "collar-upper")) == 2


def test_lapels_are_turned_and_the_inner_button_is_hidden() -> None:
    pattern = made(LAPEL)
    front, back = both(LAPEL)
    assert len(areas(front, "collar-facing")) == 2
    assert len(areas(front, "collar-upper")) == 2
    assert not areas(back, "collar-facing")
    shown = [
        mark
        for piece in pattern.pieces.values()
        for mark in piece.marks
        if mark.kind is MarkKind.BUTTON and not mark.name.startswith("inner")
    ]
    assert len([item for item in front.items if isinstance(item, Button)]) == len(shown)


def test_gathers_are_drawn_where_cloth_is_gathered_and_nowhere_else() -> None:
    for number in (TIERED, GATHERED, ELASTIC, RUFFLE):
        assert both(number)[0].traces(LineRole.DRAPE)
    for number in (GORED, STRAIGHT, PLEATED, LAPEL, FLAT_COLLAR):
        assert not both(number)[0].traces(LineRole.DRAPE)


def test_ties_of_a_band_hang_and_do_not_stick_out() -> None:
    front, _ = both(TIED)
    skirts = shapely.union_all(areas(front, "skirt-front"))
    bands = shapely.union_all(areas(front, "band"))
    assert bands.bounds[2] - bands.bounds[0] < 1.1 * (skirts.bounds[2] - skirts.bounds[0])
    assert bands.bounds[1] < skirts.bounds[3] - 100


def test_side_ties_are_tied_at_the_back() -> None:
    front, back = both(SMALL)
    assert not areas(front, "ties")
    assert len(areas(back, "ties")) == 5  # two strips, two ends, a knot


# -- left and right


def test_left_and_right_may_differ() -> None:
    """A skirt front that was parted from its pair, its left one cut of another cloth."""
    pattern = unpaired(made(PLAIN), ["skirt-front"])
    left = pattern.piece("skirt-front-left")
    other = replace(left, copies=tuple(replace(copy, role="contrast") for copy in left.copies))
    front = flats(replace(pattern, pieces={**pattern.pieces, left.name: other}))[0]
    found = {area.piece: area for area in front.areas}
    assert found["skirt-front-left"].role == "contrast"
    assert found["skirt-front-right"].role == "main"
    assert (
        polygon(found["skirt-front-left"]).centroid.x
        > 0
        > polygon(found["skirt-front-right"]).centroid.x
    )


@pytest.mark.parametrize(("number", "piece"), [(PLAIN, "skirt-back"), (CLOSED, "bodice-front")])
def test_a_piece_drawn_out_to_both_sides_looks_as_on_the_fold(number: int, piece: str) -> None:
    pattern = made(number)
    for plain, out in zip(both(number), flats(unfolded(pattern, piece)), strict=True):
        one, other = silhouette(plain), silhouette(out)
        assert one.symmetric_difference(other).area < 0.01 * one.area


def test_both_sides_of_the_wearer_are_worked_out_alike() -> None:
    pattern = made(PLAIN)
    right = worn_torso(pattern, View.FRONT, Side.RIGHT)
    left = worn_torso(pattern, View.FRONT, Side.LEFT)
    for one, other in zip(right, left, strict=True):
        assert one.polygon.symmetric_difference(other.polygon).area < 1.0


def test_a_collar_is_drawn_on_both_sides_of_fronts_that_differ() -> None:
    pattern = unpaired(made(FLAT_COLLAR), ["bodice-front", "skirt-front", "facing-front"])
    assert len(areas(flats(pattern)[0], "collar-upper")) == 2


def test_pleats_are_folded_under_a_facing_too() -> None:
    spec: Spec = (
        ("skirt", "pleated-skirt", {}),
        ("facing", "waist-facing", {}),
        ("hooks", "hooks-and-eyes", {}),
    )
    pattern = drafted(spec)
    (front,) = {area.piece for area in flats(pattern)[0].areas}
    assert front == "skirt-front"
    whole = silhouette(flats(pattern)[0])
    waist = pattern.run_length(pattern.seams["facing-waist"].layers[1].run)
    assert width_at(whole, whole.bounds[3] - 8.0) == pytest.approx(waist, rel=0.05)


def test_a_ruffle_is_a_strip_along_the_armhole() -> None:
    spec: Spec = (
        *TUNIC[:3],
        ("ruffle", "ruffle", {"edge": RuffleEdge.ARMHOLE}),
        ("buttons", "buttons", {}),
        ("hem", "double-hem", {}),
    )
    pattern = drafted(spec)
    _, low, _, high = pattern.piece("ruffle").outline.polygon.bounds
    front = flats(pattern)[0]
    bodice = shapely.union_all(areas(front, "bodice-front"))
    for each in areas(front, "ruffle"):
        reach = shapely.hausdorff_distance(each, each.intersection(bodice.buffer(1.0)))
        assert reach <= 1.1 * (high - low)


def test_ties_at_the_edge_of_a_front_are_knotted_there() -> None:
    """And not at the back as well, though there are ties in the side seams, too."""
    front, back = flats(_shown("wrap-ties"))
    assert len(areas(front, "closing-front")) == 3  # two ends and a knot
    assert not areas(back, "closing-side")


def test_the_button_inside_a_wrap_front_is_not_seen() -> None:
    front, _ = flats(_shown("wrap-buttons"))
    (button,) = (item for item in front.items if isinstance(item, Button))
    assert button.at.x > 0  # the wearer's right front ends at the left side


def _shown(kind: str) -> Pattern:
    """The garment that a component is shown in."""
    garment, _ = garment_with(kind)
    design = read_design(EXAMPLES / "kiln-dress").design
    return draft(replace(design, components=garment), body())
