"""The corselette: strapless panels that are true, boned, faced, and sewn without a gap."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.geometry import angle_between
from clothwise.pattern import Body, Pattern, Piece, Severity
from clothwise.work import plan, verify
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    chart,
    drafted,
    drafted_or_refused,
    parameter_ends,
    parameters_in_range,
)
from survey import survey_women

KIND = "corselette"

TOO_SMALL = {("waist_ease", -60.0): {"WAIST"}, ("gap", 80.0): {"WAIST"}}
"""Ease for stretch cloth, and a gap for lacing that a zip does not leave, are found in wovens."""


def parts(**parameters: float | str) -> Parts:
    return {
        "top": (KIND, dict(parameters)),
        "closure": ("zip", {}),
        "hem": ("bound-hem", {}),
    }


def corselette(for_body: Body | None = None, **parameters: float | str) -> Pattern:
    return drafted(parts(**parameters), for_body)


def wrong(pattern: Pattern, wearer: Body) -> list[str]:
    found = check(pattern, wearer)
    return [each.code for each in found if each.severity is not Severity.NOTE]


def test_it_is_sound_in_every_size_and_for_women_of_the_survey() -> None:
    for wearer in (*chart(), *survey_women()[::8]):
        pattern = corselette(wearer)
        assert_seams_true(pattern)
        assert wrong(pattern, wearer) == [], wearer.name


def test_it_is_sound_at_both_ends_of_every_parameter() -> None:
    for parameter, value in parameter_ends(KIND):
        for size in chart()[::3]:
            pattern = corselette(size, **{parameter: value})
            assert_seams_true(pattern)
            found = {each.removeprefix("FIT-") for each in wrong(pattern, size)}
            assert found == TOO_SMALL.get((parameter, value), set()), (parameter, value, size.name)


def test_it_can_be_sewn_and_every_seam_is_sewn_once() -> None:
    pattern = corselette()
    order = plan(pattern)
    assert verify(pattern, order) == ()
    done = [name for operation in order.operations for name in operation.does]
    assert sorted(done) == sorted(use.name for use in pattern.all_uses())
    names = [operation.name for operation in order.operations]
    assert names.index("top-channels") < names.index("top-top") < names.index("top-bones")
    assert names.index("top-bones") < min(
        number for number, operation in enumerate(order.operations) if operation.component == "hem"
    )


@settings(max_examples=25)
@given(bodies_to_draft(), parameters_in_range(KIND))
def test_any_body_and_parameters_give_true_panels(wearer: Body, parameters: Parameters) -> None:
    pattern = drafted_or_refused(parts(**parameters), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())


@pytest.mark.parametrize("size", chart()[::3], ids=lambda size: size.name)
def test_the_waist_is_that_of_the_body_and_its_ease(size: Body) -> None:
    """The waistline bends, so it is up to 2 % longer than its span; never shorter (E13)."""
    pattern = corselette(size, waist_ease=15.0)
    waist = 2 * pattern.run_length(pattern.runs["hem"])
    wanted = size["waist_girth"] + 15.0
    assert wanted - 1.0 <= waist <= 1.02 * wanted


@pytest.mark.parametrize("size", chart()[::3], ids=lambda size: size.name)
def test_the_side_front_is_eased_over_the_bust(size: Body) -> None:
    """G11: the front side panel is 0.5 to 1.2 cm longer (common practice, no source)."""
    pattern = corselette(size)
    assert 4.5 <= pattern.seams["top-front-panels"].layers[1].ease_mm <= 12.0


def inside_angle(piece: Piece, edge: str, *, at_end: bool) -> float:
    """Between an edge and its neighbor, inside the piece."""
    names = piece.edge_names
    at = names.index(edge)
    before, after = (edge, names[(at + 1) % len(names)]) if at_end else (names[at - 1], edge)
    return math.pi - angle_between(piece.edge(before).end_tangent, piece.edge(after).start_tangent)


@pytest.mark.parametrize("level", ["", "facing-"])
@pytest.mark.parametrize("size", chart()[::3], ids=lambda size: size.name)
def test_upper_edge_and_facing_run_on_across_every_seam(size: Body, level: str) -> None:
    """What both panels have at a seam makes up half a turn; centers are crossed square."""
    pattern = corselette(size)
    front, side_front, side_back, back = (
        pattern.piece(f"top-{level}{name}") for name in ("front", "front-side", "back-side", "back")
    )
    assert inside_angle(front, "top", at_end=True) == pytest.approx(math.pi / 2, abs=1e-6)
    assert inside_angle(back, "top", at_end=True) == pytest.approx(math.pi / 2, abs=1e-6)
    for meeting in (
        inside_angle(front, "top", at_end=False) + inside_angle(side_front, "top", at_end=True),
        inside_angle(side_front, "top", at_end=False)
        + inside_angle(side_back, "top", at_end=False),
        inside_angle(side_back, "top", at_end=True) + inside_angle(back, "top", at_end=False),
    ):
        assert meeting == pytest.approx(math.pi, abs=1e-6)


def test_the_back_falls_evenly_from_the_side_to_the_center() -> None:
    """No hump at the seam between the back panels."""
    for wearer in (*chart()[::3], *survey_women()[::20]):
        pattern = corselette(wearer, back_dip=20.0)
        back = pattern.piece("top-back").edge("top")
        heights = [back.point_at(back.length * step / 20).y for step in range(21)]
        assert heights == sorted(heights, reverse=True), wearer.name


def test_bones_are_counted_and_shorter_than_their_seams() -> None:
    pattern = corselette()
    notions = {notion.name: notion.amount for notion in pattern.notions}
    seams = ("top-front-panels", "top-back-panels", "top-side")
    length = sum(pattern.run_length(pattern.seams[name].layers[0].run) for name in seams)
    length += pattern.piece("top-back").edge("opening").length
    assert notions["boning"] == pytest.approx(2 * length - 8 * 20.0)
    assert notions["bone tips"] == 16
    assert notions["boning channel tape"] == pytest.approx(notions["boning"] + 8 * 20.0)


def test_a_higher_rise_raises_the_upper_edge_at_the_panel_seam() -> None:
    low, high = corselette(rise=40.0), corselette(rise=70.0)
    edges = [each.piece("top-front").edge("panel").end.y for each in (low, high)]
    assert edges[1] - edges[0] == pytest.approx(30.0, abs=4.0)


@pytest.mark.parametrize(
    "skirt", ["a-line-skirt", "straight-skirt", "gored-skirt", "gathered-skirt", "pleated-skirt"]
)
def test_it_stands_over_a_skirt_and_opens_down_into_it(skirt: str) -> None:
    for wearer in (*chart()[::3], *survey_women()[::60]):
        design: Parts = {
            "top": (KIND, {}),
            "skirt": (skirt, {}),
            "closure": ("zip", {}),
            "hem": ("double-hem", {}),
        }
        pattern = drafted(design, wearer)
        assert wrong(pattern, wearer) == [], wearer.name
        opening = pattern.runs["opening"].pieces
        assert opening[-2:] == ("top-back", "top-facing-back")
        assert opening[0].startswith("skirt")
        order = plan(pattern)
        assert verify(pattern, order) == ()
        names = [operation.name for operation in order.operations]
        assert names.index("top-bones") < names.index("skirt-waist") < names.index("closure-sew")


def test_a_zip_down_to_the_lower_edge_comes_apart_and_is_sewn_in_before_the_bones() -> None:
    pattern = corselette()
    (zip_,) = (each for each in pattern.notions if "zip" in each.name)
    assert zip_.name == "separating zip"
    back = pattern.piece("top-back").edge("opening").length
    assert zip_.detail.startswith(f"{back / 10:.0f} cm")
    names = [operation.name for operation in plan(pattern).operations]
    assert names.index("closure-sew") < names.index("top-bones") < names.index("sew-hem")
    with_skirt = drafted({"top": (KIND, {}), "skirt": ("gored-skirt", {}), "closure": ("zip", {})})
    assert [each.name for each in with_skirt.notions if "zip" in each.name] == ["zip"]


def test_an_invisible_zip_that_would_have_to_come_apart_is_refused() -> None:
    with pytest.raises(ComponentError, match="does not come apart"):
        drafted({"top": (KIND, {}), "closure": ("zip", {"style": "invisible"})})


@pytest.mark.parametrize("below", [20.0, 60.0, 100.0])
def test_below_the_waist_it_goes_round_the_body_there(below: float) -> None:
    """Straight from waist to top hip to hip; the lower edge bends, so it is up to 4 % longer."""
    for wearer in (*chart(), *survey_women()[::16]):
        pattern = corselette(wearer, below_waist=below)
        assert_seams_true(pattern)
        assert wrong(pattern, wearer) == [], wearer.name
        half = wearer["waist_to_hip"] / 2
        girths = [wearer[name] for name in ("waist_girth", "top_hip_girth", "hip_girth")]
        at, share = (0, below / half) if below <= half else (1, below / half - 1)
        there = girths[at] + share * (girths[at + 1] - girths[at])
        around = 2 * pattern.run_length(pattern.runs["hem"])
        ease = 15.0 + 20.0 * min(below / half, 1.0)
        assert there + ease - 2.0 <= around <= 1.04 * (there + ease), wearer.name


@pytest.mark.parametrize("size", chart()[::3], ids=lambda size: size.name)
def test_what_reaches_below_the_waist_is_the_same_above_it(size: Body) -> None:
    short, long = corselette(size), corselette(size, below_waist=80.0)
    for name in ("front", "front-side", "back-side", "back"):
        one, other = short.piece(f"top-{name}"), long.piece(f"top-{name}")
        assert other.edge("top").length == pytest.approx(one.edge("top").length, abs=0.01)
        for edge in set(one.edge_names) & {"panel", "side"}:
            assert other.edge(edge).length == pytest.approx(one.edge(edge).length + 80.0, abs=0.01)
    for seam in ("front-panels", "back-panels", "side"):
        assert (80.0, 80.0) in [match.at_mm for match in long.seams[f"top-{seam}"].matches]


@pytest.mark.parametrize("skirt", ["a-line-skirt", "gored-skirt", "gathered-skirt"])
def test_a_skirt_hangs_from_its_lower_edge_below_the_waist(skirt: str) -> None:
    for wearer in (*chart()[::3], *survey_women()[::60]):
        design: Parts = {
            "top": (KIND, {"below_waist": 60.0}),
            "skirt": (skirt, {}),
            "closure": ("zip", {}),
            "hem": ("double-hem", {}),
        }
        pattern = drafted(design, wearer)
        assert wrong(pattern, wearer) == [], wearer.name
        assert verify(pattern, plan(pattern)) == ()


def test_its_lower_edge_may_be_faced_though_its_seams_bend_there() -> None:
    for below in (0.0, 25.0, 60.0, 100.0):
        for wearer in (*chart()[::3], *survey_women()[::60]):
            design: Parts = {
                "top": (KIND, {"below_waist": below}),
                "closure": ("zip", {}),
                "hem": ("faced-hem", {}),
            }
            pattern = drafted(design, wearer)
            assert_seams_true(pattern)
            assert wrong(pattern, wearer) == [], (below, wearer.name)
