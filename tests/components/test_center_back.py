"""Dresses whose front is on the fold and whose back opens: zip, hooks, buttons, a short slit."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.pattern import Body, FinishKind, MarkKind, Pattern, Severity, Sides
from clothwise.work import plan, verify
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    assert_sound_in_sizes,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)

BODICES = ("darted-bodice", "princess-bodice", "yoke-bodice")
SKIRTS = (
    "a-line-skirt",
    "straight-skirt",
    "gored-skirt",
    "gathered-skirt",
    "tiered-skirt",
    "pleated-skirt",
)
SHORT: Parameters = {"length": 480.0}
"""A straight skirt that is buttoned has no vent to step out with."""


def zipped(bodice: str, skirt: str, style: str = "centered", **parameters: float | str) -> Parts:
    return {
        "bodice": (bodice, {"opening": "center back", **parameters}),
        "skirt": (skirt, {}),
        "facing": ("neck-facing", {}),
        "armholes": ("armhole-facing", {}),
        "zip": ("zip", {"style": style}),
        "hem": ("double-hem", {}),
    }


def buttoned(bodice: str, skirt: str | None, **parameters: float | str) -> Parts:
    return {
        "bodice": (bodice, {"opening": "buttoned back", **parameters}),
        **({"skirt": (skirt, SHORT if skirt == "straight-skirt" else {})} if skirt else {}),
        "facing": ("back-and-neck-facing", {}),
        "armholes": ("armhole-facing", {}),
        "buttons": ("buttons", {}),
        "hem": ("double-hem", {}),
    }


def slit(bodice: str, **parameters: float | str) -> Parts:
    own: Parameters = {"opening": "center back", "back_opening": 160.0, "waist": "none"}
    return {
        "bodice": (bodice, {**own, "tunic_length": 500.0, **parameters}),
        "facing": ("neck-facing", {}),
        "armholes": ("armhole-facing", {}),
        "closing": ("button-and-loop", {}),
        "hem": ("double-hem", {}),
    }


@pytest.mark.parametrize("skirt", SKIRTS)
@pytest.mark.parametrize("bodice", BODICES)
def test_one_zip_goes_through_the_waist_seam_of_any_dress(bodice: str, skirt: str) -> None:
    for number, size in enumerate(chart()[::4]):
        style = ("centered", "lapped", "invisible")[number]
        pattern = drafted(zipped(bodice, skirt, style), size)
        assert_seams_true(pattern)
        assert check(pattern, size) == ()
        assert not verify(pattern, plan(pattern))
        opening = pattern.runs["opening"]
        assert [edge.edge for edge in opening.edges][-1] == "end-inner"
        assert {"skirt", "bodice", "facing"} == {edge.piece.split("-")[0] for edge in opening.edges}


def test_the_opening_is_as_long_as_back_and_hip_depth() -> None:
    """F14, common practice: to about the hip; derived: the hip must go through."""
    wearer = body()
    pattern = drafted(zipped("darted-bodice", "a-line-skirt"), wearer)
    back = pattern.piece("bodice-back").edge("opening").length
    assert back == pytest.approx(wearer["back_neck_to_waist"], abs=0.1)
    assert pattern.piece("skirt-back").edge("opening").length == pytest.approx(
        wearer["waist_to_hip"], abs=0.1
    )
    (zip_needed,) = (each for each in pattern.notions if each.name == "zip")
    whole = back + wearer["waist_to_hip"] + 20.0
    assert zip_needed.detail == f"at least {whole / 10:.0f} cm long"


@pytest.mark.parametrize("waist", ["empire", "dropped"])
def test_the_zip_ends_at_the_hip_wherever_the_waist_seam_lies(waist: str) -> None:
    wearer = body()
    pattern = drafted(zipped("darted-bodice", "gored-skirt", waist=waist), wearer)
    natural = pattern.piece("bodice-front").points["natural waist"].y
    gore = pattern.piece("skirt-center-back")
    stop = gore.edge("opening").end.y
    assert natural - stop == pytest.approx(wearer["waist_to_hip"], abs=0.5)


def test_facing_and_collar_part_where_the_neckline_opens() -> None:
    for kind in ("two-piece-collar", "flat-collar"):
        parts = zipped("darted-bodice", "a-line-skirt")
        parts = {
            **{name: part for name, part in parts.items() if name not in ("zip", "hem")},
            "collar": (kind, {}),
            "zip": parts["zip"],
            "hem": parts["hem"],
        }
        assert_sound_in_sizes(parts)
        pattern = drafted(parts)
        for name in ("facing-back", "collar-upper", "collar-under", "bodice-back", "skirt-back"):
            assert pattern.piece(name).fold_edge is None, name
            sides = {copy.side.value for copy in pattern.piece(name).copies}
            assert sides == {"left", "right"}, name
        assert pattern.piece("facing-front").fold_edge == "center"
        turned = {edge.edge for edge in pattern.seams["collar-outer"].layers[0].run.edges}
        assert turned == {"end", "outer", "center"}


def test_a_neck_ruffle_has_its_ends_at_the_opening() -> None:
    parts = zipped("darted-bodice", "a-line-skirt")
    closing = {name: parts[name] for name in ("zip", "hem")}
    rest = {name: part for name, part in parts.items() if name not in closing}
    pattern = drafted({**rest, "ruffle": ("ruffle", {"edge": "neck"}), **closing})
    assert check(pattern, body()) == ()
    (layer,) = (each for each in pattern.seams["neck"].layers if each.run.pieces == ("ruffle",))
    assert layer.run.edges[0].reverse  # its fold at center front, where the neck seam begins


@pytest.mark.parametrize("skirt", [*SKIRTS, None])
@pytest.mark.parametrize("bodice", BODICES)
def test_a_back_is_buttoned_from_neck_to_hem(bodice: str, skirt: str | None) -> None:
    parts = buttoned(bodice, skirt, waist="natural" if skirt else "none")
    assert_sound_in_sizes(parts)
    pattern = drafted(parts)
    marks = [
        mark
        for piece in pattern.pieces.values()
        for mark in piece.marks
        if mark.kind is MarkKind.BUTTON
    ]
    assert len(marks) >= 6
    assert all(mark.at is not None and mark.at.x == 0.0 for mark in marks)
    along = pattern.run_length(pattern.runs["back-edge"])
    assert along == pytest.approx(pattern.piece("facing-back").edge("back-edge").length)


def test_buttons_keep_off_the_yoke_seam() -> None:
    for spacing in (40.0, 60.0, 82.0, 120.0):
        parts = buttoned("yoke-bodice", "a-line-skirt")
        pattern = drafted({**parts, "buttons": ("buttons", {"spacing": spacing})})
        seam = pattern.piece("bodice-back").edge("back-edge").start.y
        for name in ("bodice-back", "bodice-back-yoke"):
            for mark in pattern.piece(name).marks:
                if mark.kind is MarkKind.BUTTON and mark.at:
                    assert abs(mark.at.y - seam) >= 9.0 + 12.0 - 1e-9


@pytest.mark.parametrize("gores", ["four", "six", "eight"])
def test_gores_lap_at_the_back_as_they_do_in_front(gores: str) -> None:
    """The straight edge of the middle gore: as wide as its half, and the stand."""
    parts = buttoned("darted-bodice", "gored-skirt")
    parts["skirt"] = ("gored-skirt", {"gores": gores})
    pattern = drafted(parts)
    assert check(pattern, body()) == ()
    name = "skirt-back" if gores == "four" else "skirt-center-back"
    back = pattern.piece(name).edge("back-edge")
    assert back.start.x == back.end.x < 0.0
    wearer = body()
    assert not {each.code for each in check(pattern, wearer)} & {"FIT-HIP", "FIT-WAIST"}


def test_a_straight_skirt_that_is_buttoned_has_no_vent() -> None:
    pattern = drafted(buttoned("darted-bodice", "straight-skirt"))
    assert "vent" not in pattern.runs
    assert pattern.runs["back-edge"].edges[-1].piece == "skirt-back"


@pytest.mark.parametrize("bodice", BODICES)
def test_a_slit_lets_the_head_through_and_has_a_seam_below(bodice: str) -> None:
    assert_sound_in_sizes(slit(bodice))
    pattern = drafted(slit(bodice))
    assert pattern.run_length(pattern.runs["opening"]) >= 160.0
    (seam,) = (each for each in pattern.seams.values() if each.sides is Sides.CENTER)
    assert seam.matches[0].name == "end of the opening"
    assert pattern.finishes["closing"].kind is FinishKind.CLOSURE


def test_a_long_opening_is_refused_one_button_and_an_opening_needs_a_seam() -> None:
    with pytest.raises(ComponentError, match="too long for one button"):
        drafted(slit("darted-bodice", back_opening=300.0))
    with pytest.raises(ComponentError, match="too little of the center back seam"):
        drafted(zipped("darted-bodice", "a-line-skirt", back_opening=380.0))


def test_a_slit_in_a_fitted_dress_does_not_open_its_waist() -> None:
    wearer = body()
    found = check(
        drafted(zipped("darted-bodice", "a-line-skirt", back_opening=160.0), wearer), wearer
    )
    assert "WAIST-OPENING" in {each.code for each in found}


def test_what_lies_over_an_opening_is_refused() -> None:
    parts = zipped("darted-bodice", "a-line-skirt")
    with pytest.raises(ComponentError, match="hanging loop lies over center back"):
        drafted({**parts, "loop": ("hanging-loop", {})})
    with pytest.raises(ComponentError, match="edge to edge at the back"):
        drafted({**buttoned("darted-bodice", "a-line-skirt"), "facing": ("neck-facing", {})})


def test_a_tunic_opens_to_the_hip_with_a_seam_below() -> None:
    wearer = body()
    parts = zipped("darted-bodice", "a-line-skirt", waist="none", tunic_length=600.0)
    pattern = drafted({name: part for name, part in parts.items() if name != "skirt"}, wearer)
    assert check(pattern, wearer) == ()
    back = pattern.piece("bodice-back")
    depth = back.points["natural waist"].y - back.edge("opening").end.y
    assert depth == pytest.approx(wearer["waist_to_hip"], abs=0.1)


def _errors(pattern: Pattern, wearer: Body) -> set[str]:
    """What is wrong, but for what chosen ease and necks are told."""
    found = check(pattern, wearer)
    return {each.code for each in found if each.severity is Severity.ERROR}


@settings(max_examples=40)
@given(
    bodies_to_draft(),
    st.sampled_from(BODICES),
    st.sampled_from(SKIRTS),
    parameters_in_range(
        "darted-bodice",
        opening="center back",
        back_opening=0.0,
        bust_ease=80.0,
        waist_ease=50.0,
        tunic_length=400.0,
    ),
)
def test_any_woman_gets_a_true_dress_with_a_zip(
    wearer: Body, bodice: str, skirt: str, parameters: Parameters
) -> None:
    parts = zipped(bodice, skirt)
    parts["bodice"] = (bodice, {k: v for k, v in parameters.items() if k != "bust_dart_drop"})
    if parameters.get("waist") == "none":
        del parts["skirt"]
    pattern = drafted_or_refused(parts, wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert not verify(pattern, plan(pattern))
    assert not _errors(pattern, wearer) & {
        "SEAM-LENGTH",
        "SEAM-TWISTED",
        "WAIST-OPENING",
        "OPENING-SHORT",
        "NECK-HEAD",
        "EDGE-UNUSED",
    }
