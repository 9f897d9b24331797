"""What if: changes as texts of the command line, and the comparison in the terminal."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from clothwise.cli import show
from clothwise.errors import Misuse
from clothwise.packet.cloth_facts import at_hand_text
from clothwise.packet.making import ClothPlan, Making
from clothwise.packet.requirement_words import width_words
from clothwise.packet.tables import cloth_data
from clothwise.packet.what_if import Changes, ClothChange, Comparison
from clothwise.units import LengthUnit, format_meters, format_yards, uses_yards


def changes_of(swaps: Sequence[str], cut_from: Sequence[str], cloths: Sequence[str]) -> Changes:
    """The changes that the options name.

    Raises:
        Misuse: one of them cannot be read, or nothing is to be changed.
    """
    if not (swaps or cut_from or cloths):
        raise Misuse(
            "nothing is to be changed",
            where="compare",
            what_to_do="Say what: --swap linen,print, --from collar=linen or "
            "--cloth linen.width=150cm.",
        )
    return Changes(
        tuple(_parted(text, ",", "--swap", "linen,print") for text in swaps),
        tuple(_parted(text, "=", "--from", "collar=linen") for text in cut_from),
        tuple(_cloth(text) for text in cloths),
    )


def _parted(text: str, sign: str, option: str, example: str) -> tuple[str, str]:
    first, found, second = (part.strip() for part in text.partition(sign))
    if not (first and found and second):
        raise Misuse(
            f"{text[:40]!r} cannot be read",
            where=option,
            what_to_do=f"Write it like {example}.",
        )
    return first, second


def _cloth(text: str) -> tuple[str, str, str]:
    example = "linen.width=150cm"
    what, value = _parted(text, "=", "--cloth", example)
    name, key = _parted(what, ".", "--cloth", example)
    return name, key, value


def show_comparison(making: Making, found: Comparison) -> None:
    """Show each fabric before and after, and what it comes to."""
    yards = uses_yards(making.unit)
    priced = bool(found.costs(after=False) or found.costs(after=True))
    header = ["fabric", "before", "after", "more or less"]
    columns = [*header, "cost before", "cost after"] if priced else header
    show.table(
        columns,
        [_row(cloth, making.unit)[: len(columns)] for cloth in found.cloths],
        title=f"{making.title}, {making.fit}: what if",
        right=range(1, len(columns)),
    )
    moved: dict[tuple[str, str], list[str]] = {}
    for name, way in found.moved.items():
        moved.setdefault(way, []).append(name)
    for (before, after), names in moved.items():
        titles = making.fabric_titles
        pieces = ", ".join(_piece_words(making, names, before))
        show.say(f"From {titles[after]} instead of {titles[before]}: {pieces}.")
    for cloth in found.cloths:
        if cloth.after and math.isfinite(cloth.after.layout.fabric.length_mm):
            show.say(f"{cloth.title}: at hand {at_hand_text(cloth.after, making.unit)}.")
    show.say(_summary(found, yards=yards))


def _piece_words(making: Making, names: Sequence[str], before: str) -> list[str]:
    """Pieces by their titles; of those that stay in part on their fabric, which copies go."""
    copies: dict[str, list[str]] = {}
    for name in names:
        piece, _, copy = name.partition("/")
        copies.setdefault(piece, []).append(copy)
    words = []
    for piece, gone in copies.items():
        title = making.pattern.piece(piece).title
        stated = [
            copy.name
            for copy in making.pattern.piece(piece).copies
            if making.assignment[piece, copy.name] == before
        ]
        words.append(title if len(gone) == len(stated) else f"{title} ({', '.join(gone)})")
    return words


def _row(cloth: ClothChange, unit: LengthUnit) -> list[str]:
    yards = uses_yards(unit)
    plan = cloth.after or cloth.before
    width = width_words(plan.layout.fabric.nominal_width_mm, unit=unit) if plan else ""
    if cloth.before and cloth.after:
        old = cloth.before.layout.fabric.nominal_width_mm
        if old != cloth.after.layout.fabric.nominal_width_mm:
            width = f"{width}, was {width_words(old, unit=unit)}"
    more = cloth.more_yards if yards else cloth.more_meters
    return [
        f"{cloth.title}\n{width}",
        _amount(cloth.before, yards=yards),
        _amount(cloth.after, yards=yards),
        _signed(more, yards=yards),
        _cost(cloth.before),
        _cost(cloth.after),
    ]


def _amount(plan: ClothPlan | None, *, yards: bool) -> str:
    if plan is None:
        return "–"
    if plan.suffices:
        return "nothing"
    needed = plan.requirement
    return format_yards(needed.yards) if yards else format_meters(needed.meters)


def _signed(more: Fraction, *, yards: bool) -> str:
    if not more:
        return "the same"
    amount = format_yards(abs(more)) if yards else format_meters(abs(more))
    return f"{'+' if more > 0 else '−'}{amount}"


def _cost(plan: ClothPlan | None) -> str:
    if plan is None or plan.suffices or plan.requirement.cost is None:
        return ""
    return f"{plan.requirement.cost:.2f} {plan.requirement.fabric.currency}".strip()


def _summary(found: Comparison, *, yards: bool) -> str:
    if not found.moved and not any(cloth.more_mm for cloth in found.cloths):
        return "What is bought stays the same."
    more = sum(
        (cloth.more_yards if yards else cloth.more_meters for cloth in found.cloths), Fraction(0)
    )
    words = "as much as before" if not more else _signed(more, yards=yards)
    before, after = found.costs(after=False), found.costs(after=True)
    costs = [
        f"{after.get(currency, 0.0):.2f} instead of {before.get(currency, 0.0):.2f} {currency}"
        for currency in dict.fromkeys((*before, *after))
    ]
    return "; ".join((f"In all: {words}", *(cost.strip() for cost in costs))) + "."


def comparison_data(found: Comparison) -> dict[str, Any]:
    """A comparison as JSON values."""
    return {
        "fabrics": [
            {
                "fabric": cloth.name,
                "before": cloth_data(cloth.before) if cloth.before else None,
                "after": cloth_data(cloth.after) if cloth.after else None,
                "more_m": float(cloth.more_meters),
                "more_yd": float(cloth.more_yards),
                "more_mm": round(cloth.more_mm, 1),
            }
            for cloth in found.cloths
        ],
        "moved": [
            {"copy": name, "before": before, "after": after}
            for name, (before, after) in found.moved.items()
        ],
        "cost_before": {name: round(cost, 2) for name, cost in found.costs(after=False).items()},
        "cost_after": {name: round(cost, 2) for name, cost in found.costs(after=True).items()},
    }
