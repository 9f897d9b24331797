"""The history of a design: every state of its documents, and undo as an older one of them.

A step is done when its line is in the log. Then the documents are written; a crash between the two
is made good when the history is opened again. Documents that another program has changed meanwhile
become an entry of their own.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

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
)
from clothwise.pattern.commands.command import Touched
from clothwise.pattern.commands.documents import DESIGN_DOCUMENT
from clothwise.pattern.history.conflict import Conflict, meet
from clothwise.pattern.history.entry import (
    ASIDE,
    BACK_TO,
    OUTSIDE,
    REDO,
    START,
    UNDO,
    Entry,
    line_of,
)
from clothwise.pattern.history.folder import DesignFolder, Seen
from clothwise.pattern.history.states import States
from clothwise.pattern.history.store import DamagedHistory, HistoryStore, checksum, put_aside

__all__ = ["History"]

Check = Callable[[Documents, Documents], None]
"""Refuses documents after a change by an exception; told those before it, then those after it."""

_SUGGESTED = 12
"""Of the latest entries, when an unknown one is asked for."""

MOST_LOOKS = 5
"""At the documents, before a change is made to what was seen last. Our own choice: working out a
change takes long enough for somebody to save a file meanwhile, but not five times."""


class History:
    """The documents of one design with all that was done to them.

    One object may be shared by the threads of a program; other programs may write the same folder.
    Attributes tell what was true at the last `open`, `refresh`, or step.
    """

    def __init__(self, folder: Path, check: Check | None = None) -> None:
        self.folder = folder
        self._check = check
        self._store = HistoryStore(folder)
        self._files = DesignFolder(folder)
        self._states = States()
        self._seen: Seen = {}
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
            found._catch_up(looks_only=True)
        found._files.clear_drafts()
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
        return self._states.head

    @property
    def documents(self) -> Documents:
        """The documents of the head."""
        return self.at(self.head)

    @property
    def entries(self) -> tuple[Entry, ...]:
        """The entries on the way to the head, oldest first."""
        return self._states.way_to(self.head)

    @property
    def undone(self) -> tuple[Entry, ...]:
        """What was undone and can be done again, the next one first."""
        return self._states.undone

    @property
    def all_entries(self) -> tuple[Entry, ...]:
        """Every entry there ever was, oldest first, also those that no way leads to any more."""
        return tuple(self._states.entries.values())

    @property
    def can_undo(self) -> str:
        """The words of what `undo` takes back; empty if there is nothing."""
        entry = self._states.at_head
        return entry.words if entry.parent else ""

    @property
    def can_redo(self) -> str:
        """The words of what `redo` does again; empty if there is nothing."""
        return self.undone[0].words if self.undone else ""

    def entry(self, id: str) -> Entry:
        """Return an entry by its id.

        Raises:
            CommandError: there is none.
        """
        known = self._states.entries
        if id not in known:
            raise CommandError(
                f"the history has no entry {id[:40]!r}",
                where=self.folder.name,
                what_to_do=did_you_mean(id, [*known][-_SUGGESTED:], of_what="entries"),
            )
        return known[id]

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
        return self._states.between(self.entry(base).id)

    # What is done ----------------------------------------------------------------------------

    def refresh(self) -> str:
        """Take in what others have written meanwhile; return the head."""
        if self._seen != self._files.seen():
            with self._store.locked():
                self._catch_up(looks_only=True)
        return self.head

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
            for _ in range(MOST_LOOKS):
                self._catch_up()
                theirs = self.since(base)
                before = self.documents
                if theirs and meet(command.touched(self.at(base)), theirs):
                    if self._would_be(command) == before:  # sent twice, or the same in both windows
                        return self._states.at_head
                    raise Conflict(self._set_aside(base, command), theirs)
                after = self._applied(command, before)
                if after == before:
                    return self._states.at_head
                if self._seen == self._files.seen():  # else an editor has written meanwhile
                    break
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
            now = self._states.at_head
            if not now.parent:
                raise CommandError(
                    "there is nothing to undo",
                    where=self.folder.name,
                    what_to_do="This is the design as it was when its history began.",
                )
            return self._move(now.parent, UNDO, now.words)

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
            if not self.undone:
                raise CommandError(
                    "there is nothing to do again",
                    where=self.folder.name,
                    what_to_do="Only what was undone can be done again, until something else is.",
                )
            return self._move(self.undone[0].id, REDO, self.can_redo)

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
            if older.files == self._states.at_head.files:
                return self._states.at_head
            if older.kind == ASIDE:
                after = self._would_be(command_from_data(older.command)) or self.at(id)
                return self._step(f"took “{older.words}”", BACK_TO, after)
            return self._step(f"went back to “{older.words}”", BACK_TO, self.at(id))

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

    def _refuse_stale(self, base: str) -> None:
        if base and base != self.head:
            raise Conflict(None, self.since(base))

    def _step(
        self, words: str, kind: str, after: Documents, command: Command | None = None
    ) -> Entry:
        """Add a state to the head; it becomes the head, and the folder holds it."""
        touches = command.touched(self.documents) if command else self._changed(after)
        entry = self._added(self.head, words, kind, after, touches, command)
        self._write_documents()
        return entry

    def _set_aside(self, base: str, command: Command) -> Entry:
        """Add a state beside the way to the head."""
        before = self.at(base)
        after = self._applied(command, before)
        touches = command.touched(before)
        entry = self._added(base, command.told(before), ASIDE, after, touches, command)
        self._store.note_written()
        return entry

    def _added(
        self,
        parent: str,
        words: str,
        kind: str,
        after: Documents,
        touches: frozenset[Touched],
        command: Command | None,
    ) -> Entry:
        files = self._store.keep(after)
        number = self._store.lines + 1
        mark = checksum(f"{number} {parent} {sorted(files.items())}")[:6]
        data = command.to_data() if command else {}
        entry = Entry(f"{number:04}-{mark}", parent, _now(), words, kind, files, touches, data)
        self._store.append(entry.to_line())
        self._states.add(entry)
        return entry

    def _move(self, to: str, kind: str, words: str) -> Entry:
        """Let another state be the head, and the folder hold it."""
        line = {"id": to, "kind": kind, "at": _now(), "words": words}
        self._store.append(line_of(line))
        self._states.follow(line)
        self._write_documents()
        return replace(self._states.at_head, kind=kind, words=words, at=line["at"])

    def _changed(self, after: Documents) -> frozenset[Touched]:
        """Return the documents that are not as in the head."""
        before = self._states.at_head.files if self.head else {}
        now = {name: checksum(text) for name, text in after.items()}
        names = {name for name in {*before, *now} if before.get(name) != now.get(name)}
        return frozenset((name, EVERY_KEY) for name in names)

    # What the log and the folder say ---------------------------------------------------------

    def _catch_up(self, *, looks_only: bool = False) -> None:
        """Read the log on, finish what a crash interrupted, and take in what others changed.

        Who looks only need not wait until the documents can be written: the history has them.
        """
        self._follow_log()
        found = self._files.read()
        keys = {name: checksum(text) for name, text in found.items()}
        is_written = self._store.written == self._store.lines
        if not self.head:
            self._step(self._begins, START, found)
        elif keys != self._states.at_head.files:
            if not is_written and self._was_interrupted(keys):
                try:
                    self._write_documents()
                except OutputError:
                    if looks_only:
                        return  # it is tried again at the next look
                    raise
            else:
                self._step("changed outside the program", OUTSIDE, found)
        elif not is_written:
            self._store.note_written()
        self._seen = self._files.seen()

    def _follow_log(self) -> None:
        if self._damage is not None:
            raise self._damage
        for line in self._store.new_lines():
            try:
                self._states.follow(line)
            except (KeyError, TypeError, ValueError, AttributeError) as error:
                self._damage = self._store.damaged(f"a step cannot be followed ({error})"[:200])
                raise self._damage from error

    def _was_interrupted(self, keys: Mapping[str, str]) -> bool:
        """Tell whether every document is of the head, or still of the state before it."""
        states = self._states
        now = states.at_head.files
        before = states.entries[states.before].files if states.before else {}
        return all(
            keys.get(name) in (now.get(name), before.get(name)) for name in {*keys, *now, *before}
        )

    def _write_documents(self) -> None:
        """Let the folder hold the documents of the head.

        Raises:
            OutputError: a document cannot be written. The step is in the log all the same, and is
                finished when the history is opened again.
        """
        try:
            self._files.hold(self.documents)
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
        self._seen = self._files.seen()


def _now() -> str:
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
