"""Ruffles: as long as their edge, gathered or not, at neck, armhole and lower edge."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.pattern import Body, FinishKind, NotchKind, Pattern
from clothwise.work import plan, steps, verify
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    chart,
    drafted,
    drafted_or_refused,
    parameters_in_range,
    skirt_alone,
)

KIND = "ruffle"
EDGES = ("neck", "armhole", "hem")
CUTS = ("gathered", "circular")


def ruffled(edge: str, **parameters: float | str) -> Parts:
    """A dress with the ruffle where it belongs in the list, and sleeves where it leaves room."""
    ruffle: Parts = {"ruffle": (KIND, {"edge": edge, **parameters})}
    facing: Parts = {"facing": ("front-and-neck-facing", {})}
    return {
        "bodice": ("darted-bodice", {}),
        "skirt": ("a-line-skirt", {"length": 600.0}),
        **({**ruffle, **facing} if edge == "hem" else {**facing, **ruffle}),
        **({} if edge == "armhole" else {"sleeve": ("set-in-sleeve", {})}),
        "buttons": ("buttons", {}),
        "hem": ("double-hem", {"depth": 5.0, "turn": 5.0}),
    }


@pytest.mark.parametrize("cut", CUTS)
@pytest.mark.parametrize("edge", EDGES)
def test_every_size_is_sound(edge: str, cut: str) -> None:
    for size in chart()[::3]:
        pattern = drafted(ruffled(edge, cut=cut), size)
        assert_seams_true(pattern)
        assert check(pattern, size) == ()
        assert verify(pattern, plan(pattern)) == ()
        steps(pattern, plan(pattern))


@pytest.mark.parametrize("edge", EDGES)
@settings(max_examples=15)
@given(bodies_to_draft(), parameters_in_range(KIND, edge="hem"))
def test_any_ruffle_is_true(edge: str, wearer: Body, parameters: Parameters) -> None:
    others = {name: value for name, value in parameters.items() if name != "edge"}
    pattern = drafted_or_refused(ruffled(edge, **others), wearer)
    if pattern is not None:
        assert_seams_true(pattern)
        assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())


def sewn(pattern: Pattern, run: str) -> float:
    return pattern.run_length(pattern.runs[run])


@pytest.mark.parametrize("fullness", [1.5, 3.0])
def test_a_gathered_strip_is_its_edge_times_the_fullness(fullness: float) -> None:
    """C20: flat = finished x ratio, ratios of 1.5 to 3 (hobby pages on ruffles, weak)."""
    for edge in ("neck", "armhole"):
        pattern = drafted(ruffled(edge, fullness=fullness))
        top = pattern.piece("ruffle").edge("top").length
        assert top == pytest.approx(fullness * sewn(pattern, edge))


@pytest.mark.parametrize("share", [0.25, 0.5, 0.75])
def test_a_ring_has_the_radius_of_its_share_of_a_circle(share: float) -> None:
    """C01 and C04: r = W / (2 pi f) and hem 2 pi f (r + L) (geometry)."""
    pattern = drafted(ruffled("armhole", cut="circular", circle=share, depth=80.0))
    around = sewn(pattern, "armhole")
    radius = around / (2 * math.pi * share)
    piece = pattern.piece("ruffle")
    assert piece.edge("top").length == pytest.approx(around, rel=1e-5)
    lower = piece.edge("lower").length
    assert lower == pytest.approx(2 * math.pi * share * (radius + 80.0), rel=1e-5)


def test_at_the_neck_it_is_one_layer_of_the_neck_seam_with_even_gathers() -> None:
    pattern = drafted(ruffled("neck", fullness=2.0))
    seam = pattern.seams["neck"]
    number = next(n for n, layer in enumerate(seam.layers) if layer.run.pieces == ("ruffle",))
    layer = seam.layers[number]
    assert layer.is_gathered
    assert layer.span is not None
    (shoulder,) = (m for m in seam.matches if m.notch is NotchKind.AT_SEAM)
    base, there = shoulder.at_mm[0], shoulder.at_mm[number]
    assert base is not None
    assert there == pytest.approx(2.0 * (base - layer.span[0]))
    (hem,) = (f for f in pattern.finishes.values() if "ruffle" in f.run.pieces)
    assert hem.kind is FinishKind.DOUBLE_HEM
    assert [edge.edge for edge in hem.run.edges] == ["lower", "end"]


def test_at_the_lower_edge_it_carries_on_hem_and_front_edge() -> None:
    pattern = drafted(ruffled("hem", depth=90.0))
    assert pattern.runs["hem"].edges[-1].piece == "ruffle-back"
    assert str(pattern.runs["front-edge"].edges[-1]) == "ruffle-front.front-edge"
    plain = drafted({k: v for k, v in ruffled("hem").items() if k != "ruffle"})
    longer = sewn(pattern, "front-edge") - sewn(plain, "front-edge")
    assert longer == pytest.approx(90.0)


def test_it_goes_below_other_skirts_too() -> None:
    for kind in ("gored-skirt", "gathered-skirt", "tiered-skirt"):
        alone = skirt_alone(kind, {})
        hem = alone.pop("hem")
        pattern = drafted({**alone, "ruffle": (KIND, {}), "hem": hem})
        assert check(pattern, None) == ()
        assert verify(pattern, plan(pattern)) == ()


def test_what_it_cannot_be_sewn_to_is_told() -> None:
    with pytest.raises(ComponentError, match="something is sewn to the armhole already"):
        drafted({**ruffled("neck"), "more": (KIND, {"edge": "armhole"})})
    with pytest.raises(ComponentError, match="the lower edge is finished already"):
        drafted({**ruffled("armhole"), "more": (KIND, {"edge": "hem"})})
    with pytest.raises(ComponentError, match="it opens at center back"):
        drafted({"skirt": ("straight-skirt", {}), "ruffle": (KIND, {})})


@pytest.mark.parametrize(
    "other", ["bound-armhole", "armhole-facing", "set-in-sleeve", "cap-sleeve"]
)
def test_an_armhole_with_a_ruffle_takes_nothing_else(other: str) -> None:
    parts = {
        "bodice": ("darted-bodice", {}),
        "ruffle": ("ruffle", {"edge": "armhole"}),
        "other": (other, {}),
    }
    with pytest.raises(ComponentError, match="sewn to the armhole already"):
        drafted(parts)
