"""Random faults in random examples are reported at their place; the benchmark plants 1,000."""

from __future__ import annotations

from collections import Counter

import pytest

from checks.mutations import allowance_set, seam_removed
from checks.planted import BODY, DRESS
from checks.random_faults import (
    BODY_SWAPPED,
    KINDS,
    RESHAPING,
    place_of,
    random_fault,
    reports,
    sound_places,
)
from clothwise.checks import check

SEED = 3
FAULTS = 60  # each kind once, most of them twice
PARTS = 3


@pytest.mark.parametrize("part", range(PARTS))
def test_random_faults_are_reported_at_their_place(part: int) -> None:
    faults = [random_fault(SEED, number) for number in range(part, FAULTS, PARTS)]
    assert [fault.kind + ", " + fault.sound.name for fault in faults if not reports(fault)] == []


def test_a_fault_is_the_same_for_the_same_seed_and_another_for_another() -> None:
    one, again, other = random_fault(1, 6), random_fault(1, 6), random_fault(2, 6)
    assert one == again
    assert (one.sound.name, one.pattern) != (other.sound.name, other.pattern)


def test_kinds_take_turns_and_spread_over_what_is_sound() -> None:
    faults = [random_fault(SEED, number) for number in range(0, 2 * len(KINDS), 2)]
    assert max(Counter(fault.kind for fault in faults).values()) <= 2
    assert len({fault.sound.name for fault in faults}) > 15
    assert len(sound_places()) == 40
    assert set(KINDS) >= RESHAPING


def test_what_is_not_broken_is_not_reported() -> None:
    """The rule can fail: a sound pattern in place of the faulty one reports nothing."""
    for number in range(0, len(KINDS), 3):
        fault = random_fault(SEED, number)
        if fault.kind != BODY_SWAPPED:
            mended = type(fault)(fault.kind, fault.sound, fault.sound.pattern, fault.body)
            assert reports(mended) == []


def test_a_finding_elsewhere_does_not_count() -> None:
    side_lost = seam_removed(DRESS, "skirt-side")
    hem_narrow = allowance_set(DRESS, "sleeve", "hem", 20.0)
    place = place_of(DRESS, side_lost)
    assert any(place.has(finding, side_lost) for finding in check(side_lost, BODY))
    (elsewhere,) = check(hem_narrow, BODY)
    assert not place.has(elsewhere, side_lost)
    assert place_of(DRESS, hem_narrow).has(elsewhere, hem_narrow)
