"""Where a history is kept: `.history/` in the folder of the design.

.history/
objects/3f2a...   texts by checksum, each written once
log.jsonl         one line for each step; a step is acknowledged when its line is on disk
written           the number of lines whose documents stand in the folder
lock              held while something is written
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import stat
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from clothwise.errors import DocumentError, Fault, OutputError
from clothwise.pattern.saving import (
    BINARY,
    force_folder,
    make_folder,
    write_all,
    write_atomically,
    write_through,
)

__all__ = [
    "HISTORY_FOLDER",
    "LOG_FILE",
    "OBJECTS_FOLDER",
    "DamagedHistory",
    "HistoryStore",
    "checksum",
    "put_aside",
]

HISTORY_FOLDER = ".history"
OBJECTS_FOLDER = f"{HISTORY_FOLDER}/objects"
LOG_FILE = "log.jsonl"
LONGEST_WAIT_S = 10.0
"""For another program that writes the same design. Our own choice: a change takes 0.1 s."""
_BETWEEN_TRIES_S = 0.02
_NO_LINK = getattr(os, "O_NOFOLLOW", 0)
_CHECKSUM = re.compile(r"[0-9a-f]{64}")


class DamagedHistory(DocumentError):
    """A history that cannot be read; the documents themselves are untouched."""


def checksum(text: str) -> str:
    """Return what names a text: the SHA-256 of its UTF-8 bytes."""
    return hashlib.sha256(text.encode()).hexdigest()


class HistoryStore:
    """Texts and log lines of one design on disk. Knows nothing of what they mean."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder / HISTORY_FOLDER
        self._log = self._folder / LOG_FILE
        self._objects = folder / OBJECTS_FOLDER
        self._read_bytes = 0
        self._file = (0, 0)  # which file the log is; 0: none was read yet
        self._texts: dict[str, str] = {}
        self._is_forced = False  # what earlier processes made may not be on disk by name
        self.lines = 0

    @contextmanager
    def locked(self) -> Iterator[None]:
        """Hold the design for writing; other programs and threads wait.

        The lock falls with the process that holds it, however that ends.

        Raises:
            DamagedHistory: what lies there is not ours to write: a link, or no file.
            DocumentError: the folder of the design is gone.
            OutputError: it cannot be had within `LONGEST_WAIT_S`, or the folder is unwritable.
        """
        self._refuse_what_is_not_ours()
        with _told(self._folder):
            make_folder(self._folder)
            make_folder(self._objects)
            handle = os.open(self._folder / "lock", os.O_RDWR | os.O_CREAT | _NO_LINK, 0o600)
        try:
            _take(handle, self._folder)
            yield
        finally:
            os.close(handle)

    def new_lines(self) -> list[dict[str, Any]]:
        """Return what was added to the log since the last call, by this or another program.

        A last line that was torn by a crash is not there; `append` cuts it off.

        Raises:
            DamagedHistory: the log is damaged before its last line, or is another one by now.
        """
        try:
            with self._log.open("rb") as file:
                self._refuse_another(os.fstat(file.fileno()))
                file.seek(self._read_bytes)
                content = file.read()
        except FileNotFoundError:
            if self._read_bytes:
                raise self._replaced() from None
            return []
        except OSError as error:
            raise _unreadable(self._log, error.strerror or type(error).__name__) from error
        lines = content[: content.rfind(b"\n") + 1].splitlines(keepends=True)
        if lines and b"\0" in lines[-1]:
            lines.pop()  # a block in the middle of it has not reached the disk: zeros are there
        found = [self._line(line, number) for number, line in enumerate(lines, 1)]
        self._read_bytes += sum(map(len, lines))
        self.lines += len(found)
        return found

    def append(self, data: str) -> None:
        """Add a line and force it to disk; after that it is acknowledged.

        Raises:
            OutputError: it cannot be written; then it is not in the log.
        """
        line = data.encode() + b"\n"
        with _told(self._log):
            handle = os.open(self._log, os.O_RDWR | os.O_CREAT | BINARY | _NO_LINK, 0o644)
            try:
                self._force_names()
                os.ftruncate(handle, self._read_bytes)  # a torn last line
                os.lseek(handle, self._read_bytes, os.SEEK_SET)
                try:
                    write_all(handle, line)
                    os.fsync(handle)
                except OSError:
                    with suppress(OSError):
                        os.ftruncate(handle, self._read_bytes)
                    raise
                self._file = _which(os.fstat(handle))
            finally:
                os.close(handle)
        self._read_bytes += len(line)
        self.lines += 1

    def keep(self, texts: Mapping[str, str]) -> dict[str, str]:
        """Keep texts for good; return their checksums by the same names.

        Raises:
            OutputError: they cannot be written.
        """
        found = {}
        for name, text in texts.items():
            found[name] = key = checksum(text)
            if key not in self._texts:
                if self._kept(key) != text:
                    write_atomically(self._objects / key, text)
                self._texts[key] = text
        return found

    def text(self, key: str) -> str:
        """Return a text that was kept.

        Raises:
            DamagedHistory: it is not there any more, or is not what it was.
        """
        if key not in self._texts:
            if _CHECKSUM.fullmatch(key) is None:
                raise _unreadable(self._log, f"{key[:20]!r} is no checksum")
            text = self._kept(key)
            if text is None:
                what = "it is not there, or its content does not fit its name"
                raise _unreadable(self._objects / key, what)
            self._texts[key] = text
        return self._texts[key]

    @property
    def written(self) -> int:
        """How many lines had their documents written into the folder; -1 if not known."""
        try:
            return int((self._folder / "written").read_text(encoding="ascii"))
        except (OSError, ValueError):
            return -1

    def note_written(self) -> None:
        """Note that the documents of the last line stand in the folder."""
        draft = self._folder / "written.new"
        with suppress(OSError):  # not known is safe, see History
            draft.unlink(missing_ok=True)
            write_through(draft, str(self.lines).encode())
            draft.replace(self._folder / "written")

    def damaged(self, what: str) -> DamagedHistory:
        """Return what to say about a log that cannot be followed."""
        return _unreadable(self._log, what)

    def _line(self, line: bytes, number: int) -> dict[str, Any]:
        data = _data(line)
        if data is None:
            raise _unreadable(self._log, f"line {self.lines + number} is damaged")
        return data

    def _kept(self, key: str) -> str | None:
        """Read a text; None if it is not there, or is not what it was."""
        path = self._objects / key
        try:
            if not stat.S_ISREG(os.lstat(path).st_mode):
                return None
            text = path.read_bytes().decode()
        except (OSError, UnicodeDecodeError):
            return None
        return text if checksum(text) == key else None

    def _force_names(self) -> None:
        """Force to disk, once, that log and texts are there: a process may have been killed before.

        Before a line is written: texts that it names must not be lost where it is not.
        """
        if not self._is_forced:
            for folder in (self._objects, self._folder, self._folder.parent):
                force_folder(folder)
            self._is_forced = True

    def _refuse_what_is_not_ours(self) -> None:
        """Refuse links: a folder that a stranger sent would have us write elsewhere."""
        if not self._folder.parent.is_dir():
            what, remedy = "the folder of the design is gone", "Bring it back, then try again."
            raise DocumentError([Fault(str(self._folder.parent), None, "", what, remedy)])
        folders = (self._folder, self._objects)
        files = [self._folder / name for name in ("lock", LOG_FILE, "written", "written.new")]
        for path in (*folders, *files):
            try:
                mode = os.lstat(path).st_mode
            except OSError:
                continue  # not there: it will be made
            if not (stat.S_ISDIR(mode) if path in folders else stat.S_ISREG(mode)):
                raise _unreadable(path, "a link stands there, or something else that is not ours")

    def _refuse_another(self, now: os.stat_result) -> None:
        if self._read_bytes and (_which(now) != self._file or now.st_size < self._read_bytes):
            raise self._replaced()
        self._file = _which(now)

    def _replaced(self) -> DamagedHistory:
        return _unreadable(self._log, "another program has put another one in its place")


def put_aside(folder: Path) -> str:
    """Give the history of a design a name under which nobody reads it; return the name.

    Raises:
        OutputError: it cannot be renamed.
    """
    number = 1
    while os.path.lexists(folder / f"{HISTORY_FOLDER}-damaged-{number}"):
        number += 1
    history = folder / HISTORY_FOLDER
    with _told(history):
        if os.path.lexists(history):  # a link that leads nowhere, too
            history.rename(folder / f"{HISTORY_FOLDER}-damaged-{number}")
    return f"{HISTORY_FOLDER}-damaged-{number}"


@contextmanager
def _told(place: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise OutputError(
            "the history of the design cannot be written",
            where=str(place),
            how_much=error.strerror or type(error).__name__,
            what_to_do="Choose a folder that you may write to, on a disk with room; "
            "nothing was changed.",
        ) from error


def _take(handle: int, folder: Path) -> None:
    try:
        import fcntl
    except ImportError:  # where files cannot be locked this way, one program at a time is meant
        return
    ends = time.monotonic() + LONGEST_WAIT_S
    while True:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            return
        except BlockingIOError:
            if time.monotonic() > ends:
                raise OutputError(
                    "another program is changing this design",
                    where=str(folder.parent),
                    how_much=f"waited {LONGEST_WAIT_S:.0f} s",
                    what_to_do="Try again; if it stays so, close the other program. "
                    "Nothing was changed.",
                ) from None
        time.sleep(_BETWEEN_TRIES_S)


def _which(file: os.stat_result) -> tuple[int, int]:
    """What tells one file from another of the same name."""
    return file.st_dev, file.st_ino


def _data(line: bytes) -> dict[str, Any] | None:
    """The data of a line; None if it is damaged."""
    try:
        data = json.loads(line)
    except (ValueError, RecursionError):
        return None
    return data if isinstance(data, dict) and isinstance(data.get("id"), str) else None


def _unreadable(path: Path, what: str) -> DamagedHistory:
    remedy = (
        f"The documents themselves are untouched. Put `{HISTORY_FOLDER}` aside to begin a new "
        "history."
    )
    return DamagedHistory(
        [Fault(str(path), None, "", f"the history cannot be read: {what}", remedy)]
    )
