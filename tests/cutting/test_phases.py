"""Phases that hang together: ties hold for every choice, rings that do not close are refused."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.cutting.phases import Phases, off_by

SHARES = st.integers(0, 63).map(lambda k: k / 64)
TIES = st.lists(
    st.tuples(st.integers(0, 6), st.integers(0, 6), st.sampled_from([1, -1]), SHARES), max_size=12
)


def chosen(phases: Phases, seed: int) -> dict[object, float]:
    chance = random.Random(seed)
    return {
        root.key: chance.choice(root.places) if root.places else chance.random()
        for root in phases.roots()
    }


@given(ties=TIES, fixed=st.dictionaries(st.integers(0, 6), SHARES, max_size=2), seed=st.integers())
def test_what_was_accepted_holds_whatever_is_chosen(
    ties: list[tuple[int, int, int, float]], fixed: dict[int, float], seed: int
) -> None:
    phases = Phases(1e-9)
    kept = [
        (a, b, sign, offset)
        for a, b, sign, offset in ties
        if not phases.tie(a, b, sign=sign, offset=offset)
    ]
    known = {key: phase for key, phase in fixed.items() if not phases.fix(key, phase)}
    choice = chosen(phases, seed)
    for a, b, sign, offset in kept:
        wanted = sign * phases.phase(a, choice) + offset
        assert abs(off_by(phases.phase(b, choice), wanted)) < 1e-6
    for key, phase in known.items():
        assert abs(off_by(phases.phase(key, choice), phase)) < 1e-6


@given(ties=TIES, truth=st.lists(SHARES, min_size=7, max_size=7), seed=st.integers())
def test_ties_that_can_all_hold_are_all_accepted(
    ties: list[tuple[int, int, int, float]], truth: list[float], seed: int
) -> None:
    """Offsets are made from phases that exist, so no tie may be refused."""
    phases = Phases(1e-9)
    for a, b, sign, _ in ties:
        assert phases.tie(a, b, sign=sign, offset=truth[b] - sign * truth[a]) == 0.0


def test_a_ring_that_does_not_close_is_refused_with_its_gap_and_changes_nothing() -> None:
    phases = Phases(0.01)
    assert phases.tie("a", "b", offset=0.25) == 0.0
    assert phases.tie("b", "c", offset=0.25) == 0.0
    assert phases.tie("a", "c", offset=0.4) == pytest.approx(0.1)
    assert phases.phase("c", {"a": 0.0}) == pytest.approx(0.5)
    assert phases.tie("a", "c", offset=0.505) == 0.0, "within the tolerance"


def test_what_mirrors_itself_has_two_places() -> None:
    phases = Phases(1e-9)
    assert phases.tie("left", "right", sign=-1) == 0.0
    assert phases.tie("left", "front", offset=0.1) == 0.0
    assert phases.tie("right", "front", offset=-0.1) == 0.0
    (root,) = phases.roots()
    places = {round(phases.phase("front", {root.key: place}), 6) for place in root.places}
    assert places == {0.0, 0.5}


def test_an_even_phase_is_zero_or_a_half() -> None:
    phases = Phases(1e-9)
    phases.tie("origin", "center", offset=0.3)
    assert phases.make_even("center") == 0.0
    (root,) = phases.roots()
    assert {round(phases.phase("center", {root.key: at}), 6) % 1 for at in root.places} == {0, 0.5}
    assert phases.fix("center", 0.5) == 0.0
    assert phases.phase("center", {}) == pytest.approx(0.5), "nothing is left to choose"
    assert phases.fix("center", 0.1) == pytest.approx(0.4)


@given(one=SHARES, other=SHARES)
def test_off_by_is_the_nearer_way_round(one: float, other: float) -> None:
    assert -0.5 <= off_by(one, other) < 0.5
    assert (other + off_by(one, other)) % 1.0 == pytest.approx(one % 1.0, abs=1e-9)
