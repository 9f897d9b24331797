"""Waistband and zip of the circle skirt."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings

from clothwise.errors import ComponentError
from clothwise.pattern import Body, FinishKind, MarkKind, Ply
from clothwise.work import plan, verify
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)

BAND, ZIP = "straight-waistband", "zip"


def parts(band: Parameters, closure: Parameters | None = None) -> Parts:
    return {
        "skirt": ("circle-skirt", {}),
        "band": (BAND, band),
        "closure": (ZIP, closure or {}),
    }


@settings(max_examples=40)
@given(bodies_to_draft(), parameters_in_range(BAND), parameters_in_range(ZIP))
def test_any_band_is_as_long_as_the_waist_and_twice_as_high(
    wearer: Body, band: Parameters, closure: Parameters
) -> None:
    pattern = drafted_or_refused(parts(band, closure), wearer)
    assert pattern is not None
    assert_seams_true(pattern)
    piece = pattern.piece("band")
    waist = pattern.piece("skirt").edge("waist").length
    assert piece.edge("outer").length == pytest.approx(waist, abs=0.5)
    width = float(band.get("width", 35))
    assert piece.outline.area == pytest.approx(piece.edge("outer").length * 2 * width)


def test_the_band_is_folded_halfway_and_interfaced() -> None:
    piece = drafted(parts({"width": 40.0})).piece("band")
    (fold,) = (mark for mark in piece.marks if mark.kind is MarkKind.FOLD_LINE)
    assert fold.path is not None
    assert (fold.path.start.y, fold.path.end.y) == (40.0, 40.0)
    assert [copy.ply for copy in piece.copies] == [Ply.SHELL, Ply.INTERFACING]
    assert piece.fold_edge == "center"


def test_the_zip_reaches_from_below_the_opening_to_the_top_of_the_folded_band() -> None:
    pattern = drafted(parts({"width": 35.0}, {"beyond": 20.0}))
    (notion,) = (each for each in pattern.notions if each.name == "zip")
    at_least = re.search(r"at least (\d+) cm", notion.detail)
    assert at_least is not None
    assert int(at_least[1]) == pytest.approx((190 + 35 + 20) / 10, abs=0.6)


def test_the_zip_closes_opening_and_both_halves_of_the_band_s_end() -> None:
    finish = drafted(parts({})).finishes["closure"]
    assert finish.kind is FinishKind.CLOSURE
    assert [str(edge) for edge in finish.run.edges] == [
        "skirt.opening",
        "band.end-outer",
        "band.end-inner",
    ]


@pytest.mark.parametrize(("kind", "needs"), [(BAND, "waist"), (ZIP, "opening")])
def test_what_they_attach_to_must_be_there(kind: str, needs: str) -> None:
    with pytest.raises(ComponentError, match=f"needs something with an? {needs}"):
        drafted({"part": (kind, {})})


SKIRTS = ("straight-skirt", "gored-skirt", "circle-skirt", "gathered-skirt", "pleated-skirt")


@pytest.mark.parametrize("skirt", SKIRTS)
@pytest.mark.parametrize("top", [("straight-waistband", {}), ("waist-facing", {})])
@pytest.mark.parametrize("style", ["centered", "lapped", "invisible"])
def test_every_zip_is_sewn_into_every_skirt(
    skirt: str, top: tuple[str, Parameters], style: str
) -> None:
    pattern = drafted({"skirt": (skirt, {}), "top": top, "closure": (ZIP, {"style": style})})
    order = plan(pattern)
    assert not verify(pattern, order)
    names = [operation.name for operation in order.operations]
    below = next(each for each in names if "center-back" in each or "back-center" in each)
    comes_first = names.index("closure-sew") < names.index(below)
    assert comes_first == (style == "invisible")


def test_words_follow_what_is_above_the_zip() -> None:
    band = drafted(parts({}))
    facing = drafted(
        {
            "skirt": ("circle-skirt", {}),
            "facing": ("waist-facing", {}),
            "closure": (ZIP, {"style": "invisible"}),
        }
    )
    texts = [
        next(each.text for each in pattern.operations if each.name == "closure-sew")
        for pattern in (band, facing)
    ]
    assert "Fold the band" in texts[0]
    assert "Turn the facing" in texts[1]
    assert {each.name for each in facing.notions} >= {"invisible zip", "hook and eye"}
    assert {each.name for each in band.notions} >= {"zip", "hook and eye"}
    assert "hook and eye inside the ends of the band" in texts[0]  # which only meet


def test_a_lap_is_stitched_within_the_allowance() -> None:
    pattern = drafted(parts({}, {"style": "lapped", "allowance": 15.0}))
    (sew,) = (each for each in pattern.operations if each.name == "closure-sew")
    assert dict(sew.values)["lap"] + dict(sew.values)["under"] == pytest.approx(15.0)
