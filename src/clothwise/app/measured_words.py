"""Lengths within sentences, in the unit that the reader likes.

The library tells lengths as it checks them, in millimeters or centimeters. Who reads in inches gets
every such length as a tape shows it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from clothwise.app.preferences import Preferences
from clothwise.units import LengthUnit, format_inches, format_length, nearest_inches

__all__ = ["as_read", "in_unit", "reads_inches", "tape_division"]

_NUMBER = r"\d+(?:\.\d+)?"
_LENGTH = re.compile(
    rf"(?P<least>\bat least )?(?P<most>\b(?:at most|no more than|up to) )?"
    rf"(?<![\w.,/-])(?P<first>{_NUMBER})(?:(?P<of> mm| cm)?(?P<to> to )(?P<second>{_NUMBER}))?"
    rf" (?P<unit>mm|cm)\b(?P<more> or more)?(?P<less> or less)?"
    rf"(?! (?:or|\()\s?[\d/ ]+ ?in\b)"
)
"""A metric length, or two with `to` between them; not one beside which inches stand already."""
_DESIGN_IN_INCHES = re.compile(r"^unit:[ \t]*[\"']?(?:in|ft|yd)\b", re.MULTILINE)

_EIGHTHS_MM, _SIXTEENTHS_MM = 25.0, 5.0
"""From so long on, a tape is read in eighths, or in sixteenths; what is shorter in thirty-seconds.
Our own choice."""
_LEAST_MM = 0.8  # 1/32 in: what is less stays as it is


def in_unit(text: str, unit: LengthUnit) -> str:
    """Return a text with its metric lengths in a unit.

    A least length is never told shorter than it is, a greatest one never longer. What is less than
    1/32 inch stays in millimeters.

    Args:
        text: in which lengths stand as `12 mm`, `1.5 cm` or `5 to 7 mm`.
        unit: centimeters (lengths in millimeters change) or inches; others change nothing.

    >>> in_unit("Make length 232 mm or more.", LengthUnit.CENTIMETER)
    'Make length 23.2 cm or more.'
    >>> in_unit("19 mm, at least 25 mm needed", LengthUnit.INCH)
    '3/4 in, at least 1 in needed'
    >>> in_unit("4.4 cm (allowed 0.8 cm to 4 cm)", LengthUnit.INCH)
    '1 3/4 in (allowed 5/16 in to 1 5/8 in)'
    >>> in_unit("the edges differ by 0.4 mm", LengthUnit.INCH)
    'the edges differ by 0.4 mm'
    """
    if unit not in (LengthUnit.CENTIMETER, LengthUnit.INCH):
        return text

    def told(found: re.Match[str]) -> str:
        per_unit = 10.0 if found["unit"] == "cm" else 1.0
        first_per_unit = {" cm": 10.0, " mm": 1.0}.get(found["of"] or "", per_unit)
        if unit is LengthUnit.CENTIMETER:
            return found[0] if per_unit == 10.0 else _metric(found)
        first = _on_a_tape(float(found["first"]) * first_per_unit, found)
        second = ""
        if found["second"]:
            second = found["to"] + _on_a_tape(float(found["second"]) * per_unit, found)
        around = (found["least"] or "") + (found["most"] or "")
        return f"{around}{first}{second}{found['more'] or ''}{found['less'] or ''}"

    return _LENGTH.sub(told, text)


def as_read(text: str, *, inches: bool) -> str:
    """Return words of the library as somebody reads them who likes inches, or else as they are."""
    return in_unit(text, LengthUnit.INCH) if inches else text


def tape_division(length_mm: float) -> int:
    """Return into how many parts of an inch a tape is read for a length: 8, 16 or 32."""
    return 8 if length_mm >= _EIGHTHS_MM else 16 if length_mm >= _SIXTEENTHS_MM else 32


def reads_inches(liking: Preferences, documents: Mapping[str, str]) -> bool:
    """Tell whether lengths are shown in inches: the reader likes them, or the design has them."""
    if (liked := liking.length_unit) is not None:
        return liked is LengthUnit.INCH
    return _DESIGN_IN_INCHES.search(documents.get("design.yaml", "")) is not None


def _metric(found: re.Match[str]) -> str:
    """Millimeters in centimeters."""
    numbers = [found["first"], *([found["second"]] if found["second"] else [])]
    lengths = [format_length(float(number), LengthUnit.CENTIMETER) for number in numbers]
    around = (found["least"] or "") + (found["most"] or "")
    return f"{around}{' to '.join(lengths)}{found['more'] or ''}{found['less'] or ''}"


def _on_a_tape(length_mm: float, found: re.Match[str]) -> str:
    """A length in inches, as closely as a tape of its length is read."""
    if 0 < length_mm < _LEAST_MM:
        return f"{length_mm:g} mm"
    division = tape_division(length_mm)
    shown_mm = float(nearest_inches(length_mm, denominator=division)) * 25.4
    step_mm = 25.4 / division
    if (found["least"] or found["more"]) and shown_mm < length_mm - 1e-9:
        shown_mm += step_mm
    if (found["most"] or found["less"]) and shown_mm > length_mm + 1e-9:
        shown_mm -= step_mm
    return format_inches(shown_mm, denominator=division)
