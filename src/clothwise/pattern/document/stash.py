"""A stash: the cloths somebody has, in a file of its own that several makes may name."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwise.errors import DocumentError, Misuse, did_you_mean
from clothwise.pattern.document.fabric_entry import FabricEntry
from clothwise.pattern.document.fabric_reader import read_fabric
from clothwise.pattern.document.make import Make
from clothwise.pattern.document.migration import SCHEMA_KEY, STASH_MIGRATIONS, up_to_date
from clothwise.pattern.document.reading import Cursor, Reading, Source
from clothwise.pattern.document.remnant_entry import RemnantEntry, read_remnant
from clothwise.pattern.document.tree import parse_tree

__all__ = [
    "STASH_FILE",
    "STASH_KEYS",
    "Stash",
    "StashReading",
    "filled_from_stash",
    "parse_stash",
    "start_stash",
]

STASH_FILE = "stash.yaml"
"""How a stash is usually called."""
STASH_KEYS = (SCHEMA_KEY, "title", "fabrics", "remnants")


@dataclass(frozen=True)
class Stash:
    """The cloths at hand.

    Attributes:
        title: whose or where; may be empty.
        fabrics: in the order of the file.
        remnants: leftover cloth of any shape.
    """

    title: str = ""
    fabrics: tuple[FabricEntry, ...] = ()
    remnants: tuple[RemnantEntry, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """How the cloths are called."""
        return tuple(fabric.name for fabric in self.fabrics)

    @property
    def remnant_names(self) -> tuple[str, ...]:
        """How the remnants are called."""
        return tuple(remnant.name for remnant in self.remnants)

    def fabric(self, name: str) -> FabricEntry:
        """Return a cloth by name.

        Raises:
            Misuse: there is none; suggests the ones that were probably meant.
        """
        for each in self.fabrics:
            if each.name == name:
                return each
        raise Misuse(
            f"the stash has no fabric {name[:40]!r}",
            where=self.title,
            what_to_do=did_you_mean(name, self.names, of_what="fabrics"),
        )


@dataclass(frozen=True)
class StashReading:
    """A stash as far as it could be read, with its faults and where its values stand."""

    stash: Stash
    reading: Reading

    @property
    def source(self) -> Source:
        """Where its values stand."""
        return self.reading.source


def parse_stash(text: str, *, file: str = STASH_FILE) -> Stash:
    """Read a stash.

    Args:
        text: the content of the file.
        file: its name, for messages.

    Raises:
        DocumentError: carries every fault of the text.
    """
    found = start_stash(text, file)
    if found.reading.faults:
        raise DocumentError(found.reading.faults_by_line)
    return found.stash


def start_stash(text: str, file: str) -> StashReading:
    """Read as much of a stash as can be read, and note its faults.

    Raises:
        DocumentError: the text is no document of a version that we know.
    """
    root, faults = parse_tree(text, file)
    reading = Reading(file, faults)
    root = up_to_date(root, file, STASH_MIGRATIONS)
    top = Cursor.at_root(root, reading)
    at = top.known_entries(STASH_KEYS)
    if "fabrics" not in at and "remnants" not in at:
        top.fault("fabrics is missing", "Add a line `fabrics: ...`, or `remnants: ...`.")
    entries = at["fabrics"].named_entries("a fabric") if "fabrics" in at else {}
    leftovers = at["remnants"].named_entries("a remnant") if "remnants" in at else {}
    for name in leftovers.keys() & entries.keys():
        leftovers[name].fault(
            f"{name[:40]!r} is the name of a fabric already", "Give each cloth a name of its own."
        )
    stash = Stash(
        title=at["title"].text() if "title" in at else "",
        fabrics=tuple(read_fabric(name, each, in_stash=True) for name, each in entries.items()),
        remnants=tuple(read_remnant(name, each) for name, each in leftovers.items()),
    )
    return StashReading(stash, reading)


def filled_from_stash(make: Make, stash: Stash) -> Make:
    """Return a make that needs no stash: what it takes from there stands in it.

    A fabric that names a cloth of the stash gets what it leaves open from that cloth. A cloth of
    the stash that a role or copy names, and that is no fabric of the make, becomes one; so does a
    remnant.

    Raises:
        Misuse: a fabric names a cloth that the stash does not have.
    """
    own = tuple(
        each.filled_from(stash.fabric(each.stash)) if each.stash else each for each in make.fabrics
    )
    named = {*make.roles.values(), *make.copies.values()} - {each.name for each in own}
    others = tuple(each for each in stash.fabrics if each.name in named)
    leftovers = tuple(each.as_fabric() for each in stash.remnants if each.name in named)
    return replace(make, stash="", fabrics=(*own, *others, *leftovers))
