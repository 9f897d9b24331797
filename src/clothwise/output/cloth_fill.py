"""Cloth as an SVG paint: its color, and a figure of our own for what is printed or woven on it.

The figure has the size that the repeat of the cloth states; a photo takes the place of both.
Paints are made once for a page, in mm of cloth whose length runs upward; a layout uses a paint of
its own that refers to the first.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from html import escape

from clothwise.output.drawing import Color
from clothwise.output.numbers import number

__all__ = ["FIGURES", "ClothLook", "cloth_paints", "figure_of"]

USUAL_REPEAT_MM = 26.0
"""Of a figure whose repeat nobody stated. Our own choice: it can be told on a small drawing."""
PHOTO_MM = (112.0, 80.0)
"""What a photo is taken to show where no repeat is stated; the shape of a swatch."""
_DARK_GROUND = 118.0
"""Figures on a ground darker than this are pale, else they are dark. Our own choice."""


@dataclass(frozen=True)
class ClothLook:
    """How a cloth looks from its right side.

    Attributes:
        id: of its paint in the page, letters, digits and hyphens only.
        color: of its ground.
        pattern: its figure in the words of the make, such as `stripe`.
        along_mm, across_mm: its repeat; 0 where none is stated.
        photo: address of a picture of it; empty if there is none.
        photo_mm: how much of the cloth that shows from left to right; 0 where nobody said.
    """

    id: str
    color: Color
    pattern: str = ""
    along_mm: float = 0.0
    across_mm: float = 0.0
    photo: str = ""
    photo_mm: float = 0.0


def figure_of(pattern: str) -> str:
    """The figure that is drawn for the words of a make; empty for plain cloth and unknown words.

    >>> figure_of("Wide stripe"), figure_of("gingham"), figure_of("")
    ('stripe', 'check', '')
    """
    words = pattern.casefold()
    return next((name for name, _, said in _FIGURES if any(each in words for each in said)), "")


def cloth_paints(looks: Sequence[ClothLook], *, laid_at: float = 1.0) -> str:
    """Paints `url(#ID)` for each cloth, to stand in the `defs` of an SVG of the page.

    There is a second one, `url(#ID-laid)`, for cloth that lies with its length along the page.

    Args:
        looks: the cloths.
        laid_at: the scale of drawings of such cloth.
    """
    found = []
    for look in looks:
        found.append(_paint(look))
        found.append(
            f'<pattern id="{look.id}-laid" href="#{look.id}" '
            f'patternTransform="rotate(90) scale({number(laid_at, 5)})"/>'
        )
    return "".join(found)


def _paint(look: ClothLook) -> str:
    name = figure_of(look.pattern)
    figure = next((drawn for each, drawn, _ in _FIGURES if each == name), None)
    wide, high = _repeat(look)
    inside = f'<rect width="{number(wide)}" height="{number(high)}" fill="{look.color.hex}"/>'
    if look.photo:
        inside += (
            f'<image href="{escape(look.photo)}" {_photo_size(look, wide, high)} '
            'preserveAspectRatio="xMidYMid slice"/>'
        )
    elif figure is not None:
        pen = "#ffffff" if _brightness(look.color) < _DARK_GROUND else "#1f1c19"
        inside += f'<g fill="{pen}" fill-opacity="0.42">{figure(wide, high)}</g>'
    return (
        f'<pattern id="{look.id}" patternUnits="userSpaceOnUse" width="{number(wide)}" '
        f'height="{number(high)}">{inside}</pattern>'
    )


def _repeat(look: ClothLook) -> tuple[float, float]:
    """Width and height of one repeat on cloth whose length runs upward.

    Of a photo with a scale: as many whole repeats as it shows, or all of it.
    """
    if look.photo and look.photo_mm:
        shown = _shown(look)
        sides = zip(shown, (look.across_mm, look.along_mm), strict=True)
        wide, high = (side // each * each if 0 < each <= side else side for side, each in sides)
        return wide, high
    if look.photo and not (look.along_mm or look.across_mm):
        return PHOTO_MM
    usual = look.across_mm or look.along_mm or USUAL_REPEAT_MM
    return look.across_mm or usual, look.along_mm or usual


def _shown(look: ClothLook) -> tuple[float, float]:
    """Width and height of what a photo with a scale shows of the cloth."""
    return look.photo_mm, look.photo_mm * PHOTO_MM[1] / PHOTO_MM[0]


def _photo_size(look: ClothLook, wide: float, high: float) -> str:
    wide, high = _shown(look) if look.photo_mm else (wide, high)
    return f'width="{number(wide)}" height="{number(high)}"'


def _brightness(color: Color) -> float:
    """From 0 to 255, weighed as the eye does. Source: ITU-R BT.601, luma."""
    return 0.299 * color.red + 0.587 * color.green + 0.114 * color.blue


def _stripe(wide: float, high: float) -> str:
    bands = ((0.0, 0.38), (0.56, 0.07))
    return "".join(
        f'<rect x="{number(at * wide)}" width="{number(share * wide)}" height="{number(high)}"/>'
        for at, share in bands
    )


def _crosswise(wide: float, high: float) -> str:
    return f'<rect width="{number(wide)}" height="{number(0.4 * high)}"/>'


def _check(wide: float, high: float) -> str:
    return (
        f'<rect width="{number(wide / 2)}" height="{number(high)}" fill-opacity="0.3"/>'
        f'<rect width="{number(wide)}" height="{number(high / 2)}" fill-opacity="0.3"/>'
    )


def _dots(wide: float, high: float) -> str:
    radius = number(0.15 * min(wide, high))
    places = ((0.25, 0.25), (0.75, 0.75))
    return "".join(
        f'<circle cx="{number(x * wide)}" cy="{number(y * high)}" r="{radius}"/>' for x, y in places
    )


def _sprigs(wide: float, high: float) -> str:
    """A stalk with three leaves, and a bud half a repeat further."""
    leaf = min(wide, high)
    parts = [(0.3, 0.28, -40), (0.3, 0.28, 40), (0.3, 0.28, 0)]
    drawn = "".join(
        f'<ellipse cx="{number(x * wide)}" cy="{number(y * high - 0.12 * leaf)}" '
        f'rx="{number(0.05 * leaf)}" ry="{number(0.13 * leaf)}" '
        f'transform="rotate({turn} {number(x * wide)} {number(y * high + 0.06 * leaf)})"/>'
        for x, y, turn in parts
    )
    bud = (
        f'<circle cx="{number(0.78 * wide)}" cy="{number(0.76 * high)}" r="{number(0.08 * leaf)}"/>'
    )
    return drawn + bud


def _twill(wide: float, high: float) -> str:
    w, h = number(wide), number(high)
    low, left, half_w, half_h = (
        number(0.75 * high),
        number(0.25 * wide),
        number(wide / 2),
        number(high / 2),
    )
    far = number(0.75 * wide)
    near = number(0.25 * high)
    return (
        f'<path d="M0 {h}L0 {low}L{far} 0L{w} 0Z"/>'
        f'<path d="M0 {near}L0 0L{left} 0Z"/><path d="M{half_w} {h}L{w} {half_h}L{w} {low}'
        f'L{far} {h}Z"/>'
    )


_FIGURES: tuple[tuple[str, Callable[[float, float], str], tuple[str, ...]], ...] = (
    ("crosswise", _crosswise, ("crosswise", "cross stripe", "across")),
    ("stripe", _stripe, ("strip", "pinstripe", "ticking")),
    ("check", _check, ("check", "gingham", "plaid", "tartan", "squares")),
    ("dots", _dots, ("dot", "spot")),
    ("sprigs", _sprigs, ("sprig", "floral", "flower", "leaf", "leaves", "print")),
    ("twill", _twill, ("twill", "diagonal", "herringbone", "denim")),
)

FIGURES: tuple[str, ...] = tuple(name for name, _, _ in _FIGURES)
"""Figures that can be drawn; a make may use these words, or others that mean them."""
