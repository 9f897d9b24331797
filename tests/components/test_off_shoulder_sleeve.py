"""The off-shoulder sleeve: around the arm, in fair lines, held where its bodice has the marks."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings

from clothwise.checks import check
from clothwise.errors import ComponentError
from clothwise.geometry import angle_between
from clothwise.pattern import Body, MarkKind, Pattern, Severity
from clothwise.work import Part, parts, plan, verify
from component_cases import (
    Parameters,
    Parts,
    assert_seams_true,
    bodies_to_draft,
    body,
    chart,
    drafted,
    drafted_or_refused,
    dress_with,
    parameter_ends,
    parameters_in_range,
)
from survey import survey_women

KIND = "off-shoulder-sleeve"


def design(parameters: Parameters) -> Parts:
    return {
        "top": ("corselette", {}),
        "sleeve": (KIND, parameters),
        "closure": ("zip", {}),
        "hem": ("bound-hem", {}),
    }


def held(for_body: Body | None = None, **parameters: float | str) -> Pattern:
    return drafted(design(dict(parameters)), for_body)


def wrong(pattern: Pattern, wearer: Body) -> list[str]:
    found = check(pattern, wearer)
    return [each.code for each in found if each.severity is not Severity.NOTE]


def along_bodice(pattern: Pattern) -> list[float]:
    """Where the marks of the facing lie along its upper edge, from center front."""
    run = pattern.seams["top-top"].layers[1].run
    found = []
    for edge in run.edges:
        path = pattern.piece(edge.piece).edge(edge.edge)
        for mark in pattern.piece(edge.piece).marks:
            if mark.at is not None:
                found.append(pattern.along(run, edge, path.nearest(mark.at)) or 0.0)
    return sorted(found)


def along_sleeve(pattern: Pattern) -> list[float]:
    """Where the dots lie along the top of the sleeve, from its seam at the front."""
    line = pattern.piece("sleeve").edge("top").reversed()
    dots = [mark.at for mark in pattern.piece("sleeve").marks if mark.kind is MarkKind.DOT]
    return sorted(line.nearest(at) for at in dots if at is not None)


@pytest.mark.parametrize("top", ["elastic", "faced"])
@pytest.mark.parametrize("closing", ["buttons", "ties"])
def test_it_is_sound_in_every_size_and_for_women_of_the_survey(top: str, closing: str) -> None:
    for wearer in (*chart()[::2], *survey_women()[::25]):
        pattern = held(wearer, top=top, closing=closing)
        assert_seams_true(pattern)
        assert wrong(pattern, wearer) == [], wearer.name


def test_it_is_sound_at_both_ends_of_every_parameter() -> None:
    for parameter, value in parameter_ends(KIND):
        for size in chart()[1::7]:
            pattern = drafted_or_refused(design({parameter: value}), size)
            assert pattern is not None or parameter in ("spacing", "number"), (parameter, value)
            if pattern is not None:
                assert wrong(pattern, size) == [], (parameter, value, size.name)


@settings(max_examples=30)
@given(bodies_to_draft(), parameters_in_range(KIND))
def test_sleeve_and_bodice_are_marked_at_like_places(wearer: Body, parameters: Parameters) -> None:
    pattern = drafted_or_refused(design(parameters), wearer)
    if pattern is None:
        return
    assert_seams_true(pattern)
    number = int(parameters.get("number", 2))
    bodice, sleeve = along_bodice(pattern), along_sleeve(pattern)
    assert len(bodice) == len(sleeve) == 2 * number
    run = pattern.seams["top-top"].layers[1].run
    side = sum(pattern.edge_length(edge) for edge in run.edges[:2])
    whole = pattern.piece("sleeve").edge("top").length
    for at, on_sleeve in zip(bodice[:number], sleeve[:number][::-1], strict=True):
        assert side - at == pytest.approx(on_sleeve, abs=0.5)
    for at, on_sleeve in zip(bodice[number:], sleeve[number:][::-1], strict=True):
        assert at - side == pytest.approx(whole - on_sleeve, abs=0.5)
    assert "HOLD-APART" not in {each.code for each in check(pattern, wearer)}


@settings(max_examples=25)
@given(bodies_to_draft(), parameters_in_range(KIND, top="faced"))
def test_a_faced_top_is_the_arm_and_its_ease(wearer: Body, parameters: Parameters) -> None:
    pattern = drafted_or_refused(design(parameters), wearer)
    if pattern is None:
        return
    wanted = wearer["upper_arm_girth"] + float(parameters.get("upper_arm_ease", 40.0))
    assert pattern.piece("sleeve").edge("top").length == pytest.approx(wanted, abs=0.1)


def test_a_top_has_by_itself_the_ease_that_wovens_need_at_the_upper_arm() -> None:
    """E10: 1 1/2 in, 38 mm (common practice, no source)."""
    for wearer in (*chart(), *survey_women()[::40]):
        top = held(wearer, top="faced").piece("sleeve").edge("top").length
        assert top - wearer["upper_arm_girth"] >= 38.0


def test_elastic_goes_over_the_arm_only() -> None:
    """Cut top = flat under the arm + fullness x the rest; the elastic is shorter than the rest."""
    wearer = body(upper_arm_girth=300.0)
    pattern = held(wearer, fullness=1.6, shorter=0.1, upper_arm_ease=30.0)
    places = along_bodice(pattern)
    flat = places[-1] - places[0] + 2 * 12.0
    over = 330.0 - flat
    cut = flat + 1.6 * over
    assert pattern.piece("sleeve").edge("top").length == pytest.approx(cut, abs=0.1)
    (elastic,) = (each for each in pattern.notions if each.name == "elastic")
    assert elastic.amount == pytest.approx(2 * (0.9 * over + 20.0))
    lines = [
        mark.path for mark in pattern.piece("sleeve").marks if mark.name == "casing" and mark.path
    ]
    assert lines[0].length == pytest.approx(1.6 * over, rel=0.02)


@pytest.mark.parametrize("flare", [4.0, 12.0, 25.0])
def test_top_and_hem_are_square_to_the_seam(flare: float) -> None:
    sleeve = held(flare=math.radians(flare)).piece("sleeve")
    names = sleeve.edge_names
    for one, other in pairwise([*names, names[0]]):
        turn = angle_between(sleeve.edge(one).end_tangent, sleeve.edge(other).start_tangent)
        assert turn == pytest.approx(math.pi / 2, abs=1e-3), (one, other)


@pytest.mark.parametrize("length", [140.0, 260.0, 600.0])
def test_it_is_as_long_as_asked_in_the_middle(length: float) -> None:
    sleeve = held(length=length).piece("sleeve")
    top, hem = sleeve.edge("top"), sleeve.edge("hem")
    across = top.point_at(top.length / 2).y - hem.point_at(hem.length / 2).y
    assert across == pytest.approx(length, abs=0.5)


def test_it_is_fastened_where_the_arm_leaves_the_trunk_and_clear_of_the_bones() -> None:
    for wearer in chart():
        pattern = held(wearer)
        places = along_bodice(pattern)
        run = pattern.runs["top"]
        lengths = [pattern.edge_length(edge) for edge in run.edges]
        seams = [sum(lengths[:number]) for number in (1, 2, 3)]
        assert all(abs(at - seam) >= 15.5 for at in places for seam in seams), wearer.name
        nearest = 16.0 + 26.0  # where two find room beside the side seam
        front = min(wearer["across_front_width"] / 2, seams[1] - nearest)
        back = min(wearer["across_back_width"] / 2, sum(lengths) - seams[1] - nearest)
        assert places[0] >= front - 0.5
        assert sum(lengths) - places[-1] >= back - 0.5


def test_it_can_be_sewn_and_comes_last_onto_a_finished_edge() -> None:
    pattern = held()
    order = plan(pattern)
    assert verify(pattern, order) == ()
    names = [operation.name for operation in order.operations]
    assert names.index("sleeve-top") < names.index("sleeve-elastic") < names.index("sleeve-hold")
    assert names.index("top-top") < names.index("sleeve-hold")


def test_it_is_worn_apart_from_the_garment() -> None:
    found = parts(held())
    assert {found["sleeve"], found["sleeve-facing"]} == {Part.APART}


def test_buttons_and_ties_are_bought_for_both_sleeves() -> None:
    notions = {each.name: each for each in held(number=3).notions}
    assert notions["buttons"].amount == 12
    assert notions["round elastic"].amount == pytest.approx(12 * (2 * (24.0 + 12.0) + 15.0))
    ties = {each.name: each for each in held(closing="ties", tie=200.0).notions}
    assert ties["ribbon or cord"].amount == pytest.approx(2 * 4 * 2 * 200.0)


@pytest.mark.parametrize("closing", ["buttons", "ties"])
def test_a_moved_or_lost_mark_is_found(closing: str) -> None:
    pattern = held(closing=closing)
    sleeve = pattern.piece("sleeve")
    dot = next(mark for mark in sleeve.marks if mark.kind is MarkKind.DOT and mark.at)
    assert dot.at is not None
    moved = replace(dot, at=replace(dot.at, x=dot.at.x + 6.0))
    for instead in ((moved,), ()):
        marks = tuple(
            each for mark in sleeve.marks for each in (instead if mark is dot else (mark,))
        )
        changed = {**pattern.pieces, "sleeve": replace(sleeve, marks=marks)}
        found = check(replace(pattern, pieces=changed), body())
        assert [each.code for each in found] == ["HOLD-APART"]


def test_a_bodice_with_armholes_is_refused_and_the_other_sleeve_named() -> None:
    with pytest.raises(ComponentError, match="upper edge of a strapless bodice") as raised:
        drafted(dress_with({"sleeve": (KIND, {})}, {}))
    assert "detachable sleeve" in str(raised.value)
