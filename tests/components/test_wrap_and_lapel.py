"""Wrap front, lapel front, notched collar and double-breasted buttons."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.geometry import angle_between
from clothwise.pattern import Body, Pattern, Severity
from clothwise.pattern.mark import SHOW_BUTTON, MarkKind
from clothwise.work import plan, verify
from component_cases import (
    Parameters,
    Parts,
    assert_darts_close,
    assert_seams_true,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)


def wrap(parameters: Parameters | None = None) -> Parts:
    return {
        "bodice": ("darted-bodice", {}),
        "front": ("wrap-front", parameters or {}),
        "skirt": ("a-line-skirt", {}),
        "facing": ("front-and-neck-facing", {}),
        "sleeve": ("set-in-sleeve", {}),
        "buttons": ("double-breasted-buttons", {"rows": "one", "number": 1}),
        "hem": ("double-hem", {}),
    }


def lapels(
    front: Parameters | None = None,
    collar: Parameters | None = None,
    buttons: Parameters | None = None,
) -> Parts:
    return {
        "bodice": ("darted-bodice", {}),
        "front": ("lapel-front", front or {}),
        "skirt": ("a-line-skirt", {}),
        "collar": ("notched-collar", collar or {}),
        "binding": ("bound-armhole", {}),
        "buttons": ("double-breasted-buttons", buttons or {}),
        "hem": ("double-hem", {}),
    }


def without_buttons(parts: Parts) -> Parts:
    return {name: part for name, part in parts.items() if name != "buttons"}


def assert_sound(parts: Parts, wearer: Body) -> None:
    pattern = drafted(parts, wearer)
    assert_seams_true(pattern)
    assert_darts_close(pattern)
    assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())
    wrong = [f for f in check(pattern, wearer) if f.severity is not Severity.NOTE]
    assert not wrong, wrong


@pytest.mark.parametrize("size", [0, 4, 9])
@pytest.mark.parametrize("parts", [wrap(), lapels()], ids=["wrap", "lapels"])
def test_sizes_of_the_chart_are_drafted_without_a_finding(parts: Parts, size: int) -> None:
    assert_sound(parts, chart()[size])


@pytest.mark.parametrize("waist", ["empire", "dropped"])
@pytest.mark.parametrize("neckline", ["scoop", "v", "square", "boat"])
@pytest.mark.parametrize("parts", [wrap(), lapels()], ids=["wrap", "lapels"])
def test_any_bodice_that_opens_is_redrawn(parts: Parts, neckline: str, waist: str) -> None:
    bodice: Parameters = {"neckline": neckline, "waist": waist}
    assert_sound({**parts, "bodice": ("darted-bodice", bodice)}, chart()[4])


@pytest.mark.parametrize("bodice", ["princess-bodice", "yoke-bodice"])
def test_so_are_princess_and_yoke_bodices(bodice: str) -> None:
    parts = {**lapels(), "bodice": (bodice, {}), "skirt": ("gored-skirt", {})}
    assert_sound(parts, chart()[4])


@settings(max_examples=25)
@given(bodies_to_draft(), parameters_in_range("lapel-front"), parameters_in_range("notched-collar"))
def test_any_collar_fits_any_lapel(wearer: Body, front: Parameters, collar: Parameters) -> None:
    pattern = drafted_or_refused(without_buttons(lapels(front, collar)), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    neck = pattern.run_length(pattern.runs["neck"])
    for word in ("under", "upper"):
        piece = pattern.piece(f"collar-{word}")
        assert piece.outline.polygon.is_valid
        assert piece.edge("neck").length + piece.edge("gorge").length == pytest.approx(neck)


@settings(max_examples=25)
@given(bodies_to_draft(), parameters_in_range("wrap-front"))
def test_any_wrap_front_is_faced(wearer: Body, front: Parameters) -> None:
    pattern = drafted_or_refused(without_buttons(wrap(front)), wearer)
    if pattern is not None:
        assert_seams_true(pattern)
        assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())


@pytest.mark.parametrize("parts", [wrap(), lapels()], ids=["wrap", "lapels"])
def test_the_order_of_work_sews_every_seam_once(parts: Parts) -> None:
    pattern = drafted(parts)
    order = plan(pattern)
    assert verify(pattern, order) == ()
    done = [use for operation in order.operations for use in operation.does]
    assert sorted(done) == sorted(use.name for use in pattern.all_uses())


def test_the_overlap_reaches_equally_far_down_to_the_hem() -> None:
    pattern = drafted(lapels({"overlap": 80.0}))
    for name in ("bodice-front", "skirt-front", "collar-facing"):
        edge = pattern.piece(name).edge("front-edge")
        assert (edge.start.x, edge.end.x) == pytest.approx((-80.0, -80.0))
    facing = pattern.piece("collar-facing").edge("front-edge").length
    fronts = [
        pattern.piece(name).edge("front-edge").length for name in ("bodice-front", "skirt-front")
    ]
    assert facing == pytest.approx(sum(fronts))


def test_the_lapel_is_as_wide_as_asked_beyond_the_roll_line() -> None:
    front = drafted(lapels({"lapel_width": 92.0})).piece("bodice-front")
    up = (front.points["roll point"] - front.points["break point"]).unit
    beyond = (front.points["lapel point"] - front.points["break point"]).dot(up.left)
    assert beyond == pytest.approx(92.0)


def test_the_collar_has_the_corner_that_the_front_lacks() -> None:
    """Between the dots both lie flat on each other: the same lengths, the same turn."""
    pattern = drafted(lapels())
    front = pattern.piece("bodice-front")
    turn = angle_between(front.edge("neck").end_tangent, front.edge("gorge").start_tangent)
    for word in ("under", "upper"):
        collar = pattern.piece(f"collar-{word}")
        filled = angle_between(collar.edge("neck").end_tangent, collar.edge("gorge").start_tangent)
        assert filled == pytest.approx(-turn)
        assert collar.edge("gorge").length == pytest.approx(front.edge("gorge").length)
    assert math.radians(60) < -turn < math.radians(120)


def test_front_and_facing_have_the_same_dots() -> None:
    pattern = drafted(lapels())
    dots = [
        [(mark.name, mark.at) for mark in pattern.piece(name).marks if mark.kind is MarkKind.DOT]
        for name in ("bodice-front", "collar-facing")
    ]
    assert dots[0] == dots[1]
    assert [name for name, _ in dots[0]] == ["inner corner", "end of the collar"]


def test_turn_of_cloth_makes_upper_collar_and_lapel_facing_larger() -> None:
    pattern = drafted(lapels(collar={"turn_of_cloth": 3.0}))
    upper, under = pattern.piece("collar-upper"), pattern.piece("collar-under")
    assert upper.edge("center").length - under.edge("center").length == pytest.approx(3.0)
    front, facing = pattern.piece("bodice-front"), pattern.piece("collar-facing")
    assert facing.edge("lapel-top").length - front.edge("lapel-top").length == pytest.approx(3.0)
    assert facing.edge("front-edge").start == front.edge("front-edge").start
    for name in ("collar-outer", "collar-edge"):
        assert pattern.seams[name].layers[1].ease_mm > 0


def test_without_turn_of_cloth_nothing_is_eased() -> None:
    pattern = drafted(lapels(collar={"turn_of_cloth": 0.0}))
    for name in ("collar-outer", "collar-edge"):
        assert pattern.seams[name].layers[1].ease_mm == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("kind", ["two-piece-collar", "flat-collar", "shirt-collar"])
def test_other_collars_are_refused_on_lapels(kind: str) -> None:
    parts: Parts = {
        "bodice": ("darted-bodice", {}),
        "front": ("lapel-front", {}),
        "collar": (kind, {}),
    }
    with pytest.raises(ComponentError, match="without lapels"):
        drafted(parts)


def test_a_notched_collar_needs_lapels() -> None:
    with pytest.raises(ComponentError, match="needs fronts with lapels"):
        drafted({**wrap(), "facing": ("notched-collar", {})})


def test_a_front_that_is_sewn_already_is_not_redrawn() -> None:
    parts = wrap()
    late = {name: parts[name] for name in ("bodice", "skirt", "facing", "front")}
    with pytest.raises(ComponentError, match="cannot be redrawn any more"):
        drafted(late)


def test_an_overlap_beyond_the_bust_is_refused() -> None:
    with pytest.raises(ComponentError, match="beyond the bust"):
        drafted(wrap({"overlap": 100.0}), body(bust_point_width=160.0))


def marks(pattern: Pattern, kind: MarkKind, name: str, side: str) -> list[tuple[float, float]]:
    found = []
    for piece in pattern.pieces.values():
        for mark in piece.marks:
            if (mark.kind, mark.name, mark.only_side) == (kind, name, side):
                at = mark.at or (mark.path.start if mark.path else None)
                assert at is not None
                found.append((at.x, at.y))
    return found


@pytest.mark.parametrize(
    ("lap", "over", "under"),
    [
        ("right over left", "right", "left"),
        ("left over right", "left", "right"),
    ],
)
def test_buttonholes_lie_over_the_buttons_when_the_fronts_are_lapped(
    lap: str, over: str, under: str
) -> None:
    """F05: a hole begins 1/8 in, 3 mm, beyond its button (machine manual; Colgrove)."""
    pattern = drafted(lapels(buttons={"lap": lap}))
    holes = marks(pattern, MarkKind.BUTTONHOLE, "button of the row", over)
    buttons = marks(pattern, MarkKind.BUTTON, "button of the row", under)
    assert len(holes) == 3
    for (button_x, button_y), (hole_x, hole_y) in zip(buttons, holes, strict=True):
        assert (-button_x, button_y) == pytest.approx((hole_x + 3.0, hole_y))
    assert marks(pattern, MarkKind.BUTTON, SHOW_BUTTON, over) == buttons


@pytest.mark.parametrize("size", [0, 4, 9])
@pytest.mark.parametrize(("number", "below"), [(2, 1), (2, 3), (3, 2)])
def test_a_row_goes_on_over_the_waist_at_one_distance(number: int, below: int, size: int) -> None:
    pattern = drafted(lapels(buttons={"number": number, "below_waist": below}), chart()[size])
    bodice = pattern.piece("bodice-front").edge("front-edge").end.y
    skirt = pattern.piece("skirt-front").edge("front-edge")
    heights = sorted(
        mark.at.y - level
        for name, level in (
            ("bodice-front", bodice),
            ("skirt-front", max(skirt.start.y, skirt.end.y)),
        )
        for mark in pattern.piece(name).marks
        if (mark.kind, mark.name) == (MarkKind.BUTTON, "button of the row") and mark.at
    )
    assert len(heights) == number + below
    steps = [high - low for low, high in pairwise(heights)]
    assert steps == pytest.approx([steps[0]] * len(steps))


def test_a_single_button_has_others_below_it_at_the_usual_distance() -> None:
    pattern = drafted(lapels(buttons={"number": 1, "below_waist": 2}))
    heights = [y for _, y in marks(pattern, MarkKind.BUTTON, SHOW_BUTTON, "right")]
    assert heights[1] - heights[2] == pytest.approx(95.0)


@pytest.mark.parametrize("parts", [wrap(), lapels()], ids=["wrap", "lapels"])
def test_tape_is_bought_for_the_edges_that_are_stayed(parts: Parts) -> None:
    pattern = drafted(parts)
    (tape,) = (each for each in pattern.notions if each.name == "straight tape")
    front = pattern.piece("bodice-front")
    line = front.points["break point"].distance(front.edge("neck").start)
    assert 2 * 0.6 * line < tape.amount < 2 * (1.1 * line + 20.0)


def test_a_button_keeps_off_the_edge() -> None:
    """F07: from the middle of a button to the edge at least 3/4 of its diameter."""
    pattern = drafted(lapels({"overlap": 90.0}, buttons={"diameter": 30.0}))
    for x, _ in marks(pattern, MarkKind.BUTTONHOLE, "button of the row", "right"):
        assert x + 3.0 - -90.0 >= 0.75 * 30.0


@pytest.mark.parametrize("overlap", [60.0, 80.0, 95.0])
def test_buttons_lie_beside_darts_not_in_them(overlap: float) -> None:
    wearer = chart()[1]
    front = drafted(lapels({"overlap": overlap}), wearer).piece("bodice-front")
    leg = front.edge("waist-dart-in")
    for mark in front.marks:
        if mark.kind is MarkKind.BUTTON and mark.at is not None:
            beside = leg.point_at(leg.nearest(mark.at)) - mark.at
            assert beside.x > 0
            assert beside.length >= mark.size_mm / 2


def test_buttons_to_buy_are_counted_in_both_rows() -> None:
    for rows, number in (("one", 3), ("two", 6)):
        notions = drafted(lapels(buttons={"rows": rows})).notions
        assert [n.amount for n in notions if n.name == "buttons"] == [number]


def test_nothing_need_hold_the_front_underneath() -> None:
    pattern = drafted(lapels(buttons={"inside": "nothing"}))
    assert not marks(pattern, MarkKind.BUTTONHOLE, "inner button", "left")
    assert [n.name for n in pattern.notions if "button" in n.name] == ["buttons"]
    (work,) = (each for each in pattern.operations if each.name == "buttons-sew")
    assert "inside" not in work.text


@pytest.mark.parametrize("size", [0, 4, 9])
def test_lapels_close_with_one_row_on_the_center_too(size: int) -> None:
    parts = lapels({"overlap": 22.0, "lapel_width": 78.0})
    parts = {**parts, "buttons": ("buttons", {})}
    assert_sound(parts, chart()[size])
    front = drafted(parts, chart()[size]).piece("bodice-front")
    tops = [mark.at.y for mark in front.marks if mark.kind is MarkKind.BUTTON and mark.at]
    assert max(tops) < front.points["break point"].y


def test_a_narrow_overlap_has_no_room_for_a_row_beside_the_center() -> None:
    with pytest.raises(ComponentError, match="lap over too little"):
        drafted(lapels({"overlap": 25.0}))


def test_a_bodice_that_does_not_lap_over_is_told_apart() -> None:
    parts = {"bodice": ("darted-bodice", {}), "buttons": ("double-breasted-buttons", {})}
    with pytest.raises(ComponentError, match="need fronts that lap over"):
        drafted(parts)  # type: ignore[arg-type]
