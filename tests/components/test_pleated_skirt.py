"""The pleated skirt: as much cloth as its pleats are deep, drawn in to the waist by their lines."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.components.skirts.pleats import PleatLayout, PleatStyle
from clothwise.errors import ComponentError
from clothwise.pattern import Body, Mark, MarkKind, Piece, SeamKind
from clothwise.work import plan, verify
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
    parameters_in_range,
    skirt_alone,
    skirt_on_bodice,
)

KIND = "pleated-skirt"


@pytest.mark.parametrize("parts", [skirt_alone, skirt_on_bodice])
@settings(max_examples=25)
@given(bodies_to_draft(), parameters_in_range(KIND))
def test_any_body_and_parameters_give_a_true_skirt(
    parts: Callable[[str, Parameters], Parts], wearer: Body, parameters: Parameters
) -> None:
    pattern = drafted_or_refused(parts(KIND, parameters), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    assert all(piece.outline.polygon.is_valid for piece in pattern.pieces.values())


@pytest.mark.parametrize("style", list(PleatStyle))
def test_no_size_has_a_finding(style: PleatStyle) -> None:
    parts = skirt_alone(KIND, {"style": style.value, "stitched": 120.0})
    for wearer in chart()[::3]:
        assert check(drafted(parts, wearer), wearer) == ()


@pytest.mark.parametrize(
    ("depth", "times"),
    [
        (1.0, 3.0),  # C21: knife pleats just meeting take 3 x the finished width
        (0.5, 2.0),  # C22: pleats half as deep as their spacing take 2 x
    ],
)
def test_flat_width_is_as_pleat_arithmetic_says(depth: float, times: float) -> None:
    """C21, C22: hobby pages on pleat arithmetic (2014-2019); the first seen, weak."""
    wearer = body(hip_girth=1000.0)
    pattern = drafted(skirt_alone(KIND, {"depth": depth, "hip_ease": 60.0}), wearer)
    assert 2 * pattern.run_length(pattern.runs["hem"]) == pytest.approx(times * 1060.0)


@pytest.mark.parametrize("style", list(PleatStyle))
@pytest.mark.parametrize("depth", [0.3, 0.8, 1.0])
@pytest.mark.parametrize("pleats", [1.0, 3.0])
def test_folded_on_its_lines_the_panel_measures_waist_and_hip(
    style: PleatStyle, depth: float, pleats: float
) -> None:
    """The folds are laid one by one, as they would be at the ironing board."""
    wearer = body()
    asked: Parameters = {"style": style.value, "depth": depth, "pleats": pleats}
    pattern = drafted(skirt_alone(KIND, asked), wearer)
    for name in ("skirt-front", "skirt-back"):
        piece = pattern.piece(name)
        flat = piece.edge("waist").length
        assert _closed(piece, 0.0, flat, style) == pytest.approx(740.0 / 4, abs=0.01)
        for level in (-wearer["waist_to_hip"], -600.0):
            assert _closed(piece, level, flat, style) == pytest.approx(1020.0 / 4, abs=0.01)


def test_nothing_is_left_to_gather_where_a_band_is_sewn_on() -> None:
    pattern = drafted(skirt_alone(KIND, {}))
    seam = pattern.seams["band-waist"]
    assert seam.kind is SeamKind.PLEATED
    assert 2 * pattern.piece("band").edge("outer").length == pytest.approx(740.0)
    sew = next(each for each in pattern.operations if each.name == "band-attach")
    assert dict(sew.values)["gathers"] == 0.0


def test_the_pleats_lie_before_anything_is_sewn_to_the_waist() -> None:
    pattern = drafted(skirt_alone(KIND, {}))
    order = plan(pattern)
    assert not verify(pattern, order)
    names = [operation.name for operation in order.operations]
    assert names.index("skirt-pleats") < names.index("band-attach")


def test_the_waist_of_a_bodice_meets_the_sides_and_a_face_of_the_back() -> None:
    pattern = drafted(skirt_on_bodice(KIND, {}))
    seam = pattern.seams["skirt-waist"]
    assert seam.kind is SeamKind.PLEATED
    assert [match.name for match in seam.matches] == ["center front", "side seam", "back"]
    center, side, back = (match.at_mm for match in seam.matches)
    assert center[0] == center[1]
    assert side[0] is not None
    assert side[1] is not None
    assert back[0] is not None
    assert back[1] is not None
    assert back[0] - side[0] == pytest.approx(back[1] - side[1])  # no pleat between


def test_pleats_too_shallow_to_press_are_refused() -> None:
    asked: Parameters = {"style": "box", "pleats": 6.0, "depth": 0.25}
    with pytest.raises(ComponentError, match="too shallow to be pressed"):
        drafted(skirt_alone(KIND, asked))


def test_pleats_stitched_down_beyond_the_hip_are_refused() -> None:
    with pytest.raises(ComponentError, match="stitched down below the hip"):
        drafted(skirt_alone(KIND, {"stitched": 160.0}), body(waist_to_hip=150.0))


def test_a_hip_no_wider_than_the_waist_has_plumb_lines() -> None:
    layout = PleatLayout(PleatStyle.KNIFE, 2, 0.5, 200.0, 200.0, 190.0, 600.0)
    for mark in layout.marks():
        assert mark.path is not None
        assert mark.path.start.x == pytest.approx(mark.path.end.x)


def _closed(piece: Piece, level: float, flat: float, style: PleatStyle) -> float:
    """Width of the half panel at a level with its pleats laid."""
    folds, lays = (
        sorted(_x_at(mark, level) for mark in piece.marks if mark.kind is kind)
        for kind in (MarkKind.FOLD_LINE, MarkKind.PLACEMENT_LINE)
    )
    if style is PleatStyle.INVERTED:
        lays = [x for x in lays for _ in range(2)]
    if style is PleatStyle.BOX and len(lays) < len(folds):  # between boxes that meet: one for two
        lays = sorted([*lays, *lays[1:-1]])
    assert len(folds) == len(lays)
    return flat - sum(abs(fold - lay) for fold, lay in zip(folds, lays, strict=True))


def _x_at(mark: Mark, level: float) -> float:
    assert mark.path is not None
    points = mark.path.flattened()
    for above, below in pairwise(points):
        if above.y >= level >= below.y:
            return above.x + (below.x - above.x) * (above.y - level) / (above.y - below.y)
    raise AssertionError(level)
