"""Lacing: eyelets evenly spaced on both edges, between two bones, and cord enough."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from shapely import Point as ShapelyPoint

from clothwise.checks import check
from clothwise.components.closings.lacing import cord_mm
from clothwise.errors import ComponentError
from clothwise.geometry import Point
from clothwise.pattern import Body, MarkKind, Pattern, Severity
from clothwise.work import plan, steps, verify
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
    parameter_ends,
    parameters_in_range,
)
from survey import survey_women

KIND = "lacing"


def parts(gap: float = 40.0, **parameters: float | str) -> Parts:
    return {
        "top": ("corselette", {"gap": gap}),
        "laces": (KIND, dict(parameters)),
        "hem": ("bound-hem", {}),
    }


def laced(for_body: Body | None = None, gap: float = 40.0, **parameters: float | str) -> Pattern:
    return drafted(parts(gap, **parameters), for_body)


def eyelets(pattern: Pattern) -> list[Point]:
    """From below."""
    marks = pattern.piece("top-back").marks
    found = [mark.at for mark in marks if mark.kind is MarkKind.EYELET and mark.at]
    return sorted(found, key=lambda at: at.y)


def notion(pattern: Pattern, name: str, detail: str = "") -> float:
    (found,) = (n for n in pattern.notions if n.name == name and detail in n.detail)
    return found.amount


def wrong(pattern: Pattern, wearer: Body) -> list[str]:
    found = check(pattern, wearer)
    return [each.code for each in found if each.severity is not Severity.NOTE]


def test_a_laced_corselette_is_sound_in_every_size_and_for_women_of_the_survey() -> None:
    for wearer in (*chart(), *survey_women()[::16]):
        pattern = laced(wearer)
        assert_seams_true(pattern)
        assert wrong(pattern, wearer) == [], wearer.name


def test_it_is_sound_at_both_ends_of_every_parameter() -> None:
    for parameter, value in parameter_ends(KIND):
        for size in chart()[1::7]:
            more = {"from_edge": 20.0} if parameter == "eyelet" else {}
            pattern = laced(size, **{**more, parameter: value})
            assert wrong(pattern, size) == [], (parameter, value, size.name)


@settings(max_examples=25)
@given(bodies_to_draft(), parameters_in_range(KIND))
def test_eyelets_are_even_clear_and_between_the_bones(wearer: Body, parameters: Parameters) -> None:
    pattern = drafted_or_refused(parts(**parameters), wearer)
    if pattern is None:
        return
    found = eyelets(pattern)
    steps_mm = [above.y - below.y for below, above in pairwise(found)]
    assert max(steps_mm) - min(steps_mm) < 1e-6
    assert max(steps_mm) <= float(parameters.get("spacing", 25.0)) + 1e-6
    back = pattern.piece("top-back")
    edge_x = back.edge("opening").start.x
    hole = float(parameters.get("eyelet", 5.0))
    rim = hole / 2 + 3.0
    for at in found:
        assert at.x - edge_x == pytest.approx(float(parameters.get("from_edge", 18.0)))
        assert back.outline.polygon.buffer(-10.0).covers(ShapelyPoint(at.x, at.y))
    lines = [mark.path for mark in back.marks if mark.name == "bone channel" and mark.path]
    assert len(lines) == 2
    outer, inner = sorted(line.start.x for line in lines)
    assert outer - edge_x == pytest.approx(9.0)
    assert outer <= found[0].x - rim - 2.0 + 1e-6
    assert inner >= found[0].x + rim + 2.0 - 1e-6
    assert inner + 9.0 <= edge_x + pattern.finishes["laces"].depth_mm


@settings(max_examples=20)
@given(bodies_to_draft(), parameters_in_range("corselette", gap=40.0))
def test_edges_lie_as_far_apart_as_the_gap_and_the_body_goes_in(
    wearer: Body, parameters: Parameters
) -> None:
    """What is laced and the gap are as wide as a corselette that closes edge to edge."""
    corselettes = []
    for gap in (0.0, 40.0):
        design: Parts = {"top": ("corselette", {**parameters, "gap": gap}), "laces": (KIND, {})}
        pattern = drafted_or_refused(design, wearer)
        if pattern is None:
            return
        assert_seams_true(pattern)
        corselettes.append(pattern)
    whole, apart = (each.piece("top-back") for each in corselettes)
    for name in ("top", "waist-center"):
        ends = [max(p.x for p in each.edge(name).flattened()) for each in (whole, apart)]
        assert ends[0] == pytest.approx(ends[1], abs=0.5), name
    assert apart.edge("opening").start.x == pytest.approx(20.0)
    assert apart.edge("opening").start_tangent.x == pytest.approx(0.0, abs=1e-9)


def test_the_gap_is_counted_to_the_waist() -> None:
    """Without lacing the same corselette is too small at the waist."""
    closed = {**parts(), "laces": ("zip", {})}
    assert wrong(laced(), body()) == []
    assert wrong(drafted(closed), body()) == ["FIT-WAIST"]


@pytest.mark.parametrize(("pairs", "spacing"), [(2, 25.0), (9, 23.5), (14, 20.0)])
def test_the_cord_is_as_long_as_its_way(pairs: int, spacing: float) -> None:
    """Walked from eyelet to eyelet, crosswise, from one tail to the other."""
    apart, tail = 286.0, 350.0
    rows = [(side, number) for number in range(pairs) for side in (-1, 1)]
    places = {key: Point(key[0] * apart / 2, key[1] * spacing) for key in rows}
    way = 0.0
    for side in (-1, 1):
        here = places[side, 0]
        for number in range(1, pairs):
            side = -side
            way += here.distance(places[side, number])
            here = places[side, number]
        way += tail
    way += places[-1, 0].distance(places[1, 0])
    assert cord_mm(pairs, spacing, apart, tail) == pytest.approx(way)


def test_the_cord_is_enough_to_get_the_hip_through_the_waist() -> None:
    wearer = body(waist_girth=700.0, hip_girth=960.0)
    pattern = laced(wearer)
    waist = 2 * pattern.run_length(pattern.runs["waist"])
    opens = math.ceil((960.0 - waist) / 10.0) * 10.0
    found = eyelets(pattern)
    cord = cord_mm(len(found), found[1].y - found[0].y, 2 * 18.0 + opens, 350.0)
    assert notion(pattern, "lacing cord") == pytest.approx(cord)
    assert waist + opens >= 960.0
    longer = drafted({**parts(), "top": ("corselette", {"gap": 40.0, "below_waist": 80.0})}, wearer)
    (cord_below,) = (each for each in longer.notions if each.name == "lacing cord")
    assert "opens 30 cm wide" in cord_below.detail  # as for a waist that is as narrow as the body's


def test_notions_count_both_edges() -> None:
    pattern = laced()
    assert notion(pattern, "eyelets with washers") == 2 * len(eyelets(pattern))
    long = pattern.piece("top-back").edge("opening").length
    assert notion(pattern, "woven fusible strip") == pytest.approx(2 * long)
    assert notion(pattern, "boning", "laced edges") == pytest.approx(2 * (long - 20.0))


def test_nothing_is_stitched_or_punched_after_the_bones_are_in_reach() -> None:
    """Channels and turned edges first, then bones, then eyelets, then panel and cord."""
    pattern = laced()
    order = plan(pattern)
    assert verify(pattern, order) == ()
    names = [operation.name for operation in order.operations]
    wanted = ["top-channels", "top-top", "laces-turn", "top-bones", "laces-eyelets"]
    wanted += ["laces-panel-attach", "laces-lace"]
    assert [name for name in names if name in wanted] == wanted
    done = [name for operation in order.operations for name in operation.does]
    assert sorted(done) == sorted(use.name for use in pattern.all_uses())


def test_a_bodice_without_bones_gets_two_at_each_edge() -> None:
    pattern = drafted(
        {
            "bodice": (
                "darted-bodice",
                {"opening": "center back", "waist": "none", "back_opening": 250.0},
            ),
            "facing": ("neck-facing", {}),
            "laces": (KIND, {"behind": "nothing"}),
        }
    )
    (bones,) = (each for each in pattern.notions if each.name == "boning")
    assert bones.detail.startswith("4 of ")
    order = plan(pattern)
    assert verify(pattern, order) == ()
    names = [operation.name for operation in order.operations]
    assert names.index("laces-turn") < names.index("laces-bones") < names.index("laces-eyelets")


def test_the_panel_covers_both_rows_of_eyelets_and_ends_inside() -> None:
    pattern = laced()
    panel = pattern.piece("laces-panel")
    left, low, right, high = panel.outline.polygon.bounds
    turned = pattern.finishes["laces"].depth_mm
    assert right - left == pytest.approx(2 * turned + 40.0)
    assert high - low == pytest.approx(pattern.piece("top-back").edge("opening").length - 10.0)
    assert "laces-panel" not in laced(behind="nothing").pieces


def test_the_step_tells_how_the_cord_was_worked_out() -> None:
    pattern = laced()
    order = plan(pattern)
    texts = {step.operation.name: step.text for step in steps(pattern, order)}
    slants = 2 * (len(eyelets(pattern)) - 1)
    assert f"{slants} slants of" in texts["laces-lace"]
    assert "4 cm apart" in texts["laces-lace"]


def test_large_eyelets_near_the_edge_are_refused() -> None:
    with pytest.raises(ComponentError, match="no room for the bone"):
        laced(eyelet=8.0, from_edge=17.0)


def test_a_skirt_alone_is_not_laced() -> None:
    with pytest.raises(ComponentError, match="straight edge of a bodice"):
        drafted(
            {
                "skirt": ("circle-skirt", {}),
                "band": ("straight-waistband", {}),
                "laces": (KIND, {}),
            }
        )


@pytest.mark.parametrize("skirt", ["a-line-skirt", "gored-skirt", "gathered-skirt"])
def test_a_skirt_below_has_a_closure_of_its_own(skirt: str) -> None:
    for wearer in (*chart()[::3], *survey_women()[::60]):
        pattern = drafted(
            {
                "top": ("corselette", {}),
                "skirt": (skirt, {}),
                "laces": (KIND, {}),
                "zip": ("zip", {}),
                "hem": ("double-hem", {}),
            },
            wearer,
        )
        assert wrong(pattern, wearer) == [], wearer.name
        order = plan(pattern)
        assert verify(pattern, order) == ()
        names = [operation.name for operation in order.operations]
        assert names.index("top-bones") < names.index("skirt-waist") < names.index("laces-lace")


def test_edges_that_are_laced_apart_do_not_go_on_in_a_skirt() -> None:
    with pytest.raises(ComponentError, match="the skirt below closes"):
        drafted(
            {
                "top": ("corselette", {"gap": 30.0}),
                "skirt": ("a-line-skirt", {}),
                "laces": (KIND, {}),
            }
        )


def test_an_opening_across_a_yoke_seam_is_refused() -> None:
    with pytest.raises(ComponentError, match="a seam of the bodice crosses the opening"):
        drafted(
            {
                "bodice": (
                    "yoke-bodice",
                    {"opening": "center back", "waist": "none", "back_opening": 300.0},
                ),
                "facing": ("neck-facing", {}),
                "laces": (KIND, {}),
            }
        )
