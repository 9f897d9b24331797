"""What is told of a component that was tried: it is offered, or refused in words."""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.components.stale_names import StaleName
from clothwise.pattern.commands import Command

__all__ = ["Offer", "Removal"]


@dataclass(frozen=True)
class Offer:
    """A component that may be put in; or, if it is refused, why not.

    Attributes:
        kind: from the registry.
        command: that puts it in; None if it is refused.
        refused: why it does not go together with the rest, without a period.
        remedy: what could be done about that, in whole sentences.
        notes: what else comes of it, in whole sentences.
        there: options, and the choice of each, with which the design has it already.
        names: of views and choices that speak of what it takes the place of.
    """

    kind: str
    command: Command | None = None
    refused: str = ""
    remedy: str = ""
    notes: tuple[str, ...] = ()
    there: tuple[tuple[str, str], ...] = ()
    names: tuple[StaleName, ...] = ()


@dataclass(frozen=True)
class Removal:
    """What goes if a component is taken away; or why it cannot.

    Attributes:
        names: the component and those that cannot be drafted without it, in the order of drafting.
        command: that takes them away; None if it is refused.
        lost: edits and limits that go with them, `the edit cut-front`.
        refused, remedy, notes: as of an `Offer`.
    """

    names: tuple[str, ...]
    command: Command | None = None
    lost: tuple[str, ...] = ()
    refused: str = ""
    remedy: str = ""
    notes: tuple[str, ...] = ()
