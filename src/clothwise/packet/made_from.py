"""Which measurements of the body a make is drafted from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from clothwise.components import MakeFile
from clothwise.errors import ExpressionError
from clothwise.pattern import Body
from clothwise.pattern.document.value import selected
from clothwise.pattern.expression import parse_expression
from clothwise.pattern.vocabulary import MEASUREMENTS


def made_from(file: MakeFile) -> tuple[str, ...]:
    """Names of the measurements that formulas and components read, in the vocabulary's order.

    Raises:
        DocumentError, ComponentError, MeasurementError: the make cannot be drafted.
    """
    noting = _NotingBody(file.body.name, file.body.measurements)
    replace(file, body=noting).draft()
    read = noting.read | _in_formulas(file)
    return tuple(name for name in MEASUREMENTS if name in read)


@dataclass(frozen=True)
class _NotingBody(Body):
    """A body that notes which of its measurements components ask for."""

    read: set[str] = field(default_factory=set, compare=False)

    def __getitem__(self, name: str) -> float:
        self.read.add(name)
        return super().__getitem__(name)


def _in_formulas(file: MakeFile) -> set[str]:
    """Names in the formulas of what is there, and in those of values that these need."""
    design = file.adjusted.design
    values = {name: selected(value, file.choices).text for name, value in design.values.items()}
    waiting = [
        selected(value, file.choices).text
        for entry in design.entries
        if entry.when.holds(file.choices)
        for value in entry.parameters.values()
    ]
    found: set[str] = set()
    while waiting:
        new = set(_names(waiting.pop())) - found
        found |= new
        waiting += [values[name] for name in new if name in values]
    return found


def _names(formula: str) -> Iterator[str]:
    try:
        yield from parse_expression(formula).names
    except ExpressionError:
        return  # a word, which a choice takes
