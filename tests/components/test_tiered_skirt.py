"""Gathered and tiered skirts: flat widths by the fullness asked for, drawn in to the waist."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given, settings

from clothwise.checks.girths import measured_girths
from clothwise.errors import ComponentError
from clothwise.pattern import Body, SeamKind
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    body,
    drafted,
    drafted_or_refused,
    parameters_in_range,
    skirt_alone,
    skirt_on_bodice,
)

GATHERED, TIERED = "gathered-skirt", "tiered-skirt"


@pytest.mark.parametrize("parts", [skirt_alone, skirt_on_bodice])
@settings(max_examples=25)
@given(bodies_to_draft(), parameters_in_range(GATHERED), parameters_in_range(TIERED))
def test_any_body_and_parameters_give_a_true_skirt(
    parts: Callable[[str, Parameters], Parts], wearer: Body, one: Parameters, tiers: Parameters
) -> None:
    for kind, parameters in ((GATHERED, one), (TIERED, tiers)):
        pattern = drafted_or_refused(parts(kind, parameters), wearer)
        if pattern is None:
            continue
        assert_seams_true(pattern)
        assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())


@pytest.mark.parametrize("fullness", [1.5, 2.0, 3.0])
def test_flat_width_is_sewn_width_times_the_ratio(fullness: float) -> None:
    """C20: flat = finished x ratio, ratios of 1.5 to 3 (hobby pages on ruffles, 2017, weak)."""
    pattern = drafted(skirt_alone(GATHERED, {"fullness": fullness, "waist_ease": 20.0}))
    assert 2 * pattern.run_length(pattern.runs["waist"]) == pytest.approx(740.0 * fullness)
    assert 2 * pattern.piece("band").edge("outer").length == pytest.approx(740.0)
    waist = {name: garment for name, garment, _ in measured_girths(pattern, body())}["waist"]
    assert waist == pytest.approx(740.0)


def test_each_tier_is_wider_than_the_one_above_by_the_ratio() -> None:
    """C20 again, from tier to tier: 740 mm of waist, 1.5 and twice 1.6."""
    asked: Parameters = {"tiers": 3.0, "first_fullness": 1.5, "fullness": 1.6}
    pattern = drafted(skirt_alone(TIERED, asked))
    hems = [
        2 * sum(pattern.piece(f"skirt-{tier}-{part}").edge("hem").length for part in _PARTS)
        for tier in (1, 2, 3)
    ]
    assert hems == pytest.approx([740 * 1.5, 740 * 1.5 * 1.6, 740 * 1.5 * 1.6 * 1.6])
    sides = [pattern.piece(f"skirt-{tier}-front").edge("side").length for tier in (1, 2, 3)]
    assert sum(sides) == pytest.approx(750.0)


_PARTS = ("front", "back")


def test_a_flared_panel_swings_out_by_the_flare_and_is_square_at_every_corner() -> None:
    piece = drafted(skirt_alone(GATHERED, {"flare": 90.0, "length": 600.0})).piece("skirt-front")
    hem, side, waist = (piece.edge(name) for name in ("hem", "side", "waist"))
    assert hem.length - waist.length == pytest.approx(90.0, abs=0.05)
    assert side.length == pytest.approx(600.0)
    for before, after in ((hem, side), (side, waist)):
        turn = math.remainder(after.start_tangent.angle - before.end_tangent.angle, 2 * math.pi)
        assert turn == pytest.approx(math.pi / 2, abs=1e-3)


def test_a_hip_wider_than_the_fullness_gives_raises_it() -> None:
    wearer = body(waist_girth=600.0, hip_girth=1000.0)
    pattern = drafted(skirt_alone(GATHERED, {"fullness": 1.5}), wearer)
    assert 2 * pattern.run_length(pattern.runs["waist"]) == pytest.approx(1060.0)


def test_the_stand_of_a_bodice_is_sewn_flat_and_the_rest_gathered() -> None:
    pattern = drafted(skirt_on_bodice(GATHERED, {}))
    seam = pattern.seams["skirt-waist"]
    assert seam.kind is SeamKind.GATHERED
    assert seam.matches[0].name == "center front"
    assert seam.matches[0].at_mm[0] == seam.matches[0].at_mm[1]
    bodice = pattern.run_length(seam.layers[0].run)
    stand = seam.matches[0].at_mm[0] or 0.0
    assert seam.layers[1].ease_mm == pytest.approx(bodice - stand)  # twice as wide


def test_an_opening_longer_than_a_tier_goes_on_in_the_next() -> None:
    wearer = body()
    pattern = drafted(skirt_alone(TIERED, {"tiers": 5.0, "length": 600.0, "fullness": 1.2}), wearer)
    opening = [edge.piece for edge in pattern.runs["opening"].edges]
    assert opening == ["skirt-2-back", "skirt-1-back", "band", "band"]
    length = sum(
        pattern.edge_length(edge)
        for edge in pattern.runs["opening"].edges
        if edge.piece.startswith("skirt")
    )
    assert length >= wearer["waist_to_hip"]


def test_half_a_panel_wider_than_allowed_is_refused() -> None:
    with pytest.raises(ComponentError, match="half of a panel is wider than a panel may be"):
        drafted(skirt_alone(TIERED, {"tiers": 5.0, "fullness": 2.5}))
