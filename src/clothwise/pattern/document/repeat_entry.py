"""How the pattern of a cloth comes again, as documents state it."""

from __future__ import annotations

from dataclasses import dataclass, fields

from clothwise.errors import ClothwiseError, Misuse
from clothwise.pattern.document.outline_entry import place_mm
from clothwise.pattern.document.reading import Cursor
from clothwise.units import parse_length

__all__ = ["REPEAT_KEYS", "RepeatEntry", "parse_repeat", "read_repeat"]

REPEAT_KEYS = ("along", "across", "start_along", "start_across", "border")
LARGEST_REPEAT_MM = 3000.0
"""Far above any printed or woven repeat; longer is a slip of units. Our own choice."""


@dataclass(frozen=True, slots=True)
class RepeatEntry:
    """The repeat of stripes, checks, a print or a border; empty texts were left out.

    Attributes:
        along: from one crosswise line to the next of its kind, along the length: `6cm`.
        across: from one lengthwise line to the next of its kind, across the width.
        start_along: where the first crosswise line lies, from the cut end.
        start_across: where the first lengthwise line lies, from the usable edge or the fold.
        border: from the lower usable edge to where lower edges are to lie on a border.
    """

    along: str = ""
    across: str = ""
    start_along: str = ""
    start_across: str = ""
    border: str = ""

    def __bool__(self) -> bool:
        return any(getattr(self, each.name) for each in fields(self))

    @property
    def along_mm(self) -> float:
        """0 if the pattern does not come again along the length."""
        return parse_length(self.along) if self.along else 0.0

    @property
    def across_mm(self) -> float:
        """0 if the pattern does not come again across the width."""
        return parse_length(self.across) if self.across else 0.0

    @property
    def start_along_mm(self) -> float:
        """Where the first crosswise line lies."""
        return place_mm(self.start_along) if self.start_along else 0.0

    @property
    def start_across_mm(self) -> float:
        """Where the first lengthwise line lies."""
        return place_mm(self.start_across) if self.start_across else 0.0

    @property
    def border_mm(self) -> float:
        """Where lower edges are to lie on a border; 0 for cloth without one."""
        return parse_length(self.border) if self.border else 0.0


def parse_repeat(text: str) -> float:
    """Return the distance from one line of a pattern to the next, in mm.

    Raises:
        UnitError: it is no length.
        Misuse: no cloth comes again like this.
    """
    distance = parse_length(text)
    if not 0 < distance <= LARGEST_REPEAT_MM:
        raise Misuse(
            f"no pattern comes again after {text[:40]}",
            how_much=f"more than 0, up to {LARGEST_REPEAT_MM / 1000:g} m",
            what_to_do="State the distance from one line to the next of its kind; leave it out "
            "if there is none.",
        )
    return distance


def read_repeat(
    cursor: Cursor, *, width_mm: float = 0.0, length_mm: float = float("inf")
) -> RepeatEntry:
    """Return the repeat that stands here, and note what is wrong with it.

    Args:
        cursor: at the keys of the repeat.
        width_mm: of the whole cloth; 0 if it is not known.
        length_mm: at hand.
    """
    at = cursor.known_entries(REPEAT_KEYS)
    limits = {"along": (length_mm, "long"), "across": (width_mm or float("inf"), "wide")}
    found = {}
    for key, (most_mm, word) in limits.items():
        found[key] = at[key].checked(parse_repeat) if key in at else ""
        if found[key] and parse_length(found[key]) > most_mm:
            at[key].fault(
                f"the repeat {key} is larger than the fabric ({found[key]}, the fabric is "
                f"{most_mm / 10:g} cm {word})",
                "State the distance from one line to the next of its kind; leave it out if the "
                "pattern comes only once.",
            )
        start = f"start_{key}"
        found[start] = at[start].checked(_not_negative) if start in at else ""
        if found[start] and key not in at:
            at[start].fault(
                f"{start} says where a repeat begins that is not stated", f"Add `{key}:` to it."
            )
        elif found[start] and found[key]:
            _check_start(at[start], start, found[start], key, found[key])
    found["border"] = at["border"].checked(parse_repeat) if "border" in at else ""
    if found["border"] and width_mm and parse_length(found["border"]) > width_mm:
        at["border"].fault(
            f"the border lies beyond the fabric ({found['border']}, the fabric is "
            f"{width_mm / 10:g} cm wide)",
            "State how far from the lower edge between the selvages they are to lie.",
        )
    if not at and cursor.is_branch:
        cursor.fault(
            "the repeat states no distance", "Write `along:` or `across:`, both, or `border:`."
        )
    return RepeatEntry(**found)


def _not_negative(text: str) -> None:
    if place_mm(text) < 0:
        raise Misuse(
            f"{text[:40]} lies before the edge of the cloth",
            what_to_do="State where the first whole line lies, from the edge on.",
        )


def _check_start(cursor: Cursor, start: str, first: str, key: str, distance: str) -> None:
    try:
        beyond = place_mm(first) >= parse_length(distance)
    except ClothwiseError:  # noted already
        return
    if beyond:
        cursor.fault(
            f"{start} is not before the second line ({first}, {key} {distance})",
            "State where the first line of its kind lies, from the edge.",
        )
