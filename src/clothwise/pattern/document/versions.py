"""Earlier versions of a file, kept in the folder `.versions` beside it."""

from __future__ import annotations

import re
from pathlib import Path

from clothwise.errors import OutputError
from clothwise.pattern.saving import write_atomically

__all__ = ["KEPT_VERSIONS", "VERSIONS_FOLDER", "kept_versions", "save_with_version"]

VERSIONS_FOLDER = ".versions"
KEPT_VERSIONS = 30
"""How many of each file. Our own choice: an afternoon of changes."""


def kept_versions(path: Path) -> tuple[Path, ...]:
    """Return the kept versions of a file, oldest first.

    They are called like the file with a number before its suffix: `design-0007.yaml`.
    """
    pattern = re.compile(rf"{re.escape(path.stem)}-([0-9]{{4,}}){re.escape(path.suffix)}")
    folder = path.parent / VERSIONS_FOLDER
    if not folder.is_dir():
        return ()
    found = [
        (int(match[1]), each)
        for each in folder.iterdir()
        if (match := pattern.fullmatch(each.name))
    ]
    return tuple(each for _, each in sorted(found))


def save_with_version(path: Path, text: str) -> None:
    """Write a text; if the file had another one, that is kept as a version first.

    The oldest versions beyond `KEPT_VERSIONS` are removed. Saving the same text changes nothing.

    Raises:
        OutputError: something cannot be written; the file is as it was.
    """
    try:
        before = path.read_bytes() if path.exists() else None
    except OSError as error:
        raise OutputError(
            "the file cannot be read, so it is not replaced",
            where=str(path),
            how_much=error.strerror or type(error).__name__,
            what_to_do="Check its permissions.",
        ) from error
    if before == text.encode():
        return
    if before is not None:
        _keep(path, before)
    write_atomically(path, text)


def _keep(path: Path, content: bytes) -> None:
    kept = kept_versions(path)
    folder = path.parent / VERSIONS_FOLDER
    try:
        folder.mkdir(exist_ok=True)
        if kept and kept[-1].read_bytes() == content:
            return
        number = int(kept[-1].stem.rpartition("-")[2]) + 1 if kept else 1
        write_atomically(folder / f"{path.stem}-{number:04}{path.suffix}", content)
        for oldest in kept[: max(0, len(kept) + 1 - KEPT_VERSIONS)]:
            oldest.unlink()
    except OSError as error:
        raise OutputError(
            "the version before cannot be kept, so the file is not replaced",
            where=str(folder),
            how_much=error.strerror or type(error).__name__,
            what_to_do="Choose a folder that you may write to, on a disk with room.",
        ) from error
