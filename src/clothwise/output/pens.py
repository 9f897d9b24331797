"""The pens we draw with. Each kind of line is told by its dashes, not by its color.

Pattern lines are pure black, so that a printer takes its black ink alone; what only serves to
join pages is in chalk. Widths stay clear of 0.15 mm, which a home printer breaks up.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.output.drawing import Cap, Color, Stroke

INK = Color(0, 0, 0)
GRAPHITE = Color(90, 90, 90)
CHALK = Color.parse("#4f6f86")
PALE_CHALK = Color.parse("#e6ecf0")
PAPER = Color(255, 255, 255)

CUTTING = Stroke(0.5, INK, cap=Cap.ROUND)
STITCHING = Stroke(0.25, INK, (2.6, 1.4))
TURNING = Stroke(0.25, INK, (7.0, 1.6))
"""Where a hem is turned up."""
FOLD = Stroke(0.3, INK, (9.0, 1.5, 1.5, 1.5))
"""Where cloth is folded: the fold it is cut on, a fold line, the middle of a dart."""
CENTER = Stroke(0.25, INK, (9.0, 1.5, 0.8, 1.5, 0.8, 1.5))
PLACING = Stroke(0.25, INK, (1.2, 1.2))
MARK = Stroke(0.35, INK)
FINE = Stroke(0.2, INK)
GUIDE = Stroke(0.2, CHALK)
GUIDE_DOTS = Stroke(0.3, CHALK, (0.0, 1.5), Cap.ROUND)


@dataclass(frozen=True)
class SizeStyle:
    """How one size of a nest is drawn."""

    stroke: Stroke


_DASHES: tuple[tuple[tuple[float, ...], Cap], ...] = (
    ((), Cap.BUTT),
    ((8.0, 2.0), Cap.BUTT),
    ((0.0, 1.5), Cap.ROUND),
    ((8.0, 1.8, 0.0, 1.8), Cap.ROUND),
    ((3.5, 1.6), Cap.BUTT),
    ((14.0, 2.0, 3.0, 2.0), Cap.BUTT),
    ((1.4, 1.4), Cap.BUTT),
    ((6.0, 1.6, 0.0, 1.6, 0.0, 1.6), Cap.ROUND),
    ((10.0, 2.0, 2.0, 2.0, 2.0, 2.0), Cap.BUTT),
    ((16.0, 3.0), Cap.BUTT),
    ((3.0, 1.5, 0.0, 1.5), Cap.ROUND),
    ((6.0, 1.6, 0.0, 1.6, 0.0, 1.6, 0.0, 1.6), Cap.ROUND),
)
"""Twelve dash patterns, neighbors as unlike each other as we could make them. Our own choice."""

_SIZE_COLORS = tuple(
    Color.parse(text) for text in ("#000000", "#7a2e1f", "#1f4a6b", "#3c5a26", "#5a2f66", "#6b4d12")
)
"""Dark enough to print black on a black-and-white printer; a help to the eye, no more."""


def size_style(number: int) -> SizeStyle:
    """The style of the size of that number in its range, from 0.

    Styles differ in dashes for twelve sizes; after those, lines are heavier.
    """
    dashes, cap = _DASHES[number % len(_DASHES)]
    width = 0.35 + 0.25 * (number // len(_DASHES))
    if dashes == (0.0, 1.5):
        width += 0.15  # dots need more ink than dashes to be seen
    return SizeStyle(Stroke(width, _SIZE_COLORS[number % len(_SIZE_COLORS)], dashes, cap))
