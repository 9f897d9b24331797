"""Garments put together at random from the library are sound, or refused in words.

A few here; `make bench ONLY=wardrobe` tries two thousand.
"""

from __future__ import annotations

from collections import Counter

import pytest

from clothwise.components import kinds
from garment_trials import Ended, tried
from random_garments import plain_garment, random_garment

SEED = 7
SOME = range(20)


@pytest.mark.parametrize("number", SOME)
def test_random_garment_is_sound_or_refused_in_words(number: int) -> None:
    outcome = tried(random_garment(SEED, number))
    assert not outcome.ended.is_failure, outcome


def test_most_random_garments_are_not_refused() -> None:
    ended = Counter(tried(plain_garment(SEED, number)).ended for number in SOME)
    assert ended[Ended.SOUND] > 0.7 * len(SOME)


def test_random_garment_is_always_the_same_one() -> None:
    assert random_garment(SEED, 3) == random_garment(SEED, 3)
    assert random_garment(SEED, 3) != random_garment(SEED, 4)


def test_every_component_is_drawn() -> None:
    drawn = {kind for number in range(1500) for kind in plain_garment(SEED, number).kinds}
    assert drawn == set(kinds())
