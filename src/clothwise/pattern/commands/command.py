"""What a command is: one change of the documents of a design, as data.

Commands are shared by the command line, the app and the tests. A command knows no file on disk:
it makes new documents of old ones, and undo is the older documents.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import lru_cache
from typing import Any, ClassVar, get_args, get_origin, get_type_hints

from clothwise.errors import CommandError, did_you_mean
from clothwise.pattern.commands.documents import Documents

__all__ = [
    "EVERY_KEY",
    "Command",
    "CommandOfSeveral",
    "Touched",
    "command_from_data",
    "command_kinds",
]

EVERY_KEY = "*"
"""As the key of what was touched: all of the document."""
_KIND = "kind"
_MOST_ENTRIES = 20_000
_LONGEST_TEXT = 1_000_000

Touched = tuple[str, str]
"""A document and the place in it, such as `("design.yaml", "components.skirt.flare")`."""


@dataclass(frozen=True)
class Command(ABC):
    """One change of the documents of a design.

    A class of commands states its `kind`; its fields are texts, and tuples and mappings of texts.
    """

    kind: ClassVar[str]

    @property
    @abstractmethod
    def words(self) -> str:
        """What it does, for the history: `flare of skirt: 10cm`."""

    @property
    @abstractmethod
    def touches(self) -> frozenset[Touched]:
        """What it changes; commands that touch the same are in conflict.

        A place touches all that lies below it: `components.skirt` and `components.skirt.flare`.
        """

    @abstractmethod
    def apply(self, before: Documents) -> dict[str, str]:
        """Return the documents as they are after it.

        Raises:
            CommandError: it cannot be made to these documents.
            DocumentError: a document has faults, now or after it.
        """

    def touched(self, before: Documents) -> frozenset[Touched]:
        """Return what it changes in these documents, with what it takes along."""
        return self.touches

    def told(self, before: Documents) -> str:
        """Return what it does to these documents, for the history."""
        return self.words

    def to_data(self) -> dict[str, Any]:
        """Return it as plain data: `command_from_data(command.to_data()) == command`."""
        data = {each.name: _plain(getattr(self, each.name)) for each in fields(self)}
        return {_KIND: self.kind, **data}


@dataclass(frozen=True)
class CommandOfSeveral(Command):
    """A change that is made of others, one after the other, as one step."""

    @property
    @abstractmethod
    def each(self) -> tuple[Command, ...]:
        """The others, in order."""

    @property
    def touches(self) -> frozenset[Touched]:
        """What any of them changes."""
        return frozenset().union(*(command.touches for command in self.each))

    def apply(self, before: Documents) -> dict[str, str]:
        """Return the documents as they are after all of them; refused if one is."""
        after = dict(before)
        for command in self.each:
            after = command.apply(after)
        return after


def command_kinds() -> dict[str, type[Command]]:
    """Return every class of commands by its kind."""
    import clothwise.pattern.commands  # noqa: F401  (all of them are defined then)

    return dict(_all_kinds())


def command_from_data(data: Mapping[str, Any]) -> Command:
    """Return the command that stands in plain data, from a page or a file.

    Raises:
        CommandError: it is no command, or has other values than texts.
    """
    kinds = command_kinds()
    kind = data.get(_KIND) if isinstance(data, Mapping) else None
    found = kinds.get(kind) if isinstance(kind, str) else None
    if found is None:
        raise CommandError(
            f"there is no change called {str(kind)[:40]!r}",
            what_to_do=did_you_mean(str(kind), kinds, of_what="changes"),
        )
    hints = _hints(found)
    unknown = sorted(str(key)[:40] for key in data if key != _KIND and key not in hints)
    if unknown:
        raise _no_command(found.kind, f"{unknown[0]} does not belong to it")
    try:
        values = {
            name: _read(hint, data[name], f"{found.kind}.{name}")
            for name, hint in hints.items()
            if name in data
        }
        return found(**values)
    except TypeError as error:
        missing = str(error).rpartition(": ")[2]
        raise _no_command(found.kind, f"{missing} is missing") from error


def _all_kinds() -> dict[str, type[Command]]:
    waiting, found = [Command], {}
    while waiting:
        for each in waiting.pop().__subclasses__():
            waiting.append(each)
            if "kind" in vars(each) and each.__module__.startswith(f"{__package__}."):
                found[each.kind] = each
    return dict(sorted(found.items()))


@lru_cache(maxsize=64)
def _hints(of: type[Command]) -> dict[str, Any]:
    hints = get_type_hints(of)
    return {each.name: hints[each.name] for each in fields(of)}


def _plain(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _plain(each) for key, each in value.items()}
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    return value


def _read(hint: Any, value: Any, place: str) -> Any:
    """Return a value as the field of a command wants it, or refuse it."""
    origin, arguments = get_origin(hint), get_args(hint)
    if hint is str and isinstance(value, str) and len(value) <= _LONGEST_TEXT:
        return value
    if hint is bool and isinstance(value, bool):
        return value
    if origin is tuple and isinstance(value, list | tuple) and len(value) <= _MOST_ENTRIES:
        if arguments[-1] is ...:
            return tuple(_read(arguments[0], each, place) for each in value)
        if len(arguments) == len(value):
            return tuple(
                _read(each, one, place) for each, one in zip(arguments, value, strict=True)
            )
    if _is_mapping(origin) and isinstance(value, Mapping) and len(value) <= _MOST_ENTRIES:
        return {str(key): _read(arguments[1], each, place) for key, each in value.items()}
    raise _no_command(place, "a value of another kind is needed there")


def _is_mapping(found: Any) -> bool:
    return isinstance(found, type) and issubclass(found, Mapping)


def _no_command(place: str, what: str) -> CommandError:
    return CommandError(
        what,
        where=place[:80],
        what_to_do="Write the change as the list of commands in the reference describes it.",
    )
