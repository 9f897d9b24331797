"""Drawing to PNG, for places where nothing else can be shown; the same bytes always."""

from __future__ import annotations

import json

from clothwise.errors import Misuse
from clothwise.output.bounds import Bounds, drawing_bounds
from clothwise.output.drawing import Drawing
from clothwise.output.typeset_drawing import lines_svg, words_data
from clothwise.output.typesetting import typeset_png

__all__ = ["DOTS_PER_INCH", "to_png"]

DOTS_PER_INCH = 160.0
"""A page across a screen of 1,870 dots; our own choice."""
_MOST_DOTS = 20_000.0
_INCH_MM = 25.4


def to_png(
    drawing: Drawing, *, page: Bounds | None = None, dots_per_inch: float = DOTS_PER_INCH
) -> bytes:
    """A PNG file on a white ground, as large as the drawing or as the rectangle `page` of it.

    Raises:
        Misuse: it would be too large for common programs, or has no size.
    """
    frame = page or drawing_bounds(drawing)
    dots = max(frame.width, frame.height) / _INCH_MM * dots_per_inch
    if not 1.0 <= dots <= _MOST_DOTS:
        raise Misuse(
            "the picture cannot be made of dots",
            where=drawing.title,
            how_much=f"{dots:.0f} dots along its longer side, 1 to {_MOST_DOTS:.0f} can be made",
            what_to_do="Ask for fewer dots per inch, or for SVG or PDF.",
        )
    data = {
        **words_data(drawing, frame, "picture.svg"),
        "caption": "",
        "description": drawing.title,
    }
    files = {
        "picture.json": json.dumps(data, ensure_ascii=True).encode(),
        "picture.svg": lines_svg(drawing, frame),
    }
    return typeset_png("picture.typ", files, title=drawing.title, dots_per_inch=dots_per_inch)
