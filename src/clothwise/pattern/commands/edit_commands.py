"""Commands that add, change and take away edits."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import ClassVar

from clothwise.errors import CommandError, did_you_mean
from clothwise.pattern.commands.belonging import Leaving
from clothwise.pattern.commands.command import Command, Touched
from clothwise.pattern.commands.design_texts import design_of, makes_of, with_design
from clothwise.pattern.commands.documents import DESIGN_DOCUMENT, Documents
from clothwise.pattern.commands.edit_words import change_words, edit_words
from clothwise.pattern.commands.entry_names import check_new_name, free_name
from clothwise.pattern.commands.piece_names import PieceNames, piece_names, with_piece_names
from clothwise.pattern.commands.removal_commands import (
    cloth_leaving,
    documents_without,
    forgotten_words,
    places_of,
)
from clothwise.pattern.document.design import Design
from clothwise.pattern.document.edit_entry import EditEntry
from clothwise.pattern.document.value import Requirement, Value
from clothwise.pattern.plain_names import lost_called, plain_name

__all__ = ["AddEdit", "ChangeEdit", "RemoveEdit"]


@dataclass(frozen=True)
class AddEdit(Command):
    """Add an edit after those that are there; parts of a painted piece keep its cloth.

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
        return edit_words(self.edit, self.parameters)

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(DESIGN_DOCUMENT, f"entries.{self.name}")}) if self.name else frozenset()

    def told(self, before: Documents) -> str:
        return edit_words(self.edit, self.parameters, design_of(before).edits)

    def apply(self, before: Documents) -> dict[str, str]:
        design = design_of(before)
        name = self.name or free_name(design, self.edit)
        check_new_name(design, name)
        when = Requirement((dict(self.when),)) if self.when else Requirement()
        entry = EditEntry(name, self.edit, dict(self.parameters), self.after, when)
        changed = replace(design, edits=(*design.edits, entry))
        names = piece_names(None, entry)
        return with_piece_names(with_design(before, changed), changed, names)


@dataclass(frozen=True)
class ChangeEdit(Command):
    """Write other parameters of an edit; what is said of its pieces goes along with their names.

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

    def told(self, before: Documents) -> str:
        design = design_of(before)
        _refuse_unknown(design, self.name)
        entry = _edit_of(design, self.name)
        words = change_words(entry, self.parameters, _sentence_of(design, entry))
        return f"{words}{_told_lost(self._names(entry), before)}"

    def apply(self, before: Documents) -> dict[str, str]:
        """Return the documents after it: what is said of pieces goes along with their names."""
        design = design_of(before)
        _refuse_unknown(design, self.name)
        edits = tuple(
            self._changed(each) if each.name == self.name else each for each in design.edits
        )
        changed = replace(design, edits=edits)
        names = self._names(_edit_of(design, self.name))
        return with_piece_names(with_design(before, changed), changed, names)

    def _names(self, entry: EditEntry) -> PieceNames:
        return piece_names(entry, self._changed(entry))

    def _changed(self, entry: EditEntry) -> EditEntry:
        return replace(entry, parameters=self._parameters(entry))

    def _parameters(self, entry: EditEntry) -> dict[str, Value]:
        kept = {key: value for key, value in entry.parameters.items() if key not in self.parameters}
        written: dict[str, Value] = {key: text for key, text in self.parameters.items() if text}
        order = [*entry.parameters, *(key for key in written if key not in entry.parameters)]
        both: dict[str, Value] = {**kept, **written}
        return {key: both[key] for key in order if key in both}


@dataclass(frozen=True)
class RemoveEdit(Command):
    """Take an edit away, with what needs the pieces that it made and the cloth of those.

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
        return places_of(self._leaving(before))

    def told(self, before: Documents) -> str:
        leaving = self._leaving(before)
        words = _removed_words(leaving.design, _edit_of(leaving.design, self.name))
        more = [lost_called(each) for each in leaving.lost if each != f"edit {self.name}"]
        words = f"{words}, and with it {', '.join(more)}" if more else words
        return f"{words}{_told_lost(self._names(leaving), before, leaving)}"

    def apply(self, before: Documents) -> dict[str, str]:
        leaving = self._leaving(before)
        leaving.refuse_used(f"edit {self.name}")
        names = self._names(leaving)
        documents = with_piece_names(before, leaving.design, names, makes_only=True)
        return documents_without(documents, leaving)

    def _names(self, leaving: Leaving) -> PieceNames:
        return piece_names(_edit_of(leaving.design, self.name), None)

    def _leaving(self, before: Documents) -> Leaving:
        design = design_of(before)
        _refuse_unknown(design, self.name)
        return Leaving(design, frozenset({self.name})).whole()


def _told_lost(names: PieceNames, before: Documents, leaving: Leaving | None = None) -> str:
    """`; the cloth chosen for skirt bottom is forgotten`; empty if nothing is."""
    parts = {part for each in names.joined.values() for part in each}
    gone = cloth_leaving(before, leaving) if leaving is not None else ()
    lost = [piece for make in makes_of(before) for piece in names.lost_of(make)]
    return forgotten_words([*lost, *(piece for piece in gone if piece not in parts)])


def _edit_of(design: Design, name: str) -> EditEntry:
    return next(each for each in design.edits if each.name == name)


def _sentence_of(design: Design, entry: EditEntry) -> str:
    plain = {key: text for key, text in entry.parameters.items() if isinstance(text, str)}
    return edit_words(entry.kind, plain, design.edits)


def _removed_words(design: Design, entry: EditEntry) -> str:
    """What was taken away: by its name, or by what it does if it has only that of its kind."""
    if not entry.name.startswith(entry.kind):
        return f"removed the edit {plain_name(entry.name)}"
    return f"took back what an edit did: {_sentence_of(design, entry)}"


def _refuse_unknown(design: Design, name: str) -> None:
    names = [each.name for each in design.edits]
    if name not in names:
        raise CommandError(
            f"the design has no edit {name[:40]!r}",
            where=design.title,
            what_to_do=did_you_mean(name, names, of_what="edits"),
        )
