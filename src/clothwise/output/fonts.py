"""The type family that we print with, and how wide a text runs in it.

Alegreya Sans travels in `data/fonts`. Its default figures have descenders (like those of old
books); sizes and measurements read better in its lining figures, so the ten digits are pointed
at those glyphs when a face is loaded. The font files stay as they are.
"""

from __future__ import annotations

from functools import lru_cache
from importlib import resources
from typing import TYPE_CHECKING

from clothwise.output.drawing import Text, Weight

if TYPE_CHECKING:
    from reportlab.pdfbase.ttfonts import TTFont

FAMILY = "Alegreya Sans"
FALLBACKS = ("Gill Sans", "Optima", "Candara", "Noto Sans", "sans-serif")
"""Humanist faces found on common computers, for SVG shown where our own is not installed."""

CAP_HEIGHT = 0.64
"""Height of a capital over the type size; from the OS/2 table of the regular face."""
ASCENT = 0.75
"""Height of the tallest unaccented letters over the type size; read from the glyph boxes."""
DESCENT = 0.21
"""Depth of the deepest letters below the baseline over the type size; likewise."""

NO_BREAK = "\u00a0"
"""The space at which no line ends: between a number and its unit, or the number of a piece and its
name. It counts as not printable in Unicode's own list, but it is a letter of ours."""

_FILES = {
    Weight.REGULAR: "AlegreyaSans-Regular.ttf",
    Weight.BOLD: "AlegreyaSans-Bold.ttf",
    Weight.ITALIC: "AlegreyaSans-Italic.ttf",
}
_FIRST_LINING_FIGURE = {Weight.REGULAR: 1686, Weight.BOLD: 1686, Weight.ITALIC: 1690}
"""Glyph number of `zero.lf`; the other nine follow. A test compares them with the files."""


def font_bytes(weight: Weight) -> bytes:
    """The TrueType file of a face."""
    return (resources.files("clothwise") / "data" / "fonts" / _FILES[weight]).read_bytes()


@lru_cache
def face(weight: Weight) -> TTFont:
    """The face, ready to measure with and to embed; loaded once."""
    from io import BytesIO

    from reportlab.pdfbase.ttfonts import TTFont

    font = TTFont(_FILES[weight].removesuffix(".ttf"), BytesIO(font_bytes(weight)))
    outlines = font.face
    for digit in range(10):
        code, glyph = ord("0") + digit, _FIRST_LINING_FIGURE[weight] + digit
        outlines.charToGlyph[code] = glyph
        outlines.charWidths[code] = _advance(font, glyph)
    return font


def _advance(font: TTFont, glyph: int) -> float:
    """Advance width of a glyph in thousandths of the type size, from the `hmtx` table."""
    metrics = font.face.get_table("hmtx")
    start = 4 * glyph
    units = int.from_bytes(metrics[start : start + 2], "big")
    return float(units * 1000 / font.face.unitsPerEm)


def text_width(text: str, size_mm: float, weight: Weight = Weight.REGULAR) -> float:
    """How long a line of text runs, mm.

    >>> 0 < text_width("Cut 1 pair", 3.5) < text_width("Cut 1 pair", 3.5, Weight.BOLD)
    True
    """
    outlines = face(weight).face
    widths, other = outlines.charWidths, outlines.defaultWidth
    return float(sum(widths.get(ord(letter), other) for letter in text)) * size_mm / 1000


def width_of(text: Text) -> float:
    """How long a text of a drawing runs, mm."""
    return text_width(text.text, text.size_mm, text.weight)


def missing_letters(text: str) -> str:
    """The letters of a text that our typeface does not have; each once, in order."""
    known = face(Weight.REGULAR).face.charToGlyph
    return "".join(dict.fromkeys(letter for letter in text if ord(letter) not in known))
