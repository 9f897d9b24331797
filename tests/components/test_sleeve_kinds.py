"""Bishop, puff, flutter and cap sleeves: true to the armhole, roomy, and sewn without a gap."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.pattern import Body, NotchKind, Pattern, Piece, Ply, SeamKind, Severity
from clothwise.work import plan, verify
from clothwise.work.flat import flats
from clothwise.work.picture import Area
from component_cases import (
    Parts,
    assert_seams_true,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
    only_seam,
)

KINDS = ("bishop-sleeve", "puff-sleeve", "flutter-sleeve", "cap-sleeve")


def parts(kind: str, **parameters: float) -> Parts:
    return {
        "bodice": ("darted-bodice", {}),
        "skirt": ("a-line-skirt", {}),
        "facing": ("front-and-neck-facing", {}),
        "sleeve": (kind, dict(parameters)),
        "buttons": ("buttons", {}),
        "hem": ("double-hem", {}),
    }


def sleeved(kind: str, for_body: Body | None = None, **parameters: float) -> Pattern:
    return drafted(parts(kind, **parameters), for_body)


def notches(pattern: Pattern) -> dict[str, NotchKind]:
    seam = only_seam(pattern, "bodice-front.armhole")
    return {match.name: match.notch for match in seam.matches}


@pytest.mark.parametrize("kind", KINDS)
def test_every_size_is_sound_and_can_be_sewn(kind: str) -> None:
    for size in chart():
        pattern = sleeved(kind, size)
        assert_seams_true(pattern)
        found = [each for each in check(pattern, size) if each.severity is not Severity.NOTE]
        assert found == [], size.name
    order = plan(pattern)
    assert verify(pattern, order) == ()


@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=15)
@given(bodies_to_draft())
def test_any_body_gets_a_sleeve_that_goes_into_its_armhole(kind: str, wearer: Body) -> None:
    pattern = drafted_or_refused(parts(kind), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    sleeve = pattern.piece("sleeve")
    seam = only_seam(pattern, "bodice-front.armhole")
    armhole = pattern.run_length(seam.layers[0].run)
    assert sleeve.edge("cap").length - armhole == pytest.approx(seam.layers[1].ease_mm, abs=0.5)
    assert notches(pattern)["front notch"] is NotchKind.SINGLE
    assert notches(pattern)["back notch"] is NotchKind.DOUBLE
    width = sleeve.edge("cap").start.distance(sleeve.edge("cap").end)
    assert width >= wearer["upper_arm_girth"] + 38.0 - 0.1  # E10, common practice, no source


@pytest.mark.parametrize("kind", KINDS)
def test_the_sewn_cap_and_lower_edge_run_on_across_the_sleeve_seam(kind: str) -> None:
    """Both are square to both seam edges (G07, common practice: within 3 degrees)."""
    sleeve = sleeved(kind).piece("sleeve")
    for after in ("underarm-back", "cap", "underarm-front", sleeve.edge_names[0]):
        assert corner(sleeve, after) == pytest.approx(math.pi / 2, abs=math.radians(3))


def corner(piece: Piece, edge: str) -> float:
    """Interior angle where an edge starts."""
    names = piece.edge_names
    before = piece.edge(names[names.index(edge) - 1])
    back, on = -before.end_tangent, piece.edge(edge).start_tangent
    return math.acos(max(-1.0, min(1.0, back.dot(on))))


@settings(max_examples=25)
@given(bodies_to_draft())
def test_the_cuff_goes_round_the_wrist_and_its_opening_over_the_hand(wearer: Body) -> None:
    """L08 (common practice): hand girth and 1 to 2 cm pass."""
    pattern = sleeved("bishop-sleeve", wearer, cuff_ease=30.0, opening=80.0)
    around = pattern.piece("sleeve-cuff").edge("outer").length
    assert around == pytest.approx(wearer["wrist_girth"] + 30.0)
    assert around + 2 * 80.0 >= wearer["hand_girth"] + 10.0


def test_cuff_opening_too_short_for_the_hand_is_refused() -> None:
    with pytest.raises(ComponentError, match="hand does not go through") as caught:
        sleeved(
            "bishop-sleeve", body(hand_girth=268.0, wrist_girth=140.0), opening=50.0, cuff_ease=15.0
        )
    assert "opening" in caught.value.what_to_do


@pytest.mark.parametrize("fullness", [1.4, 2.0, 2.6])
def test_lower_edge_of_a_bishop_sleeve_is_so_many_times_the_cuff(fullness: float) -> None:
    """C20 (weak source): flat length is the finished one times the ratio."""
    pattern = sleeved("bishop-sleeve", fullness=fullness)
    sleeve, cuff = pattern.piece("sleeve"), pattern.piece("sleeve-cuff")
    flat = sum(sleeve.edge(edge).length for edge in ("hem-front", "hem-back"))
    assert flat / cuff.edge("outer").length == pytest.approx(fullness, rel=0.02)
    assert pattern.seams["sleeve-cuff-sleeve"].kind is SeamKind.GATHERED


def test_cuff_laps_over_its_buttons_and_is_interfaced() -> None:
    cuff = sleeved("bishop-sleeve", buttons=2, cuff_depth=90.0).piece("sleeve-cuff")
    around = cuff.edge("outer").length
    buttons = [mark.at for mark in cuff.marks if mark.at is not None]
    holes = [mark.path for mark in cuff.marks if mark.kind.value == "buttonhole" and mark.path]
    assert len(buttons) == len(holes) == 2
    for button, hole in zip(buttons, holes, strict=True):
        # Closed, the end of the cuff lies `around` beyond where it is drawn.
        start, end = sorted((hole.start.x - around, hole.end.x - around))
        assert start < button.x < end
        assert hole.start.y == pytest.approx(button.y)
    assert {copy.ply for copy in cuff.copies} == {Ply.SHELL, Ply.INTERFACING}


def test_buttons_without_room_are_refused() -> None:
    with pytest.raises(ComponentError, match="no room on the lap"):
        sleeved("bishop-sleeve", lap=20.0, button=15.0)
    with pytest.raises(ComponentError, match="no room on the depth"):
        sleeved("bishop-sleeve", cuff_depth=40.0, buttons=2, button=15.0)


def test_a_cuff_button_without_its_hole_is_found() -> None:
    """Marks of a cuff are paired by their name: they lie at its two ends."""
    pattern = sleeved("bishop-sleeve")
    cuff = pattern.piece("sleeve-cuff")
    without = tuple(mark for mark in cuff.marks if mark.kind.value != "buttonhole")
    broken = replace(pattern, pieces={**pattern.pieces, cuff.name: replace(cuff, marks=without)})
    assert "BUTTON-COUNT" in {each.code for each in check(broken, body())}


@settings(max_examples=20)
@given(bodies_to_draft())
def test_a_puff_is_gathered_above_the_notches_only(wearer: Body) -> None:
    pattern = drafted_or_refused(parts("puff-sleeve", head_fullness=1.5), wearer)
    if pattern is None:
        return
    seam = only_seam(pattern, "bodice-front.armhole")
    assert seam.kind is SeamKind.GATHERED
    at = {match.name: match.at_mm for match in seam.matches}
    (front, on_front), (back, on_back) = at["front notch"], at["back notch"]
    armhole, cap = (pattern.run_length(layer.run) for layer in seam.layers)
    assert None not in (front, on_front, back, on_back)
    assert on_front == pytest.approx(front)
    assert cap - on_back == pytest.approx(armhole - back, abs=0.1)
    assert (on_back - on_front) / (back - front) == pytest.approx(1.5, abs=0.01)


def test_a_band_goes_round_the_arm_and_over_the_hand() -> None:
    slim = body(upper_arm_girth=180.0, hand_girth=220.0)
    around = sleeved("puff-sleeve", slim, band_ease=10.0).piece("sleeve-band").edge("outer").length
    assert around >= 220.0 + 10.0
    usual = body()
    around = sleeved("puff-sleeve", usual).piece("sleeve-band").edge("outer").length
    assert around == pytest.approx(usual["upper_arm_girth"] + 35.0)


@pytest.mark.parametrize("degrees", [5.0, 22.0, 34.0])
def test_flutter_hem_is_an_arc_around_the_point_where_its_seams_meet(degrees: float) -> None:
    flare = math.radians(degrees)
    sleeve = sleeved("flutter-sleeve", flare=flare, length=260.0).piece("sleeve")
    hem = sleeve.edge("hem")
    half = (hem.end.x - hem.start.x) / 2
    radius = half / math.sin(flare)
    top = (hem.start.x + hem.end.x) / 2, hem.start.y + radius * math.cos(flare)
    for point in hem.flattened():
        assert math.dist((point.x, point.y), top) == pytest.approx(radius, abs=0.5)
    lowest = min(point.y for point in hem.flattened())
    assert sleeve.points["cap top"].y - lowest == pytest.approx(260.0, abs=0.1)


@pytest.mark.parametrize("rise", [5.0, 30.0, 45.0])
def test_cap_sleeve_rises_to_the_middle_of_its_hem(rise: float) -> None:
    hem = sleeved("cap-sleeve", rise=rise).piece("sleeve").edge("hem")
    middle = hem.point_at(hem.length / 2)
    assert middle.y - hem.start.y == pytest.approx(rise, abs=0.5)


@pytest.mark.parametrize("kind", KINDS)
def test_both_views_show_the_sleeve_and_its_cuff(kind: str) -> None:
    pattern = sleeved(kind)
    wanted = {"sleeve", "sleeve-cuff", "sleeve-band"} & pattern.pieces.keys()
    for picture in flats(pattern):
        shown = {item.piece for item in picture.items if isinstance(item, Area)}
        assert wanted <= shown
