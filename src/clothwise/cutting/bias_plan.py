"""How bias strips are cut from a fabric: data, and the words for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum

from clothwise.cutting.bias_block import BiasBlock
from clothwise.cutting.bias_needs import BiasNeed
from clothwise.cutting.bias_yield import along_grain_mm, join_length_mm
from clothwise.cutting.cut_line import CutLine
from clothwise.units import format_cm, format_inches

__all__ = ["BiasFrom", "StripPlan", "noted_lines", "strip_notes"]

_NO_LONGER_MM = 1.0  # what is not worth a word


class BiasFrom(Enum):
    """What the bias strips of a garment are cut from."""

    PIECES = "as drafted"
    """Each part is laid by itself, like any piece."""
    BLOCK = "block"
    """A rectangle is kept for them, and cut up."""
    GAPS = "gaps"
    """What the other pieces leave; the cloth grows only if that is too little."""


@dataclass(frozen=True, slots=True)
class StripPlan:
    """How strips of one width are cut from a fabric.

    Attributes:
        source: a block or the gaps.
        needs: the strips that come of it, as they are sewn on.
        block: what one block is cut into; None for the gaps.
        blocks: how many blocks; two of them mirror each other, and are cut through both layers.
        parts_mm: for each need, the parts cut from the gaps, along their edge; none for a block.
        extra_mm: length of cloth that only the strips from the gaps take.
        twice: whether some are cut through two layers though they are needed once.
    """

    source: BiasFrom
    needs: tuple[BiasNeed, ...]
    block: BiasBlock | None = None
    blocks: int = 0
    parts_mm: tuple[tuple[float, ...], ...] = ()
    extra_mm: float = 0.0
    twice: bool = False

    @property
    def joins(self) -> int:
        """Seams between parts; the closing of rings is left out."""
        if self.block is not None:
            return self.blocks * (len(self.block.parts) - 1)
        return sum(len(parts) - 1 for parts in self.parts_mm)

    @property
    def per_block(self) -> tuple[BiasNeed, ...]:
        """What is cut off the joined strip of one block."""
        return tuple(need for need in self.needs if self.blocks == 1 or not need.mirrored)


def strip_notes(plan: StripPlan) -> tuple[str, ...]:
    """Sentences for the maker: what to cut, how to join it, what to cut off."""
    return _block_notes(plan, plan.block) if plan.block else _gap_notes(plan)


def _block_notes(plan: StripPlan, block: BiasBlock) -> tuple[str, ...]:
    which = "each block" if plan.blocks > 1 else "the block"
    number = len(block.parts)
    strips = f"{number} strips" if number > 1 else "one strip"
    cut = (
        f"Cut {which} for bias strips, {fine(block.length_mm)} along the grain and "
        f"{fine(block.breadth_mm)} across, into {strips} {fine(block.width_mm)} wide at 45°: the "
        f"lines are {fine(along_grain_mm(block.width_mm))} apart along the grain."
    )
    lengths = Counter((_sewn_mm(need), _of(need)) for need in plan.per_block)
    wanted = ", ".join(
        f"{f'{times} x ' if times > 1 else ''}{fine(length)} for the {of}"
        for (length, of), times in lengths.items()
    )
    off = f"From the joined strip{' of each block' if plan.blocks > 1 else ''} cut {wanted}."
    return (cut, *_joining(plan), off)


def noted_lines(lines: Iterable[CutLine], plans: Iterable[StripPlan]) -> tuple[CutLine, ...]:
    """Lines of the cutting list, those of strips with what they are cut from."""
    source = {
        item_id: plan.source for plan in plans for need in plan.needs for item_id in need.item_ids
    }
    found = []
    for line in lines:
        of = {source.get(f"{line.piece}/{copy}") for copy in line.copies} - {None}
        notes = tuple(f"from the {each.value}" for each in of if each is not None)
        found.append(replace(line, notes=(*line.notes, *notes)))
    return tuple(found)


def _gap_notes(plan: StripPlan) -> tuple[str, ...]:
    cut: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for need, parts in zip(plan.needs, plan.parts_mm, strict=True):
        key = (_of(need), tuple(fine(part) for part in parts))
        cut.setdefault(key, []).append(_hand(need))
    lines = [
        f"{' and '.join(parts)} for the {of}{_hands(hands)}" for (of, parts), hands in cut.items()
    ]
    begin = f"Bias strips {fine(plan.needs[0].width_mm)} wide come from the gaps"
    more = (
        f"They take {fine(plan.extra_mm)} more of the length."
        if plan.extra_mm > _NO_LONGER_MM
        else "They take no more cloth."
    )
    choose = (
        "Cut through both layers, a strip that is needed once comes twice: take those that all "
        "slant the same way, seen on the right side.",
    )
    told = (f"{begin}: {'; '.join(lines)}. {more}", *_joining(plan))
    return (*told, *(choose if plan.twice else ()))


def _joining(plan: StripPlan) -> tuple[str, ...]:
    if not plan.joins:
        return ()
    return (
        "Join strips: lay two slanted ends on each other, right sides together, at a right angle, "
        f"sew with {plan.needs[0].allowance_mm:g} mm of allowance, press open, trim the corners.",
    )


def _sewn_mm(need: BiasNeed) -> float:
    """What is cut off for a strip: both slanted ends keep their allowance."""
    return need.length_mm + join_length_mm(need.allowance_mm)


def _of(need: BiasNeed) -> str:
    return need.title[:1].lower() + need.title[1:]


def _hand(need: BiasNeed) -> str:
    copy = need.item_ids[0].partition("/")[2]
    return copy if copy in ("left", "right") else ""


def _hands(hands: list[str]) -> str:
    """`, left`, or `, left and right, for each`."""
    told = " and ".join(hand for hand in hands if hand)
    if not told:
        return ""
    return f", {told}, for each" if len(hands) > 1 else f", {told}"


def fine(length_mm: float) -> str:
    """A length to cut by, to the millimeter and the sixteenth: `4 cm (1 9/16 in)`."""
    return f"{format_cm(length_mm)} ({format_inches(length_mm, denominator=16)})"
