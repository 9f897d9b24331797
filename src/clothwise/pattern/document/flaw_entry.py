"""A flaw of a cloth, which no piece may cover, as documents state it."""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.errors import ClothwiseError, Misuse
from clothwise.pattern.document.outline_entry import OutlineText, outline_mm, place_mm, read_outline
from clothwise.pattern.document.reading import Cursor
from clothwise.units import format_cm

__all__ = ["FLAW_KEYS", "FlawEntry", "read_flaws"]

FLAW_KEYS = ("along", "across", "length", "width", "outline")
MOST_FLAWS = 200
"""Of one cloth. Our own choice: a cloth with more is not worth cutting."""
_BOX = FLAW_KEYS[:4]


@dataclass(frozen=True, slots=True)
class FlawEntry:
    """A hole, stain or fault, as a box or as an outline; empty texts were left out.

    Attributes:
        along: where the box begins, from the cut end.
        across: where it begins, from the lower edge of the usable cloth.
        length: of the box, along the cloth.
        width: of the box, across it.
        outline: instead of the box, corners along and across.
    """

    along: str = ""
    across: str = ""
    length: str = ""
    width: str = ""
    outline: OutlineText = ()

    @property
    def corners_mm(self) -> tuple[tuple[float, float], ...]:
        """The corners, mm from the cut end and from the lower edge, anticlockwise for a box.

        Raises:
            UnitError: a text is no length.
            Misuse: the outline crosses itself, or the box has no size.
        """
        if self.outline:
            return outline_mm(self.outline)
        x, y, length, width = (place_mm(getattr(self, key)) for key in _BOX)
        if length <= 0 or width <= 0:
            raise Misuse(
                "the flaw has no size",
                how_much=f"{self.length} long, {self.width} wide",
                what_to_do="State its length along the cloth and its width across it.",
            )
        return ((x, y), (x + length, y), (x + length, y + width), (x, y + width))


def read_flaws(
    cursor: Cursor, *, width_mm: float, length_mm: float = float("inf")
) -> tuple[FlawEntry, ...]:
    """Return the flaws listed here, without those that are wrong, and note what is wrong.

    Args:
        cursor: at the list.
        width_mm: of the usable cloth; infinite if it is not known.
        length_mm: at hand.
    """
    items = cursor.items()
    if len(items) > MOST_FLAWS:
        cursor.fault(
            f"{len(items):,} flaws are too many (at most {MOST_FLAWS})",
            "List those that matter, or cut the cloth there and state what is left.",
        )
        return ()
    found = (_flaw(item, width_mm, length_mm) for item in items)
    return tuple(flaw for flaw in found if flaw is not None)


def _flaw(cursor: Cursor, width_mm: float, length_mm: float) -> FlawEntry | None:
    faults_before = len(cursor.reading.faults)
    at = cursor.known_entries(FLAW_KEYS)
    if "outline" in at:
        for key in _BOX:
            if key in at:
                at[key].fault(
                    f"a flaw with an outline needs no {key}", "Keep the outline or the box."
                )
        flaw = FlawEntry(outline=read_outline(at["outline"]))
    else:
        for key in _BOX:
            if key not in at and cursor.is_branch:
                cursor.fault(
                    f"{key} is missing",
                    "State where the flaw begins along and across, its length and its width; or "
                    "its outline.",
                )
        along, across, length, width = (
            at[key].checked(place_mm) if key in at else "" for key in _BOX
        )
        flaw = FlawEntry(along, across, length, width)
    if len(cursor.reading.faults) > faults_before:
        return None
    try:
        _check_inside(flaw.corners_mm, width_mm, length_mm)
    except ClothwiseError as error:
        cursor.fault(error.problem, error.what_to_do)
        return None
    return flaw


def _check_inside(
    corners: tuple[tuple[float, float], ...], width_mm: float, length_mm: float
) -> None:
    """Refuse a flaw that no part of the cloth has.

    Raises:
        Misuse: it lies beside the cloth.
    """
    along = [x for x, _ in corners]
    across = [y for _, y in corners]
    if max(along) > 0 and min(along) < length_mm and max(across) > 0 and min(across) < width_mm:
        return
    raise Misuse(
        "the flaw lies beside the cloth",
        how_much=f"{format_cm(min(along))} to {format_cm(max(along))} along, "
        f"{format_cm(min(across))} to {format_cm(max(across))} across",
        what_to_do="Measure from the cut end, and from the lower edge between the selvages.",
    )
