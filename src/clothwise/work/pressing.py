"""How hot an iron may be for a cloth, by its fiber, and the words that say so.

This is the usual heat of a fiber, not of a cloth: finishes, coatings and dyes can need less. So
every sentence sends the reader to the care label first, then to a scrap.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from clothwise.pattern.enumerated import enumerated

__all__ = ["Heat", "gentler_words", "heat_of", "pressing_words"]


@dataclass(frozen=True, slots=True, order=True)
class Heat:
    """The dots of an iron, and the most that its sole plate has then, in degrees Celsius.

    Source: ISO 3758, as care-label guides print it (check value K01).
    """

    dots: int
    most_c: int

    @property
    def words(self) -> str:
        """As printed: `two dots, at most 150 °C (300 °F)`."""
        fahrenheit = (self.most_c * 9 / 5 + 32) // 5 * 5  # down to a round figure, never up
        return f"{_NUMBERS[self.dots]}, at most {self.most_c} °C ({fahrenheit:.0f} °F)"


_NUMBERS = {1: "one dot", 2: "two dots", 3: "three dots"}
ONE_DOT, TWO_DOTS, THREE_DOTS = Heat(1, 110), Heat(2, 150), Heat(3, 200)

_FIBERS = {
    # Common practice, no source (check value K06, from memory).
    **dict.fromkeys(("acetate", "acrylic", "nylon"), ONE_DOT),
    **dict.fromkeys(("wool", "silk", "polyester"), TWO_DOTS),
    **dict.fromkeys(("cotton", "linen"), THREE_DOTS),
    # Other names of these, and their near relatives; our own, on the careful side.
    **dict.fromkeys(("polyamide", "triacetate", "modacrylic"), ONE_DOT),
    **dict.fromkeys(("elastane", "spandex"), ONE_DOT),
    **dict.fromkeys(("merino", "lambswool", "cashmere", "mohair", "alpaca"), TWO_DOTS),
    **dict.fromkeys(("viscose", "rayon", "modal", "lyocell", "cupro"), TWO_DOTS),
    **dict.fromkeys(("flax", "hemp", "ramie"), THREE_DOTS),
}
_PASSED_OVER = frozenset(
    ("and", "with", "mixed", "mix", "blend", "mixture", "pure", "organic", "virgin", "recycled")
)
"""Words beside fibers that say nothing of their heat."""
_LABEL_FIRST = (
    "The care label of each fabric and the manual of the iron come before this, and a fusible's "
    "own leaflet for fusing; try heat and steam on a scrap, and use a press cloth where the cloth "
    "shines or marks."
)


def heat_of(fiber: str) -> Heat | None:
    """Return the usual heat of the most delicate fiber named; None if one is not known, or none is.

    >>> heat_of("55 % linen, 45 % polyester").words
    'two dots, at most 150 °C (300 °F)'
    """
    words = [
        word for word in re.findall(r"[^\W\d_]+", fiber.casefold()) if word not in _PASSED_OVER
    ]
    heats = [_FIBERS.get(word) for word in words]
    known = [heat for heat in heats if heat is not None]
    return min(known) if known and len(known) == len(heats) else None


def pressing_words(cloths: Iterable[tuple[str, str]]) -> tuple[str, ...]:
    """Return sentences on the heat of the iron for the cloths of a garment; none without cloths.

    Args:
        cloths: titles with the fibers that were stated, which may be empty.
    """
    by_heat: dict[Heat, list[str]] = {}
    unknown: list[str] = []
    for title, fiber in dict.fromkeys(cloths):
        heat = heat_of(fiber)
        if heat is None:
            unknown.append(f"{title} ({fiber})" if fiber else title)
        else:
            by_heat.setdefault(heat, []).append(f"{title} ({fiber})")
    told = [f"{heat.words}: {enumerated(titles)}" for heat, titles in sorted(by_heat.items())]
    sentences = [f"Usual heat of the iron by fiber: {'; '.join(told)}."] if told else []
    if unknown:
        sentences.append(
            f"No heat can be told for {enumerated(unknown)}: go by the care label, and begin cool."
        )
    return (*sentences, _LABEL_FIRST) if sentences else ()


def gentler_words(worked_on: Sequence[tuple[str, str]], garment: Iterable[tuple[str, str]]) -> str:
    """Return the warning of a step that needs a cooler iron than another cloth of the garment.

    Args:
        worked_on: titles and fibers of the cloths in the step.
        garment: those of all cloths.

    >>> gentler_words([("Lace", "nylon")], [("Lace", "nylon"), ("Slate linen", "linen")])
    'Iron no hotter than one dot, at most 110 °C (230 °F): Lace is nylon.'
    """
    heats = [(heat, title, fiber) for title, fiber in worked_on if (heat := heat_of(fiber))]
    others = [heat for _, fiber in garment if (heat := heat_of(fiber))]
    if not heats or not others or min(heats)[0] >= max(others):
        return ""
    heat, title, fiber = min(heats)
    return f"Iron no hotter than {heat.words}: {title} is {fiber}."
