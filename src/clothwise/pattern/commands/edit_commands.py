"""Commands that add, change and take away edits."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import ClassVar

from clothwise.errors import CommandError, did_you_mean
from clothwise.pattern.commands.belonging import Leaving
from clothwise.pattern.commands.command import Command, Touched
from clothwise.pattern.commands.component_commands import (
    check_new_name,
    documents_without,
    free_name,
)
from clothwise.pattern.commands.design_commands import plain_name
from clothwise.pattern.commands.design_texts import design_of, with_design
from clothwise.pattern.commands.documents import DESIGN_DOCUMENT, Documents
from clothwise.pattern.document.design import Design
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.document.value import Requirement, Value

__all__ = ["AddEdit", "ChangeEdit", "RemoveEdit"]


@dataclass(frozen=True)
class AddEdit(Command):
    """Add an edit after those that are there.

    Attributes:
        edit: its kind, from the registry.
        parameters: those not left at their default.
        name: names what it makes; empty for its kind, with a number if that is taken.
        after: the component after which it is made; empty where it knows best itself.
        when: the choices for which it is made; empty for always.
    """

    kind: ClassVar[str] = "add-edit"
    edit: str
    parameters: Mapping[str, str]
    name: str = ""
    after: str = ""
    when: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    @property
    def words(self) -> str:
        what = next((self.parameters[key] for key in _ABOUT if self.parameters.get(key)), "")
        return plain_name(self.edit) + (f": {plain_name(what)}" if what else "")

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(DESIGN_DOCUMENT, f"entries.{self.name}")}) if self.name else frozenset()

    def apply(self, before: Documents) -> dict[str, str]:
        design = design_of(before)
        name = self.name or free_name(design, self.edit)
        check_new_name(design, name)
        when = Requirement((dict(self.when),)) if self.when else Requirement()
        entry = EditEntry(name, self.edit, dict(self.parameters), self.after, when)
        return with_design(before, replace(design, edits=(*design.edits, entry)))


@dataclass(frozen=True)
class ChangeEdit(Command):
    """Write other parameters of an edit.

    Attributes:
        name: of the edit.
        parameters: what they are to be; those not named stay, an empty text leaves one out.
    """

    kind: ClassVar[str] = "change-edit"
    name: str
    parameters: Mapping[str, str]

    @property
    def words(self) -> str:
        told = (f"{plain_name(key)}: {text}" for key, text in self.parameters.items())
        return f"{plain_name(self.name)}: {', '.join(told)}"

    @property
    def touches(self) -> frozenset[Touched]:
        places = (f"entries.{self.name}.{key}" for key in self.parameters)
        return frozenset((DESIGN_DOCUMENT, place) for place in places)

    def apply(self, before: Documents) -> dict[str, str]:
        design = design_of(before)
        _refuse_unknown(design, self.name)
        edits = tuple(
            replace(each, parameters=self._changed(each)) if each.name == self.name else each
            for each in design.edits
        )
        return with_design(before, replace(design, edits=edits))

    def _changed(self, entry: EditEntry) -> dict[str, Value]:
        kept = {key: value for key, value in entry.parameters.items() if key not in self.parameters}
        written: dict[str, Value] = {key: text for key, text in self.parameters.items() if text}
        order = [*entry.parameters, *(key for key in written if key not in entry.parameters)]
        both: dict[str, Value] = {**kept, **written}
        return {key: both[key] for key in order if key in both}


@dataclass(frozen=True)
class RemoveEdit(Command):
    """Take an edit away, with what needs the pieces that it made.

    Attributes:
        name: of the edit.
    """

    kind: ClassVar[str] = "remove-edit"
    name: str

    @property
    def words(self) -> str:
        return f"removed the edit {plain_name(self.name)}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(DESIGN_DOCUMENT, f"entries.{self.name}")})

    def touched(self, before: Documents) -> frozenset[Touched]:
        names = self._leaving(before).entries
        return frozenset((DESIGN_DOCUMENT, f"entries.{name}") for name in names)

    def told(self, before: Documents) -> str:
        more = [each for each in self._leaving(before).lost if each != f"edit {self.name}"]
        return f"{self.words}, and with it {', '.join(more)}" if more else self.words

    def apply(self, before: Documents) -> dict[str, str]:
        leaving = self._leaving(before)
        leaving.refuse_used(f"edit {self.name}")
        return documents_without(before, leaving)

    def _leaving(self, before: Documents) -> Leaving:
        design = design_of(before)
        _refuse_unknown(design, self.name)
        return Leaving(design, frozenset({self.name})).whole()


_ABOUT = ("piece", "pieces", "seam", "copies")


def _refuse_unknown(design: Design, name: str) -> None:
    names = [each.name for each in design.edits]
    if name not in names:
        raise CommandError(
            f"the design has no edit {name[:40]!r}",
            where=design.title,
            what_to_do=did_you_mean(name, names, of_what="edits"),
        )
