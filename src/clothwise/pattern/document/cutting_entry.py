"""How the maker cuts, as a make states it, and which pieces lie where the maker laid them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.errors import Misuse
from clothwise.pattern.document.outline_entry import place_mm
from clothwise.pattern.document.reading import Cursor
from clothwise.units import parse_angle

__all__ = [
    "BIAS_SOURCES",
    "CUTTING_KEYS",
    "METHODS",
    "PIN_KEYS",
    "CuttingEntry",
    "PinEntry",
    "read_cutting",
    "read_pin",
]

METHODS = ("scissors", "rotary cutter")
"""Scissors with the pattern pinned on; a rotary cutter on a mat with the pattern weighted down."""
BIAS_SOURCES = ("as drafted", "block", "gaps")
"""What bias strips are cut from: each part laid by itself, one block for all, or what is left."""
_BUFFERS = ("between", "ends")
CUTTING_KEYS = ("method", *_BUFFERS, "bias_strips")
PIN_KEYS = ("along", "across", "turn", "turned_over", "flap")
LARGEST_BUFFER_MM = 200.0
"""More cloth between two pieces is a slip of units. Our own choice."""
FURTHEST_PIN_MM = 1_000_000.0
"""A kilometer. Our own choice."""
_YES = "yes"


@dataclass(frozen=True, slots=True)
class CuttingEntry:
    """How cloth is cut; empty texts were left out.

    Attributes:
        method: one of `METHODS`.
        between: cloth to leave between pieces; left out, what the method needs.
        ends: cloth to leave at both ends of the length.
        bias_strips: one of `BIAS_SOURCES`.
    """

    method: str = METHODS[0]
    between: str = ""
    ends: str = ""
    bias_strips: str = BIAS_SOURCES[0]

    @property
    def between_mm(self) -> float | None:
        """None if it was left out."""
        return parse_buffer(self.between) if self.between else None

    @property
    def ends_mm(self) -> float | None:
        """None if it was left out."""
        return parse_buffer(self.ends) if self.ends else None


@dataclass(frozen=True, slots=True)
class PinEntry:
    """Where the maker laid a copy on the washed cloth; the rest is packed around it.

    Attributes:
        along: from the cut end to the nearest point of the piece, as it lies.
        across: from the fold, or the lower edge of the usable cloth, to its nearest point.
        turn: `0deg` if the top of the piece points away from the cut end, `180deg` if toward it.
        turned_over: `yes` if a piece that could lie either side up lies printed side down.
        flap: how deep one selvage is folded over there, with the selvage; partly folded only.
    """

    along: str
    across: str
    turn: str = ""
    turned_over: str = "no"
    flap: str = ""

    @property
    def along_mm(self) -> float:
        """From the cut end."""
        return place_mm(self.along)

    @property
    def across_mm(self) -> float:
        """From the fold or the lower edge."""
        return place_mm(self.across)

    @property
    def flap_mm(self) -> float | None:
        """How deep one selvage is folded over, with the selvage; None if it was left out."""
        return place_mm(self.flap) if self.flap else None

    @property
    def turn_rad(self) -> float:
        """Anticlockwise, from the top pointing away from the cut end."""
        return parse_angle(self.turn) if self.turn else 0.0

    @property
    def is_turned_over(self) -> bool:
        """Whether it lies printed side down."""
        return self.turned_over == _YES


def parse_buffer(text: str) -> float:
    """Return the cloth to leave beside pieces, in mm.

    Raises:
        UnitError: it is no length.
        Misuse: it is negative, or more than anybody leaves.
    """
    buffer = place_mm(text)
    if not 0 <= buffer <= LARGEST_BUFFER_MM:
        raise Misuse(
            f"{text[:40]} cannot be left beside a piece",
            how_much=f"allowed 0 to {LARGEST_BUFFER_MM / 10:g} cm",
            what_to_do="State how much cloth to leave, such as 5mm.",
        )
    return buffer


def read_cutting(cursor: Cursor) -> CuttingEntry:
    """Return how the maker cuts, and note what is wrong with it."""
    at = cursor.known_entries(CUTTING_KEYS)
    method = at["method"].one_of(METHODS, "ways of cutting") if "method" in at else ""
    strips = at["bias_strips"].one_of(BIAS_SOURCES, "sources") if "bias_strips" in at else ""
    between, ends = (at[key].checked(parse_buffer) if key in at else "" for key in _BUFFERS)
    return CuttingEntry(method or METHODS[0], between, ends, strips or BIAS_SOURCES[0])


def read_pin(cursor: Cursor) -> PinEntry | None:
    """Return where a copy was laid; None, and its faults, if it does not say."""
    faults_before = len(cursor.reading.faults)
    at = cursor.known_entries(PIN_KEYS, required=PIN_KEYS[:2])
    along, across = (at[key].checked(_on_cloth) if key in at else "" for key in PIN_KEYS[:2])
    turned_over = at["turned_over"].one_of(("no", _YES), "answers") if "turned_over" in at else ""
    pin = PinEntry(
        along,
        across,
        turn=at["turn"].checked(_finite_angle) if "turn" in at else "",
        turned_over=turned_over or "no",
        flap=at["flap"].checked(_flap) if "flap" in at else "",
    )
    return pin if len(cursor.reading.faults) == faults_before else None


def _on_cloth(text: str) -> None:
    if not 0 <= place_mm(text) <= FURTHEST_PIN_MM:
        raise Misuse(
            f"{text[:40]} is not on the cloth",
            how_much=f"allowed 0 to {FURTHEST_PIN_MM / 1000:g} m",
            what_to_do="Measure from the cut end, and from the fold or the lower edge.",
        )


def _flap(text: str) -> None:
    if not 0 < place_mm(text) <= FURTHEST_PIN_MM:
        raise Misuse(
            f"{text[:40]} is no depth of a flap",
            how_much="allowed is more than 0",
            what_to_do="Measure from the fold to the selvage that is folded over.",
        )


def _finite_angle(text: str) -> None:
    if abs(parse_angle(text)) > 2 * math.pi:
        raise Misuse(
            f"{text[:40]} is more than a whole turn",
            what_to_do="Write 0deg or 180deg.",
        )
