"""Commands that add, take away, exchange and rename components."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any, ClassVar

from clothwise.errors import CommandError, Misuse, did_you_mean
from clothwise.pattern.commands.belonging import (
    NAMING,
    Leaving,
    owner_of,
    with_formulas,
    with_value_texts,
)
from clothwise.pattern.commands.command import Command, Touched
from clothwise.pattern.commands.design_texts import (
    design_of,
    make_of,
    with_design,
    with_make,
)
from clothwise.pattern.commands.documents import DESIGN_DOCUMENT, Documents, make_names
from clothwise.pattern.commands.title_commands import SetTitles, retitled
from clothwise.pattern.document.design import ComponentEntry, Design, formula_name
from clothwise.pattern.document.make import Make
from clothwise.pattern.document.value import Requirement
from clothwise.pattern.plain_names import kind_called, lost_called, plain_name

__all__ = [
    "AddComponent",
    "RemoveComponent",
    "RenameComponent",
    "SetComponent",
    "SwapComponent",
    "check_new_name",
    "documents_without",
]

_SLUG = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
LONGEST_NAME = 40


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
class RemoveComponent(Command):
    """Take a component away, with the edits, limits, roles, matches and pins that need it.

    Attributes:
        name: of the component.
    """

    kind: ClassVar[str] = "remove-component"
    name: str

    @property
    def words(self) -> str:
        return f"removed {plain_name(self.name)}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(DESIGN_DOCUMENT, f"entries.{self.name}")})

    def touched(self, before: Documents) -> frozenset[Touched]:
        return self.touches | _touched(self._leaving(before))

    def told(self, before: Documents) -> str:
        more = ", ".join(map(lost_called, self._leaving(before).lost))
        return f"{self.words}, and with it {more}" if more else self.words

    def apply(self, before: Documents) -> dict[str, str]:
        leaving = self._leaving(before)
        if len(leaving.design.components) == 1:
            raise CommandError(
                "the last component cannot be taken away",
                where=self.name,
                what_to_do="Add what should take its place first.",
            )
        leaving.refuse_used(f"component {self.name}")
        return documents_without(before, leaving)

    def _leaving(self, before: Documents) -> Leaving:
        design = design_of(before)
        if self.name not in [each.name for each in design.components]:
            raise no_component(design, self.name)
        return Leaving(design, frozenset({self.name})).whole()


@dataclass(frozen=True)
class SwapComponent(Command):
    """Put a component of another kind in the place of one; its name and its place stay.

    Attributes:
        name: of the component.
        component: the new kind.
        without: parameters that the new kind does not have.
        gone: pieces that are not drafted any more.
        parameters: that the new kind needs, beside those that stay.
        titles: that views and choices get with it, as of `SetTitles`.
    """

    kind: ClassVar[str] = "swap-component"
    name: str
    component: str
    without: tuple[str, ...] = ()
    gone: tuple[str, ...] = ()
    parameters: Mapping[str, str] = field(default_factory=dict)
    titles: Mapping[str, str] = field(default_factory=dict)

    @property
    def words(self) -> str:
        return f"{plain_name(self.name)}: now {kind_called(self.component)}"

    @property
    def touches(self) -> frozenset[Touched]:
        named = SetTitles(self.titles).touches
        return named | {(DESIGN_DOCUMENT, f"entries.{self.name}")}

    def touched(self, before: Documents) -> frozenset[Touched]:
        return self.touches | _touched(self._leaving(before))

    def told(self, before: Documents) -> str:
        design = design_of(before)
        kinds = {each.name: each.kind for each in design.components}
        words = f"{plain_name(self.name)}: {kind_called(kinds.get(self.name, ''))} → "
        words += kind_called(self.component)
        lost = [plain_name(each) for each in self.without]
        lost += map(lost_called, self._leaving(before).lost)
        named = SetTitles(self.titles).words
        words = f"{words}, without {', '.join(lost)}" if lost else words
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
        return with_design(documents, named)

    def _leaving(self, before: Documents) -> Leaving:
        design = design_of(before)
        if self.name not in [each.name for each in design.components]:
            raise no_component(design, self.name)
        parameters = frozenset(formula_name(f"{self.name}_{each}") for each in self.without)
        return Leaving(design, frozenset(), frozenset(self.gone), parameters).whole()


@dataclass(frozen=True)
class RenameComponent(Command):
    """Give a component another name; its pieces, and all that names them, are called anew.

    Attributes:
        name: as it is called.
        new_name: as it will be.
    """

    kind: ClassVar[str] = "rename-component"
    name: str
    new_name: str

    @property
    def words(self) -> str:
        return f"{plain_name(self.name)} is now called {plain_name(self.new_name)}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset(
            {
                (DESIGN_DOCUMENT, f"entries.{self.name}"),
                (DESIGN_DOCUMENT, f"entries.{self.new_name}"),
            }
        )

    def apply(self, before: Documents) -> dict[str, str]:
        design = design_of(before)
        names = [each.name for each in design.components]
        if self.name not in names:
            raise no_component(design, self.name)
        check_new_name(design, self.new_name)
        renaming = _Renaming(names, self.name, self.new_name)
        documents = with_design(before, renaming.design(design))
        return _with_makes(documents, renaming.make)


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
        told = (
            f"{plain_name(key.removeprefix('roles.'))} of {text or 'the usual'}"
            for key, text in self.fields.items()
        )
        return f"{plain_name(self.name)}: {', '.join(told)}"

    @property
    def touches(self) -> frozenset[Touched]:
        places = (f"entries.{self.name}.{key}" for key in self.fields)
        return frozenset((DESIGN_DOCUMENT, place) for place in places)

    def apply(self, before: Documents) -> dict[str, str]:
        design = design_of(before)
        if self.name not in [each.name for each in design.components]:
            raise no_component(design, self.name)
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


def no_component(design: Design, name: str) -> CommandError:
    """Return what to say about a component that is not there."""
    names = [each.name for each in design.components]
    return CommandError(
        f"the design has no component {name[:40]!r}",
        where=design.title,
        what_to_do=did_you_mean(name, names, of_what="components"),
    )


def free_name(design: Design, wish: str) -> str:
    """Return a name that no component and no edit has: the wish, or with a number."""
    taken = {each.name for each in design.entries}
    number, name = 1, wish
    while name in taken:
        number += 1
        name = f"{wish}-{number}"
    return name


def check_new_name(design: Design, name: str) -> None:
    """Refuse a name for a component or an edit.

    Raises:
        CommandError: it is taken, or cannot begin the names of pieces.
    """
    if _SLUG.fullmatch(name) is None or len(name) > LONGEST_NAME:
        raise CommandError(
            f"{name[:LONGEST_NAME]!r} cannot be the name of a component or an edit",
            how_much=f"at most {LONGEST_NAME} characters",
            what_to_do="Use small letters and digits with hyphens between, such as tie-belt.",
        )
    if name in {each.name for each in design.entries}:
        raise CommandError(
            f"there is a component or an edit {name!r} already",
            where=design.title,
            what_to_do=f"Choose another name, such as {free_name(design, name)}.",
        )


def documents_without(before: Documents, leaving: Leaving) -> dict[str, str]:
    """Return the documents without what leaves the design, and what makes say of it."""
    documents = with_design(before, leaving.rest())
    return _with_makes(documents, leaving.rest_of_make)


def _with_makes(documents: dict[str, str], change: Any) -> dict[str, str]:
    """Return the documents with every make changed that can be read; others are left alone."""
    for name in make_names(documents):
        try:
            make = make_of(documents, name)
        except Misuse:
            continue
        changed: Make = change(make)
        if changed != make:
            documents = with_make(documents, name, changed)
    return documents


def _touched(leaving: Leaving) -> frozenset[Touched]:
    return frozenset((DESIGN_DOCUMENT, f"entries.{name}") for name in leaving.entries)


@dataclass(frozen=True)
class _Renaming:
    """Calls a component anew wherever a document names it or what belongs to it."""

    components: list[str]
    old: str
    new: str

    def piece(self, name: str) -> str:
        sign, bare = ("-", name[1:]) if name.startswith("-") else ("", name)
        if owner_of(bare, self.components) != self.old or not bare.startswith(self.old):
            return name
        return f"{sign}{self.new}{bare[len(self.old) :]}"

    def pieces(self, text: str) -> str:
        return ", ".join(self.piece(each.strip()) for each in text.split(","))

    def value(self, name: str) -> str:
        old = formula_name(self.old)
        if owner_of(name, self.components) != self.old or not name.startswith(f"{old}_"):
            return name
        return formula_name(self.new) + name[len(old) :]

    def formula(self, text: str) -> str:
        return re.sub(r"[A-Za-z][A-Za-z0-9_]*", lambda found: self.value(found[0]), text)

    def design(self, design: Design) -> Design:
        design = with_formulas(design, self.formula)
        return replace(
            design,
            components=tuple(
                replace(
                    each,
                    name=self.new if each.name == self.old else each.name,
                    roles={self.piece(key): role for key, role in each.roles.items()},
                    corners=tuple(
                        replace(corner, line=self.piece(corner.line)) for corner in each.corners
                    ),
                )
                for each in design.components
            ),
            edits=tuple(
                replace(
                    each,
                    after=self.new if each.after == self.old else each.after,
                    parameters={
                        key: with_value_texts(value, self.pieces)
                        if key in (*NAMING, "left", "right")
                        else value
                        for key, value in each.parameters.items()
                    },
                )
                for each in design.edits
            ),
            limits=tuple(replace(each, name=self.value(each.name)) for each in design.limits),
            matches=self._matches(design.matches),
        )

    def make(self, make: Make) -> Make:
        return replace(
            make,
            adjust={self.value(key): text for key, text in make.adjust.items()},
            copies={self.piece(key): text for key, text in make.copies.items()},
            pins={self.piece(key): pin for key, pin in make.pins.items()},
            matches=self._matches(make.matches),
        )

    def _matches(self, matches: Any) -> Any:
        return tuple(
            replace(
                each,
                points={self.piece(key): self.piece(at) for key, at in each.points.items()},
            )
            for each in matches
        )
