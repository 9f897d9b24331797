"""Commands that take components away, with all that needs them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar

from clothwise.errors import CommandError
from clothwise.pattern.commands.belonging import Leaving
from clothwise.pattern.commands.command import Command, Touched
from clothwise.pattern.commands.design_texts import (
    design_of,
    makes_of,
    with_design,
    with_makes,
)
from clothwise.pattern.commands.documents import DESIGN_DOCUMENT, Documents
from clothwise.pattern.commands.entry_names import refuse_unknown
from clothwise.pattern.plain_names import lost_called, plain_name

__all__ = [
    "RemoveComponent",
    "RemoveComponents",
    "cloth_leaving",
    "documents_without",
    "forgotten_words",
    "places_of",
]


@dataclass(frozen=True)
class RemoveComponents(Command):
    """Take components away at once, with the edits, limits, roles, matches and pins of theirs.

    Attributes:
        names: of the components.
    """

    kind: ClassVar[str] = "remove-components"
    names: tuple[str, ...]

    @property
    def words(self) -> str:
        return f"removed {', '.join(plain_name(name) for name in self.names)}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset((DESIGN_DOCUMENT, f"entries.{name}") for name in self.names)

    def touched(self, before: Documents) -> frozenset[Touched]:
        return places_of(self._leaving(before))

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
        one = "component " if len(self.names) == 1 else ""
        leaving.refuse_used(f"{one}{', '.join(self.names)}")
        return documents_without(before, leaving)

    def _leaving(self, before: Documents) -> Leaving:
        design = design_of(before)
        for name in self.names:
            refuse_unknown(design, name)
        return Leaving(design, frozenset(self.names)).whole()


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
        return self._one.words

    @property
    def touches(self) -> frozenset[Touched]:
        return self._one.touches

    def touched(self, before: Documents) -> frozenset[Touched]:
        return self._one.touched(before)

    def told(self, before: Documents) -> str:
        return self._one.told(before)

    def apply(self, before: Documents) -> dict[str, str]:
        return self._one.apply(before)

    @property
    def _one(self) -> RemoveComponents:
        return RemoveComponents((self.name,))


def documents_without(before: Documents, leaving: Leaving) -> dict[str, str]:
    """Return the documents without what leaves the design, and what makes say of it."""
    documents = with_design(before, leaving.rest())
    return with_makes(documents, leaving.rest_of_make)


def cloth_leaving(before: Documents, leaving: Leaving) -> tuple[str, ...]:
    """Return the pieces that leave and for whose copies a make chose a cloth."""
    keys = [key for make in makes_of(before) for key in make.copies if leaving.has(key)]
    return tuple(dict.fromkeys(key.partition("/")[0] for key in keys))


def forgotten_words(pieces: Iterable[str]) -> str:
    """Return what a history adds where chosen cloth goes; empty if it goes of no piece.

    >>> forgotten_words(["skirt-front-low", "Skirt top"])
    '; the cloth chosen for skirt front low, Skirt top is forgotten'
    """
    called = ", ".join(plain_name(each) for each in dict.fromkeys(pieces))
    return f"; the cloth chosen for {called} is forgotten" if called else ""


def places_of(leaving: Leaving) -> frozenset[Touched]:
    """Return what a change touches with which this leaves."""
    return frozenset((DESIGN_DOCUMENT, f"entries.{name}") for name in leaving.entries)
