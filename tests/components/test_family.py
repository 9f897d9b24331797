"""Every component says what it is for."""

from __future__ import annotations

import pytest

from clothwise.components import component_class, kinds
from clothwise.components.family import Family
from clothwise.components.garments import GARMENTS


@pytest.mark.parametrize("kind", kinds())
def test_every_component_of_ours_has_a_family(kind: str) -> None:
    """One that had none would be offered nowhere but among the others."""
    assert component_class(kind).family is not Family.OTHER


def test_every_family_is_called_by_words_of_its_own() -> None:
    """A list of families tells them apart."""
    titles = [family.title for family in Family]
    assert len(set(titles)) == len(titles)


def test_families_are_in_the_order_in_which_garments_are_drafted() -> None:
    """Bodice before front before skirt, and hems last: what is added goes by that order."""
    for garment in GARMENTS:
        firm = (Family.BODICE, Family.FRONT, Family.SKIRT, Family.COLLAR, Family.HEM)
        families = [component_class(entry.kind).family for entry in garment]
        ranks = [family.rank for family in families if family in firm]
        assert ranks == sorted(ranks), [entry.kind for entry in garment]
