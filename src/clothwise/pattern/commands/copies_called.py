"""How copies of pieces are called in a history: by the titles that splits give, or their names."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import suppress

from clothwise.errors import ClothwiseError
from clothwise.pattern.commands.belonging import parts_of
from clothwise.pattern.commands.design_texts import design_of
from clothwise.pattern.commands.documents import Documents
from clothwise.pattern.first_letter import lowered
from clothwise.pattern.plain_names import plain_name

__all__ = ["copy_title", "listed", "titles_of_parts"]

MOST_LISTED = 3
"""Copies that a line of the history names; our own choice."""

_NONE: Mapping[str, str] = {}


def copy_title(copy: str, titles: Mapping[str, str] = _NONE) -> str:
    """Return how a copy is called in sentences.

    Args:
        copy: `piece/copy`, or `piece`.
        titles: of pieces, by their names.

    >>> copy_title("skirt-front/left"), copy_title("collar-upper/whole")
    ('skirt front left', 'collar upper')
    >>> copy_title("skirt-front/left", {"skirt-front": "Skirt, upper part"})
    'skirt, upper part, left'
    """
    piece, _, which = copy.removesuffix("/whole").partition("/")
    if piece in titles:
        return ", ".join(filter(None, (lowered(titles[piece]), which)))
    return plain_name(f"{piece} {which}").strip()


def titles_of_parts(documents: Documents) -> dict[str, str]:
    """Return the titles that the splits of a design state, by piece; none if it has faults."""
    titles: dict[str, str] = {}
    with suppress(ClothwiseError):
        for edit in design_of(documents).edits:
            if edit.kind != "split":
                continue
            for parts in parts_of(edit).values():
                for part, key in zip(parts, ("left_title", "right_title"), strict=True):
                    title = edit.parameters.get(key)
                    if isinstance(title, str) and title:
                        titles[part] = title
    return titles


def listed(names: Iterable[str]) -> str:
    """Return the first names of several, and how many more there are.

    >>> listed(["belt", "collar", "cuff", "yoke", "hem"])
    'belt, collar, cuff and 2 more'
    >>> listed(["back, upper part", "back, lower part"])
    'back, upper part; back, lower part'
    """
    all_of = [*names]
    more = len(all_of) - MOST_LISTED
    between = "; " if any("," in each for each in all_of) else ", "
    return between.join(all_of[:MOST_LISTED]) + (f" and {more} more" if more > 0 else "")
