"""The photos of cloth that a design's makes and stash name: they go where its documents go."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Mapping
from pathlib import Path, PurePosixPath

from clothwise.app.security.bounds import LARGEST_UPLOAD_BYTES
from clothwise.errors import ClothwiseError

__all__ = ["is_photo", "is_photo_name", "photos_of"]

_KINDS = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")
_SUFFIXES = (".png", ".jpg", ".jpeg")
_PART = re.compile(r"[^\W_][\w .-]{0,79}")
_DEEPEST = 3


def is_photo(content: bytes) -> bool:
    """Tell whether a file begins as a PNG or JPEG does."""
    return content.startswith(_KINDS)


def is_photo_name(name: str) -> bool:
    """Tell whether a photo may be called so within the folder of a design.

    >>> is_photo_name("photos/green-linen.png"), is_photo_name("../green-linen.png")
    (True, False)
    """
    parts = name.split("/")
    return (
        len(parts) <= _DEEPEST
        and all(_PART.fullmatch(part) for part in parts)
        and PurePosixPath(name).suffix.casefold() in _SUFFIXES
    )


def photos_of(folder: Path, documents: Mapping[str, str]) -> dict[str, bytes]:
    """Return the photos that the documents of a design name, by their names within its folder.

    What is not there, lies elsewhere or is no photo is left out; the make that names it says so.

    Args:
        folder: of the design.
        documents: texts by name.
    """
    found = {}
    for name in sorted({each for pair in documents.items() for each in _named_in(*pair)}):
        path = folder / name
        if not (is_photo_name(name) and path.is_file()):
            continue
        if not path.resolve().is_relative_to(folder.resolve()):
            continue
        if path.stat().st_size <= LARGEST_UPLOAD_BYTES and is_photo(content := path.read_bytes()):
            found[name] = content
    return found


def _named_in(document: str, text: str) -> list[str]:
    """The photos that one document names, as seen from the folder of the design."""
    from clothwise.pattern.commands import is_make_name
    from clothwise.pattern.document import parse_make, parse_stash
    from clothwise.pattern.document.stash import STASH_FILE

    try:
        if is_make_name(document):
            photos = [each.photo for each in parse_make(text, file=document).fabrics]
        elif document == STASH_FILE:
            stash = parse_stash(text)
            photos = [each.photo for each in stash.fabrics]
            photos += [each.photo for each in stash.remnants]
        else:
            return []
    except ClothwiseError:
        return []
    home = posixpath.dirname(document)
    return [posixpath.normpath(posixpath.join(home, photo)) for photo in photos if photo]
