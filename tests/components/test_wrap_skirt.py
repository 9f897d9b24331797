"""The wrap skirt and the band whose ends are ties."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.checks.girths import measured_girths
from clothwise.cutting.cutting_list import cutting_list
from clothwise.errors import ComponentError
from clothwise.pattern import Body, MarkKind
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

SKIRT, BAND = "wrap-skirt", "tie-waistband"


def parts(skirt: Parameters, band: Parameters | None = None) -> Parts:
    return {
        "skirt": (SKIRT, skirt),
        "band": (BAND, band or {}),
        "hem": ("double-hem", {}),
    }


@settings(max_examples=40)
@given(bodies_to_draft(), parameters_in_range(SKIRT), parameters_in_range(BAND))
def test_any_body_and_parameters_give_a_true_skirt(
    wearer: Body, skirt: Parameters, band: Parameters
) -> None:
    pattern = drafted_or_refused(parts(skirt, band), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert_darts_close(pattern)
    assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())


def test_no_size_has_a_finding() -> None:
    for wearer in chart():
        assert check(drafted(parts({}), wearer), wearer) == ()


def test_closed_at_center_front_it_measures_the_waist_and_its_ease() -> None:
    """What laps over does not count: 720 mm of waist and 24 mm of ease."""
    pattern = drafted(parts({"waist_ease": 24.0, "overlap": 0.5}))
    waist = {name: garment for name, garment, _ in measured_girths(pattern, body())}["waist"]
    assert waist == pytest.approx(744.0, abs=0.5)
    front = pattern.piece("skirt-front")
    assert -front.edge("front-edge").end.x == pytest.approx(744 / 4 * 0.5)
    half = 744 / 2 + 744 / 4 * 0.5
    assert pattern.piece("band").edge("outer").length == pytest.approx(half, abs=0.5)


def test_the_slit_lies_at_the_right_side_seam_and_on_the_outer_half() -> None:
    pattern = drafted(parts({}, {"width": 40.0}))
    seam = pattern.seams["band-waist"]
    side = next(match for match in seam.matches if match.name == "side").at_mm[1]
    assert side is not None
    band = pattern.piece("band")
    (slit,) = (mark for mark in band.marks if mark.kind is MarkKind.STITCHING_LINE)
    assert slit.only_side == "right"
    assert slit.path is not None
    assert band.edge("outer").length - side == pytest.approx(slit.path.start.x)
    assert 0 < slit.path.start.y < slit.path.end.y < 40.0


def test_every_seam_is_sewn_once_and_the_slit_is_cut_last() -> None:
    pattern = drafted(parts({}))
    order = plan(pattern)
    assert not verify(pattern, order)
    names = [operation.name for operation in order.operations]
    assert names.index("skirt-front-edge") < names.index("band-attach") < names.index("band-ties")
    assert names.index("band-slit") > names.index("band-ties")


def test_below_a_bodice_another_skirt_is_asked_for() -> None:
    with pytest.raises(ComponentError, match="hangs from a band of its own"):
        drafted({"bodice": ("darted-bodice", {}), "skirt": (SKIRT, {})})


def test_the_band_needs_a_front_that_opens() -> None:
    with pytest.raises(ComponentError, match="needs something with a front edge"):
        drafted({"skirt": ("circle-skirt", {}), "band": (BAND, {})})


def test_band_and_fronts_are_cut_in_pairs() -> None:
    pattern = drafted(parts({}))
    assigned = {
        (piece.name, copy.name): "cotton"
        for piece in pattern.pieces.values()
        for copy in piece.copies
    }
    lines = {line.piece: len(line.copies) for line in cutting_list(pattern, assigned, {})}
    assert lines == {"skirt-front": 2, "skirt-back": 1, "band": 2}
