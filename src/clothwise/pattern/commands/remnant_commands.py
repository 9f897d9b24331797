"""The command that takes over into a make what was found to be cut from remnants."""

from __future__ import annotations

import posixpath
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from typing import ClassVar

from clothwise.errors import ClothwiseError
from clothwise.pattern.commands.command import Command, CommandOfSeveral
from clothwise.pattern.commands.copies_called import copy_title, listed, titles_of_parts
from clothwise.pattern.commands.design_texts import make_of
from clothwise.pattern.commands.documents import Documents
from clothwise.pattern.commands.make_commands import PaintCopies, SetMake, SetPins
from clothwise.pattern.document.stash import parse_stash
from clothwise.pattern.plain_names import plain_name

__all__ = ["CutFromRemnants"]


@dataclass(frozen=True)
class CutFromRemnants(CommandOfSeveral):
    """Cut copies from remnants of a stash, each where it was laid, as one step.

    Attributes:
        make: the document.
        remnants: `piece/copy` to the name of its remnant.
        pins: where each of these copies lies on it, as for `SetPins`.
        stash: the file in which the remnants stand, seen from the make; empty for the one that the
            make names.
    """

    kind: ClassVar[str] = "cut-from-remnants"
    make: str
    remnants: Mapping[str, str]
    pins: Mapping[str, Mapping[str, str]]
    stash: str = ""

    @property
    def words(self) -> str:
        return self._told({}, {})

    def told(self, before: Documents) -> str:
        return self._told(self._titles(before), titles_of_parts(before))

    def _told(self, titles: Mapping[str, str], pieces: Mapping[str, str]) -> str:
        told = (
            f"{listed(copy_title(each, pieces) for each in copies)} cut from the remnant "
            f"{titles.get(name) or plain_name(name)}"
            for name, copies in self._by_remnant().items()
        )
        return "; ".join(told)

    def _titles(self, before: Documents) -> dict[str, str]:
        """What the remnants of the stash are called; nothing if it cannot be read."""
        with suppress(ClothwiseError):
            stash = self.stash or make_of(before, self.make).stash
            document = posixpath.normpath(posixpath.join(posixpath.dirname(self.make), stash))
            text = before.get(document, "")
            return {each.name: each.title for each in parse_stash(text, file=document).remnants}
        return {}

    @property
    def each(self) -> tuple[Command, ...]:
        return (
            *([SetMake(self.make, {"stash": self.stash})] if self.stash else []),
            *(PaintCopies(self.make, copies, name) for name, copies in self._by_remnant().items()),
            SetPins(self.make, self.pins),
        )

    def _by_remnant(self) -> dict[str, tuple[str, ...]]:
        names = dict.fromkeys(self.remnants.values())
        return {
            name: tuple(copy for copy, of in self.remnants.items() if of == name) for name in names
        }
