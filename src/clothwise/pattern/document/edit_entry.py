"""Edits as they stand in a design: what the designer changed in what the components drafted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from clothwise.pattern.document.value import ALWAYS, Requirement, Value

__all__ = ["EditEntry"]


@dataclass(frozen=True)
class EditEntry:
    """An edit of a design.

    Attributes:
        name: names what the edit makes, and the edit itself in findings.
        kind: which edit it is, from the registry.
        parameters: those that are not left at their default.
        after: the component after which it is made; empty where the edit knows best itself.
        when: the choices for which it is made at all.
    """

    name: str
    kind: str
    parameters: Mapping[str, Value] = field(default_factory=dict)
    after: str = ""
    when: Requirement = ALWAYS
