"""Where documents are read from: the disk, or the texts of a folder that are held already.

Documents name others: a make its design, its body, its stash and photos. Where strangers' documents
are opened, such names must not lead out of a folder.
"""

from __future__ import annotations

import os
from abc import ABC, abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from clothwise.errors import DocumentError, Fault
from clothwise.pattern.csv_table import read_text
from clothwise.pattern.xlsx_table import SHEET_SUFFIX, table_text

__all__ = ["ON_DISK", "DocumentFiles", "FilesInTexts", "FilesOnDisk"]


class DocumentFiles(ABC):
    """The files that documents may be read from."""

    @abstractmethod
    def is_file(self, path: Path) -> bool:
        """Tell whether there is a document that may be read."""

    @abstractmethod
    def text(self, path: Path) -> str:
        """Return the text of a document; of a spreadsheet, that of its first sheet.

        Raises:
            DocumentError: it is not there, or cannot be read.
        """

    @abstractmethod
    def names(self, folder: Path) -> tuple[str, ...]:
        """Return the names of the files in a folder, in order."""

    @abstractmethod
    def has_picture(self, path: Path) -> bool:
        """Tell whether there is a picture that may be read."""

    @abstractmethod
    def leads_out(self, path: Path) -> bool:
        """Tell whether a path leads where nothing may be read, whether or not there is anything."""


@dataclass(frozen=True)
class FilesOnDisk(DocumentFiles):
    """Files on disk; with `within`, only those below that folder, links followed."""

    within: Path | None = None

    def is_file(self, path: Path) -> bool:
        """Tell whether there is a document that may be read."""
        return not self.leads_out(path) and path.is_file()

    def text(self, path: Path) -> str:
        """Return the text of a document.

        Raises:
            DocumentError: it is not there, or cannot be read.
        """
        if self.leads_out(path):
            raise _outside(path)
        return table_text(path) if _is_sheet(path) else read_text(path)

    def names(self, folder: Path) -> tuple[str, ...]:
        """Return the names of the files in a folder, in order."""
        if self.leads_out(folder):
            return ()
        return tuple(sorted(each.name for each in folder.iterdir()))

    def has_picture(self, path: Path) -> bool:
        """Tell whether there is a picture that may be read."""
        return self.is_file(path)

    def leads_out(self, path: Path) -> bool:
        """Tell whether a path leads out of the folder."""
        if self.within is None:
            return False
        return not Path(os.path.realpath(path)).is_relative_to(os.path.realpath(self.within))


ON_DISK = FilesOnDisk()
"""All files of the disk."""


@dataclass(frozen=True)
class FilesInTexts(DocumentFiles):
    """The documents of one folder as texts.

    Attributes:
        texts: by file name relative to the folder.
        folder: where they stand on disk, for messages; pictures are looked for there only if it
            is `real`.
        real: whether the folder is there at all.
        beyond: whether what lies outside of the folder is read from the disk, such as a stash for
            all designs; else nothing may lead there.
    """

    texts: Mapping[str, str]
    folder: Path
    real: bool = True
    beyond: bool = False

    def is_file(self, path: Path) -> bool:
        """Tell whether there is such a document, or a file that cannot be read as one."""
        if self._name(path) in self.texts:
            return True
        if self._is_outside(path):
            return self.beyond and path.is_file()
        return self._is_unreadable(path)

    def text(self, path: Path) -> str:
        """Return the text of a document.

        Raises:
            DocumentError: it is not there; says why if a file of this name cannot be read.
        """
        name = self._name(path)
        if name in self.texts:
            return self.texts[name]
        if self.leads_out(path):
            raise _outside(path)
        return ON_DISK.text(path)

    def names(self, folder: Path) -> tuple[str, ...]:
        """Return the names of the documents in a folder, in order."""
        below = self._name(folder)
        found = (Path(name) for name in self.texts)
        return tuple(sorted(each.name for each in found if each.parent.as_posix() == below))

    def has_picture(self, path: Path) -> bool:
        """Tell whether there is a picture; taken for granted without a folder on disk."""
        return not self.leads_out(path) and (not self.real or path.is_file())

    def leads_out(self, path: Path) -> bool:
        """Tell whether a path leads out of the folder, which nothing may unless `beyond` is set."""
        return not self.beyond and self._is_outside(path)

    def _is_outside(self, path: Path) -> bool:
        name = self._name(path)
        if name == ".." or name.startswith("../") or os.path.isabs(name):
            return True
        return self.real and FilesOnDisk(self.folder).leads_out(path)

    def _is_unreadable(self, path: Path) -> bool:
        """Tell whether there is a file that was left out of the texts because it is none."""
        if not self.real or not path.is_file():
            return False
        try:
            ON_DISK.text(path)
        except DocumentError:
            return True
        return False

    def _name(self, path: Path) -> str:
        try:
            return Path(os.path.relpath(path, self.folder)).as_posix()
        except ValueError:  # on another drive
            return str(path)


def _is_sheet(path: Path) -> bool:
    return path.suffix.casefold() == SHEET_SUFFIX


def _outside(path: Path) -> DocumentError:
    what = "this leads out of the folder that may be read"
    return DocumentError(
        [Fault(path.name, None, "", what, "Put the file into the folder of the design.")]
    )
