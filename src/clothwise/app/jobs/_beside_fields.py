"""In a worker: what a length that a design states is in the unit somebody reads in.

A field holds what the design says, with the unit it was written in, so that nothing is rounded by
being looked at. What that is in the unit that is liked stands beside it.
"""

from __future__ import annotations

import re

from clothwise.app.measured_words import tape_division
from clothwise.errors import UnitError
from clothwise.units import LengthUnit, format_cm, format_inches, nearest_inches, parse_length

__all__ = ["amount_beside", "unbroken"]

EXACT_MM = 0.005
"""What is told as less than this beside what is meant is told as exact; own choice."""
_TENTHS_OF_CM_FROM_MM = 100.0  # shorter ones are told to a tenth of a millimeter
_WITHIN = re.compile(r"(?<=\d) (?=\d+/\d|(?:in|cm|mm)\b)")
_INCHES = re.compile(r"in\b|inch|ft\b|foot|feet|yd|yard|[\"'″”′’]")


def amount_beside(text: str, unit: LengthUnit) -> str:
    """Return a written length in the unit that is liked; empty if it is written in that already.

    Empty too for what is no plain length, such as a formula.

    Args:
        text: as the design has it.
        unit: that is liked; what is not inches is centimeters.

    >>> amount_beside("7mm", LengthUnit.INCH), amount_beside("25.4 mm", LengthUnit.INCH)
    ('about 1/4 in', '1 in')
    >>> amount_beside("3/8in", LengthUnit.CENTIMETER), amount_beside("3/8in", LengthUnit.INCH)
    ('about 0.95 cm', '')
    """
    try:
        length_mm = parse_length(text)
    except UnitError:
        return ""
    if bool(_INCHES.search(text.casefold())) == (unit is LengthUnit.INCH) or not length_mm:
        return ""
    if unit is LengthUnit.INCH:
        division = tape_division(abs(length_mm))
        shown_mm = float(nearest_inches(length_mm, denominator=division)) * 25.4
        words = format_inches(length_mm, denominator=division)
    else:
        words = format_cm(length_mm, decimals=1 if abs(length_mm) >= _TENTHS_OF_CM_FROM_MM else 2)
        shown_mm = parse_length(words)
    return words if abs(shown_mm - length_mm) < EXACT_MM else f"about {words}"


def unbroken(words: str) -> str:
    """Return words whose lengths stay in one line: `1 5/8 in` is not parted at its end."""
    return _WITHIN.sub("\N{NO-BREAK SPACE}", words)
