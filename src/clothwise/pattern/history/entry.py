"""One entry of the history of a design: words, and the documents as they were then."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from clothwise.errors import ClothwiseError
from clothwise.pattern.commands.command import Touched

__all__ = ["Conflict", "Entry"]


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
        data = {
            "id": self.id,
            "parent": self.parent,
            "at": self.at,
            "words": self.words,
            "kind": self.kind,
            "files": dict(sorted(self.files.items())),
            "touches": sorted([*each] for each in self.touches),
            "command": self.command,
        }
        return json.dumps(data, ensure_ascii=False, separators=(",", ":"))

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


class Conflict(ClothwiseError):
    """A change was made to an older state, and what was done since touches the same.

    Both are kept: `mine` is an entry beside the others (None for an undo), `theirs` are on the way
    to the head.
    """

    def __init__(self, mine: Entry | None, theirs: tuple[Entry, ...]) -> None:
        words = mine.words if mine else "the undo"
        super().__init__(
            "the design was changed in another window meanwhile",
            where=words,
            how_much=f"there: {'; '.join(each.words for each in theirs[-3:])}",
            what_to_do="Both are kept. Look at the other one, and choose which should stand."
            if mine
            else "Nothing was undone. Look at what was done there first.",
        )
        self.args = (mine, theirs)
        self.mine = mine
        self.theirs = theirs
