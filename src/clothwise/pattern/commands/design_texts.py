"""The design and the makes among documents: read, and written back with comments and order kept."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import lru_cache

from clothwise.errors import CommandError, DocumentError, Misuse, did_you_mean
from clothwise.pattern.commands.documents import DESIGN_DOCUMENT, Documents, make_names
from clothwise.pattern.document.design import Design
from clothwise.pattern.document.design_reader import parse_design, start_design
from clothwise.pattern.document.make import Make
from clothwise.pattern.document.make_reader import parse_make
from clothwise.pattern.document.writing import format_design, format_make, needs_quotes

__all__ = [
    "design_of",
    "document_text",
    "make_of",
    "makes_of",
    "with_design",
    "with_design_value",
    "with_make",
    "with_makes",
    "with_text",
]


def document_text(documents: Documents, name: str) -> str:
    """Return the text of a document.

    Raises:
        CommandError: there is none.
    """
    if name not in documents:
        raise CommandError(
            f"there is no document {name[:60]!r}",
            what_to_do=did_you_mean(name, documents, of_what="documents"),
        )
    return documents[name]


def design_of(documents: Documents) -> Design:
    """Return the design.

    Raises:
        CommandError: there is none.
        DocumentError: it has faults.
    """
    return _design(document_text(documents, DESIGN_DOCUMENT))


def make_of(documents: Documents, name: str) -> Make:
    """Return a make as it stands in its document.

    Raises:
        CommandError: there is none of this name.
        DocumentError: it has faults.
    """
    if name not in documents:
        raise CommandError(
            f"there is no make {name[:60]!r}",
            what_to_do=did_you_mean(name, make_names(documents), of_what="makes"),
        )
    return _make(documents[name], name)


def with_design(documents: Documents, design: Design) -> dict[str, str]:
    """Return the documents with another design.

    Raises:
        Misuse: it has something that a document cannot hold.
    """
    text = format_design(design, previous=document_text(documents, DESIGN_DOCUMENT))
    return with_text(documents, DESIGN_DOCUMENT, text)


def with_design_value(
    documents: Documents, design: Design, path: str, old: str, new: str
) -> dict[str, str]:
    """Return the documents with a design in which one text differs, quickly where it can be.

    Where the text stands by itself on the line of its key, only that is exchanged; what is read
    from it must be the design. Else the design is written as usual.

    Args:
        documents: as they are.
        design: as it is to be.
        path: of the text, such as `$.components.skirt.flare`.
        old: the text that stands there; empty if none does.
        new: the text that shall stand there.

    Raises:
        Misuse: the design has something that a document cannot hold.
    """
    text = document_text(documents, DESIGN_DOCUMENT)
    quick = _exchanged(text, path, old, new)
    if quick:
        try:
            if _design(quick) == design:
                return with_text(documents, DESIGN_DOCUMENT, quick)
        except DocumentError:
            pass  # written as usual, it is refused in words that fit
    return with_design(documents, design)


def with_make(documents: Documents, name: str, make: Make) -> dict[str, str]:
    """Return the documents with another make.

    Raises:
        Misuse: it has something that a document cannot hold.
    """
    return with_text(documents, name, format_make(make, previous=documents.get(name, "")))


def makes_of(documents: Documents) -> Iterator[Make]:
    """Yield the makes that can be read."""
    for _, make in _readable_makes(documents):
        yield make


def with_makes(documents: Documents, change: Callable[[Make], Make]) -> dict[str, str]:
    """Return the documents with every make changed that can be read; others are left alone."""
    after = dict(documents)
    for name, make in _readable_makes(documents):
        changed = change(make)
        if changed != make:
            after = with_make(after, name, changed)
    return after


def _readable_makes(documents: Documents) -> Iterator[tuple[str, Make]]:
    for name in make_names(documents):
        with suppress(Misuse, DocumentError):
            yield name, make_of(documents, name)


def with_text(documents: Documents, name: str, text: str) -> dict[str, str]:
    """Return the documents with one text in place of the one before."""
    return {**documents, name: text}


_PLAIN = re.compile(r"[A-Za-z0-9(][A-Za-z0-9 _.+*/()%-]*(?<! )")
"""A text that YAML takes as it is, in braces too, unless it means something else."""


def _exchanged(text: str, path: str, old: str, new: str) -> str:
    """Return the text with one value exchanged; empty if it does not stand there plainly."""
    if not old or not _PLAIN.fullmatch(new) or needs_quotes(new):
        return ""
    found = start_design(text, DESIGN_DOCUMENT).reading.source.lines.get(path)
    if found is None:
        return ""
    lines = text.splitlines(keepends=True)
    line, key = lines[found - 1], re.escape(path.rpartition(".")[2])
    value = re.compile(rf"(?<![\w-]){key}: +({re.escape(old)})(?=[,}}]|\s*$|\s+#)")
    places = list(value.finditer(line))
    if len(places) != 1:
        return ""
    start, end = places[0].span(1)
    lines[found - 1] = f"{line[:start]}{new}{line[end:]}"
    return "".join(lines)


@lru_cache(maxsize=16)
def _design(text: str) -> Design:
    return parse_design(text)


@lru_cache(maxsize=32)
def _make(text: str, name: str) -> Make:
    return parse_make(text, file=name)
