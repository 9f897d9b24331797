"""Parameters of components and edits: a default, a range, a unit and a sentence of help."""

from __future__ import annotations

import keyword
from collections.abc import Iterable
from dataclasses import dataclass, field, fields
from enum import Enum
from typing import Any, ClassVar


class ParameterKind(Enum):
    """What a parameter measures."""

    LENGTH = "length"
    ANGLE = "angle"
    RATIO = "ratio"
    COUNT = "count"
    CHOICE = "choice"
    ALONG = "along"
    TEXT = "text"


@dataclass(frozen=True)
class Along:
    """A place along an edge: a share of it, or mm from its start; from its end if negative."""

    value: float
    is_share: bool = True

    def on(self, length_mm: float) -> float:
        """The mm from the start of an edge of this length, which may lie beyond it.

        >>> Along(-20.0, is_share=False).on(100.0)
        80.0
        """
        if self.is_share:
            return self.value * length_mm
        return self.value if self.value >= 0 else length_mm + self.value


@dataclass(frozen=True)
class Parameter:
    """What may be said about one field of a component or an edit.

    `low` and `high` are in mm, radians, plain numbers or counts by `kind`; `choices` are the
    words a choice may be written with. A text that `is_needed` must not be left out.
    """

    kind: ParameterKind
    help: str
    low: float = 0.0
    high: float = 0.0
    choices: tuple[str, ...] = ()
    is_needed: bool = False


class Parametric:
    """A frozen dataclass whose fields are parameters; `kind` is its name in a design."""

    kind: ClassVar[str] = ""

    @classmethod
    def parameters(cls) -> dict[str, Parameter]:
        """Parameters by the name they have in a design, without the unit at its end."""
        of: Any = cls  # only subclasses are dataclasses
        return {design_name(f.name): f.metadata["parameter"] for f in fields(of)}


def design_name(field_name: str) -> str:
    """The name a field has in a design: `bust_ease_mm` is written `bust_ease`, `from_` `from`.

    >>> design_name("bust_ease_mm")
    'bust_ease'
    """
    return field_name.removesuffix("_mm").removesuffix("_rad").removesuffix("_")


def field_name(parameter_name: str, parameter: Parameter) -> str:
    """The field a parameter fills; undoes `design_name`."""
    if keyword.iskeyword(parameter_name):
        return parameter_name + "_"
    suffix = {ParameterKind.LENGTH: "_mm", ParameterKind.ANGLE: "_rad"}.get(parameter.kind, "")
    return parameter_name + suffix


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


def along(default_share: float, help: str) -> Any:
    """A place along an edge: a share (`0.4`, `40%`) or a length (`12cm`; `-12cm` from its end)."""
    return _field(Along(default_share), Parameter(ParameterKind.ALONG, help))


def text(default: str, help: str) -> Any:
    """A name or words; without a default it must be given."""
    return _field(default, Parameter(ParameterKind.TEXT, help, is_needed=not default))


def words(help: str) -> Any:
    """A name or words that may be left out."""
    return _field("", Parameter(ParameterKind.TEXT, help))


def _field(default: Any, parameter: Parameter) -> Any:
    return field(default=default, metadata={"parameter": parameter})
