"""What the folder of a design tells without being read whole: its title, and its makes."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path, PurePosixPath

from clothwise.app.security import is_folder_name
from clothwise.errors import ClothwiseError, Misuse
from clothwise.pattern.commands.documents import DESIGN_DOCUMENT
from clothwise.pattern.document.make import make_order

__all__ = [
    "OPTION",
    "entitle",
    "make_document",
    "make_looks",
    "make_names",
    "make_size",
    "make_titles",
    "people_in",
    "title_in",
    "title_of",
]

OPTION = "o."
"""Begins the names of fields of addresses and forms that choose for an option of the design."""

_TITLE = re.compile(r"^title:[ \t]*(?P<text>\S.*)$", re.MULTILINE)
_HEAD_BYTES = 20_000
"""In which the title of a design stands."""


def title_of(folder: Path) -> str:
    """Return the title of a design without reading all of it."""
    return _written_in(folder / DESIGN_DOCUMENT) or folder.name


def title_in(text: str) -> str:
    r"""Return the title in the text of a design; empty if there is none.

    >>> title_in("schema: 1\ntitle: Kiln dress\n")
    'Kiln dress'
    """
    found = _TITLE.search(text)
    if not found:
        return ""
    title = found["text"].rstrip()
    if title[0] in "'\"":
        quote, rest = title[0], title[1:]
        title = rest.partition(quote)[0]
    else:
        title = title.partition(" #")[0]
    return title.strip()[:120]


def entitle(folder: Path, title: str, *, is_new: bool = False) -> None:
    """Write a title into a design, at the place of the old one, and into makes called after it.

    Args:
        folder: of the design.
        title: the new one.
        is_new: whether nobody has named anything in it yet. Then makes are called after it, too,
            whose title begins with that of the design and goes on otherwise than with a comma.
    """
    clean = re.sub(r"\s+", " ", title).strip()[:120].replace("\\", "").replace('"', "”")
    old = re.escape(title_of(folder))
    short = old.partition(",")[0]
    whole = re.compile(rf"(?:{old}|{short})(?!\w)" if is_new else rf"{old}(?=, )")
    _write_title(folder / DESIGN_DOCUMENT, clean)
    for name in make_names(folder):
        path = folder / make_document(folder, name)
        if begins := whole.match(called := _written_in(path)):
            _write_title(path, f"{clean}{called[begins.end() :]}")


def _write_title(path: Path, title: str) -> None:
    from clothwise.pattern.saving import write_atomically

    if _written_in(path) == title:
        return
    text = path.read_text(encoding="utf-8")
    line = f'title: "{title}"' if not re.fullmatch(r"[^\W\d_][\w ]*", title) else f"title: {title}"
    write_atomically(path, _TITLE.sub(lambda _: line, text, count=1))


def make_names(folder: Path) -> tuple[str, ...]:
    """Return the names of the makes in the folder of a design, as they stand in addresses."""
    single = ["make.yaml"] if (folder / "make.yaml").is_file() else []
    several = (
        f"makes/{each.name}"
        for each in (folder / "makes").glob("*.yaml")
        if is_folder_name(each.stem)
    )
    ordered = sorted([*single, *several], key=make_order)
    return tuple(dict.fromkeys(PurePosixPath(each).stem for each in ordered))


def make_titles(folder: Path) -> dict[str, str]:
    """Return how each make is called, by its name, within its design.

    What it has from the title of the design is left out: of "Kiln dress, view A" stays "View A".
    One without a title is called by its name.
    """
    whole = f"{title_of(folder)}, ".casefold()
    titles = {}
    for name in make_names(folder):
        title = _written_in(folder / make_document(folder, name)) or name.replace("-", " ")
        if title.casefold().startswith(whole) and title[len(whole) :].strip():
            title = title[len(whole) :].strip()
        titles[name] = title[:1].upper() + title[1:]
    return titles


def make_size(folder: Path, make: str) -> str:
    """Return the size of the chart that a make states; empty if it states none."""
    return make_looks(folder, make).get("size", "")


def people_in(documents: Mapping[str, str]) -> tuple[str, ...]:
    """Return the rows of the size chart of a design that are people, and so are called no sizes.

    Args:
        documents: of the design, by name. Of a chart that cannot be read there are none.
    """
    from clothwise.pattern.commands.design_texts import design_of

    try:
        name = design_of(documents).size_chart
        return _people(documents.get(name, ""), name)
    except ClothwiseError:
        return ()  # what is wrong is said in Measure


@lru_cache(16)
def _people(text: str, name: str) -> tuple[str, ...]:
    from clothwise.pattern.size_chart import parse_size_chart

    return parse_size_chart(text, file=name).people


def make_looks(folder: Path, make: str) -> dict[str, str]:
    """Return the view, size and choices that a make states, as Draft asks for them.

    `{"view": "B", "size": "40", "o.armhole": "sleeve"}`; what it does not state is left out.

    Raises:
        Misuse: the design has no such make.
    """
    document = make_document(folder, make)
    try:
        return _looks_in((folder / document).read_text(encoding="utf-8"), document)
    except (ClothwiseError, OSError, UnicodeDecodeError):
        return {}  # the room of the make says what is wrong with it


@lru_cache(64)
def _looks_in(text: str, document: str) -> dict[str, str]:
    from clothwise.pattern.document import parse_make

    found = parse_make(text, file=document)
    choices = {f"{OPTION}{option}": choice for option, choice in found.choices.items()}
    stated = {"view": found.view, "size": found.size, **choices}
    return {name: value for name, value in stated.items() if value}


def _written_in(path: Path) -> str:
    """The title in the head of a document; empty if there is none."""
    try:
        with path.open("rb") as file:
            return title_in(file.read(_HEAD_BYTES).decode("utf-8", errors="replace"))
    except OSError:
        return ""


def make_document(folder: Path, make: str) -> str:
    """Return the document of a make, relative to the folder of its design.

    Raises:
        Misuse: the design has no such make.
    """
    if make not in make_names(folder):
        raise Misuse(
            "this design has no such make",
            where=make[:40],
            what_to_do="It may have been renamed or removed. Choose one under Makes, or undo.",
        )
    if make == "make" and (folder / "make.yaml").is_file():
        return "make.yaml"
    return f"makes/{make}.yaml"
