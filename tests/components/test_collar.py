"""The two-piece collar: as long as the neckline, the upper piece larger by the turn of cloth."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from clothwise.errors import ComponentError
from clothwise.pattern import Body, Pattern, Ply
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)

KIND = "two-piece-collar"


def parts(parameters: Parameters, bodice: Parameters | None = None) -> Parts:
    return {
        "bodice": ("darted-bodice", bodice or {}),
        "skirt": ("a-line-skirt", {}),
        "facing": ("front-and-neck-facing", {}),
        "collar": (KIND, parameters),
    }


def collared(**parameters: float) -> Pattern:
    return drafted(parts(dict(parameters)))


@settings(max_examples=50)
@given(bodies_to_draft(), parameters_in_range(KIND), parameters_in_range("darted-bodice"))
def test_any_collar_is_as_long_as_its_neckline(
    wearer: Body, parameters: Parameters, bodice: Parameters
) -> None:
    """D15: the neck edge is the neckline, back and front, without the button stand."""
    pattern = drafted_or_refused(parts(parameters, bodice), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    neck = pattern.run_length(pattern.runs["neck"])
    for word in ("under", "upper"):
        piece = pattern.piece(f"collar-{word}")
        assert piece.outline.polygon.is_valid
        assert piece.edge("neck").length == pytest.approx(neck, abs=0.5)


def test_it_lies_in_the_neck_seam_from_center_front_to_center_back() -> None:
    pattern = collared()
    seam = pattern.seams["neck"]
    stand = pattern.piece("bodice-front").edge("neck-stand").length
    whole = pattern.run_length(seam.layers[0].run)
    assert len(seam.layers) == 4
    for layer in seam.layers[2:]:
        assert layer.span == pytest.approx((stand, whole))
    shoulder = next(match for match in seam.matches if match.name == "shoulder")
    front = pattern.piece("bodice-front").edge("neck").length
    assert shoulder.at_mm == pytest.approx((stand + front, stand + front, front, front))


def test_upper_collar_is_larger_by_the_turn_of_cloth_at_the_outer_edge_only() -> None:
    pattern = collared(turn_of_cloth=3.0)
    upper, under = pattern.piece("collar-upper"), pattern.piece("collar-under")
    assert upper.edge("neck") == under.edge("neck")
    assert upper.edge("center").length - under.edge("center").length == pytest.approx(3.0)
    outer = pattern.seams["collar-outer"]
    assert outer.layers[1].ease_mm > 3.0


def test_without_turn_of_cloth_both_pieces_are_the_same() -> None:
    pattern = collared(turn_of_cloth=0.0)
    upper, under = pattern.piece("collar-upper"), pattern.piece("collar-under")
    assert upper.outline == under.outline
    assert pattern.seams["collar-outer"].layers[1].ease_mm == pytest.approx(0.0)


def test_both_pieces_are_cut_on_the_fold_and_interfaced() -> None:
    for piece in (collared().piece("collar-upper"), collared().piece("collar-under")):
        assert piece.fold_edge == "center"
        assert [copy.ply for copy in piece.copies] == [Ply.SHELL, Ply.INTERFACING]


def test_measures_are_those_asked_for() -> None:
    under = collared(width=80.0, point=90.0, lift=20.0).piece("collar-under")
    assert under.edge("center").length == pytest.approx(80.0)
    assert under.edge("end").length == pytest.approx(90.0)
    assert under.edge("neck").end.y == pytest.approx(20.0)


def test_a_collar_needs_a_neckline() -> None:
    with pytest.raises(ComponentError, match="needs something with a neck"):
        drafted({"collar": (KIND, {})})
