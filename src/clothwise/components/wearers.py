"""Whom a block is drafted for: bounds on a body, beyond which it was never tried.

The plausible ranges of the vocabulary hold for any adult and catch slips of the pen. These are
narrower and belong to a block: a block for women is no smaller block for a child.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.errors import MeasurementError, MeasurementFault
from clothwise.pattern.measurements import Body
from clothwise.units import format_cm, format_inches

__all__ = ["WOMEN", "Least", "MostBeside", "Wearers", "refuse_others"]


@dataclass(frozen=True)
class Least:
    """The least that a measurement may be."""

    measurement: str
    least_mm: float


@dataclass(frozen=True)
class MostBeside:
    """The most that a measurement may be, as a share of another; asked only where measured."""

    measurement: str
    beside: str
    share: float


@dataclass(frozen=True)
class Wearers:
    """The people a block is drafted for.

    Attributes:
        name: in the plural, as messages say it.
        least: girths below which no such person was found.
        most: proportions beyond which none was found.
        source: where the bounds come from, in words.
        remedy: what to do for somebody else, in whole sentences.
    """

    name: str
    least: tuple[Least, ...]
    most: tuple[MostBeside, ...]
    source: str
    remedy: str


WOMEN = Wearers(
    name="grown women",
    least=(Least("bust_girth", 690.0), Least("hip_girth", 780.0)),
    most=(MostBeside("neck_girth", "hip_girth", 0.40),),
    source="the 1,595 women of the survey: smallest bust 69.5 cm, smallest hip 79.8 cm, neck at "
    "most 0.395 of the hip",
    remedy="If the tape was right, this block is not for this body: there is no block for children "
    "or men yet. A skirt that needs the waist alone (circle-skirt) can be drafted for anybody.",
)
"""Source: ANSUR II, women, rounded outward; published tables of women's sizes begin higher still
(EN 13402-3: bust 74 cm, seen second-hand). The bound on the neck is ours: 34 % of the 3,288 men of
that survey are beyond it; the others have proportions that some of its women have too."""


def refuse_others(wearers: Wearers, body: Body) -> None:
    """Refuse a body that a block is not drafted for.

    Raises:
        MeasurementError: carries every measurement beyond the bounds, each with the bound.
    """
    faults = [*_too_small(wearers, body), *_too_large(wearers, body)]
    if faults:
        raise MeasurementError(faults, where=body.name)


def _too_small(wearers: Wearers, body: Body) -> list[MeasurementFault]:
    return [
        MeasurementFault(
            each.measurement,
            f"{each.measurement} is {_shown(body[each.measurement])}",
            f"this block is drafted for {wearers.name}, from {_shown(each.least_mm)} on",
            wearers.remedy,
        )
        for each in wearers.least
        if body[each.measurement] < each.least_mm
    ]


def _too_large(wearers: Wearers, body: Body) -> list[MeasurementFault]:
    return [
        MeasurementFault(
            each.measurement,
            f"{each.measurement} is {_shown(body[each.measurement])} beside {each.beside} "
            f"{_shown(body[each.beside])}",
            f"this block is drafted for {wearers.name}, who have at most "
            f"{_shown(each.share * body[each.beside])} beside it",
            wearers.remedy,
        )
        for each in wearers.most
        if not body.is_estimated(each.measurement)
        and body[each.measurement] > each.share * body[each.beside]
    ]


def _shown(length_mm: float) -> str:
    return f"{format_cm(length_mm)} ({format_inches(length_mm)})"
