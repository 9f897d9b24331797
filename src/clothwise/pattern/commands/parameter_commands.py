"""A command that writes several parameters of one component or edit at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar

from clothwise.pattern.commands.command import CommandOfSeveral
from clothwise.pattern.commands.design_commands import SetParameter
from clothwise.pattern.plain_names import plain_name

__all__ = ["SetParameters"]


@dataclass(frozen=True)
class SetParameters(CommandOfSeveral):
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
    def each(self) -> tuple[SetParameter, ...]:
        return tuple(
            SetParameter(self.component, key, text, self.choices)
            for key, text in self.values.items()
        )
