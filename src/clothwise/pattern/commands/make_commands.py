"""Commands that change a make: what is cut from what, where it lies, for whom it is."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, fields, replace
from pathlib import PurePosixPath
from typing import Any, ClassVar, TypeVar

from clothwise.errors import ClothwiseError, CommandError, did_you_mean
from clothwise.pattern.commands.command import Command, Touched
from clothwise.pattern.commands.copies_called import copy_title, listed, titles_of_parts
from clothwise.pattern.commands.design_commands import unit_of
from clothwise.pattern.commands.design_texts import design_of, make_of, with_make
from clothwise.pattern.commands.documents import Documents
from clothwise.pattern.commands.fabric_fields import fields_told, with_fabric_fields
from clothwise.pattern.document.cutting_entry import PIN_KEYS, CuttingEntry, PinEntry
from clothwise.pattern.document.fabric_entry import FabricEntry
from clothwise.pattern.document.make import DEFAULT_PAPER, DEFAULT_SEED, Make
from clothwise.pattern.plain_names import plain_name

__all__ = [
    "PaintCopies",
    "RemoveFabric",
    "SetFabric",
    "SetMake",
    "SetPins",
]


@dataclass(frozen=True)
class PaintCopies(Command):
    """Cut copies from a fabric.

    Attributes:
        make: the document, such as `makes/view-a.yaml`.
        copies: `piece/copy`, or `piece` for all its shell copies.
        fabric: of the make or its stash; empty for the one of their role.
    """

    kind: ClassVar[str] = "paint-copies"
    make: str
    copies: tuple[str, ...]
    fabric: str

    @property
    def words(self) -> str:
        return f"{self._shown({})}: {self.fabric or 'as its role'}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset((self.make, f"copies.{each}") for each in self.copies)

    def told(self, before: Documents) -> str:
        fabrics = make_of(before, self.make).fabrics
        title = next((each.title for each in fabrics if each.name == self.fabric), "")
        cut = f"cut from {title or self.fabric}" if self.fabric else "cut as the design has it"
        return f"{self._shown(titles_of_parts(before))} {cut}"

    def _shown(self, titles: Mapping[str, str]) -> str:
        return listed(copy_title(each, titles) for each in self.copies)

    def apply(self, before: Documents) -> dict[str, str]:
        make = make_of(before, self.make)
        copies = {key: text for key, text in make.copies.items() if key not in self.copies}
        if self.fabric:
            _refuse_unknown_fabric(make, self.fabric)
            copies |= dict.fromkeys(self.copies, self.fabric)
        return with_make(before, self.make, replace(make, copies=copies))


@dataclass(frozen=True)
class SetFabric(Command):
    """Write what is known of a fabric of a make, or a new fabric.

    Attributes:
        make: the document.
        name: of the fabric.
        fields: as documents call them, `repeat.along` for what is inside; an empty text leaves
            one out.
    """

    kind: ClassVar[str] = "set-fabric"
    make: str
    name: str
    fields: Mapping[str, str]

    @property
    def words(self) -> str:
        return f"{self.name}: {fields_told(self.fields)}"

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset((self.make, f"fabrics.{self.name}.{key}") for key in self.fields)

    def told(self, before: Documents) -> str:
        known = {each.name: each.title for each in make_of(before, self.make).fabrics}
        if self.name not in known:
            return f"new fabric {self.fields.get('title') or self.name}"
        told = fields_told(self.fields, photo="a photo of it")
        return f"{known[self.name] or self.name}: {told}"

    def apply(self, before: Documents) -> dict[str, str]:
        make = make_of(before, self.make)
        known = {each.name: each for each in make.fabrics}
        fabric = with_fabric_fields(known.get(self.name, FabricEntry(self.name, "")), self.fields)
        fabrics = {**known, self.name: fabric}
        return with_make(before, self.make, replace(make, fabrics=tuple(fabrics.values())))


@dataclass(frozen=True)
class RemoveFabric(Command):
    """Take a fabric out of a make.

    Attributes:
        make: the document.
        name: of the fabric.
        instead: the fabric that takes over its roles and copies; may be empty if it has none.
    """

    kind: ClassVar[str] = "remove-fabric"
    make: str
    name: str
    instead: str = ""

    @property
    def words(self) -> str:
        return f"fabric {self.name} removed" + (f", {self.instead} instead" if self.instead else "")

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset({(self.make, f"fabrics.{self.name}")})

    def apply(self, before: Documents) -> dict[str, str]:
        make = make_of(before, self.make)
        names = [each.name for each in make.fabrics]
        if self.name not in names:
            raise _no_fabric(self.name, names)
        used = [
            key for key, text in (*make.roles.items(), *make.copies.items()) if text == self.name
        ]
        if self.instead:
            _refuse_unknown_fabric(make, self.instead)
        elif used:
            raise CommandError(
                f"{self.name} is still cut for {', '.join(used[:4])}",
                where=self.make,
                how_much=f"{len(used)} in all" if len(used) > 4 else "",
                what_to_do="Say which fabric takes its place, or paint these with another first.",
            )
        return with_make(
            before,
            self.make,
            replace(
                make,
                fabrics=tuple(each for each in make.fabrics if each.name != self.name),
                roles=self._instead(make.roles),
                copies=self._instead(make.copies),
            ),
        )

    def _instead(self, table: Mapping[str, str]) -> dict[str, str]:
        return {key: self.instead if text == self.name else text for key, text in table.items()}


@dataclass(frozen=True)
class SetPins(Command):
    """Pin copies where the maker laid them, or let them be packed again.

    Attributes:
        make: the document.
        pins: `piece/copy` to `along`, `across`, `turn`, `turned_over` and `flap`; to nothing if it
            is not pinned any more.
    """

    kind: ClassVar[str] = "set-pins"
    make: str
    pins: Mapping[str, Mapping[str, str]]

    @property
    def words(self) -> str:
        return self._told({})

    def told(self, before: Documents) -> str:
        return self._told(titles_of_parts(before))

    def _told(self, titles: Mapping[str, str]) -> str:
        pinned = [copy_title(key, titles) for key, pin in self.pins.items() if pin]
        freed = [copy_title(key, titles) for key, pin in self.pins.items() if not pin]
        told = [f"pinned {listed(pinned)}"] if pinned else []
        return "; ".join([*told, *([f"unpinned {listed(freed)}"] if freed else [])])

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset((self.make, f"pins.{key}") for key in self.pins)

    def apply(self, before: Documents) -> dict[str, str]:
        make = make_of(before, self.make)
        pins = {key: pin for key, pin in make.pins.items() if key not in self.pins}
        pins |= {key: _pin(key, pin) for key, pin in self.pins.items() if pin}
        return with_make(before, self.make, replace(make, pins=pins))


@dataclass(frozen=True)
class SetMake(Command):
    """Write what a make says.

    Attributes:
        make: the document; a new one begins with these fields.
        fields: from `title`, `view`, `size`, `body`, `stash`, `unit`, `paper`, `seed`, or
            `choices.OPTION`, `measurements.NAME`, `adjust.NAME`, `roles.ROLE`, `cutting.FIELD`, to
            what is written there; an empty text leaves one out.
    """

    kind: ClassVar[str] = "set-make"
    make: str
    fields: Mapping[str, str]

    @property
    def words(self) -> str:
        told = (f"{_field_told(key)}: {text or 'as usual'}" for key, text in self.fields.items())
        return ", ".join(told)[:160]

    @property
    def touches(self) -> frozenset[Touched]:
        return frozenset((self.make, key) for key in self.fields)

    def told(self, before: Documents) -> str:
        if self.make not in before:
            return f"new make {self.make}: {self.words}"
        whose = make_of(before, self.make).title or plain_name(PurePosixPath(self.make).stem)
        with suppress(ClothwiseError):  # a design with faults does not bar its makes
            whose = whose.removeprefix(f"{design_of(before).title}, ")
        return f"{whose}: {self.words}"[:160]

    def apply(self, before: Documents) -> dict[str, str]:
        make = make_of(before, self.make) if self.make in before else Make()
        for key, text in self.fields.items():
            make = _with_make_field(make, key, " ".join(text.split()))
        return with_make(before, self.make, make)


_Entry = TypeVar("_Entry", Make, FabricEntry)
_PLAIN = ("title", "design", "view", "size", "body", "stash")
_TABLES = ("choices", "measurements", "adjust", "roles")


def _field_told(key: str) -> str:
    """How a field is called: a measurement is the maker's own, beside that of the size."""
    table, _, name = key.rpartition(".")
    return f"own {plain_name(name)}" if table == "measurements" else plain_name(name)


def _with_make_field(make: Make, key: str, text: str) -> Make:
    table, dot, name = key.partition(".")
    changed: Any
    if dot and name and table in _TABLES:
        changed = {each: one for each, one in getattr(make, table).items() if each != name}
        return _replaced(make, table, {**changed, name: text} if text else changed)
    if dot and table == "cutting" and name in {each.name for each in fields(CuttingEntry)}:
        default = getattr(CuttingEntry(), name)
        return replace(make, cutting=replace(make.cutting, **{name: text or default}))
    if key in _PLAIN:
        changed = text
    elif key == "paper":
        changed = text or DEFAULT_PAPER
    elif key == "seed":
        changed = _seed(text)
    elif key == "unit":
        changed = unit_of(text) if text else None
    else:
        known = [*_PLAIN, "paper", "seed", "unit", *(f"{each}.NAME" for each in _TABLES)]
        raise CommandError(
            f"{key[:40]!r} is nothing that a make says",
            what_to_do=did_you_mean(key, known, of_what="fields"),
        )
    return _replaced(make, key, changed)


def _replaced(entry: _Entry, name: str, value: Any) -> _Entry:
    return replace(entry, **{name: value})


def _seed(text: str) -> int:
    if text and not (text.isascii() and text.isdigit() and len(text) < 11):
        raise CommandError(
            f"{text[:20]!r} is no seed", what_to_do="Write a whole number, such as 1."
        )
    return int(text) if text else DEFAULT_SEED


def _pin(copy: str, pin: Mapping[str, str]) -> PinEntry:
    unknown = [key for key in pin if key not in PIN_KEYS]
    if unknown or not {"along", "across"} <= {*pin}:
        raise CommandError(
            "a pin says how far along and across the cloth the copy lies",
            where=copy[:60],
            how_much=f"given: {', '.join(pin)[:60]}",
            what_to_do="Write along and across; turn, turned_over and flap may be added.",
        )
    return PinEntry(**pin)


def _refuse_unknown_fabric(make: Make, name: str) -> None:
    names = [each.name for each in make.fabrics]
    if name not in names and not make.stash:
        raise _no_fabric(name, names)


def _no_fabric(name: str, names: list[str]) -> CommandError:
    return CommandError(
        f"the make has no fabric {name[:40]!r}",
        what_to_do=did_you_mean(name, names, of_what="fabrics"),
    )
