"""Opens a stash from its file, with the photos that it names."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from clothwise.errors import DocumentError, Fault
from clothwise.pattern.document.fabric_entry import FabricEntry
from clothwise.pattern.document.files import ON_DISK, DocumentFiles
from clothwise.pattern.document.reading import Source
from clothwise.pattern.document.remnant_entry import RemnantEntry
from clothwise.pattern.document.stash import Stash, start_stash
from clothwise.pattern.document.tree import child_path

__all__ = ["beside_make", "photo_faults", "read_stash", "start_stash_file"]


def read_stash(path: Path) -> Stash:
    """Open a stash.

    Raises:
        DocumentError: carries every fault of the file.
    """
    stash, faults = start_stash_file(path)
    if faults:
        raise DocumentError(faults)
    return stash


def start_stash_file(path: Path, files: DocumentFiles = ON_DISK) -> tuple[Stash, tuple[Fault, ...]]:
    """Return as much of a stash as can be read, and its faults, in the order of the file.

    Raises:
        DocumentError: the file cannot be read at all.
    """
    if not files.is_file(path):
        remedy = "Name a file that lists your cloths under `fabrics`."
        raise DocumentError([Fault(str(path), None, "", "there is no such file", remedy)])
    found = start_stash(files.text(path), str(path))
    faults = [
        *found.reading.faults,
        *photo_faults(found.stash.fabrics, path.parent, found.source, files=files),
        *photo_faults(
            found.stash.remnants, path.parent, found.source, under="remnants", files=files
        ),
    ]
    return found.stash, tuple(sorted(dict.fromkeys(faults), key=lambda each: each.line or 0))


def photo_faults(
    fabrics: Iterable[FabricEntry | RemnantEntry],
    folder: Path,
    source: Source,
    *,
    under: str = "fabrics",
    files: DocumentFiles = ON_DISK,
) -> tuple[Fault, ...]:
    """Return a fault for each photo that is not there.

    Args:
        fabrics: that a file states.
        folder: of that file.
        source: where its values stand.
        under: the key under which the fabrics stand.
        files: that may be read.
    """
    return tuple(
        source.fault(
            f"{child_path(f'$.{under}', each.name)}.photo",
            f"{each.photo[:60]!r} leads out of the folder that may be read"
            if files.leads_out(folder / each.photo)
            else f"there is no file {each.photo[:60]!r}",
            "Name a picture, seen from the file that states it, or leave the line out.",
        )
        for each in fabrics
        if each.photo and not files.has_picture(folder / each.photo)
    )


def beside_make(stash: Stash, folder: Path, make_folder: Path) -> Stash:
    """Return the stash with its photos named as seen from the folder of a make."""
    try:
        way = Path(os.path.relpath(folder, make_folder))
    except ValueError:  # on another drive
        way = folder.resolve()

    def seen(photo: str) -> str:
        return (way / photo).as_posix() if photo else ""

    fabrics = (replace(each, photo=seen(each.photo)) for each in stash.fabrics)
    remnants = (replace(each, photo=seen(each.photo)) for each in stash.remnants)
    return replace(stash, fabrics=tuple(fabrics), remnants=tuple(remnants))
