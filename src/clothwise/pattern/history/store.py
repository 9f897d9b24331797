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
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from clothwise.errors import DocumentError, Fault, OutputError
from clothwise.pattern.saving import write_atomically

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
        self._texts: dict[str, str] = {}
        self.lines = 0

    @contextmanager
    def locked(self) -> Iterator[None]:
        """Hold the design for writing; other programs and threads wait.

        The lock falls with the process that holds it, however that ends.

        Raises:
            OutputError: it cannot be had within `LONGEST_WAIT_S`, or the folder is unwritable.
        """
        with _told(self._folder):
            self._objects.mkdir(parents=True, exist_ok=True)
            handle = os.open(self._folder / "lock", os.O_RDWR | os.O_CREAT, 0o600)
        try:
            _take(handle, self._folder)
            yield
        finally:
            os.close(handle)

    def new_lines(self) -> list[dict[str, Any]]:
        """Return what was added to the log since the last call, by this or another program.

        A last line that was torn by a crash is not there; `append` cuts it off.

        Raises:
            DamagedHistory: the log is damaged before its last line.
        """
        try:
            with self._log.open("rb") as file:
                file.seek(self._read_bytes)
                content = file.read()
        except FileNotFoundError:
            return []
        except OSError as error:
            raise _unreadable(self._log, error.strerror or type(error).__name__) from error
        whole = content[: content.rfind(b"\n") + 1]
        found = [self._line(line, number) for number, line in enumerate(whole.splitlines(), 1)]
        self._read_bytes += len(whole)
        self.lines += len(found)
        return found

    def append(self, data: str) -> None:
        """Add a line and force it to disk; after that it is acknowledged.

        Raises:
            OutputError: it cannot be written; then it is not in the log.
        """
        with _told(self._log):
            is_new = not self._log.exists()
            handle = os.open(self._log, os.O_RDWR | os.O_CREAT, 0o644)
            try:
                os.ftruncate(handle, self._read_bytes)  # a torn last line
                os.lseek(handle, self._read_bytes, os.SEEK_SET)
                line = data.encode() + b"\n"
                try:
                    _write_all(handle, line)
                    os.fsync(handle)
                except OSError:
                    with suppress(OSError):
                        os.ftruncate(handle, self._read_bytes)
                    raise
            finally:
                os.close(handle)
            if is_new:
                _force(self._folder)
                _force(self._folder.parent)
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
                path = self._objects / key
                if not path.exists():
                    write_atomically(path, text)
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
            path = self._objects / key
            try:
                text = path.read_bytes().decode()
            except (OSError, UnicodeDecodeError) as error:
                raise _unreadable(path, str(error)) from error
            if checksum(text) != key:
                raise _unreadable(path, "its content does not fit its name")
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
            draft.write_text(str(self.lines), encoding="ascii")
            draft.replace(self._folder / "written")

    def damaged(self, what: str) -> DamagedHistory:
        """Return what to say about a log that cannot be followed."""
        return _unreadable(self._log, what)

    def _line(self, line: bytes, number: int) -> dict[str, Any]:
        try:
            data = json.loads(line)
            if isinstance(data, dict) and isinstance(data["id"], str):
                return data
        except (ValueError, KeyError):
            pass
        raise _unreadable(self._log, f"line {self.lines + number} is damaged")


def put_aside(folder: Path) -> str:
    """Give the history of a design a name under which nobody reads it; return the name.

    Raises:
        OutputError: it cannot be renamed.
    """
    number = 1
    while (folder / f"{HISTORY_FOLDER}-damaged-{number}").exists():
        number += 1
    history = folder / HISTORY_FOLDER
    with _told(history):
        if history.exists():
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


def _write_all(handle: int, content: bytes) -> None:
    while content:
        content = content[os.write(handle, content) :]


def _force(folder: Path) -> None:
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _unreadable(path: Path, what: str) -> DamagedHistory:
    remedy = (
        f"The documents themselves are untouched. Put `{HISTORY_FOLDER}` aside to begin a new "
        "history."
    )
    return DamagedHistory(
        [Fault(str(path), None, "", f"the history cannot be read: {what}", remedy)]
    )
