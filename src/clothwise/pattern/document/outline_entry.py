"""An outline on a cloth as documents state it: a list of corners, each two lengths."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import pairwise
from typing import TypeAlias

from shapely import Polygon
from shapely.validation import explain_validity

from clothwise.errors import Misuse
from clothwise.pattern.document.reading import Cursor
from clothwise.units import parse_length

__all__ = [
    "CornerText",
    "OutlineText",
    "outline_from_text",
    "outline_mm",
    "outline_text",
    "place_mm",
    "read_outline",
]

CornerText: TypeAlias = tuple[str, str]
"""Along the cloth and across it, as written: `("120cm", "3cm")`."""
OutlineText: TypeAlias = tuple[CornerText, ...]

MOST_CORNERS = 1000
"""Of one outline. Our own choice: what is traced by hand has a few dozen."""
SMALLEST_MM2 = 1.0
"""An outline that encloses less is a slip. Our own choice."""


def read_outline(cursor: Cursor) -> OutlineText:
    """Return the corners that stand here; none, and a fault, if they make no outline.

    Written `[[0cm, 0cm], [80cm, 0cm], [75cm, 40cm]]`, or one corner on each line.
    """
    corners: list[CornerText] = []
    for item in cursor.items():
        texts = tuple(part.checked(place_mm) for part in item.items())
        if len(texts) == 2 and all(texts):
            corners.append((texts[0], texts[1]))
        else:
            item.fault(
                "a corner is two lengths",
                "Write how far along the cloth it lies and how far across: [120cm, 3cm].",
            )
            return ()
    try:
        outline_mm(tuple(corners))
    except Misuse as error:
        cursor.fault(error.problem, error.what_to_do)
        return ()
    return tuple(corners)


def place_mm(text: str) -> float:
    """Return how far from an edge something lies, in mm; a plain 0 needs no unit.

    Raises:
        UnitError: it is no length.

    >>> place_mm("0"), place_mm("2cm")
    (0.0, 20.0)
    """
    return 0.0 if text.strip() == "0" else parse_length(text)


def outline_mm(corners: OutlineText) -> tuple[tuple[float, float], ...]:
    """Return the corners in mm, along and across.

    Raises:
        UnitError: a text is no length.
        Misuse: fewer than three corners or too many, or an outline that crosses itself or
            encloses nothing.

    >>> outline_mm((("1m", "0"), ("2m", "0"), ("2m", "10cm")))
    ((1000.0, 0.0), (2000.0, 0.0), (2000.0, 100.0))
    """
    points = tuple((place_mm(along), place_mm(across)) for along, across in corners)
    if not 3 <= len(points) <= MOST_CORNERS:
        raise Misuse(
            f"{len(points)} corners make no outline",
            how_much=f"3 to {MOST_CORNERS:,}",
            what_to_do="List its corners in order, one way round.",
        )
    if any(one == other for one, other in pairwise((*points, points[0]))):
        raise Misuse(
            "a corner of the outline stands twice",
            what_to_do="List each corner once; the last is joined to the first by itself.",
        )
    shape = Polygon(points)
    if shape.convex_hull.area < SMALLEST_MM2:
        raise Misuse(
            "the outline encloses nothing",
            how_much=f"{shape.convex_hull.area:.3g} mm²",
            what_to_do="List the corners of the whole shape.",
        )
    if not shape.is_valid:
        raise Misuse(
            "the outline crosses itself",
            how_much=_place(explain_validity(shape)),
            what_to_do="List its corners in order, one way round.",
        )
    return points


def _place(explained: str) -> str:
    """The place in what the engine says, such as `Self-intersection[50 25]`."""
    numbers = explained.partition("[")[2].rstrip("]").split()
    if len(numbers) != 2:
        return explained.lower()
    along, across = (float(number) / 10 for number in numbers)
    return f"at {along:.4g} cm along, {across:.4g} cm across"


def outline_text(outline: OutlineText) -> str:
    """Return an outline as one text, a corner after the other.

    >>> outline_text((("1m", "0"), ("2m", "0"), ("2m", "10cm")))
    '1m 0; 2m 0; 2m 10cm'
    """
    return "; ".join(f"{along} {across}" for along, across in outline)


def outline_from_text(text: str, *, unit: str = "") -> OutlineText:
    """Return the corners that stand in a text: one on each line, or between semicolons.

    Args:
        text: each corner how far along, then how far across: `80cm 2cm`.
        unit: of bare numbers; without it they stay bare.

    Raises:
        Misuse: a line is no corner, or there are too many.

    >>> outline_from_text("0 0; 35 1/2 0; 30, 12.5", unit="in")
    (('0', '0'), ('35 1/2in', '0'), ('30in', '12.5in'))
    """
    lines = [line for line in re.split(r"[;\n]", text) if line.strip()]
    if len(lines) > MOST_CORNERS:
        raise Misuse(
            f"{len(lines):,} corners are too many for one outline",
            how_much=f"at most {MOST_CORNERS:,}",
            what_to_do="Leave out corners that lie on a straight line between others.",
        )
    return tuple(_corner(line, number, unit) for number, line in enumerate(lines, start=1))


_LENGTH = r"(-?(?:\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?))\s*(mm|cm|m|in|\"|ft|yd)?"
_CORNER = re.compile(rf"\s*{_LENGTH}\s*(?:,|\s)\s*{_LENGTH}\s*")


def _corner(line: str, number: int, unit: str) -> CornerText:
    found = _CORNER.fullmatch(line)
    if found is None:
        raise Misuse(
            f"corner {number} is not two lengths",
            how_much=f"{line.strip()[:40]!r}",
            what_to_do="Write on each line how far along the warp the corner lies, then how far "
            "across: 80cm 2cm. A decimal is written with a point.",
        )
    along, across = (
        amount if not _number_of(amount) else f"{amount}{own or unit}"
        for amount, own in ((found[1], found[2]), (found[3], found[4]))
    )
    return along, across


def _number_of(amount: str) -> float:
    """Return a plain number or a fraction, such as `35 1/2`."""
    return float(sum(Fraction(part) for part in amount.split()))
