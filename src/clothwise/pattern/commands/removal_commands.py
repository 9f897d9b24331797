"""A command that takes several components away at once, those that need each other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.errors import CommandError
from clothwise.pattern.commands.belonging import Leaving
from clothwise.pattern.commands.command import Command, Touched
from clothwise.pattern.commands.component_commands import documents_without, no_component
from clothwise.pattern.commands.design_texts import design_of
from clothwise.pattern.commands.documents import DESIGN_DOCUMENT, Documents
from clothwise.pattern.plain_names import lost_called, plain_name

__all__ = ["RemoveComponents"]


@dataclass(frozen=True)
class RemoveComponents(Command):
    """Take components away, with the edits, limits, roles, matches and pins that need them."""

    kind: ClassVar[str] = "remove-components"
    names: tuple[str, ...]

    @property
    def words(self) -> str:
        return f"removed {', '.join(plain_name(name) for name in self.names)}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset((DESIGN_DOCUMENT, f"entries.{name}") for name in self.names)

    def touched(self, before: Documents) -> frozenset[Touched]:
        names = self._leaving(before).entries
        return frozenset((DESIGN_DOCUMENT, f"entries.{name}") for name in names)

    def told(self, before: Documents) -> str:
        more = ", ".join(map(lost_called, self._leaving(before).lost))
        return f"{self.words}, and with it {more}" if more else self.words

    def apply(self, before: Documents) -> dict[str, str]:
        leaving = self._leaving(before)
        if not leaving.rest().components:
            raise CommandError(
                "the last component cannot be taken away",
                where=leaving.design.title,
                what_to_do="Add what should take its place first.",
            )
        leaving.refuse_used(", ".join(self.names))
        return documents_without(before, leaving)

    def _leaving(self, before: Documents) -> Leaving:
        design = design_of(before)
        known = {each.name for each in design.components}
        for name in self.names:
            if name not in known:
                raise no_component(design, name)
        return Leaving(design, frozenset(self.names)).whole()
