"""Limits within which a designer lets values of the design be changed to save cloth."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass

from clothwise.errors import Misuse, did_you_mean
from clothwise.pattern.expression import parse_expression
from clothwise.pattern.quantity import Quantity, QuantityKind
from clothwise.units import LengthUnit, format_angle, format_length

__all__ = [
    "LimitSpan",
    "ValueLimit",
    "adjustment_of",
    "adjustment_text",
    "check_adjustment",
    "check_limit",
    "format_adjustment",
    "parse_amount",
    "unknown_adjustment",
]

USUAL_LENGTH_STEP_MM = 1.0
"""What can still be drawn and cut. Our own choice."""
USUAL_ANGLE_STEP_RAD = math.radians(1.0)
"""Our own choice, with the same reason."""
USUAL_SHARE_STEP = 0.01
"""Of shares, which are plain numbers; counts go by 1. Our own choice."""
MOST_STEPS = 10_000
"""From one end of a limit to the other. Our own choice: a millimeter in ten meters."""
_WHOLE = 1e-9


@dataclass(frozen=True, slots=True)
class LimitSpan:
    """What a limit allows, in mm, radians or plain numbers: from `low` (0 or less) to `high`.

    `kind` is what is measured.
    """

    kind: QuantityKind
    low: float
    high: float
    step: float

    def holds(self, amount: float) -> bool:
        """Tell whether an amount lies within it."""
        return self.low - _WHOLE <= amount <= self.high + _WHOLE

    @property
    def amounts(self) -> tuple[float, ...]:
        """Every amount by steps from 0 both ways, from low to high; both ends are among them."""
        down = [-amount for amount in _steps(-self.low, self.step)]
        return (*reversed(down), 0.0, *_steps(self.high, self.step))


@dataclass(frozen=True)
class ValueLimit:
    """How far one value of a design may be changed to save cloth.

    Attributes:
        name: as formulas call it: `skirt_flare`, or one of the design's `values`; or an option.
        title: how it is called in sentences; empty for a name made from its own.
        less: how much it may be lowered, as written; empty if not at all.
        more: how much it may be raised, as written; empty if not at all.
        step: it is changed by multiples of this; empty for the usual 1 mm, 1 degree, 1 or 0.01.
        choices: of an option: those that may be taken. Then nothing else is stated.
    """

    name: str
    title: str = ""
    less: str = ""
    more: str = ""
    step: str = ""
    choices: tuple[str, ...] = ()

    @property
    def span(self) -> LimitSpan:
        """What `less`, `more` and `step` say.

        Raises:
            ExpressionError: one of them cannot be read.
            Misuse: they do not measure the same, leave nothing to change, or one is negative.
        """
        stated = {
            key: parse_amount(text)
            for key, text in (("less", self.less), ("more", self.more), ("step", self.step))
            if text
        }
        kinds = {each.kind for each in stated.values() if not each.is_bare_zero}
        less, more = (stated.get(key, Quantity(0.0)).value for key in ("less", "more"))
        if less <= 0 and more <= 0:
            raise Misuse(
                f"nothing about {self.name} may be changed",
                what_to_do="Write how much it may be lowered or raised: `less: 2cm`, `more: 1cm`.",
            )
        kind = kinds.pop() if len(kinds) == 1 else None
        if kind is None:
            raise Misuse(
                f"the limits of {self.name} do not measure the same",
                how_much=", ".join(f"{key} {each.describe()}" for key, each in stated.items()),
                what_to_do="Write all of them with units, as the value itself is written.",
            )
        step = stated["step"].value if "step" in stated else _usual_step(kind, less, more)
        if not step > 0 or less + more > step * MOST_STEPS:
            raise Misuse(
                f"the step of {self.name} is too small",
                how_much=f"{self.step or '0'}, at most {MOST_STEPS:,} steps in all",
                what_to_do="Write a step that you would still draw, such as 1mm.",
            )
        return LimitSpan(kind, -less, more, step)


def check_limit(limit: ValueLimit) -> None:
    """Refuse a limit that says nothing that can be measured.

    Raises:
        ExpressionError, Misuse: see `ValueLimit.span`.
    """
    _ = limit.span


def parse_amount(text: str) -> Quantity:
    """Return how much something may be changed: a length, an angle, a number or a percentage.

    Raises:
        ExpressionError: it cannot be read, or needs a name.
        Misuse: it is negative.

    >>> parse_amount("2cm").value, parse_amount("5%").value
    (20.0, 0.05)
    """
    found = _quantity(text)
    if found.value < 0:
        raise Misuse(
            f"{text[:40]!r} is negative",
            what_to_do="Write how much without a sign; `less` lowers, `more` raises.",
        )
    return found


def adjustment_of(text: str) -> Quantity:
    """Return a change as a make states it: `-8mm` lowers a value by 8 mm.

    Raises:
        ExpressionError: it cannot be read, or needs a name.
    """
    return _quantity(text)


def check_adjustment(text: str, limit: ValueLimit, unit: LengthUnit) -> None:
    """Refuse a change that the limit does not allow.

    Raises:
        ExpressionError: it cannot be read, or needs a name.
        Misuse: it measures something else, or is more than the limit allows.
    """
    change, span = _quantity(text), limit.span
    allowed = (
        f"allowed {format_adjustment(span.low, span.kind, unit)} "
        f"to {format_adjustment(span.high, span.kind, unit)}"
    )
    if not change.is_of_kind(span.kind):
        raise Misuse(
            f"{text[:40]!r} is {change.describe()}, but {limit.name} is {span.kind.value}",
            how_much=allowed,
            what_to_do="Write how much it changes, with its unit: `-8mm` lowers it.",
        )
    if not span.holds(change.value):
        raise Misuse(
            f"the design does not let {limit.name} be changed so far",
            how_much=f"{format_adjustment(change.value, span.kind, unit)}, {allowed}",
            what_to_do="Keep within the limits of the design, or widen them there.",
        )


def adjustment_text(amount: float, kind: QuantityKind) -> str:
    """Return a change as it is written: in millimeters or degrees, with its sign.

    >>> adjustment_text(-8.0, QuantityKind.LENGTH)
    '-8mm'
    """
    if kind is QuantityKind.LENGTH:
        return f"{amount:+.6g}mm"
    if kind is QuantityKind.ANGLE:
        return f"{math.degrees(amount):+.6g}deg"
    return f"{amount:+.6g}"


def format_adjustment(amount: float, kind: QuantityKind, unit: LengthUnit) -> str:
    """Return a change as people read it; zero has no sign.

    >>> format_adjustment(-8.0, QuantityKind.LENGTH, LengthUnit.MILLIMETER)
    '-8 mm'
    """
    sign = "-" if amount < 0 else ""
    size = abs(amount)
    if kind is QuantityKind.LENGTH:
        return sign + format_length(size, unit)
    return sign + (format_angle(size) if kind is QuantityKind.ANGLE else f"{size:.6g}")


def unknown_adjustment(name: str, limits: Mapping[str, ValueLimit]) -> Misuse:
    """Return what to say about a change of something that the design sets no limits for."""
    known = [each.name for each in limits.values() if not each.choices]
    return Misuse(
        f"the design sets no limits for {name[:60]!r}, so a make cannot change it",
        what_to_do=did_you_mean(name, known, of_what="limits")
        if known
        else "State it under `limits:` in the design, or change the design itself.",
    )


def _quantity(text: str) -> Quantity:
    percent = _PERCENT.fullmatch(text.strip())
    if percent is not None:
        return Quantity.number(float(percent["number"]) / 100)
    return parse_expression(text).evaluate({})


def _usual_step(kind: QuantityKind, less: float, more: float) -> float:
    if kind is QuantityKind.LENGTH:
        return USUAL_LENGTH_STEP_MM
    if kind is QuantityKind.ANGLE:
        return USUAL_ANGLE_STEP_RAD
    whole = all(abs(each - round(each)) < _WHOLE for each in (less, more))
    return 1.0 if whole else USUAL_SHARE_STEP


def _steps(end: float, step: float) -> list[float]:
    """Multiples of the step up to an end that counts as one: 2, 4, 5 to 5 in steps of 2."""
    if end <= 0:
        return []
    found = [step * number for number in range(1, int(end / step + _WHOLE) + 1)]
    return found if found and found[-1] > end - _WHOLE else [*found, end]


_PERCENT = re.compile(r"(?P<number>[-+]?[0-9]{1,4}(?:\.[0-9]{1,6})?)\s*%")
