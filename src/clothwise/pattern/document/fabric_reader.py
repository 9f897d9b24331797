"""Reads a fabric from the keys of a make or of a stash, with every fault that they show."""

from __future__ import annotations

import math
import re
from collections.abc import Callable

from clothwise.errors import Misuse
from clothwise.pattern.document.fabric_entry import (
    LAYERS,
    NAPS,
    YES_OR_NO,
    FabricEntry,
    parse_length_at_hand,
    parse_off_grain,
    parse_photo_width,
    parse_price,
    parse_share,
    parse_thickness,
    parse_width,
)
from clothwise.pattern.document.flaw_entry import read_flaws
from clothwise.pattern.document.reading import Cursor
from clothwise.pattern.document.repeat_entry import RepeatEntry, read_repeat
from clothwise.pattern.document.stretch import parse_stretch

__all__ = [
    "FABRIC_KEYS",
    "STASH_FABRIC_KEYS",
    "read_fabric",
    "refuse_no_color",
    "refuse_no_photo",
]

STASH_FABRIC_KEYS = (
    "title",
    "width",
    "usable_width",
    "length",
    "shrinkage_along",
    "shrinkage_across",
    "stretch",
    "nap",
    "wrong_side_usable",
    "grainless",
    "off_grain",
    "repeat",
    "flaws",
    "layers",
    "price",
    "fiber",
    "thickness",
    "color",
    "pattern",
    "photo",
    "photo_width",
)
"""What may be stated of a cloth in a stash."""
FABRIC_KEYS = ("stash", *STASH_FABRIC_KEYS)
"""What may be stated of a cloth in a make."""
PHOTO_SUFFIXES = (".png", ".jpg", ".jpeg")
USABLE_UNLESS_STATED_MM = 20.0
"""What two selvages take; a test compares it with that of `clothwise.cutting`."""


def read_fabric(name: str, cursor: Cursor, *, in_stash: bool = False) -> FabricEntry:
    """Return the fabric that stands here; what is wrong with it is noted and left out.

    Args:
        name: its key.
        cursor: at its keys.
        in_stash: whether the file is a stash itself, so that the cloth can name no other.
    """
    keys = STASH_FABRIC_KEYS if in_stash else FABRIC_KEYS
    at = cursor.known_entries(keys)
    is_from_stash = "stash" in at
    if "width" not in at and not is_from_stash and cursor.is_branch:
        cursor.fault("width is missing", "Add a line `width: ...`.")

    def text(key: str) -> str:
        return at[key].text() if key in at else ""

    def checked(key: str, check: Callable[[str], object]) -> str:
        return at[key].checked(check) if key in at else ""

    def word(key: str, words: tuple[str, ...]) -> str:
        found = at[key].one_of(words, f"kinds of {key}") if key in at else ""
        return found or ("" if is_from_stash else words[0])

    width = checked("width", parse_width)
    usable = checked("usable_width", lambda text: _refuse_wider(text, width))
    length = checked("length", parse_length_at_hand)
    width_mm = parse_width(width) if width else math.inf
    usable_mm = parse_width(usable) if usable else width_mm - USABLE_UNLESS_STATED_MM
    length_mm = parse_length_at_hand(length) if length else math.inf
    return FabricEntry(
        name=name,
        width=width,
        title=text("title"),
        usable_width=usable,
        shrinkage_along=checked("shrinkage_along", parse_share),
        shrinkage_across=checked("shrinkage_across", parse_share),
        stretch=checked("stretch", parse_stretch),
        nap=word("nap", NAPS),
        layers=word("layers", LAYERS),
        price=checked("price", parse_price),
        fiber=text("fiber"),
        color=checked("color", refuse_no_color),
        pattern=text("pattern"),
        length=length,
        repeat=read_repeat(at["repeat"], width_mm=width_mm, length_mm=length_mm)
        if "repeat" in at
        else RepeatEntry(),
        thickness=checked("thickness", parse_thickness),
        wrong_side_usable=word("wrong_side_usable", YES_OR_NO),
        grainless=word("grainless", YES_OR_NO),
        off_grain=checked("off_grain", parse_off_grain),
        flaws=read_flaws(at["flaws"], width_mm=usable_mm, length_mm=length_mm)
        if "flaws" in at
        else (),
        photo=checked("photo", refuse_no_photo),
        photo_width=checked("photo_width", parse_photo_width),
        stash=text("stash"),
    )


def _refuse_wider(text: str, width: str) -> None:
    """Refuse a usable width beyond the whole one, which is empty if it has a fault of its own."""
    if parse_width(text) > (parse_width(width) if width else math.inf):
        raise Misuse(
            "the usable width is more than the whole width",
            how_much=f"{text} of {width}",
            what_to_do="State the width between the selvages as the usable width.",
        )


def refuse_no_color(text: str) -> None:
    """Refuse a text that is no color.

    Raises:
        Misuse: it is none.
    """
    if not re.fullmatch("#[0-9a-fA-F]{6}", text):
        raise Misuse(
            f"{text[:40]!r} is not a color",
            what_to_do='Write six hexadecimal digits in quotes, such as "#3b6ea5".',
        )


def refuse_no_photo(text: str) -> None:
    """Refuse a file that is no picture, by its suffix.

    Raises:
        Misuse: it is none.
    """
    if not text.casefold().endswith(PHOTO_SUFFIXES):
        raise Misuse(
            f"{text[:40]!r} is not a picture that can be shown",
            what_to_do=f"Name a file that ends in {', '.join(PHOTO_SUFFIXES)}.",
        )
