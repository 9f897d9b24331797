"""Lengths and angles as people write them, and the millimeters and radians we reckon in.

Inside Clothwise each length is in millimeters and each angle in radians. Centimeters, inches with
fractions, yards and degrees exist only here: a text is read once on the way in and written once
on the way out. Reading is exact up to the final float: fractions are kept as fractions.
"""

from __future__ import annotations

import math
import re
from enum import Enum
from fractions import Fraction

from clothwise.errors import UnitError

__all__ = [
    "METER_STEP",
    "MM_PER_CM",
    "MM_PER_INCH",
    "MM_PER_POINT",
    "MM_PER_YARD",
    "ROUNDING_SLACK_MM",
    "YARD_STEP",
    "AngleUnit",
    "LengthUnit",
    "amount_to_buy",
    "format_angle",
    "format_cm",
    "format_fraction",
    "format_inches",
    "format_length",
    "format_meters",
    "format_mm",
    "format_yards",
    "meters_to_buy",
    "nearest_inches",
    "parse_angle",
    "parse_length",
    "uses_yards",
    "yards_to_buy",
]

MM_PER_CM = 10.0
MM_PER_INCH = 25.4
"""Exactly. Source: international yard and pound agreement, 1959 (check value U01)."""
MM_PER_YARD = 914.4
"""Exactly: 36 inches. Source: the same agreement (check value U02)."""
MM_PER_POINT = 25.4 / 72
"""The unit of a PDF page: 1/72 inch. Source: the definition in ISO 32000 (check value U03)."""

YARD_STEP = Fraction(1, 8)
"""Yards are sold by the eighth. Source: common practice, no source (check value U05)."""
METER_STEP = Fraction(1, 10)
"""Meters are sold by the tenth, or by the twentieth. Source: common practice (check value U07)."""
ROUNDING_SLACK_MM = 0.01
"""A length this little above a shop's step still counts as that step.

Our own choice: far below what a shop can cut, far above what adding floats can cost, so that
2.000 yards stay 2 yards.
"""

_LONGEST_TEXT = 60  # characters; the longest honest length is about 20
_DENOMINATORS = (1, 2, 4, 8, 16, 32, 64)  # the divisions found on inch rulers


class LengthUnit(Enum):
    """A unit that lengths may be written in. The value is the way it is written."""

    MILLIMETER = "mm"
    CENTIMETER = "cm"
    METER = "m"
    INCH = "in"
    FOOT = "ft"
    YARD = "yd"

    @property
    def exact_mm(self) -> Fraction:
        """The length of one such unit in millimeters, exactly."""
        return _EXACT_MM[self]

    def to_mm(self, amount: float) -> float:
        """Return `amount` of this unit in millimeters."""
        return float(_exact(amount) * self.exact_mm)

    def from_mm(self, length_mm: float) -> float:
        """Return a length in millimeters as an amount of this unit."""
        return float(_exact(length_mm) / self.exact_mm)


class AngleUnit(Enum):
    """A unit that angles may be written in. The value is the way it is written."""

    DEGREE = "deg"
    RADIAN = "rad"


_EXACT_MM = {
    LengthUnit.MILLIMETER: Fraction(1),
    LengthUnit.CENTIMETER: Fraction(10),
    LengthUnit.METER: Fraction(1000),
    LengthUnit.INCH: Fraction(254, 10),
    LengthUnit.FOOT: Fraction(12 * 254, 10),
    LengthUnit.YARD: Fraction(36 * 254, 10),
}

_LENGTH_WORDS = {
    **dict.fromkeys(("mm", "millimeter", "millimeters", "millimetre", "millimetres"), "mm"),
    **dict.fromkeys(("cm", "centimeter", "centimeters", "centimetre", "centimetres"), "cm"),
    **dict.fromkeys(("m", "meter", "meters", "metre", "metres"), "m"),
    **dict.fromkeys(("in", "inch", "inches", '"', "″", "”", "''", "′′", "’’"), "in"),
    **dict.fromkeys(("ft", "foot", "feet", "'", "′", "’"), "ft"),
    **dict.fromkeys(("yd", "yds", "yard", "yards"), "yd"),
}
_ANGLE_WORDS = {
    **dict.fromkeys(("deg", "degree", "degrees", "°"), "deg"),
    **dict.fromkeys(("rad", "radian", "radians"), "rad"),
}
_VULGAR = {
    "½": (1, 2), "¼": (1, 4), "¾": (3, 4), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8),
    "⅓": (1, 3), "⅔": (2, 3),
}  # fmt: skip

_AMOUNT = re.compile(
    r"""
    (?: (?P<whole>[0-9]+) (?:[ ]+|[ ]*-[ ]*) (?P<over>[0-9]+) [ ]*/[ ]* (?P<under>[0-9]+)
      | (?P<top>[0-9]+) [ ]*/[ ]* (?P<bottom>[0-9]+)
      | (?P<units>[0-9]*) [ ]* (?P<vulgar>[½¼¾⅛⅜⅝⅞⅓⅔])
      | (?P<decimal>[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)
    )""",
    re.VERBOSE,
)
_UNIT = re.compile(r"[ ]*(?P<unit>[a-z]+\.?|°|''|′′|’’|[\"″”'′’])?[ ]*")


def parse_length(text: str, *, default_unit: LengthUnit | None = None) -> float:
    """Return a written length in millimeters.

    Read are decimals with a point or a comma (`2.5cm`, `2,5 cm`), fractions and mixed numbers
    (`3/8in`, `1 5/8 in`, `1-5/8 in`, `1⅝"`), feet with inches (`5 ft 6 1/2 in`, `5'6"`), and a
    leading sign. A comma is always a decimal comma, never a thousands separator.

    Args:
        text: the length.
        default_unit: the unit of a plain number. Without it a plain number is refused, because
            nobody can tell 92 centimeters from 92 inches.

    Raises:
        UnitError: the text is no length, names an unknown unit, or has no unit.

    >>> parse_length("1 5/8 in")
    41.275
    >>> parse_length("92,5", default_unit=LengthUnit.CENTIMETER)
    925.0
    """
    sign, rest = _sign_and_rest(text, "length")
    amount, word, rest = _next_amount(rest, text, "length")
    if _LENGTH_WORDS.get(word) == "ft" and rest:
        inches, inch_word, rest = _next_amount(rest, text, "length")
        if _LENGTH_WORDS.get(inch_word or "in") != "in":
            raise _not_a("length", text)
        amount, word = amount * 12 + inches, "in"
    if rest:
        raise _not_a("length", text)
    if not word:
        if default_unit is None:
            raise UnitError(
                f"{_quoted(text)} has no unit",
                what_to_do="Write the unit right after the number, such as 2.5cm, 25mm or 3/8in.",
            )
        unit = default_unit
    elif word in _LENGTH_WORDS:
        unit = LengthUnit(_LENGTH_WORDS[word])
    else:
        raise UnitError(
            f"{_quoted(word)} is not a unit of length",
            where=_quoted(text),
            what_to_do="Use mm, cm, m, in, ft or yd.",
        )
    return float(sign * amount * unit.exact_mm)


def parse_angle(text: str, *, default_unit: AngleUnit | None = None) -> float:
    """Return a written angle (`21 deg`, `21.5°`, `0.37 rad`) in radians.

    Args:
        text: the angle.
        default_unit: the unit of a plain number. Without it a plain number is refused.

    Raises:
        UnitError: the text is no angle, names an unknown unit, or has no unit.

    >>> parse_angle("180°") == math.pi
    True
    """
    sign, rest = _sign_and_rest(text, "angle")
    amount, word, rest = _next_amount(rest, text, "angle")
    if rest:
        raise _not_a("angle", text)
    if not word:
        if default_unit is None:
            raise UnitError(
                f"{_quoted(text)} has no unit",
                what_to_do="Write the unit right after the number, such as 21deg.",
            )
        unit = default_unit
    elif word in _ANGLE_WORDS:
        unit = AngleUnit(_ANGLE_WORDS[word])
    else:
        raise UnitError(
            f"{_quoted(word)} is not a unit of angle",
            where=_quoted(text),
            what_to_do="Use deg (or °) or rad.",
        )
    number = float(sign * amount)
    return math.radians(number) if unit is AngleUnit.DEGREE else number


def format_length(length_mm: float, unit: LengthUnit) -> str:
    """Return a length as it is shown: whole mm, cm to 1 decimal, m to 2, inches and feet to 1/8.

    Yards are shown to the nearest 1/8; what to *buy* is rounded up by `yards_to_buy`.
    """
    if unit is LengthUnit.MILLIMETER:
        return format_mm(length_mm)
    if unit is LengthUnit.CENTIMETER:
        return format_cm(length_mm)
    if unit is LengthUnit.METER:
        return f"{_rounded(length_mm, 1000, 2)} m"
    if unit is LengthUnit.INCH:
        return format_inches(length_mm)
    if unit is LengthUnit.FOOT:
        return _feet_and_inches(length_mm)
    return format_yards(_nearest(_exact(length_mm) / unit.exact_mm, 8))


def format_mm(length_mm: float, *, decimals: int = 0) -> str:
    """Return a length in millimeters, halves rounded away from zero: `25 mm`."""
    return f"{_rounded(length_mm, 1, decimals)} mm"


def format_cm(length_mm: float, *, decimals: int = 1) -> str:
    """Return a length in centimeters, halves rounded away from zero: `2.5 cm`, `92 cm`."""
    return f"{_rounded(length_mm, 10, decimals)} cm"


def format_inches(length_mm: float, *, denominator: int = 8) -> str:
    """Return a length in inches to the nearest 1/`denominator`, reduced: `1 5/8 in`.

    Args:
        length_mm: any finite length.
        denominator: a division of an inch ruler: 1, 2, 4, 8, 16, 32 or 64.

    Raises:
        UnitError: the length is not finite, or no ruler is divided so.

    >>> format_inches(15.875), format_inches(15.0), format_inches(15.0, denominator=16)
    ('5/8 in', '5/8 in', '9/16 in')
    """
    return f"{format_fraction(nearest_inches(length_mm, denominator=denominator))} in"


def nearest_inches(length_mm: float, *, denominator: int = 8) -> Fraction:
    """Return a length in inches to the nearest 1/`denominator`, halves away from zero.

    Raises:
        UnitError: the length is not finite, or no ruler is divided so.
    """
    if denominator not in _DENOMINATORS:
        raise UnitError(
            f"no inch ruler is divided into {denominator} parts",
            what_to_do=f"Use one of {', '.join(map(str, _DENOMINATORS))}.",
        )
    return _nearest(_exact(length_mm) / LengthUnit.INCH.exact_mm, denominator)


def format_fraction(amount: Fraction) -> str:
    """Return a fraction as a mixed number: `1 5/8`, `5/8`, `2`, `-1 1/2`."""
    sign = "-" if amount < 0 else ""
    whole, part = divmod(abs(amount), 1)
    if not part:
        return f"{sign}{whole}"
    fraction = f"{part.numerator}/{part.denominator}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def format_angle(angle_rad: float, *, decimals: int = 1) -> str:
    """Return an angle in degrees, halves rounded away from zero: `21.5°`."""
    return f"{_rounded(math.degrees(angle_rad), 1, decimals)}°"


def yards_to_buy(length_mm: float, *, step: Fraction = YARD_STEP) -> Fraction:
    """Return the yards to ask for in a shop: rounded up to the next `step`.

    Raises:
        UnitError: the length is negative or not finite.

    Source: common practice, no source (check value U05).

    >>> yards_to_buy(1.51 * 914.4), yards_to_buy(2 * 914.4)
    (Fraction(13, 8), Fraction(2, 1))
    """
    return _rounded_up(length_mm, LengthUnit.YARD, step)


def meters_to_buy(length_mm: float, *, step: Fraction = METER_STEP) -> Fraction:
    """Return the meters to ask for in a shop: rounded up to the next `step`.

    Raises:
        UnitError: the length is negative or not finite.

    Source: common practice, no source (check value U07).

    >>> meters_to_buy(1510), meters_to_buy(1500)
    (Fraction(8, 5), Fraction(3, 2))
    """
    return _rounded_up(length_mm, LengthUnit.METER, step)


def uses_yards(unit: LengthUnit) -> bool:
    """Whether readers of this unit count in yards and inches, of cloth as well.

    >>> uses_yards(LengthUnit.FOOT), uses_yards(LengthUnit.CENTIMETER)
    (True, False)
    """
    return unit in (LengthUnit.INCH, LengthUnit.FOOT, LengthUnit.YARD)


def amount_to_buy(length_mm: float, unit: LengthUnit) -> str:
    """Return what to ask for in a shop, in the reader's own unit, rounded up to the next step.

    Raises:
        UnitError: the length is negative or not finite.

    >>> amount_to_buy(1510, LengthUnit.CENTIMETER), amount_to_buy(1510, LengthUnit.FOOT)
    ('1.6 m', '1 3/4 yd')
    """
    if uses_yards(unit):
        return format_yards(yards_to_buy(length_mm))
    return format_meters(meters_to_buy(length_mm))


def format_yards(yards: Fraction) -> str:
    """Return yards as a shop writes them: `1 5/8 yd`."""
    return f"{format_fraction(yards)} yd"


def format_meters(meters: Fraction) -> str:
    """Return meters with as many decimals (1 to 3) as they need: `1.6 m`, `1.65 m`, `2.0 m`."""
    for decimals in (1, 2):
        if (meters * 10**decimals).denominator == 1:
            return f"{float(meters):.{decimals}f} m"
    return f"{float(meters):.3f} m"


def _sign_and_rest(text: str, sought: str) -> tuple[int, str]:
    if len(text) > _LONGEST_TEXT:
        raise _not_a(sought, text)
    folded = " ".join(text.replace("⁄", "/").split()).casefold()
    if folded.startswith(("-", "−")):
        return -1, folded[1:].lstrip()
    return 1, folded.removeprefix("+").lstrip()


def _next_amount(rest: str, text: str, sought: str) -> tuple[Fraction, str, str]:
    """Split off a number and its unit word; the word is empty if there is none."""
    number = _AMOUNT.match(rest)
    if number is None:
        raise _not_a(sought, text)
    after = _UNIT.match(rest, number.end())
    assert after is not None  # the pattern matches the empty text
    return _value(number, text), (after["unit"] or "").removesuffix("."), rest[after.end() :]


def _value(number: re.Match[str], text: str) -> Fraction:
    part = number.groupdict()
    if part["decimal"] is not None:
        return Fraction(part["decimal"].replace(",", ".").rstrip("."))
    if part["vulgar"] is not None:
        return int(part["units"] or 0) + Fraction(*_VULGAR[part["vulgar"]])
    over, under = part["over"] or part["top"], part["under"] or part["bottom"]
    if int(under) == 0:
        raise UnitError(
            f"{_quoted(text)} divides by zero",
            what_to_do="Write a fraction such as 5/8.",
        )
    return int(part["whole"] or 0) + Fraction(int(over), int(under))


def _not_a(sought: str, text: str) -> UnitError:
    example = "2.5cm, 25mm, 3/8in or 1 5/8 in" if sought == "length" else "21deg or 0.37rad"
    if not text.strip():
        return UnitError(
            f"there is nothing where a {sought} should be"
            if sought == "length"
            else f"there is nothing where an {sought} should be",
            what_to_do=f"Write a number and its unit, such as {example}.",
        )
    article = "a" if sought == "length" else "an"
    return UnitError(
        f"{_quoted(text)} is not {article} {sought}",
        what_to_do=f"Write a number and its unit, such as {example}.",
    )


def _quoted(text: str) -> str:
    shown = text if len(text) <= _LONGEST_TEXT else f"{text[:_LONGEST_TEXT]}…"
    return repr(shown)


def _exact(amount: float) -> Fraction:
    """Return the decimal number that a float stands for, so that 0.15 is exactly 15/100."""
    if not math.isfinite(amount):
        raise UnitError(
            f"{amount} cannot be shown as a length or an angle",
            what_to_do="This is a fault in Clothwise; please report it.",
        )
    return Fraction(repr(float(amount)))


def _rounded(amount: float, divisor: int, decimals: int) -> str:
    """Return `amount / divisor` to at most so many decimals, halves away from zero."""
    scaled = _nearest(_exact(amount) / divisor, 10**decimals) * 10**decimals
    digits = str(abs(scaled.numerator)).rjust(decimals + 1, "0")
    whole, part = digits[: len(digits) - decimals], digits[len(digits) - decimals :].rstrip("0")
    return f"{'-' if scaled < 0 else ''}{whole}{'.' + part if part else ''}"


def _nearest(amount: Fraction, denominator: int) -> Fraction:
    steps = math.floor(abs(amount) * denominator + Fraction(1, 2))
    return Fraction(steps if amount >= 0 else -steps, denominator)


def _rounded_up(length_mm: float, unit: LengthUnit, step: Fraction) -> Fraction:
    exact = _exact(length_mm)
    if exact < 0:
        raise UnitError(
            "a length to buy cannot be negative",
            how_much=format_mm(length_mm, decimals=1),
            what_to_do="This is a fault in Clothwise; please report it.",
        )
    slack = Fraction(repr(ROUNDING_SLACK_MM))
    return max(0, math.ceil((exact - slack) / (unit.exact_mm * step))) * step


def _feet_and_inches(length_mm: float) -> str:
    inches = nearest_inches(length_mm)
    feet, rest = divmod(abs(inches), 12)
    sign = "-" if inches < 0 else ""
    if not feet:
        return f"{sign}{format_fraction(rest)} in"
    return f"{sign}{feet} ft {format_fraction(rest)} in" if rest else f"{sign}{feet} ft"
