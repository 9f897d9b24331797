"""The widths in which cloth is usually sold, and widths as they are written on a bolt.

Source: a page on how to read a fabric chart (check value Y17): 36, 44/45, 54 and 58/60 in, sold
as 90, 112-115, 137-140 and 148-152 cm.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from clothwise.units import LengthUnit, parse_length

__all__ = ["USUAL_WIDTHS", "UsualWidth", "narrower_of_two"]

LEAST_OF_TWO_MM = 300.0
"""Two figures with a stroke between are a fraction below this: no bolt is so narrow. Our own."""
MOST_APART = 1.15
"""Two figures for one width differ by less than this; our own choice."""


@dataclass(frozen=True, slots=True)
class UsualWidth:
    """A width that shops have.

    Attributes:
        inches: as written on a bolt, such as `44/45in`.
        centimeters: the same cloth where it is sold by the meter.
        narrow_mm: the narrowest it may turn out, which is what is reckoned with.
        wide_mm: the widest.
    """

    inches: str
    centimeters: str
    narrow_mm: float
    wide_mm: float


def narrower_of_two(text: str) -> float | None:
    """Return the narrower width of a text such as `44/45in` or `112-115 cm`; None if it is one.

    As a length `44/45in` would be a fraction of an inch.

    >>> narrower_of_two("112/115cm"), narrower_of_two("45in")
    (1120.0, None)
    """
    found = _TWO.fullmatch(text.strip())
    if found is None:
        return None
    one, other = (parse_length(found[each] + found["unit"]) for each in ("one", "other"))
    is_two = LEAST_OF_TWO_MM <= one < other <= MOST_APART * one
    return one if is_two else None


_TWO = re.compile(
    r"(?P<one>[0-9]{1,4})\s*[/\-–]\s*(?P<other>[0-9]{1,4})\s*(?P<unit>[A-Za-z\"″”']+)"
)


def _usual(inches: str, centimeters: str) -> UsualWidth:
    numbers = [float(number) for number in re.findall(r"[0-9]+", centimeters)]
    narrow, wide = (LengthUnit.CENTIMETER.to_mm(number) for number in (numbers[0], numbers[-1]))
    return UsualWidth(inches, centimeters, narrow, wide)


USUAL_WIDTHS = (
    _usual("36in", "90cm"),
    _usual("44/45in", "112/115cm"),
    _usual("54in", "137/140cm"),
    _usual("58/60in", "148/152cm"),
)
"""From narrow to wide."""
