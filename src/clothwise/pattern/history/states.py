"""The states that a log tells of, followed line by line. Knows no disk.

States form a tree: each was made from one before, its parent. One of them is the head. A line of
the log either adds a state, which becomes the head unless it is kept aside, or moves the head to
its parent (undo) or to what was undone last (redo).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from clothwise.pattern.commands.documents import check_document_name
from clothwise.pattern.history.entry import ASIDE, REDO, UNDO, Entry

__all__ = ["States"]


class States:
    """Every state there ever was, which one is the head, and what was undone.

    Attributes:
        entries: by id, oldest first, also those that no way leads to any more.
        head: the id of the head; empty as long as there is no state.
        before: the id of the head before the last step.
    """

    def __init__(self) -> None:
        self.entries: dict[str, Entry] = {}
        self.head = ""
        self.before = ""
        self._undone: list[str] = []

    @property
    def at_head(self) -> Entry:
        """The entry of the head."""
        return self.entries[self.head]

    @property
    def undone(self) -> tuple[Entry, ...]:
        """What was undone and can be done again, the next one first."""
        return tuple(self.entries[each] for each in reversed(self._undone))

    def way_to(self, id: str) -> tuple[Entry, ...]:
        """Return the entries from the first one to this."""
        way = []
        while id:
            way.append(self.entries[id])
            id = way[-1].parent
        return tuple(reversed(way))

    def between(self, base: str) -> tuple[Entry, ...]:
        """Return what lies between a state and the head: undone since, then done since."""
        old, new = self.way_to(base), self.way_to(self.head)
        common = sum(1 for one, other in zip(old, new, strict=False) if one is other)
        return (*reversed(old[common:]), *new[common:])

    def follow(self, line: Mapping[str, Any]) -> None:
        """Take a line of the log into account.

        Raises:
            KeyError, TypeError, ValueError, AttributeError: it does not go on from what is there.
        """
        id, kind = line["id"], line["kind"]
        if kind == UNDO:
            _refuse_unless(id == self.at_head.parent != "", "undone is another state")
            self._undone.append(self.head)
            self._go_to(id)
        elif kind == REDO:
            _refuse_unless(self._undone[-1:] == [id], "done again is another state")
            self._undone.pop()
            self._go_to(id)
        else:
            self.add(Entry.from_data(line))

    def add(self, entry: Entry) -> None:
        """Take a new state into account.

        Raises:
            TypeError, ValueError: it does not go on from what is there, or is none.
        """
        _refuse_unless(entry.id not in self.entries, "a state comes twice")
        _refuse_unless(entry.parent in self.entries or not self.entries, "a state has no parent")
        for name, key in entry.files.items():
            check_document_name(name)
            _refuse_unless(isinstance(key, str), f"{name} has no checksum")
        self.entries[entry.id] = entry
        if entry.kind != ASIDE:
            self._undone.clear()
            self._go_to(entry.id)

    def _go_to(self, id: str) -> None:
        self.before, self.head = self.head, id


def _refuse_unless(is_right: bool, what: str) -> None:
    if not is_right:
        raise ValueError(what)
