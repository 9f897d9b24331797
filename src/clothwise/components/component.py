"""What a component is, and what it is given to draft with."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass, fields
from typing import ClassVar

from clothwise.components.parameter import Parameter, ParameterKind
from clothwise.components.wearers import Wearers
from clothwise.pattern.measurements import Body
from clothwise.pattern.pattern import Contribution, Pattern


@dataclass(frozen=True)
class Drafting:
    """What a component drafts from.

    `name` is the component's name in the design and begins the names of its pieces. `pattern` is
    what the components before it made. `role` is the fabric role of its pieces.
    """

    name: str
    body: Body
    pattern: Pattern
    role: str = "main"
    interfacing_role: str = "interfacing"
    seam_allowance_mm: float = 15.0
    neck_allowance_mm: float = 10.0


@dataclass(frozen=True)
class Component(ABC):
    """A garment part: typed parameters and a function that contributes to a pattern.

    A subclass is a frozen dataclass whose fields are made by `length`, `angle`, `ratio`, `count`
    or `choice`. `kind` is its name in a design; its docstring is its help. `drafted_for` tells whom
    its lines were made for; None if it does not matter. Other bodies are refused.
    """

    kind: ClassVar[str] = ""
    drafted_for: ClassVar[Wearers | None] = None

    @abstractmethod
    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft this part onto the pattern so far.

        Raises:
            ComponentError: what it needs is not there, or its parameters contradict each other.
            MeasurementError: the body lies outside what it can be drafted for.
        """

    @classmethod
    def parameters(cls) -> dict[str, Parameter]:
        """Parameters by the name they have in a design, without the unit at its end."""
        return {design_name(f.name): f.metadata["parameter"] for f in fields(cls)}


def design_name(field_name: str) -> str:
    """The name a field has in a design: `bust_ease_mm` is written `bust_ease`.

    >>> design_name("bust_ease_mm")
    'bust_ease'
    """
    return field_name.removesuffix("_mm").removesuffix("_rad")


def field_name(parameter_name: str, parameter: Parameter) -> str:
    """The field a parameter fills; undoes `design_name`."""
    suffix = {ParameterKind.LENGTH: "_mm", ParameterKind.ANGLE: "_rad"}.get(parameter.kind, "")
    return parameter_name + suffix
