"""In a worker: reads uploaded designs, with bounds for everything that a file can claim."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from pathlib import PurePosixPath

from clothwise.app.cloth_photos import is_photo, is_photo_name
from clothwise.app.design_folder import title_in
from clothwise.app.jobs.shelf import Imported
from clothwise.components import open_design
from clothwise.errors import ClothwiseError, DocumentError, Fault
from clothwise.pattern.commands import check_document_name

__all__ = ["imported"]

DESIGN = "design.yaml"
MOST_FILES = 200
LARGEST_DOCUMENT_BYTES = 1_000_000  # what the library reads of one file
MOST_BYTES = 20_000_000  # of all that is unpacked
_PICTURE = "a picture"
_KINDS = {
    ".pdf": "a PDF",
    ".svg": "a drawing",
    ".dxf": "a drawing",
    ".png": _PICTURE,
    ".jpg": _PICTURE,
    ".jpeg": _PICTURE,
}


def imported(files: Iterable[tuple[str, bytes]]) -> Imported:
    """Return the design among these files, or in the packed folder that is one of them.

    Raises:
        DocumentError: there is no design, or it has faults.
    """
    files = tuple(files)
    documents: dict[str, str] = {}
    photos: dict[str, bytes] = {}
    left_out: list[str] = []
    for name, content in _beside_design([*_unpacked(files)], left_out):
        if is_photo_name(name) and is_photo(content):
            photos[name] = content
            continue
        try:
            check_document_name(name)
            documents[name] = content.decode("utf-8-sig")
        except (ClothwiseError, UnicodeDecodeError):
            left_out.append(f"{name[:80]}: not a document of a design")
    if DESIGN not in documents:
        raise _no_design([name for name, _ in files])
    open_design(documents)
    title = title_in(documents[DESIGN]) or "Imported design"
    return Imported(title, documents, photos, tuple(left_out))


def _unpacked(files: Iterable[tuple[str, bytes]]) -> Iterator[tuple[str, bytes]]:
    """Give each file, and those inside of packed folders; never more than the bounds."""
    number, total = 0, 0
    for name, content in files:
        parts = _members(name, content) if name.lower().endswith(".zip") else [(name, content)]
        for each in parts:
            number, total = number + 1, total + len(each[1])
            if number > MOST_FILES or total > MOST_BYTES:
                raise _fault(
                    f"this holds more than {MOST_FILES} files or {MOST_BYTES // 1_000_000} MB",
                    "Import one design at a time, with photos of cloth that are smaller.",
                )
            yield each


def _members(name: str, content: bytes) -> Iterator[tuple[str, bytes]]:
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            if len(packed.infolist()) > 10 * MOST_FILES:
                raise _fault("this holds too many files", "Pack the folder of one design.")
            for member in packed.infolist():
                if member.is_dir():
                    continue
                with packed.open(member) as file:
                    # What it says of its own size is not believed: no more than this is unpacked.
                    content = file.read(LARGEST_DOCUMENT_BYTES + 1)
                    most = MOST_BYTES if is_photo(content) else LARGEST_DOCUMENT_BYTES
                    content += file.read(max(most + 1 - len(content), 0))
                if len(content) <= most:
                    yield member.filename, content
    except (zipfile.BadZipFile, RuntimeError, NotImplementedError, EOFError, ValueError) as error:
        raise _fault("this packed folder cannot be read", "Pack it once more as zip.") from error


def _beside_design(
    files: list[tuple[str, bytes]], left_out: list[str]
) -> Iterator[tuple[str, bytes]]:
    """Give the files beside the design that lies highest, by their names relative to it."""
    paths = [PurePosixPath(name.replace("\\", "/")) for name, _ in files]
    homes = sorted(
        (path.parent for path in paths if path.name == DESIGN), key=lambda each: len(each.parts)
    )
    home = homes[0] if homes else PurePosixPath()
    for path, (name, content) in zip(paths, files, strict=True):
        if ".." in path.parts or path.is_absolute():
            left_out.append(f"{name[:80]}: lies outside")
        elif any(part.startswith((".", "__MACOSX")) for part in path.parts):
            continue
        elif path.is_relative_to(home):
            yield path.relative_to(home).as_posix(), content


def _no_design(names: Sequence[str]) -> DocumentError:
    """What was chosen instead, and what can be brought in."""
    endings = {PurePosixPath(name).suffix.casefold() for name in names}
    kind = _KINDS.get(next(iter(endings)), "") if len(endings) == 1 else ""
    what = "a design cannot be read from this: "
    if ".zip" in endings:
        what += "this zip does not hold a design of Clothwise"
    elif kind:
        what += f"{kind} shows a pattern, but does not say how it is drafted"
    else:
        what += "the design itself, the file design.yaml, is not among what was chosen"
    remedy = (
        "Bring in the zip of a design: on the shelf where it was made, open “Rename, copy, put "
        "away” and press “Download as zip”. Or choose all files of its folder at once. "
        "Patterns on paper, as PDF or as drawings are not read."
    )
    told = ", ".join(PurePosixPath(name.replace("\\", "/")).name[:60] for name in names[:3])
    return DocumentError([Fault(told + (" …" if len(names) > 3 else ""), None, "", what, remedy)])


def _fault(what: str, remedy: str) -> DocumentError:
    return DocumentError([Fault("upload", None, "", what, remedy)])
