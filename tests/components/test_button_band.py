"""The separate button band: fronts that end inside center front, and a band over it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from shapely import Polygon

from clothwise.checks import check
from clothwise.components.closings.buttons import BELOW_HOLE_TOP_MM
from clothwise.errors import ComponentError
from clothwise.pattern import Body, MarkKind, Pattern, Ply, cutting_line
from clothwise.work import plan, steps
from component_cases import (
    Parameters,
    Parts,
    assert_darts_close,
    assert_seams_true,
    assert_sound,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)

KIND = "button-band"
MAKES = ("folded", "two pieces")
SIZES = (chart()[0], chart()[4], chart()[9])
SKIRTS = (
    *("a-line-skirt", "straight-skirt", "gored-skirt"),
    *("gathered-skirt", "tiered-skirt", "pleated-skirt"),
)


def dress(
    parameters: Parameters,
    bodice: Parameters | None = None,
    *,
    skirt: str = "a-line-skirt",
    kind: str = "darted-bodice",
    neck: str = "neck-binding",
) -> Parts:
    return {
        "bodice": (kind, bodice or {}),
        "skirt": (skirt, {}),
        "band": (KIND, parameters),
        "neck": (neck, {}),
        "sleeve": ("set-in-sleeve", {}),
        "buttons": ("buttons", {}),
        "hem": ("double-hem", {}),
    }


def blouse(parameters: Parameters, neck: str = "shirt-collar") -> Parts:
    whole = dress(parameters, {"waist": "none"}, neck=neck)
    return {name: part for name, part in whole.items() if name != "skirt"}


def with_stand(parts: Parts) -> Parts:
    """The same garment with a grown-on stand and facings."""
    facing: Parts = {"facing": ("front-and-neck-facing", {})}
    faced: Parts = {}
    for name, part in parts.items():
        if name != "band":
            faced |= facing if name == "neck" else {name: part}
    return faced


@pytest.mark.parametrize("make", MAKES)
@pytest.mark.parametrize("size", SIZES, ids=lambda size: size.name)
def test_dress_and_blouse_are_sound_in_every_size(size: Body, make: str) -> None:
    assert_sound(dress({"make": make}), size)
    assert_sound(blouse({"make": make}), size)


@pytest.mark.parametrize("skirt", SKIRTS)
def test_it_runs_down_to_the_hem_of_any_skirt(skirt: str) -> None:
    assert_sound(dress({}, skirt=skirt), body())
    assert_sound(dress({"make": "two pieces"}, skirt=skirt), SIZES[2])


@pytest.mark.parametrize("shape", ["scoop", "v", "square", "boat"])
def test_it_ends_at_any_neckline(shape: str) -> None:
    for make in MAKES:
        assert_sound(dress({"make": make}, {"neckline": shape}), body())


@pytest.mark.parametrize("kind", ["princess-bodice", "yoke-bodice"])
def test_any_bodice_takes_it(kind: str) -> None:
    assert_sound(dress({}, kind=kind), body())


@pytest.mark.parametrize("line", ["shoulder", "level"])
def test_a_front_yoke_takes_it(line: str) -> None:
    """A level yoke ends at the band as well, and its seam runs into it."""
    yoke: Parameters = {"yoke": "front", "front_line": line}
    assert_sound(dress({}, yoke, kind="yoke-bodice"), body())


def test_front_and_band_together_end_where_a_stand_as_wide_would() -> None:
    """Half the band lies on each side of center front; nothing else changes."""
    wide: Parameters = {"button_stand": 15.0}
    before = drafted(with_stand(dress({}, wide)))
    after = drafted(dress({"width": 30.0, "make": "two pieces"}, wide))
    for name in ("bodice-front", "skirt-front"):
        left, _, right, _ = after.piece(name).outline.polygon.bounds
        old = before.piece(name).outline.polygon.bounds
        assert left == pytest.approx(15.0, abs=0.01)
        assert old[0] == pytest.approx(-15.0, abs=0.01)
        assert right == pytest.approx(old[2])
    left, low, right, high = after.piece("band-outer").outline.polygon.bounds
    assert (left, right) == pytest.approx((-15.0, 15.0), abs=0.01)
    edge = before.run_length(before.runs["front-edge"])
    assert high - low >= edge - 0.5


@pytest.mark.parametrize("make", MAKES)
def test_seams_across_the_front_lose_the_same_on_both_sides(make: str) -> None:
    for skirt in ("a-line-skirt", "gathered-skirt"):
        before = drafted(with_stand(dress({}, {"button_stand": 20.0}, skirt=skirt)))
        after = drafted(dress({"width": 36.0, "make": make}, {"button_stand": 20.0}, skirt=skirt))
        one, other = before.seams["skirt-waist"], after.seams["skirt-waist"]
        for old, new in zip(one.layers, other.layers, strict=True):
            lost = before.run_length(old.run) - after.run_length(new.run)
            assert lost == pytest.approx(20.0 + 18.0, abs=0.3)
            assert new.ease_mm == pytest.approx(old.ease_mm, abs=0.3)
        kept = {match.name: match.at_mm for match in one.matches}
        assert other.matches
        for match in other.matches:
            for was, now in zip(kept[match.name], match.at_mm, strict=True):
                assert was is not None
                assert now == pytest.approx(was - 38.0, abs=0.3)


def test_girths_of_the_garment_are_those_with_a_stand() -> None:
    """Bust, waist and hip are measured to center front, which lies on the band."""
    from clothwise.checks.girths import measured_girths

    wearer = body()
    for skirt in ("a-line-skirt", "straight-skirt", "gored-skirt"):
        made = [
            measured_girths(drafted(parts, wearer), wearer)
            for parts in (with_stand(dress({}, skirt=skirt)), dress({}, skirt=skirt))
        ]
        assert [name for name, _, _ in made[0]] == [name for name, _, _ in made[1]]
        for (_, one, _), (_, other, _) in zip(*made, strict=True):
            assert one == pytest.approx(other, abs=0.5)


def test_a_folded_band_is_both_halves_of_one_in_two_pieces() -> None:
    folded, two = (drafted(dress({"make": make})) for make in MAKES)
    outer, inner = two.piece("band-outer"), two.piece("band-inner")
    assert folded.piece("band").outline.area == pytest.approx(outer.outline.area * 2, rel=1e-6)
    assert inner.outline.area == pytest.approx(outer.outline.area)
    (fold,) = (m.path for m in folded.piece("band").marks if m.kind is MarkKind.FOLD_LINE)
    assert fold is not None
    assert fold.length == pytest.approx(outer.edge("front-edge").length)


def test_the_outer_band_is_interfaced() -> None:
    for make, names in (("folded", {"band"}), ("two pieces", {"band-outer"})):
        pattern = drafted(dress({"make": make}))
        fused = {
            piece.name
            for piece in pattern.pieces.values()
            if piece.component == "band"
            and any(copy.ply is Ply.INTERFACING for copy in piece.copies)
        }
        assert fused == names


@pytest.mark.parametrize("make", MAKES)
def test_buttons_go_down_the_middle_of_the_band(make: str) -> None:
    pattern = drafted(dress({"make": make}))
    carrying = [
        piece
        for piece in pattern.pieces.values()
        if any(mark.kind is MarkKind.BUTTON for mark in piece.marks)
    ]
    assert [piece.component for piece in carrying] == ["band"]
    buttons = [mark for mark in carrying[0].marks if mark.kind is MarkKind.BUTTON]
    assert {mark.at.x for mark in buttons if mark.at} == {0.0}
    assert len(buttons) > 6


def test_buttonholes_on_a_band_are_upright() -> None:
    """F12: on the center line, the button 1/8 in below the upper end."""
    marks = drafted(dress({})).piece("band").marks
    holes = [mark.path for mark in marks if mark.kind is MarkKind.BUTTONHOLE]
    tops = [mark.at.y for mark in marks if mark.kind is MarkKind.BUTTON and mark.at]
    for hole, at in zip(holes, tops, strict=True):
        assert hole is not None
        assert hole.start.x == hole.end.x == 0.0
        assert hole.start.y - at == pytest.approx(BELOW_HOLE_TOP_MM)
        assert hole.length == pytest.approx(22.0)


@pytest.mark.parametrize(
    ("lap", "holes"), [("right over left", "right"), ("left over right", "left")]
)
def test_either_side_lies_on_top(lap: str, holes: str) -> None:
    parts = {**dress({}), "buttons": ("buttons", {"lap": lap})}
    marks = drafted(parts).piece("band").marks
    sides = {mark.only_side for mark in marks if mark.kind is MarkKind.BUTTONHOLE}
    assert sides == {holes}


def test_the_band_is_sewn_on_after_the_waist_and_before_neck_and_hem() -> None:
    pattern = drafted(dress({"make": "two pieces"}))
    order = [operation.name for operation in plan(pattern).operations]
    names = ("skirt-waist", "band-attach", "neck-bind")
    assert [order.index(name) for name in names] == sorted(order.index(name) for name in names)
    assert order.index("band-join") < order.index("band-attach") < order.index("sew-hem")
    told = {step.title: step.text for step in steps(pattern, plan(pattern))}
    assert "Turn the inner band inside" in told["Sew on the button bands"]
    folded = drafted(dress({}))
    told = {step.title: step.text for step in steps(folded, plan(folded))}
    assert "Fold the band along its fold line" in told["Sew on the button bands"]


def test_both_halves_are_taken_in_at_the_neckline() -> None:
    bound = drafted(dress({}))
    assert bound.finishes["neck-under"].run == bound.runs["neck-under"]
    collared = drafted(blouse({}))
    under = collared.seams["neck"].layers[-1]
    assert under.run == collared.runs["neck-under"]


def test_a_pocket_does_not_lie_on_the_band() -> None:
    parts = dress({})
    hem = parts.pop("hem")
    pattern = drafted({**parts, "pocket": ("turned-patch-pocket", {}), "hem": hem})
    assert pattern.placements["pocket-placement"].host == "skirt-front"


def test_facings_for_a_stand_are_refused() -> None:
    parts = {**dress({}), "neck": ("front-and-neck-facing", {})}
    with pytest.raises(ComponentError, match="finished already"):
        drafted(parts)


@pytest.mark.parametrize("front", ["lapel-front", "wrap-front"])
def test_fronts_that_lap_otherwise_are_refused(front: str) -> None:
    parts: Parts = {
        "bodice": ("darted-bodice", {}),
        "front": (front, {}),
        "skirt": ("a-line-skirt", {}),
        "band": (KIND, {}),
    }
    with pytest.raises(ComponentError, match="meet at center front"):
        drafted(parts)


def test_what_is_faced_already_is_told() -> None:
    parts = dress({})
    faced: Parts = {
        "bodice": parts["bodice"],
        "skirt": parts["skirt"],
        "facing": ("front-and-neck-facing", {}),
        "band": (KIND, {}),
    }
    with pytest.raises(ComponentError, match="finished already"):
        drafted(faced)


def _found(pattern: Pattern, wearer: Body) -> set[str]:
    return {each.code for each in check(pattern, wearer)}


def test_a_band_that_is_too_short_is_found() -> None:
    """The check can fail: a front that an edit makes longer no longer fits its band."""
    wearer = body()
    pattern = drafted(dress({}), wearer)
    band = pattern.piece("band")
    other = drafted(dress({}), body(height=1700.0)).piece("band")
    changed = replace(
        pattern, pieces={**pattern.pieces, "band": replace(band, outline=other.outline)}
    )
    assert "SEAM-LENGTH" in _found(changed, wearer)


@settings(max_examples=25)
@given(bodies_to_draft(), parameters_in_range(KIND), parameters_in_range("darted-bodice"))
def test_any_band_on_any_front_is_true(
    wearer: Body, parameters: Parameters, bodice: Parameters
) -> None:
    chosen: Parameters = {**bodice, "opening": "center front", "waist": "natural"}
    pattern = drafted_or_refused(dress(parameters, chosen), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert_darts_close(pattern)
    for name in ("band", "band-outer", "band-inner", "bodice-front", "skirt-front"):
        if name in pattern.pieces:
            assert pattern.piece(name).outline.polygon.is_valid
    codes = _found(pattern, wearer)
    assert not codes & {"SEAM-LENGTH", "RUN-BROKEN", "CORNER-DECLARED", "CORNER-ANGLE"}


def test_the_folded_band_of_a_steep_v_is_cut_to_where_its_lines_cross() -> None:
    pattern = drafted(dress({}, {"neckline": "v", "front_neck_drop": 90.0}, neck="shirt-collar"))
    band = pattern.piece("band")
    corner = band.edge("neck-stand").end  # where it is folded, and the neckline is lowest
    outline = cutting_line(pattern, band.name).path
    assert outline.point_at(outline.nearest(corner)).y > corner.y
    assert Polygon([(point.x, point.y) for point in outline.flattened()]).is_valid
