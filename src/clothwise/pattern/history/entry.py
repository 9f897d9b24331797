"""One entry of the history of a design: words, and the documents as they were then."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from clothwise.pattern.commands.command import Touched

__all__ = ["ASIDE", "BACK_TO", "OUTSIDE", "REDO", "START", "UNDO", "Entry", "line_of"]

START, OUTSIDE, BACK_TO, ASIDE = "start", "outside", "back-to", "aside"
"""Kinds of entries that no command led to; see `Entry.kind`."""

UNDO, REDO = "undo", "redo"
"""Kinds of lines of the log that add no entry: they move the head."""


@dataclass(frozen=True)
class Entry:
    """One state of the documents and what led to it.

    Attributes:
        id: names the state; the same state has the same id however it was come to.
        parent: the state it was made from; empty for the first.
        at: when, in UTC: `2026-11-26T10:15:02Z`.
        words: what was done, to be read: `flare of skirt: 10cm`.
        kind: of the command; or `start`, `outside` (changed by another program), `back-to`,
            `aside` (in conflict with another window, kept beside). What `undo` and `redo` return
            has these kinds, and the words of what was taken back or done again.
        files: the checksum of every document by name.
        touches: what the change concerned.
        command: the change as data; empty where no command led here.
    """

    id: str
    parent: str
    at: str
    words: str
    kind: str
    files: Mapping[str, str]
    touches: frozenset[Touched] = frozenset()
    command: Mapping[str, Any] = field(default_factory=dict)

    def to_line(self) -> str:
        """Return it as one line of the log."""
        return line_of(
            {
                "id": self.id,
                "parent": self.parent,
                "at": self.at,
                "words": self.words,
                "kind": self.kind,
                "files": dict(sorted(self.files.items())),
                "touches": sorted([*each] for each in self.touches),
                "command": self.command,
            }
        )

    @staticmethod
    def from_data(data: Mapping[str, Any]) -> Entry:
        """Return the entry that stands in a line of the log."""
        return Entry(
            id=data["id"],
            parent=data["parent"],
            at=data["at"],
            words=data["words"],
            kind=data["kind"],
            files=dict(data["files"]),
            touches=frozenset((name, key) for name, key in data["touches"]),
            command=data["command"],
        )


def line_of(data: Mapping[str, Any]) -> str:
    """Return what is written into the log for one step."""
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))
