"""Layouts kept in one SQLite file, so that what was found once is never searched again.

A layout is kept by the digest of its question (see `question`): shapes, cloth, plan and spacing.
Only the shortest one known is kept, whatever search found it; beside it stands which searches have
been made. So a layout found with more effort also answers for less, and nothing that is asked
again gets longer.

The file can always be thrown away. It serves several processes and threads at once. A damaged one
is made anew, and each layout is verified when it is read, so that damage costs a search, never
cloth.
"""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from clothwise.cutting.laying import ENGINE
from clothwise.cutting.layout import Effort, Layout
from clothwise.cutting.layout_text import layout_from_text, layout_to_text
from clothwise.cutting.question import LayoutQuestion, work_of
from clothwise.cutting.verify import verify
from clothwise.cutting.verify_repeats import repeat_faults
from clothwise.errors import OutputError

__all__ = ["LayoutStore", "Stored", "holds", "search_engine"]

_FILE_NAME = "layouts-1.sqlite"  # the number is of the tables below; another one, another file
_SEARCH_VERSION = 4  # to be raised when the same question should be searched anew
_WAIT_S = 60.0  # for others who write to the file
_MOST_LAYOUTS = 5000  # of about 10 kB; beyond that, those that were found first go
_MOST_ANSWERS = 500
_UNREADABLE = (ValueError, LookupError, TypeError, OverflowError, RecursionError)
_DAMAGE = frozenset(
    {
        sqlite3.SQLITE_CORRUPT,
        sqlite3.SQLITE_NOTADB,
        sqlite3.SQLITE_FORMAT,
        sqlite3.SQLITE_MISMATCH,
        sqlite3.SQLITE_SCHEMA,
        sqlite3.SQLITE_ERROR,  # tables that are missing, or not ours
    }
)
_TABLES = """
CREATE TABLE IF NOT EXISTS layout (
    question TEXT PRIMARY KEY, length_mm REAL NOT NULL, body TEXT NOT NULL, checksum TEXT NOT NULL
);
CREATE TABLE IF NOT EXISTS search (
    question TEXT, engine TEXT, seed INTEGER, work INTEGER NOT NULL,
    PRIMARY KEY (question, engine, seed)
);
CREATE TABLE IF NOT EXISTS answer (
    question TEXT PRIMARY KEY, body TEXT NOT NULL, checksum TEXT NOT NULL
);
"""
_PRUNING = (
    f"DELETE FROM layout WHERE rowid <= (SELECT MAX(rowid) FROM layout) - {_MOST_LAYOUTS}",
    f"DELETE FROM answer WHERE rowid <= (SELECT MAX(rowid) FROM answer) - {_MOST_ANSWERS}",
    "DELETE FROM search WHERE question NOT IN (SELECT question FROM layout)",
)

Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True)
class Stored:
    """What is known about a question.

    Attributes:
        layout: the shortest one known, verified; None if there is none.
        searched: whether a search of at least the effort that is asked for has been made.
        damaged: whether something was there that could not be read, or did not hold.
    """

    layout: Layout | None
    searched: bool
    damaged: bool


def search_engine() -> str:
    """Return what searches, with its version: another one searches anew."""
    return f"{ENGINE}, search {_SEARCH_VERSION}"


def holds(layout: Layout, question: LayoutQuestion) -> bool:
    """Whether a layout is an answer to a question, judged by the verifiers."""
    faults = verify(layout, question.items, question.pins)
    return not faults and not repeat_faults(layout, question.items, question.matches)


class LayoutStore:
    """The kept layouts of a folder; each call opens the file for itself."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.path = folder / _FILE_NAME

    def find(self, question: LayoutQuestion, effort: Effort, seed: int) -> Stored:
        """Return what is known about a question.

        Raises:
            OutputError: the file cannot be read.
        """

        def looked_up(connection: sqlite3.Connection) -> tuple[_Row | None, bool]:
            row = _row_of(connection, question.digest)
            return row, question.digest in _searched(connection, [question.digest], effort, seed)

        found = self._read(looked_up)
        if isinstance(found, _Unreadable):
            return Stored(None, searched=False, damaged=found.damaged)
        row, searched = found
        if row is None:
            return Stored(None, searched=False, damaged=False)
        layout = row.layout(question, effort, seed)
        return Stored(layout, searched and layout is not None, damaged=layout is None)

    def keep(self, question: LayoutQuestion, layout: Layout, *, searched: bool = True) -> Layout:
        """Keep a layout if no shorter one is known; return the shortest.

        Args:
            question: what was asked.
            layout: verified.
            searched: whether the search came to its end.

        Raises:
            OutputError: the folder or the file cannot be written.
        """
        known: list[Layout] = []

        def compared(connection: sqlite3.Connection) -> None:
            known.clear()
            row = _row_of(connection, question.digest)
            other = row.layout(question, layout.effort, layout.seed) if row else None
            if other is not None and other.length_mm <= layout.length_mm:
                known.append(other)
            else:
                _put(connection, _Row.of(question, layout))
            if searched:
                _note_search(connection, question.digest, layout)
            for statement in _PRUNING:
                connection.execute(statement)

        self._write(compared)
        return known[0] if known else layout

    def lengths_mm(self, digests: Iterable[str], effort: Effort, seed: int) -> dict[str, float]:
        """Return the shortest lengths of those questions that have been searched with this effort.

        They were verified when they were kept, and are not verified again.

        Raises:
            OutputError: the file cannot be read.
        """
        asked = list(dict.fromkeys(digests))

        def looked_up(connection: sqlite3.Connection) -> dict[str, float]:
            searched = _searched(connection, asked, effort, seed)
            rows = ((digest, _row_of(connection, digest)) for digest in asked if digest in searched)
            return {digest: row.length_mm for digest, row in rows if row and row.is_whole}

        found = self._read(looked_up)
        return {} if isinstance(found, _Unreadable) else found

    def remembered(self, key: str) -> str | None:
        """Return the text that was kept under a key; None if there is none.

        Raises:
            OutputError: the file cannot be read.
        """

        def looked_up(connection: sqlite3.Connection) -> str | None:
            row = connection.execute(
                "SELECT body, checksum FROM answer WHERE question = ?", (key,)
            ).fetchone()
            whole = row is not None and row[1] == _checksum(key, row[0])
            return str(row[0]) if whole else None

        found = self._read(looked_up)
        return None if isinstance(found, _Unreadable) else found

    def remember(self, key: str, text: str) -> None:
        """Keep a text under a key, such as what a question was derived from.

        Raises:
            OutputError: the folder or the file cannot be written.
        """
        row = (key, text, _checksum(key, text))
        self._write(lambda c: c.execute("INSERT OR REPLACE INTO answer VALUES (?, ?, ?)", row))

    def check_place(self) -> None:
        """Refuse a place where nothing can be kept, before anything is searched.

        Raises:
            OutputError: something that is no folder stands where the folder should be.
        """
        nearest = next(
            (each for each in (self.folder, *self.folder.parents) if each.exists()), None
        )
        if nearest is not None and not nearest.is_dir():
            raise self._told("a file is in the way")

    def _read(self, action: Callable[[sqlite3.Connection], Answer]) -> Answer | _Unreadable:
        """What an action gives; or that nothing can be read, and whether anything was there."""
        if not self.path.exists():
            return _Unreadable(damaged=False)
        try:
            with self._connection("rw") as connection:
                return action(connection)
        except sqlite3.Error as error:
            if _is_damage(error) or not self.path.exists():
                return _Unreadable(damaged=True)
            raise self._told(str(error)) from error

    def _write(self, action: Callable[[sqlite3.Connection], object]) -> None:
        """Do something as a whole or not at all; a damaged file is thrown away and made anew."""
        self._make_folder()
        for attempt in (1, 2):
            try:
                with self._connection("rwc") as connection:
                    connection.execute("BEGIN IMMEDIATE")
                    for table in filter(str.strip, _TABLES.split(";")):
                        connection.execute(table)
                    action(connection)
                    connection.execute("COMMIT")
                return
            except sqlite3.Error as error:
                if attempt == 2 or not _is_damage(error):
                    raise self._told(str(error)) from error
                self._throw_away()

    @contextmanager
    def _connection(self, mode: str) -> Iterator[sqlite3.Connection]:
        address = f"{self.path.resolve().as_uri()}?mode={mode}"
        connection = sqlite3.connect(address, uri=True, timeout=_WAIT_S, isolation_level=None)
        with closing(connection):
            yield connection

    def _throw_away(self) -> None:
        for name in (self.path.name, f"{self.path.name}-journal"):
            with suppress(OSError):  # another process was quicker
                self.path.with_name(name).unlink()

    def _make_folder(self) -> None:
        try:
            self.folder.mkdir(exist_ok=True)
        except OSError as error:
            raise self._told(error.strerror or type(error).__name__) from error

    def _told(self, why: str) -> OutputError:
        return OutputError(
            "layouts cannot be kept here",
            where=str(self.folder),
            how_much=why,
            what_to_do="Choose a folder that you may write to, on a disk with room, and end other "
            "programs that hold the file. Nothing in this folder is needed: it may be deleted.",
        )


@dataclass(frozen=True, slots=True)
class _Unreadable:
    """There is no answer in the file; `damaged` if something stood there."""

    damaged: bool


@dataclass(frozen=True, slots=True)
class _Row:
    """A layout as it stands in the file."""

    question: str
    length_mm: float
    body: str
    checksum: str

    @classmethod
    def of(cls, question: LayoutQuestion, layout: Layout) -> _Row:
        digest, length_mm, body = question.digest, layout.length_mm, layout_to_text(layout)
        return cls(digest, length_mm, body, _checksum(digest, repr(length_mm), body))

    @property
    def is_whole(self) -> bool:
        return self.checksum == _checksum(self.question, repr(self.length_mm), self.body)

    def layout(self, question: LayoutQuestion, effort: Effort, seed: int) -> Layout | None:
        """The layout of this row; None if it cannot be read, or does not hold."""
        if not self.is_whole:
            return None
        try:
            layout = layout_from_text(self.body, question, effort, seed)
        except _UNREADABLE:
            return None  # the caller searches again and says so
        return layout if holds(layout, question) else None


def _row_of(connection: sqlite3.Connection, digest: str) -> _Row | None:
    row = connection.execute(
        "SELECT question, length_mm, body, checksum FROM layout WHERE question = ?", (digest,)
    ).fetchone()
    return _Row(*row) if row else None


def _searched(
    connection: sqlite3.Connection, digests: Iterable[str], effort: Effort, seed: int
) -> set[str]:
    """Those questions for which a search of this effort, or more, was made."""
    asked = ((digest, search_engine(), seed, work_of(effort)) for digest in digests)
    statement = (
        "SELECT question FROM search WHERE question = ? AND engine = ? AND seed = ? AND work >= ?"
    )
    found = (connection.execute(statement, each).fetchone() for each in asked)
    return {row[0] for row in found if row}


def _put(connection: sqlite3.Connection, row: _Row) -> None:
    connection.execute("DELETE FROM layout WHERE question = ?", (row.question,))
    connection.execute(
        "INSERT INTO layout VALUES (?, ?, ?, ?)",
        (row.question, row.length_mm, row.body, row.checksum),
    )


def _note_search(connection: sqlite3.Connection, digest: str, layout: Layout) -> None:
    connection.execute(
        "INSERT INTO search VALUES (?, ?, ?, ?) ON CONFLICT (question, engine, seed) "
        "DO UPDATE SET work = MAX(work, excluded.work)",
        (digest, search_engine(), layout.seed, work_of(layout.effort)),
    )


def _checksum(*parts: object) -> str:
    return hashlib.sha256("\n".join(map(str, parts)).encode("utf-8", "replace")).hexdigest()


def _is_damage(error: sqlite3.Error) -> bool:
    code = getattr(error, "sqlite_errorcode", None)
    if code is None:  # raised by Python's own module, which found something odd in the file
        return isinstance(error, sqlite3.DatabaseError)
    return code & 0xFF in _DAMAGE
