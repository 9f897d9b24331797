"""The drawing of a remnant on squared paper, on which corners are clicked and flaws are drawn."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from clothwise.units import LengthUnit, format_length

__all__ = ["Pad", "blank_mm", "pad_of", "spelled"]

_Places = Sequence[tuple[float, float]]
_USUAL_MM = {LengthUnit.INCH: (1016.0, 812.8)}
"""How large squared paper is at first: 40 by 32 in, or 100 by 80 cm."""
_LARGEST_MM = 20_000.0


@dataclass(frozen=True)
class Pad:
    """Squared paper with a remnant on it; mm of cloth, y downward as the page has it.

    Attributes:
        view: left, top, width and height.
        left_mm, low_mm: where its figures stand, beside what is drawn.
        width_mm, height_mm: of the paper.
        type_mm: size of its figures.
        along, across: lines of the paper: how far, and the figure that stands there if one does.
        outline: corners of the remnant as points of SVG; empty if there are none.
        corners: the same one by one: where, and what is said of it.
        holes, flaws: as points of SVG.
        said: what is drawn, in words.
    """

    view: str
    left_mm: float
    low_mm: float
    width_mm: float
    height_mm: float
    type_mm: float
    along: tuple[tuple[float, str], ...]
    across: tuple[tuple[float, str], ...]
    outline: str
    corners: tuple[tuple[float, float, str], ...]
    holes: tuple[str, ...]
    flaws: tuple[str, ...]
    said: str


def blank_mm(unit: LengthUnit) -> tuple[float, float]:
    """How large squared paper is before anything is drawn on it."""
    return _USUAL_MM.get(unit, (1000.0, 800.0))


def pad_of(
    outline: _Places,
    *,
    unit: LengthUnit,
    holes: Iterable[_Places] = (),
    flaws: Iterable[_Places] = (),
    room_mm: tuple[float, float] = (0.0, 0.0),
) -> Pad:
    """Return squared paper with a remnant on it.

    Args:
        outline: corners along the warp and across, mm; may be none or a few.
        unit: of its figures.
        holes, flaws: outlines in the same way.
        room_mm: how large the paper is at least.
    """
    right = min(max([room_mm[0], *(x for x, _ in outline)]), _LARGEST_MM)
    high = min(max([room_mm[1], *(y for _, y in outline)]), _LARGEST_MM)
    left, low = min([0.0, *(x for x, _ in outline)]), min([0.0, *(y for _, y in outline)])
    size = max(right - left, high - low, 1.0)
    letters = size / 27
    edge, below = 3.2 * letters, 2.2 * letters
    view = (left - edge, -high - letters, right - left + edge + 2 * letters, high - low + below)
    width, height = view[2], view[3] + letters
    return Pad(
        " ".join(f"{each:.1f}" for each in (view[0], view[1], width, height)),
        round(left, 1),
        round(-low, 1),
        right,
        high,
        round(letters, 1),
        _lines(right, size, unit),
        tuple((-y, words) for y, words in _lines(high, size, unit)),
        _points(outline),
        tuple(
            (
                round(x, 1),
                round(-y, 1),
                f"corner {number}: {format_length(x, unit)} along, {format_length(y, unit)} across",
            )
            for number, (x, y) in enumerate(outline, start=1)
        ),
        tuple(_points(each) for each in holes),
        tuple(_points(each) for each in flaws),
        _size(outline, unit) if outline else "squared paper, on which nothing is drawn",
    )


def spelled(length_mm: float, unit: LengthUnit) -> str:
    """Return a place as somebody would write it: to 5 mm, or to a quarter of an inch.

    >>> spelled(803.9, LengthUnit.CENTIMETER), spelled(803.9, LengthUnit.INCH)
    ('80.5cm', '31.75in')
    """
    if unit in (LengthUnit.INCH, LengthUnit.FOOT, LengthUnit.YARD):
        return f"{round(length_mm / 25.4 * 4) / 4:g}in"
    return f"{round(length_mm / 5) / 2:g}cm"


def _lines(length_mm: float, size_mm: float, unit: LengthUnit) -> tuple[tuple[float, str], ...]:
    """Lines of squared paper; figures at every second one at most."""
    step = 101.6 if unit in (LengthUnit.INCH, LengthUnit.FOOT, LengthUnit.YARD) else 100.0
    while size_mm / step > 24:
        step *= 2
    every = max(1, math.ceil(size_mm / step / 8))
    count = int(length_mm / step + 1e-6)
    return tuple(
        (round(number * step, 1), format_length(number * step, unit) if number % every == 0 else "")
        for number in range(count + 1)
    )


def _size(outline: _Places, unit: LengthUnit) -> str:
    long, wide = (max(found) - min(found) for found in zip(*outline, strict=True))
    return f"{format_length(long, unit)} along the warp by {format_length(wide, unit)} across"


def _points(outline: _Places) -> str:
    return " ".join(f"{x:.1f},{-y:.1f}" for x, y in outline)
