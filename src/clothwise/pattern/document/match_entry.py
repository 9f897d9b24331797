"""Where the pattern of cloth should run on over seams, as a design or a make states it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from clothwise.errors import Misuse
from clothwise.pattern.document.reading import Cursor

__all__ = [
    "DIRECTIONS",
    "MATCH_KEYS",
    "MATCH_RULES",
    "MatchEntry",
    "parse_phase",
    "read_matches",
]

MATCH_RULES = ("border", "centers", "pockets", "seams", "sleeves", "waist")
"""What meets by rule; a test compares them with those of `clothwise.cutting`."""
DIRECTIONS = ("along", "across", "both", "none")
"""In which directions of the cloth the pattern runs on: `along`, crosswise lines meet."""
MATCH_KEYS = ("directions", "points", "phase_along", "phase_across")


@dataclass(frozen=True, slots=True)
class MatchEntry:
    """A rule that is changed, or points of one's own that meet; empty texts were left out.

    Attributes:
        name: one of `MATCH_RULES`, or a name of one's own.
        directions: one of `DIRECTIONS`; left out, those of the rule, or both.
        points: places that meet, by piece; for a name of one's own only. A place is one that the
            piece knows (`bust point`), or a notch of a seam (`skirt-side/hip`).
        phase_along: where in the repeat they lie, such as `50%`; left out, wherever saves most.
        phase_across: the same across.
    """

    name: str
    directions: str = ""
    points: Mapping[str, str] = field(default_factory=dict)
    phase_along: str = ""
    phase_across: str = ""

    @property
    def phase_along_share(self) -> float | None:
        """Where in the repeat along, 0 to 1; None if it was left out."""
        return parse_phase(self.phase_along) if self.phase_along else None

    @property
    def phase_across_share(self) -> float | None:
        """Where in the repeat across, 0 to 1; None if it was left out."""
        return parse_phase(self.phase_across) if self.phase_across else None


def parse_phase(text: str) -> float:
    """Return a place in a repeat as a share of it: `25%` and `0.25` are the same.

    Raises:
        Misuse: it is no share of a repeat.

    >>> parse_phase("25 %")
    0.25
    """
    found = re.fullmatch(r"(?P<amount>[0-9]{1,3}(?:[.,][0-9]{1,6})?)\s*(?P<percent>%)?", text)
    share = Fraction(-1)
    if found is not None:
        share = Fraction(found["amount"].replace(",", ".")) / (100 if found["percent"] else 1)
    if not 0 <= share < 1:
        raise Misuse(
            f"{text[:40]!r} is no place in a repeat",
            how_much="allowed 0%, which is the line itself, up to less than 100%",
            what_to_do="Write how far from one line to the next, such as 50% for the middle.",
        )
    return float(share)


def read_matches(cursor: Cursor) -> tuple[MatchEntry, ...]:
    """Return what is stated about matching, and note what is wrong with it."""
    return tuple(
        _entry(name, each) for name, each in cursor.named_entries("what is matched").items()
    )


def _entry(name: str, cursor: Cursor) -> MatchEntry:
    if not cursor.is_branch:
        if name not in MATCH_RULES:
            cursor.fault(
                f"{name} says in no piece where it meets",
                "Add `points:` with a place for each piece, or use one of the rules: "
                + ", ".join(MATCH_RULES)
                + ".",
            )
        return MatchEntry(name, cursor.one_of(DIRECTIONS, "directions"))
    at = cursor.known_entries(MATCH_KEYS)
    if name in MATCH_RULES and not at:
        cursor.fault(f"{name} says nothing", "Write a direction: " + ", ".join(DIRECTIONS) + ".")
    points: dict[str, str] = {}
    if name in MATCH_RULES and "points" in at:
        at["points"].fault(
            f"the points of {name} are found by rule",
            "Take the points out, or give this a name of its own.",
        )
    elif name not in MATCH_RULES:
        if "points" in at:
            points = {piece: each.text() for piece, each in at["points"].entries().items()}
        if not points:
            cursor.fault(
                f"{name} names no points",
                "Add `points:` with a place for each piece, such as `bodice-front: bust point`.",
            )
    return MatchEntry(
        name,
        at["directions"].one_of(DIRECTIONS, "directions") if "directions" in at else "",
        points,
        *(at[key].checked(parse_phase) if key in at else "" for key in MATCH_KEYS[2:]),
    )
