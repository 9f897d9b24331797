"""Commands that add and exchange components and say what they are cut from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import ClassVar

from clothwise.errors import CommandError
from clothwise.pattern.commands.belonging import Leaving
from clothwise.pattern.commands.command import Command, Touched
from clothwise.pattern.commands.design_texts import design_of, with_design
from clothwise.pattern.commands.documents import DESIGN_DOCUMENT, Documents
from clothwise.pattern.commands.entry_names import (
    check_new_name,
    free_name,
    no_component,
    refuse_unknown,
)
from clothwise.pattern.commands.removal_commands import (
    cloth_leaving,
    documents_without,
    forgotten_words,
    places_of,
)
from clothwise.pattern.commands.renaming_commands import RenameComponent
from clothwise.pattern.commands.title_commands import SetTitles, retitled
from clothwise.pattern.document.design import ComponentEntry, formula_name
from clothwise.pattern.document.value import Requirement
from clothwise.pattern.plain_names import kind_called, lost_called, plain_name

__all__ = ["AddComponent", "SetComponent", "SwapComponent"]


@dataclass(frozen=True)
class AddComponent(Command):
    """Add a component.

    Attributes:
        name: begins the names of its pieces; empty for its kind, with a number if that is taken.
        component: its kind, from the registry.
        parameters: those not left at their default.
        after: the component after which it is drafted; empty for the last.
        role: the fabric role of its pieces; empty for the usual one.
        when: the choices for which it is there; empty for always.
    """

    kind: ClassVar[str] = "add-component"
    name: str
    component: str
    parameters: Mapping[str, str] = field(default_factory=dict)
    after: str = ""
    role: str = ""
    when: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    @property
    def words(self) -> str:
        name = plain_name(self.name)
        kind = kind_called(self.component)
        is_named = name not in ("", plain_name(self.component))
        return f"added {name}: {kind}" if is_named else f"added {kind}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(DESIGN_DOCUMENT, f"entries.{self.name or self.component}")})

    def apply(self, before: Documents) -> dict[str, str]:
        design = design_of(before)
        name = self.name or free_name(design, self.component)
        check_new_name(design, name)
        entry = ComponentEntry(
            name,
            self.component,
            dict(self.parameters),
            role=self.role or ComponentEntry.role,
            when=Requirement((dict(self.when),)) if self.when else Requirement(),
        )
        names = [each.name for each in design.components]
        if self.after and self.after not in names:
            raise no_component(design, self.after)
        at = names.index(self.after) + 1 if self.after else len(names)
        components = (*design.components[:at], entry, *design.components[at:])
        return with_design(before, replace(design, components=components))


@dataclass(frozen=True)
class SwapComponent(Command):
    """Put a component of another kind in the place of one; its place stays, and its name mostly.

    Attributes:
        name: of the component.
        component: the new kind.
        without: parameters that the new kind does not have.
        gone: pieces that are not drafted any more.
        parameters: that the new kind needs, beside those that stay.
        titles: that views and choices get with it, as of `SetTitles`.
        called: its new name, where the old one told its kind; empty to keep it.
    """

    kind: ClassVar[str] = "swap-component"
    name: str
    component: str
    without: tuple[str, ...] = ()
    gone: tuple[str, ...] = ()
    parameters: Mapping[str, str] = field(default_factory=dict)
    titles: Mapping[str, str] = field(default_factory=dict)
    called: str = ""

    @property
    def words(self) -> str:
        return f"{plain_name(self.name)}: now {kind_called(self.component)}"

    @property
    def touches(self) -> frozenset[Touched]:
        named = SetTitles(self.titles).touches
        if self.called:
            named |= RenameComponent(self.name, self.called).touches
        return named | {(DESIGN_DOCUMENT, f"entries.{self.name}")}

    def touched(self, before: Documents) -> frozenset[Touched]:
        return self.touches | places_of(self._leaving(before))

    def told(self, before: Documents) -> str:
        design = design_of(before)
        kinds = {each.name: each.kind for each in design.components}
        words = f"{plain_name(self.name)}: {kind_called(kinds.get(self.name, ''))} → "
        words += kind_called(self.component)
        lost = [plain_name(each) for each in self.without]
        leaving = self._leaving(before)
        lost += map(lost_called, leaving.lost)
        named = SetTitles(self.titles).words
        words = f"{words}, without {', '.join(lost)}" if lost else words
        words += forgotten_words(cloth_leaving(before, leaving))
        return f"{words}; {named}" if named else words

    def apply(self, before: Documents) -> dict[str, str]:
        leaving = self._leaving(before)
        leaving.refuse_used(f"what {self.component} does not have")
        documents = documents_without(before, leaving)
        design = design_of(documents)
        components = tuple(
            replace(each, kind=self.component, parameters={**each.parameters, **self.parameters})
            if each.name == self.name
            else each
            for each in design.components
        )
        named = retitled(replace(design, components=components), self.titles)
        after = with_design(documents, named)
        return RenameComponent(self.name, self.called).apply(after) if self.called else after

    def _leaving(self, before: Documents) -> Leaving:
        design = design_of(before)
        refuse_unknown(design, self.name)
        parameters = frozenset(formula_name(f"{self.name}_{each}") for each in self.without)
        return Leaving(design, frozenset(), frozenset(self.gone), parameters).whole()


@dataclass(frozen=True)
class SetComponent(Command):
    """Write the fabric roles of a component.

    Attributes:
        name: of the component.
        fields: from `role`, `interfacing_role` or `roles.PIECE` to a role; empty for the usual.
    """

    kind: ClassVar[str] = "set-component"
    name: str
    fields: Mapping[str, str]

    @property
    def words(self) -> str:
        told = (_cut_words(key, text) for key, text in self.fields.items())
        return f"{plain_name(self.name)}: {', '.join(told)}"

    @property
    def touches(self) -> frozenset[Touched]:
        places = (f"entries.{self.name}.{key}" for key in self.fields)
        return frozenset((DESIGN_DOCUMENT, place) for place in places)

    def apply(self, before: Documents) -> dict[str, str]:
        design = design_of(before)
        refuse_unknown(design, self.name)
        components = tuple(
            self._changed(each) if each.name == self.name else each for each in design.components
        )
        return with_design(before, replace(design, components=components))

    def _changed(self, entry: ComponentEntry) -> ComponentEntry:
        for key, text in self.fields.items():
            if key == "role":
                entry = replace(entry, role=text or ComponentEntry.role)
            elif key == "interfacing_role":
                entry = replace(entry, interfacing_role=text or ComponentEntry.interfacing_role)
            elif key.startswith("roles."):
                piece = key.removeprefix("roles.")
                roles = {name: role for name, role in entry.roles.items() if name != piece}
                entry = replace(entry, roles={**roles, piece: text} if text else roles)
            else:
                raise CommandError(
                    f"{key[:40]!r} is nothing that can be said of a component",
                    what_to_do="Use role, interfacing_role or roles.PIECE.",
                )
        return entry


def _cut_words(key: str, role: str) -> str:
    """What is cut from what: `cut from contrast`, `pocket flap cut as usual`."""
    if key == "interfacing_role":
        return f"interfaced with {plain_name(role)}" if role else "interfaced as usual"
    piece = plain_name(key.removeprefix("roles.")) if key.startswith("roles.") else ""
    cut = f"cut from {plain_name(role)}" if role else "cut as usual"
    return f"{piece} {cut}".strip()
