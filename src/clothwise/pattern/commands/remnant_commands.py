"""The command that takes over into a make what was found to be cut from remnants."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from clothwise.pattern.commands.command import Command, CommandOfSeveral
from clothwise.pattern.commands.make_commands import (
    PaintCopies,
    SetMake,
    SetPins,
    copy_title,
    listed,
)

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
        told = (
            f"{listed(copy_title(each) for each in copies)} cut from the remnant {name}"
            for name, copies in self._by_remnant().items()
        )
        return "; ".join(told)

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
