"""The command that takes out of a make what it says of a piece or copy that is not there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from clothwise.errors import CommandError
from clothwise.pattern.commands.command import Command, CommandOfSeveral
from clothwise.pattern.commands.copies_called import copy_title, titles_of_parts
from clothwise.pattern.commands.design_texts import make_of
from clothwise.pattern.commands.documents import Documents
from clothwise.pattern.commands.make_commands import PaintCopies, SetPins

__all__ = ["TakeOutCopy"]


@dataclass(frozen=True)
class TakeOutCopy(CommandOfSeveral):
    """Take out of a make the cloth and the place of a piece or copy, as one step.

    Attributes:
        make: the document.
        copy: `piece/copy`, or `piece`, as the make names it.
    """

    kind: ClassVar[str] = "take-out-copy"
    make: str
    copy: str

    @property
    def words(self) -> str:
        return f"{copy_title(self.copy)} taken out: its cloth and its place"

    def told(self, before: Documents) -> str:
        make = make_of(before, self.make)
        cloth = "its cloth" if self.copy in make.copies else ""
        place = "its place" if self.copy in make.pins else ""
        called = copy_title(self.copy, titles_of_parts(before))
        return f"{called} taken out: {' and '.join(filter(None, (cloth, place)))}"

    @property
    def each(self) -> tuple[Command, ...]:
        return (PaintCopies(self.make, (self.copy,), ""), SetPins(self.make, {self.copy: {}}))

    def apply(self, before: Documents) -> dict[str, str]:
        """Return the documents without it.

        Raises:
            CommandError: the make says nothing of it.
        """
        make = make_of(before, self.make)
        if self.copy not in make.copies and self.copy not in make.pins:
            raise CommandError(
                f"the make says nothing of {copy_title(self.copy[:60])}",
                what_to_do="Look at the garment again: it was taken out already.",
            )
        return super().apply(before)
