"""The documents of a design as they stand in its folder."""

from __future__ import annotations

import os
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from clothwise.errors import OutputError
from clothwise.pattern.commands.documents import (
    DOCUMENT_FOLDERS,
    Documents,
    is_sheet,
    read_documents,
)
from clothwise.pattern.document.files import FilesOnDisk
from clothwise.pattern.history.store import HISTORY_FOLDER, LOG_FILE, OBJECTS_FOLDER
from clothwise.pattern.saving import (
    force_folder,
    make_folder,
    remove_old_drafts,
    write_atomically,
)

__all__ = ["DesignFolder"]

Seen = Mapping[str, tuple[int, int]]
"""Time of the last change in ns and size in bytes, by file."""


class DesignFolder:
    """Reads and writes the documents of one design. Spreadsheets are never written."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def read(self) -> dict[str, str]:
        """Return the documents that stand there."""
        return read_documents(self.path)

    def hold(self, documents: Documents) -> None:
        """Let the folder hold these documents and no others; what is right is not touched.

        Raises:
            OutputError: one cannot be written, or a link leads out of the folder.
            OSError: likewise, or one cannot be taken away.
        """
        there = self.read()
        for name, text in documents.items():
            if there.get(name) != text and not is_sheet(name):
                self._write(name, text)
        gone = [self.path / name for name in there.keys() - documents.keys() if not is_sheet(name)]
        for path in gone:
            with suppress(FileNotFoundError):
                path.unlink()
        for folder in {path.parent for path in gone}:
            force_folder(folder)  # else what was taken away may be there again after a power cut

    def seen(self) -> Seen:
        """Return what tells without reading that a document or the log was written by somebody."""
        found = {}
        for below in (*DOCUMENT_FOLDERS, HISTORY_FOLDER):
            try:
                entries = list(os.scandir(self.path / below))
            except OSError:
                continue
            for each in entries:
                is_own = below == HISTORY_FOLDER and each.name != LOG_FILE
                if is_own or each.name.startswith(".") or not each.is_file():
                    continue
                stat = each.stat()
                found[f"{below}/{each.name}"] = (stat.st_mtime_ns, stat.st_size)
        return found

    def clear_drafts(self) -> None:
        """Remove what was left of files that a crash interrupted."""
        for below in (*DOCUMENT_FOLDERS, OBJECTS_FOLDER):
            remove_old_drafts(self.path / below)

    def _write(self, name: str, text: str) -> None:
        path = self.path / name
        make_folder(path.parent)
        if FilesOnDisk(self.path).leads_out(path):
            raise OutputError("a link leads out of the folder of the design", where=name)
        write_atomically(path, text)
