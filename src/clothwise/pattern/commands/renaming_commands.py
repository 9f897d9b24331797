"""The command that gives a component another name, wherever a document names it."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import ClassVar

from clothwise.pattern.commands.belonging import (
    NAMING,
    owner_of,
    with_formulas,
    with_value_texts,
)
from clothwise.pattern.commands.command import Command, Touched
from clothwise.pattern.commands.design_texts import design_of, with_design, with_makes
from clothwise.pattern.commands.documents import DESIGN_DOCUMENT, Documents
from clothwise.pattern.commands.entry_names import check_new_name, refuse_unknown
from clothwise.pattern.document.design import ComponentEntry, Design, formula_name
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.document.make import Make
from clothwise.pattern.document.match_entry import MatchEntry
from clothwise.pattern.plain_names import plain_name

__all__ = ["RenameComponent"]

_NAMING = (*NAMING, "left", "right")
"""Parameters of edits that name pieces, or what those are called that the edit makes."""


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
        refuse_unknown(design, self.name)
        check_new_name(design, self.new_name)
        renaming = _Renaming(names, self.name, self.new_name)
        documents = with_design(before, renaming.design(design))
        return with_makes(documents, renaming.make)


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
            components=tuple(map(self._component, design.components)),
            edits=tuple(map(self._edit, design.edits)),
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

    def _component(self, entry: ComponentEntry) -> ComponentEntry:
        return replace(
            entry,
            name=self.new if entry.name == self.old else entry.name,
            roles={self.piece(key): role for key, role in entry.roles.items()},
            corners=tuple(replace(each, line=self.piece(each.line)) for each in entry.corners),
        )

    def _edit(self, entry: EditEntry) -> EditEntry:
        return replace(
            entry,
            after=self.new if entry.after == self.old else entry.after,
            parameters={
                key: with_value_texts(value, self.pieces) if key in _NAMING else value
                for key, value in entry.parameters.items()
            },
        )

    def _matches(self, matches: tuple[MatchEntry, ...]) -> tuple[MatchEntry, ...]:
        return tuple(
            replace(
                each,
                points={self.piece(key): self.piece(at) for key, at in each.points.items()},
            )
            for each in matches
        )
