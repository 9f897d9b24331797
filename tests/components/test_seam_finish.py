"""Seams finished by class: allowances, pressing, steps, thread and tape follow."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.checks import check
from clothwise.components.finishes.seam_choice import SeamGroup, group_of
from clothwise.errors import ComponentError
from clothwise.pattern import Body, EdgeCare, Pattern, Pressing
from clothwise.pattern.pattern import Contribution
from clothwise.units import LengthUnit
from clothwise.work import OrderMode, plan, thread_need, worded
from clothwise.work.thread import StitchType
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    chart,
    drafted,
    drafted_or_refused,
    skirt_alone,
)

CLASSES = ("overlocked open", "overlocked together", "French", "flat-felled", "bound")
DRESS: Parts = {
    "bodice": ("darted-bodice", {}),
    "skirt": ("a-line-skirt", {}),
    "facing": ("front-and-neck-facing", {}),
    "sleeve": ("set-in-sleeve", {}),
    "hem": ("double-hem", {}),
}


def finished(finish: str, seams: str = "side", **more: float | str) -> Parts:
    parameters: Parameters = {"finish": finish, "seams": seams, **more}
    return {**DRESS, "finish": ("seam-finish", parameters)}


def text_of(pattern: Pattern, operation: str) -> str:
    (found,) = (each for each in pattern.operations if each.name == operation)
    return worded(pattern, found, LengthUnit.CENTIMETER)


@pytest.mark.parametrize("finish", CLASSES)
@pytest.mark.parametrize("skirt", ["straight", "gored", "gathered", "tiered"])
def test_every_class_suits_every_garment(finish: str, skirt: str) -> None:
    """Every seam that can have it; the others keep theirs."""
    for wearer in (chart()[0], chart()[-1]):
        for parts in (finished(finish, "all"), skirt_alone(f"{skirt}-skirt", {})):
            pattern = drafted({**parts, "finish": ("seam-finish", finish_all(finish))}, wearer)
            assert check(pattern, wearer) == ()
            for mode in OrderMode:
                plan(pattern, mode)


def finish_all(finish: str) -> Parameters:
    return {"finish": finish, "seams": "all"}


@settings(max_examples=40)
@given(
    bodies_to_draft(),
    st.sampled_from(CLASSES),
    st.sampled_from(("all", "side", "shoulder", "sleeve", "waist")),
    st.floats(4, 12),
    st.one_of(st.just(0.0), st.floats(16, 25)),
)
def test_finished_seams_stay_true(
    wearer: Body, finish: str, seams: str, width: float, allowance: float
) -> None:
    parts = finished(finish, seams, width=width, allowance=allowance)
    pattern = drafted_or_refused(parts, wearer)
    if pattern is not None:
        assert_seams_true(pattern)
        found = {each.code for each in check(pattern, wearer)}
        assert found <= {"BUTTONHOLE-SEAM"}
        plan(pattern)


def test_only_the_chosen_group_changes() -> None:
    before, after = drafted(DRESS), drafted(finished("French", "side"))
    for name, seam in after.seams.items():
        if group_of(seam) is SeamGroup.SIDE:
            assert seam.care is EdgeCare.FRENCH
            assert seam.pressing is Pressing.TOWARD_LAST
        else:
            assert seam == before.seams[name]
    changed = [now.name for now in after.operations if now not in before.operations]
    assert changed == ["bodice-sides", "skirt-sides"]


def test_the_two_stitchings_of_a_french_seam_make_up_its_allowance() -> None:
    pattern = drafted(finished("French", "side", width=6))
    text = text_of(pattern, "skirt-sides")
    assert "wrong sides together" in text
    assert "Sew 9 mm from the edges" in text
    assert "sew again 6 mm from the fold" in text
    assert "the allowance of 1.5 cm" in text
    assert pattern.allowance("skirt-front", "side") == pytest.approx(15.0)


def test_a_felled_seam_trims_the_edge_underneath_and_folds_the_other_over_it() -> None:
    text = text_of(drafted(finished("flat-felled", "side", width=7)), "skirt-sides")
    assert "press both edges toward the skirt back" in text
    assert "Trim the edge that lies underneath to 5 mm, and the upper one to 1.3 cm" in text
    assert "Fold 6 mm of the upper edge in" in text
    whole = text_of(drafted(finished("flat-felled", "side", width=8)), "skirt-sides")
    assert "and the upper one" not in whole


def test_an_allowance_too_narrow_is_raised_or_refused() -> None:
    narrow = drafted(finished("French", "side", width=12))
    assert narrow.allowance("skirt-front", "side") == pytest.approx(16.0)
    with pytest.raises(ComponentError, match="too narrow for a seam that is French") as told:
        drafted(finished("French", "side", width=6, allowance=8))
    assert "8 mm, needed 10 mm" in told.value.how_much
    assert told.value.what_to_do


def test_seams_that_end_at_an_opening_are_not_closed_in() -> None:
    pattern = drafted(
        {
            **skirt_alone("straight-skirt", {}),
            "finish": ("seam-finish", {"finish": "French", "seams": "all"}),
        }
    )
    assert pattern.seams["skirt-side"].care is EdgeCare.FRENCH
    assert pattern.seams["skirt-center-back"].care is EdgeCare.EACH
    with pytest.raises(ComponentError, match="no seam of this group can be French"):
        drafted(
            {
                **skirt_alone("straight-skirt", {}),
                "finish": ("seam-finish", {"finish": "French", "seams": "center"}),
            }
        )


def test_a_cap_is_not_felled() -> None:
    with pytest.raises(ComponentError, match="no seam of this group can be flat-felled"):
        drafted(finished("flat-felled", "armhole"))
    assert "wrong sides together" in text_of(
        drafted(finished("French", "armhole")), "sleeve-set-in"
    )


def test_a_group_that_is_not_there_is_told() -> None:
    with pytest.raises(ComponentError, match="there is no shoulder seam to finish") as told:
        drafted(
            {
                **skirt_alone("gored-skirt", {}),
                "finish": ("seam-finish", {"finish": "bound", "seams": "shoulder"}),
            }
        )
    assert "groups so far: other, center, side" in told.value.how_much


def test_bound_edges_take_tape_along_both_layers_of_each_seam() -> None:
    pattern = drafted(finished("bound", "side"))
    (tape,) = (each for each in pattern.notions if each.component == "finish")
    edges = [
        pattern.run_length(layer.run)
        for name in ("bodice-side", "skirt-side")
        for layer in pattern.seams[name].layers
    ]
    assert tape.amount == pytest.approx(2 * (sum(edges) + 4 * 30.0))
    assert "Bind the edges and press open" in text_of(pattern, "skirt-sides")


def test_gathered_edges_are_bound_as_one() -> None:
    pattern = drafted(
        {
            **skirt_alone("tiered-skirt", {}),
            "finish": ("seam-finish", {"finish": "bound", "seams": "other"}),
        }
    )
    assert pattern.seams["skirt-2-join"].care is EdgeCare.BOUND_TOGETHER
    assert "Bind the edges together" in text_of(pattern, "skirt-2-attach")


@pytest.mark.parametrize(
    ("finish", "lockstitch", "overlock"),
    [
        # Stitchings along one seam: each edge overlocked, both at once, a second row, each bound.
        ("overlocked open", 1, 2),
        ("overlocked together", 1, 1),
        ("French", 2, 0),
        ("flat-felled", 2, 0),
        ("bound", 3, 0),
    ],
)
def test_thread_follows_the_class(finish: str, lockstitch: int, overlock: int) -> None:
    pattern = drafted(finished(finish, "side"))
    along = 2 * pattern.run_length(pattern.seams["skirt-side"].layers[0].run)
    sewn = [one for one in thread_need(pattern).stitchings if one.use == "skirt-side"]
    totals = {
        stitch: sum(one.length_mm for one in sewn if one.stitch is stitch) for stitch in StitchType
    }
    assert totals[StitchType.LOCKSTITCH] == pytest.approx(lockstitch * along, rel=1e-3)
    assert totals[StitchType.OVERLOCK] == pytest.approx(overlock * along, rel=1e-3)


def test_only_what_is_there_can_be_sewn_or_told_otherwise() -> None:
    pattern = drafted(DRESS)
    seam, operation = pattern.seams["skirt-side"], pattern.operations[0]
    with pytest.raises(ComponentError, match="no seam named skirt-side"):
        Pattern().adding(Contribution(resewn=(seam,)))
    with pytest.raises(ComponentError, match=f"no operation named {operation.name}"):
        Pattern().adding(Contribution(reworded=(operation,)))
