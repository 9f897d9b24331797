"""Hems of all kinds: how deep they are by flare, what they leave of the allowance, their words."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.checks import check
from clothwise.components.hems.hem_depth import (
    circle_share,
    depth_by_flare,
    extra_length,
    shell_part,
)
from clothwise.pattern import Body, FinishKind, Pattern, run
from clothwise.units import LengthUnit
from clothwise.work import OrderMode, plan, worded
from component_cases import (
    Parameters,
    Parts,
    assert_sound,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
)

INCH_MM = 25.4
KINDS = ("double-hem", "single-hem", "rolled-hem", "bound-hem", "faced-hem")
SKIRTS = ("a-line-skirt", "straight-skirt", "gored-skirt", "gathered-skirt", "tiered-skirt")


def skirt(kind: str, hem: str = "", **parameters: float) -> Parts:
    """A skirt by itself, with a hem or an open lower edge."""
    parts: Parts = {
        "skirt": (kind, dict(parameters)),
        "band": ("straight-waistband", {}),
        "closure": ("zip", {}),
    }
    return {**parts, "hem": (hem, {})} if hem else parts


def dress(hem: str, skirt_kind: str = "a-line-skirt") -> Parts:
    """A dress whose opened front has a facing."""
    return {
        "bodice": ("darted-bodice", {}),
        "skirt": (skirt_kind, {}),
        "facing": ("front-and-neck-facing", {}),
        "sleeve": ("set-in-sleeve", {}),
        "hem": (hem, {}),
    }


def text_of(pattern: Pattern, operation: str, unit: LengthUnit = LengthUnit.CENTIMETER) -> str:
    (found,) = (each for each in pattern.operations if each.name == operation)
    return worded(pattern, found, unit)


@pytest.mark.parametrize(
    ("kind", "parameters", "inches"),
    [
        # Texas Agricultural Extension Service L-359, The Hem of Your Dress or Skirt, undated:
        # straight skirt 2 1/2 in finished (H01).
        ("straight-skirt", {}, 2.5),
        ("gathered-skirt", {}, 2.5),
        # T. Johnson, It's Fun to Sew a Cotton School Dress, 4-H bulletin: circle 1/4 in (H04).
        ("circle-skirt", {"share": 1.0}, 0.25),
    ],
)
def test_a_hem_is_as_deep_as_the_bulletins_say(
    kind: str, parameters: dict[str, float], inches: float
) -> None:
    pattern = drafted(skirt(kind, "single-hem", **parameters))
    assert pattern.finishes["hem"].depth_mm == pytest.approx(inches * INCH_MM)


def test_a_gored_skirt_of_65_inches_has_a_hem_of_2_inches_or_what_can_be_eased_in() -> None:
    """H02, Texas Agricultural Extension Service L-359: gored, 60-70 in round, 2 in."""
    depths = []
    for wearer in chart():
        pattern = drafted(skirt("gored-skirt"), wearer)
        edge = pattern.runs["hem"]
        if 60 * INCH_MM <= 2 * pattern.run_length(edge) <= 72 * INCH_MM:
            depths.append(depth_by_flare(pattern, edge))
    assert depths
    assert all(1.5 * INCH_MM <= depth <= 2 * INCH_MM for depth in depths), depths


@pytest.mark.parametrize("share", [0.25, 0.5, 0.75, 1.0])
def test_the_flare_of_a_circle_skirt_is_its_share_of_a_circle(share: float) -> None:
    pattern = drafted(skirt("circle-skirt", share=share))
    assert circle_share(pattern, pattern.runs["hem"]) == pytest.approx(share, abs=1e-6)


@pytest.mark.parametrize(("share", "extra_mm"), [(1.0, 251.3), (0.25, 62.8)])
def test_a_raw_edge_is_longer_by_the_depth_and_the_share(share: float, extra_mm: float) -> None:
    """H08, derived: 4 pi f x depth; a full circle hemmed 2 cm deep has 25.1 cm too much."""
    pattern = drafted(skirt("circle-skirt", share=share))
    both = 2 * extra_length(pattern, pattern.runs["hem"], 20.0)
    assert both == pytest.approx(extra_mm, abs=0.1)
    assert both == pytest.approx(4 * math.pi * share * 20.0)


@settings(max_examples=40)
@given(bodies_to_draft(), st.sampled_from(SKIRTS), st.sampled_from(("single-hem", "double-hem")))
def test_a_hem_by_flare_is_never_too_deep_for_its_edge(wearer: Body, kind: str, hem: str) -> None:
    parts = dress(hem, kind)
    parts["hem"] = (hem, {"width": "by flare"})
    pattern = drafted_or_refused(parts, wearer)
    if pattern is not None:
        assert "HEM-DEEP" not in {each.code for each in check(pattern, wearer)}


@pytest.mark.parametrize("hem", KINDS)
def test_each_hem_can_end_each_skirt_of_the_smallest_and_largest_size(hem: str) -> None:
    for wearer in (chart()[0], chart()[-1]):
        for kind in SKIRTS[1:]:
            pattern = drafted(skirt(kind, hem), wearer)
            assert check(pattern, wearer) == (), kind
            for mode in OrderMode:
                plan(pattern, mode)


@pytest.mark.parametrize("hem", KINDS)
def test_each_hem_can_end_a_dress_with_a_faced_front(hem: str) -> None:
    for wearer in (chart()[0], body(), chart()[-1]):
        pattern = drafted(dress(hem), wearer)
        assert [each.code for each in check(pattern, wearer)] == []
        plan(pattern)


def test_a_hem_turned_once_leaves_its_depth_below_the_line() -> None:
    pattern = drafted(skirt("straight-skirt", "single-hem"))
    assert pattern.finishes["hem"].kind is FinishKind.SINGLE_HEM
    assert pattern.allowance("skirt-front", "hem") == pytest.approx(63.5)


def test_a_rolled_hem_takes_twice_its_width() -> None:
    pattern = drafted(skirt("circle-skirt", "rolled-hem", share=1.0))
    assert pattern.allowance("skirt", "hem") == pytest.approx(6.0)


def test_a_bound_hem_takes_tape_once_round_the_shell() -> None:
    """I12: Conover, A Complete Course in Dressmaking, vol. 2, 1922: no allowance where bound."""
    pattern = drafted(dress("bound-hem"))
    edge = pattern.runs["hem"]
    shell = shell_part(pattern, edge)
    assert shell == run("skirt-front.hem", "-skirt-back.hem")
    (tape,) = (each for each in pattern.notions if each.component == "hem")
    assert tape.amount == pytest.approx(2 * pattern.run_length(shell) + 50.0)
    assert all(pattern.allowance(each.piece, each.edge) == 0.0 for each in edge.edges)
    assert "bound as one layer" in text_of(pattern, "sew-hem")
    assert "bound as one layer" not in text_of(
        drafted(skirt("straight-skirt", "bound-hem")), "sew-hem"
    )


@pytest.mark.parametrize("strips", ["parts", "continuous"])
@pytest.mark.parametrize("opens", [False, True])
def test_a_hem_is_bound_with_its_own_fabric(strips: str, opens: bool) -> None:
    chosen: Parameters = {"source": "fabric", "strips": strips}
    parts = dress("bound-hem") if opens else skirt("straight-skirt", "bound-hem")
    parts = {**parts, "hem": ("bound-hem", chosen)}
    assert_sound(parts, body())
    pattern = drafted(parts)
    assert not [each for each in pattern.notions if each.component == "hem"]
    pieces = [each for each in pattern.pieces.values() if each.component == "hem"]
    strip_mm = sum(piece.outline.area for piece in pieces) / 40.0
    shell = shell_part(pattern, pattern.runs["hem"])
    assert strip_mm >= 2 * pattern.run_length(shell) + 50.0 - 1e-6
    text = text_of(pattern, "sew-hem")
    assert text.startswith(("Lay the facings", "Take the pressed strip"))
    assert "tape" not in text


def test_the_long_stitches_are_left_out_where_nothing_is_to_be_drawn_in() -> None:
    straight = text_of(drafted(skirt("straight-skirt", "single-hem")), "sew-hem")
    flared = text_of(drafted(skirt("gored-skirt", "single-hem")), "sew-hem", LengthUnit.INCH)
    assert "long stitches" not in straight
    assert "Press 6.4 cm to the wrong side" in straight
    assert "longer than the line it will lie on: run a row of long stitches" in flared


def test_a_hem_facing_has_the_lines_of_the_pieces_it_faces() -> None:
    pattern = drafted(dress("faced-hem"))
    seam = pattern.seams["hem-edge"]
    assert [layer.run.pieces for layer in seam.layers] == [
        ("skirt-front", "skirt-back"),
        ("hem-skirt-front", "hem-skirt-back"),
        ("facing-front",),
    ]
    for piece in ("skirt-back", "skirt-front"):
        facing = pattern.piece(f"hem-{piece}")
        inside = pattern.piece(piece).outline.polygon.buffer(0.05)
        assert inside.covers(facing.outline.polygon)
        lower, upper = facing.edge("hem"), facing.edge("inner")
        for share in (0.1, 0.5, 0.9):
            at = upper.point_at(share * upper.length)
            assert at.distance(lower.point_at(lower.nearest(at))) == pytest.approx(50.0, abs=0.05)
    assert pattern.piece("hem-skirt-back").fold_edge is not None


def test_a_hem_facing_begins_under_the_facing_of_the_front() -> None:
    pattern = drafted(dress("faced-hem"))
    hung = pattern.piece("facing-front").edge("hem").length
    seam = pattern.seams["hem-edge"]
    assert seam.layers[1].span is not None
    assert seam.layers[1].span[0] == pytest.approx(hung - 15.0)
    assert seam.layers[2].span == pytest.approx((0.0, hung))
    order = [each.name for each in plan(pattern).operations]
    assert order.index("facing-attach") < order.index("hem-attach")
    assert "Fold the facings of the opening back over it" in text_of(pattern, "hem-attach")


def test_a_hem_facing_is_joined_where_its_pieces_are() -> None:
    pattern = drafted(skirt("straight-skirt", "faced-hem"))
    joins = [name for name in pattern.seams if name.startswith("hem-join")]
    assert len(joins) == 1
    assert pattern.finishes["hem-inner"].run == run(
        "-hem-skirt-front.inner", "hem-skirt-back.inner", "hem-skirt-back.start"
    )
    gored = drafted(skirt("gored-skirt", "faced-hem"))
    assert len([name for name in gored.seams if name.startswith("hem-join")]) == 3 + 1


@pytest.mark.parametrize("hem", ["double-hem", "single-hem"])
def test_facings_of_an_opened_front_are_opened_out_for_the_hem(hem: str) -> None:
    """A skirt that has none is not told of any."""
    faced = text_of(drafted(dress(hem)), "sew-hem")
    assert faced.startswith("Open the facings out")
    assert faced.endswith("sew their lower edges to the hem by hand.")
    assert "facings" not in text_of(drafted(skirt("straight-skirt", hem)), "sew-hem")
