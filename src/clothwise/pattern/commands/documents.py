"""The files of one design folder as texts, read once and never changed: a snapshot.

design.yaml       the design
sizes.csv         its size chart, and any other table or body beside it
stash.yaml        cloths at hand
make.yaml         a make, or several in makes/
makes/view-a.yaml
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TypeAlias

from clothwise.errors import CommandError, DocumentError
from clothwise.pattern.csv_table import MAX_FILE_BYTES, read_text
from clothwise.pattern.document.make import make_order
from clothwise.pattern.xlsx_table import SHEET_SUFFIX, table_text

__all__ = [
    "DESIGN_DOCUMENT",
    "DOCUMENT_FOLDERS",
    "Documents",
    "check_document_name",
    "is_make_name",
    "is_sheet",
    "make_names",
    "read_documents",
]

Documents: TypeAlias = Mapping[str, str]
"""Texts by file name, relative to the folder of the design and with `/` between."""

DESIGN_DOCUMENT = "design.yaml"
MOST_DOCUMENTS = 200
"""In one folder. Our own choice: a design with a make for every size of the largest charts."""
MOST_SHEETS = 12
"""Spreadsheets among them. Our own choice: the largest takes 6 s to read, and all are read."""
DOCUMENT_FOLDERS = ("", "makes", "bodies")
"""Where documents lie; other folders are for what is made of them."""
_SUFFIXES = (".yaml", ".yml", ".csv", SHEET_SUFFIX)
_NAME = re.compile(r"(?:(?:makes|bodies)/)?[^\W_][\w .,()+-]{0,79}")


def read_documents(folder: Path) -> dict[str, str]:
    """Return the documents that stand in the folder of a design.

    Spreadsheets are there as the text of their first sheet, to be read and not to be changed.
    Hidden files, links that lead out of the folder and what is no text are left out; whoever
    opens a document that is missing hears why.
    """
    return dict(_found(folder))


def check_document_name(name: str) -> None:
    """Refuse a name that no document may have.

    Raises:
        CommandError: it leads out of the folder, is hidden, too long or of another kind.

    >>> check_document_name("makes/view-a.yaml")
    """
    path = Path(name)
    parent = path.parent.as_posix().replace(".", "", 1)
    if (
        "\\" in name
        or parent not in DOCUMENT_FOLDERS
        or path.suffix.casefold() not in _SUFFIXES
        or _NAME.fullmatch(name) is None
        or name != path.as_posix()
    ):
        raise CommandError(
            f"no document can be called {name[:60]!r}",
            what_to_do="Begin with a letter or digit, use letters, digits, spaces and hyphens, "
            "and end in .yaml or .csv; makes lie in `makes/`, bodies in `bodies/`.",
        )


def is_sheet(name: str) -> bool:
    """Tell whether a document is the reading of a spreadsheet, which is never written."""
    return name.casefold().endswith(SHEET_SUFFIX)


def is_make_name(name: str) -> bool:
    """Tell whether a document is a make, by its name."""
    return name == "make.yaml" or (name.startswith("makes/") and name.endswith(".yaml"))


def make_names(documents: Documents) -> tuple[str, ...]:
    """Return the makes among the documents, in the order in which they are told everywhere."""
    return tuple(sorted(filter(is_make_name, documents), key=make_order))


def _found(folder: Path) -> Iterator[tuple[str, str]]:
    inside = Path(os.path.realpath(folder))
    names = sorted(_names(folder))
    sheets = [name for name in names if is_sheet(name)]
    for name in sorted({*names} - {*sheets[MOST_SHEETS:]})[:MOST_DOCUMENTS]:
        path = folder / name
        if not Path(os.path.realpath(path)).is_relative_to(inside):
            continue
        try:
            yield name, table_text(path) if is_sheet(name) else read_text(path)
        except DocumentError:
            continue


def _names(folder: Path) -> Iterator[str]:
    for below in DOCUMENT_FOLDERS:
        try:
            entries = list(os.scandir(folder / below))
        except OSError:
            continue
        for entry in entries:
            name = f"{below}/{entry.name}" if below else entry.name
            if _is_document(name) and entry.is_file() and entry.stat().st_size <= MAX_FILE_BYTES:
                yield name


def _is_document(name: str) -> bool:
    try:
        check_document_name(name)
    except CommandError:
        return False
    return True
