"""The history of a design: every state of its documents, and undo as an older one of them.

States form a tree: each was made from one before. The head is the state that stands in the folder.
A command adds a state; undo and redo only move the head, so that nothing is ever forgotten.

A step is done when its line is in the log. Then the documents are written; a crash between the two
is made good when the history is opened again. Documents that another program has changed meanwhile
become an entry of their own.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from clothwise.errors import (
    ClothwiseError,
    CommandError,
    DocumentError,
    Fault,
    OutputError,
    did_you_mean,
)
from clothwise.pattern.commands import (
    EVERY_KEY,
    Command,
    Documents,
    check_document_name,
    command_from_data,
    is_sheet,
    read_documents,
)
from clothwise.pattern.commands.command import Touched
from clothwise.pattern.commands.documents import DESIGN_DOCUMENT, DOCUMENT_FOLDERS
from clothwise.pattern.document.files import FilesOnDisk
from clothwise.pattern.history.entry import Conflict, Entry
from clothwise.pattern.history.store import (
    HISTORY_FOLDER,
    LOG_FILE,
    OBJECTS_FOLDER,
    DamagedHistory,
    HistoryStore,
    checksum,
    put_aside,
)
from clothwise.pattern.saving import remove_old_drafts, write_atomically

__all__ = ["History"]

Check = Callable[[Documents, Documents], None]
"""Refuses documents after a change by an exception; told those before it, then those after it."""

_STARTS, _OUTSIDE, _ASIDE, _BACK_TO = "start", "outside", "aside", "back-to"
_UNDO, _REDO = "undo", "redo"


class History:
    """The documents of one design with all that was done to them.

    One object may be shared by the threads of a program; other programs may write the same folder.
    Attributes tell what was true at the last `open`, `refresh`, or step.
    """

    def __init__(self, folder: Path, check: Check | None = None) -> None:
        self.folder = folder
        self._check = check
        self._store = HistoryStore(folder)
        self._entries: dict[str, Entry] = {}
        self._order: list[str] = []
        self._undone: list[str] = []
        self._head = ""
        self._before = ""
        self._seen: dict[str, tuple[int, int]] = {}
        self._damage: DamagedHistory | None = None
        self._begins = "as it was at first"

    @classmethod
    def open(cls, folder: Path, *, check: Check | None = None) -> History:
        """Open the history in the folder of a design; without one, it begins with what is there.

        Args:
            folder: that holds `design.yaml`.
            check: is asked before anything new is kept; raises what the user should hear.

        Raises:
            DamagedHistory: the history cannot be read.
            DocumentError: there is no design.
            OutputError: the folder cannot be written.
        """
        if not (folder / DESIGN_DOCUMENT).is_file():
            what, remedy = "there is no such file", "Name the folder of a design."
            raise DocumentError([Fault(str(folder / DESIGN_DOCUMENT), None, "", what, remedy)])
        found = cls(folder, check)
        with found._store.locked():
            found._catch_up()
        for below in (*DOCUMENT_FOLDERS, OBJECTS_FOLDER):
            remove_old_drafts(folder / below)
        return found

    @classmethod
    def begin_anew(cls, folder: Path, *, check: Check | None = None) -> History:
        """Put a damaged history aside, as `.history-damaged-1`, and begin a new one that says so.

        The documents stay as they are.

        Raises:
            DocumentError: there is no design.
            OutputError: the folder cannot be written.
        """
        found = cls(folder, check)
        found._begins = (
            f"began anew: what was before cannot be read, and lies in {put_aside(folder)}"
        )
        with found._store.locked():
            found._catch_up()
        return found

    # What is there ---------------------------------------------------------------------------

    @property
    def head(self) -> str:
        """The id of the state that stands in the folder."""
        return self._head

    @property
    def documents(self) -> Documents:
        """The documents of the head."""
        return self.at(self._head)

    @property
    def entries(self) -> tuple[Entry, ...]:
        """The entries on the way to the head, oldest first."""
        return tuple(self._entries[each] for each in self._way_to(self._head))

    @property
    def undone(self) -> tuple[Entry, ...]:
        """What was undone and can be done again, the next one first."""
        return tuple(self._entries[each] for each in reversed(self._undone))

    @property
    def all_entries(self) -> tuple[Entry, ...]:
        """Every entry there ever was, oldest first, also those that no way leads to any more."""
        return tuple(self._entries[each] for each in self._order)

    @property
    def can_undo(self) -> str:
        """The words of what `undo` takes back; empty if there is nothing."""
        entry = self._entries[self._head]
        return entry.words if entry.parent else ""

    @property
    def can_redo(self) -> str:
        """The words of what `redo` does again; empty if there is nothing."""
        return self._entries[self._undone[-1]].words if self._undone else ""

    def entry(self, id: str) -> Entry:
        """Return an entry by its id.

        Raises:
            CommandError: there is none.
        """
        if id not in self._entries:
            raise CommandError(
                f"the history has no entry {id[:40]!r}",
                where=self.folder.name,
                what_to_do=did_you_mean(id, self._order[-12:], of_what="entries"),
            )
        return self._entries[id]

    def at(self, id: str) -> Documents:
        """Return the documents of an entry.

        Raises:
            CommandError: there is no such entry.
            DamagedHistory: the history cannot be read.
        """
        files = self.entry(id).files
        return {name: self._store.text(key) for name, key in files.items()}

    def since(self, base: str) -> tuple[Entry, ...]:
        """Return what lies between a state and the head: undone since, then done since.

        Raises:
            CommandError: there is no such entry.
        """
        self.entry(base)
        old, new = self._way_to(base), self._way_to(self._head)
        common = sum(1 for one, other in zip(old, new, strict=False) if one == other)
        return tuple(self._entries[each] for each in (*reversed(old[common:]), *new[common:]))

    # What is done ----------------------------------------------------------------------------

    def refresh(self) -> str:
        """Take in what others have written meanwhile; return the head."""
        if self._is_stale():
            with self._store.locked():
                self._catch_up()
        return self._head

    def commit(self, base: str, command: Command) -> Entry:
        """Make a change, made from a state, to the head; return the new state's entry.

        A change that changes nothing adds nothing; the entry of the head is returned.

        Raises:
            Conflict: what was done since the base touches the same; both are kept.
            CommandError: it cannot be made to these documents, or there is no such base.
            DocumentError: a document has faults, now or after it.
            OutputError: it cannot be written. Then, as above, nothing was changed.
        """
        with self._store.locked():
            self._catch_up()
            theirs = self.since(base)
            before = self.documents
            if theirs and _meet(command.touched(self.at(base)), theirs):
                if self._would_be(command) == before:  # sent twice, or the same in both windows
                    return self._entries[self._head]
                raise Conflict(self._set_aside(base, command), theirs)
            after = self._applied(command, before)
            if after == before:
                return self._entries[self._head]
            return self._step(command.told(before), command.kind, after, command)

    def undo(self, *, base: str = "") -> Entry:
        """Go back to the state before the head; return its entry, in words of what was undone.

        Raises:
            CommandError: there is nothing to undo.
            Conflict: `base` is given and something else was done since.
            OutputError: it cannot be written.
        """
        with self._store.locked():
            self._catch_up()
            self._refuse_stale(base)
            now = self._entries[self._head]
            if not now.parent:
                raise CommandError(
                    "there is nothing to undo",
                    where=self.folder.name,
                    what_to_do="This is the design as it was when its history began.",
                )
            return self._move(now.parent, _UNDO, now.words)

    def redo(self, *, base: str = "") -> Entry:
        """Do again what was undone last; return its entry.

        Raises:
            CommandError: there is nothing to do again.
            Conflict: `base` is given and something else was done since.
            OutputError: it cannot be written.
        """
        with self._store.locked():
            self._catch_up()
            self._refuse_stale(base)
            if not self._undone:
                raise CommandError(
                    "there is nothing to do again",
                    where=self.folder.name,
                    what_to_do="Only what was undone can be done again, until something else is.",
                )
            return self._move(self._undone[-1], _REDO, self.can_redo)

    def back_to(self, id: str) -> Entry:
        """Go back to an older state, or take what was set aside, by a step that can be undone.

        What was set aside is done to the head, so that nothing else of it is lost; if that cannot
        be, the documents are taken as they were set aside.

        Raises:
            CommandError: there is no such entry.
            OutputError: it cannot be written.
        """
        with self._store.locked():
            self._catch_up()
            older = self.entry(id)
            if older.files == self._entries[self._head].files:
                return self._entries[self._head]
            if older.kind == _ASIDE:
                after = self._would_be(command_from_data(older.command)) or self.at(id)
                return self._step(f"took “{older.words}”", _BACK_TO, after)
            return self._step(f"went back to “{older.words}”", _BACK_TO, self.at(id))

    # How it is done --------------------------------------------------------------------------

    def _applied(self, command: Command, before: Documents) -> dict[str, str]:
        after = command.apply(before)
        for name in after.keys() - before.keys():
            check_document_name(name)
        if self._check is not None and after != before:
            self._check(before, after)
        return after

    def _would_be(self, command: Command) -> dict[str, str] | None:
        """Return the head's documents after a command; None if it cannot be made to them."""
        try:
            return self._applied(command, self.documents)
        except ClothwiseError:
            return None

    def _step(
        self, words: str, kind: str, after: Documents, command: Command | None = None
    ) -> Entry:
        """Add a state to the head and make it the head."""
        touches = command.touched(self.documents) if command else self._changed(self._head, after)
        data = command.to_data() if command else {}
        entry = self._added(self._head, words, kind, after, touches, data)
        self._go_to(entry.id)
        self._write_documents(entry)
        return entry

    def _added(
        self,
        parent: str,
        words: str,
        kind: str,
        after: Documents,
        touches: frozenset[Touched],
        data: Mapping[str, Any],
    ) -> Entry:
        files = self._store.keep(after)
        number = self._store.lines + 1
        mark = checksum(f"{number} {parent} {sorted(files.items())}")[:6]
        entry = Entry(f"{number:04}-{mark}", parent, _now(), words, kind, files, touches, data)
        self._store.append(entry.to_line())
        self._note(entry)
        return entry

    def _set_aside(self, base: str, command: Command) -> Entry:
        before = self.at(base)
        after = self._applied(command, before)
        words = command.told(before)
        touches = command.touched(before)
        entry = self._added(base, words, _ASIDE, after, touches, command.to_data())
        self._store.note_written()
        return entry

    def _move(self, to: str, kind: str, words: str) -> Entry:
        line = {"id": to, "kind": kind, "at": _now(), "words": words}
        self._store.append(json.dumps(line, ensure_ascii=False, separators=(",", ":")))
        self._follow(line)
        entry = self._entries[to]
        self._write_documents(entry)
        return replace(entry, kind=kind, words=words, at=line["at"])

    def _refuse_stale(self, base: str) -> None:
        if base and base != self._head:
            raise Conflict(None, self.since(base))

    def _changed(self, since: str, after: Documents) -> frozenset[Touched]:
        before = self._entries[since].files if since else {}
        now = {name: checksum(text) for name, text in after.items()}
        names = {name for name in {*before, *now} if before.get(name) != now.get(name)}
        return frozenset((name, EVERY_KEY) for name in names)

    # What the log says -----------------------------------------------------------------------

    def _catch_up(self) -> None:
        """Read the log on, finish what a crash interrupted, and take in what others changed."""
        if self._damage is not None:
            raise self._damage
        for data in self._store.new_lines():
            try:
                self._follow(data)
            except (KeyError, TypeError, ValueError, AttributeError) as error:
                self._damage = self._store.damaged(f"a step cannot be followed ({error})"[:200])
                raise self._damage from error
        found = read_documents(self.folder)
        keys = {name: checksum(text) for name, text in found.items()}
        if not self._head:
            self._step(self._begins, _STARTS, found)
        elif keys != self._entries[self._head].files:
            if self._store.written != self._store.lines and self._was_interrupted(keys):
                self._write_documents(self._entries[self._head])
            else:
                words = "changed outside the program"
                self._step(words, _OUTSIDE, found)
        elif self._store.written != self._store.lines:
            self._store.note_written()
        self._seen = self._stats()

    def _was_interrupted(self, keys: Mapping[str, str]) -> bool:
        """Tell whether every document is of the head, or still of the state before it."""
        now = self._entries[self._head].files
        before = self._entries[self._before].files if self._before else {}
        return all(
            keys.get(name) in (now.get(name), before.get(name)) for name in {*keys, *now, *before}
        )

    def _follow(self, data: Mapping[str, Any]) -> None:
        """Take a line of the log into account."""
        id, kind = data["id"], data["kind"]
        if kind in (_UNDO, _REDO):
            meant = (
                self._entries[self._head].parent if kind == _UNDO else (self._undone or [""])[-1]
            )
            _refuse_unless(bool(id) and id == meant, "undone or done again is another state")
            self._go_to(id, kind=kind)
            return
        entry = Entry.from_data(data)
        _refuse_unless(entry.id not in self._entries, "a state comes twice")
        _refuse_unless(entry.parent in self._entries or not self._entries, "a state has no parent")
        for name, key in entry.files.items():
            check_document_name(name)
            _refuse_unless(isinstance(key, str), f"{name} has no checksum")
        self._note(entry)
        if entry.kind != _ASIDE:
            self._go_to(entry.id)

    def _note(self, entry: Entry) -> None:
        self._entries[entry.id] = entry
        self._order.append(entry.id)

    def _go_to(self, id: str, kind: str = "") -> None:
        if kind == _UNDO:
            self._undone.append(self._head)
        elif kind == _REDO:
            self._undone.pop()
        else:
            self._undone.clear()
        self._before, self._head = self._head, id

    def _way_to(self, id: str) -> list[str]:
        way = []
        while id:
            way.append(id)
            id = self._entries[id].parent
        return way[::-1]

    # What stands in the folder ---------------------------------------------------------------

    def _write_documents(self, entry: Entry) -> None:
        """Let the folder hold what the entry says; what is right already is not touched.

        Raises:
            OutputError: a document cannot be written. The step is in the log all the same, and is
                finished when the history is opened again.
        """
        try:
            self._write(entry)
        except (OutputError, OSError) as error:
            reason = (
                error.how_much or error.what if isinstance(error, OutputError) else error.strerror
            )
            raise OutputError(
                "the change is kept in the history, but not every file could be written",
                where=error.where if isinstance(error, OutputError) else str(self.folder),
                how_much=reason or type(error).__name__,
                what_to_do="Make room, or check the permissions of the folder; the files follow "
                "when the design is opened again.",
            ) from error
        self._store.note_written()
        self._seen = self._stats()

    def _write(self, entry: Entry) -> None:
        there = read_documents(self.folder)
        for name, key in entry.files.items():
            text = self._store.text(key)
            if there.get(name) != text and not is_sheet(name):
                path = self.folder / name
                path.parent.mkdir(exist_ok=True)
                if FilesOnDisk(self.folder).leads_out(path):
                    raise OutputError("a link leads out of the folder of the design", where=name)
                write_atomically(path, text)
        for name in there.keys() - entry.files.keys():
            if not is_sheet(name):
                with suppress(FileNotFoundError):
                    (self.folder / name).unlink()

    def _is_stale(self) -> bool:
        return self._seen != self._stats()

    def _stats(self) -> dict[str, tuple[int, int]]:
        """What tells without reading that a document or the log was written by somebody."""
        found = {}
        for below in (*DOCUMENT_FOLDERS, HISTORY_FOLDER):
            try:
                entries = list(os.scandir(self.folder / below))
            except OSError:
                continue
            for each in entries:
                is_own = below == HISTORY_FOLDER and each.name != LOG_FILE
                if is_own or each.name.startswith(".") or not each.is_file():
                    continue
                stat = each.stat()
                found[f"{below}/{each.name}"] = (stat.st_mtime_ns, stat.st_size)
        return found


def _refuse_unless(is_right: bool, what: str) -> None:
    if not is_right:
        raise ValueError(what)


def _meet(touches: frozenset[Touched], entries: tuple[Entry, ...]) -> bool:
    """Tell whether a change concerns something that these entries concern."""
    theirs = {each for entry in entries for each in entry.touches}
    return any(
        name == other_name and _is_same_place(key, other)
        for name, key in touches
        for other_name, other in theirs
    )


def _is_same_place(one: str, other: str) -> bool:
    if EVERY_KEY in (one, other):
        return True
    return f"{one}.".startswith(f"{other}.") or f"{other}.".startswith(f"{one}.")


def _now() -> str:
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
