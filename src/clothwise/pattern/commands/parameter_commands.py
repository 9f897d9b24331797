"""A command that writes several parameters of one component or edit at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar

from clothwise.pattern.commands.command import Command, Touched
from clothwise.pattern.commands.design_commands import SetParameter
from clothwise.pattern.commands.documents import Documents
from clothwise.pattern.plain_names import plain_name

__all__ = ["SetParameters"]


@dataclass(frozen=True)
class SetParameters(Command):
    """Write other values for several parameters of a component or an edit, as one step.

    Attributes:
        component: the component or edit; empty for the design's `values`.
        values: by parameter, as written; empty to leave one out.
        choices: as for `SetParameter`.
    """

    kind: ClassVar[str] = "set-parameters"
    component: str
    values: Mapping[str, str]
    choices: Mapping[str, str] = field(default_factory=dict)

    @property
    def words(self) -> str:
        told = (f"{plain_name(key)}: {text or 'as usual'}" for key, text in self.values.items())
        return f"{plain_name(self.component)}, {', '.join(told)}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset().union(*(each.touches for each in self._each()))

    def apply(self, before: Documents) -> dict[str, str]:
        after = dict(before)
        for each in self._each():
            after = each.apply(after)
        return after

    def _each(self) -> tuple[SetParameter, ...]:
        return tuple(
            SetParameter(self.component, key, text, self.choices)
            for key, text in self.values.items()
        )
