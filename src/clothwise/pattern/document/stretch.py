"""How far a cloth gives across, as designs and makes state it."""

from __future__ import annotations

import re
from fractions import Fraction

from clothwise.errors import Misuse

__all__ = ["LARGEST_STRETCH", "parse_stretch"]

LARGEST_STRETCH = 2.0
"""More than any cloth for garments gives comfortably. Our own choice."""


def parse_stretch(text: str) -> float:
    """Return a stretch as a share of the relaxed width: `30%` and `0.3` are the same.

    Measured on 10 cm of cloth across the grain, pulled as far as it goes comfortably: 13 cm are
    30%. A whole number without `%` is refused, because `2` may be meant either way.

    Raises:
        Misuse: it is no share, or more than any cloth gives.

    Source: how it is measured is common practice, no source.

    >>> parse_stretch("30 %")
    0.3
    """
    found = _STRETCH.fullmatch(text.strip())
    if found is None:
        raise Misuse(f"{text[:40]!r} is not a stretch", what_to_do=_REMEDY)
    number = Fraction(found["amount"].replace(",", "."))
    if not found["percent"] and number >= 1:
        raise Misuse(f"{text[:40]!r} may be a share or a percentage", what_to_do=_REMEDY)
    share = float(number / 100 if found["percent"] else number)
    if share > LARGEST_STRETCH:
        raise Misuse(
            f"no fabric stretches by {share:.0%}",
            how_much=f"allowed 0% to {LARGEST_STRETCH:.0%}",
            what_to_do=_REMEDY,
        )
    return share


_REMEDY = "Write what 10 cm of it gain when stretched, as a percentage: 30% for 13 cm."
_STRETCH = re.compile(r"(?P<amount>[0-9]{1,7}(?:[.,][0-9]{1,4})?)\s*(?P<percent>%)?")
