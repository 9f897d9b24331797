"""A remnant as a stash states it: leftover cloth of any shape, with its holes and flaws."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from shapely import Polygon, box

from clothwise.errors import Misuse
from clothwise.pattern.document.fabric_entry import NAPS, YES_OR_NO, FabricEntry, parse_share
from clothwise.pattern.document.fabric_reader import refuse_no_color, refuse_no_photo
from clothwise.pattern.document.flaw_entry import FlawEntry, read_flaws
from clothwise.pattern.document.outline_entry import (
    SMALLEST_MM2,
    OutlineText,
    outline_mm,
    read_outline,
)
from clothwise.pattern.document.reading import Cursor
from clothwise.units import parse_length

__all__ = ["REMNANT_KEYS", "RemnantEntry", "parse_side", "read_remnant"]

REMNANT_KEYS = (
    "title",
    "length",
    "width",
    "outline",
    "holes",
    "flaws",
    "shrinkage_along",
    "shrinkage_across",
    "nap",
    "wrong_side_usable",
    "grainless",
    "roles",
    "fiber",
    "color",
    "pattern",
    "photo",
)
LONGEST_MM = 20_000.0
"""What is longer is a fabric with a length at hand, or a slip of units; a test compares it with
that of `clothwise.cutting`."""


@dataclass(frozen=True, slots=True)
class RemnantEntry:
    """Leftover cloth, in the words of the stash; empty texts were left out.

    Attributes:
        name: unique among the remnants and fabrics of the stash.
        title: how it is printed.
        length: along the warp, of a rectangle; with `width`, instead of an outline.
        width: across.
        outline: corners along the warp and across, as it lies right side up.
        holes: where cloth is missing.
        flaws: cloth that no piece may cover.
        shrinkage_along: share of the length that it will still lose in the wash, such as `4%`.
        shrinkage_across: share of the width.
        nap: one of `NAPS`; if it has one, the tops of pieces point the way that the length runs.
        wrong_side_usable: one of `YES_OR_NO`.
        grainless: one of `YES_OR_NO`.
        roles: fabric roles that it may be cut for; left out, those of shell pieces.
        fiber: for the heat of the iron.
        color: for pictures, `#rrggbb`.
        pattern: for pictures, such as `stripe`.
        photo: path of a picture of it, seen from the file that states it.
    """

    name: str
    title: str = ""
    length: str = ""
    width: str = ""
    outline: OutlineText = ()
    holes: tuple[FlawEntry, ...] = ()
    flaws: tuple[FlawEntry, ...] = ()
    shrinkage_along: str = ""
    shrinkage_across: str = ""
    nap: str = NAPS[0]
    wrong_side_usable: str = YES_OR_NO[0]
    grainless: str = YES_OR_NO[0]
    roles: tuple[str, ...] = ()
    fiber: str = ""
    color: str = ""
    pattern: str = ""
    photo: str = ""

    @property
    def corners_mm(self) -> tuple[tuple[float, float], ...]:
        """The corners, mm along the warp and across.

        Raises:
            UnitError: a text is no length.
            Misuse: the outline crosses itself, or a side is no size of a remnant.
        """
        if self.outline:
            return outline_mm(self.outline)
        length, width = parse_side(self.length), parse_side(self.width)
        return ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))

    def as_fabric(self) -> FabricEntry:
        """Return it as a fabric of which there is so much: its box, with what it lacks as flaws.

        So a make may cut pieces from it like from any other cloth of a stash.

        Raises:
            UnitError: a text is no length.
            Misuse: the outline crosses itself, or a side is no size of a remnant.
        """
        corners = self.corners_mm
        left, low = min(x for x, _ in corners), min(y for _, y in corners)
        length, width = max(x for x, _ in corners) - left, max(y for _, y in corners) - low
        lacking = box(left, low, left + length, low + width).difference(Polygon(corners))
        missing = [
            part.exterior.coords[:-1]
            for part in getattr(lacking, "geoms", [lacking])
            if part.area >= SMALLEST_MM2
        ]
        taken = [*missing, *(flaw.corners_mm for flaw in (*self.holes, *self.flaws))]
        return FabricEntry(
            name=self.name,
            width=_mm(width),
            title=self.title,
            usable_width=_mm(width),
            shrinkage_along=self.shrinkage_along,
            shrinkage_across=self.shrinkage_across,
            nap=self.nap,
            fiber=self.fiber,
            color=self.color,
            pattern=self.pattern,
            length=_mm(length),
            wrong_side_usable=self.wrong_side_usable,
            grainless=self.grainless,
            flaws=tuple(
                FlawEntry(outline=tuple((_mm(x - left), _mm(y - low)) for x, y in each))
                for each in taken
            ),
            photo=self.photo,
        )

    @property
    def shrinkage_along_share(self) -> float:
        """What the length will still lose, 0 to 1."""
        return parse_share(self.shrinkage_along) if self.shrinkage_along else 0.0

    @property
    def shrinkage_across_share(self) -> float:
        """What the width will still lose, 0 to 1."""
        return parse_share(self.shrinkage_across) if self.shrinkage_across else 0.0


def _mm(length_mm: float) -> str:
    return f"{length_mm:.3f}".rstrip("0").rstrip(".") + "mm"


def parse_side(text: str) -> float:
    """Return the length or width of a remnant in mm.

    Raises:
        UnitError: it is no length.
        Misuse: no remnant is this large.
    """
    side = parse_length(text)
    if not 0 < side <= LONGEST_MM:
        raise Misuse(
            f"no remnant has a side of {text[:40]}",
            how_much=f"more than 0, up to {LONGEST_MM / 1000:g} m",
            what_to_do="State the size that it has, with its unit; list a longer cloth under "
            "`fabrics`, with its `length`.",
        )
    return side


def read_remnant(name: str, cursor: Cursor) -> RemnantEntry:
    """Return the remnant that stands here; what is wrong with it is noted and left out.

    Args:
        name: its key.
        cursor: at its keys.
    """
    at = cursor.known_entries(REMNANT_KEYS)

    def text(key: str) -> str:
        return at[key].text() if key in at else ""

    def checked(key: str, check: Callable[[str], object]) -> str:
        return at[key].checked(check) if key in at else ""

    def word(key: str, words: tuple[str, ...]) -> str:
        return (at[key].one_of(words, f"kinds of {key}") if key in at else "") or words[0]

    length, width = checked("length", parse_side), checked("width", parse_side)
    outline = read_outline(at["outline"]) if "outline" in at else ()
    _check_shape(cursor, at)
    along_mm, across_mm = _reach(length, width, outline)

    def flaws(key: str) -> tuple[FlawEntry, ...]:
        return read_flaws(at[key], width_mm=across_mm, length_mm=along_mm) if key in at else ()

    return RemnantEntry(
        name=name,
        title=text("title"),
        length=length,
        width=width,
        outline=outline,
        holes=flaws("holes"),
        flaws=flaws("flaws"),
        shrinkage_along=checked("shrinkage_along", parse_share),
        shrinkage_across=checked("shrinkage_across", parse_share),
        nap=word("nap", NAPS),
        wrong_side_usable=word("wrong_side_usable", YES_OR_NO),
        grainless=word("grainless", YES_OR_NO),
        roles=_roles(at),
        fiber=text("fiber"),
        color=checked("color", refuse_no_color),
        pattern=text("pattern"),
        photo=checked("photo", refuse_no_photo),
    )


def _check_shape(cursor: Cursor, at: dict[str, Cursor]) -> None:
    sides = [key for key in ("length", "width") if key in at]
    if "outline" in at:
        for key in sides:
            at[key].fault(
                f"a remnant with an outline needs no {key}", "Keep the outline, or both sides."
            )
    elif len(sides) < 2 and cursor.is_branch:
        cursor.fault(
            "its shape is missing",
            "State its `length` along the warp and its `width`, or its `outline`; `clothwise "
            "trace` takes the outline from a photo.",
        )


def _reach(length: str, width: str, outline: OutlineText) -> tuple[float, float]:
    """Where it ends along and across; infinite where that is not known."""
    if outline:
        corners = outline_mm(outline)
        return max(x for x, _ in corners), max(y for _, y in corners)
    sides = (parse_side(side) if side else math.inf for side in (length, width))
    return next(sides), next(sides)


def _roles(at: dict[str, Cursor]) -> tuple[str, ...]:
    if "roles" not in at:
        return ()
    if at["roles"].is_list:
        found = [each.name("a fabric role") for each in at["roles"].items()]
    else:
        found = [at["roles"].name("a fabric role")]
    return tuple(dict.fromkeys(role for role in found if role))
