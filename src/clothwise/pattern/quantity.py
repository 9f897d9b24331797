"""Values that know what they measure, and the arithmetic that keeps the kinds apart.

A length plus a length is a length, a length times a length an area, a length plus a plain number
an error: nobody can know which unit was meant. Lengths are in mm, angles in radians. Only a 0
written without a unit goes with everything.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

from clothwise.errors import ExpressionError

__all__ = [
    "ARGUMENT_COUNTS",
    "FUNCTIONS",
    "MAX_EXPONENT",
    "MAX_RESULT",
    "PI",
    "PRODUCTS",
    "SUMS",
    "Operation",
    "Place",
    "Quantity",
    "QuantityKind",
    "negate",
    "raise_to",
    "refuse_wrong_kind",
    "shortened",
]

MAX_EXPONENT = 10
"""The largest exponent either way. Our own choice; drafting needs 2."""
MAX_RESULT = 1e9
"""The largest result, in mm, radians or plain: a thousand kilometers. Our own choice."""
_OVERFLOW = 1e300
"""Intermediate results beyond this are refused before floats run into infinity."""


class QuantityKind(Enum):
    """What a quantity measures. The value is how it is called in messages."""

    NUMBER = "a plain number"
    LENGTH = "a length"
    ANGLE = "an angle"


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value with what it measures: lengths in mm, angles in radians, areas in mm².

    `is_bare_zero` marks a 0 that was written without a unit and may stand for any kind.
    """

    value: float
    length_power: int = 0
    angle_power: int = 0
    is_bare_zero: bool = False

    @classmethod
    def number(cls, value: float) -> Quantity:
        """Return a plain number."""
        return cls(value)

    @classmethod
    def length(cls, value_mm: float) -> Quantity:
        """Return a length."""
        return cls(value_mm, length_power=1)

    @classmethod
    def angle(cls, value_rad: float) -> Quantity:
        """Return an angle."""
        return cls(value_rad, angle_power=1)

    @property
    def kind(self) -> QuantityKind | None:
        """What this measures; None for an area or any other product that no parameter takes."""
        return _KINDS.get((self.length_power, self.angle_power))

    def is_of_kind(self, kind: QuantityKind) -> bool:
        """Tell whether this can be used where `kind` is wanted."""
        return self.is_bare_zero or self.kind is kind

    def describe(self) -> str:
        """Return what this is in words: `a length`, `an area`."""
        if self.kind is not None:
            return self.kind.value
        if (self.length_power, self.angle_power) == (2, 0):
            return "an area"
        return "neither a number, a length nor an angle"


_KINDS = {(0, 0): QuantityKind.NUMBER, (1, 0): QuantityKind.LENGTH, (0, 1): QuantityKind.ANGLE}


@dataclass(frozen=True, slots=True)
class Place:
    """A column of a formula, for messages. `column` counts from 1."""

    text: str
    column: int

    def error(self, what: str, what_to_do: str, *, how_much: str = "") -> ExpressionError:
        """Return an error that points at this place."""
        return ExpressionError(
            what,
            where=f"column {self.column} of '{shortened(self.text)}'",
            how_much=how_much,
            what_to_do=what_to_do,
            text=self.text,
        )

    def too_large(self) -> ExpressionError:
        """Return the error for a number beyond what is reckoned with."""
        return self.error(
            "the number becomes too large",
            "Check the units and the exponents.",
            how_much=f"at most {MAX_RESULT:.0e} mm",
        )


Operation = Callable[[Quantity, Quantity, Place], Quantity]
"""What an operator does to its two operands; the place is for messages."""
Function = Callable[[Sequence[Quantity], Place], Quantity]
"""What a call does to its arguments; the place is for messages."""
PI = Quantity(math.pi)


def negate(of: Quantity) -> Quantity:
    """Return the quantity with its sign turned."""
    return Quantity(-of.value, of.length_power, of.angle_power, of.is_bare_zero)


def _matched(left: Quantity, right: Quantity, place: Place, doing: str) -> Quantity:
    """Return whichever operand tells the kind of both, or refuse to mix kinds."""
    if left.length_power == right.length_power and left.angle_power == right.angle_power:
        return left if not left.is_bare_zero else right
    if left.is_bare_zero:
        return right
    if right.is_bare_zero:
        return left
    numbers = [each for each in (left, right) if each.kind is QuantityKind.NUMBER]
    others = [each for each in (left, right) if each.kind is not QuantityKind.NUMBER]
    if numbers and others[0].kind is QuantityKind.LENGTH:
        amount = f"{numbers[0].value:.6g}"
        remedy = f"Give the plain number a unit, such as {amount}cm, {amount}mm or {amount}in."
    elif numbers and others[0].kind is QuantityKind.ANGLE:
        remedy = f"Give the plain number a unit, such as {numbers[0].value:.6g}deg."
    else:
        remedy = "Use quantities of the same kind."
    raise place.error(f"{left.describe()} and {right.describe()} {doing}", remedy)


def _like(kind_of: Quantity, value: float, place: Place) -> Quantity:
    _refuse_unreal(value, place)
    return Quantity(value, kind_of.length_power, kind_of.angle_power, kind_of.is_bare_zero)


def _refuse_unreal(value: float, place: Place) -> None:
    """Refuse what is beyond all reckoning, or not a number."""
    if not -_OVERFLOW < value < _OVERFLOW:
        raise place.too_large()


def _add(left: Quantity, right: Quantity, place: Place) -> Quantity:
    kind_of = _matched(left, right, place, "cannot be added")
    return _like(kind_of, left.value + right.value, place)


def _subtract(left: Quantity, right: Quantity, place: Place) -> Quantity:
    kind_of = _matched(left, right, place, "cannot be subtracted from each other")
    return _like(kind_of, left.value - right.value, place)


def _multiply(left: Quantity, right: Quantity, place: Place) -> Quantity:
    return _product_of(left, right, left.value * right.value, 1, place)


def _divide(left: Quantity, right: Quantity, place: Place) -> Quantity:
    _refuse_zero(right, place)
    return _product_of(left, right, left.value / right.value, -1, place)


def _product_of(left: Quantity, right: Quantity, value: float, sign: int, place: Place) -> Quantity:
    _refuse_unreal(value, place)
    return Quantity(
        value,
        left.length_power + sign * right.length_power,
        left.angle_power + sign * right.angle_power,
        left.is_bare_zero and right.kind is QuantityKind.NUMBER,
    )


def _floor_divide(left: Quantity, right: Quantity, place: Place) -> Quantity:
    _matched(left, right, place, "cannot be divided into whole times")
    _refuse_zero(right, place)
    return _like(PI, left.value // right.value, place)


def _remainder(left: Quantity, right: Quantity, place: Place) -> Quantity:
    kind_of = _matched(left, right, place, "leave no remainder of one kind")
    _refuse_zero(right, place)
    return _like(kind_of, left.value % right.value, place)


def raise_to(base: Quantity, exponent: Quantity, place: Place) -> Quantity:
    """Return a power; the exponent is a small plain number, whole unless the base is plain.

    Raises:
        ExpressionError: any other exponent, a root of a negative number, or a division by zero.
    """
    power = exponent.value
    if exponent.kind is not QuantityKind.NUMBER:
        raise place.error(
            f"the exponent is {exponent.describe()}", "Use a plain number as the exponent."
        )
    if abs(power) > MAX_EXPONENT:
        raise place.error(
            "the exponent is too large",
            "Use a smaller one; for an area, write ** 2.",
            how_much=f"{power:.6g}, at most {MAX_EXPONENT}",
        )
    if base.kind is not QuantityKind.NUMBER and power != int(power):
        raise place.error(
            f"{base.describe()} can only be raised to a whole power",
            "For the square root of an area write sqrt(...).",
        )
    if base.value == 0 and power < 0:
        raise _zero_divisor(place)
    if base.value < 0 and power != int(power):
        raise place.error(
            "a negative number has no such root", "Check which of the two numbers is larger."
        )
    try:
        value = base.value**power
    except OverflowError:
        raise place.too_large() from None
    _refuse_unreal(value, place)
    whole = int(power)
    return Quantity(value, base.length_power * whole, base.angle_power * whole)


def _refuse_zero(divisor: Quantity, place: Place) -> None:
    if divisor.value == 0:
        raise _zero_divisor(place)


def _zero_divisor(place: Place) -> ExpressionError:
    return place.error(
        "this divides by zero", "Check the value that the formula divides by; here it is 0."
    )


def _extreme(pick: Callable[[Iterable[float]], float]) -> Function:
    def function(arguments: Sequence[Quantity], place: Place) -> Quantity:
        kind_of = arguments[0]
        for other in arguments[1:]:
            kind_of = _matched(kind_of, other, place, "cannot be compared")
        return _like(kind_of, pick([each.value for each in arguments]), place)

    return function


def _absolute(arguments: Sequence[Quantity], place: Place) -> Quantity:
    return _like(arguments[0], abs(arguments[0].value), place)


def _to_step(rounding: Callable[[float], int]) -> Function:
    """Round a plain number to a whole one, or any quantity to a multiple of a step of its kind."""

    def function(arguments: Sequence[Quantity], place: Place) -> Quantity:
        amount = arguments[0]
        if len(arguments) == 1:
            if amount.kind is not QuantityKind.NUMBER:
                raise place.error(
                    f"{amount.describe()} can only be rounded to a step",
                    "Add the step as a second argument, such as round(bust_girth / 4, 5mm).",
                )
            _refuse_unreal(amount.value, place)
            return _like(amount, float(rounding(amount.value)), place)
        step = arguments[1]
        if step.kind is QuantityKind.NUMBER:
            raise place.error(
                "the step to round to is a plain number",
                "Give the step a unit, such as 5mm; whole numbers need no step.",
            )
        kind_of = _matched(amount, step, place, "cannot be rounded to each other")
        _refuse_zero(step, place)
        steps = amount.value / step.value
        _refuse_unreal(steps, place)
        return _like(kind_of, rounding(steps) * step.value, place)

    return function


def _root(arguments: Sequence[Quantity], place: Place) -> Quantity:
    of = arguments[0]
    if of.length_power % 2 or of.angle_power % 2:
        raise place.error(
            f"{of.describe()} has no square root that could be drafted",
            "Take the root of a plain number or of an area, such as sqrt(a * a + b * b).",
        )
    if of.value < 0:
        raise place.error(
            "a negative number has no square root", "Check which of the two numbers is larger."
        )
    return Quantity(math.sqrt(of.value), of.length_power // 2, of.angle_power // 2)


def _of_angle(ratio: Callable[[float], float]) -> Function:
    def function(arguments: Sequence[Quantity], place: Place) -> Quantity:
        if not arguments[0].is_of_kind(QuantityKind.ANGLE):
            raise place.error(
                f"this needs an angle but has {arguments[0].describe()}",
                "Give it a unit, such as 30deg.",
            )
        _refuse_unreal(arguments[0].value, place)
        return _like(PI, ratio(arguments[0].value), place)

    return function


FUNCTIONS: Mapping[str, Function] = {
    "min": _extreme(min),
    "max": _extreme(max),
    "abs": _absolute,
    "round": _to_step(round),
    "floor": _to_step(math.floor),
    "ceil": _to_step(math.ceil),
    "sqrt": _root,
    "sin": _of_angle(math.sin),
    "cos": _of_angle(math.cos),
    "tan": _of_angle(math.tan),
}
"""The calls that formulas know; all others are refused."""

ARGUMENT_COUNTS: Mapping[str, tuple[int, int | None]] = {
    "min": (2, None),
    "max": (2, None),
    "round": (1, 2),
    "floor": (1, 2),
    "ceil": (1, 2),
    **dict.fromkeys(("abs", "sqrt", "sin", "cos", "tan"), (1, 1)),
}
"""The fewest and the most arguments of each call; None is any number."""
SUMS: Mapping[str, Operation] = {"+": _add, "-": _subtract}
PRODUCTS: Mapping[str, Operation] = {
    "*": _multiply,
    "/": _divide,
    "//": _floor_divide,
    "%": _remainder,
}


def refuse_wrong_kind(result: Quantity, kind: QuantityKind | None, text: str) -> None:
    """Raise ExpressionError if `result` of the formula `text` is not of the wanted kind.

    None lets every kind pass; a result beyond `MAX_RESULT` is always refused.
    """
    if not abs(result.value) <= MAX_RESULT:  # so written that a NaN is refused too
        raise Place(text, 1).too_large()
    if kind is None or result.is_of_kind(kind):
        return
    if kind is QuantityKind.LENGTH and result.kind is QuantityKind.NUMBER:
        amount = f"{result.value:.6g}"
        remedy = f"Write a unit, such as {amount}cm, {amount}mm or {amount}in."
    elif kind is QuantityKind.ANGLE and result.kind is QuantityKind.NUMBER:
        remedy = f"Write a unit, such as {result.value:.6g}deg."
    elif kind is QuantityKind.LENGTH and result.length_power == 2:
        remedy = "Multiply by a plain number instead of a second length, or divide by a length."
    elif kind is QuantityKind.NUMBER and result.kind is QuantityKind.LENGTH:
        remedy = "Leave the unit out, or divide by a length."
    else:
        remedy = f"Write a formula that gives {kind.value}."
    raise ExpressionError(
        f"this gives {result.describe()} where {kind.value} is needed",
        where=f"'{shortened(text)}'",
        what_to_do=remedy,
        text=text,
    )


def shortened(text: str) -> str:
    """Return a text on one line and of at most 60 characters, for messages."""
    flat = " ".join(text.split())
    return flat if len(flat) <= 60 else f"{flat[:57]}..."
