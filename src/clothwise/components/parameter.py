"""Parameters of components: a default, a range, a unit and a sentence of help."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import Enum
from typing import Any


class ParameterKind(Enum):
    """What a parameter measures."""

    LENGTH = "length"
    ANGLE = "angle"
    RATIO = "ratio"
    COUNT = "count"
    CHOICE = "choice"


@dataclass(frozen=True)
class Parameter:
    """What may be said about one field of a component.

    `low` and `high` are in mm, radians, plain numbers or counts by `kind`; `choices` are the
    words a choice may be written with.
    """

    kind: ParameterKind
    help: str
    low: float = 0.0
    high: float = 0.0
    choices: tuple[str, ...] = ()


def length(default_mm: float, low_mm: float, high_mm: float, help: str) -> Any:
    """A length; name the field with `_mm` at its end."""
    return _field(default_mm, Parameter(ParameterKind.LENGTH, help, low_mm, high_mm))


def angle(default_rad: float, low_rad: float, high_rad: float, help: str) -> Any:
    """An angle; name the field with `_rad` at its end."""
    return _field(default_rad, Parameter(ParameterKind.ANGLE, help, low_rad, high_rad))


def ratio(default: float, low: float, high: float, help: str) -> Any:
    """A plain number."""
    return _field(default, Parameter(ParameterKind.RATIO, help, low, high))


def count(default: int, low: int, high: int, help: str) -> Any:
    """A whole number."""
    return _field(default, Parameter(ParameterKind.COUNT, help, low, high))


def choice(default: Enum, help: str) -> Any:
    """One of the members of the default's enum; written in a design by their values."""
    words: Iterable[Enum] = type(default)
    choices = tuple(str(word.value) for word in words)
    return _field(default, Parameter(ParameterKind.CHOICE, help, choices=choices))


def _field(default: Any, parameter: Parameter) -> Any:
    return field(default=default, metadata={"parameter": parameter})
