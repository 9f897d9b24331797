"""Commands that write or take away whole documents."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from clothwise.errors import CommandError
from clothwise.pattern.body_file import parse_body_csv, parse_body_yaml
from clothwise.pattern.commands.command import EVERY_KEY, Command, Touched
from clothwise.pattern.commands.design_texts import document_text, with_text
from clothwise.pattern.commands.documents import (
    DESIGN_DOCUMENT,
    Documents,
    check_document_name,
    is_make_name,
    is_sheet,
)
from clothwise.pattern.document.design_reader import parse_design
from clothwise.pattern.document.make_reader import parse_make
from clothwise.pattern.document.stash import STASH_FILE, parse_stash

__all__ = ["AddMakes", "RemoveFile", "ReplaceFile"]


@dataclass(frozen=True)
class ReplaceFile(Command):
    """Write a document anew, or a new one.

    Attributes:
        name: of the document, such as `makes/view-a.yaml`.
        text: all of it.
    """

    kind: ClassVar[str] = "replace-file"
    name: str
    text: str

    @property
    def words(self) -> str:
        return f"{self.name} written anew"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(self.name, EVERY_KEY)})

    def told(self, before: Documents) -> str:
        if is_make_name(self.name):
            title = parse_make(self.text, file=self.name).title
            if title:
                return f"make {title} written anew" if self.name in before else f"new make: {title}"
        return self.words if self.name in before else f"new: {self.name}"

    def apply(self, before: Documents) -> dict[str, str]:
        check_document_name(self.name)
        _refuse_sheet(self.name)
        if self.name == DESIGN_DOCUMENT:
            parse_design(self.text)
        elif is_make_name(self.name):
            parse_make(self.text, file=self.name)
        elif self.name == STASH_FILE:
            parse_stash(self.text)
        elif self.name.startswith("bodies/"):
            read = parse_body_csv if self.name.endswith(".csv") else parse_body_yaml
            read(self.text, file=self.name)
        return with_text(before, self.name, self.text)


@dataclass(frozen=True)
class AddMakes(Command):
    """Begin several makes at once.

    Attributes:
        makes: document to text, such as `makes/ada.yaml`; none of them is there yet.
    """

    kind: ClassVar[str] = "add-makes"
    makes: Mapping[str, str]

    @property
    def words(self) -> str:
        return f"new makes: {', '.join(self.makes)}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset((name, EVERY_KEY) for name in self.makes)

    def told(self, before: Documents) -> str:
        titles = [parse_make(text, file=name).title or name for name, text in self.makes.items()]
        return f"new makes: {', '.join(titles)}"

    def apply(self, before: Documents) -> dict[str, str]:
        after = dict(before)
        for name, text in self.makes.items():
            check_document_name(name)
            if not is_make_name(name) or name in before:
                raise CommandError(
                    f"{name[:60]!r} is no name for a new make",
                    what_to_do="Take a name in makes/ that is not there yet: makes/ada.yaml.",
                )
            parse_make(text, file=name)
            after = with_text(after, name, text)
        return after


@dataclass(frozen=True)
class RemoveFile(Command):
    """Take a document away, such as a make that is not wanted any more.

    Attributes:
        name: of the document; the design itself cannot go.
    """

    kind: ClassVar[str] = "remove-file"
    name: str

    @property
    def words(self) -> str:
        return f"{self.name} removed"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(self.name, EVERY_KEY)})

    def apply(self, before: Documents) -> dict[str, str]:
        document_text(before, self.name)
        _refuse_sheet(self.name)
        if self.name == DESIGN_DOCUMENT:
            raise CommandError(
                "the design itself cannot be taken out of its folder",
                what_to_do="Archive or delete the whole folder instead.",
            )
        return {name: text for name, text in before.items() if name != self.name}


def _refuse_sheet(name: str) -> None:
    if is_sheet(name):
        raise CommandError(
            "spreadsheets are read, and not written",
            where=name,
            what_to_do="Save it as CSV beside it, and name that in the design.",
        )
