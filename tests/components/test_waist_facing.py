"""The waist facing: as long as the sewn waist of any skirt, and square to its ends."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.errors import ComponentError
from clothwise.pattern import Body, Ply, SeamKind
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    assert_sound_in_sizes,
    bodies_to_draft,
    body,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)

KIND = "waist-facing"
SKIRTS = (
    "straight-skirt",
    "gored-skirt",
    "circle-skirt",
    "gathered-skirt",
    "tiered-skirt",
    "pleated-skirt",
)


def parts(skirt: str, facing: Parameters | None = None) -> Parts:
    return {
        "skirt": (skirt, {}),
        "facing": (KIND, facing or {}),
        "closure": ("zip", {}),
        "hem": ("double-hem", {}),
    }


@settings(max_examples=40)
@given(bodies_to_draft(), st.sampled_from(SKIRTS), parameters_in_range(KIND))
def test_any_body_and_skirt_give_a_true_facing(
    wearer: Body, skirt: str, facing: Parameters
) -> None:
    pattern = drafted_or_refused(parts(skirt, facing), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    depth = float(facing.get("depth", 60.0))
    for piece in pattern.pieces.values():
        if piece.component == "facing":
            assert piece.outline.polygon.is_valid
            waist, lower = piece.edge("waist"), piece.edge("lower")
            assert lower.length >= waist.length - 0.5  # the hip is not narrower than the waist
            for edge in set(piece.edge_names) - {"waist", "lower"}:
                assert piece.edge(edge).length == pytest.approx(depth, abs=0.05)


@pytest.mark.parametrize("skirt", SKIRTS)
def test_no_size_has_a_finding_and_every_seam_is_sewn_once(skirt: str) -> None:
    assert_sound_in_sizes(parts(skirt))


def test_the_facing_of_a_circle_skirt_is_a_ring_of_one_piece() -> None:
    """C01: W = 2 pi f r; 735 mm of a half circle, and the lower edge 60 mm further out."""
    pattern = drafted(parts("circle-skirt", {"depth": 60.0}))
    (piece,) = (each for each in pattern.pieces.values() if each.component == "facing")
    assert 2 * piece.edge("waist").length == pytest.approx(735.0, abs=0.1)
    radius = 735.0 / math.pi + 60.0
    assert 2 * piece.edge("lower").length == pytest.approx(math.pi * radius, abs=0.2)


def test_the_facing_of_a_gathered_skirt_lies_on_the_cone_from_waist_to_hip() -> None:
    """Half a waist of 370 mm; at the hip, 960 - 720 = 240 mm more all round."""
    wearer = body(waist_to_hip=200.0)
    pattern = drafted(parts("gathered-skirt", {"depth": 50.0}), wearer)
    front, back = pattern.piece("facing-front"), pattern.piece("facing-back")
    assert front.edge("waist").length + back.edge("waist").length == pytest.approx(370.0, abs=0.1)
    lower = front.edge("lower").length + back.edge("lower").length
    assert lower == pytest.approx(370.0 + 240.0 / 2 * 50.0 / 200.0, abs=0.2)
    assert pattern.seams["facing-waist"].kind is SeamKind.GATHERED
    assert drafted(parts("pleated-skirt")).seams["facing-waist"].kind is SeamKind.PLEATED


def test_front_on_the_fold_back_in_two_both_fused() -> None:
    pattern = drafted(parts("straight-skirt"))
    front, back = pattern.piece("facing-front"), pattern.piece("facing-back")
    assert front.fold_edge == "center"
    assert back.fold_edge is None
    assert [copy.ply for copy in front.copies] == [Ply.SHELL, Ply.INTERFACING]
    assert [copy.ply for copy in back.copies].count(Ply.SHELL) == 2
    (tape,) = (notion for notion in pattern.notions if notion.name == "stay tape")
    assert tape.amount == pytest.approx(740.0, abs=1.0)


def test_it_needs_a_skirt_that_opens() -> None:
    with pytest.raises(ComponentError, match="needs something with a waist"):
        drafted({"facing": (KIND, {})})
    with pytest.raises(ComponentError, match="needs something with an opening"):
        drafted({"skirt": ("wrap-skirt", {}), "facing": (KIND, {})})
