"""How texts and files are handed to the typesetter.

What people wrote goes to it as data and is never read as its markup; so a title may hold any
letter.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from importlib import resources

from clothwise.errors import ClothwiseError
from clothwise.output.fonts import NO_BREAK

__all__ = ["page_count", "plain", "typeset_pdf", "typeset_png"]

_LONG_WORD = 34


def typeset_pdf(template: str, files: Mapping[str, bytes], *, title: str) -> bytes:
    """Set a template of `data/booklet` with these files beside it; the same bytes each time.

    Raises:
        ClothwiseError: the typesetter failed; this is a fault of ours.
    """
    return _typeset(template, files, title, format="pdf")


def typeset_png(
    template: str, files: Mapping[str, bytes], *, title: str, dots_per_inch: float
) -> bytes:
    """The same as a picture, for a template of one page.

    Raises:
        ClothwiseError: the typesetter failed; this is a fault of ours.
    """
    return _typeset(template, files, title, format="png", ppi=dots_per_inch)


def _typeset(template: str, files: Mapping[str, bytes], title: str, **output: str | float) -> bytes:
    import typst

    data = resources.files("clothwise") / "data"
    # Its type stub does not know that the input may be several files by name.
    typeset: Callable[..., bytes] = typst.compile
    sources = {
        "main.typ": (data / "booklet" / template).read_bytes(),
        "drawn.typ": (data / "booklet" / "drawn.typ").read_bytes(),
        **files,
    }
    try:
        with resources.as_file(data / "fonts") as fonts:
            return typeset(sources, font_paths=[str(fonts)], ignore_system_fonts=True, **output)
    except (typst.TypstError, RuntimeError) as fault:
        raise ClothwiseError(
            f"{template.removesuffix('.typ')} could not be typeset",
            where=title,
            how_much=str(fault),
            what_to_do="This is a fault in Clothwise; please report it.",
        ) from fault


def plain(text: str) -> str:
    """One line of text that can be set: no control characters, and long words may be broken."""
    kept = (letter if letter.isprintable() or letter == NO_BREAK else " " for letter in text)
    shown = "".join(kept)
    return " ".join(_breakable(word) for word in re.split(r"[ ]+", shown)).strip()


def page_count(pdf: bytes) -> int:
    """How many pages a PDF of our typesetter has.

    It writes the page tree uncompressed; its root counts all pages.
    """
    counts = re.findall(rb"/Type\s*/Pages.*?/Count\s+(\d+)", pdf, re.DOTALL)
    return max((int(count) for count in counts), default=0)


def _breakable(word: str) -> str:
    if len(word) <= _LONG_WORD:
        return word
    parts = [word[at : at + 12] for at in range(0, len(word), 12)]
    return "\u200b".join(parts)
