from __future__ import annotations

from dataclasses import replace

import pytest

from clothwise.geometry import Transform
from clothwise.pattern import Operation, Pattern
from clothwise.work.errors import WorkError
from clothwise.work.precedence import Precedence, PrecedenceKind, precedences
from work.real_designs import every_design, half_circle_skirt, long_dress, tunic


def found(pattern: Pattern, first: str, then: str) -> list[Precedence]:
    return [one for one in precedences(pattern) if (one.first, one.then) == (first, then)]


def kinds(pattern: Pattern, first: str, then: str) -> set[PrecedenceKind]:
    return {one.kind for one in found(pattern, first, then)}


@pytest.mark.parametrize(
    ("first", "then"),
    [
        ("bodice-sides", "skirt-waist"),
        ("skirt-sides", "skirt-waist"),
        ("bodice-front-darts", "bodice-sides"),  # the bust dart
        ("bodice-front-darts", "skirt-waist"),
        ("bodice-back-darts", "skirt-waist"),
        ("skirt-darts", "skirt-waist"),
        ("bodice-shoulders", "facing-attach"),
        ("facing-join", "facing-attach"),
        ("skirt-waist", "facing-attach"),
        ("bodice-sides", "sleeve-set-in"),
        ("bodice-shoulders", "sleeve-set-in"),
        ("sleeve-seam", "sleeve-set-in"),
        ("sleeve-seam", "sew-sleeve-hem"),
        ("skirt-sides", "sew-hem"),
        ("facing-attach", "sew-hem"),
    ],
)
def test_what_runs_across_a_seam_waits_for_it(first: str, then: str) -> None:
    assert PrecedenceKind.RUNS_ACROSS in kinds(long_dress(), first, then)


def test_nothing_orders_seams_that_do_not_meet() -> None:
    pattern = long_dress()
    for one, other in (
        ("bodice-back-darts", "bodice-sides"),
        ("bodice-shoulders", "bodice-sides"),
        ("sleeve-seam", "bodice-sides"),
        ("belt-make", "skirt-waist"),
        ("sleeve-set-in", "facing-attach"),
    ):
        assert not found(pattern, one, other)
        assert not found(pattern, other, one)


def test_the_armhole_is_bound_when_its_ring_is_closed() -> None:
    for first in ("bodice-sides", "bodice-shoulders"):
        assert kinds(tunic(), first, "binding-bind") == {PrecedenceKind.RUNS_ACROSS}


def test_the_collar_is_made_before_the_neck_seam_closes_over_it() -> None:
    assert kinds(long_dress(), "collar-make", "facing-attach") == {PrecedenceKind.CLOSED_INSIDE}


def test_a_run_that_ends_at_the_center_waits_for_the_center_seam() -> None:
    assert PrecedenceKind.RUNS_ACROSS in kinds(long_dress(), "belt-join", "belt-make")
    assert PrecedenceKind.RUNS_ACROSS in kinds(half_circle_skirt(), "skirt-center-back", "sew-hem")
    assert PrecedenceKind.RUNS_ACROSS in kinds(half_circle_skirt(), "skirt-center-back", "zip-sew")


def test_a_pocket_is_finished_before_it_is_sewn_on_and_sewn_on_while_its_host_is_flat() -> None:
    pattern = long_dress()
    assert kinds(pattern, "sew-pocket-hem", "pocket-sew-on") == {PrecedenceKind.ON_PLACED_PIECE}
    assert kinds(pattern, "pocket-sew-on", "skirt-sides") == {PrecedenceKind.EASIER_FLAT}
    assert all(one.is_soft for one in found(pattern, "pocket-sew-on", "skirt-sides"))


def test_a_dart_under_a_pocket_must_come_first() -> None:
    pattern = long_dress()
    assert kinds(pattern, "skirt-darts", "pocket-sew-on") == {PrecedenceKind.EASIER_FLAT}
    placement = pattern.placements["pocket-placement"]
    higher = replace(placement, onto=placement.onto.then(Transform.shift(0.0, 60.0)))
    raised = replace(pattern, placements={placement.name: higher})
    assert kinds(raised, "skirt-darts", "pocket-sew-on") == {PrecedenceKind.LIES_UNDER}


def test_fusing_comes_before_everything_on_its_pieces() -> None:
    pattern = long_dress()
    for then in ("facing-join", "facing-inner", "facing-attach", "sew-hem"):
        assert PrecedenceKind.PREPARES in kinds(pattern, "facing-fuse", then)
    assert not found(pattern, "facing-fuse", "skirt-sides")


def test_an_edge_can_be_prepared_alone() -> None:
    pattern = half_circle_skirt()
    hang = Operation("level", "Level the hem", "Level it.", prepares=("skirt.hem",))
    more = replace(pattern, operations=(*pattern.operations, hang))
    assert kinds(more, "level", "sew-hem") == {PrecedenceKind.PREPARES}
    assert not found(more, "level", "skirt-center-back")


def test_what_a_component_asks_for_is_kept() -> None:
    assert kinds(long_dress(), "facing-attach", "buttons-sew") == {PrecedenceKind.ASKED}


def test_reasons_name_what_a_sewer_calls_them() -> None:
    (one,) = (
        one
        for one in found(long_dress(), "bodice-sides", "skirt-waist")
        if one.kind is PrecedenceKind.RUNS_ACROSS
    )
    assert one.reason == "the waist seam runs across the side seam of the bodice"


def test_no_reason_shows_an_internal_name() -> None:
    for pattern in every_design():
        names = {use.name for use in pattern.all_uses()} | {o.name for o in pattern.operations}
        names = {name for name in names if "-" in name}
        for one in precedences(pattern):
            assert not [name for name in names if name in one.reason]


def test_something_sewn_twice_is_refused() -> None:
    pattern = tunic()
    again = Operation("again", "Again", "Sew it again.", does=("bodice-side",))
    with pytest.raises(WorkError, match="side seam of the bodice is sewn twice") as error:
        precedences(replace(pattern, operations=(*pattern.operations, again)))
    assert "bodice-sides" in error.value.where
    assert error.value.what_to_do


def test_something_never_sewn_is_refused() -> None:
    pattern = tunic()
    fewer = tuple(one for one in pattern.operations if one.name != "bodice-sides")
    with pytest.raises(WorkError, match="no operation sews the side seam of the bodice"):
        precedences(replace(pattern, operations=fewer))


@pytest.mark.parametrize(
    "wrong",
    [
        Operation("odd", "Odd", "Odd.", does=("bodice-sid",)),
        Operation("odd", "Odd", "Odd.", after=("bodice-sid",)),
        Operation("odd", "Odd", "Odd.", prepares=("bodice-fron",)),
        Operation("odd", "Odd", "Odd.", prepares=("bodice-front.nek",)),
    ],
)
def test_unknown_names_are_refused_with_a_suggestion(wrong: Operation) -> None:
    pattern = tunic()
    with pytest.raises(WorkError, match="there is nothing named") as error:
        precedences(replace(pattern, operations=(*pattern.operations, wrong)))
    assert "bodice" in error.value.what_to_do
    assert error.value.where == "operation odd"


def test_two_operations_of_one_name_are_refused() -> None:
    pattern = tunic()
    with pytest.raises(WorkError, match="two operations are named"):
        precedences(replace(pattern, operations=pattern.operations * 2))
