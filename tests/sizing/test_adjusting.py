"""A draft for one body beside its nearest size: what moved, by how much, because of what."""

from __future__ import annotations

import math
from functools import cache

import pytest

from clothwise.checks.girths import measured_girths
from clothwise.components import DesignFile, read_design
from clothwise.errors import ClothwiseError, MeasurementError
from clothwise.pattern import Body, Pattern
from clothwise.pattern.measurements import MEASUREMENTS
from clothwise.sizing.adjusting import (
    GROUP_OF,
    Adjustment,
    Change,
    ChangeKind,
    Group,
    adjusted,
)
from clothwise.sizing.nearest import ChosenBy, chosen_by, nearest_size
from component_cases import EXAMPLES
from survey import survey_women


@cache
def dress() -> DesignFile:
    return read_design(EXAMPLES / "kiln-dress")


@cache
def skirt() -> DesignFile:
    return read_design(EXAMPLES / "half-circle-skirt")


def person(size: str = "38", **changes: float) -> Body:
    """A size of the dress with some measurements of her own."""
    return dress().body(size).with_measured(changes)


def of_dress(body: Body, view: str = "A") -> Adjustment:
    return adjusted(dress(), dress().design.chosen({}, view=view), body, girths=measured_girths)


def change(found: Adjustment, kind: ChangeKind, name: str) -> Change:
    (one,) = (each for each in found.changes if (each.kind, each.name) == (kind, name))
    return one


# The nearest size


def test_every_measurement_has_a_group() -> None:
    assert {*GROUP_OF} == {*MEASUREMENTS}


def test_what_has_an_armhole_is_chosen_by_the_bust_and_a_full_skirt_by_the_waist() -> None:
    whole = dress().draft(view="A")
    without = Pattern(pieces={"skirt-front": whole.piece("skirt-front")})
    assert chosen_by(whole) is ChosenBy.BUST
    assert chosen_by(without) is ChosenBy.HIP
    assert chosen_by(skirt().draft(view="knee")) is ChosenBy.WAIST


def test_the_nearest_size_goes_by_one_girth_and_states_the_rest() -> None:
    body = person("38", bust_girth=935.0, waist_girth=700.0, hip_girth=1020.0)
    assert nearest_size(dress().chart, body).size.name == "40"
    assert nearest_size(dress().chart, body, ChosenBy.HIP).size.name == "42"
    assert nearest_size(dress().chart, body, ChosenBy.WAIST).size.name == "38"
    found = nearest_size(dress().chart, body)
    assert found.difference("bust_girth").difference == pytest.approx(15.0)
    assert found.difference("waist_girth").difference == pytest.approx(-40.0)
    assert found.beyond_mm == 0.0


def test_between_two_sizes_the_other_girths_decide() -> None:
    slim = person("38", bust_girth=900.0, waist_girth=700.0, hip_girth=940.0)
    full = person("38", bust_girth=900.0, waist_girth=740.0, hip_girth=980.0)
    assert nearest_size(dress().chart, slim).size.name == "38"
    assert nearest_size(dress().chart, full).size.name == "40"


def test_a_body_beyond_the_chart_says_by_how_much() -> None:
    large = person("52", bust_girth=1280.0)
    assert nearest_size(dress().chart, large).beyond_mm == pytest.approx(60.0)


# What moved


@pytest.mark.parametrize("size", ["34", "42", "52"])
def test_a_body_that_is_a_size_moves_nothing(size: str) -> None:
    found = of_dress(dress().body(size))
    assert found.nearest.size.name == size
    assert [each.name for each in found.changes if each.has_moved] == []
    assert all(move.far_mm == 0.0 for move in found.moves)


def test_the_lengths_are_those_of_two_independent_drafts() -> None:
    body = person(back_neck_to_waist=425.0, hip_girth=1000.0, upper_arm_girth=330.0)
    found = of_dress(body)
    chosen = dress().design.chosen({}, view="A")
    size, own = (dress().draft(chosen, body=each) for each in (dress().body("38"), body))
    assert len([each for each in found.changes if each.kind is ChangeKind.SEAM]) >= 12
    for name, seam in own.seams.items():
        for each in found.changes:
            if each.name == name and each.kind is ChangeKind.SEAM and not each.only_in:
                assert each.body_mm == pytest.approx(own.run_length(seam.layers[0].run))
                before = size.run_length(size.seams[name].layers[0].run)
                assert each.size_mm == pytest.approx(before)


def test_causes_always_sum_to_the_whole() -> None:
    for body in survey_women()[::40]:
        for each in of_dress(body).changes:
            assert sum(each.causes.values()) == pytest.approx(each.moved_mm, abs=1e-6)


@pytest.mark.parametrize(
    ("changes", "kind", "name", "group"),
    [
        ({"hip_girth": 1000.0}, ChangeKind.FINISH, "hem", Group.HIP),
        ({"waist_girth": 740.0}, ChangeKind.SEAM, "skirt-waist", Group.WAIST),
        ({"shoulder_slope": math.radians(26)}, ChangeKind.SEAM, "sleeve-armhole", Group.SHOULDER),
        ({"shoulder_length": 140.0}, ChangeKind.SEAM, "bodice-shoulder", Group.SHOULDER),
        ({"under_bust_girth": 660.0}, ChangeKind.SEAM, "bodice-side", Group.BUST),
        ({"neck_base_girth": 390.0}, ChangeKind.SEAM, "collar-outer", Group.NECK),
        ({"upper_arm_girth": 360.0}, ChangeKind.FINISH, "sleeve-hem", Group.ARM),
        (
            {"back_neck_to_waist": 425.0, "neck_shoulder_point_to_waist_front": 459.0},
            ChangeKind.SEAM,
            "bodice-side",
            Group.LENGTHS,
        ),
    ],
    ids=lambda value: value.value if isinstance(value, Group) else "",
)
def test_one_measurement_is_the_whole_cause(
    changes: dict[str, float], kind: ChangeKind, name: str, group: Group
) -> None:
    found = change(of_dress(person(**changes)), kind, name)
    assert found.has_moved
    assert found.causes[group] == pytest.approx(found.moved_mm, abs=1e-6)
    assert [cause for cause, _ in found.main_causes] == [group]


def test_a_front_longer_than_the_back_is_the_bust_s_and_the_rest_a_length() -> None:
    """Back +20, front +35: 20 of it is length, 15 the bust's; the dart grows by the bust alone."""
    back, front = (
        dress().body("38")[name]
        for name in ("back_neck_to_waist", "neck_shoulder_point_to_waist_front")
    )
    body = person(back_neck_to_waist=back + 20.0, neck_shoulder_point_to_waist_front=front + 35.0)
    found = of_dress(body)
    edge = change(found, ChangeKind.SEAM, "facing-front-edge")
    assert edge.moved_mm == pytest.approx(35.0, abs=0.5)
    assert edge.causes[Group.LENGTHS] == pytest.approx(20.0, abs=0.5)
    assert edge.causes[Group.BUST] == pytest.approx(15.0, abs=0.5)
    dart = change(found, ChangeKind.DART_INTAKE, "bodice-front.bust dart")
    assert dart.causes[Group.BUST] > 10.0
    assert abs(dart.causes.get(Group.LENGTHS, 0.0)) < 1.0


def test_finished_girths_follow_body_and_ease() -> None:
    """Quarter pieces (G01, derived): the whole girth grows by what the body has more."""
    found = of_dress(person(hip_girth=980.0, bust_girth=890.0))
    girths = {each.name: each for each in found.moved(ChangeKind.GIRTH)}
    assert girths["bust"].moved_mm == pytest.approx(10.0, abs=0.1)
    assert girths["hip"].moved_mm == pytest.approx(40.0, abs=0.1)


def test_points_tell_where_the_piece_grew() -> None:
    found = of_dress(person(hip_girth=980.0))
    moves = {(move.piece, move.point): move for move in found.moves}
    assert moves["skirt-front", "side hip"].right_mm > 5.0
    assert moves["skirt-front", "center front waist"].far_mm == 0.0
    assert moves["bodice-front", "bust point"].far_mm == 0.0


def test_one_dart_that_becomes_two_is_told_as_one_intake() -> None:
    """The lengths of darts that only one draft has are not told as moved."""
    found = of_dress(person(hip_girth=1060.0, waist_girth=680.0))
    (back,) = (
        each
        for each in found.changes
        if each.kind is ChangeKind.DART_INTAKE and each.name == "skirt-back.waist dart"
    )
    assert back.title.startswith("2 waist darts")
    assert not back.only_in
    assert all(not each.only_in for each in found.changes if each.has_moved)


# What cannot be looked at


def test_a_mixture_that_is_refused_is_told_together_and_still_sums(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The hip alone, and the bust alone, are made impossible; the person herself is drafted."""
    body = person(bust_girth=900.0, hip_girth=980.0, shoulder_length=132.0)
    real = DesignFile.draft

    def picky(self: DesignFile, *args: object, **kwargs: object) -> Pattern:
        drafted_for = kwargs["body"]
        assert isinstance(drafted_for, Body)
        if (drafted_for["bust_girth"] == 900.0) != (drafted_for["hip_girth"] == 980.0):
            raise ClothwiseError("these two do not go together")
        return real(self, *args, **kwargs)  # type: ignore[arg-type]

    monkeypatch.setattr(DesignFile, "draft", picky)
    found = of_dress(body)
    assert found.refused
    assert all("do not go together" in each for each in found.refused)
    hem = change(found, ChangeKind.FINISH, "hem")
    assert hem.has_moved
    assert [group for group, _ in hem.main_causes] == [Group.TOGETHER]
    for each in found.changes:
        assert sum(each.causes.values()) == pytest.approx(each.moved_mm, abs=1e-6)


def test_a_nearest_size_that_cannot_be_drafted_is_passed_over(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    real = DesignFile.draft

    def picky(self: DesignFile, *args: object, **kwargs: object) -> Pattern:
        if kwargs["body"] == self.body("38"):
            raise ClothwiseError("no such shape")
        return real(self, *args, **kwargs)  # type: ignore[arg-type]

    monkeypatch.setattr(DesignFile, "draft", picky)
    found = of_dress(person("38", bust_girth=885.0))
    assert found.nearest.size.name == "40"
    assert found.refused[0] == "Size 38 cannot be drafted: no such shape"
    assert found.moved(ChangeKind.SEAM)


def test_a_body_that_is_refused_is_refused() -> None:
    child = Body.complete(
        {"height": 1280.0, "bust_girth": 640.0, "waist_girth": 570.0, "hip_girth": 680.0}
    )
    with pytest.raises(MeasurementError, match="grown women"):
        of_dress(child)


def test_women_of_the_survey_are_all_reported_on() -> None:
    for body in survey_women()[5::25]:
        assert of_dress(body, "B").changes
