"""The wording of operations: templates filled with values in the reader's unit.

`{allowance}`, `{ease}`, `{notches}` and `{length}` describe the first seam, finish or placement
that the operation carries out; other names are lengths that the operation gives. A passage in
square brackets is left out if one of its values is nothing: "[Ease in {ease}. ]".
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from string import Formatter

from clothwise.pattern.graph import Seam
from clothwise.pattern.mark import NotchKind
from clothwise.pattern.operation import Operation
from clothwise.pattern.pattern import Pattern, Use, runs_of
from clothwise.units import LengthUnit, format_inches, format_length, format_mm
from clothwise.work.errors import UnknownPlaceholder

SHORT_MM = 10.0
"""Metric readers get shorter lengths in mm, longer ones in cm; our own choice."""

NOTHING_MM = 0.25
"""A shorter length counts as nothing: no ruler shows it, no seam keeps it. Our own choice."""

_OPTIONAL = re.compile(r"\[([^\[\]]*)\]")


@dataclass(frozen=True)
class _Value:
    text: str
    is_nothing: bool


def spoken_length(length_mm: float, unit: LengthUnit) -> str:
    """A length as an instruction says it.

    Inches are given to 1/8, below that as finely as it needs to be more than nothing.

    >>> spoken_length(15, LengthUnit.CENTIMETER), spoken_length(8, LengthUnit.CENTIMETER)
    ('1.5 cm', '8 mm')
    >>> spoken_length(15, LengthUnit.INCH), spoken_length(1.2, LengthUnit.INCH)
    ('5/8 in', '1/16 in')
    """
    if unit is LengthUnit.CENTIMETER and abs(length_mm) < SHORT_MM:
        return format_mm(length_mm)
    if unit is LengthUnit.INCH:
        for denominator in (8, 16, 32, 64):
            text = format_inches(length_mm, denominator=denominator)
            if text != "0 in":
                return text
    return format_length(length_mm, unit)


def worded(pattern: Pattern, operation: Operation, unit: LengthUnit) -> str:
    """The text of an operation with its values filled in.

    Raises:
        UnknownPlaceholder: the text asks for a value that there is not.
    """
    values = _values(pattern, operation, unit)
    text = _OPTIONAL.sub(lambda found: _optional(operation, found.group(1), values), operation.text)
    return " ".join(_filled(operation, text, values).split())


def placeholders(text: str) -> tuple[str, ...]:
    """Names of the placeholders of a template, in order, each once."""
    fields = (field for _, field, _, _ in Formatter().parse(text) if field is not None)
    return tuple(dict.fromkeys(fields))


def _optional(operation: Operation, passage: str, values: dict[str, _Value]) -> str:
    for name in placeholders(passage):
        if name in values and values[name].is_nothing:
            return ""
    return passage


def _filled(operation: Operation, text: str, values: dict[str, _Value]) -> str:
    parts: list[str] = []
    for literal, field, _, _ in Formatter().parse(text):
        parts.append(literal)
        if field is None:
            continue
        if field not in values:
            raise UnknownPlaceholder(operation.name, field, tuple(values))
        parts.append(values[field].text)
    return "".join(parts)


def _values(pattern: Pattern, operation: Operation, unit: LengthUnit) -> dict[str, _Value]:
    values: dict[str, _Value] = {}
    if operation.does:
        use = pattern.use(operation.does[0])
        values["allowance"] = _length(use.allowance_mm, unit)
        values["ease"] = _length(ease_of(use), unit)
        values["length"] = _length(pattern.run_length(runs_of(use)[0]), unit)
        words = notches_of(use)
        values["notches"] = _Value(words or "ends", not words)
    values |= {name: _length(length_mm, unit) for name, length_mm in operation.values}
    return values


def _length(length_mm: float, unit: LengthUnit) -> _Value:
    return _Value(spoken_length(length_mm, unit), abs(length_mm) < NOTHING_MM)


def ease_of(use: Use) -> float:
    """The largest ease between the layers of a seam, mm; nothing for other uses."""
    if not isinstance(use, Seam):
        return 0.0
    return max((abs(layer.ease_mm) for layer in use.layers), default=0.0)


def notches_of(use: Use) -> str:
    """The notches of a seam in words: "single and double notches"; empty if it has none."""
    if not isinstance(use, Seam):
        return ""
    kinds = [match.notch for match in use.matches]
    words = [
        word
        for kind, word in ((NotchKind.SINGLE, "single"), (NotchKind.DOUBLE, "double"))
        if kind in kinds
    ]
    return " and ".join(words) + " notches" if words else ""
