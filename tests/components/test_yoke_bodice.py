"""A back yoke, plain or gathered: the block divided level, nothing else changed."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.geometry import angle_between
from clothwise.pattern import Body, NotchKind, Pattern, SeamKind, Severity
from clothwise.work import plan, verify
from component_cases import (
    Parameters,
    Parts,
    assert_darts_close,
    assert_seams_true,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
    parameters_in_range,
)
from survey import survey_women

KIND = "yoke-bodice"
REST: Parts = {
    "skirt": ("a-line-skirt", {}),
    "facing": ("front-and-neck-facing", {}),
    "sleeve": ("bishop-sleeve", {}),
    "buttons": ("buttons", {}),
    "hem": ("double-hem", {}),
}


def dress(for_body: Body | None = None, **parameters: float) -> Pattern:
    return drafted({"bodice": (KIND, dict(parameters)), **REST}, for_body)


@pytest.mark.parametrize("waist_shift", [0.0, 35.0, 68.0])
def test_the_grain_of_a_gathered_empire_back_is_clear_of_its_leaning_dart(
    waist_shift: float,
) -> None:
    bodice = {"waist": "empire", "waist_shift": waist_shift, "gathers": 32.0}
    for wearer in chart():
        pattern = drafted({"bodice": (KIND, bodice), **REST}, wearer)
        assert "GRAIN-OUTSIDE" not in {each.code for each in check(pattern, wearer)}, wearer.name


@pytest.mark.parametrize("gathers", [0.0, 40.0])
def test_a_dress_of_it_is_sound_in_every_size_and_can_be_sewn(gathers: float) -> None:
    for wearer in (*chart(), *survey_women()[::40]):
        pattern = dress(wearer, gathers=gathers)
        assert_seams_true(pattern)
        assert_darts_close(pattern)
        found = [each for each in check(pattern, wearer) if each.severity is not Severity.NOTE]
        assert found == [], wearer.name
    order = plan(pattern)
    assert verify(pattern, order) == ()
    done = [name for operation in order.operations for name in operation.does]
    assert sorted(done) == sorted(use.name for use in pattern.all_uses())


@settings(max_examples=20)
@given(bodies_to_draft(), parameters_in_range(KIND))
def test_any_body_and_parameters_give_a_true_yoke(wearer: Body, parameters: Parameters) -> None:
    pattern = drafted_or_refused({"bodice": (KIND, parameters)}, wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert_darts_close(pattern)
    assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())


def test_only_the_yoke_seam_takes_the_gathers() -> None:
    """Armhole, side and darts keep their lengths; the yoke seam is longer by what was asked."""
    plain, full = dress(gathers=0.0), dress(gathers=50.0)
    for name in ("armhole", "neck"):
        wanted = plain.run_length(plain.runs[name])
        assert full.run_length(full.runs[name]) == pytest.approx(wanted, abs=1e-6)
    side, other = (each.seams["bodice-side"].layers[1].run for each in (plain, full))
    assert full.run_length(other) == pytest.approx(plain.run_length(side), abs=1e-6)
    seam, none = full.seams["bodice-back-yoke"], plain.seams["bodice-back-yoke"]
    assert (seam.kind, none.kind) == (SeamKind.GATHERED, SeamKind.PLAIN)
    assert seam.layers[1].ease_mm == pytest.approx(50.0, abs=2.0)
    assert none.layers[1].ease_mm == 0.0
    assert {match.notch for match in (*seam.matches, *none.matches)} == {NotchKind.DOUBLE}


@pytest.mark.parametrize("gathers", [0.0, 40.0])
def test_corners_at_center_back_are_square(gathers: float) -> None:
    pattern = dress(gathers=gathers)
    for name in ("bodice-back", "bodice-back-yoke"):
        piece = pattern.piece(name)
        center = piece.edge("center")
        across = piece.edge("yoke")
        touching = across.end_tangent if name == "bodice-back" else across.start_tangent
        turn = abs(angle_between(touching, center.end - center.start))
        assert turn == pytest.approx(math.pi / 2, abs=0.002)


def test_a_yoke_seam_that_misses_the_armhole_is_refused_in_words() -> None:
    deep = {"back_neck_drop": 150.0, "yoke_depth": 130.0}
    assert drafted_or_refused({"bodice": (KIND, deep)}, body()) is None


# -- front yokes

FRONT_LINES = ("shoulder", "level")
FULLNESS = ("plain", "gathers", "pleats", "dart")


def sewn_bust_dart(pattern: Pattern) -> float:
    """The angle of the bust dart, radian; 0 without one."""
    front = pattern.piece("bodice-front")
    for dart in front.darts:
        if dart.name in ("bust dart", "yoke dart"):
            legs = front.edge(dart.leg_in), front.edge(dart.leg_out)
            return abs(angle_between(-legs[0].end_tangent, legs[1].start_tangent))
    return 0.0


@pytest.mark.parametrize("fullness", FULLNESS)
@pytest.mark.parametrize("line", FRONT_LINES)
def test_a_front_yoke_is_sound_in_every_size_and_can_be_sewn(line: str, fullness: str) -> None:
    yoke = "both" if line == "shoulder" else "front"
    parameters = {"yoke": yoke, "front_line": line, "front_fullness": fullness}
    for wearer in (*chart()[::4], *survey_women()[::100]):
        pattern = drafted({"bodice": (KIND, {**parameters, "front_gathers": 15.0}), **REST}, wearer)
        assert_seams_true(pattern)
        assert_darts_close(pattern)
        found = [each for each in check(pattern, wearer) if each.severity is not Severity.NOTE]
        assert found == [], wearer.name
    assert verify(pattern, plan(pattern)) == ()


@pytest.mark.parametrize("line", FRONT_LINES)
@pytest.mark.parametrize("fullness", FULLNESS[1:])
def test_the_bust_dart_goes_into_the_yoke_seam(fullness: str, line: str) -> None:
    plain = drafted({"bodice": (KIND, {"yoke": "front", "front_line": line})})
    moved = drafted(
        {"bodice": (KIND, {"yoke": "front", "front_line": line, "front_fullness": fullness})}
    )
    assert "bodice-front-bust-dart" in plain.seams
    assert "bodice-front-bust-dart" not in moved.seams
    for run in ("armhole", "waist", "neck"):
        before, after = (each.run_length(each.runs[run]) for each in (plain, moved))
        assert after == pytest.approx(before, abs=1.0), run  # the armhole is squared to the side
    seam = moved.seams["bodice-front-yoke"]
    kinds = {"gathers": SeamKind.GATHERED, "pleats": SeamKind.PLEATED, "dart": SeamKind.PLAIN}
    assert seam.kind is kinds[fullness]
    if fullness == "dart":
        assert "bodice-front-yoke-dart" in moved.seams
        # derived (D05): the angle stays nearly; it is now seen from the bust point
        assert sewn_bust_dart(moved) == pytest.approx(sewn_bust_dart(plain), rel=0.35)
    else:
        assert seam.layers[1].ease_mm > 15.0


def test_pleats_take_up_what_the_yoke_is_shorter() -> None:
    for number in (1, 2, 4):
        pattern = drafted(
            {
                "bodice": (
                    KIND,
                    {
                        "yoke": "front",
                        "front_fullness": "pleats",
                        "front_pleats": number,
                        "front_gathers": 20.0,
                    },
                )
            }
        )
        front, seam = pattern.piece("bodice-front"), pattern.seams["bodice-front-yoke"]
        edge = front.edge("yoke")
        folds, lays = (
            [
                edge.nearest(mark.path.start)
                for mark in front.marks
                if mark.name == name and mark.path
            ]
            for name in ("fold", "lay fold here")
        )
        assert len(folds) == len(lays) == number
        taken = sum(fold - lay for fold, lay in zip(folds, lays, strict=True))
        assert taken == pytest.approx(seam.layers[1].ease_mm, abs=0.05)


def test_a_facing_goes_over_the_yoke_seam_in_one() -> None:
    for line in FRONT_LINES:
        pattern = drafted(
            {
                "bodice": (KIND, {"yoke": "front", "front_line": line, "neckline": "square"}),
                "skirt": ("a-line-skirt", {}),
                "facing": ("front-and-neck-facing", {}),
            }
        )
        front = [edge for edge in pattern.runs["neck"].edges if edge.reverse]
        sewn = sum(pattern.edge_length(edge) for edge in front)
        assert pattern.piece("facing-front").edge("neck").length == pytest.approx(sewn)
        corners = [each for each in pattern.intended_corners if each.component == "facing"]
        assert corners
        matches = {each.name for each in pattern.seams["neck"].matches}
        assert ("front yoke seam" in matches) == (line == "shoulder")


def test_a_yoke_deeper_than_the_neckline_is_refused() -> None:
    with pytest.raises(ComponentError, match="deeper than the neckline"):
        drafted({"bodice": (KIND, {"yoke": "front", "front_yoke": 120.0})})


@settings(max_examples=25)
@given(
    bodies_to_draft(),
    st.fixed_dictionaries(
        {
            "yoke": st.sampled_from(("front", "both")),
            "front_line": st.sampled_from(FRONT_LINES),
            "front_fullness": st.sampled_from(FULLNESS),
            "front_yoke": st.sampled_from((30.0, 60.0, 80.0, 120.0)),
            "front_gathers": st.sampled_from((0.0, 25.0, 60.0)),
            "front_pleats": st.integers(1, 4),
            "neckline": st.sampled_from(("round", "v", "square", "scoop", "boat")),
            "waist": st.sampled_from(("natural", "empire", "dropped")),
            "opening": st.sampled_from(("center front", "center back", "none")),
        }
    ),
)
def test_any_woman_gets_a_true_front_yoke(wearer: Body, parameters: Parameters) -> None:
    parts: Parts = {"bodice": (KIND, parameters), "sleeve": ("set-in-sleeve", {})}
    pattern = drafted_or_refused(parts, wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert_darts_close(pattern)
    assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())
    wrong = {each.code for each in check(pattern, wearer)}
    assert not wrong & {
        "CORNER-ANGLE",
        "CENTER-ANGLE",
        "CURVE-SPIKE",
        "CURVE-KINK",
        "CURVE-WIGGLE",
        "DART-POINT",
        "DART-LEGS",
        "GRAIN-OUTSIDE",
        "MARK-OUTSIDE",
        "NOTCH-PAIR",
    }
    assert verify(pattern, plan(pattern)) == ()
