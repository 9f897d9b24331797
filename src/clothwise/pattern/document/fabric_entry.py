"""A fabric as a make states it; `clothwise.cutting` turns it into the cloth it lays pieces on."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, fields, replace
from fractions import Fraction

from clothwise.errors import Misuse
from clothwise.pattern.document.flaw_entry import FlawEntry
from clothwise.pattern.document.repeat_entry import RepeatEntry
from clothwise.pattern.document.stretch import parse_stretch
from clothwise.pattern.document.usual_widths import narrower_of_two
from clothwise.units import LengthUnit, format_angle, format_length, parse_angle, parse_length

__all__ = [
    "LARGEST_SHRINKAGE",
    "LAYERS",
    "NAPS",
    "WIDEST_MM",
    "YES_OR_NO",
    "FabricEntry",
    "Price",
    "parse_length_at_hand",
    "parse_off_grain",
    "parse_photo_width",
    "parse_price",
    "parse_share",
    "parse_thickness",
    "parse_width",
]

WIDEST_MM = 10_000.0
"""Far above any loom; a wider cloth is a slip of units. Our own choice."""
LARGEST_SHRINKAGE = 0.25
"""More than any cloth that is sold loses in the wash. Our own choice."""
NAPS = ("none", "one way")
"""Whether pieces may be turned by half a turn."""
LAYERS = (
    "single",
    "folded",
    "partly folded",
    "folded to the middle",
    "folded crosswise",
    "face to face",
)
"""How the cloth lies to be cut."""
YES_OR_NO = ("no", "yes")
"""An answer; the first is meant where nothing is said."""
LONGEST_AT_HAND_MM = 1_000_000.0
"""A kilometer; longer is a slip of units. Our own choice."""
THICKEST_MM = 20.0
"""One layer of the thickest quilted coating is below this. Our own choice."""
LEAST_SHOWN_MM = 5.0
"""A photo of less cloth than this tells threads, not how it looks. Our own choice."""
LARGEST_OFF_GRAIN_RAD = math.radians(10)
"""Beyond this a piece hangs and twists differently, small or not. Our own choice."""


@dataclass(frozen=True, slots=True)
class Price:
    """What one meter costs; `currency` is a sign or code as written."""

    per_meter: float
    currency: str


@dataclass(frozen=True, slots=True)
class FabricEntry:
    """A cloth as it is bought, in the words of the make; empty texts were left out.

    Attributes:
        name: how roles and copies refer to it.
        width: selvage to selvage, such as `140cm`.
        title: how it is printed.
        usable_width: between the selvages.
        shrinkage_along: share of the length lost in the first wash, such as `4%`.
        shrinkage_across: share of the width.
        stretch: how far it gives across, such as `40%`; woven cloth states none.
        nap: one of `NAPS`.
        layers: one of `LAYERS`.
        price: such as `18.50 EUR/m` or `12 USD/yd`.
        fiber: for the heat of the iron.
        color: for pictures, `#rrggbb`.
        pattern: for pictures, such as `stripe`.
        length: at hand, such as `1.8m`; left out, as much as is needed can be bought.
        repeat: how its pattern comes again.
        thickness: of one layer, such as `0.4mm`.
        wrong_side_usable: one of `YES_OR_NO`; if so, pieces may lie either side up.
        grainless: one of `YES_OR_NO`; if so, pieces may lie at any quarter turn, also across it.
        off_grain: how far the grain of a small part may stray, such as `2deg`.
        flaws: what no piece may cover.
        photo: path of a picture of it, seen from the file that states it.
        photo_width: how much of the cloth the swatch of its photo shows from left to right.
        stash: name in the stash of the cloth that this is, for what is not stated here; then
            `width` may be empty, and so may `nap`, `layers`, `wrong_side_usable` and `grainless`.
    """

    name: str
    width: str
    title: str = ""
    usable_width: str = ""
    shrinkage_along: str = ""
    shrinkage_across: str = ""
    stretch: str = ""
    nap: str = "none"
    layers: str = "single"
    price: str = ""
    fiber: str = ""
    color: str = ""
    pattern: str = ""
    length: str = ""
    repeat: RepeatEntry = RepeatEntry()
    thickness: str = ""
    wrong_side_usable: str = "no"
    grainless: str = "no"
    off_grain: str = ""
    flaws: tuple[FlawEntry, ...] = ()
    photo: str = ""
    photo_width: str = ""
    stash: str = ""

    @property
    def width_mm(self) -> float:
        """The whole width."""
        return parse_width(self.width)

    @property
    def usable_width_mm(self) -> float | None:
        """The width between the selvages; None if it was left out."""
        return parse_width(self.usable_width) if self.usable_width else None

    @property
    def shrinkage_along_share(self) -> float:
        """What the length loses in the first wash, 0 to 1."""
        return parse_share(self.shrinkage_along) if self.shrinkage_along else 0.0

    @property
    def shrinkage_across_share(self) -> float:
        """What the width loses in the first wash, 0 to 1."""
        return parse_share(self.shrinkage_across) if self.shrinkage_across else 0.0

    @property
    def stretch_share(self) -> float:
        """How far the cloth gives across, as a share of its relaxed width; 0 for wovens."""
        return parse_stretch(self.stretch) if self.stretch else 0.0

    @property
    def stated_price(self) -> Price | None:
        """What a meter costs; None if it was left out."""
        return parse_price(self.price) if self.price else None

    @property
    def length_mm(self) -> float:
        """What is at hand; infinite if it was left out."""
        return parse_length_at_hand(self.length) if self.length else math.inf

    @property
    def thickness_mm(self) -> float:
        """Of one layer; 0 if it was left out."""
        return parse_thickness(self.thickness) if self.thickness else 0.0

    @property
    def photo_width_mm(self) -> float:
        """How much of the cloth the swatch of its photo shows; 0 if it was left out."""
        return parse_photo_width(self.photo_width) if self.photo_width else 0.0

    @property
    def off_grain_rad(self) -> float:
        """How far the grain of a small part may stray."""
        return parse_off_grain(self.off_grain) if self.off_grain else 0.0

    def filled_from(self, other: FabricEntry) -> FabricEntry:
        """Return this entry with everything that it leaves open as `other` states it.

        The result stands by itself: it names no cloth of a stash.
        """
        own = {
            each.name: value
            for each in fields(self)
            if each.name != "stash" and (value := getattr(self, each.name))
        }
        if self.width:  # what lies between other selvages says nothing of this width
            own.setdefault("usable_width", "")
        return replace(other, **own, stash="")


def parse_width(text: str) -> float:
    """Return the width of a cloth in mm; of two, as `44/45in` on a bolt, the narrower one.

    Raises:
        UnitError: it is no length.
        Misuse: no cloth has this width.
    """
    width = narrower_of_two(text) or parse_length(text)
    if not 0 < width <= WIDEST_MM:
        raise Misuse(
            f"no fabric is {format_length(width, LengthUnit.CENTIMETER)} wide",
            how_much=f"allowed up to {format_length(WIDEST_MM, LengthUnit.METER)}",
            what_to_do="State the width from selvage to selvage, with its unit.",
        )
    return width


def parse_length_at_hand(text: str) -> float:
    """Return the length of a cloth that is at hand, in mm.

    Raises:
        UnitError: it is no length.
        Misuse: nobody has such a length.
    """
    length = parse_length(text)
    if not 0 < length <= LONGEST_AT_HAND_MM:
        raise Misuse(
            f"no fabric is {format_length(length, LengthUnit.CENTIMETER)} long",
            how_much=f"more than 0, up to {format_length(LONGEST_AT_HAND_MM, LengthUnit.METER)}",
            what_to_do="State the length you have, with its unit, or leave it out if you can buy "
            "as much as you need.",
        )
    return length


def parse_thickness(text: str) -> float:
    """Return the thickness of one layer of cloth in mm.

    Raises:
        UnitError: it is no length.
        Misuse: no cloth is so thick.
    """
    thickness = parse_length(text)
    if not 0 < thickness <= THICKEST_MM:
        raise Misuse(
            f"no fabric is {text[:40]} thick",
            how_much=f"more than 0, up to {THICKEST_MM:g} mm",
            what_to_do="State the thickness of one layer, such as 0.4mm.",
        )
    return thickness


def parse_photo_width(text: str) -> float:
    """Return how much cloth a photo shows from left to right, in mm.

    Raises:
        UnitError: it is no length.
        Misuse: no photo shows so much, or it shows nothing.
    """
    width = parse_length(text)
    if not LEAST_SHOWN_MM <= width <= WIDEST_MM:
        raise Misuse(
            f"no photo of cloth shows {text[:40]} of it",
            how_much=f"allowed {LEAST_SHOWN_MM / 10:g} cm to "
            f"{format_length(WIDEST_MM, LengthUnit.METER)}",
            what_to_do="Measure how much cloth is seen from the left edge of the photo to its "
            "right edge, such as 30cm.",
        )
    return width


def parse_off_grain(text: str) -> float:
    """Return how far the grain of small parts may stray, in radians.

    Raises:
        UnitError: it is no angle.
        Misuse: it is negative, or so far that the part would behave differently.
    """
    angle = parse_angle(text)
    if not 0 <= angle <= LARGEST_OFF_GRAIN_RAD:
        raise Misuse(
            f"a piece {text[:40]} off the grain would hang differently",
            how_much=f"allowed 0 to {format_angle(LARGEST_OFF_GRAIN_RAD)}",
            what_to_do="State a small angle, such as 2deg, or leave it out.",
        )
    return angle


def parse_share(text: str) -> float:
    """Return a shrinkage as a share: `4%` and `0.04` are the same.

    Raises:
        Misuse: it is no share, below zero, or more than any cloth shrinks.

    >>> parse_share("2.5 %")
    0.025
    """
    written = text.strip()
    number = _SHARE.fullmatch(written.lstrip("-−"))
    if number is None:
        raise Misuse(f"{text[:40]!r} is not a share", what_to_do="Write a percentage, such as 4%.")
    share = Fraction(number["amount"].replace(",", ".")) / (100 if number["percent"] else 1)
    negative = written.startswith(("-", "−")) and share > 0
    if negative or share > Fraction(repr(LARGEST_SHRINKAGE)):
        raise Misuse(
            f"no fabric shrinks by {written[:40]}",
            how_much=f"allowed 0% to {LARGEST_SHRINKAGE:.0%}",
            what_to_do="Write a percentage of the length or width, such as 4%.",
        )
    return float(share)


def parse_price(text: str) -> Price:
    """Return a price per meter from `18.50 EUR/m`, `€18,50 / m` or `12 USD/yd`.

    Raises:
        Misuse: it is no price of a meter or a yard.

    >>> parse_price("9.144 USD/yd")
    Price(per_meter=10.0, currency='USD')
    """
    found = _PRICE.fullmatch(text.strip())
    if found is None:
        raise Misuse(
            f"{text[:40]!r} is not the price of a meter or yard",
            what_to_do="Write an amount, a currency and a unit, such as 18.50 EUR/m or 12 USD/yd.",
        )
    amount = Fraction(found["amount"].replace(",", "."))
    unit = LengthUnit.YARD if found["unit"] == "yd" else LengthUnit.METER
    per_meter = amount * LengthUnit.METER.exact_mm / unit.exact_mm
    return Price(float(per_meter), found["before"] or found["after"] or "")


_AMOUNT = r"(?P<amount>[0-9]{1,7}(?:[.,][0-9]{1,4})?)"
_SHARE = re.compile(rf"{_AMOUNT}\s*(?P<percent>%)?")
_CURRENCY = r"[^\W\d_]{1,4}|[$€£¥₹₩₽₺₴₪₫฿]"
_PRICE = re.compile(
    rf"(?P<before>{_CURRENCY})?\s*{_AMOUNT}\s*(?P<after>{_CURRENCY})?\s*/\s*(?P<unit>m|yd)"
)
