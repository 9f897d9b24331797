"""What a component is, and what it is given to draft with."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from clothwise.components.family import Family
from clothwise.components.parameter import Parametric
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
class Component(Parametric, ABC):
    """A garment part: typed parameters and a function that contributes to a pattern.

    A subclass is a frozen dataclass whose fields are made by `length`, `angle`, `ratio`, `count`
    or `choice`. `kind` is its name in a design; its docstring is its help. `drafted_for` tells whom
    its lines were made for; None if it does not matter. Other bodies are refused. `family` is what
    it is for: others of its family are offered in its place. `tried_with` are values, by parameter,
    with which it is offered where it has no place as it usually is.
    """

    family: ClassVar[Family] = Family.OTHER
    drafted_for: ClassVar[Wearers | None] = None
    tried_with: ClassVar[tuple[Mapping[str, str], ...]] = ()

    def rework(self, drafting: Drafting) -> Pattern:
        """The pattern so far as this part needs it, a seam opened where it is let in.

        As it is, unless a component says otherwise. What is drafted then starts from the result.

        Raises:
            ComponentError: what it needs is not there, or cannot be changed.
        """
        return drafting.pattern

    @abstractmethod
    def contribute(self, drafting: Drafting) -> Contribution:
        """Draft this part onto the pattern so far.

        Raises:
            ComponentError: what it needs is not there, or its parameters contradict each other.
            MeasurementError: the body lies outside what it can be drafted for.
        """
