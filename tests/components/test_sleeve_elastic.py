"""Elastic in a sleeve hem: as long as the arm there is round, in a hem that takes it."""

from __future__ import annotations

import pytest

from clothwise.checks import check
from clothwise.components.sleeves.sleeve_elastic import arm_girth_mm
from clothwise.errors import ComponentError
from clothwise.pattern import Pattern
from clothwise.work import plan, steps, verify
from component_cases import Parameters, Parts, body, chart, drafted

KIND = "sleeve-elastic"
LONG: Parameters = {"length": 560.0, "taper": 0.0}


def sleeved(
    sleeve: Parameters, elastic: Parameters | None = None, kind: str = "set-in-sleeve"
) -> Parts:
    return {
        "bodice": ("darted-bodice", {}),
        "skirt": ("a-line-skirt", {"length": 600.0}),
        "facing": ("front-and-neck-facing", {}),
        "sleeve": (kind, sleeve),
        "elastic": (KIND, elastic or {}),
        "buttons": ("buttons", {}),
        "hem": ("double-hem", {}),
    }


def bought_mm(pattern: Pattern) -> float:
    (notion,) = (each for each in pattern.notions if each.name == "elastic")
    return notion.amount


def test_every_size_is_sound_and_the_hem_comes_first() -> None:
    for size in chart()[::3]:
        pattern = drafted(sleeved(LONG), size)
        assert check(pattern, size) == ()
        assert verify(pattern, plan(pattern)) == ()
        order = [step.operation.name for step in steps(pattern, plan(pattern))]
        assert order.index("sew-sleeve-hem") < order.index("elastic-thread")


def test_at_the_wrist_it_is_as_long_as_the_wrist_is_round() -> None:
    """Two pieces, each with 20 to lap; nothing shorter than the arm."""
    wearer = body(arm_length=560.0, wrist_girth=160.0)
    pattern = drafted(sleeved(LONG, {"shorter": 0.0}), wearer)
    assert bought_mm(pattern) == pytest.approx(2 * (160.0 + 20.0))


def test_the_arm_is_measured_at_both_its_ends() -> None:
    wearer = body(arm_length=560.0, wrist_girth=160.0, upper_arm_girth=280.0)
    assert arm_girth_mm(wearer, 100.0) == 280.0
    assert arm_girth_mm(wearer, 600.0) == 160.0
    assert 160.0 < arm_girth_mm(wearer, 400.0) < 280.0


def test_shorter_elastic_is_shorter() -> None:
    lengths = [bought_mm(drafted(sleeved(LONG, {"shorter": share}))) for share in (0.0, 0.1)]
    assert lengths[0] - 40.0 == pytest.approx((lengths[1] - 40.0) / 0.9)


@pytest.mark.parametrize(
    ("kind", "sleeve", "elastic", "message"),
    [
        ("set-in-sleeve", LONG, {"width": 30.0}, "too narrow for the elastic"),
        ("bishop-sleeve", {}, {}, "no sleeve with a hem"),
    ],
)
def test_what_takes_no_elastic_says_why(
    kind: str, sleeve: Parameters, elastic: Parameters, message: str
) -> None:
    with pytest.raises(ComponentError, match=message):
        drafted(sleeved(sleeve, elastic, kind))
