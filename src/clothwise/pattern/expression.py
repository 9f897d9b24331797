"""Formulas in plain arithmetic over named measurements and parameters, with units.

A formula is what a person would write in Python or on paper: `waist_to_knee + 25cm`,
`min(bust_girth / 4, 30cm)`, `2 * (hip_girth + 6cm) / 4`. Nothing in it is ever executed as Python:
a small parser of our own reads it and builds nested closures over floats. So a formula cannot
reach attributes, files or the network, and its length, nesting and exponents are bounded.

    sum      product, + and -
    product  unary, * / // and %
    unary    any number of signs, then a power
    power    atom ** unary
    atom     2.5   2.5cm   3/8in   1 5/8in   30deg   name   pi   min(...)   ( sum )

Lengths, angles and plain numbers are kept apart. A length times a length is an area, and is
refused where a length is wanted; a length plus a plain number is always refused, because nobody
can know which unit was meant. Only a literal 0 needs no unit. A fraction directly before a unit
(`3/8in`) is one length, not a division.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

from clothwise.errors import ExpressionError, did_you_mean, meant_instead
from clothwise.pattern.quantity import (
    ARGUMENT_COUNTS,
    FUNCTIONS,
    PI,
    PRODUCTS,
    SUMS,
    Operation,
    Place,
    Quantity,
    QuantityKind,
    negate,
    raise_to,
    refuse_wrong_kind,
    shortened,
)
from clothwise.units import LengthUnit

__all__ = ["MAX_DEPTH", "MAX_TEXT_LENGTH", "Expression", "parse_expression", "unknown_names"]

MAX_TEXT_LENGTH = 1000
"""Characters in one formula. Our own choice: the longest in a real design has about 100."""
MAX_DEPTH = 30
"""Parentheses, calls and powers inside each other. Our own choice; people stop at 4."""

_Values = Mapping[str, Quantity]
_Compute = Callable[[_Values], Quantity]


@dataclass(frozen=True, slots=True)
class Expression:
    """A formula that has been read. Made by `parse_expression`; equal if written alike.

    Attributes:
        text: the formula as written.
        names: the measurements and parameters that it mentions.
    """

    text: str
    names: frozenset[str]
    _compute: _Compute = field(repr=False, compare=False)

    def evaluate(
        self, values: Mapping[str, Quantity], *, kind: QuantityKind | None = None
    ) -> Quantity:
        """Return what the formula amounts to.

        Args:
            values: at least all of `names`.
            kind: what the result must measure; None lets every kind pass.

        Raises:
            ExpressionError: a name is unknown, kinds do not go together, a division by zero, a
                result beyond `MAX_RESULT`, or a result of another kind than `kind`.
        """
        if not self.names <= values.keys():
            raise unknown_names(self, values)
        result = self._compute(values)
        refuse_wrong_kind(result, kind, self.text)
        return result

    def column_of(self, name: str) -> int:
        """Return the column, counted from 1, where one of `names` first stands."""
        first = re.search(rf"(?<![A-Za-z0-9_]){re.escape(name)}(?![A-Za-z0-9_])", self.text)
        return first.start() + 1 if first else 1

    def __reduce__(self) -> tuple[Callable[[str], Expression], tuple[str]]:
        return parse_expression, (self.text,)


@lru_cache(maxsize=4096)
def parse_expression(text: str) -> Expression:
    """Read a formula.

    Raises:
        ExpressionError: the text is no formula; carries the column and a remedy.

    >>> parse_expression("waist_to_knee + 25cm").evaluate(
    ...     {"waist_to_knee": Quantity.length(580)}).value
    830.0
    """
    if len(text) > MAX_TEXT_LENGTH:
        raise ExpressionError(
            "the formula is too long",
            where=shortened(text),
            how_much=f"{len(text)} characters, at most {MAX_TEXT_LENGTH}",
            what_to_do="Split it into named parameters.",
            text=text,
        )
    if not text.strip():
        raise ExpressionError(
            "the formula is empty",
            what_to_do="Write a value such as 25cm, or a formula such as waist_to_knee + 25cm.",
            text=text,
        )
    parser = _Parser(text)
    compute = parser.whole()
    return Expression(text, frozenset(parser.names), compute)


_INCH_SIGNS = ('"', "″", "”")
_EXACT_UNITS: Mapping[str, Fraction] = {
    **{unit.value: unit.exact_mm for unit in LengthUnit},
    **dict.fromkeys(_INCH_SIGNS, LengthUnit.INCH.exact_mm),
}
_ANGLE_UNITS = {"deg": math.pi / 180, "°": math.pi / 180, "rad": 1.0}
_WORD_UNITS = [name for name in (*_EXACT_UNITS, *_ANGLE_UNITS) if name.isalpha()]
_WORD_UNIT = "|".join(sorted(_WORD_UNITS, key=len, reverse=True))
_UNIT = rf'(?:(?:{_WORD_UNIT})(?![A-Za-z0-9_])|["″”°])'
_LITERAL = re.compile(
    rf"""
    (?: (?:(?P<whole>[0-9]+)[ ]+)? (?P<over>[0-9]+)/(?P<under>[0-9]+) [ ]* (?P<of>{_UNIT})
      | (?P<decimal>(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)
        (?:[ ]*(?P<unit>{_UNIT}))?
    )""",
    re.VERBOSE,
)
_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
_OPERATOR = re.compile(r"\*\*|//|[-+*/%(),]")
_SPACE = re.compile(r"[ \t\r\n]*")

_WORD_BEFORE = re.compile(r"([A-Za-z_]\w*)\s+$")
_EXAMPLES = ("bust_girth", "waist_girth", "hip_girth", "height")
"""Measurements that everybody knows, to show how one is written."""

_HINTS = {
    "^": "Write ** for a power.",
    "×": "Write * to multiply.",
    "·": "Write * to multiply.",
    "÷": "Write / to divide.",
    "−": "Write a plain minus sign, -.",
    "–": "Write a plain minus sign, -.",
    ".": "Names have no parts; write the whole name of a measurement or parameter.",
    "=": "Write only what stands right of the equals sign.",
    "0": "An operator is missing; a mixed number needs its unit, such as 1 5/8in.",
    ",": "A decimal number takes a point: 2.5cm.",
}


class _Parser:
    """One pass over one formula; each method reads one level of the grammar above."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.names: set[str] = set()
        self._depth = 0
        self._move_to(0)

    def whole(self) -> _Compute:
        compute = self._sum()
        if self._at < len(self.text):
            raise self._unexpected()
        return compute

    def _sum(self) -> _Compute:
        return self._chain(self._product, SUMS)

    def _product(self) -> _Compute:
        return self._chain(self._unary, PRODUCTS)

    def _chain(self, part: Callable[[], _Compute], operations: Mapping[str, Operation]) -> _Compute:
        """Read operands joined by operators of one rank; flat, so that long sums stay shallow."""
        first = part()
        rest: list[tuple[Operation, _Compute, Place]] = []
        while (symbol := self._peek_operator()) in operations:
            place = self._place()
            self._take(symbol)
            rest.append((operations[symbol], part(), place))
        if not rest:
            return first

        def compute(values: _Values) -> Quantity:
            result = first(values)
            for operation, operand, place in rest:
                result = operation(result, operand(values), place)
            return result

        return compute

    def _unary(self) -> _Compute:
        negative = False
        while (symbol := self._peek_operator()) in ("-", "+"):
            negative ^= symbol == "-"
            self._take(symbol)
        power = self._power()
        if not negative:
            return power
        return lambda values: negate(power(values))

    def _power(self) -> _Compute:
        base = self._atom()
        if self._peek_operator() != "**":
            return base
        place = self._place()
        self._take("**")
        self._descend()
        exponent = self._unary()
        self._depth -= 1
        return lambda values: raise_to(base(values), exponent(values), place)

    def _atom(self) -> _Compute:
        literal = _LITERAL.match(self.text, self._at)
        if literal is not None:
            quantity = self._literal(literal)
            return lambda values: quantity
        name = _NAME.match(self.text, self._at)
        if name is not None:
            return self._name_or_call(name[0])
        if self._peek_operator() == "(":
            self._take("(")
            self._descend()
            inner = self._sum()
            self._depth -= 1
            self._expect(")")
            return inner
        raise self._unexpected()

    def _literal(self, literal: re.Match[str]) -> Quantity:
        place = self._place()
        part = literal.groupdict()
        unit = part["of"] or part["unit"] or ""
        try:
            if part["of"] is None:
                amount = Fraction(repr(float(part["decimal"])))
            else:
                amount = Fraction(int(part["over"]), int(part["under"])) + int(part["whole"] or 0)
            value = float(amount * _EXACT_UNITS.get(unit, 1))
        except ZeroDivisionError:
            raise place.error("this divides by zero", "Write a fraction such as 5/8in.") from None
        except (OverflowError, ValueError):  # beyond the largest float
            raise place.too_large() from None
        self._move_to(literal.end())
        self._refuse_name_after(literal[0])
        if not unit:
            return Quantity(value, is_bare_zero=value == 0)
        if unit in _ANGLE_UNITS:
            return Quantity.angle(value * _ANGLE_UNITS[unit])
        return Quantity.length(value)

    def _refuse_name_after(self, literal: str) -> None:
        """Refuse `2.5cn` and `2 bust_girth` with a message that tells the two apart."""
        name = _NAME.match(self.text, self._at)
        if name is None:
            return
        number, word = shortened(literal), shortened(name[0])
        raise self._place().error(
            f"{word} follows {number} without an operator",
            f"To multiply, write {number} * {word}. "
            f"If a unit was meant, the units are {', '.join(_WORD_UNITS)}.",
        )

    def _name_or_call(self, name: str) -> _Compute:
        place = self._place()
        self._move_to(self._at + len(name))
        if self._peek_operator() == "(":
            return self._call(name, place)
        if name == "pi":
            return lambda values: PI
        if name in FUNCTIONS:
            raise place.error(
                f"{name} is a function and needs its arguments",
                f"Write {name}(...) around what it works on.",
            )
        self.names.add(name)
        return lambda values: values[name]

    def _call(self, name: str, place: Place) -> _Compute:
        function = FUNCTIONS.get(name)
        if function is None:
            raise place.error(
                f"{shortened(name)} is not a function that formulas know",
                did_you_mean(name, FUNCTIONS, of_what="functions"),
            )
        self._take("(")
        self._descend()
        arguments = [self._sum()]
        while self._peek_operator() == ",":
            self._take(",")
            arguments.append(self._sum())
        self._depth -= 1
        self._expect(")")
        _refuse_wrong_count(name, len(arguments), place)
        return lambda values: function([each(values) for each in arguments], place)

    def _place(self) -> Place:
        return Place(self.text, self._at + 1)

    def _peek_operator(self) -> str:
        symbol = _OPERATOR.match(self.text, self._at)
        return symbol[0] if symbol else ""

    def _take(self, symbol: str) -> None:
        self._move_to(self._at + len(symbol))

    def _expect(self, symbol: str) -> None:
        if self._peek_operator() != symbol:
            if self._at >= len(self.text):
                raise self._place().error(
                    f"a {symbol} is missing at the end", f"Close the parenthesis with {symbol}."
                )
            raise self._unexpected()
        self._take(symbol)

    def _move_to(self, index: int) -> None:
        space = _SPACE.match(self.text, index)
        self._at = space.end() if space else index

    def _descend(self) -> None:
        self._depth += 1
        if self._depth > MAX_DEPTH:
            raise self._place().error(
                "too many parentheses, calls or powers inside each other",
                "Split the formula into named parameters.",
                how_much=f"at most {MAX_DEPTH}",
            )

    def _unexpected(self) -> ExpressionError:
        if self._at >= len(self.text):
            return self._place().error(
                "the formula breaks off", "Write what is missing at the end."
            )
        symbol = self.text[self._at]
        name = _NAME.match(self.text, self._at)
        shown = shortened(name[0]) if name else symbol
        if symbol.isdecimal():
            symbol = "0"
        if name and (before := _WORD_BEFORE.search(self.text, 0, self._at)):
            whole = f"{before[1]}_{name[0]}"
            return self._place().error(
                f"{shown!r} does not fit here",
                f"If these words are one name, write it with an underscore: {shortened(whole)}.",
            )
        hint = _HINTS.get(
            symbol,
            "Formulas have numbers with units, names, + - * / // % **, parentheses, and "
            f"{', '.join(FUNCTIONS)}.",
        )
        return self._place().error(f"{shown!r} does not fit here", hint)


def _refuse_wrong_count(name: str, count: int, place: Place) -> None:
    fewest, most = ARGUMENT_COUNTS[name]
    if fewest <= count and (most is None or count <= most):
        return
    if most is None:
        allowed = f"at least {fewest} arguments"
    elif most > fewest:
        allowed = f"{fewest} or {most} arguments"
    else:
        allowed = "1 argument"
    raise place.error(
        f"{name} takes {allowed}, not {count}",
        f"Separate what {name} works on with commas; decimals take a point.",
    )


def unknown_names(expression: Expression, values: Iterable[str]) -> ExpressionError:
    """Return the error for the names in a formula that `values` does not have."""
    known = [*values]
    unknown = sorted(expression.names - set(known), key=expression.column_of)
    remedies = []
    for name in unknown[:3]:
        if name in _EXACT_UNITS or name in _ANGLE_UNITS:
            remedies.append(f"{name} is a unit; write it right after a number, such as 2.5{name}.")
        else:
            remedies.append(meant_instead(name, known) or _what_can_be_written(known))
    remedies = list(dict.fromkeys(remedies))
    shown = " or ".join(f'"{shortened(name)}"' for name in unknown)
    column = f"column {expression.column_of(unknown[0])} of '{shortened(expression.text)}'"
    return ExpressionError(
        f"there is no measurement or value called {shown}",
        where="" if expression.text.strip() == unknown[0] else column,
        what_to_do=" ".join(remedies),
        text=expression.text,
    )


def _what_can_be_written(known: Sequence[str]) -> str:
    """For a name that is like none: one example says more than the first of a hundred names."""
    example = next((name for name in _EXAMPLES if name in known), known[0] if known else "")
    named = f", or a measurement such as {example}; Measure lists them" if example else ""
    return f"Write a length such as 12cm or 5in{named}."
