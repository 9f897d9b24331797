"""The facing of buttoned edges under a bound neckline: as long as the edge, bound with the neck."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.pattern import Body, FinishKind
from clothwise.work import plan, steps
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    assert_sound,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)

KIND = "edge-facing"
SIZES = (chart()[0], chart()[4], chart()[9])


def dress(
    parameters: Parameters,
    bodice: Parameters | None = None,
    *,
    kind: str = "darted-bodice",
    skirt: str = "a-line-skirt",
    neck: str = "neck-binding",
) -> Parts:
    return {
        "bodice": (kind, bodice or {}),
        "skirt": (skirt, {}),
        "facing": (KIND, parameters),
        "neck": (neck, {}),
        "arms": ("bound-armhole", {}),
        "buttons": ("buttons", {}),
        "hem": ("double-hem", {}),
    }


@pytest.mark.parametrize("size", SIZES, ids=lambda size: size.name)
def test_it_is_sound_in_every_size(size: Body) -> None:
    assert_sound(dress({}), size)
    assert_sound(dress({}, {"opening": "buttoned back"}), size)


@pytest.mark.parametrize("shape", ["scoop", "v", "square", "boat"])
def test_it_ends_at_any_neckline(shape: str) -> None:
    assert_sound(dress({}, {"neckline": shape}), body())


@pytest.mark.parametrize("line", ["shoulder", "level"])
def test_a_front_yoke_is_faced_in_one_with_what_is_below(line: str) -> None:
    yoke: Parameters = {"yoke": "both", "front_line": line}
    assert_sound(dress({}, yoke, kind="yoke-bodice"), body())


def test_a_collar_on_a_stand_takes_it_in() -> None:
    parts = dress({}, neck="shirt-collar", skirt="tiered-skirt")
    assert_sound(parts, body())
    pattern = drafted(parts)
    assert pattern.seams["neck"].layers[-1].run == pattern.runs["neck-under"]


def test_its_edge_is_that_of_the_garment_and_its_neck_lies_on_it() -> None:
    pattern = drafted(dress({"width": 50.0}))
    facing, front = pattern.piece("facing-front"), pattern.piece("bodice-front")
    assert facing.edge("front-edge").length == pytest.approx(
        pattern.run_length(pattern.runs["front-edge"])
    )
    for at in (0.0, facing.edge("neck").length):
        point = facing.edge("neck").point_at(at)
        line = front.edge("neck")
        assert line.point_at(line.nearest(point)).distance(point) < 1e-3
    assert facing.edge("inner").start.x == pytest.approx(50.0)


def test_its_upper_edge_is_bound_with_the_neckline() -> None:
    pattern = drafted(dress({}))
    under = pattern.finishes["neck-under"]
    assert under.kind is FinishKind.BOUND
    assert {edge.piece for edge in under.run.edges} == {"facing-front"}
    text = next(
        each.text for each in steps(pattern, plan(pattern)) if each.title == "Bind the neckline"
    )
    assert "bound as one layer" in text


def test_it_does_not_reach_the_shoulder() -> None:
    wide = drafted(dress({"width": 110.0})).piece("facing-front")
    front = drafted(dress({})).piece("bodice-front")
    assert wide.edge("inner").start.x < front.edge("neck").start.x


def test_what_is_faced_already_is_told() -> None:
    parts = dress({})
    both = {"bodice": parts["bodice"], "band": ("button-band", {}), "facing": (KIND, {})}
    with pytest.raises(ComponentError, match="finished already"):
        drafted({"bodice": parts["bodice"], "skirt": parts["skirt"], **both})
    lapels: Parts = {"bodice": parts["bodice"], "front": ("lapel-front", {}), "facing": (KIND, {})}
    with pytest.raises(ComponentError, match="straight down"):
        drafted({**lapels, "skirt": parts["skirt"]})


@settings(max_examples=25)
@given(bodies_to_draft(), parameters_in_range(KIND), parameters_in_range("darted-bodice"))
def test_any_facing_is_true(wearer: Body, parameters: Parameters, bodice: Parameters) -> None:
    chosen: Parameters = {**bodice, "opening": "center front", "waist": "natural"}
    pattern = drafted_or_refused(dress(parameters, chosen), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert pattern.piece("facing-front").outline.polygon.is_valid
    codes = {each.code for each in check(pattern, wearer)}
    assert not codes & {"SEAM-LENGTH", "RUN-BROKEN", "CUT-CROSSES", "CUT-IMPOSSIBLE"}
