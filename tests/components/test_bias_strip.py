"""Bias strips cut from the fabric: true bias, four widths wide, pieced where they are too long."""

from __future__ import annotations

import math

import pytest

from clothwise.checks import check
from clothwise.components.bindings.bias_strip import BiasStrip
from clothwise.geometry import angle_between
from clothwise.pattern import FinishKind, Pattern
from clothwise.work import plan, steps, verify
from component_cases import Parameters, assert_seams_true, body, drafted

IN = 25.4


def bound(**parameters: float | str) -> Pattern:
    chosen: Parameters = {"source": "fabric", **parameters}
    return drafted(
        {
            "bodice": ("darted-bodice", {"armhole_ease": 25.0}),
            "skirt": ("a-line-skirt", {}),
            "facing": ("front-and-neck-facing", {}),
            "binding": ("bound-armhole", chosen),
            "hem": ("double-hem", {}),
        }
    )


@pytest.mark.parametrize("longest", [250.0, 320.0, 900.0])
@pytest.mark.parametrize("width", [6.0, 10.0, 25.0])
def test_a_dress_bound_with_its_own_fabric_has_no_finding(longest: float, width: float) -> None:
    pattern = bound(longest=longest, width=width)
    assert_seams_true(pattern)
    assert check(pattern, body()) == ()
    order = plan(pattern)
    assert verify(pattern, order) == ()
    titles = [step.title for step in steps(pattern, order)]
    pieced = "Join the bias strips for the armholes" in titles
    assert pieced == (longest < 500.0)
    assert titles.index("Press the bias strips for the armholes") < titles.index(
        "Bind the armholes"
    )


def test_strips_are_cut_on_the_true_bias() -> None:
    """I13 (S14, p. 19): at 45 degrees to both thread systems."""
    strip = bound().piece("binding-strip")
    along = strip.edge("edge").end - strip.edge("edge").start
    grain = strip.grain.end - strip.grain.start
    assert abs(angle_between(along, grain)) == pytest.approx(math.radians(45))


@pytest.mark.parametrize(("finished_in", "cut_in"), [(0.25, 1.0), (0.5, 2.0)])
def test_they_are_cut_four_times_their_finished_width(finished_in: float, cut_in: float) -> None:
    """I08 (a sewing page on bias tape sizes): 1/4 in from 1 in, 1/2 in from 2 in."""
    strip = bound(width=finished_in * IN).piece("binding-strip")
    height = strip.edge("fold").start.y - strip.edge("edge").start.y
    assert height == pytest.approx(cut_in * IN)


def test_a_strip_of_3_cm_takes_4_243_cm_along_the_grain_edge() -> None:
    """I05, derived: width times the square root of 2."""
    strip = bound(width=7.5).piece("binding-strip")
    assert strip.edge("end").length == pytest.approx(42.43, abs=0.01)


def test_a_square_of_20_in_yields_200_in_at_2_in() -> None:
    """I01 (three pages on bias length): length times width is the area that is cut up."""
    pattern = bound(width=0.5 * IN)
    strip = pattern.piece("binding-strip")
    length_in = strip.outline.area / (2 * IN) / IN
    needed = pattern.run_length(pattern.runs["armhole"]) + 50.0
    assert length_in * IN == pytest.approx(needed)
    assert 20.0**2 / 2.0 == 200.0
    whole = BiasStrip("edges", 200 * IN, 0.5 * IN, longest_mm=300 * IN)
    assert whole.length_mm * whole.cut_width_mm == pytest.approx((20 * IN) ** 2)


@pytest.mark.parametrize(("longest", "number"), [(250.0, 2), (320.0, 2), (900.0, 1)])
def test_a_long_strip_is_pieced_of_equal_parts(longest: float, number: int) -> None:
    pattern = bound(longest=longest)
    strips = [piece for name, piece in pattern.pieces.items() if name.startswith("binding-strip")]
    assert len(strips) == number
    needed = pattern.run_length(pattern.runs["armhole"]) + 50.0
    assert sum(piece.edge("edge").length for piece in strips) == pytest.approx(needed)
    assert max(piece.edge("edge").length for piece in strips) <= longest


def test_the_edge_is_bound_as_with_bought_tape_but_none_is_to_be_bought() -> None:
    """I12 (Conover 1922): a bound edge keeps no allowance."""
    own, bought = bound(), bound(source="bought")
    for pattern in (own, bought):
        assert pattern.finishes["binding"].kind is FinishKind.BOUND
        assert pattern.allowance("bodice-front", "armhole") == 0.0
    assert not [each for each in own.notions if "tape" in each.name]
    assert [each for each in bought.notions if "tape" in each.name]
    assert not [name for name in bought.pieces if "strip" in name]
