"""Remnants: options of the command line as lengths and names, and the answer in the terminal."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from clothwise.cli import show
from clothwise.errors import Misuse, did_you_mean
from clothwise.packet.from_stash import FromStash
from clothwise.packet.making import Making
from clothwise.packet.stash_words import (
    answer_text,
    at_hand_sentence,
    bought_sentence,
    lines_of,
    missing_sentences,
)
from clothwise.pattern.document import RemnantEntry
from clothwise.pattern.document.stash_file import read_stash

__all__ = ["lengths_of", "remnants_of", "show_from_stash"]


def lengths_of(texts: Sequence[str]) -> dict[str, str]:
    """The lengths at hand that `--at-hand` names, by fabric.

    Raises:
        Misuse: a text cannot be read.
    """
    found = {}
    for text in texts:
        name, sign, length = (part.strip() for part in text.partition("="))
        if not (name and sign and length):
            raise Misuse(
                f"{text[:40]!r} cannot be read",
                where="--at-hand",
                what_to_do="Write the fabric and its length like linen=2.3m.",
            )
        found[name] = length
    return found


def remnants_of(
    making: Making, stash: Path | None, only: Sequence[str]
) -> tuple[RemnantEntry, ...]:
    """The remnants that may be used.

    Args:
        making: whose stash is meant, if no other is named.
        stash: another one.
        only: names; all if none is named.

    Raises:
        Misuse: the stash has no such remnant.
        DocumentError: with all faults of the stash.
    """
    known = (read_stash(stash) if stash else making.file.stash).remnants
    names = [each.name for each in known]
    for name in only:
        if name not in names:
            raise Misuse(
                f"there is no remnant {name[:40]!r}",
                where=str(stash or making.file.path),
                what_to_do=did_you_mean(name, names, of_what="remnants"),
            )
    return tuple(each for each in known if each.name in only or not only)


def show_from_stash(making: Making, found: FromStash) -> None:
    """Show what is cut from what, what is bought, and what has no place."""
    plan = found.plan
    rows = []
    for layout in plan.remnants if plan else ():
        ids = [item_id for each in layout.placements for item_id in each.item_ids]
        title = found.titles[layout.remnant.name]
        first = f"{title}\n{100 * layout.used_share:.0f} % of it used"
        for line in lines_of(making, ids, opened=True):
            rows.append((first, str(line.number), line.title, line.amount, line.remarks))
            first = ""
    if rows:
        show.table(
            ("cut from", "no.", "piece", "cut", "to be minded"),
            rows,
            title=f"{making.title}, {making.fit}: from remnants",
            right=(1,),
        )
    for each in found.at_hand:
        show.say(at_hand_sentence(each, making.unit))
    for bought in plan.bought if plan else ():
        show.say(bought_sentence(making, bought, dict(found.titles)))
    if plan and plan.unused:
        names = ", ".join(found.titles[name] for name in plan.unused)
        show.say(f"Nothing is cut from {names}.")
    for why in dict.fromkeys(found.kept_apart.values()):
        count = sum(reason == why for reason in found.kept_apart.values())
        show.say(f"{count} of the copies stay on their fabric: {why}.")
    for sentence in missing_sentences(found):
        show.say(sentence)
    show.say(answer_text(making, found))
    if plan and plan.ended_early:
        show.say("Not every way was tried; a larger --tries tries more of them.")
