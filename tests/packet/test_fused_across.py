"""Interfacing for strips: what they would take across the cloth, and when that may be."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from clothwise.components.design_file import read_make
from clothwise.cutting import Effort
from clothwise.packet import Making
from clothwise.packet.booklet import booklet_of
from clothwise.packet.fused_across import across_sentences
from clothwise.packet.making import ClothPlan
from clothwise.units import LengthUnit

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@cache
def laid(make: str) -> tuple[Making, tuple[ClothPlan, ...]]:
    making = Making(read_make(EXAMPLES / make))
    return making, making.cloths(effort=Effort(0, 0))


def told(make: str, unit: LengthUnit = LengthUnit.CENTIMETER) -> dict[str, tuple[str, ...]]:
    making, cloths = laid(make)
    return {
        each.title: said
        for each in cloths
        if (said := across_sentences(each, making.pattern, unit))
    }


def test_a_strip_for_a_waistband_alone_is_told_to_take_little_across() -> None:
    """A band of 71.5 by 7 cm on 90 cm wide interfacing."""
    (sentence,) = told("half-circle-skirt/make.yaml")["Woven fusible"]
    assert sentence.startswith("This strip would take about 7 cm of the length instead of 72.5 cm")
    assert "nonwoven" in sentence
    assert "as that of a waistband must" in sentence
    (inches,) = told("half-circle-skirt/make.yaml", LengthUnit.INCH)["Woven fusible"]
    assert "2 3/4 in of the length instead of 28 1/2 in" in inches
    making, cloths = laid("half-circle-skirt/make.yaml")
    notes = [" ".join(page.notes) for page in booklet_of(making, cloths).cloths]
    assert sum("if laid across" in each.replace("\xa0", " ") for each in notes) == 1


def test_nothing_is_told_of_interfacing_that_is_laid_so() -> None:
    """Without a grain the band lies across already, in rows as well as searched."""
    making, (_, cloth) = laid("half-circle-skirt/make.yaml")
    fabric = replace(cloth.layout.fabric, grainless=True)
    told_so = replace(cloth, layout=replace(cloth.layout, fabric=fabric))
    assert across_sentences(cloth, making.pattern, LengthUnit.CENTIMETER)
    assert not across_sentences(told_so, making.pattern, LengthUnit.CENTIMETER)


def test_interfacing_for_more_than_strips_says_nothing() -> None:
    """The front facings of the dress are longer than the interfacing is wide."""
    assert told("kiln-dress/makes/view-a.yaml") == {}
