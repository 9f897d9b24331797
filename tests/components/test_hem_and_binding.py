"""Edges that are sewn to nothing: double hems and bound armholes."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from clothwise.components.bindings.binding import DOUBLE_FOLD_WIDTHS
from clothwise.errors import ComponentError
from clothwise.pattern import Body, FinishKind
from component_cases import (
    Parameters,
    Parts,
    bodies_to_draft,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)

HEM, BINDING = "double-hem", "bound-armhole"


def test_a_hem_turns_up_its_depth_and_turn() -> None:
    pattern = drafted({"skirt": ("circle-skirt", {}), "hem": (HEM, {"depth": 30.0, "turn": 10.0})})
    finish = pattern.finishes["hem"]
    assert finish.kind is FinishKind.DOUBLE_HEM
    assert finish.run == pattern.runs["hem"]
    assert finish.allowance_mm == pytest.approx(40.0)
    assert pattern.allowance("skirt", "hem") == pytest.approx(40.0)


def test_the_hem_of_a_faced_dress_includes_the_facing() -> None:
    pattern = drafted(
        {
            "bodice": ("darted-bodice", {}),
            "skirt": ("a-line-skirt", {}),
            "facing": ("front-and-neck-facing", {}),
            "hem": (HEM, {}),
        }
    )
    assert pattern.finishes["hem"].run.pieces == ("facing-front", "skirt-front", "skirt-back")


@settings(max_examples=30)
@given(bodies_to_draft(), parameters_in_range(BINDING, source="bought"))
def test_tape_goes_round_both_armholes_with_room_to_join(
    wearer: Body, parameters: Parameters
) -> None:
    parts: Parts = {
        "bodice": ("darted-bodice", {"armhole_ease": 25.0}),
        "binding": (BINDING, parameters),
    }
    pattern = drafted_or_refused(parts, wearer)
    assert pattern is not None
    around = pattern.run_length(pattern.runs["armhole"])
    (tape,) = (each for each in pattern.notions if each.name.startswith("bias tape"))
    join, width = float(parameters.get("join", 50)), float(parameters.get("width", 10))
    assert tape.amount == pytest.approx(2 * around + 2 * join)
    assert f"{width:.0f} mm finished ({DOUBLE_FOLD_WIDTHS * width:.0f} mm unfolded)" in tape.detail


def test_a_bound_edge_keeps_no_allowance() -> None:
    """I12: Conover, A Complete Course in Dressmaking, vol. 2, New York, 1922."""
    pattern = drafted({"bodice": ("darted-bodice", {}), "binding": (BINDING, {})})
    assert pattern.finishes["binding"].kind is FinishKind.BOUND
    for piece in ("bodice-front", "bodice-back"):
        assert pattern.allowance(piece, "armhole") == 0.0


@pytest.mark.parametrize(("kind", "needs"), [(HEM, "hem"), (BINDING, "armhole")])
def test_what_they_attach_to_must_be_there(kind: str, needs: str) -> None:
    with pytest.raises(ComponentError, match=f"needs something with an? {needs}"):
        drafted({"part": (kind, {})})
