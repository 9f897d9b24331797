"""What is told in metric units and in inches or yards: the unit of the reader stands first."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction

from clothwise.units import LengthUnit, format_meters, format_yards, uses_yards

_METRIC_FIRST = re.compile(r"(?<![\w.])(\d[\d.–]* (?:mm|cm|m)) \((\d[\d/ –]* (?:in|yd))\)")


def amounts(meters: Fraction, yards: Fraction, unit: LengthUnit) -> tuple[str, str]:
    """An amount to buy in both units, the reader's first: `2.6 m` and `2 7/8 yd`."""
    told = format_meters(meters), format_yards(yards)
    return (told[1], told[0]) if uses_yards(unit) else told


def unit_first(text: str, unit: LengthUnit) -> str:
    """The text with each length that it tells in both units begun with that of the reader.

    >>> unit_first("Cut the block, 4 cm (1 9/16 in) across.", LengthUnit.INCH)
    'Cut the block, 1 9/16 in (4 cm) across.'
    """
    return _METRIC_FIRST.sub(r"\2 (\1)", text) if uses_yards(unit) else text


def all_unit_first(texts: Iterable[str], unit: LengthUnit) -> tuple[str, ...]:
    """The same with each of several texts."""
    return tuple(unit_first(text, unit) for text in texts)
