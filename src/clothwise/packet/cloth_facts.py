"""What is told of a fabric that is laid out: to buy and to pay, how it is used, what limits it."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from typing import Any

from clothwise.cutting.layout import Layout
from clothwise.cutting.limit_words import limit_sentences, shorter_sentence
from clothwise.cutting.limits import what_limits
from clothwise.packet.both_units import amounts
from clothwise.packet.making import ClothPlan
from clothwise.units import LengthUnit, format_length

__all__ = [
    "BOUND_FACTS",
    "at_hand_text",
    "both_bounds",
    "bound_text",
    "buy_sentence",
    "cloth_facts",
    "limit_data",
    "limiting_sentences",
    "tied",
]

BOUND_FACTS = ("No layout is shorter than", "Needed if none were wasted", "Longest piece")
"""Names of the facts on how short a layout can be: a bound, and the two lengths that it comes
from."""
_MEASURE = re.compile(r"(\d) ((?:cm|mm|m|in|ft|yd)\b|%)")


def cloth_facts(cloth: ClothPlan, unit: LengthUnit) -> tuple[tuple[str, str], ...]:
    """Pairs of a name and what it is: `("Buy", "2.6 m or 2 7/8 yd")`."""
    layout = cloth.layout
    fabric = layout.fabric
    facts = [("Buy", "nothing" if cloth.suffices else _amount(cloth, unit))]
    cost = _cost(cloth)
    if cost and not cloth.suffices:
        facts.append(("Cost", cost))
    if math.isfinite(fabric.length_mm):
        facts.append(("At hand", at_hand_text(cloth, unit)))
    extra = cloth.extra_for_matching_mm
    matching = [] if extra is None else [("For its pattern", _more_text(extra, unit))]
    used = round(100 * layout.used_share)
    facts += [
        ("Width", format_length(fabric.nominal_width_mm, unit)),
        ("Laid out after washing", format_length(layout.length_mm, unit)),
        *matching,
        ("In the pieces", f"{used} %"),
        ("Left over", f"{100 - used} %"),
        *zip(BOUND_FACTS, (bound_text(layout, unit), *both_bounds(layout, unit)), strict=True),
    ]
    return tuple(facts)


def buy_sentence(cloth: ClothPlan, unit: LengthUnit) -> str:
    """What to buy, without its period: `Buy 2.6 m or 2 7/8 yd of Linen for 46.80 EUR`."""
    if not cloth.suffices:
        cost = _cost(cloth)
        return f"Buy {_amount(cloth, unit)} of {cloth.title}{f' for {cost}' if cost else ''}"
    at_hand, taken = (
        format_length(mm, unit)
        for mm in (cloth.layout.fabric.length_mm, cloth.requirement.buy_length_mm)
    )
    return f"Buy no {cloth.title}: of the {at_hand} at hand, {taken} are taken"


def _cost(cloth: ClothPlan) -> str:
    """What a fabric costs; empty if its price is not known."""
    cost = cloth.requirement.cost
    return "" if cost is None else f"{cost:.2f} {cloth.layout.fabric.currency}".strip()


def _amount(cloth: ClothPlan, unit: LengthUnit) -> str:
    return " or ".join(amounts(cloth.requirement.meters, cloth.requirement.yards, unit))


def _more_text(extra_mm: float, unit: LengthUnit) -> str:
    said = format_length(extra_mm, unit)
    return "no more" if said == format_length(0.0, unit) else f"{said} more"


def bound_text(layout: Layout, unit: LengthUnit) -> str:
    """The length that no layout goes below, and how much less it is than this one."""
    bound = layout.bound.length_mm
    less = round(100 * (1 - bound / layout.length_mm))
    said = format_length(bound, unit)
    return f"{said} ({less} % less)" if less else said


def both_bounds(layout: Layout, unit: LengthUnit) -> tuple[str, str]:
    """The area of all pieces over the usable width, and the length of the longest piece."""
    bound = layout.bound
    return format_length(bound.area_mm, unit), format_length(bound.longest_piece_mm, unit)


def at_hand_text(cloth: ClothPlan, unit: LengthUnit) -> str:
    """The length at hand and what is left of it, or how much it is short."""
    at_hand = cloth.layout.fabric.length_mm
    left = at_hand - cloth.requirement.buy_length_mm
    word = "left" if left >= 0 else "short"
    return f"{format_length(at_hand, unit)} ({format_length(abs(left), unit)} {word})"


def limiting_sentences(cloth: ClothPlan, unit: LengthUnit) -> tuple[str, ...]:
    """What keeps each stretch of the layout from being shorter, and how else the cloth may lie."""

    def told(length_mm: float) -> str:
        return format_length(length_mm, unit)

    limits = what_limits(cloth.layout, cloth.items, matched=bool(cloth.matches))
    said = limit_sentences(limits, cloth.layout, cloth.items, told=told, pinned=cloth.pinned)
    if not cloth.shorter_plans:
        return said
    return (*said, shorter_sentence(cloth.shorter_plans, cloth.layout.length_mm, told=told))


def tied(sentences: Iterable[str]) -> tuple[str, ...]:
    r"""The same sentences, no number parted from its unit where lines are broken.

    >>> tied(["on cloth 0.6 cm wider"])
    ('on cloth 0.6\xa0cm wider',)
    """
    return tuple(_MEASURE.sub("\\1\u00a0\\2", sentence) for sentence in sentences)


def limit_data(cloth: ClothPlan) -> list[dict[str, Any]]:
    """The same as values for other programs."""
    return [
        {
            "stretch": limit.section + 1,
            "limited_by": limit.kind.value,
            "copies": [list(placement.item_ids) for placement in limit.placements],
            "covered_share": round(limit.covered_share, 4),
            "side_by_side_on_cloth_wider_by_mm": (
                None if limit.lacking is None else round(limit.lacking.cloth_mm, 1)
            ),
        }
        for limit in what_limits(cloth.layout, cloth.items, matched=bool(cloth.matches))
    ]
