"""What is said of a make that is cut from what is at hand: lists, sentences, plain values."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from clothwise.cutting.cut_line import CutLine, Half, list_notes, notes_of
from clothwise.cutting.layout import LayerPlan, Placement
from clothwise.cutting.remnant_layout import RemnantLayout
from clothwise.cutting.requirement import Requirement
from clothwise.cutting.stash_plan import Bought
from clothwise.packet.from_stash import AtHand, FromStash, Verdict
from clothwise.packet.making import Making
from clothwise.pattern.document.assignment import copy_key
from clothwise.units import LengthUnit, amount_to_buy, format_length

__all__ = [
    "answer_text",
    "at_hand_sentence",
    "bought_sentence",
    "called",
    "kept_sentences",
    "lines_of",
    "missing_sentences",
    "remnant_facts",
    "remnant_notes",
    "stash_data",
]


def lines_of(making: Making, ids: Iterable[str], *, opened: bool) -> tuple[CutLine, ...]:
    """The lines of the cutting list for some of the copies, by `piece/copy`.

    Args:
        making: the make.
        ids: the copies.
        opened: whether the cloth lies in one layer, so that half pieces are opened out.
    """
    wanted = set(ids)
    found = []
    for line in making.cutting_list:
        names = tuple(name for name in line.copies if copy_key(line.piece, name) in wanted)
        if not names:
            continue
        copies = [c for c in making.pattern.piece(line.piece).copies if c.name in names]
        half = Half.OPENED if opened and line.half is not Half.WHOLE else line.half
        found.append(
            replace(
                line,
                copies=names,
                mirrored=sum(copy.mirrored for copy in copies),
                half=half,
                interfaced=min(line.interfaced, len(names)),
                notes=notes_of(copies),
            )
        )
    return tuple(found)


def answer_text(making: Making, found: FromStash) -> str:
    """The answer in one sentence."""
    if not found.fits:
        return f"{making.title}, {making.fit}, does not come out of what is at hand."
    bought = found.plan.bought if found.plan else ()
    if not any(each.layout for each in bought):
        return f"{making.title}, {making.fit}, comes out of what is at hand; nothing is bought."
    saved = any(each.saved_mm > 0 for each in bought)
    if found.plan and not (found.plan.remnants or found.plan.unused):
        return (
            f"{making.title}, {making.fit}: no remnant is at hand. Name a file that lists yours, "
            "as `stash` in the make or with --stash."
        )
    if found.plan and not found.plan.remnants:
        return f"{making.title}, {making.fit}: no remnant saves any of what is bought."
    less = "less is bought" if saved else "no less is bought"
    return f"{making.title}, {making.fit}: with what is at hand, {less}."


def at_hand_sentence(each: AtHand, unit: LengthUnit) -> str:
    """Whether a length suffices, with figures."""
    length, needed = (format_length(mm, unit) for mm in (each.length_mm, each.needed_mm))
    least = format_length(each.least_mm, unit)
    plan = each.layout.plan.value
    if each.verdict is Verdict.FITS:
        left = format_length(each.length_mm - each.needed_mm, unit)
        return f"{each.title}: the {length} at hand suffice; {needed} are needed, {left} are left."
    if each.verdict is Verdict.CANNOT:
        return f"{each.title}: the {length} at hand cannot suffice; no layout takes under {least}."
    return (
        f"{each.title}: no way was found to cut all from the {length} at hand. Laid {plan}, the "
        f"shortest layout found takes {needed}, and none takes under {least}."
    )


def bought_sentence(making: Making, each: Bought, titles: dict[str, str]) -> str:
    """What is bought of a fabric, and instead of what."""
    title = titles[each.bolt.name]
    before = _amount(making, each.needed_before)
    if each.needed is None:
        return f"{title}: nothing to buy, instead of {before}."
    after = _amount(making, each.needed)
    if after == before:
        less = ""
        if each.saved_mm > 1.0:
            less = f"; {format_length(each.saved_mm, making.unit)} less before rounding"
        return f"{title}: buy {after}, as without remnants{less}."
    return f"{title}: buy {after} instead of {before}."


def _amount(making: Making, needed: Requirement) -> str:
    return amount_to_buy(needed.buy_length_mm, making.unit)


def missing_sentences(found: FromStash) -> tuple[str, ...]:
    """A sentence for what has no place."""
    if found.plan is None or not found.plan.missing:
        return ()
    names = ", ".join(item.label for each in found.plan.missing for item in each.items)
    return (f"No place was found for {names}.",)


def kept_sentences(making: Making, found: FromStash) -> tuple[str, ...]:
    """A sentence for each reason why copies stay on their fabric, with their pieces."""
    reasons = dict.fromkeys(found.kept_apart.values())
    return tuple(
        f"Stays on its fabric: {called(making, ids)} ({why})."
        for why in reasons
        if (ids := [each for each, of in found.kept_apart.items() if of == why])
    )


def called(making: Making, ids: Iterable[str]) -> str:
    """What copies are called: a piece by its title, with its copies where others are left out."""
    wanted = set(ids)
    names = []
    for piece in making.pattern.pieces.values():
        copies = [each.name for each in piece.copies]
        here = [name for name in copies if copy_key(piece.name, name) in wanted]
        if here:
            some = f" ({', '.join(here)})" if len(here) < len(copies) else ""
            names.append(f"{piece.title}{some}")
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def remnant_facts(layout: RemnantLayout, unit: LengthUnit) -> tuple[tuple[str, str], ...]:
    """Pairs of a name and what it is, for a page."""
    fabric = layout.remnant.fabric
    sides = (format_length(mm, unit) for mm in (fabric.length_mm, fabric.usable_width_mm))
    used = round(100 * layout.used_share)
    facts = [
        ("Along and across", " by ".join(sides)),
        ("In the pieces", f"{used} %"),
        ("Left over", f"{100 - used} %"),
    ]
    for name, count in (("Holes", layout.remnant.holes), ("Flaws", layout.remnant.flaws)):
        facts += [(name, str(len(count)))] if count else []
    return tuple(facts)


def remnant_notes(lines: tuple[CutLine, ...], layout: RemnantLayout) -> tuple[str, ...]:
    """How to lay it, and what to mind."""
    notes = ["One layer, right side up, the warp along the length."]
    if layout.remnant.fabric.wrong_side_usable:
        notes.append("Both sides are taken as the right side.")
    if layout.remnant.fabric.pattern:
        notes.append("Its pattern is not matched: lay it by eye, or take it where it may fall.")
    has_grain = not layout.remnant.fabric.turns_quarters
    return (*notes, *list_notes(lines, LayerPlan.SINGLE, has_grain=has_grain))


def stash_data(making: Making, found: FromStash) -> dict[str, Any]:
    """The answer as values for other programs."""
    plan = found.plan
    return {
        "fits": found.fits,
        "at_hand": [
            {
                "fabric": each.entry.name,
                "title": each.title,
                "verdict": each.verdict.value,
                "length_mm": round(each.length_mm, 1),
                "needed_mm": round(each.needed_mm, 1),
                "least_mm": round(each.least_mm, 1),
            }
            for each in found.at_hand
        ],
        "sources": found.sources,
        "remnants": [
            {
                "remnant": layout.remnant.name,
                "title": found.titles[layout.remnant.name],
                "used_share": round(layout.used_share, 4),
                "placements": [_placement_data(each) for each in layout.placements],
            }
            for layout in (plan.remnants if plan else ())
        ],
        "unused": list(plan.unused) if plan else [],
        "bought": [_bought_data(each) for each in (plan.bought if plan else ())],
        "missing": [item.id for each in (plan.missing if plan else ()) for item in each.items],
        "kept_on_their_fabric": dict(found.kept_apart),
        "packings": plan.packings if plan else 0,
        "ended_early": plan.ended_early if plan else False,
    }


def _placement_data(placement: Placement) -> dict[str, Any]:
    return {
        "copies": list(placement.item_ids),
        "mirrored": placement.mirrored,
        "rotation_rad": round(placement.rotation_rad, 9),
        "translation_mm": [round(value, 3) for value in placement.translation],
    }


def _bought_data(each: Bought) -> dict[str, Any]:
    def needed(requirement: Requirement | None) -> dict[str, Any]:
        if requirement is None:
            return {"buy_length_mm": 0.0, "buy_m": 0.0, "buy_yd": 0.0, "cost": None}
        cost = requirement.cost
        return {
            "buy_length_mm": round(requirement.buy_length_mm, 1),
            "buy_m": float(requirement.meters),
            "buy_yd": float(requirement.yards),
            "cost": None if cost is None else round(cost, 2),
        }

    return {
        "fabric": each.bolt.name,
        "before": needed(each.needed_before),
        "after": needed(each.needed),
        "saved_mm": round(each.saved_mm, 1),
    }
