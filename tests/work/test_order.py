from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.pattern import Operation, Pattern, Station
from clothwise.work.errors import CircularOrder
from clothwise.work.order import OrderMode, OrderOfWork, ordered, plan
from clothwise.work.precedence import Precedence, PrecedenceKind
from clothwise.work.verify import OrderFaultCode, verify
from work.real_designs import every_design, half_circle_skirt, long_dress, tunic

HARD, SOFT = PrecedenceKind.RUNS_ACROSS, PrecedenceKind.EASIER_FLAT


def names(order: OrderOfWork) -> list[str]:
    return [operation.name for operation in order.operations]


@pytest.mark.parametrize("mode", OrderMode)
def test_real_designs_can_be_sewn_in_the_planned_order(mode: OrderMode) -> None:
    for pattern in every_design():
        assert verify(pattern, plan(pattern, mode)) == ()


@pytest.mark.parametrize("mode", OrderMode)
def test_every_seam_is_done_exactly_once(mode: OrderMode) -> None:
    for pattern in every_design():
        done = [name for operation in plan(pattern, mode).operations for name in operation.does]
        assert sorted(done) == sorted(use.name for use in pattern.all_uses())


def test_teaching_keeps_the_steps_of_a_component_together() -> None:
    components = [operation.component for operation in plan(long_dress()).operations]
    blocks = [a for a, b in zip(components, ["", *components], strict=False) if a != b]
    assert blocks == [
        "bodice",
        "skirt",  # its darts; the pockets go on while the front is flat
        "pocket",
        "skirt",
        "collar",  # made before the facing is begun that takes it in
        "facing",
        "sleeve",
        "belt",
        "buttons",
        "hem",
    ]


def test_batching_fuses_everything_in_one_go() -> None:
    order = plan(long_dress(), OrderMode.BATCHED)
    assert [station for station, _ in order.batches] == [Station.FUSING, Station.MACHINE]
    assert {one.name for one in order.batches[0][1]} == {"facing-fuse", "collar-fuse"}


def test_the_plan_does_not_depend_on_chance() -> None:
    for mode in OrderMode:
        assert names(plan(long_dress(), mode)) == names(plan(long_dress(), mode))


def test_verify_finds_every_kind_of_fault() -> None:
    pattern = long_dress()
    order = plan(pattern)
    backward = replace(order, operations=tuple(reversed(order.operations)))
    codes = {fault.code for fault in verify(pattern, backward)}
    assert codes == {OrderFaultCode.RUN_IN_PARTS, OrderFaultCode.PRECEDENCE}
    short = replace(order, operations=order.operations[:-1])
    assert {fault.code for fault in verify(pattern, short)} == {
        OrderFaultCode.OPERATION_COUNT,
        OrderFaultCode.USE_COUNT,
    }
    twice = replace(order, operations=(*order.operations, order.operations[-1]))
    assert {OrderFaultCode.OPERATION_COUNT, OrderFaultCode.USE_COUNT} <= {
        fault.code for fault in verify(pattern, twice)
    }


def test_verify_sees_a_waist_seam_sewn_before_the_side_seams() -> None:
    pattern = tunic()
    order = plan(pattern)
    swapped = list(order.operations)
    sides = names(order).index("skirt-sides")
    waist = names(order).index("skirt-waist")
    swapped[sides], swapped[waist] = swapped[waist], swapped[sides]
    faults = verify(pattern, replace(order, operations=tuple(swapped)))
    parted = [fault for fault in faults if fault.code is OrderFaultCode.RUN_IN_PARTS]
    assert [fault.name for fault in parted] == ["skirt-waist"]
    assert "waist seam" in parted[0].message


def circle_of(pattern: Pattern, *asked: tuple[str, str]) -> CircularOrder:
    """Let operations wait for others, and return the error this gives."""
    after = dict(asked)
    operations = tuple(
        replace(one, after=(*one.after, after[one.name])) if one.name in after else one
        for one in pattern.operations
    )
    with pytest.raises(CircularOrder) as error:
        plan(replace(pattern, operations=operations))
    return error.value


def test_a_circle_is_named_with_its_reasons() -> None:
    error = circle_of(tunic(), ("skirt-sides", "skirt-waist"))
    assert {one.first for one in error.circle} == {"skirt-sides", "skirt-waist"}
    assert "the waist seam runs across the side seam of the skirt" in str(error)
    assert "waits for" in str(error)
    assert error.what_to_do


def test_a_longer_circle_closes() -> None:
    error = circle_of(half_circle_skirt(), ("skirt-center-back", "zip-sew"))
    following = [*error.circle[1:], error.circle[0]]
    for one, after in zip(error.circle, following, strict=True):
        assert one.then == after.first


def test_a_soft_precedence_gives_way_and_is_reported() -> None:
    pattern = long_dress()
    operations = tuple(
        replace(one, after=("skirt-waist",)) if one.name == "pocket-sew-on" else one
        for one in pattern.operations
    )
    late = replace(pattern, operations=operations)
    order = plan(late)
    assert verify(late, order) == ()
    assert {(one.first, one.then) for one in order.dropped} == {
        ("pocket-sew-on", "skirt-sides"),
        ("pocket-sew-on", "skirt-waist"),
    }
    assert names(order).index("skirt-waist") < names(order).index("pocket-sew-on")


@st.composite
def problems(draw: st.DrawFn) -> tuple[tuple[Operation, ...], tuple[Precedence, ...]]:
    """Operations at random stations and components; hard precedences without circles, soft any."""
    count = draw(st.integers(1, 12))
    operations = tuple(
        Operation(
            f"op{number}",
            f"Op {number}",
            "",
            station=draw(st.sampled_from(Station)),
            component=draw(st.sampled_from("abcd")),
        )
        for number in range(count)
    )
    numbers = st.integers(0, count - 1)
    rank = draw(st.permutations(range(count)))
    some = draw(st.lists(st.tuples(numbers, numbers, st.booleans()), max_size=2 * count))
    found = []
    for one, other, soft in some:
        if one == other:
            continue
        if not soft and rank[one] > rank[other]:
            one, other = other, one
        kind = SOFT if soft else HARD
        found.append(Precedence(f"op{one}", f"op{other}", kind, "a reason"))
    return operations, tuple(found)


@given(problems(), st.sampled_from(OrderMode))
def test_any_solvable_problem_gets_a_valid_sequence(
    problem: tuple[tuple[Operation, ...], tuple[Precedence, ...]], mode: OrderMode
) -> None:
    operations, demands = problem
    order = ordered(operations, demands, mode)
    place = {name: number for number, name in enumerate(names(order))}
    assert sorted(place) == sorted(one.name for one in operations)
    assert len(order.operations) == len(operations)
    for one in demands:
        if place[one.first] > place[one.then]:
            assert one.is_soft
            assert one in order.dropped
    assert set(order.precedences) | set(order.dropped) == set(demands)


@given(problems())
def test_a_dropped_precedence_could_not_have_been_kept(
    problem: tuple[tuple[Operation, ...], tuple[Precedence, ...]],
) -> None:
    operations, demands = problem
    order = ordered(operations, demands)
    for one in order.dropped:
        forced = replace(one, kind=HARD)
        kept_hard = [replace(kept, kind=HARD) for kept in order.precedences]
        with pytest.raises(CircularOrder):
            ordered(operations, [*kept_hard, forced])


@given(problems())
def test_batching_needs_the_fewest_changes_of_station(
    problem: tuple[tuple[Operation, ...], tuple[Precedence, ...]],
) -> None:
    operations, demands = problem
    operations = operations[:6]
    known = {one.name for one in operations}
    demands = tuple(one for one in demands if {one.first, one.then} <= known)
    order = ordered(operations, demands, OrderMode.BATCHED)
    best = min(
        len(OrderOfWork(OrderMode.BATCHED, sequence, ()).batches)
        for sequence in permutations(operations)
        if _keeps(sequence, order.precedences)
    )
    assert len(order.batches) == best


def _keeps(sequence: tuple[Operation, ...], kept: tuple[Precedence, ...]) -> bool:
    place = {operation.name: number for number, operation in enumerate(sequence)}
    return all(place[one.first] < place[one.then] for one in kept)
