"""The measurement sheet: what the finished garment measures in each size, and how to measure it.

A tech pack states for each measurement a letter, how it is taken, the value of every size and how
far a garment may be off. The values come from the pieces; this module holds what is common to all
garments: letters, tolerances, lines.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum

from clothwise.units import LengthUnit

TOLERANCES: tuple[tuple[float, float, float], ...] = (
    (150.0, 3.0, 1 / 8),
    (500.0, 6.0, 1 / 4),
    (float("inf"), 10.0, 3 / 8),
)
"""Up to which length, mm; what it may be off in mm, and in inches.

Source: common practice, no source. A garment's own maker may state closer ones.
"""


class SheetGroup(Enum):
    """The part of the garment a line belongs to, in the order of the sheet."""

    GIRTHS = "All round"
    LENGTHS = "Lengths"
    NECK = "Neck and collar"
    SLEEVE = "Armhole and sleeve"
    DETAILS = "Details"


@dataclass(frozen=True)
class Measured:
    """One finished measurement of one garment: what it is, how to take it, mm.

    `name` identifies it over the sizes; the title is printed.
    """

    name: str
    group: SheetGroup
    title: str
    how: str
    length_mm: float


@dataclass(frozen=True)
class SheetLine:
    """A measurement over the sizes; None where a size does not have it."""

    letter: str
    group: SheetGroup
    title: str
    how: str
    lengths_mm: tuple[float | None, ...]

    @property
    def largest_mm(self) -> float:
        """The largest of the sizes."""
        return max(length for length in self.lengths_mm if length is not None)

    def tolerance(self, unit: LengthUnit) -> float:
        """How far a garment may be off, in centimeters or inches."""
        for up_to_mm, mm, inches in TOLERANCES:
            if self.largest_mm <= up_to_mm:
                return inches if unit is LengthUnit.INCH else mm / 10
        raise AssertionError("the last class has no end")


@dataclass(frozen=True)
class MeasurementSheet:
    """The finished measurements of one view."""

    sizes: tuple[str, ...]
    lines: tuple[SheetLine, ...]

    def line(self, title: str) -> SheetLine:
        """The line of that title.

        Raises:
            KeyError: there is none.
        """
        for each in self.lines:
            if each.title == title:
                return each
        raise KeyError(title)


def measurement_sheet(
    sizes: Sequence[str], garments: Sequence[Iterable[Measured]]
) -> MeasurementSheet:
    """Put what was measured in each size into one sheet, by groups, with letters.

    Args:
        sizes: their names.
        garments: for each size all its measurements, in the order in which they are to be shown.
    """
    by_size = [{each.name: each for each in garment} for garment in garments]
    known: dict[str, Measured] = {}
    for found in by_size:
        known.update({name: each for name, each in found.items() if name not in known})
    order = list(SheetGroup)
    names = sorted(known, key=lambda name: order.index(known[name].group))
    lines = []
    for number, name in enumerate(names):
        each = known[name]
        lengths = tuple(found[name].length_mm if name in found else None for found in by_size)
        lines.append(SheetLine(letter_of(number), each.group, each.title, each.how, lengths))
    return MeasurementSheet(tuple(sizes), tuple(lines))


def letter_of(number: int) -> str:
    """The code letter of a line, counted from 0.

    >>> [letter_of(number) for number in (0, 25, 26, 52)]
    ['A', 'Z', 'AA', 'BA']
    """
    before, at = divmod(number, 26)
    return (letter_of(before - 1) if before else "") + chr(ord("A") + at)
