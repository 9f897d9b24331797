"""Whether a make comes out of what is at hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from clothwise.app.jobs.cut_making import MakeJob
from clothwise.app.jobs.cut_shown import RemnantShown, StashShown
from clothwise.app.work.job import Tell, Worker

if TYPE_CHECKING:
    from clothwise.packet.from_stash import FromStash
    from clothwise.packet.making import Making
    from clothwise.pattern.commands import CutFromRemnants

NO_REMNANT = "No remnant is written down yet, so only the lengths at hand were looked at."

REMNANT_WIDTH_MM, REMNANT_HEIGHT_MM = 170.0, 90.0
"""Of its drawing, at the size of type on paper."""


@dataclass(frozen=True)
class StashOf(MakeJob):
    """What the make is best cut from, so that least is bought.

    Attributes:
        chosen_too: whether copies may move whose cloth was chosen by hand.
    """

    worker: ClassVar[Worker] = "soon"

    chosen_too: bool = False

    @property
    def key(self) -> str:
        """Only the latest of these for a make matters."""
        return f"cut-stash {self.design} {self.make}"

    def run(self, told: Tell, cancelled: Callable[[], bool]) -> StashShown:
        """Return where every copy comes from.

        Raises:
            CuttingError: a copy that its fabric is too narrow for.
            LayoutCancelled: it was cancelled.
        """
        from clothwise.cutting import Effort, Progress
        from clothwise.packet.from_stash import ByHand, from_stash
        from clothwise.packet.stash_words import (
            answer_text,
            at_hand_sentence,
            bought_sentence,
            kept_sentences,
            missing_sentences,
        )

        making = self.making()
        remnants = {each.name: each.title or each.name for each in making.file.stash.remnants}

        def progress(found: Progress) -> None:
            name, colon, what = found.message.partition(": ")
            said = f"{remnants.get(name, name)}{colon}{what}."
            told(found.share, said[0].upper() + said[1:])

        told(0.0, "First it is laid out what is bought without remnants.")
        found = from_stash(
            making,
            by_hand=ByHand.MAY_MOVE if self.chosen_too else ByHand.STAYS,
            effort=Effort(1, 2),
            progress=progress,
            cancelled=cancelled,
        )
        titles = dict(found.titles)
        bought = found.plan.bought if found.plan else ()
        adopted = self._adopted(making, found)
        return StashShown(
            answer_text(making, found) if remnants else NO_REMNANT,
            (
                *(at_hand_sentence(each, making.unit) for each in found.at_hand),
                *(bought_sentence(making, each, titles) for each in bought),
                *missing_sentences(found),
                *kept_sentences(making, found),
            ),
            _remnants(making, found),
            adopted,
            moved_by_hand(making, adopted),
            self.chosen_too,
        )

    def _adopted(self, making: Making, found: FromStash) -> CutFromRemnants | None:
        """The change that writes into the make what comes from remnants; None if nothing does."""
        from clothwise.errors import Misuse
        from clothwise.packet.adopted_remnants import adopting

        try:
            return adopting(making, found, self.make)
        except Misuse:
            return None


def moved_by_hand(making: Making, adopted: CutFromRemnants | None) -> str:
    """The pieces whose cloth was chosen by hand and that a remnant takes; empty if there are none.

    That of a remnant is their cloth then.
    """
    from clothwise.packet.from_stash import chosen_by_hand
    from clothwise.packet.stash_words import called

    chosen = chosen_by_hand(making)
    return called(making, chosen.intersection(adopted.remnants)) if adopted else ""


def _remnants(making: Making, found: FromStash) -> tuple[RemnantShown, ...]:
    from clothwise.output import to_svg
    from clothwise.output.remnant_drawing import remnant_drawing
    from clothwise.packet.booklet import color_of
    from clothwise.packet.stash_words import lines_of, remnant_facts, remnant_notes

    shown = []
    for nth, layout in enumerate(found.plan.remnants if found.plan else ()):
        ids = [item_id for each in layout.placements for item_id in each.item_ids]
        lines = lines_of(making, ids, opened=True)
        drawing = remnant_drawing(
            layout.remnant,
            layout.placements,
            tuple(found.items.values()),
            width_mm=REMNANT_WIDTH_MM,
            unit=making.unit,
            cloth=color_of(layout.remnant.fabric.color),
            tallest_mm=REMNANT_HEIGHT_MM,
        )
        shown.append(
            RemnantShown(
                found.titles[layout.remnant.name],
                to_svg(drawing, standalone=False, id_prefix=f"remnant-{nth}-"),
                "; ".join(f"{line.number} {line.title}: {line.amount}" for line in lines),
                remnant_facts(layout, making.unit),
                remnant_notes(lines, layout),
            )
        )
    return tuple(shown)
