"""Write a file so that nobody ever finds half of it."""

from __future__ import annotations

import os
import re
import time
from contextlib import suppress
from pathlib import Path
from uuid import uuid4

from clothwise.errors import OutputError

__all__ = [
    "BINARY",
    "force_folder",
    "make_folder",
    "remove_old_drafts",
    "write_all",
    "write_atomically",
    "write_through",
]

BINARY = getattr(os, "O_BINARY", 0)
"""Where it is not 0, files opened by `os.open` without it get other line ends."""

OLD_DRAFT_S = 60.0
"""After this, nobody is writing a draft any more. Our own choice: writing takes 0.1 s."""
_DRAFT = re.compile(r"\.[^/]{1,100}\.[0-9a-f]{32}")


def write_atomically(path: Path, content: str | bytes) -> None:
    """Write `content` (text as UTF-8) to `path`; on any failure the old file is left as it was.

    The content goes to a hidden file in the same folder, is forced to disk, and then takes the
    old file's place in one step. Permissions of an old file and symbolic links are kept.

    Raises:
        OutputError: the folder is missing or unwritable, the disk is full, or `path` is a folder.
    """
    target = Path(os.path.realpath(path))
    draft = target.with_name(f".{target.name[:100]}.{uuid4().hex}")
    try:
        _refuse_device(path, target)
        write_through(draft, content.encode() if isinstance(content, str) else content)
        if target.exists():
            draft.chmod(target.stat().st_mode & 0o7777)
        draft.replace(target)
        force_folder(target.parent)
    except OSError as error:
        _remove(draft)
        raise OutputError(
            "the file cannot be written",
            where=str(path),
            how_much=error.strerror or type(error).__name__,
            what_to_do=_remedy(path, target),
        ) from error
    except BaseException:  # Ctrl-C, too, must not leave the draft behind
        _remove(draft)
        raise


def remove_old_drafts(folder: Path) -> None:
    """Remove what `write_atomically` left in a folder when its process was killed."""
    with suppress(OSError):
        drafts = [each for each in os.scandir(folder) if _DRAFT.fullmatch(each.name)]
        for each in drafts:
            age_s = time.time() - each.stat(follow_symlinks=False).st_mtime
            if age_s > OLD_DRAFT_S and each.is_file(follow_symlinks=False):
                _remove(Path(each.path))


def write_through(path: Path, content: bytes) -> None:
    """Write a file that was not there, and force its content to disk.

    Raises:
        OSError: it is there, a link is, or it cannot be written.
    """
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | BINARY, 0o666)
    try:
        write_all(handle, content)
        os.fsync(handle)
    finally:
        os.close(handle)


def write_all(handle: int, content: bytes) -> None:
    """Write to an open file, also where the system takes it piece by piece.

    Raises:
        OSError: it cannot be written.
    """
    while content:
        content = content[os.write(handle, content) :]


def make_folder(path: Path) -> None:
    """Make a folder if it is not there, and force to disk that it is.

    Raises:
        OSError: it cannot be made.
    """
    try:
        path.mkdir()
    except FileExistsError:
        return
    force_folder(path.parent)


def force_folder(folder: Path) -> None:
    """Force to disk which files a folder has: a name that was given or taken may else be lost."""
    with suppress(OSError):  # some systems cannot open folders; what is in the files is safe
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _refuse_device(path: Path, target: Path) -> None:
    """Who may write everywhere must not replace /dev/null by a file."""
    if target.exists() and not target.is_file() and not target.is_dir():
        raise OutputError(
            "this is a device or a pipe, not a file",
            where=str(path),
            what_to_do="Choose the name of a file; nothing was changed.",
        )


def _remove(path: Path) -> None:
    with suppress(OSError):
        path.unlink()


def _remedy(path: Path, target: Path) -> str:
    if not target.parent.is_dir():
        return f"Create the folder {path.parent} first, or choose another one."
    if target.is_dir():
        return "This is a folder; choose a file name inside it."
    return "Choose a folder that you may write to, on a disk with room; nothing was changed."
